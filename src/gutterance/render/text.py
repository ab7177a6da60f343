"""The papers as plain text."""

from gutterance.render.cutlist import cut_list
from gutterance.render.downpipelist import downpipe_list
from gutterance.render.drainagelist import drainage_check
from gutterance.render.findingslist import findings_text
from gutterance.render.hardwarelist import hardware_list
from gutterance.render.installsheet import install_sheet
from gutterance.render.readback import read_back

__all__ = [
    "cut_list",
    "downpipe_list",
    "drainage_check",
    "findings_text",
    "hardware_list",
    "install_sheet",
    "read_back",
]

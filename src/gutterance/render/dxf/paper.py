"""The drawing file in the making: layers, units, and text that no program takes for codes."""

from __future__ import annotations

import contextlib
import io
import re
from typing import TYPE_CHECKING, Literal

from gutterance.render.drawing.scene import shown

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

    from gutterance.render.drawing.scene import Point

LayerName = Literal[
    "Gutter", "Gutter length not known", "Walls do not meet", "Outside corners", "Inside corners", "End caps",
    "Ends at walls", "Ends not known", "Outlets", "Outlets place not known", "Downpipes", "Falls",
    "High points", "Laps", "Expansion joints", "Hazards", "Names", "Lengths", "Notes", "On hold",
]  # fmt: skip

LAYERS: dict[LayerName, tuple[int, str]] = {
    "Gutter": (7, "CONTINUOUS"),
    "Gutter length not known": (1, "NOT KNOWN"),
    "Walls do not meet": (1, "NOT KNOWN"),
    "Outside corners": (7, "CONTINUOUS"),
    "Inside corners": (7, "CONTINUOUS"),
    "End caps": (7, "CONTINUOUS"),
    "Ends at walls": (7, "CONTINUOUS"),
    "Ends not known": (1, "CONTINUOUS"),
    "Outlets": (5, "CONTINUOUS"),
    "Outlets place not known": (1, "CONTINUOUS"),
    "Downpipes": (5, "CONTINUOUS"),
    "Falls": (3, "CONTINUOUS"),
    "High points": (3, "CONTINUOUS"),
    "Laps": (7, "CONTINUOUS"),
    "Expansion joints": (7, "CONTINUOUS"),
    "Hazards": (1, "CONTINUOUS"),
    "Names": (7, "CONTINUOUS"),
    "Lengths": (7, "CONTINUOUS"),
    "Notes": (8, "CONTINUOUS"),
    "On hold": (1, "CONTINUOUS"),
}
"""Each layer's colour (AutoCAD colour index) and line type."""

_LONGEST = 250
_FEET_AND_INCHES, _DECIMAL = 4, 2
_INCHES, _MILLIMETRES = 1, 4
MM = 25.4


class DrawingFile:
    """A plan in real inches, or on a metric job in real millimetres. All points given are in inches."""

    def __init__(self, *, metric: bool) -> None:
        from ezdxf.filemanagement import new

        self.by = MM if metric else 1.0
        with _no_clock():
            self.doc: Drawing = new("R2010")
        self.doc.header["$INSUNITS"] = _MILLIMETRES if metric else _INCHES
        self.doc.header["$MEASUREMENT"] = int(metric)
        self.doc.header["$LUNITS"] = _DECIMAL if metric else _FEET_AND_INCHES
        dash, gap = 18 * self.by, 9 * self.by
        self.doc.linetypes.add("NOT KNOWN", [dash + gap, dash, -gap], description="length not known")
        for name, (colour, line) in LAYERS.items():
            self.doc.layers.add(name, color=colour, linetype=line)
        self.space: Modelspace = self.doc.modelspace()

    def _at(self, point: Point) -> Point:
        return point[0] * self.by, point[1] * self.by

    def line(self, layer: LayerName, start: Point, end: Point) -> None:
        self.space.add_line(self._at(start), self._at(end), {"layer": layer})

    def outline(self, layer: LayerName, points: Sequence[Point]) -> None:
        """A closed polygon."""
        self.space.add_lwpolyline([self._at(one) for one in points], close=True, dxfattribs={"layer": layer})

    def circle(self, layer: LayerName, middle: Point, radius: float) -> None:
        self.space.add_circle(self._at(middle), radius * self.by, {"layer": layer})

    def text(self, layer: LayerName, words: str, middle: Point, high: float, turned: float = 0.0) -> None:
        """A line of text about its middle, turned [degrees] against the clock, never upside down."""
        from ezdxf.enums import TextEntityAlignment

        if not (said := inert(words)):
            return
        turned = 90.0 - (90.0 - turned) % 180.0
        one = self.space.add_text(said, height=high * self.by, rotation=turned, dxfattribs={"layer": layer})
        one.set_placement(self._at(middle), align=TextEntityAlignment.MIDDLE_CENTER)

    def line_of_words(self, layer: LayerName, words: str, at: Point, high: float) -> None:
        """A line of text from its lower left."""
        if said := inert(words):
            one = self.space.add_text(said, height=high * self.by, dxfattribs={"layer": layer})
            one.set_placement(self._at(at))

    def content(self) -> bytes:
        """The file. The same drawing gives the same bytes: no clock, no chance numbers."""
        # the library takes these from a set, whose order is another one in each process
        for name in sorted(self.doc.entitydb.dxf_types_in_use()):
            self.doc.classes.add_class(name)
        out = io.StringIO()
        with _no_clock():
            self.doc.write(out)
        return out.getvalue().encode("utf-8", "replace")


@contextlib.contextmanager
def _no_clock() -> Iterator[None]:
    """The library leaves times and chance numbers out."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def inert(words: str) -> str:
    """Words as a drawing program shows them: nothing of them is a code of its text (`%%c`, `\\U+`, `^I`).

    >>> print(inert("100%% \\\\U+0041 ^J"))
    100% % \\ U+0041 ^ J
    """
    plain = shown(words).replace("^", "^ ")
    plain = re.sub(r"%(?=%)", "% ", plain)
    plain = re.sub(r"\\(?=[A-Za-z~{};])", r"\\ ", plain)
    return plain if len(plain) <= _LONGEST else plain[: _LONGEST - 1] + "…"

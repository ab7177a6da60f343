"""A job's papers and files as they stand now, each by its name."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from gutterance.jobs.errors import NotThere
from gutterance.jobs.listing import lists_of_job
from gutterance.render.files import write_lists
from gutterance.render.paper_names import DRAWINGS, PDFS

if TYPE_CHECKING:
    from gutterance.jobs.office import Office
    from gutterance.render.paper_names import PaperSize

PAPER_FILES = {file: name for name, (file, _) in PDFS.items()} | {
    file: name for name, file in DRAWINGS.items()
}
_OTHERS = {".txt": "text", ".csv": "csv", ".json": "json", ".xlsx": "xlsx", ".dxf": "dxf"}
MEDIA_TYPES = {
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".json": "application/json",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".dxf": "image/vnd.dxf",
}


def paper_of(office: Office, job_id: str, file: str) -> tuple[bytes, str]:
    """A paper by the name of its file (`cut-list.pdf`, `plan.svg`): its content and media type.

    Raises NotThere for a name that is no paper's.
    """
    ending = f".{file.rpartition('.')[2]}"
    only = PAPER_FILES.get(file) or _OTHERS.get(ending)
    found = lists_of_job(office, job_id)
    sheet = found.stands.sheet
    size: PaperSize = "a4" if sheet.defaults.units == "metric" else "letter"
    with TemporaryDirectory() as folder:
        written: list[Path] = []
        if only is not None:
            written = write_lists(
                found.lists, sheet, found.stands.findings, Path(folder), office.shop, size, (only,)
            )
        paper = next((path for path in written if path.name == file), None)
        if paper is None:
            raise NotThere(f"there is no paper {file}", f"there are {', '.join(PAPER_FILES)}")
        return paper.read_bytes(), MEDIA_TYPES[ending]

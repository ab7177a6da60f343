"""The printed papers and drawings of a job, by file name: which there are, and what each is made of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.drawing.pipe import draw_pipe
from gutterance.render.drawing.plan import draw_plan, stacked
from gutterance.render.drawing.scene import Scene, moved
from gutterance.render.drawing.strip import strips
from gutterance.render.drawing.svg import svg_text
from gutterance.render.paper_names import DRAWINGS, LABELS, PAPERS, PDFS
from gutterance.render.pdf.cut_page import cut_page
from gutterance.render.pdf.install_page import install_page
from gutterance.render.pdf.label_pages import label_pages
from gutterance.render.pdf.load_page import load_page
from gutterance.render.pdf.office_page import office_page
from gutterance.render.pdf.setting import Heading, Setter, room
from gutterance.render.sheet_code import sheet_code
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.lists.models import Lists
    from gutterance.render.paper_names import PaperSize
    from gutterance.render.pdf.blocks import Block
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop


def papers(
    lists: Lists, sheet: Sheet, findings: Sequence[Finding], shop: Shop | None, size: PaperSize = "letter",
    only: Collection[str] = PAPERS, first_label: int = 1,
) -> dict[str, bytes]:  # fmt: skip
    """The papers named in `only` (names of `PAPERS`), each file's name with its bytes.

    Labels begin at number `first_label` of their first page, 1 to as many as a page has.
    """
    out = {file: _drawing(name, lists, sheet).encode() for name, file in DRAWINGS.items() if name in only}
    setter = Setter(size)
    code, job = sheet_code(sheet, lists), lists.title or sheet.title or ""
    made_by = lists.made_by or ""
    for name, (file, title) in PDFS.items():
        if name in only:
            blocks = _blocks(name, lists, sheet, findings, shop, size)
            out[file] = setter.pdf(Heading(title, job, code, made_by), blocks)
    if "labels" in only:
        pages = label_pages(lists, code, (shop or load_shop()).labels[size], first_label)
        out[LABELS["labels"]] = setter.labels(f"LABELS {job}", pages)
    return out


def pictures(
    name: str, lists: Lists, sheet: Sheet, findings: Sequence[Finding], shop: Shop | None,
    size: PaperSize = "letter", dots: float = 90.0,
) -> list[bytes]:  # fmt: skip
    """The pages of one printed paper as PNG, for a screen."""
    heading = Heading(PDFS[name][1], lists.title or "", sheet_code(sheet, lists), lists.made_by or "")
    return Setter(size).pictures(heading, _blocks(name, lists, sheet, findings, shop, size), dots)


def _blocks(
    name: str, lists: Lists, sheet: Sheet, findings: Sequence[Finding], shop: Shop | None, size: PaperSize
) -> list[Block]:
    width, height = room(size)
    if name == "cut":
        return cut_page(lists, shop, width)
    if name == "install":
        return install_page(lists, sheet, shop, width, height)
    if name == "load":
        return load_page(lists, shop)
    return office_page(lists, sheet, [*findings, *lists.findings], shop)


def _drawing(name: str, lists: Lists, sheet: Sheet) -> str:
    if name == "plan":
        return svg_text(draw_plan(lists, sheet))
    if name == "strips":
        lengths = {
            run.id: run.length.value if run.length is not None else None for run in reversed(sheet.runs)
        }
        scenes = [scene for _, scene in strips(lists, lengths)]
    else:
        scenes = [_beside([draw_pipe(one) for one in lists.downpipes[at : at + 3]])
                  for at in range(0, len(lists.downpipes), 3)]  # fmt: skip
    whole = stacked(scenes, 16.0) if scenes else Scene(200.0, 20.0)
    whole.title = f"{name.capitalize()} {lists.title or ''}".strip()
    return svg_text(whole)


def _beside(scenes: list[Scene]) -> Scene:
    """Drawings side by side."""
    row = Scene(0.0, max(one.height for one in scenes))
    for one in scenes:
        row.add(*(moved(mark, (row.width, 0.0)) for mark in one.marks))
        row.width += one.width + 16
    return row

"""Papers set as PDF: words and drawings go in as data, one template sets them all."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from gutterance.render.drawing.scene import folded, shown

if TYPE_CHECKING:
    from collections.abc import Sequence

    import typst

    from gutterance.render.drawing.scene import Point, Scene
    from gutterance.render.paper_names import PaperSize
    from gutterance.render.pdf.blocks import Block

    Placed = tuple[Point, Scene]

_SIZES = {"letter": ("us-letter", 612.0, 792.0), "a4": ("a4", 595.28, 841.89)}
_SIDES, _ENDS = 72.0, 102.0
_TEMPLATES = {
    "paper": Path(__file__).with_name("paper.typ"),
    "labels": Path(__file__).with_name("labels.typ"),
}
_BEYOND = re.compile("[\u0590-\u1fff\u2400-\U0010ffff]")
"""Signs that the faces that come with the setter may lack."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands on every page: the list's name, the job, the sheet's code and who made it."""

    name: str
    job: str
    code: str
    made_by: str


def room(size: PaperSize) -> tuple[float, float]:
    """How wide and high the part of a page is that blocks may fill [pt]."""
    _, wide, high = _SIZES[size]
    return wide - _SIDES, high - _ENDS


class Setter:
    """Sets papers of one size; fonts are looked for once."""

    def __init__(self, size: PaperSize) -> None:
        self._size = size
        self._compilers: dict[tuple[str, bool], typst.Compiler] = {}

    def pdf(self, heading: Heading, blocks: Sequence[Block]) -> bytes:
        """One paper. The same words give the same bytes."""
        return self._set("paper", _paper(heading, blocks, self._size), "pdf")[0]

    def pictures(self, heading: Heading, blocks: Sequence[Block], dots: float = 90.0) -> list[bytes]:
        """The same paper as a PNG for each page, so many `dots` to the inch."""
        return self._set("paper", _paper(heading, blocks, self._size), "png", dots)

    def labels(self, title: str, pages: Sequence[Sequence[Placed]]) -> bytes:
        """Sheets of labels, nothing on them but the scenes given, each at its place on its page [pt]."""
        laid = [[{"at": [round(one, 2) for one in at], "scene": scene.data()} for at, scene in page]
                for page in pages]  # fmt: skip
        data = {"size": _SIZES[self._size][0], "title": shown(title), "pages": laid}
        return self._set("labels", _json(data), "pdf")[0]

    def _set(
        self, template: str, paper: str, form: Literal["pdf", "png"], dots: float | None = None
    ) -> list[bytes]:
        compiler = self._compiler(template, all_faces=not _all_plain(paper))
        out = compiler.compile(format=form, ppi=dots, sys_inputs={"paper": paper})
        pages = out if isinstance(out, list) else [out]
        return [page for page in pages if isinstance(page, bytes)]

    def _compiler(self, template: str, *, all_faces: bool) -> typst.Compiler:
        """With the machine's own faces only where a name needs them: finding them takes its time."""
        import typst

        key = template, all_faces
        if key not in self._compilers:
            file = _TEMPLATES[template]
            self._compilers[key] = typst.Compiler(
                str(file), root=str(file.parent), ignore_system_fonts=not all_faces
            )
        return self._compilers[key]


def _paper(heading: Heading, blocks: Sequence[Block], size: PaperSize) -> str:
    job = shown(heading.job)
    short = (folded(job, 44, 1) or [""])[0]
    data = {
        "size": _SIZES[size][0],
        "wide": room(size)[0],
        "name": heading.name,
        "job": short,
        "title": job if short != job else "",
        "code": heading.code,
        "made_by": shown(heading.made_by),
        "blocks": list(blocks),
    }
    return _json(data)


def _json(data: dict[str, Any]) -> str:
    return json.dumps(data, ensure_ascii=False).encode("utf-8", "replace").decode("utf-8")


def _all_plain(text: str) -> bool:
    return text.isascii() or _BEYOND.search(text) is None

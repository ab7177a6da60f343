"""Labels onto the pages of a shop's label sheets, from any label of the first page on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.drawing.label import draw_label
from gutterance.render.drawing.scene import Scene, Text, moved
from gutterance.render.label_facts import label_facts

if TYPE_CHECKING:
    from gutterance.lists.models import Lists
    from gutterance.render.pdf.setting import Placed
    from gutterance.shop.label_sheets import LabelSheet

_POINTS = 72


def label_pages(lists: Lists, code: str, grid: LabelSheet, first: int = 1) -> list[list[Placed]]:
    """Each page's labels with their left upper corners [pt]; `first` is the first label used, from 1."""
    clear = float(grid.clear.inches) * _POINTS
    width = float(grid.width.inches) * _POINTS - 2 * clear
    height = float(grid.height.inches) * _POINTS - 2 * clear
    scenes = [draw_label(one, width, height) for one in label_facts(lists, code)] or [_none(width, height)]
    pages: list[list[Placed]] = []
    for number, scene in enumerate(scenes, start=first - 1):
        page, place = divmod(number, grid.on_a_page)
        while len(pages) <= page:
            pages.append([])
        left, top = grid.place(place)
        pages[page].append(((float(left) * _POINTS + clear, float(top) * _POINTS + clear), scene))
    return pages


def _none(width: float, height: float) -> Scene:
    scene = Scene(width, height)
    scene.add(*(moved(mark, (0, height / 2)) for mark in [Text((0, 0), "Nothing to label yet.", 9)]))
    return scene

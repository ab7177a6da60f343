"""One label: job and code, whose it is, its length as large as it fits, its picture, its outlets, its hold.

It is drawn at one height and made larger or smaller as a whole, so that it is the same on any grid.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.drawing.piece import HEIGHT as PICTURE_HIGH
from gutterance.render.drawing.piece import draw_piece
from gutterance.render.drawing.scene import (
    Circle,
    Line,
    Mark,
    Scene,
    Shape,
    Text,
    cells,
    folded,
    moved,
    scaled,
    shown,
    text_width,
)

if TYPE_CHECKING:
    from gutterance.render.drawing.scene import Anchor, Point
    from gutterance.render.label_facts import LabelFacts

HIGH, LEAST_WIDE = 145.0, 240.0
_SMALL, _NAME, _LENGTH, _SIDE = 8.5, 16.0, 27.0, 9.0
_SMALLEST = 5.0
_TOP_LINE, _NAME_LINE, _LENGTH_LINE, _BESIDE = 8.0, 25.0, 51.0, 64.0
_PICTURE = 67.0
_BELOW, _LEADING = 124.0, 9.9


def draw_label(facts: LabelFacts, width: float, height: float) -> Scene:
    """A label on paper of that size [pt]."""
    part = min(height / HIGH, width / LEAST_WIDE)
    whole = Scene(width / part, height / part)
    _words(whole, facts)
    _picture(whole, facts)
    label = Scene(width, height)
    label.add(*(scaled(mark, part) for mark in whole.marks))
    return label


def _words(scene: Scene, facts: LabelFacts) -> None:
    wide = scene.width
    code_wide = text_width(facts.code, _SMALL)
    scene.add(_fitted((0, _TOP_LINE), facts.job, _SMALL, wide - code_wide - 8))
    scene.add(Text((wide, _TOP_LINE), facts.code, _SMALL, True, "end"))
    room = wide
    if facts.held:
        long = text_width(facts.held, 10.5) + 10
        scene.add(Shape(((wide - long, 13), (wide, 13), (wide, 28), (wide - long, 28)), "black"))
        scene.add(Text((wide - long / 2, 24.5), facts.held, 10.5, True, "middle", ink="white"))
        room = wide - long - 6
    scene.add(_fitted((0, _NAME_LINE), facts.name, _NAME, room, bold=True))
    length = _fitted((0, _LENGTH_LINE), facts.length, _LENGTH, wide * 0.62, bold=True)
    scene.add(length)
    left = text_width(length.text, length.size) + 10
    first, second, last = facts.beside
    scene.add(_fitted((left, _LENGTH_LINE - 12), first, _SIDE, wide - left))
    scene.add(_fitted((left, _LENGTH_LINE - 1), second, _SIDE, wide - left))
    scene.add(_fitted((0, _BESIDE), last, 7.5, wide))
    for number, says in enumerate(facts.below):
        scene.add(_fitted((0, _BELOW + number * _LEADING), says, _SIDE, wide, bold=True))


def _fitted(
    at: Point, text: str, size: float, room: float, *, bold: bool = False, anchor: Anchor = "start"
) -> Text:
    """Words made smaller until they fit; beyond the smallest size that can be read they end in …."""
    words = shown(text)
    long = text_width(words, 1.0)
    fits = min(size, room / long) if long else size
    if fits < _SMALLEST:
        across = max(int(room / (text_width("0", 1.0) * _SMALLEST)), 2)
        words = (folded(words, across, 1) or [""])[0] if cells(words) > across else words
        fits = _SMALLEST
    return Text(at, words, round(fits, 2), bold, anchor)


def _picture(scene: Scene, facts: LabelFacts) -> None:
    if facts.piece is not None:
        drawn = draw_piece(facts.piece, scene.width)
        scene.add(*(moved(mark, (0.0, _PICTURE)) for mark in drawn.marks))
    else:
        scene.add(*(moved(mark, (0.0, _PICTURE + 3)) for mark in _pipe_part(facts.part, scene.width)))


def _pipe_part(part: str, width: float) -> list[Mark]:
    """Where the part sits in its downpipe: the whole in thin lines, the part itself full.

    Lying on its side, the outlet at the left: outlet, two elbows with the gooseneck between, wall pipe, foot.
    """
    middle, low = PICTURE_HIGH / 2 - 4, PICTURE_HIGH / 2 + 12
    way = ((14.0, middle - 12), (34.0, middle - 12), (84.0, low), (width - 40, low), (width - 14, low + 8))
    marks: list[Mark] = [Line(way, 8.0), Line(way, 5.5, ink="white")]
    full = {"gooseneck": way[1:3], "wall": way[2:4], "tail": way[3:5]}.get(part.split(" ")[0] if part else "")
    if full is not None:
        (ax, ay), (bx, by) = full
        inner = (
            (ax + (bx - ax) * 0.12, ay + (by - ay) * 0.12),
            (bx - (bx - ax) * 0.12, by - (by - ay) * 0.12),
        )
        marks.append(Line(inner, 8.0))
    marks += [Circle(at, 2.2, "white", 1.2) for at in way[1:4]]
    marks.append(Line(((8, middle - 22), (8, middle - 2), (14, middle - 2), (14, middle - 22)), 1.6))
    marks.append(Text((2, middle + 8), "outlet", 7.5))
    marks.append(Text((width - 8, low - 8), "foot", 7.5, False, "end"))
    return marks

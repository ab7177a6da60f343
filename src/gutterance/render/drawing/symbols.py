"""The plan's symbols, of our own making: told apart by shape alone, for prints in black and white."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from gutterance.render.drawing.scene import Box, Circle, Line, Mark, Point, Shape, Text

if TYPE_CHECKING:
    from gutterance.render.drawing.walk_round import Turned

OUTLET, CORNER = 4.5, 4.0


def moved_by(point: Point, way: Point, distance: float) -> Point:
    """A point so far along a unit step."""
    return point[0] + way[0] * distance, point[1] + way[1] * distance


def square(at: Point, half: float, fill: str = "black", width: float = 1.0) -> Shape:
    """An upright square."""
    x, y = at
    corners = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
    return Shape(corners, "black" if fill == "black" else "white", width)


def corner(at: Point, turned: Turned) -> list[Mark]:
    """An outside corner is a full square, an inside corner an empty one, a splice none."""
    if turned == "splice":
        return []
    return [square(at, CORNER, "black" if turned == "outside" else "white", 1.4)]


def free_end(at: Point, inward: Point, along: Point, kind: Turned) -> list[Mark]:
    """An end cap is a bar across the gutter, a wall a bar with hatching behind it, an unknown one a ring."""
    over = along[0], along[1]
    if kind == "unknown":
        return [Circle(at, 3.2, "white", 1.0)]
    one, other = moved_by(at, inward, 6), moved_by(at, inward, -6)
    marks: list[Mark] = [Line((one, other), 2.2)]
    if kind == "wall":
        for step in (-6, -2, 2, 6):
            foot = moved_by(at, inward, step)
            tip = moved_by(moved_by(foot, over, 5), inward, -3)
            marks.append(Line((foot, tip), 0.8))
    return marks


def outlet(at: Point, inward: Point, *, known: bool, pipe: bool) -> list[Mark]:
    """A circle on the gutter; a crossed box on the house side of it where a downpipe takes the water."""
    marks: list[Mark] = []
    if pipe:
        box = moved_by(at, inward, 12)
        x, y = box
        marks += [
            Line((at, box), 1.2),
            square(box, 4.0, "white", 1.2),
            Line(((x - 4, y - 4), (x + 4, y + 4)), 0.8),
            Line(((x - 4, y + 4), (x + 4, y - 4)), 0.8),
        ]
    marks.append(Circle(at, OUTLET, "white", 2.0))
    marks.append(Circle(at, 1.4, "black" if known else "none", 0.0))
    return marks


def arrow(start: Point, end: Point) -> list[Mark]:
    """An arrow that points where the water goes."""
    length = math.hypot(end[0] - start[0], end[1] - start[1])
    along = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    across = -along[1], along[0]
    neck = moved_by(end, along, -7)
    head = (end, moved_by(neck, across, 2.8), moved_by(neck, across, -2.8))
    return [Line((start, neck), 1.1), Shape(head, "black")]


def high_point(at: Point, inward: Point) -> list[Mark]:
    """A full triangle that stands on the gutter, on the house side."""
    tip = moved_by(at, inward, 9)
    across = inward[1], -inward[0]
    return [Shape((tip, moved_by(at, across, 5), moved_by(at, across, -5)), "black")]


def splice(at: Point, inward: Point) -> list[Mark]:
    """Two short bars across the gutter."""
    along = inward[1], -inward[0]
    return [
        Line(
            (moved_by(moved_by(at, along, off), inward, 6), moved_by(moved_by(at, along, off), inward, -6)),
            1.3,
        )
        for off in (-1.8, 1.8)
    ]


def danger(at: Point, number: int) -> list[Mark]:
    """A triangle with an exclamation mark, and its number in the list of dangers beside it."""
    x, y = at
    return [
        Shape(((x, y - 9), (x + 9, y + 6), (x - 9, y + 6)), "white", 1.6, "black"),
        Text((x, y + 4.5), "!", 11, True, "middle"),
        Text((x + 10, y + 5), str(number), 9, True),
    ]


def north(at: Point) -> list[Mark]:
    """An arrow up the page with an N."""
    x, y = at
    return [
        Line(((x, y + 16), (x, y - 8)), 1.4),
        Shape(((x, y - 16), (x + 4.5, y - 4), (x - 4.5, y - 4)), "black"),
        Text((x, y - 19), "N", 11, True, "middle"),
    ]


def room_of(marks: list[Mark]) -> Box:
    """The room some marks take."""
    boxes = []
    for one in marks:
        if isinstance(one, Text):
            boxes.append(one.box())
        elif isinstance(one, Circle):
            x, y = one.at
            reach = one.radius + one.width / 2
            boxes.append(Box(x - reach, y - reach, x + reach, y + reach))
        else:
            xs, ys = [x for x, _ in one.points], [y for _, y in one.points]
            half = one.width / 2
            boxes.append(Box(min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half))
    room = boxes[0]
    for box in boxes[1:]:
        room = room.around(box)
    return room

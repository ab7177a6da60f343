"""Labels placed so that none lies over another, over a symbol or over a wall.

Each label offers places: round its anchors, near ones first, in the direction it prefers. They are placed one
by one, the weightiest first; a label that finds its near places taken may push out one label no heavier that
has another place to go to; else it goes further out, on a leader. Since there is always room further
out, every label is placed. A grid of cells keeps each look to its neighbourhood.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.render.drawing.scene import LEADING, Box, Point, text_width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

Segment = tuple[Point, Point]

_CELL = 40.0
_NEAR = (3.0, 8.0)
_FAR = (16.0, 25.0, 36.0, 50.0, 70.0, 100.0)
_OUTSIDE = 130.0
_FURTHEST = 1500.0
_LEADER_FROM = 12.0
"""A label further than this from its anchor gets a line to it [pt]."""
_TURNS = [(step + 1) // 2 * (1 if step % 2 else -1) * math.pi / 8 for step in range(16)]
_AIR = 1.5
"""Clear paper round every label [pt]."""


@dataclass(slots=True)
class Wanted:
    """A label to place: its lines as (text, size, bold), and where it may stand.

    `anchors` are the points it may stand at, the best first; `toward` the direction it prefers to stand in.
    The heavier `weight` is placed first.
    """

    lines: list[tuple[str, float, bool]]
    anchors: list[Point]
    toward: Point = (0.0, -1.0)
    weight: int = 0

    @property
    def width(self) -> float:
        return max(text_width(text, size) for text, size, _ in self.lines)

    @property
    def height(self) -> float:
        return sum(size * LEADING for _, size, _ in self.lines)


@dataclass(slots=True)
class Placed:
    """A label's room, and the line that leads to what it is about, if it stands apart."""

    wanted: Wanted
    box: Box
    leader: Segment | None
    cost: float


class Placer:
    """Places labels among symbols (boxes) and walls (segments) that they must keep off."""

    def __init__(self, symbols: Sequence[Box], walls: Sequence[Segment]) -> None:
        self._boxes: dict[int, Box] = {}
        self._lines: dict[int, Segment] = {}
        self._labels: dict[int, int] = {}
        self._leaders: set[int] = set()
        self._grid: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
        self._next = 0
        self._placed: dict[int, Placed] = {}
        self._rooms: dict[int, list[int]] = {}
        for box in symbols:
            self._add_box(box)
        for wall in walls:
            self._add_line(wall)

    def place(self, wanted: Sequence[Wanted]) -> list[Placed]:
        """Every label with its room, in the order given."""
        order = sorted(range(len(wanted)), key=lambda number: -wanted[number].weight)
        for number in order:
            one = wanted[number]
            found = (
                self._best(one, _NEAR) or self._pushing(one) or self._best(one, _FAR) or self._outside(one)
            )
            self._put(number, found)
        for number in order:  # a second look, now that all stand: a nearer place may have come free
            placed = self._placed[number]
            if placed.leader is None:
                continue
            self._remove(number)
            again = self._best(placed.wanted, _NEAR) or self._best(placed.wanted, _FAR)
            self._put(number, again if again is not None and again.cost < placed.cost else placed)
        return [self._placed[number] for number in range(len(wanted))]

    def _add_box(self, box: Box) -> int:
        number = self._next = self._next + 1
        self._boxes[number] = box
        for cell in _cells(box):
            self._grid[cell].append(number)
        return number

    def _add_line(self, line: Segment) -> int:
        number = self._next = self._next + 1
        self._lines[number] = line
        for cell in _cells_along(line):
            self._grid[cell].append(number)
        return number

    def _put(self, number: int, placed: Placed) -> None:
        self._placed[number] = placed
        room = self._add_box(placed.box)
        self._labels[room] = number
        self._rooms[number] = [room]
        if placed.leader is not None:
            line = self._add_line(placed.leader)
            self._leaders.add(line)
            self._rooms[number].append(line)

    def _remove(self, number: int) -> Placed:
        placed = self._placed.pop(number)
        room, *lines = self._rooms.pop(number)
        for cell in _cells(self._boxes.pop(room)):
            self._grid[cell].remove(room)
        del self._labels[room]
        for line in lines:
            for cell in _cells_along(self._lines.pop(line)):
                self._grid[cell].remove(line)
            self._leaders.discard(line)
        return placed

    def _best(self, wanted: Wanted, reach: Sequence[float]) -> Placed | None:
        """The cheapest place that is clear; candidates come cheapest first, so that the look ends early."""
        best: Placed | None = None
        for cost, box, leader in _places(wanted, reach):
            if best is not None and cost >= best.cost:
                break
            if self._holder(box) is not None:
                continue
            extra = 0.0 if leader is None else self._crossings(leader)
            if extra is not None and (best is None or cost + extra < best.cost):
                best = Placed(wanted, box, leader, cost + extra)
        return best

    def _pushing(self, wanted: Wanted) -> Placed | None:
        """A near place held by one label no heavier, which then moves; None where there is none such."""
        for cost, box, leader in _places(wanted, _NEAR):
            room = self._holder(box)
            holder = self._labels.get(room or 0)
            if holder is None or self._placed[holder].wanted.weight > wanted.weight:
                continue
            moved = self._remove(holder)
            if self._holder(box) is None:
                self._put(-1, Placed(wanted, box, leader, cost))
                elsewhere = self._best(moved.wanted, _NEAR)
                mine = self._remove(-1)
                if elsewhere is not None:
                    self._put(holder, elsewhere)
                    return mine
            self._put(holder, moved)
        return None

    def _outside(self, wanted: Wanted) -> Placed:
        """Further and further out until there is room. Past all bounds its leader may cross a name."""
        reach = _OUTSIDE
        nearest: Placed | None = None
        while nearest is None or reach < _FURTHEST:
            found = self._best(wanted, (reach,))
            if found is not None:
                return found
            if nearest is None:
                clear = (one for one in _places(wanted, (reach,)) if self._holder(one[1]) is None)
                nearest = next((Placed(wanted, box, leader, cost) for cost, box, leader in clear), None)
            reach *= 1.2
        return nearest

    def _holder(self, box: Box) -> int | None:
        """What already stands in a place, one thing of possibly several; None where it is clear."""
        room = box.grown(_AIR)
        grid, boxes, lines = self._grid, self._boxes, self._lines
        for cell in _cells(room):
            for number in grid.get(cell, ()):
                held = boxes.get(number)
                if held.overlaps(room) if held is not None else touches(lines[number], room):
                    return number
        return None

    def _crossings(self, leader: Segment) -> float | None:
        """What a leader's crossings cost: another leader most, a wall less; None where it crosses a label."""
        near = {number for cell in _cells_along(leader) for number in self._grid.get(cell, ())}
        cost = 0.0
        for number in near:
            held = self._boxes.get(number)
            if held is None:
                if _cross(self._lines[number], leader):
                    cost += 40.0 if number in self._leaders else 20.0
            elif touches(leader, held):
                if number in self._labels:
                    return None
                cost += 0.0 if _holds(held, leader[0]) else 15.0
        return cost


def _cells(box: Box) -> list[tuple[int, int]]:
    left, right = math.floor(box.left / _CELL), math.floor(box.right / _CELL)
    top, bottom = math.floor(box.top / _CELL), math.floor(box.bottom / _CELL)
    return [(column, row) for row in range(top, bottom + 1) for column in range(left, right + 1)]


def _cells_along(line: Segment) -> list[tuple[int, int]]:
    """The cells a segment runs through, by boxes along it: a slanting one does not fill the whole grid."""
    (x0, y0), (x1, y1) = line
    count = max(1, min(400, math.ceil(max(abs(x1 - x0), abs(y1 - y0)) / _CELL)))
    cells: dict[tuple[int, int], None] = {}
    for step in range(count):
        ax, ay = x0 + (x1 - x0) * step / count, y0 + (y1 - y0) * step / count
        bx, by = x0 + (x1 - x0) * (step + 1) / count, y0 + (y1 - y0) * (step + 1) / count
        cells.update(dict.fromkeys(_cells(Box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)))))
    return list(cells)


def _places(wanted: Wanted, reach: Sequence[float]) -> Iterator[tuple[float, Box, Segment | None]]:
    """Places with what each costs, cheapest first. Only near an anchor are its lesser anchors tried too."""
    half_w, half_h = wanted.width / 2, wanted.height / 2
    liked = math.atan2(wanted.toward[1], wanted.toward[0])
    ways = [(abs(off) * 6.0, math.cos(liked + off), math.sin(liked + off)) for off in _TURNS]
    places = [
        (distance + turned + rank * 5.0, rank, distance, cos, sin)
        for rank, _ in enumerate(wanted.anchors if reach is _NEAR else wanted.anchors[:2])
        for distance in reach
        for turned, cos, sin in ways
    ]
    places.sort()
    for cost, rank, distance, cos, sin in places:
        anchor = wanted.anchors[rank]
        x = anchor[0] + cos * distance + _sign(cos) * half_w * min(1.0, abs(cos) * 1.5)
        y = anchor[1] + sin * distance + _sign(sin) * half_h * min(1.0, abs(sin) * 1.5)
        box = Box(x - half_w, y - half_h, x + half_w, y + half_h)
        if box.left < anchor[0] < box.right and box.top < anchor[1] < box.bottom:
            continue
        yield cost, box, (anchor, _nearest(box, anchor)) if distance > _LEADER_FROM else None


def _sign(value: float) -> float:
    return 0.0 if abs(value) < 1e-9 else math.copysign(1.0, value)


def _nearest(box: Box, point: Point) -> Point:
    return min(max(point[0], box.left), box.right), min(max(point[1], box.top), box.bottom)


def _holds(box: Box, point: Point) -> bool:
    return box.left <= point[0] <= box.right and box.top <= point[1] <= box.bottom


def touches(segment: Segment, box: Box) -> bool:
    """Whether a segment enters the inside of a box (clipping by the box's four sides).

    >>> touches(((0, 0), (10, 10)), Box(4, 4, 6, 6)), touches(((0, 0), (10, 0)), Box(4, 0, 6, 6))
    (True, False)
    """
    (x0, y0), (x1, y1) = segment
    dx, dy = x1 - x0, y1 - y0
    enter, leave = 0.0, 1.0
    for delta, low, high in ((dx, box.left - x0, box.right - x0), (dy, box.top - y0, box.bottom - y0)):
        if abs(delta) < 1e-9:
            if low >= 0 or high <= 0:
                return False
            continue
        first, last = sorted((low / delta, high / delta))
        enter, leave = max(enter, first), min(leave, last)
        if enter >= leave:
            return False
    return True


def _cross(one: Segment, other: Segment) -> bool:
    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    a, b = one
    c, d = other
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0

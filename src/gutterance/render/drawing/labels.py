"""Labels placed so that none lies over another, over a symbol or over a wall.

Each label offers places: round its anchors, near ones first, in the direction it prefers. They are placed one
by one, the weightiest first; a label that finds its near places taken may push out one label no heavier that
has another place to go to; else it goes further out, on a leader. Since there is always room further
out, every label is placed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from gutterance.render.drawing.raster import SQUARE, Raster, box_squares, line_squares
from gutterance.render.drawing.scene import LEADING, Box, Point, text_width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.render.drawing.raster import Squares

Segment = tuple[Point, Point]
Reach = tuple[float, ...]
Sides = tuple[float, float, float, float]
"""Left, top, right and bottom: of the thousands of places that are tried, few become a Box."""

_NEAR = (3.0, 8.0)
_FAR = (16.0, 25.0, 36.0, 50.0, 70.0, 100.0)
_OUTSIDE = 130.0
_LOOKS = 10
"""How many clear places are weighed against one another."""
_OWN = 9.0
_MINE = -1
_FURTHEST = 450.0
_LEADER_FROM = 12.0
"""A label further than this from its anchor gets a line to it [pt]."""


def _turns(count: int) -> list[float]:
    """So many directions all round, from the one a label prefers to the opposite one."""
    return [(step + 1) // 2 * (1 if step % 2 else -1) * 2 * math.pi / count for step in range(count)]


_TURNS, _FINE_TURNS = _turns(16), _turns(64)
"""Far out a leader has to find its way between the labels: more directions are tried there."""
_AIR, _BESIDE = 1.5, 5.0
"""Clear paper round every label, and beside another label, or the two would read as one line [pt]."""


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
    squares: tuple[Squares, Squares] | None = None
    """What its room and its leader take of the paper, once that was worked out."""


class Placer:
    """Places labels among symbols (boxes) and walls (segments) that they must keep off."""

    def __init__(self, symbols: Sequence[Box], walls: Sequence[Segment]) -> None:
        self._fixed, self._symbols, self._walls = Raster(), Raster(), Raster()
        self._labels, self._leaders, self._all = Raster(), Raster(), Raster()
        for box in symbols:
            for raster in (self._symbols, self._fixed, self._all):
                raster.take(box_squares(box))
        for wall in walls:
            for raster in (self._walls, self._fixed, self._all):
                raster.take(line_squares(*wall))
        self._placed: dict[int, Placed] = {}

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

    def _put(self, number: int, placed: Placed) -> None:
        self._placed[number] = placed
        if placed.squares is None:
            line = line_squares(*placed.leader) if placed.leader is not None else []
            placed.squares = box_squares(placed.box), line
        room, line = placed.squares
        self._labels.hold(number, room)
        self._leaders.hold(number, line)
        self._all.hold(number, room)
        self._all.hold(number, line)

    def _remove(self, number: int) -> Placed:
        placed = self._placed.pop(number)
        room, line = placed.squares or ([], [])
        self._labels.leave(number, room)
        self._leaders.leave(number, line)
        self._all.leave(number, room)
        self._all.leave(number, line)
        return placed

    def _best(self, wanted: Wanted, reach: Reach) -> Placed | None:
        """The cheapest of the first places that are clear; they come cheapest first, crossings apart."""
        best: Placed | None = None
        left = _LOOKS
        for cost, box, anchor in _places(wanted, reach):
            if left == 0 or (best is not None and cost >= best.cost):
                break
            if not self._free(box):
                continue
            leader = _leader(box, anchor)
            extra = 0.0 if leader is None else self._crossings(leader)
            if extra is None:
                continue
            left -= 1
            if best is None or cost + extra < best.cost:
                best = Placed(wanted, Box(*box), leader, cost + extra)
        return best

    def _pushing(self, wanted: Wanted) -> Placed | None:
        """A near place held by one label no heavier, which then moves; None where there is none such."""
        for cost, place, anchor in _places(wanted, _NEAR):
            if not _clear(place, self._fixed) or not _clear(place, self._leaders):
                continue
            box = Box(*place)
            room = box.grown(_AIR + SQUARE)
            room = Box(box.left - _BESIDE, room.top, box.right + _BESIDE, room.bottom)
            holders = [number for number, one in self._placed.items() if one.box.overlaps(room)]
            if len(holders) != 1 or self._placed[holders[0]].wanted.weight > wanted.weight:
                continue
            moved = self._remove(holders[0])
            mine = Placed(wanted, box, _leader(place, anchor), cost)
            self._put(_MINE, mine)
            elsewhere = self._best(moved.wanted, _NEAR)
            self._remove(_MINE)
            self._put(holders[0], elsewhere or moved)
            if elsewhere is not None:
                return mine
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
                clear = (one for one in _places(wanted, (reach,)) if self._free(one[1]))
                made = (Placed(wanted, Box(*box), _leader(box, anchor), cost) for cost, box, anchor in clear)
                nearest = next(made, None)
            reach *= 1.2
        return nearest

    def _free(self, box: Sides) -> bool:
        """Whether a label may stand here, clear of all, and no other label is in line with it."""
        left, top, right, bottom = box
        return _clear(box, self._all) and self._labels.clear(left - _BESIDE, top, right + _BESIDE, bottom)

    def _crossings(self, leader: Segment) -> float | None:
        """What a leader's crossings cost: another leader most, a wall less; None where it crosses a label.

        Its first few points lie on its own symbol and wall, and cost nothing there.
        """
        if self._labels.meets(line_squares(*leader)):
            return None
        squares = line_squares(_from(leader, _OWN), leader[1])
        cost = 40.0 if self._leaders.meets(squares) else 0.0
        if self._walls.meets(squares):
            cost += 20.0
        return cost + (15.0 if self._symbols.meets(squares) else 0.0)


def _clear(box: Sides, raster: Raster) -> bool:
    left, top, right, bottom = box
    return raster.clear(left - _AIR, top - _AIR, right + _AIR, bottom + _AIR)


def _from(leader: Segment, off: float) -> Point:
    (x0, y0), (x1, y1) = leader
    long = math.hypot(x1 - x0, y1 - y0)
    part = min(off / long, 1.0) if long else 0.0
    return x0 + (x1 - x0) * part, y0 + (y1 - y0) * part


@lru_cache(maxsize=64)
def _ranked(reach: Reach, anchors: int) -> list[tuple[float, int, float, int]]:
    """Cost, anchor, distance and turn of each place, cheapest first: the same for every label."""
    places = [
        (distance + abs(turn) * 6.0 + rank * 5.0, rank, distance, number)
        for rank in range(anchors)
        for distance in reach
        for number, turn in enumerate(_turns_for(reach))
    ]
    return sorted(places)


def _turns_for(reach: Reach) -> list[float]:
    return _TURNS if reach in (_NEAR, _FAR) else _FINE_TURNS


def _places(wanted: Wanted, reach: Reach) -> Iterator[tuple[float, Sides, Point | None]]:
    """Places with what each costs, cheapest first, and the anchor that a leader must lead to from there.

    Only near an anchor are its lesser anchors tried too.
    """
    half_w, half_h = wanted.width / 2, wanted.height / 2
    liked = math.atan2(wanted.toward[1], wanted.toward[0])
    steps = []
    for turn in _turns_for(reach):
        cos, sin = math.cos(liked + turn), math.sin(liked + turn)
        side = _sign(cos) * half_w * min(1.0, abs(cos) * 1.5)
        steps.append((cos, sin, side, _sign(sin) * half_h * min(1.0, abs(sin) * 1.5)))
    count = len(wanted.anchors) if reach is _NEAR else min(len(wanted.anchors), 2)
    for cost, rank, distance, number in _ranked(reach, count):
        anchor = wanted.anchors[rank]
        cos, sin, side, down = steps[number]
        x, y = cos * distance + side, sin * distance + down
        if -half_w < x < half_w and -half_h < y < half_h:
            continue
        x, y = anchor[0] + x, anchor[1] + y
        box = x - half_w, y - half_h, x + half_w, y + half_h
        yield cost, box, anchor if distance > _LEADER_FROM else None


def _leader(box: Sides, anchor: Point | None) -> Segment | None:
    """The line from an anchor to the nearest side of its label."""
    if anchor is None:
        return None
    left, top, right, bottom = box
    return anchor, (min(max(anchor[0], left), right), min(max(anchor[1], top), bottom))


def _sign(value: float) -> float:
    return 0.0 if abs(value) < 1e-9 else math.copysign(1.0, value)

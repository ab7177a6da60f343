"""Which parts of the paper are taken: rows of small squares, each row one integer with a bit for each square.

Whether a label fits is then a few `and`s, whatever else is on the drawing. A square that is touched at all
counts as taken, so that what is found clear is clear.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.render.drawing.scene import Box, Point

SQUARE = 3.0
"""The side of a square [pt]."""
_FAR_LEFT = 2**9
"""Squares left of the origin that a row has bits for; what lies further left counts as there."""

Squares = list[tuple[int, int]]
"""Rows with the bits of their squares."""


@dataclass(slots=True)
class Raster:
    """The squares that are taken, for good or by somebody who may leave them again."""

    rows: defaultdict[int, int] = field(default_factory=lambda: defaultdict(int))
    _kept: dict[int, int] = field(default_factory=dict)
    _holders: defaultdict[int, dict[int, int]] = field(default_factory=lambda: defaultdict(dict))

    def take(self, squares: Squares) -> None:
        """For good."""
        for row, bits in squares:
            self.rows[row] |= bits
            self._kept[row] = self._kept.get(row, 0) | bits

    def hold(self, holder: int, squares: Squares) -> None:
        """Until that holder leaves them."""
        for row, bits in squares:
            self.rows[row] |= bits
            held = self._holders[row]
            held[holder] = held.get(holder, 0) | bits

    def leave(self, holder: int, squares: Squares) -> None:
        """What the holder held there is free again, but for what others hold of it."""
        for row, _ in squares:
            held = self._holders[row]
            if held.pop(holder, None) is None:
                continue
            bits = self._kept.get(row, 0)
            for others in held.values():
                bits |= others
            self.rows[row] = bits

    def meets(self, squares: Squares) -> bool:
        """Whether any of those squares is taken."""
        rows = self.rows
        return any(row in rows and rows[row] & bits for row, bits in squares)

    def clear(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Whether a box is clear."""
        bits = _bits(left, right)
        rows = self.rows
        for row in range(int(top // SQUARE), -int(-bottom // SQUARE)):
            if row in rows and rows[row] & bits:
                return False
        return True


def _bits(left: float, right: float) -> int:
    first = int(left // SQUARE) + _FAR_LEFT
    if first < 0:
        first = 0
    wide = _FAR_LEFT - int(-right // SQUARE) - first
    return ((1 << wide) - 1 if wide > 1 else 1) << first


def box_squares(box: Box) -> Squares:
    """The squares a box touches."""
    bits = _bits(box.left, box.right)
    first = math.floor(box.top / SQUARE)
    return [(row, bits) for row in range(first, max(math.ceil(box.bottom / SQUARE), first + 1))]


def line_squares(start: Point, end: Point) -> Squares:
    """The squares a line runs through: in each row, those between where it enters the row and leaves it."""
    (x0, y0), (x1, y1) = (start, end) if start[1] <= end[1] else (end, start)
    first, last = math.floor(y0 / SQUARE), math.floor(y1 / SQUARE)
    if first == last:
        return [(first, _bits(min(x0, x1), max(x0, x1)))]
    slant = (x1 - x0) / (y1 - y0)
    squares = []
    enter = x0
    for row in range(first, last + 1):
        leave = x1 if row == last else x0 + ((row + 1) * SQUARE - y0) * slant
        squares.append((row, _bits(enter, leave) if enter <= leave else _bits(leave, enter)))
        enter = leave
    return squares

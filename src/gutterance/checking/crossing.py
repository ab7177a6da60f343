"""Whether the walls of a closed walk cross one another, which no house's do."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from gutterance.checking.traverse import Traverse

NEAR = 1.0
"""How far one wall must reach beyond another to cross it [in]: less is the tape's doing."""
TRIED_PER_WALL = 64
"""Pairs of walls held against one another, for each wall of the ring: so that 5,000 walls take no longer than
about n log n. A plan on which more walls lie over each other's length may be left unfinished."""


def first_crossing(traverse: Traverse) -> tuple[int, int] | None:
    """The first two walls (by number) that cross each other, or None.

    Walls are swept from the lowest `along` to the highest, each held against those still open whose `across`
    it shares. Walls that only touch do not cross.
    """
    points = traverse.before
    walls = sorted(_Box.round(points[at], points[at + 1], at) for at in range(traverse.size))
    left = TRIED_PER_WALL * len(walls)
    still_open: list[_Box] = []
    found: tuple[int, int] | None = None
    for wall in walls:
        left -= len(still_open)
        still_open = [other for other in still_open if other.high > wall.low]
        for other in still_open:
            if other.down < wall.up and wall.down < other.up:
                first, second = sorted((wall.at, other.at))
                if _cross(points, first, second, traverse.size) and (
                    found is None or (first, second) < found
                ):
                    found = (first, second)
        if left < 0:
            return found
        still_open.append(wall)
    return found


class _Box(NamedTuple):
    """The stretch a wall takes up along and across the first one [in], and its number."""

    low: float
    high: float
    down: float
    up: float
    at: int

    @classmethod
    def round(cls, one: complex, other: complex, at: int) -> _Box:
        """The box round a wall from one point to the other."""
        (low, high), (down, up) = sorted((one.real, other.real)), sorted((one.imag, other.imag))
        return cls(low, high, down, up, at)


def _cross(points: list[complex], one: int, other: int, size: int) -> bool:
    if other - one in (1, size - 1):
        return False
    a, b, c, d = points[one], points[one + 1], points[other], points[other + 1]
    return _parted(a, b, c, d) and _parted(c, d, a, b)


def _parted(a: complex, b: complex, c: complex, d: complex) -> bool:
    """Whether `c` and `d` lie on two sides of the line through `a` and `b`, each plainly so."""
    along = b - a
    length = abs(along)
    if not length:
        return False
    sides = [((point - a) * along.conjugate()).imag / length for point in (c, d)]
    return min(sides) < -NEAR and max(sides) > NEAR

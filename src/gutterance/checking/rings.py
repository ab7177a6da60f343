"""A walk all the way round as a traverse: how far it turns, and how far from its start it ends.

A run is a step of its length; a corner turns the walk left (outside corner) or right (inside corner) by its
angle. With the house on the left hand, a full walk turns left by 360 degrees (round a house) or right by 360
(round a courtyard), and its steps add up to nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.root_two import RootTwo

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.sheet.values import End

FULL_TURN = 360
_FINE = 2**40

Vector = tuple[RootTwo, RootTwo]

_NOUGHT, _ONE, _HALF_ROOT = RootTwo(Fraction(0)), RootTwo(Fraction(1)), RootTwo(Fraction(0), Fraction(1, 2))
_EIGHTHS: tuple[Vector, ...] = (
    (_ONE, _NOUGHT),
    (_HALF_ROOT, _HALF_ROOT),
    (_NOUGHT, _ONE),
    (-_HALF_ROOT, _HALF_ROOT),
    (-_ONE, _NOUGHT),
    (-_HALF_ROOT, -_HALF_ROOT),
    (_NOUGHT, -_ONE),
    (_HALF_ROOT, -_HALF_ROOT),
)


def turn_of(end: End | None, angle: float | None) -> Fraction | None:
    """The turn [degrees, left positive] at a corner; None where the end is no corner or the angle no angle.

    A corner turns by more than 0 and less than 180 degrees, 90 unless said.

    >>> turn_of("outside corner", None), turn_of("inside corner", 45.0), turn_of("splice", None)
    (Fraction(90, 1), Fraction(-45, 1), Fraction(0, 1))
    """
    if end == "splice":
        return Fraction(0)
    if end not in ("outside corner", "inside corner"):
        return None
    if angle is not None and not (math.isfinite(angle) and 0 < angle < 180):
        return None
    turn = Fraction(90) if angle is None else Fraction(angle).limit_denominator(3600)
    return turn if end == "outside corner" else -turn


def direction(heading: Fraction) -> Vector:
    """The unit step at a heading [degrees, left from the first run].

    Exact for multiples of 45 degrees. Otherwise each part is the nearest multiple of 2^-40: less than one
    part in 10^12, a ten-thousandth of a tape mark over a mile of eave.

    >>> [(int(along), int(across)) for along, across in (direction(Fraction(450)), direction(Fraction(180)))]
    [(0, 1), (-1, 0)]
    """
    heading %= FULL_TURN
    if heading % 45 == 0:
        return _EIGHTHS[int(heading) // 45]
    radians = math.radians(heading)
    return (
        RootTwo(Fraction(round(math.cos(radians) * _FINE), _FINE)),
        RootTwo(Fraction(round(math.sin(radians) * _FINE), _FINE)),
    )


def along(vector: Vector, other: Vector) -> RootTwo:
    """The part of one vector that lies along another of unit length."""
    return vector[0] * other[0] + vector[1] * other[1]


@dataclass(frozen=True, slots=True)
class Walk:
    """A ring walked: each run's heading and the whole turn [degrees]."""

    headings: tuple[Fraction, ...]
    turn: Fraction

    @property
    def square(self) -> bool:
        """Whether every run lies along or across the first."""
        return all(heading % 90 == 0 for heading in self.headings)

    @property
    def exact(self) -> bool:
        """Whether every run lies at a multiple of 45 degrees to the first, so that nothing is rounded."""
        return all(heading % 45 == 0 for heading in self.headings)

    def misclosure(self, lengths: Sequence[Fraction]) -> Vector:
        """Where the walk ends, from where it began [in], along and across the first run.

        The sum of the steps; latitudes and departures of a closed traverse sum to nothing.

        >>> along, across = walk([Fraction(90)] * 4).misclosure([Fraction(n) for n in (40, 24, 42, 24)])
        >>> int(along), int(across)
        (-2, 0)
        """
        x = y = _NOUGHT
        for heading, length in zip(self.headings, lengths, strict=True):
            step = direction(heading)
            x, y = x + length * step[0], y + length * step[1]
        return x, y


def walk(turns: Sequence[Fraction]) -> Walk:
    """The walk that turns by `turns` [degrees, left positive] at the right end of each run in order.

    The last turn is the one back onto the first run.
    """
    headings = []
    heading = Fraction(0)
    for turn in turns:
        headings.append(heading)
        heading += turn
    return Walk(tuple(headings), heading)

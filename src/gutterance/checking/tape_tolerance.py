"""How far a steel tape itself may be out: what a walk round a house may miss by and still be closed.

Source: NIST Handbook 44, section 5.52 Linear Measures, maintenance and acceptance tolerances for metal tapes
(the table as reprinted by the US construction-tolerance guide on metal measuring tapes).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

STEPS: Final[tuple[tuple[int, Fraction], ...]] = (
    (6, Fraction(1, 32)),
    (30, Fraction(1, 16)),
    (55, Fraction(1, 8)),
    (80, Fraction(3, 16)),
    (100, Fraction(1, 4)),
)
"""Nominal interval from zero, up to and including [ft], and the tolerance, over or under [in]."""


def tape_tolerance(inches: Fraction) -> Fraction:
    """The tolerance [in], over or under, of a length of `inches` [in] read off a steel tape.

    The table is in whole feet; a part of a foot counts as the next foot up. The table ends at 100 ft:
    a longer length is taken in lays of 100 ft and what is left, each with its own tolerance (no source).
    A length of nothing or less has no tolerance.

    >>> tape_tolerance(Fraction(42 * 12 + 6))  # 42' 6": the step of 31 to 55 ft
    Fraction(1, 8)
    >>> tape_tolerance(Fraction(130 * 12))  # 100 ft and 30 ft: 1/4 + 1/16
    Fraction(5, 16)
    """
    if inches <= 0:
        return Fraction(0)
    lays, rest = divmod(inches, 1200)
    tolerance = lays * STEPS[-1][1]
    if rest:
        tolerance += next(step for feet, step in STEPS if rest <= feet * 12 or feet == STEPS[-1][0])
        # 6 1/2 ft lies between the rows "6 or less" and "7 to 30": the wider row serves.
    return Fraction(tolerance)

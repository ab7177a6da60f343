"""How far the tape itself may have put a wall out: what a walk round a house may miss by and still be closed.

The steps are those of NIST Handbook 44, section 5.52 (`gutterance.measure.tolerance`).
"""

from __future__ import annotations

from fractions import Fraction

from gutterance.measure.length import Length
from gutterance.measure.tolerance import steps
from gutterance.measure.tolerance import tape_tolerance as of_one_lay


def tape_tolerance(inches: Fraction) -> Fraction:
    """The tolerance [in], over or under, of a wall of `inches` [in] read off a steel tape.

    The table ends at 100 ft: a longer wall is taken in lays of 100 ft and what is left, each with its own
    tolerance (no source). A length of nothing or less has no tolerance.

    >>> tape_tolerance(Fraction(42 * 12 + 6))  # 42' 6": the step of 31 to 55 ft
    Fraction(1, 8)
    >>> tape_tolerance(Fraction(130 * 12))  # 100 ft and 30 ft: 1/4 + 1/16
    Fraction(5, 16)
    """
    if inches <= 0:
        return Fraction(0)
    lay = Fraction(steps()[-1][0] * 12)
    lays, rest = divmod(inches, lay)
    tolerance = lays * of_one_lay(Length(lay))
    return tolerance + of_one_lay(Length(rest)) if rest else tolerance

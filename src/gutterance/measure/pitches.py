"""A roof's pitch as the sheet writes it: `6/12`, `1/40`, `26 degrees`."""

from __future__ import annotations

import math
import re
from fractions import Fraction

_RATIO = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[/:]\s*(\d+(?:\.\d+)?)\s*\Z")
_DEGREES = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(?:degrees?|deg|°)\s*\Z")
_FINEST = 1_000_000


def rise_in_12(text: str) -> Fraction | None:
    """The rise in 12 of a pitch; None where it cannot be read. Degrees to the nearest millionth.

    >>> rise_in_12("6/12"), rise_in_12("1/40"), rise_in_12("45 degrees")
    (Fraction(6, 1), Fraction(3, 10), Fraction(12, 1))
    """
    ratio = _RATIO.match(text)
    if ratio is not None:
        over = Fraction(ratio[2])
        return Fraction(ratio[1]) * 12 / over if over else None
    degrees = _DEGREES.match(text)
    if degrees is None or float(degrees[1]) >= 90:
        return None
    return Fraction(round(12 * math.tan(math.radians(float(degrees[1]))) * _FINEST), _FINEST)

"""What a method counts of a pitched roof: multiples of its plan area. Pitch is rise in 12."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from gutterance.drainage.errors import OutOfRangeError

if TYPE_CHECKING:
    from fractions import Fraction

Wind = Literal["none", "26 degrees", "square to the roof"]


def en_wind_factor(rise: Fraction, wind: Wind) -> float:
    """EN 12056-3, Table 3: effective area over plan area.

    "none": 1 (plan). "26 degrees" (rain falling 2 down to 1 across): 1 + H / 2B, from A = L (B + H / 2).
    "square to the roof": the roof's own surface, sqrt(1 + (H/B)²).
    rise: [-] H/B in 12, not below 0.
    Source: EN 12056-3:2000, 4.3 and Table 3; the 26° form also in plumbing textbooks.

    >>> from fractions import Fraction
    >>> 10 * 6 * en_wind_factor(Fraction(6), "26 degrees")  # 10 x 6 m, 3 m high
    75.0
    """
    if rise < 0:
        raise OutOfRangeError("a roof's pitch cannot be below level")
    if wind == "none":
        return 1.0
    if wind == "26 degrees":
        return float(1 + rise / 24)
    return math.hypot(1, float(rise / 12))


def as_nzs_wind_factor(rise: Fraction) -> float:
    """AS/NZS 3500.3:2018: catchment over plan area, 1 + 0.5 tan θ.

    rise: [-] tan θ in 12, not below 0.
    Source: AS/NZS 3500.3:2018, eq. 3.4.3.2(2); from memory, the same geometry as EN 12056-3's 26° rain.

    >>> from fractions import Fraction
    >>> as_nzs_wind_factor(Fraction(12))
    1.5
    """
    if rise < 0:
        raise OutOfRangeError("a roof's pitch cannot be below level")
    return float(1 + rise / 24)

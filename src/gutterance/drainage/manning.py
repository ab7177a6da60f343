"""Manning's formula for a gutter running full: a cross-check only.

It is for uniform flow. A gutter takes water in all along and stands deeper at its upper end, so that for a
long, nearly level one Manning promises too much. Nothing here is a design capacity by any method.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from gutterance.drainage.errors import OutOfRangeError, within

if TYPE_CHECKING:
    from gutterance.drainage.sections import GutterSection

PAINTED_STEEL = (0.012, 0.013, 0.017)
"""n of smooth painted steel: least, usual, most. Source: Chow, Open-Channel Hydraulics, 1959 (via fluids)."""


def velocity(hydraulic_radius: float, slope: float, roughness: float) -> float:
    """Mean velocity V [m/s] = R^(2/3) S^(1/2) / n.

    hydraulic_radius: [m] R, area over wetted perimeter. slope: [-] S. roughness: [s/m^(1/3)] n.
    Limits: n 0.009 to 0.1, refused beyond; R and S not below 0.
    Source: Manning, as in Chow 1959; checked against fluids.open_flow.V_Manning.

    >>> velocity(0.2859, 0.005236, 0.03)
    1.0467781958118971
    """
    within(roughness, 0.009, 0.1, "Manning's n", "the formula as used here")
    if hydraulic_radius < 0 or slope < 0:
        raise OutOfRangeError("Manning's formula needs a radius and a slope not below nothing")
    return float(hydraulic_radius ** (2 / 3) * math.sqrt(slope) / roughness)


def full_flow(section: GutterSection, slope: float, roughness: float = PAINTED_STEEL[1]) -> float:
    """Flow Q [l/s] of a gutter running full: V A.

    section: [in] its sizes. slope: [-] S. roughness: [s/m^(1/3)] n.
    Limits: uniform flow only; see the module.

    >>> from fractions import Fraction
    >>> from gutterance.drainage.sections import GutterSection
    >>> box = GutterSection("box", "trapezoid", Fraction(5), Fraction(5), Fraction(7, 2))
    >>> round(full_flow(box, 1 / 192), 6)
    6.964745
    """
    radius = section.area_mm2 / section.wet_mm / 1000
    return velocity(radius, slope, roughness) * section.area_mm2 / 1000

"""Flows, areas and rates in the units of metric and US methods. Tests hold every factor against pint."""

from __future__ import annotations

from fractions import Fraction

from gutterance.measure.length import MM_PER_INCH

CUBIC_INCHES_PER_GALLON = 231
"""The US gallon, exact. Source: NIST Handbook 44, appendix C."""

LITRES_PER_GALLON = CUBIC_INCHES_PER_GALLON * MM_PER_INCH**3 / 1_000_000
SQUARE_METRES_PER_SQUARE_FOOT = (12 * MM_PER_INCH / 1000) ** 2

SQUARE_FEET_PER_GPM = Fraction(CUBIC_INCHES_PER_GALLON * 60, 144)
"""Roof [ft²] that gives 1 gpm at 1 in/h: 231 in³ x 60 min/h / 144 in²/ft² = 96.25, exact."""


def litres_per_second(gallons_per_minute: float) -> float:
    """US gallons a minute [gpm] as litres a second [l/s].

    >>> round(litres_per_second(1), 10)
    0.0630901964
    """
    return gallons_per_minute * float(LITRES_PER_GALLON) / 60


def gallons_per_minute(litres_per_second: float) -> float:
    """Litres a second [l/s] as US gallons a minute [gpm].

    >>> round(gallons_per_minute(1), 7)
    15.8503231
    """
    return litres_per_second * 60 / float(LITRES_PER_GALLON)


def square_feet(square_metres: float) -> float:
    """Square metres [m²] as square feet [ft²]."""
    return square_metres / float(SQUARE_METRES_PER_SQUARE_FOOT)


def square_metres(square_feet: float) -> float:
    """Square feet [ft²] as square metres [m²]."""
    return square_feet * float(SQUARE_METRES_PER_SQUARE_FOOT)


def roof_flow(area: float, rainfall: float) -> float:
    """Water off a roof [l/s]: Q = I A / 3600.

    area: [m²], what the method counts of the roof. rainfall: [mm/h], not below 0.
    Limits: any; all the rain is taken to run off (C = 1.0, as in EN 12056-3, 4.2, and the plumbing codes).
    Source: unit arithmetic; a millimetre on a square metre is a litre.

    >>> round(roof_flow(175, 145), 4)
    7.0486
    """
    return area * rainfall / 3600


def roof_flow_gpm(area: float, rainfall: float) -> float:
    """The same in US units [gpm]: Q = I A / 96.25.

    area: [ft²]. rainfall: [in/h].
    Source: the gallon of 231 in³.

    >>> round(roof_flow_gpm(1000, 1), 5)
    10.38961
    """
    return area * rainfall / float(SQUARE_FEET_PER_GPM)

"""The metal trade's method: design areas and downspouts as the SMACNA manual has them, gutters after Beij.

US units: areas [ft²], rates [in/h], sizes [in]. K. H. Beij, Flow in Roof Gutters, J. Res. NBS 12 (1934),
RP644. Its two gutter formulas are from memory and borne out by others (docs/methods.md): papers say so.
"""

from __future__ import annotations

from fractions import Fraction

from gutterance.drainage.errors import OutOfRangeError, within

DESIGN_AREA_FACTORS = (
    (Fraction(3), Fraction(100, 100)),
    (Fraction(5), Fraction(105, 100)),
    (Fraction(8), Fraction(110, 100)),
    (Fraction(11), Fraction(120, 100)),
    (Fraction(12), Fraction(130, 100)),
)
"""Up to this rise in 12, plan area times this. SMACNA manual, Table 1-1, as quoted in public pages."""

LEAST_RATIO, GREATEST_RATIO = 0.5, 1.0


def design_area_factor(rise: Fraction) -> Fraction:
    """What the plan area of a roof is multiplied by, by its pitch. A pitch between two rows takes the higher.

    rise: [-] in 12.
    Limits: flat to 12 in 12, refused beyond.
    Source: SMACNA Architectural Sheet Metal Manual, Table 1-1 (from secondary pages).

    >>> [float(design_area_factor(Fraction(rise))) for rise in (2, 4, 6, 9, 12)]
    [1.0, 1.05, 1.1, 1.2, 1.3]
    """
    if rise < 0:
        raise OutOfRangeError("a roof's pitch cannot be below level")
    for up_to, factor in DESIGN_AREA_FACTORS:
        if rise <= up_to:
            return factor
    raise OutOfRangeError(f"a pitch of {float(rise):g} in 12 is over 12 in 12, where Table 1-1 ends")


def area_per_square_inch(rainfall: float) -> float:
    """Roof [ft²] that each square inch of downspout drains: 1200 / I.

    rainfall: [in/h] I, over 0.
    Source: the 1200/I rule; 8 in/h gives the copper trade's old 150 ft² to the square inch.

    >>> area_per_square_inch(8)
    150.0
    """
    if rainfall <= 0:
        raise OutOfRangeError("the 1200/I rule needs a rainfall over nothing")
    return 1200 / rainfall


def half_round_diameter(rain_on_area: float) -> float:
    """Diameter [in] of the level half round that drains I A: D = 0.0182 (I A)^(2/5), D in feet.

    rain_on_area: [ft² in/h] I A, over 0.
    Source: Beij 1934; from memory, borne out within 6 % by a code's 1/16 in/ft column.

    >>> round(half_round_diameter(2508), 2)
    5.0
    """
    if rain_on_area <= 0:
        raise OutOfRangeError("a half round for no rain has no diameter")
    return float(12 * 0.0182 * rain_on_area**0.4)


def half_round_area(diameter: float) -> float:
    """I A [ft² in/h] that a level half-round gutter drains: `half_round_diameter` turned round.

    diameter: [in], over 0.

    >>> round(half_round_area(5.0))
    2508
    """
    if diameter <= 0:
        raise OutOfRangeError("a half round needs a diameter over nothing")
    return float((diameter / half_round_diameter(1)) ** 2.5)


def rectangle_width(rain_on_area: float, ratio: float, length: float) -> float:
    """Width [in] of the level rectangle for I A: W = 0.0106 M^(-4/7) L^(3/28) (I A)^(5/14), W in feet.

    rain_on_area: [ft² in/h] I A, over 0. ratio: [-] M, depth over width. length: [ft] L, to the outlet.
    Limits: M 0.5 to 1 (the manual's guidance, from memory), refused beyond.
    Source: Beij 1934; from memory, within 1 % of EN 12056-3.

    >>> round(rectangle_width(6000, 0.75, 50), 2)
    5.1
    """
    if rain_on_area <= 0 or length <= 0:
        raise OutOfRangeError("a rectangular gutter needs rain and a length over nothing")
    within(ratio, LEAST_RATIO, GREATEST_RATIO, "depth over width", "the manual's guidance")
    return float(12 * 0.0106 * ratio ** (-4 / 7) * length ** (3 / 28) * rain_on_area ** (5 / 14))


def rectangle_area(width: float, depth: float, length: float) -> float:
    """I A [ft² in/h] that a level rectangular gutter drains: `rectangle_width` turned round.

    width, depth: [in]. length: [ft], to the outlet. Limits: those of `rectangle_width`.

    >>> round(rectangle_area(5.0, 3.5, 50))
    5094
    """
    if width <= 0 or depth <= 0:
        raise OutOfRangeError("a rectangular gutter needs a width and a depth over nothing")
    return float((width / rectangle_width(1, depth / width, length)) ** 2.8)

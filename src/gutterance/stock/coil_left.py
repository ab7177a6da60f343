"""How much is left on a coil: from its diameters and the metal's thickness, or from its weight."""

from __future__ import annotations

from fractions import Fraction

PI = Fraction(3141592653589793238462643, 10**24)
"""Pi to 24 places, so that no rounding of ours ever shows."""
POUND_IN_KG = Fraction(45359237, 100_000_000)
"""Kilograms in a pound, exact (NIST Special Publication 811, appendix B.8)."""
THICKEST = Fraction(1, 4)
LARGEST = Fraction(120)


class CoilError(ValueError):
    """Measures that no coil has; the message says which and what to do."""


def length_by_diameters(outer: Fraction, inner: Fraction, thickness: Fraction) -> Fraction:
    """The length of strip on a coil [in], wound solid.

    Equation: `L = pi (D^2 - d^2) / (4 t)`, D the `outer` diameter [in], d the `inner` diameter, that of the
    hole [in], t the `thickness` of the metal [in], paint included.

    Reference: geometry. The coil's side is a ring of pi (D^2 - d^2) / 4; unrolled it is the strip's edge, a
    rectangle of L by t; the metal is the same.

    Limits: t over 0 and up to 1/4 in; d over 0; D over d by at least one wrap, 2 t, and up to 120 in.
    Outside them CoilError. Air and paint between the wraps make the true length less, by 1 to 3 % (common
    practice, no source): that is not taken off here.

    A coil of 30 in with a hole of 16 in, in 0.032 in metal: 3.14159 x (900 - 256) / 0.128 = 15,806.1 in.

    >>> float(length_by_diameters(Fraction(30), Fraction(16), Fraction("0.032"))) / 12
    1317.1781...
    >>> length_by_diameters(Fraction(16), Fraction(16), Fraction("0.032"))
    Traceback (most recent call last):
    gutterance.stock.coil_left.CoilError: an outer diameter of 16 in over a hole of 16 in leaves no wrap: ...
    """
    _check_thickness(thickness)
    _check("the inner diameter", inner, LARGEST)
    _check("the outer diameter", outer, LARGEST)
    if outer < inner + 2 * thickness:
        raise CoilError(
            f"an outer diameter of {_text(outer)} in over a hole of {_text(inner)} in leaves no wrap: "
            "measure both across the coil, the outer one over the metal"
        )
    return PI * (outer**2 - inner**2) / (4 * thickness)


def wraps(outer: Fraction, inner: Fraction, thickness: Fraction) -> Fraction:
    """How many times the strip goes round: `(D - d) / (2 t)`, the build over the thickness.

    Symbols, limits and reference as in `length_by_diameters`.

    >>> float(wraps(Fraction(30), Fraction(16), Fraction("0.032")))
    218.75
    """
    length_by_diameters(outer, inner, thickness)
    return (outer - inner) / (2 * thickness)


def length_by_weight(weight: Fraction, width: Fraction, thickness: Fraction, density: Fraction) -> Fraction:
    """The length of strip of that weight [in].

    Equation: `L = m / (w t p)`, m the `weight` of the metal without core or pallet [lb], w its `width` [in],
    t its `thickness` [in], p its `density` [lb/in3] (`metals.toml`).

    Reference: geometry; the strip is a block of L by w by t.

    Limits: t over 0 and up to 1/4 in; w over 0 and up to 120 in; m over 0 and up to 50,000 lb. Outside them
    CoilError. Paint weighs too, so that a painted coil is somewhat shorter than this.

    588.62 lb of aluminium 11 7/8 in wide and 0.032 in thick: 588.62 / (11.875 x 0.032 x 0.098) = 15,806 in.

    >>> wide, thick = Fraction(95, 8), Fraction("0.032")
    >>> float(length_by_weight(Fraction("588.62"), wide, thick, Fraction("0.098"))) / 12
    1317.1768...
    """
    _check_thickness(thickness)
    _check("the width", width, LARGEST)
    _check("the weight", weight, Fraction(50_000), "lb")
    return weight / (width * thickness * density)


def weight_of(length: Fraction, width: Fraction, thickness: Fraction, density: Fraction) -> Fraction:
    """The weight of a strip [lb]: `m = L w t p`. Symbols, limits and reference as in `length_by_weight`.

    A foot of aluminium 11 7/8 in wide and 0.032 in thick:

    >>> float(weight_of(Fraction(12), Fraction(95, 8), Fraction("0.032"), Fraction("0.098")))
    0.44688
    """
    _check_thickness(thickness)
    _check("the width", width, LARGEST)
    return length * width * thickness * density


def to_count_on(length: Fraction, loose_percent: Fraction) -> Fraction:
    """The length [in] less the shop's allowance for paint and air [%].

    >>> to_count_on(Fraction(1200), Fraction(3))
    Fraction(1164, 1)
    """
    return length * (100 - loose_percent) / 100


def _check(what: str, value: Fraction, most: Fraction, unit: str = "in") -> None:
    if value <= 0:
        raise CoilError(f"{what} is {_text(value)} {unit}: it must be more than nothing")
    if value > most:
        raise CoilError(f"{what} is {_text(value)} {unit}, over {most} {unit}: check its unit")


def _check_thickness(thickness: Fraction) -> None:
    if thickness > THICKEST:
        raise CoilError(
            f"a thickness of {_text(thickness)} in is no gutter metal: write it with its unit, "
            "like '0.027 in' or '0.7 mm' (a gauge is another thickness in each metal)"
        )
    _check("the thickness", thickness, THICKEST)


def _text(value: Fraction) -> str:
    return f"{float(value):.10g}"

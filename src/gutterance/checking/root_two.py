"""Numbers of the form a + b·√2, exact: what lengths walked round corners of 45 degrees add up to."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import total_ordering
from math import isqrt, sqrt

Rational = Fraction | int


@total_ordering
@dataclass(frozen=True, slots=True, eq=False)
class RootTwo:
    """The number `plain` + `roots`·√2, both rational. Sums, products, quotients and comparisons are exact.

    >>> half = RootTwo(Fraction(0), Fraction(1, 2))
    >>> half * half == Fraction(1, 2), half > Fraction(7, 10)
    (True, True)
    """

    plain: Fraction
    roots: Fraction = Fraction(0)

    @property
    def sign(self) -> int:
        """-1, 0 or 1. Found by squares: a + b·√2 with a > 0 > b is positive where a² > 2·b²."""
        one, other = _sign(self.plain), _sign(self.roots)
        if one == other or not other:
            return one
        if not one:
            return other
        return one if self.plain**2 > 2 * self.roots**2 else other

    def nearest(self, step: Fraction) -> Fraction:
        """The nearest multiple of `step`; of two as near, where there are no roots, the upper.

        >>> RootTwo(Fraction(0), Fraction(10)).nearest(Fraction(1, 16))  # 14.1421...
        Fraction(113, 8)
        """
        marks = self / step + Fraction(1, 2)
        # whole numbers p + q·√2 over one denominator; q·√2 is rounded down, as √(2·q²)
        under = marks.plain.denominator * marks.roots.denominator
        p, q = int(marks.plain * under), int(marks.roots * under)
        root = isqrt(2 * q * q)
        if q < 0:
            root = -root - 1
        return step * ((p + root) // under)

    def __add__(self, other: RootTwo | Rational) -> RootTwo:
        if isinstance(other, RootTwo):
            return RootTwo(self.plain + other.plain, self.roots + other.roots)
        return RootTwo(self.plain + other, self.roots)

    __radd__ = __add__

    def __neg__(self) -> RootTwo:
        return RootTwo(-self.plain, -self.roots)

    def __abs__(self) -> RootTwo:
        return -self if self.sign < 0 else self

    def __sub__(self, other: RootTwo | Rational) -> RootTwo:
        return self + -other

    def __rsub__(self, other: Rational) -> RootTwo:
        return -self + other

    def __mul__(self, other: RootTwo | Rational) -> RootTwo:
        if isinstance(other, RootTwo):
            return RootTwo(
                self.plain * other.plain + 2 * self.roots * other.roots,
                self.plain * other.roots + self.roots * other.plain,
            )
        return RootTwo(self.plain * other, self.roots * other)

    __rmul__ = __mul__

    def __truediv__(self, other: RootTwo | Rational) -> RootTwo:
        if not isinstance(other, RootTwo):
            return self * (Fraction(1) / other)
        # 1 / (c + d·√2) = (c - d·√2) / (c² - 2·d²), and that is nought only where c and d are
        norm = other.plain**2 - 2 * other.roots**2
        return self * RootTwo(other.plain / norm, -other.roots / norm)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, RootTwo):
            return self.plain == other.plain and self.roots == other.roots
        return not self.roots and self.plain == other

    def __lt__(self, other: RootTwo | Rational) -> bool:
        return (self - other).sign < 0

    def __hash__(self) -> int:
        return hash((self.plain, self.roots)) if self.roots else hash(self.plain)

    def __bool__(self) -> bool:
        return bool(self.plain or self.roots)

    def __int__(self) -> int:
        return int(self.plain) if not self.roots else int(float(self))

    def __float__(self) -> float:
        return float(self.plain) + float(self.roots) * sqrt(2)


def _sign(number: Fraction) -> int:
    return (number > 0) - (number < 0)

"""An exact length, and how it is written in files and on paper."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

System = Literal["imperial", "metric"]

MM_PER_INCH = Fraction(254, 10)
"""Millimetres in an inch, exact by the definition of 1959 (NIST SP 811; the tests check it against pint)."""

INCHES_PER_FOOT = 12

_FILE_TEXT = re.compile(
    r"\s*(?P<sign>-?)(?:(?P<whole>\d+)(?:\.(?P<dec>\d+))?)?"
    r"(?:(?:^|(?<=\d)\s+|(?<=-)|(?<!\d))(?P<num>\d+)/(?P<den>\d+))?\s*(?P<unit>in|mm)\s*\Z"
)


class LengthTextError(ValueError):
    """A text that should be an exact length (`702 1/4 in`, `3200 mm`) and is not."""


@dataclass(frozen=True, slots=True)
class Length:
    """An exact length.

    `inches` [in] is a rational number, never a float. `system` is how it was given, and so how it is
    written again: feet and inches, or millimetres.

    >>> Length(Fraction(2809, 4)).tape_text()
    '58\\' 6 1/4"'
    >>> Length.from_mm(3200).tape_text()
    '3200 mm'
    """

    inches: Fraction
    system: System = "imperial"

    def __post_init__(self) -> None:
        if not isinstance(self.inches, Fraction):
            if isinstance(self.inches, float):
                raise TypeError("a length is exact: give a Fraction or an int, not a float")
            object.__setattr__(self, "inches", Fraction(self.inches))

    @classmethod
    def from_mm(cls, mm: Fraction | int) -> Length:
        """The length of `mm` [mm], written in millimetres."""
        return cls(Fraction(mm) / MM_PER_INCH, "metric")

    @classmethod
    def from_feet(cls, feet: Fraction | int, inches: Fraction | int = 0) -> Length:
        """The length of `feet` [ft] and `inches` [in]."""
        return cls(Fraction(feet) * INCHES_PER_FOOT + Fraction(inches))

    @classmethod
    def from_file_text(cls, text: str) -> Length:
        """Read `702 1/4 in`, `1/2 in`, `3200 mm`, `12.5 mm`: the only forms that files hold.

        Raises LengthTextError for anything else.

        >>> Length.from_file_text("702 1/4 in").inches
        Fraction(2809, 4)
        """
        match = _FILE_TEXT.match(text)
        if match is None or (match["whole"] is None and match["num"] is None):
            raise LengthTextError(
                f"{text!r} is not a length as files hold it: "
                "write inches like '702 1/4 in' or millimetres like '3200 mm'"
            )
        amount = Fraction(match["whole"] or 0)
        if match["dec"]:
            amount += Fraction(int(match["dec"]), 10 ** len(match["dec"]))
        if match["num"]:
            if int(match["den"]) == 0:
                raise LengthTextError(f"{text!r} divides by nothing: write the fraction again")
            amount += Fraction(int(match["num"]), int(match["den"]))
        if match["sign"]:
            amount = -amount
        return cls(amount) if match["unit"] == "in" else cls.from_mm(amount)

    @property
    def mm(self) -> Fraction:
        """The length [mm], exact."""
        return self.inches * MM_PER_INCH

    def file_text(self) -> str:
        """Exact, as files hold it: `702 1/4 in` or `3200 mm`."""
        if self.system == "metric":
            return f"{decimal_or_mixed(self.mm)} mm"
        return f"{mixed(self.inches)} in"

    def tape_text(self) -> str:
        """Exact, as a tape shows it: `58' 6 1/4"`, `10 7/8"`, or `3200 mm`. Reads back to the same length."""
        if self.system == "metric":
            return f"{decimal_or_mixed(self.mm)} mm"
        sign, inches = ("-", -self.inches) if self.inches < 0 else ("", self.inches)
        feet, rest = divmod(inches, INCHES_PER_FOOT)
        if not feet:
            return f'{sign}{mixed(rest)}"'
        # `27' 0 5/8"`: a fraction alone behind the feet is too easily taken for a fraction of a foot
        return f"{sign}{feet}' {'0 ' if 0 < rest < 1 else ''}{mixed(rest)}\""

    def inch_text(self) -> str:
        """Exact, without feet: `24"`, or `610 mm`. For the short distances that are always said in inches."""
        return self.tape_text() if self.system == "metric" else f'{mixed(self.inches)}"'

    def rounded(self, step: Fraction, way: Literal["nearest", "up", "down"] = "nearest") -> Length:
        """The length at the nearest whole number of `step`s [in], ties to even (NIST Handbook 44, 10.3).

        The one place where a length is rounded: when a list is written.

        >>> Length(Fraction(101, 32)).rounded(Fraction(1, 16)).inches  # 3 5/32, midway: to the even mark
        Fraction(25, 8)
        """
        steps = self.inches / step
        whole = round(steps) if way == "nearest" else -(-steps // 1) if way == "up" else steps // 1
        return Length(whole * step, self.system)


def mixed(amount: Fraction) -> str:
    """A rational as a whole number and a fraction: `702 1/4`, `7/8`, `0`."""
    sign, amount = ("-", -amount) if amount < 0 else ("", amount)
    whole, rest = divmod(amount, 1)
    if rest == 0:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def decimal_or_mixed(amount: Fraction) -> str:
    """A rational as a decimal where it ends (`12.5`), else as a mixed number."""
    rest = amount.denominator
    twos = fives = 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    if rest != 1:
        return mixed(amount)
    places = max(twos, fives)
    if places == 0:
        return str(amount.numerator)
    sign, amount = ("-", -amount) if amount < 0 else ("", amount)
    digits = str(amount.numerator * 10**places // amount.denominator).rjust(places + 1, "0")
    return f"{sign}{digits[:-places]}.{digits[-places:]}"

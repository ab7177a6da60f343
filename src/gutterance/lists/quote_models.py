"""Quantities with prices as values: lines, their amounts, and totals. What is on hold is counted apart.

An amount is quantity x price / per, rounded once, line by line, a half up; totals are sums of rounded lines,
so that whoever adds them up by hand gets the same. Nothing without a price is counted as nought.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from gutterance.measure.length import Length

Kind = Literal["material", "labour"]
KINDS: tuple[Kind, Kind] = ("material", "labour")


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line: how much that may be made, how much on hold, and what one (or `per`) of it costs.

    `exact` and `exact_held` are the lengths a quantity in feet or metres was rounded from, to 0.01.
    """

    kind: Kind
    item: str
    unit: str
    ready: Decimal
    held: Decimal
    price: Decimal | None = None
    per: int = 1
    colour: str | None = None
    exact: Length | None = None
    exact_held: Length | None = None
    where: str = ""
    says: str = ""

    def amount(self, quantity: Decimal, places: int) -> Decimal | None:
        """What so much of it costs; None where it has no price."""
        return None if self.price is None else rounded(Fraction(quantity * self.price) / self.per, places)


@dataclass(frozen=True, slots=True)
class Sums:
    """The totals of what may be made, or of what is on hold. None where nothing in it has a price."""

    material: Decimal | None
    labour: Decimal | None
    markup: Decimal | None
    before_tax: Decimal | None
    tax: Decimal | None
    total: Decimal | None


@dataclass(frozen=True, slots=True)
class Quote:
    """All lines of a job, and what its totals leave out."""

    lines: tuple[QuoteLine, ...]
    currency: str | None
    places: int
    markup_percent: Decimal
    tax_percent: Decimal
    price_list: str | None = None
    """The file the prices are from; None where none was given."""
    leaves_out: tuple[str, ...] = ()

    @property
    def unpriced(self) -> list[QuoteLine]:
        """Lines without a price."""
        return [one for one in self.lines if one.price is None]

    @property
    def anything_held(self) -> bool:
        return any(one.held for one in self.lines) or bool(self.leaves_out)

    def of_kind(self, kind: Kind) -> list[QuoteLine]:
        return [one for one in self.lines if one.kind == kind]

    def sums(self, *, held: bool = False) -> Sums:
        """The totals of the lines that have a price."""
        material, labour = (self._sum(kind, held) for kind in KINDS)
        markup = self._percent(material, self.markup_percent)
        before_tax = _added(material, labour, markup)
        tax = self._percent(before_tax, self.tax_percent)
        return Sums(material, labour, markup, before_tax, tax, _added(before_tax, tax))

    def _sum(self, kind: Kind, held: bool) -> Decimal | None:
        amounts = (one.amount(one.held if held else one.ready, self.places) for one in self.of_kind(kind))
        return _added(*amounts)

    def _percent(self, of: Decimal | None, percent: Decimal) -> Decimal | None:
        return None if of is None else rounded(Fraction(of * percent) / 100, self.places)


def _added(*amounts: Decimal | None) -> Decimal | None:
    """The sum of those there are; None where there is none."""
    known = [one for one in amounts if one is not None]
    return sum(known[1:], known[0]) if known else None


def rounded(amount: Fraction, places: int) -> Decimal:
    """An amount that is not below nothing at so many decimal places, a half up.

    >>> rounded(Fraction(1, 8), 2), rounded(Fraction(1, 3), 2)
    (Decimal('0.13'), Decimal('0.33'))
    """
    steps = int(amount * 10**places + Fraction(1, 2))
    return Decimal(steps).scaleb(-places)

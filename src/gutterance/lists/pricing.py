"""The price of an item on the shop's list: by its colour first, then without; in the unit it is priced by."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.lists.work_done import INCHES_PER_METRE
from gutterance.measure.length import INCHES_PER_FOOT, Length
from gutterance.shop.amounts import read_amount
from gutterance.shop.prices import unit_key

if TYPE_CHECKING:
    from decimal import Decimal

    from gutterance.shop.prices import Price, PriceList

_LONG = {"ft": Fraction(INCHES_PER_FOOT), "m": INCHES_PER_METRE}


@dataclass(frozen=True, slots=True)
class Priced:
    """A price for `per` of a unit; `amount` is None where there is none, and `says` then why."""

    unit: str
    amount: Decimal | None = None
    per: int = 1
    where: str = ""
    says: str = ""

    @property
    def by_length(self) -> bool:
        return self.unit in _LONG

    @property
    def unit_inches(self) -> Fraction:
        """How long the unit is [in]; that of a foot where it is no unit of length."""
        return _LONG.get(self.unit, Fraction(INCHES_PER_FOOT))


def price_of(
    item: str, colour: str | None, unit: str, prices: PriceList | None, stock: Length | None = None
) -> Priced:
    """The price of an item counted in `unit`; `stock` is how long one of it is, where it is a length of pipe.

    `downpipe 2x3 white` goes before `downpipe 2x3`. An item counted by length may be priced by the foot or by
    the metre, one counted singly by the pack.
    """
    if prices is None:
        return Priced(unit)
    other_units: list[Price] = []
    blank: list[Price] = []
    for name in [f"{item} {colour}", item] if colour else [item]:
        for row in prices.of(name):
            fitting = _unit_of(row, unit, stock)
            if fitting is None:
                other_units.append(row)
            elif row.amount is None:
                blank.append(row)
            else:
                return Priced(fitting, row.amount, row.per, f"{prices.file}, row {row.row}")
    return Priced(unit, says=_why(item, unit, prices, other_units, blank))


def priced_in(row: Price, unit: str) -> bool:
    """Whether a row's price can be used for an item counted in `unit`, which may be a `length of 10 ft`."""
    return _unit_of(row, unit, _stock_in(unit)) is not None


def _stock_in(unit: str) -> Length | None:
    inches = _length_in(unit_key(unit)) if unit.startswith("length of ") else None
    return None if inches is None else Length(inches)


def _unit_of(row: Price, unit: str, stock: Length | None) -> str | None:
    """The unit to count an item in so that the row's price fits it; None where it cannot."""
    said, wanted = unit_key(row.unit), unit_key(unit)
    if said == wanted:
        return unit
    if said in _LONG and (wanted in _LONG or stock is not None):
        return said
    if wanted == "each" and row.per > 1:
        return unit
    return unit if stock is not None and _length_in(said) == stock.inches else None


def _length_in(unit: str) -> Fraction | None:
    """How long a `length of 20 ft` is [in]."""
    try:
        return read_amount(unit.removeprefix("length of ")).inches
    except ValueError:
        return None


def _why(item: str, unit: str, prices: PriceList, other_units: list[Price], blank: list[Price]) -> str:
    if blank:
        return f"no price yet ({prices.file}, row {blank[0].row})"
    if other_units:
        row = other_units[0]
        return f"no price: {prices.file}, row {row.row} has it by the {unit_key(row.unit)}, not by the {unit}"
    near = prices.nearly(item)
    hint = f"; row {near.row} has {near.item!r}" if near is not None else ""
    return f"no price: not in {prices.file}{hint}"

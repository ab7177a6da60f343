"""What a quote is made from: everything a job takes, with the shop's prices and its rates for labour."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.lists.hardware import pipe_unit
from gutterance.lists.pricing import Priced, price_of
from gutterance.lists.quote_models import Quote, QuoteLine, rounded
from gutterance.lists.work_done import Amount, work_done
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from gutterance.lists.models import Hardware, Lists
    from gutterance.measure.length import System
    from gutterance.shop import Shop
    from gutterance.shop.prices import PriceList

QUANTITY_PLACES = 2
"""To how many decimal places a length is priced, in ft or m."""


def quote(lists: Lists, shop: Shop, prices: PriceList | None = None) -> Quote:
    """Everything a job takes, priced by the shop's list where it has a price for it. Raises nothing."""
    lines = [*_gutter(lists, prices), *(_hardware(one, lists, prices) for one in lists.hardware)]
    return Quote(
        lines=(*lines, *_labour(lists, shop)),
        currency=shop.quote.currency,
        places=shop.quote.decimals,
        markup_percent=Decimal(shop.quote.markup_percent),
        tax_percent=Decimal(shop.quote.tax_percent),
        price_list=prices.file if prices is not None else None,
        leaves_out=tuple(_left_out(lists)),
    )


def gutter_item(profile: str | None, size: str | None) -> str:
    """What a gutter is called on the price list.

    >>> gutter_item("K-style", '5"')
    'gutter 5 in K-style'
    """
    return " ".join(one for one in ("gutter", (size or "").replace('"', " in"), profile) if one)


def _gutter(lists: Lists, prices: PriceList | None) -> list[QuoteLine]:
    """Coil to run off, squaring trims in it, for each kind and colour of gutter."""
    kinds: defaultdict[tuple[str, str | None], list[Fraction]] = defaultdict(
        lambda: [Fraction(0), Fraction(0)]
    )
    for piece in lists.pieces:
        if piece.coil is not None:
            kind = gutter_item(piece.profile, piece.size), piece.colour
            kinds[kind][bool(piece.hold)] += piece.coil.inches
    system: System = "metric" if lists.units == "metric" else "imperial"
    out = []
    for (item, colour), (ready, held) in kinds.items():
        found = price_of(item, colour, "m" if system == "metric" else "ft", prices)
        says = "run off the coil, squaring trims in it; what loading a coil loses is not"
        out.append(_by_length(item, colour, Amount(ready, held), found, system, says))
    return out


def _by_length(
    item: str, colour: str | None, inches: Amount, found: Priced, system: System, says: str
) -> QuoteLine:
    amount = inches.over(found.unit_inches)
    return QuoteLine(
        kind="material",
        item=item,
        unit=found.unit,
        ready=rounded(amount.ready, QUANTITY_PLACES),
        held=rounded(amount.held, QUANTITY_PLACES),
        price=found.amount,
        colour=colour,
        exact=Length(inches.ready, system),
        exact_held=Length(inches.held, system) if inches.held else None,
        where=found.where,
        says=_told(says, found),
    )


def _hardware(one: Hardware, lists: Lists, prices: PriceList | None) -> QuoteLine:
    """What is used; spares come back to the shop and are not charged."""
    item, colour, stock = _pipe(one, lists)
    found = price_of(item, colour, one.unit, prices, stock)
    if found.by_length and stock is not None:
        system = stock.system
        return _by_length(
            item, colour, Amount(one.count * stock.inches), found, system, f"{one.count} x {one.unit}"
        )
    held = min(one.on_hold, one.count)
    line = QuoteLine(
        kind="material",
        item=item,
        unit=one.unit,
        ready=Decimal(one.count - held),
        held=Decimal(held),
        price=found.amount,
        per=found.per,
        colour=colour,
        where=found.where,
    )
    spare = f"{one.spare} spare not charged; " if one.spare else ""
    return replace(line, says=_told(spare + one.why, found))


def _pipe(one: Hardware, lists: Lists) -> tuple[str, str | None, Length | None]:
    """An item's name, colour and length; colour and length apart where it is downpipe."""
    for need in lists.pipe_need:
        for name in ("downpipe", "downpipe leftover"):
            plain = f"{name} {need.size or ''}".strip()
            if one.item == f"{plain} {need.colour or ''}".strip():
                stocks = (each.stock for each in need.bought if one.unit == pipe_unit(each.stock))
                return plain, need.colour, next(stocks, None)
    return one.item, None, None


def _labour(lists: Lists, shop: Shop) -> list[QuoteLine]:
    if not shop.labour:
        return []
    amounts = work_done(lists)
    out = []
    for number, rule in enumerate(shop.labour, start=1):
        amount = amounts[rule.for_each]
        by_hour = rule.hours is not None
        each = Fraction(rule.each) if by_hour else Fraction(1)
        every = amount.ready + amount.held
        says = f"{_plain(rounded(every, QUANTITY_PLACES))} {_each(rule.for_each, every)}"
        if by_hour:
            says += f" at {rule.hours} h each"
        hour = shop.quote.hour
        price = (Decimal(hour) if hour is not None else None) if by_hour else rule.each
        if price is None:
            says += "; no price of an hour in the shop file: quote.hour"
        out.append(
            QuoteLine(
                kind="labour",
                item=rule.work,
                unit="hour" if by_hour else rule.for_each,
                ready=rounded(amount.ready * each, QUANTITY_PLACES),
                held=rounded(amount.held * each, QUANTITY_PLACES),
                price=price,
                where=f"shop rules, labour {number}",
                says=says,
            )
        )
    return out


def _each(measure: str, amount: Fraction) -> str:
    """A measure behind its number: `4 corners`, `198.23 ft of gutter`."""
    return measure if " of " in measure or amount == 1 else f"{measure}s"


def _plain(number: Decimal) -> str:
    return f"{number.normalize():f}" if number else "0"


def _told(says: str, found: Priced) -> str:
    return f"{found.says}; {says}" if found.says else says


def _left_out(lists: Lists) -> list[str]:
    """What is on hold and so known in part or not at all: the totals cannot have it."""
    out = []
    unknown = [one.id for one in lists.pieces if one.coil is None]
    if unknown:
        out.append(f"gutter of unknown length, not counted at all: {', '.join(unknown)}")
    pipes = [one.id for one in lists.downpipes if one.hold]
    if pipes:
        out.append(f"pipe of downpipes on hold, not counted at all: {', '.join(pipes)}")
    runs = [one.run for one in lists.hangers if one.count is None]
    if runs:
        out.append(f"hangers of runs on hold, not counted at all: {', '.join(runs)}")
    return out

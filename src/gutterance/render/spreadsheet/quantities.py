"""Quantities and prices as a table for CSV: each line, then the totals, then what they leave out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.spreadsheet.tables import Cell, Table

if TYPE_CHECKING:
    from decimal import Decimal

    from gutterance.lists.quote_models import Quote, QuoteLine, Sums
    from gutterance.measure.length import Length

NO_PRICE = "no price"


def money(name: str, quote: Quote) -> str:
    """A heading with the shop's currency in it."""
    return f"{name} [{quote.currency}]" if quote.currency else name


def quantities_head(quote: Quote) -> list[str]:
    """The columns, the same in CSV and in the workbook."""
    return [
        "kind", "item", "colour", "unit", "quantity", "exact length", "quantity on hold",
        "exact length on hold", money("price", quote), "price is for", money("amount", quote),
        money("amount on hold", quote), "price from", "why",
    ]  # fmt: skip


def quantities_table(quote: Quote) -> Table:
    """Lines, totals and what is left out. Amounts are rounded as they are shown."""
    rows: list[list[Cell]] = [_line(one, quote) for one in quote.lines]
    ready, held = quote.sums(), quote.sums(held=True)
    for name, mine, waiting in zip(sum_names(quote), parts_of(ready), parts_of(held), strict=True):
        if shown_sum(name, quote):
            rows.append(["total", name, *[""] * 8, _or_none(mine), _or_none(waiting), "", ""])
    rows += [["note", "", *[""] * 11, says] for says in remarks(quote)]
    return Table("quantities", "Quantities", quantities_head(quote), rows)


def sum_names(quote: Quote) -> list[str]:
    """The names of the totals, in the order of `parts_of`."""
    return [
        "material", "labour", f"markup on material, {quote.markup_percent}%", "before tax",
        f"tax, {quote.tax_percent}%", "in all",
    ]  # fmt: skip


def parts_of(sums: Sums) -> list[Decimal | None]:
    """The totals as they follow one another."""
    return [sums.material, sums.labour, sums.markup, sums.before_tax, sums.tax, sums.total]


def shown_sum(name: str, quote: Quote) -> bool:
    """Whether a total is told: markup and tax only where the shop has them."""
    if name == "labour":
        return bool(quote.of_kind("labour"))
    if name.startswith("markup"):
        return bool(quote.markup_percent)
    if name.startswith("tax") or name == "before tax":
        return bool(quote.tax_percent)
    return True


def remarks(quote: Quote) -> list[str]:
    """What whoever sends this out must know of its totals."""
    out = []
    unpriced = quote.unpriced
    if quote.price_list is None and unpriced:
        out.append("No price list was given, so no material has a price: `gutterance prices` writes one")
    elif unpriced:
        names = "; ".join(dict.fromkeys(one.item for one in unpriced))
        out.append(f"{len(unpriced)} of {len(quote.lines)} lines have no price and are in no total: {names}")
    if quote.anything_held:
        out.append("What is on hold is not in the amounts, but beside them, as far as it is known")
    out += [f"On hold: {one}" for one in quote.leaves_out]
    if quote.currency is None and len(unpriced) < len(quote.lines):
        out.append("The shop file names no currency: quote.currency")
    return out


def exact_words(length: Length | None) -> str:
    """An exact length as a tape shows it; blank where there is none or nothing of it."""
    return length.tape_text() if length is not None and length.inches else ""


def _line(one: QuoteLine, quote: Quote) -> list[Cell]:
    amount, waiting = one.amount(one.ready, quote.places), one.amount(one.held, quote.places)
    return [
        one.kind, one.item, one.colour or "", one.unit, one.ready, exact_words(one.exact), one.held,
        exact_words(one.exact_held), _or_none(one.price), one.per, _or_none(amount), _or_none(waiting),
        one.where, f"PARTLY ON HOLD: {one.says}" if one.held and one.ready else
        f"ON HOLD: {one.says}" if one.held else one.says,
    ]  # fmt: skip


def _or_none(amount: Decimal | None) -> Cell:
    """An amount, or the words that there is none."""
    return NO_PRICE if amount is None else amount

"""The workbook's sheet of quantities and prices: amounts and totals are formulas with their values."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.spreadsheet.book import HEAD_ROW, HELD_GREY, set_height, set_widths, write_head
from gutterance.render.spreadsheet.quantities import (
    NO_PRICE,
    parts_of,
    quantities_head,
    quantities_table,
    remarks,
    shown_sum,
    sum_names,
)

if TYPE_CHECKING:
    from decimal import Decimal

    from xlsxwriter.worksheet import Worksheet

    from gutterance.lists.quote_models import Quote, QuoteLine
    from gutterance.render.spreadsheet.book import Book
    from gutterance.render.spreadsheet.tables import Cell

QUANTITY, ON_HOLD, PRICE, PER, AMOUNT, AMOUNT_ON_HOLD = 4, 6, 8, 9, 10, 11
"""Columns of `quantities_head`, counted from 0."""
_SUMS = ((AMOUNT, QUANTITY), (AMOUNT_ON_HOLD, ON_HOLD))


def write_quantities(book: Book, sheet: Worksheet, quote: Quote) -> None:
    """Lines, totals and remarks. A price typed in here is reckoned with at once, the totals too."""
    head = quantities_head(quote)
    rows = quantities_table(quote).rows
    write_head(book, sheet, head)
    set_widths(sheet, head, [row for row in rows if row[0] not in ("note", "total")])
    at = HEAD_ROW + 1
    for number, line in enumerate(quote.lines, start=at):
        _line(book, sheet, number, line, rows[number - at], quote)
    end = at + len(quote.lines)
    after = _totals(book, sheet, at, end + 1, quote)
    for number, says in enumerate(remarks(quote), start=after + 1):
        book.put(sheet, number, 0, says, bold=True)


def _line(book: Book, sheet: Worksheet, row: int, line: QuoteLine, cells: list[Cell], quote: Quote) -> None:
    marks = {"bg_color": HELD_GREY} if line.held else {}
    for column, value in enumerate(cells):
        if column in (AMOUNT, AMOUNT_ON_HOLD):
            continue
        places = {"num_format": "#,##0.00####", "align": "right"} if column == PRICE else {}
        book.put(sheet, row, column, value, **marks, **places, text_wrap=column == len(cells) - 1)
    set_height(sheet, row, cells)
    for column, quantity in _SUMS:
        price, per = _cell(row, PRICE), _cell(row, PER)
        amount = f"ROUND({_cell(row, quantity)}*{price}/{per},{quote.places})"
        known = line.amount(line.ready if quantity == QUANTITY else line.held, quote.places)
        _formula(book, sheet, row, column, f'=IF(ISNUMBER({price}),{amount},"{NO_PRICE}")', known, **marks)


def _totals(book: Book, sheet: Worksheet, first: int, row: int, quote: Quote) -> int:
    """The totals, each a formula over what is above it; the row after them."""
    material = len(quote.of_kind("material"))
    middle, last = first + material, first + len(quote.lines)
    percents = (None, None, quote.markup_percent, None, quote.tax_percent, None)
    values = [parts_of(quote.sums()), parts_of(quote.sums(held=True))]
    told: dict[int, int] = {}
    for part, name in enumerate(sum_names(quote)):
        if not shown_sum(name, quote):
            continue
        told[part] = row
        total = {"bold": True, "top": 6 if name == "in all" else 0}
        book.put(sheet, row, 0, "total", **total)
        book.put(sheet, row, 1, name, **total)
        percent = percents[part]
        if percent is not None:
            book.put(sheet, row, PRICE, percent, num_format="0.00####", align="right")
        for which, (column, _) in enumerate(_SUMS):
            formula = {
                0: _sum(column, first, middle),
                1: _sum(column, middle, last),
                2: _share(column, told.get(0), row, quote.places),
                3: _added(column, [told.get(one) for one in (0, 1, 2)]),
                4: _share(column, told.get(3), row, quote.places),
                5: _added(column, [told.get(one) for one in ((3, 4) if 3 in told else (0, 1, 2))]),
            }[part]
            _formula(book, sheet, row, column, formula, values[which][part], **total)
        row += 1
    book.put(sheet, row, 1, "lines without a price, in no total")
    missing = f'=COUNTIF({_cell(first, AMOUNT)}:{_cell(max(last - 1, first), AMOUNT)},"{NO_PRICE}")'
    count = len(quote.unpriced)
    sheet.write_formula(row, AMOUNT, missing, book.format(bold=True), count)
    return row + 1


def _formula(
    book: Book, sheet: Worksheet, row: int, column: int, formula: str, value: Decimal | None, **marks: object
) -> None:
    shown = NO_PRICE if value is None else float(value)
    sheet.write_formula(
        row, column, formula, book.format(num_format=book.money, align="right", **marks), shown
    )


def _cell(row: int, column: int) -> str:
    """`(5, 10)` is K6."""
    return f"{'ABCDEFGHIJKLMNOPQRSTUVWXYZ'[column]}{row + 1}"


def _sum(column: int, first: int, end: int) -> str:
    """The sum of a column's amounts; words where none of them is a number."""
    return (
        _of_numbers(f"{_cell(first, column)}:{_cell(end - 1, column)}") if end > first else f'="{NO_PRICE}"'
    )


def _share(column: int, of: int | None, row: int, places: int) -> str:
    """A percentage of another row; the percentage stands where prices do."""
    if of is None:
        return f'="{NO_PRICE}"'
    base, percent = _cell(of, column), f"${_cell(row, PRICE)}"
    return f'=IF(ISNUMBER({base}),ROUND({base}*{percent}/100,{places}),"{NO_PRICE}")'


def _added(column: int, rows: list[int | None]) -> str:
    return _of_numbers(",".join(_cell(row, column) for row in rows if row is not None))


def _of_numbers(cells: str) -> str:
    return f'=IF(COUNT({cells})=0,"{NO_PRICE}",SUM({cells}))'

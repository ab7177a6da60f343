"""The office's workbook (XLSX): quantities with prices and live totals, then each list on a sheet of its own.

Words go in as words, marked so that a spreadsheet takes them for nothing else; the only formulas are ours.
"""

from __future__ import annotations

import io
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from gutterance.render.spreadsheet.book import (
    HEAD_ROW,
    HELD_GREY,
    Book,
    safe,
    set_height,
    set_widths,
    write_head,
)
from gutterance.render.spreadsheet.quantity_sheet import write_quantities
from gutterance.render.spreadsheet.tables import Table, tables

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

    from gutterance.lists.models import Lists
    from gutterance.lists.quote_models import Quote
    from gutterance.render.spreadsheet.tables import Cell

_NO_CLOCK = datetime(2000, 1, 1, tzinfo=UTC)
"""Written as the time it was made, so that the same job gives the same bytes."""
_FOLDED = 60


def workbook(lists: Lists, made_from: Quote, code: str) -> bytes:
    """The workbook's bytes. `code` is the sheet's, told on every page of it."""
    from xlsxwriter import Workbook

    out = io.BytesIO()
    told = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with Workbook(out, {**told, "in_memory": True}) as made:
        made.set_properties(
            {
                "title": safe(lists.title or "")[:255],
                "comments": f"sheet {code}, {lists.made_by or ''}",
                "created": _NO_CLOCK.replace(tzinfo=None),
            }
        )
        made.set_calc_mode("auto")
        book = Book(made, made_from.places, {})
        write_quantities(book, _sheet(book, "Quantities", lists, code), made_from)
        held = _on_hold(lists)
        if held.rows:
            _write(book, held, lists, code)
        for table in tables(lists):
            if table.rows:
                _write(book, table, lists, code)
    return out.getvalue()


def _sheet(book: Book, title: str, lists: Lists, code: str) -> Worksheet:
    """A sheet with the job and the code above its table, printed on every page of it."""
    sheet = book.workbook.add_worksheet(title)
    sheet.set_landscape()
    sheet.set_paper(9 if lists.units == "metric" else 1)
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(0.4, 0.4, 0.5, 0.6)
    sheet.set_footer(f"&Lsheet {code}&C{title}&Rpage &P of &N")
    book.put(sheet, 0, 0, title.upper(), bold=True, font_size=14)
    book.put(sheet, 1, 0, lists.title or "", bold=True)
    book.put(sheet, 2, 0, f"sheet {code}; {lists.made_by or ''}; rules of {lists.shop or ''}")
    book.put(sheet, 3, 0, lists.rounding)
    sheet.repeat_rows(0, HEAD_ROW)
    sheet.freeze_panes(HEAD_ROW + 1, 0)
    return sheet


def _write(book: Book, table: Table, lists: Lists, code: str) -> None:
    sheet = _sheet(book, table.title, lists, code)
    write_head(book, sheet, table.head)
    set_widths(sheet, table.head, table.rows)
    for column in range(len(table.head)):
        if all(row[column] == "" for row in table.rows):
            sheet.set_column(column, column, None, None, {"hidden": True})  # more room on paper for the rest
    for number, row in enumerate(table.rows, start=HEAD_ROW + 1):
        held = table.held and row[-1] != ""
        marks = {"bold": True, "bg_color": HELD_GREY} if held else {}
        for column, value in enumerate(row):
            last = held and column == len(row) - 1
            book.put(sheet, number, column, f"ON HOLD: {value}" if last else value,
                     **marks, text_wrap=isinstance(value, str) and len(value) > _FOLDED)  # fmt: skip
        set_height(sheet, number, row)
    if table.rows:
        sheet.autofilter(HEAD_ROW, 0, HEAD_ROW + len(table.rows), len(table.head) - 1)


def _on_hold(lists: Lists) -> Table:
    """What may not be made yet, why, and the question that frees it."""
    rows: list[list[Cell]] = [
        [what, one.id, hold.says, hold.question or ""]
        for what, every in (("piece", lists.pieces), ("downpipe", lists.downpipes))
        for one in every
        for hold in one.hold
    ]
    return Table("on-hold", "On hold", ["what", "which", "on hold because", "question"], rows)

"""A workbook in the making: values into cells, words as words and never as anything that runs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import decimal_or_mixed
from gutterance.render.drawing.scene import shown

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

    from gutterance.render.spreadsheet.tables import Cell

HEAD_ROW = 5
"""Where a sheet's headings stand, counted from 0; the job and its code are above."""
_LONGEST_TEXT = 32_767
"""The most characters a cell may hold (ECMA-376 as spreadsheets read it)."""
_DIGITS = 15
"""How many digits a spreadsheet's number keeps; an exact length with more stays text."""
_STARTS = tuple("=+-@＝＋－＠")
_WIDEST = 60
_LINE_HIGH = 14
HELD_GREY = "#D9D9D9"
"""Behind what is on hold, besides its words."""


@dataclass(slots=True)
class Book:
    """A workbook in the making, with the few formats it is made of."""

    workbook: Workbook
    places: int
    formats: dict[tuple[tuple[str, Any], ...], Format]

    def format(self, **wanted: Any) -> Format:
        """A format of these properties, made once."""
        key = tuple(sorted(wanted.items()))
        if key not in self.formats:
            self.formats[key] = self.workbook.add_format({"valign": "top", **wanted})
        return self.formats[key]

    @property
    def money(self) -> str:
        """How an amount is shown."""
        return "#,##0" + ("." + "0" * self.places if self.places else "")

    def put(self, sheet: Worksheet, row: int, column: int, value: Cell, **wanted: Any) -> None:
        """A value into a cell: words as words, numbers as numbers, nothing as nothing."""
        if isinstance(value, Fraction) and not _kept_whole(value):
            value = decimal_or_mixed(value)
        if isinstance(value, str):
            text = safe(value)
            if text.startswith(_STARTS):
                wanted = {**wanted, "quote_prefix": True}
            if row >= HEAD_ROW and "align" not in wanted:
                wanted = {**wanted, "align": "left", "indent": 1}
            sheet.write_string(row, column, text, self.format(**wanted))
        else:
            sheet.write_number(row, column, float(value), self.format(**wanted))


def safe(text: str) -> str:
    """Words as a cell can hold them: one line, no sign that XML forbids, not over a cell's length."""
    words = shown(text)
    return words if len(words) <= _LONGEST_TEXT else words[: _LONGEST_TEXT - 1] + "…"


def _kept_whole(exact: Fraction) -> bool:
    """Whether a spreadsheet's number keeps all of an exact length; if not it stays words."""
    text = decimal_or_mixed(exact)
    return "/" not in text and len(text.replace(".", "").strip("-0")) <= _DIGITS


def write_head(book: Book, sheet: Worksheet, head: list[str]) -> None:
    """The row of headings."""
    for column, name in enumerate(head):
        book.put(sheet, HEAD_ROW, column, name, bold=True, bottom=2, text_wrap=True)
    sheet.set_row(HEAD_ROW, 2 * _LINE_HIGH)


def set_widths(sheet: Worksheet, head: list[str], rows: list[list[Cell]]) -> None:
    """Columns as wide as what stands in them, within reason; longer words are folded."""
    for column, name in enumerate(head):
        longest = max([len(str(row[column])) for row in rows if column < len(row)] + [len(name) // 2, 6])
        sheet.set_column(column, column, min(longest + 3, _WIDEST + 2))


def set_height(sheet: Worksheet, row: int, cells: list[Cell]) -> None:
    """A row as high as its longest words need when folded."""
    lines = max(-(len(str(one)) // -_WIDEST) for one in cells)
    if lines > 1:
        sheet.set_row(row, lines * _LINE_HIGH)

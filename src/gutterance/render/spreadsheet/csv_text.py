"""Tables as CSV, inert: no word of a note stands where a spreadsheet would run it."""

from __future__ import annotations

import csv
import io
import re
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.length import decimal_or_mixed
from gutterance.render.plain import harmless

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.render.spreadsheet.tables import Cell, Table

_COULD_RUN = re.compile(r"""(\A|[;,])([\s"']*[=+\-@＝＋－＠])""")
"""What a formula starts with, at the start of a cell or after what some spreadsheets part cells by."""


def cell(text: str) -> str:
    """Words as a cell that no spreadsheet runs: one line, and a ' before what could start a formula.

    Spreadsheets of other countries part cells by ;, so what follows one is made safe too.

    >>> cell("=2+2"), cell("front"), cell("a;=2+2")
    ("'=2+2", 'front', "a;'=2+2")
    """
    return _COULD_RUN.sub(r"\1'\2", harmless(text))


def csv_text(table: Table) -> str:
    """A table with its head, one row a line (RFC 4180)."""
    return rows_text([table.head, *table.rows])


def rows_text(rows: Iterable[Iterable[Cell]], delimiter: str = ",") -> str:
    """Rows of any length as CSV."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter, lineterminator="\r\n")
    for row in rows:
        writer.writerow([_written(one) for one in row])
    return out.getvalue()


def _written(value: Cell) -> str:
    if isinstance(value, str):
        return cell(value)
    if isinstance(value, Fraction):
        return decimal_or_mixed(value)
    return f"{value:f}" if not isinstance(value, int) else str(value)

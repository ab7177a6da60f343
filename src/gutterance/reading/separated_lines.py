"""Lines of a file of comma- or semicolon-separated values, as a spreadsheet writes them, with tabs instead.

A cell in quotes may hold the separator, and a quote as two. Each sign becomes one sign, so that every place
in a line stays true: the separators become tabs, the quotes that only enclose become blanks.
"""

from __future__ import annotations

import csv
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

MARKS = (",", ";", "\t")
FEWEST_COLUMNS = 3
"""Fewer cells than this between commas are words said; so many are a table where every heading is known."""
FEWEST_ROWS = 2
"""So many lines below a heading have as many cells as it has."""
FEWEST_HEADINGS = 2
"""So many of the heading's words are known as such."""
LONGEST_HEADING = 6
"""A heading has no more words than this."""
LONGEST_SECTION = 3
"""The name of a section of rows has no more words than this."""
LONGEST_LINE = 4000
"""A longer line [characters] is no row."""


def with_tabs(lines: Sequence[str]) -> Sequence[str]:
    """The lines, those of a table of separated values with tabs between their cells."""
    for mark in MARKS:
        if sum(line.count(mark) >= FEWEST_COLUMNS - 1 for line in lines) <= FEWEST_ROWS:
            continue
        cells = [_cells(line, mark) for line in lines]
        wide = _widths(cells)
        head = min(wide.values(), default=0)
        if wide and (mark != "\t" or any('"' in line for line in lines)):
            return [
                _tabbed(line, mark, row, below=number > head)
                if row is not None and len(row) in wide
                else line
                for number, (line, row) in enumerate(zip(lines, cells, strict=True))
            ]
    return lines


def _cells(line: str, mark: str) -> list[str] | None:
    """The cells of a line, or None where it has none."""
    if mark not in line or len(line) > LONGEST_LINE:
        return None
    try:
        return next(csv.reader([line], delimiter=mark, strict=True, skipinitialspace=True))
    except (csv.Error, StopIteration):
        return None


def _widths(rows: list[list[str] | None]) -> dict[int, int]:
    """How many cells the rows of each table have that a heading stands above, and where it stands."""
    from gutterance.reading.headings import heading_label

    wide: dict[int, int] = {}
    for number, row in enumerate(rows):
        if row is None or len(row) < FEWEST_COLUMNS or len(row) in wide:
            continue
        filled = [cell.strip() for cell in row if cell.strip()]
        if len(filled) < FEWEST_COLUMNS or any(
            len(cell.split()) > LONGEST_HEADING or re.search(r"\d\s*\W?\d", cell) for cell in filled
        ):
            continue
        below = [other for other in rows[number + 1 :] if other is not None and any(map(str.strip, other))]
        alike = [other for other in below if len(other) == len(row)]
        labels = [heading_label(cell) for cell in filled]
        known = sum(label is not None and label.sure and label.of_run() for label in labels)
        if (
            known >= (FEWEST_HEADINGS if len(row) > FEWEST_COLUMNS else FEWEST_COLUMNS)
            and len(alike) >= FEWEST_ROWS
            and any(any(char.isdigit() for char in cell) for other in alike for cell in other)
        ):
            wide[len(row)] = number
    return wide


def _tabbed(line: str, mark: str, row: list[str], *, below: bool) -> str:
    """A line with a tab for each separator; one of which only the first cell is filled is words alone.

    A few words `below` the heading head the rows beneath them.
    """
    heads = below and 0 < len(row[0].split()) <= LONGEST_SECTION and not re.search(r"\d", row[0])
    between = "\t" if heads or any(cell.strip() for cell in row[1:]) else " "
    out: list[str] = []
    quoted = False
    opens = True
    place = 0
    while place < len(line):
        char = line[place]
        if quoted and line[place : place + 2] == '""':
            out.append('" ')
            place += 2
            continue
        if char == '"' and (quoted or opens):
            quoted = not quoted
            out.append(" ")
        elif char == mark and not quoted:
            out.append(between)
            opens = True
            place += 1
            continue
        else:
            out.append(" " if char == "\t" else char)
        opens = opens and char == " "
        place += 1
    return "".join(out)

"""Tables found in a note: rows and columns drawn with bars, tabs, commas or blanks, and their headings."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

from gutterance.reading.headings import heading_label
from gutterance.reading.labels import Label, known_label
from gutterance.reading.places import PLACE_KINDS
from gutterance.reading.tick_boxes import has_boxes
from gutterance.reading.written_answers import Answer, read_answer

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.reading.items import Item, Line

RULE = re.compile(r"\A[\s|+:=*.–—-]*\Z")
"""A line drawn between rows."""
DECIMAL_FEET = re.compile(
    r"\bdec(?:imal)?\.? f(?:ee|oo)?t\b|\bfeet and tenths\b|\btenths of a foot\b", re.IGNORECASE
)
"""Words by which a note says that its feet have a decimal point."""
NAME_AND_NUMBER = re.compile(
    r"(?P<name>[A-Za-z][A-Za-z .&/-]*?) (?P<number>\d[\d.,'\"’”-]*(?: \d[\d/\"”]*)*)\Z"
)
"""A run's name with its length right behind it."""
LONGEST_HEAD = 1000
"""A line of more characters than this heads no table."""
LONGEST_ROW = 4000
"""A line of more characters than this is no row of one."""
ABBREVIATED = re.compile(r"\b[A-Za-z]{1,5}\.\Z")
"""A heading cut short: `Lgth.`"""
FEWEST_COLUMNS = 3
"""Fewer columns than this are no table, but for one that stands on its side."""
FEWEST_ACROSS = 2
"""A table that stands on its side has so many runs, and so many rows that are known, at least."""
HEADING_SHARE = 0.6
"""The share of the heading's cells that must be labels."""
FEWEST_KNOWN = 2
"""So many of them must be known, not only guessed."""
OVER_HEADING_INDENT = 6
"""A line above the heading that begins so far in heads groups of its columns."""
MEASURED = re.compile(r"\d\s*(?:['\"’”]|ft|in\b|m)|\d{2}|\d[-.]\d")
"""Signs that a cell holds a measure, as no heading does."""
SHORT_MARK = re.compile(r"#?\d{1,2}[.)]?|[A-Z]\d?[.)]?|[A-Za-z]{1,3}\d{1,2}")
"""The number or the letter of a row: `3`, `B`, `G1`."""
FEWEST_ROWS = 2
"""So many rows at least show a column that has no heading."""
LONGEST_SECTION = 4
"""The name of a section alone on its line has no more words than this."""
SECTION_WORDS = re.compile(
    r"\b(?:house|home|main|dwelling|bungalow|cottage|building|bldg|block)\b", re.IGNORECASE
)
"""Words of a section that are no part of the house by themselves."""
LONGEST_HEADING = 6
"""A heading's cell has no more words than this."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell: its place in the line and its text."""

    start: int
    end: int
    text: str


@dataclass(slots=True)
class Row:
    """A row: its line, its cells, and whether a line was drawn right above it."""

    line: Line
    cells: list[Cell]
    below_rule: bool = False


@dataclass(slots=True)
class Table:
    """A table found in the note. `labels` head its columns, or its rows where it stands on its side."""

    head: Line
    splitter: str
    headings: list[Cell]
    labels: list[Label | None]
    rows: list[Row]
    across: bool = False
    over: Line | None = None
    fields: list[str | None] = field(default_factory=list)
    guessed: list[bool] = field(default_factory=list)
    legend: dict[str, Item] = field(default_factory=dict)
    decimal_feet: bool = False

    def line_numbers(self) -> set[int]:
        """The numbers of all its lines."""
        over = {self.over.number} if self.over is not None else set()
        return {self.head.number} | {row.line.number for row in self.rows} | over

    def answer(self, row: Row, column: int) -> Answer | None:
        """The answer in a column of a row, or None where the row has no such cell."""
        cell = self.cell(row, column)
        if cell is None:
            return None
        answer = read_answer([(row.line, cell.start, cell.end)], self.labels[column], self.legend)
        answer.guessed = self.guessed[column]
        return answer

    def cell(self, row: Row, column: int) -> Cell | None:
        """The cell of a row that stands in that column."""
        return self.placed(row).get(column)

    def across_cell(self, row: Row, column: int) -> Cell | None:
        """The cell of a row below that name, in a table that stands on its side."""
        cells = row.cells[1:]
        if self.splitter == "  " and len(cells) != len(self.headings):
            here = [
                cell
                for cell in cells
                if min(range(len(self.headings)), key=lambda n: _apart(self.headings[n], cell)) == column
            ]
            return here[0] if here else None
        return cells[column] if column < len(cells) else None

    def placed(self, row: Row) -> dict[int, Cell]:
        """The cells of a row by their column."""
        if self.splitter != "  " or len(row.cells) == len(self.headings):
            return {column: cell for column, cell in enumerate(row.cells) if column < len(self.headings)}
        placed: dict[int, Cell] = {}
        first = 0
        for number, cell in enumerate(row.cells):
            last = max(first + 1, len(self.headings) - (len(row.cells) - number - 1))
            choice = range(first, min(last, len(self.headings)))
            if not choice:
                break
            column = min(choice, key=partial(_how_far, self.headings, cell))
            placed[column] = cell
            first = column + 1
        return placed


def _how_far(headings: list[Cell], cell: Cell, column: int) -> int:
    """How far a cell stands from under the heading of that column."""
    return _apart(headings[column], cell)


def _apart(heading: Cell, cell: Cell) -> int:
    """How far [characters] a cell stands from under its heading, by its nearer edge."""
    return min(abs(heading.start - cell.start), abs(heading.end - cell.end))


def find_tables(lines: list[Line], legend: dict[str, Item] | None = None) -> dict[int, Table]:
    """The tables of a note, by the number of their heading's line. `legend` is what its key says."""
    from gutterance.reading.table_columns import settle_columns

    tables: dict[int, Table] = {}
    decimal_feet = any(DECIMAL_FEET.search(line.text) for line in lines)
    number = 0
    while number < len(lines):
        wide = len(lines[number].text) > LONGEST_HEAD
        table = None if wide else _table_at(lines, number) or _table_across(lines, number)
        if table is None:
            number += 1
            continue
        table.legend, table.decimal_feet = legend or {}, decimal_feet
        settle_columns(table)
        if not any(field_ is not None for field_ in table.fields):
            number += 1
            continue
        tables[table.head.number] = table
        last = max(table.line_numbers())
        while number < len(lines) and lines[number].number <= last:
            number += 1
    return tables


def holds_a_table(texts: Sequence[str]) -> bool:
    """Whether a line of headings stands above rows of as many cells, so that a note is no form."""
    for number, text in enumerate(texts):
        splitter = splitter_of(text) if len(text) <= LONGEST_HEAD else None
        if splitter in (None, ",") or has_boxes(text) or re.search(r"[:\d]|__", text):
            continue
        cells = cells_of(text, splitter)
        if len([cell for cell in cells if cell.text]) < FEWEST_COLUMNS + 1 or not _heads(cells):
            continue
        below = [other for other in texts[number + 1 :] if other.strip() and not RULE.match(other)]
        rows = [cells_of(other, splitter) for other in below[:FEWEST_ROWS] if len(other) <= LONGEST_ROW]
        if len(rows) == FEWEST_ROWS and all(
            len(row) >= max(FEWEST_COLUMNS, len(cells) / 2) and any(map(_has_digit, row)) for row in rows
        ):
            return True
    return False


def splitter_of(text: str, fewest: int = FEWEST_COLUMNS) -> str | None:
    """What parts the columns of a line: a bar, a tab, wide blanks or a comma; None where nothing does."""
    for mark in ("|", "\t", ";"):
        if text.count(mark) >= fewest - 1:
            return mark
    if "  " in text and len(re.findall(r"\S {2,}(?=\S)", text)) >= fewest - 1:
        return "  "
    return "," if text.count(",") >= fewest - 1 else None


def cells_of(text: str, splitter: str, *, outer: bool = True) -> list[Cell]:
    """The cells of a line, each with its place; without `outer` bars a first empty cell is one."""
    if splitter == "  ":
        return [Cell(m.start(), m.end(), m.group()) for m in re.finditer(r"\S+(?: \S+)*", text)]
    cells: list[Cell] = []
    for start, end in _parts(text, splitter):
        part = text[start:end]
        lead = len(part) - len(part.lstrip())
        cells.append(Cell(start + lead, start + lead + len(part.strip()), part.strip()))
    if splitter == "|":
        if outer and cells and not cells[0].text:
            cells = cells[1:]
        if outer and cells and not cells[-1].text:
            cells = cells[:-1]
    return cells


def _parts(text: str, splitter: str) -> Iterator[tuple[int, int]]:
    """Where the cells between separators stand; a comma or a semicolon within quotes parts nothing."""
    start = 0
    quoted = False
    for place, char in enumerate(text):
        if char == '"' and splitter in ",;" and (quoted or not text[start:place].strip()):
            quoted = not quoted
        elif char == splitter and not quoted:
            yield start, place
            start = place + 1
    yield start, len(text)


def _rows(lines: list[Line], number: int, splitter: str, labels: int, *, across: bool = False) -> list[Row]:
    """The rows below a heading."""
    rows: list[Row] = []
    rule = False
    below = lines[number + 1 :]
    outer = across or splitter != "|" or lines[number].text.lstrip().startswith("|")
    for place, line in enumerate(below):
        if RULE.match(line.text) and line.text.strip():
            rule = True
            continue
        if _is_gap(line, splitter, below[place + 1 :], labels, across=across):
            if line.text.strip():
                start = len(line.text) - len(line.text.lstrip())
                rows.append(Row(line, [Cell(start, len(line.text.rstrip()), line.text.strip())], rule))
            rule = False
            continue
        if splitter not in line.text or not line.text.strip() or line.text.startswith("# "):
            break
        cells = cells_of(line.text, splitter, outer=outer) if len(line.text) <= LONGEST_ROW else []
        if len(cells) < 2 and not (rows and splitter == "  " and line.text.startswith(" " * labels)):
            break
        if len(cells) > labels + 2 and splitter == ",":
            break
        if not across and _heads(cells) and not any(MEASURED.search(cell.text) for cell in cells):
            break
        rows.append(Row(line, cells, rule))
        rule = False
    return rows


def _is_gap(line: Line, splitter: str, below: list[Line], labels: int, *, across: bool) -> bool:
    """Whether a line is blank, or the name of a section alone, between the rows of one table."""
    cells = [cell for cell in cells_of(line.text, splitter) if cell.text]
    if across or len(cells) > 1:
        return False
    if cells and (
        (splitter in line.text and splitter != "  ")
        or len(line.text.split()) > LONGEST_SECTION
        or re.search(r"[\d:,;?=]|\A\s*[#*•-]\s", line.text)
        or not (_names_a_section(line, cells[0]) or _stands_between_rows(line, below))
    ):
        return False
    following = next((other for other in below if other.text.strip() and not RULE.match(other.text)), None)
    if following is None or len(following.text) > LONGEST_ROW:
        return False
    row = [cell for cell in cells_of(following.text, splitter) if cell.text or splitter != "  "]
    if not cells and len([cell for cell in row if cell.text]) == 1 and splitter == "  ":
        return _is_gap(following, splitter, below[below.index(following) + 1 :], labels, across=across)
    alike = len(row) == labels if splitter != "  " else len(row) >= max(FEWEST_COLUMNS, labels / 2)
    return (
        alike
        and not _heads(row)
        and (bool(cells) or any(_has_digit(cell) for cell in row) or splitter != "  ")
    )


def _stands_between_rows(line: Line, below: list[Line]) -> bool:
    """Whether a word or two that the reader does not know stand alone right above a row."""
    words = line.text.strip(" :")
    known = any(item.kind not in ("word", "landmark", "filler", "break", "mark") for item in line.items)
    return (
        re.fullmatch(r"[A-Za-z][A-Za-z '’&-]*", words) is not None
        and len(words.split()) <= FEWEST_ROWS
        and not known
        and bool(below)
        and bool(below[0].text.strip())
    )


def _names_a_section(line: Line, cell: Cell) -> bool:
    """Whether the words of a line alone name a building, a storey or a part of a house."""
    answer = read_answer([(line, cell.start, cell.end)])
    return bool(answer.of("part", "storey", "level")) or SECTION_WORDS.search(cell.text) is not None


def _heads(cells: list[Cell]) -> bool:
    """Whether cells are headings."""
    filled = [cell for cell in cells if cell.text]
    if len(filled) < FEWEST_KNOWN or sum(_has_digit(cell) for cell in filled) > len(filled) / 4:
        return False
    if any(cell.text.endswith((",", ";", ".")) and not ABBREVIATED.search(cell.text) for cell in filled):
        return False  # words said, with blanks between them
    labels = [
        heading_label(cell.text) if len(cell.text.split()) <= LONGEST_HEADING else None for cell in filled
    ]
    known = sum(label is not None and label.of_run() for label in labels)
    told = sum(label is not None for label in labels)
    measured = {"length", "height", "wall_to_fascia", "left", "right", "start", "ends", "outlet", "ends_at"}
    fields = {meaning.field for label in labels if label is not None for meaning in label.meanings} & measured
    return known >= FEWEST_KNOWN and told >= HEADING_SHARE * len(filled) and len(fields) >= FEWEST_KNOWN


def _has_digit(cell: Cell) -> bool:
    return any(char.isdigit() for char in cell.text)


def _table_at(lines: list[Line], number: int) -> Table | None:
    """The table whose heading is that line, or None."""
    head = lines[number]
    splitter = splitter_of(head.text)
    if splitter is None or "__" in head.text or ("?" in head.text.replace("|", "") and splitter == ","):
        return None
    if has_boxes(head.text) or (splitter == "  " and re.search(r":(?:\s|\Z)", head.text)):
        return None
    cells = cells_of(head.text, splitter)
    if any(MEASURED.search(cell.text) for cell in cells):
        return None
    if len(cells) < FEWEST_COLUMNS or not _heads(cells) or _stands_across(lines, number, cells):
        return None
    if splitter == "," and not all(
        (label := known_label(cell.text)) is not None and label.of_run() for cell in cells if cell.text
    ):
        return None
    rows = _rows(lines, number, splitter, len(cells))
    if not any(_has_digit(cell) for row in rows for cell in row.cells):
        return None
    over = _over_heading(lines, number, splitter)
    if splitter == "  ":
        _add_unheaded(cells, rows)
        if not cells[0].text:
            _part_names(rows, cells)
    if splitter == "  " and cells[0].text and _names_unheaded(head, cells, rows):
        cells.insert(0, Cell(0, 0, ""))
        _part_names(rows, cells)
    labels = [heading_label(cell.text) if cell.text else None for cell in cells]
    return Table(head, splitter, cells, labels, rows, over=over)


def _add_unheaded(headings: list[Cell], rows: list[Row]) -> None:
    """Give a column of blanks-parted rows that has nothing above it a heading without words."""
    first = [row for row in rows if row.cells and SHORT_MARK.fullmatch(row.cells[0].text)]
    if len(first) >= FEWEST_ROWS and all(row.cells[0].end < headings[0].start for row in first):
        headings.insert(0, Cell(0, 0, ""))
        return
    full = [row for row in rows if len(row.cells) == len(headings) + 1]
    if len(full) < FEWEST_ROWS or len(full) * 2 < len(rows):
        return
    for place in range(len(headings) + 1):
        cells = [row.cells[place] for row in full]
        start, end = min(cell.start for cell in cells), max(cell.end for cell in cells)
        under = any(
            heading.start < end and start < max(heading.end, heading.start + 1) for heading in headings
        )
        if not under and len({cell.start for cell in cells}) == 1:
            headings.insert(place, Cell(start, start, ""))
            return


def _stands_across(lines: list[Line], number: int, cells: list[Cell]) -> bool:
    """Whether words that could be headings (`Left`, `Right`) are names of runs, with labels below them."""
    head = lines[number]
    names = sum(_names_a_place(head, cell) for cell in cells if cell.text)
    others = sum(bool(cell.text) and not _names_a_place(head, cell) for cell in cells)
    return names >= FEWEST_ACROSS and others <= 1 and _table_across(lines, number) is not None


def _names_unheaded(head: Line, cells: list[Cell], rows: list[Row]) -> bool:
    """Whether the names of the runs stand left of the first heading, with no heading of their own."""
    first = cells[0].start
    named = [row for row in rows if row.cells and row.cells[0].start + FEWEST_COLUMNS <= first]
    return (
        len(head.text) - len(head.text.lstrip()) >= FEWEST_COLUMNS
        and bool(named)
        and len(named) * 2 > len(rows)
        and all(not row.cells[0].text[:1].isdigit() for row in named)
    )


def _part_names(rows: list[Row], headings: list[Cell]) -> None:
    """`rear extn 3300` as a name and what stands below the next heading, where one blank parts the two."""
    for row in rows:
        name = NAME_AND_NUMBER.match(row.cells[0].text) if row.cells else None
        if name is None:
            continue
        start, end = row.cells[0].start, row.cells[0].end
        middle = start + name.start("number")
        if middle + FEWEST_COLUMNS < headings[1].start:
            continue
        row.cells[:1] = [
            Cell(start, start + name.end("name"), name["name"]), Cell(middle, end, name["number"])
        ]  # fmt: skip


def _over_heading(lines: list[Line], number: int, splitter: str) -> Line | None:
    """The line above a heading that heads groups of its columns."""
    above = lines[number - 1] if number else None
    if above is None or not above.text.strip() or any(char.isdigit() for char in above.text):
        return None
    indent = len(above.text) - len(above.text.lstrip(" |"))
    if indent < OVER_HEADING_INDENT or RULE.match(above.text):
        return None
    cells = [cell for cell in cells_of(above.text, splitter) if cell.text]
    return above if all(len(cell.text.split()) <= FEWEST_KNOWN for cell in cells) else None


def _table_across(lines: list[Line], number: int) -> Table | None:
    """The table that stands on its side below a line of names, or None: a run a column."""
    head = lines[number]
    splitter = splitter_of(head.text, FEWEST_ACROSS + 1) or splitter_of(head.text, FEWEST_ACROSS)
    if splitter is None or splitter == "," or "__" in head.text:
        return None
    if has_boxes(head.text) or (splitter == "  " and re.search(r":(?:\s|\Z)", head.text)):
        return None
    names = cells_of(head.text, splitter)
    if splitter != "  " and names and (not names[0].text or known_label(names[0].text) is not None):
        corner = True
    else:
        corner = bool(names) and known_label(names[0].text) is not None
    filled = [cell for cell in (names[1:] if corner else names) if cell.text]
    if splitter == "|" and head.text.lstrip().startswith("|") and not corner:
        filled = names  # the empty corner was cut off with the bar
    if len(filled) < FEWEST_ACROSS or any(_has_digit(cell) and len(cell.text) > 3 for cell in filled):
        return None
    rows = _rows(lines, number, splitter, 1, across=True)
    known = [
        row for row in rows if (label := heading_label(row.cells[0].text)) is not None and label.of_run()
    ]
    if len(known) < FEWEST_ACROSS or len(known) < len(rows) / 2:
        return None
    asked = [
        label.meanings[0].field for row in known if (label := heading_label(row.cells[0].text)) is not None
    ]
    if not {"length", "left", "right", "ends", "start"} & set(asked) or not any(
        _names_a_place(head, cell) for cell in filled
    ):
        return None
    if max(len(row.cells) for row in known) < len(filled):
        return None
    labels = [heading_label(row.cells[0].text) for row in rows]
    return Table(head, splitter, filled, labels, rows, across=True)


def _names_a_place(line: Line, cell: Cell) -> bool:
    """Whether a cell names a place on the house."""
    items = [item for item in line.items if item.start >= cell.start and item.end <= cell.end]
    return any(item.kind in PLACE_KINDS or item.kind in ("lr", "quarter", "initial") for item in items)


def settle_items(table: Table) -> None:
    """Let the lines of a table have the items of their cells, each read by itself."""
    for row in table.rows:
        items: list[Item] = []
        for cell in row.cells[1:] if table.across else row.cells:
            items += read_answer([(row.line, cell.start, cell.end)]).items
        row.line.items = items

"""What each row of a table is: of a run, a heading of those below it, or a sum of those above it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.reading.table_finding import SECTION_WORDS
from gutterance.reading.written_answers import Answer, read_answer

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.reading.items import Item
    from gutterance.reading.table_finding import Cell, Row, Table

SUM_WORDS = re.compile(
    r"\A\W*(?:grand\s+|sub\W*|job\s+|whole\s+(?:job|house|lot)\W*)?"
    r"(?:tot(?:als?)?\b|sum\b|in all\b|overall\b|altogether\b|all(?:\s+(?:told|in|together))?\W*\Z"
    r"|whole\s+(?:job|house|lot|thing)\b|everything\W*\Z)",
    re.IGNORECASE,
)
"""Words that open a row of totals."""
SUM_BEHIND = re.compile(r"\b(?:sub\W?\s?tot(?:al)?s?|sub|tot(?:al)?s?|sum)\W*\Z", re.IGNORECASE)
"""`house sub`, `garage total`: words that end its name."""
SUBTOTAL = re.compile(r"\bsub", re.IGNORECASE)
LONGEST_SECTION = 5
"""The name of a section has no more words than this."""
LONGEST_OWN = 2
"""A section that the reader does not know has no more words than this."""
FEWEST_OF_A_RUN = 3
"""A row of a run has so many cells filled at least."""
FEWEST_SUMMED = 2
"""Two lengths at least add up."""


@dataclass(frozen=True, slots=True)
class Sum:
    """A row that adds up others: whether all of the job, and the words that say so."""

    whole: bool
    said: bool


def is_sum(words: str) -> bool:
    """Whether the words of a cell say that its row adds up others."""
    words = words.strip(" .:*")
    return SUM_WORDS.search(words) is not None or SUM_BEHIND.search(words) is not None


def section_of(row: Row, table: Table) -> Answer | None:
    """The words of a row that only heads those below it: `GARAGE (det)`, `Upper floor`."""
    filled = [cell for cell in row.cells if re.search(r"\w", cell.text)]
    if len(filled) != 1 or is_sum(filled[0].text):
        return None
    return as_section(row, filled[0], table) or _own_section(row, filled[0], table)


def _own_section(row: Row, cell: Cell, table: Table) -> Answer | None:
    """`SHED`: a word of the job's own that stands alone where names do, above a row of a run."""
    if not re.fullmatch(r"[A-Za-z][A-Za-z .&'’()-]*:?", cell.text) or len(cell.text.split()) > LONGEST_OWN:
        return None
    at = table.rows.index(row)
    if at + 1 == len(table.rows) or len([c for c in table.rows[at + 1].cells if c.text]) < FEWEST_OF_A_RUN:
        return None
    column = next((n for n, placed in table.placed(row).items() if placed.start == cell.start), None)
    named = table.fields.index("run") if "run" in table.fields else None
    if column is None or (column not in (0, named) and table.splitter != "  "):
        return None
    answer = read_answer([(row.line, cell.start, cell.end)], None, table.legend)
    known = answer.of(
        "direction", "lr", "quarter", "initial", "end", "end word", "ends at", "remark", "outlet"
    )
    return None if known or answer.is_ditto or answer.is_empty or answer.of("unknown") else answer


def as_section(row: Row, cell: Cell, table: Table) -> Answer | None:
    """A cell as the heading of the rows below it, if its words are a building, a storey or a part."""
    if len(cell.text.split()) > LONGEST_SECTION or any(char.isdigit() for char in cell.text):
        return None
    answer = read_answer([(row.line, cell.start, cell.end)], None, table.legend)
    if answer.is_ditto or answer.is_empty:
        return None
    if answer.of("direction", "lr", "quarter", "initial") and not answer.of("part", "storey"):
        return None
    return answer if answer.of("part", "storey", "level") or SECTION_WORDS.search(cell.text) else None


def sums_of(table: Table) -> dict[int, Sum]:
    """The rows that add up those above them, by their place: they say so, or their lengths do."""
    sums: dict[int, Sum] = {}
    column = table.fields.index("length") if "length" in table.fields else None
    since: list[Fraction] = []
    all_: list[Fraction] = []
    for number, row in enumerate(table.rows):
        length = _length_in(table, row, column)
        said = next((cell.text for cell in row.cells if is_sum(cell.text)), None)
        adds = length is not None and any(
            len(lengths) >= FEWEST_SUMMED and sum(lengths) == length for lengths in (since, all_)
        )
        if (said is not None and _tells_no_run(table, row)) or (adds and _tells_no_run(table, row)):
            whole = not SUBTOTAL.search(said or "") and (length is None or sum(all_) == length)
            sums[number] = Sum(whole, said is not None)
            since = []
        elif length is not None:
            since.append(length)
            all_.append(length)
    wholes = [number for number, one in sums.items() if one.whole]
    for number in wholes[:-1]:
        sums[number] = Sum(whole=False, said=sums[number].said)
    if not wholes:
        last = max((number for number, one in sums.items()), default=None)
        if last is not None and last == len(table.rows) - 1 and not SUBTOTAL.search(_words(table.rows[last])):
            sums[last] = Sum(whole=True, said=sums[last].said)
    return sums


def _words(row: Row) -> str:
    return " ".join(cell.text for cell in row.cells)


def _tells_no_run(table: Table, row: Row) -> bool:
    """Whether a row has no end, no height and no ending in it, as no sum has."""
    placed = table.placed(row)
    return not any(
        table.fields[column] in ("left", "right", "ends", "start", "finish", "height", "wall_to_fascia")
        and re.search(r"\w", cell.text)
        and not is_sum(cell.text)
        for column, cell in placed.items()
    )


def _length_in(table: Table, row: Row, column: int | None) -> Fraction | None:
    """The length in a row, in the terms of its column."""
    if column is None:
        return None
    answer = table.answer(row, column)
    if answer is None or len(answer.measures) != 1:
        return None
    return size_of(answer.measures[0])


def size_of(item: Item) -> Fraction | None:
    """A number as it stands, feet and inches in inches: to be held against others of its column."""
    found = item.found
    if found is None or not found.amounts:
        return None
    first = found.amounts[0].value
    if len(found.amounts) == 1:
        return first * {"foot": 12, None: 1}.get(found.amounts[0].unit, 1)
    return first * 12 + sum((amount.value for amount in found.amounts[1:]), first * 0)

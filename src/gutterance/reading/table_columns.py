"""What each column of a table holds: what its heading may ask for, and of that what its cells answer."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gutterance.reading.answer_kinds import SIDES_OR_DISTANCE, fits
from gutterance.reading.column_contents import settle_by_content
from gutterance.reading.headings import heading_label
from gutterance.reading.labels import Label, Meaning, plain, without_unit
from gutterance.reading.written_answers import FEET_AND_INCHES, Answer, read_answer

if TYPE_CHECKING:
    from gutterance.reading.table_finding import Row, Table

IN_LENGTHS = frozenset({"length", "height", "wall_to_fascia", "roof_run", "offset"})
"""Fields whose answers are lengths."""
IN_FEET = frozenset({"length", "height", "roof_run"})
"""... in feet, where a note says that its lengths are in decimal feet."""
FITTING_SHARE = 0.6
"""The share of a column's cells that must be answers to what its heading asks."""
ASKED_WHERE_GUESSED = frozenset({"length", "height", "wall_to_fascia", "outlet", "roof_run", "offset"})
"""Fields whose answers do not show by themselves what they are: a heading only guessed at is asked about."""
ENDS = frozenset({"left", "right", "ends"})
"""Fields of a run's ends, of which a column without a heading does not say which."""
FEWEST_OF_A_RUN = 4
"""A row of sums has no more cells filled than this."""
NAMES = ("run", "mark", "pipe", "part", "storey")
"""What may name a row, of which each stands in one column only."""
SEVERAL = frozenset({"note", "height", "wall_to_fascia", "ends_at", "pipe_size"})
"""Fields that may have more than one column, where each tells its side."""
OF_RUNS = frozenset({"length", "left", "right", "start", "finish", "ends"})
"""Fields that make a table one of runs, and no list of pipes."""


@dataclass(slots=True)
class Column:
    """A column of a table: what its heading asks for, its cells, and the words of the heading."""

    label: Label | None
    answers: list[Answer]
    heading: str
    above: str = ""

    @property
    def unit(self) -> str | None:
        """The unit in the words of its heading."""
        return without_unit(self.heading)[1]


def settle_columns(table: Table) -> None:
    """Set what each column of a table holds, or each row of one that stands on its side."""
    columns = _columns(table)
    labels = [column.label for column in columns]
    fields: list[Meaning | None] = [None] * len(columns)
    listed = _is_list_of_pipes(columns)
    names = set() if table.across else _name_columns(columns, fields, pipes=listed)
    for sure in (True, False):
        for number, column in enumerate(columns):
            if fields[number] is None and number not in names and column.label is not None:
                fields[number] = _choose(column, fields, sure=sure, pipes=listed)
    by_content: set[int] = set()
    if not table.across:
        by_content = settle_by_content(columns, fields, pipes=listed)
        labels = [column.label for column in columns]
        for number, label in enumerate(labels):
            if table.labels[number] is not label:
                columns[number].answers = [replace_label(answer, label) for answer in columns[number].answers]
    table.fields = [meaning.field if meaning is not None else None for meaning in fields]
    table.guessed = [
        meaning is not None
        and not meaning.sure
        and (meaning.field in ASKED_WHERE_GUESSED or (number in by_content and meaning.field in ENDS))
        for number, meaning in enumerate(fields)
    ]
    table.labels = labels
    _settle_units(table, columns)
    _feet_and_inches(table)


def replace_label(answer: Answer, label: Label | None) -> Answer:
    """The answer read as one to that label."""
    return read_answer(answer.pieces, label, answer.legend)


def _columns(table: Table) -> list[Column]:
    """Each column with its label and its answers."""
    columns: list[Column] = []
    if table.across:
        for row, label in zip(table.rows, table.labels, strict=True):
            answers = [
                read_answer([(row.line, cell.start, cell.end)], label, table.legend)
                for cell in row.cells[1:]
                if cell.text
            ]
            columns.append(Column(label, answers, row.cells[0].text))
        return columns
    rows = [row for row in table.rows if _is_of_a_run(row, table)]
    placed = [(row, table.placed(row)) for row in rows]
    for number, heading in enumerate(table.headings):
        label = table.labels[number]
        above = _above(table, number)
        if above and (label is None or not label.sure):
            both = heading_label(f"{above} {heading.text}")
            label = both if both is not None and (label is None or both.sure) else label
        answers = [
            read_answer([(row.line, cells[number].start, cells[number].end)], label, table.legend)
            for row, cells in placed
            if number in cells and cells[number].text
        ]
        columns.append(Column(label, answers, heading.text, above))
    return columns


def _is_of_a_run(row: Row, table: Table) -> bool:
    """Whether a row tells of a run or a pipe: it adds nothing up, and heads no others."""
    from gutterance.reading.table_rows import is_sum, section_of

    first = next((cell.text for cell in row.cells if cell.text), "")
    if is_total(first) or (
        is_sum(first) and len([cell for cell in row.cells if cell.text]) <= FEWEST_OF_A_RUN
    ):
        return False
    return section_of(row, table) is None


def _above(table: Table, number: int) -> str:
    """The words that head the group of columns that a heading stands in."""
    if table.over is None:
        return ""
    from gutterance.reading.table_finding import cells_of

    groups = [cell for cell in cells_of(table.over.text, table.splitter) if cell.text]
    before = [cell for cell in groups if cell.start <= table.headings[number].end]
    return before[-1].text if before else ""


def is_total(words: str) -> bool:
    """Whether the first cell of a row says that it adds up those above it."""
    return (
        re.match(r"\W*(?:sub\W?|grand\s)?(?:tot(?:als?)?|sum|in all|overall)\b", words, re.IGNORECASE)
        is not None
    )


def _is_list_of_pipes(columns: list[Column]) -> bool:
    """Whether the rows are pipes rather than runs."""
    asked = {
        meaning.field
        for column in columns
        if column.label is not None
        for meaning in column.label.meanings
        if meaning.sure and _fits(meaning.field, column.answers)
    }
    firm = {
        column.label.meanings[0].field
        for column in columns
        if column.label is not None
        and column.label.sure
        and _fits(column.label.meanings[0].field, column.answers)
    }
    return not firm & {"length", "left", "right", "ends"} and bool(
        asked & {"height", "wall_to_fascia", "ends_at"}
    )


def _name_columns(columns: list[Column], fields: list[Meaning | None], *, pipes: bool) -> set[int]:
    """Find the columns that name the runs, number them or say their storey, and set their fields."""
    taken: set[int] = set()

    def may(number: int, field: str) -> bool:
        label = columns[number].label
        return label is not None and label.asks(field) and number not in taken

    for field in ("storey", "part"):
        for number, column in enumerate(columns):
            if not may(number, field) or column.label is None:
                continue
            if column.label.meanings[0].field == field or _only_says(column, field):
                fields[number] = Meaning(field, "run")
                taken.add(number)
                break
    naming = [number for number in range(len(columns)) if may(number, "run")]
    naming += [
        number
        for number, column in enumerate(columns)
        if column.label is None and number not in taken and (number == 0 or _mostly_places(column))
    ]
    naming = [number for number in naming if _names(columns[number])]
    best = max(
        naming,
        key=lambda number: (_named_places(columns[number]), _places(columns[number]), -number),
        default=None,
    )
    marks = [number for number in range(len(columns)) if may(number, "mark") and number != best]
    marks += [
        number
        for number, column in enumerate(columns)
        if column.label is None and number != best and number not in taken and _in_order(column)
    ]
    numbered = [number for number in range(len(columns)) if may(number, "pipe") and number != best]
    sided = [
        number
        for number, column in enumerate(columns)
        if column.label is not None and (column.label.asks("at") or column.label.asks("outlet"))
    ]
    sided = [number for number in sided if _names_with_side(columns[number])]
    if best is None and sided:
        best = sided[0]  # `A, left`: the run and the end of it in one
    if best is None:
        best = next(iter(marks), None)
        if best is None and columns and columns[0].label is None:
            best = 0
        if best is None and pipes is False:
            best = next(iter(numbered), None) if numbered and _places(columns[numbered[0]]) else None
        if best is None and numbered and _places(columns[numbered[0]]):
            best = numbered[0]  # a list of pipes each named by its place
    if best is None:
        return taken
    fields[best] = Meaning("run", "run", sure=True)
    taken.add(best)
    for number in marks:
        if number not in taken and _numbers_or_letters(columns[number]):
            fields[number] = Meaning("pipe" if pipes else "mark", "run")
            taken.add(number)
    for number in numbered:
        if number not in taken and _numbers_or_letters(columns[number]) and (pipes or number < best):
            if any(
                item.kind in SIDES_OR_DISTANCE for answer in columns[number].answers for item in answer.items
            ):
                continue
            fields[number] = Meaning("pipe", "run")
            taken.add(number)
    return taken


def _only_says(column: Column, field: str) -> bool:
    """Whether the cells of a column say the part or the storey alone, and no side of it."""
    filled = [answer for answer in column.answers if not (answer.is_empty or answer.is_ditto)]
    alone = sum(bool(answer.of(field)) and not answer.of("direction", "lr") for answer in filled)
    return bool(filled) and alone >= FITTING_SHARE * len(filled)


def _names(column: Column) -> bool:
    """Whether the cells of a column can name runs: none is a length."""
    filled = [answer for answer in column.answers if not answer.is_empty]
    lengths = sum(
        bool(answer.measures)
        and not re.fullmatch(r"(?:run\s*)?#?\d{1,3}", answer.plain)
        and not answer.of("direction", "part", "lr", "side", "place")
        and re.match(r"\W*[a-z]\b", answer.plain) is None
        for answer in filled
    )
    return bool(filled) and lengths <= len(filled) / 4


def _names_with_side(column: Column) -> bool:
    """Whether the cells of a column name a run and an end of it: `A, left`, `front R`."""
    filled = [answer for answer in column.answers if not answer.is_empty]
    named = sum(
        bool(answer.of(*SIDES_OR_DISTANCE))
        and (
            bool(answer.of("direction", "part", "quarter"))
            or re.match(r"(?:run\s*)?(?:[a-z]|\d{1,2})\s*[,:;/-]\s*\S", answer.plain) is not None
        )
        for answer in filled
    )
    return bool(filled) and named >= FITTING_SHARE * len(filled)


def _named_places(column: Column) -> int:
    """In how many rows the cell of a column has a word for a side or a part of a house."""
    return sum(bool(answer.of("direction", "part", "quarter")) for answer in column.answers)


def _places(column: Column) -> int:
    """In how many rows the cell of a column names a place on the house."""
    return sum(
        bool(answer.of("direction", "part", "storey", "quarter", "initial"))
        or (column.label is not None and column.label.meanings[0].field == "run" and bool(answer.text))
        for answer in column.answers
    )


def _in_order(column: Column) -> bool:
    """Whether the cells of a column that nobody headed count its rows: `1`, `2`, `3`, or `A`, `B`, `C`."""
    marks = [answer.plain for answer in column.answers if not answer.is_empty]
    first = [mark for mark in marks if mark in ("1", "a")]
    counted = [str(number + 1) for number in range(len(marks))]
    lettered = [chr(ord("a") + number) for number in range(min(len(marks), 26))]
    return len(marks) > 1 and bool(first) and marks in (counted, lettered)


def _mostly_places(column: Column) -> bool:
    """Whether the cells of a column that nobody headed are sides or parts of a house, and nothing else."""
    filled = [answer for answer in column.answers if not answer.is_empty]
    named = sum(
        bool(answer.of("direction", "part", "quarter", "lr"))
        and not answer.measures
        and not answer.of("end", "end word", "ends at", "outlet", "downpipe", "remark")
        for answer in filled
    )
    told = any(answer.of("direction", "part", "quarter") for answer in filled)
    return len(filled) > 1 and told and named >= FITTING_SHARE * len(filled)


def _numbers_or_letters(column: Column) -> bool:
    """Whether the cells of a column are short marks: `1`, `A`, `D2`."""
    filled = [answer for answer in column.answers if not answer.is_empty]
    return bool(filled) and all(
        re.fullmatch(r"[a-z]{0,3}\W?\d{0,3}[a-z]?", answer.plain) for answer in filled
    )


def _choose(column: Column, fields: list[Meaning | None], *, sure: bool, pipes: bool) -> Meaning | None:
    """The first thing a heading may ask for that its cells answer and that no other column holds."""
    assert column.label is not None
    taken = {meaning.field for meaning in fields if meaning is not None}
    meanings = [
        meaning
        for meaning in column.label.meanings
        if meaning.of == "run" and meaning.sure == sure and meaning.field not in NAMES
    ]
    if pipes:
        meanings = [meaning for meaning in meanings if meaning.field not in OF_RUNS] or meanings
    for meaning in meanings:
        if meaning.field in taken and not (meaning.field in SEVERAL and column.label.side is not None):
            continue
        if meaning.field == "ends" and "start" in taken and column.label.asks("finish"):
            continue
        if meaning.field == "finish" and not taken & {"start", "left"}:
            continue
        if _fits(meaning.field, column.answers):
            return meaning
    return None


def _fits(field: str, answers: list[Answer]) -> bool:
    """Whether the cells below a heading say the kind of thing that it asks for."""
    filled = [answer for answer in answers if not (answer.is_empty or answer.is_ditto)]
    if not filled:
        return True
    return sum(fits(field, answer) for answer in filled) >= FITTING_SHARE * len(filled)


def _settle_units(table: Table, columns: list[Column]) -> None:
    """Bare numbers of a column take the unit of the table where its own heading says none.

    `1-6` is feet and inches where another column is headed so, or where one beside it is `0-10` or `1-0`.
    """
    said = {label.unit for label in table.labels if label is not None}
    for number, label in enumerate(table.labels):
        if label is None or label.unit is not None or table.fields[number] not in IN_LENGTHS:
            continue
        texts = [answer.plain for answer in columns[number].answers]
        dashed = [text for text in texts if re.fullmatch(r"\d{1,2}\W?-\W?\d{1,2}(?: \d+/\d+)?\W?", text)]
        plainly = any(re.match(r"0\W?-|\d+\W?-\W?0\b", text) for text in dashed)
        if dashed and (plainly or FEET_AND_INCHES in said):
            table.labels[number] = replace(label, unit=FEET_AND_INCHES)
        elif table.decimal_feet and table.fields[number] in IN_FEET:
            table.labels[number] = replace(label, unit="foot")


def _feet_and_inches(table: Table) -> None:
    """`Ft | In`: a column of inches beside one of feet is a part of it."""
    if table.across:
        return
    for number, heading in enumerate(table.headings[:-1]):
        if (
            plain(heading.text) in ("ft", "feet")
            and plain(table.headings[number + 1].text) in ("in", "ins", "inch", "inches")
            and table.fields[number] == "length"
        ):
            table.fields[number + 1] = "inches"

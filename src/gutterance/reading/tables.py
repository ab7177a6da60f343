"""Tables read: each row is a run or a pipe, and each of its cells the answer to its column's heading."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.answer_kinds import fits
from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.job_answers import put_job_answer
from gutterance.reading.labels import PIPE_FIELDS
from gutterance.reading.paper import OF_PIPES, ORDER, Paper
from gutterance.reading.table_columns import NAMES, is_total
from gutterance.reading.table_finding import SECTION_WORDS
from gutterance.reading.table_rows import is_sum, section_of, sums_of
from gutterance.reading.totals_said import totals_of_cell
from gutterance.reading.written_answers import Answer, read_answer

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.places import PlaceName
    from gutterance.reading.table_finding import Row, Table

Cells = dict[str, list[Answer]]
"""The answers of a row by what they answer."""
FIRST_OF_NOTE = re.compile(r"\s*[,;]\s*|\s+-\s+|\.\s+(?=[A-Z])")
"""What ends the first thing told among the remarks of a row."""
ENDING_IN_NOTE = re.compile(
    r"\A\W*(?:(?:drains?|empties|discharges?|goes|runs|spills?)\s+)?(?:to|into|onto|on to|on|in to)\b",
    re.IGNORECASE,
)
"""Words that open with where water goes."""
FEWEST_WORDS = 2
"""A row that tells of no gutter says so in so many words at least."""
FEWEST_LETTERS = 2
"""From so many names of one letter on, with an A among them, the letters name runs."""


def hear_table(table: Table, paper: Paper) -> None:
    """Read a table's rows into the walk."""
    walk = paper.walk
    walk.used.setdefault(table.head.number, [])
    paper.run = paper.last = None
    if table.across:
        _hear_across(table, paper)
    else:
        _hear_rows(table, paper)
    walk.run, walk.outlets = None, []
    paper.run = paper.last = None


def _hear_rows(table: Table, paper: Paper) -> None:
    """Read a table of which each row is a run, or a pipe."""
    paper.letters = paper.letters or _named_by_letters(table)
    above: RunDraft | None = None
    here: RunDraft | None = None
    cells: Cells = {}
    storey: Answer | None = None
    before: Row | None = None
    section: Answer | None = None
    sums = sums_of(table)
    for number, row in enumerate(table.rows):
        heading = section_of(row, table)
        if heading is not None and not (
            len(row.cells) > 1 and here is not None and _is_of_many(table, heading)
        ):
            above, section, here, cells = here or above, heading, None, {}
            paper.walk.use_source(heading.line.source(heading.start, heading.end))
            continue
        told = _cells(table, row)
        if number in sums and not sums[number].whole:
            _put_subtotal_aside(row, paper)
            continue
        if number in sums or _is_total_row(table, row, told, number):
            _hear_totals(table, row, paper)
            continue
        named = "run" in told and not told["run"][0].is_empty
        if not named and here is not None and told:
            _goes_on(told, cells, paper, here, own_pipe=_has_a_pipe(told))
            continue
        storey = told.get("storey", [storey])[0] if "storey" in told or storey is not None else None
        if storey is not None and storey.is_ditto and before is not None:
            storey = _cells(table, before).get("storey", [None])[0]
        if _is_no_run(table, told):
            _remark_of_row(row, paper)
            continue
        if section is not None:
            told.setdefault("section", []).append(section)
        run = _run_of(told, paper, storey)
        if run is None:
            continue
        if here is not None and here is not run:
            above = here
        _hear_cells(told, paper, above)
        here, cells, before = run, told, row


def _is_no_run(table: Table, told: Cells) -> bool:
    """`Shed | - | - | not ours`: a row with a name and words, and nothing measured or told in it."""
    if "length" not in table.fields or not told.get("run") or told["run"][0].is_empty:
        return False
    others = [
        (what, answer)
        for what, answers in told.items()
        for answer in answers
        if what not in NAMES and not answer.is_empty
    ]
    words = [answer for _, answer in others if len(answer.plain.split()) >= FEWEST_WORDS]
    return bool(words) and not any(
        answer.is_ditto
        or answer.of("unknown", "same", "mirror")
        or (what not in ("note", "outlet") and fits(what, answer))
        or (what in ("length", "height", "wall_to_fascia") and answer.measures)
        for what, answer in others
    )


def _remark_of_row(row: Row, paper: Paper) -> None:
    """Keep the words of a row that tells of no gutter."""
    filled = [cell for cell in row.cells if re.search(r"\w", cell.text)]
    paper.walk.remark(row.line, filled[0].start, filled[-1].end, "other", None)


def _cells(table: Table, row: Row) -> Cells:
    """The answers of a row by what they answer."""
    told: Cells = {}
    for column in table.placed(row):
        what = table.fields[column]
        answer = table.answer(row, column)
        if what is not None and answer is not None and (answer.text or what == "run"):
            told.setdefault(what, []).append(answer)
    return told


def _named_by_letters(table: Table) -> bool:
    """Whether the runs of a table have letters for names: `A`, `B`, and B is no back."""
    if "run" not in table.fields:
        return False
    column = table.fields.index("run")
    names = {answer.plain for row in table.rows if (answer := table.answer(row, column)) is not None}
    letters = {name[0] for name in names if re.fullmatch(r"[a-z](?:\W.*)?", name)}
    return len(letters) >= FEWEST_LETTERS and "a" in letters and bool(letters & {"b", "c"})


def _run_of(told: Cells, paper: Paper, storey: Answer | None) -> RunDraft | None:
    """The run that a row is about, brought into focus with a side of it where the name says one."""
    if "run" not in told:
        return None
    answer = told["run"][0]
    measured = bool({"length", "left", "ends", "start"} & set(told)) or "at" in told
    name, side = paper.name_in(answer, measured=measured)
    if name is None:
        return None
    if storey is not None:
        name = _on_storey(name, storey, paper)
    if "part" in told and not told["part"][0].is_empty:
        part = next((item.value for item in told["part"][0].of("part")), None)
        if part is not None and name.part is None and part != "main house":
            name = replace(name, part=part)
    if "section" in told:
        name = _in_section(name, told["section"][0])
    if "mark" in told and not told["mark"][0].is_empty:
        mark = told["mark"][0]
        paper.aliases.setdefault(mark.plain, name)
        paper.walk.use_source(mark.line.source(mark.start, mark.end))
    run = paper.focus(name, answer)
    if "storey" in told and not told["storey"][0].is_empty:
        level = told["storey"][0]
        run.source.append(level.line.source(level.start, level.end))
    if "mark" in told:
        mark = told["mark"][0]
        run.source.append(mark.line.source(mark.start, mark.end))
    if "pipe" in told:
        pipe = told["pipe"][0]
        run.source.append(pipe.line.source(pipe.start, pipe.end))
    if side is not None and side.value in OPPOSITE and not measured:
        paper.walk.outlets = [paper.walk.outlet_at(side.value, side, paper.walk.text(side.value, side), None)]
    if (
        re.search(r"\d", answer.text)
        and not measured
        and any("offset" in item.marks or item.found for item in answer.items)
    ):
        paper.put("at", _behind_name(answer))
    return run


def _in_section(name: PlaceName, section: Answer) -> PlaceName:
    """A run of the building or the storey that heads its row."""
    part = next((item.value for item in section.of("part")), None)
    storey = next((item.value for item in section.of("storey", "level")), None)
    if part is None and storey is None and not SECTION_WORDS.search(section.text):
        part = re.sub(r"\([^)]*\)|[^a-z '’&-]", "", section.plain).strip() or None
    if part is not None and part != "main house" and name.part is None and name.number is None:
        name = replace(name, part=part)
    if storey is not None and storey != "main" and name.storey is None and name.part is None:
        name = replace(name, storey=storey)
    return name


def _is_of_many(table: Table, heading: Answer) -> bool:
    """Whether what stands in a row alone is in a column of endings or remarks: no heading, but more words."""
    row = next(row for row in table.rows if row.line is heading.line)
    column = next(column for column, cell in table.placed(row).items() if cell.start == heading.start)
    return table.fields[column] not in (None, *NAMES)


def _put_subtotal_aside(row: Row, paper: Paper) -> None:
    """The numbers of a row that adds up only some of the runs: they say nothing that its rows do not."""
    for cell in row.cells:
        for item in read_answer([(row.line, cell.start, cell.end)]).numbers:
            paper.walk.aside.append((item.source(), "a subtotal of the rows above it"))


def _behind_name(answer: Answer) -> Answer:
    """`E, 3 ft from left`: the answer without the name it begins with."""
    match = re.match(r"[^,;:]*[,;:]\s*", answer.line.text[answer.start : answer.end])
    if match is None:
        return answer
    return read_answer([(answer.line, answer.start + match.end(), answer.end)], answer.label, answer.legend)


def _on_storey(name: PlaceName, storey: Answer, paper: Paper) -> PlaceName:
    """A run of the storey that its row tells."""
    item = next(iter(storey.of("storey")), None)
    if storey.is_empty or name.storey is not None:
        return name
    if item is not None:
        value = item.value
    else:
        value = {"1": "lower", "2": "upper", "1st": "lower", "2nd": "upper", "u": "upper", "l": "lower"}.get(
            storey.plain
        )
    if value is None:
        return name
    paper.walk.use_source(storey.line.source(storey.start, storey.end))
    if value == "main":
        return replace(name, level=value)
    return replace(name, storey=value) if name.part is None else replace(name, level=value)


def _hear_cells(told: Cells, paper: Paper, above: RunDraft | None) -> None:
    """Read the answers of one row."""
    if "inches" in told and "length" in told:
        _join_inches(told)
    here = paper.walk.outlets
    for what in ORDER:
        for answer in told.get(what, ()):
            if what in PIPE_FIELDS:
                paper.walk.outlets = list(here)
            if what == "note" and "ends_at" not in told:
                paper.walk.outlets = list(here)
                if _is_ending(answer, paper):
                    continue
            paper.put(what, answer, above=above)
            if what not in PIPE_FIELDS:
                here = paper.walk.outlets


def _is_ending(answer: Answer, paper: Paper) -> bool:
    """`to gully` among the remarks: where the pipe ends, in a table that has no column for it.

    True where the remark says nothing else.
    """
    run = paper.run
    if run is None or not run.outlets or answer.is_empty:
        return False
    first = next(iter(answer.parts(FIRST_OF_NOTE)), None)
    if first is None or first.measures or not ENDING_IN_NOTE.match(first.text):
        return False
    if any("ends_at" in outlet.pipe.fields for outlet in run.outlets):
        return False
    if not first.of("ends at") and not first.plain.endswith((" roof", " gutter")):
        return False
    paper.put("ends_at", first)
    return first.text == answer.text


def _join_inches(told: Cells) -> None:
    """A length whose feet and inches stand in columns of their own."""
    feet, inches = told["length"][0], told["inches"][0]
    if not feet.measures or not inches.measures or inches.measures[0].found is None:
        return
    first, rest = feet.measures[0], inches.measures[0]
    if first.found is not None and rest.found is not None:
        amounts = tuple(replace(amount, unit="foot") for amount in first.found.amounts[:1])
        more = tuple(replace(amount, unit="inch") for amount in rest.found.amounts)
        first.found = replace(first.found, kind="length", amounts=(*amounts, *more), value=None)
        first.marks.setdefault("with", []).append(rest)


def _has_a_pipe(told: Cells) -> bool:
    """Whether a row that names no run tells of a pipe of its own."""
    return any(
        not answer.is_empty for what in ("height", "wall_to_fascia") for answer in told.get(what, ())
    ) or (
        any(not answer.is_empty for answer in told.get("outlet", ()))
        and any(not answer.is_empty for answer in told.get("ends_at", ()))
    )


def _goes_on(told: Cells, cells: Cells, paper: Paper, run: RunDraft, *, own_pipe: bool) -> None:
    """A row with no name goes on with the run above it: another pipe, or more words for its cells."""
    paper.run = run
    if own_pipe:
        paper.walk.outlets = []
        for what in ORDER:
            for answer in told.get(what, ()):
                if what in OF_PIPES or what == "note":
                    paper.put(what, answer)
        return
    for what, answers in told.items():
        for answer in answers:
            first = cells.get(what, [None])[0]
            if first is None or first.is_empty:
                if what in ORDER:
                    paper.put(what, answer)
                continue
            whole = read_answer([*first.pieces, *answer.pieces], first.label, first.legend)
            if what in ("outlet", "at"):
                run.outlets[:] = [outlet for outlet in run.outlets if outlet not in paper.walk.outlets]
                fields = [outlet.pipe for outlet in paper.walk.outlets]
                paper.walk.outlets = []
                paper.put(what, whole)
                for outlet, pipe in zip(paper.walk.outlets, fields, strict=False):
                    outlet.pipe = pipe
            elif what in ORDER and what not in ("length", "height", "wall_to_fascia"):
                paper.put(what, whole)


def _is_total_row(table: Table, row: Row, told: Cells, number: int) -> bool:
    """Whether a row adds up those above it: it says so, or its lengths do."""
    first = next((cell.text for cell in row.cells if cell.text), "")
    if is_total(first) and not _has_a_pipe(told):
        return True
    named = "run" in told and not told["run"][0].is_empty
    if named or number < len(table.rows) - 1 or number == 0:
        return False
    if row.below_rule and not _has_a_pipe(told):
        return True
    lengths = [answer.measures for answer in told.get("length", ())]
    return bool(lengths and lengths[0])


def _hear_totals(table: Table, row: Row, paper: Paper) -> None:
    """Keep the totals that a row tells."""
    for column, cell in table.placed(row).items():
        answer = read_answer([(row.line, cell.start, cell.end)], table.labels[column])
        what = table.fields[column]
        if what == "count":
            what = "outlet"
        before = list(paper.walk.totals)
        counted = {item.kind for item in answer.of("outlet", "downpipe")}
        totals_of_cell(answer.items, what, table.headings[column].text, paper.walk)
        pipes = {"height", "wall_to_fascia", "ends_at"} & {name for name in table.fields if name is not None}
        for total in paper.walk.totals:
            if total not in before and not any(is_sum(cell.text) for cell in row.cells) and not counted:
                total.value.status, total.value.why = (
                    "doubtful",
                    "a row with no name was taken for the totals",
                )
            elif total.what == "outlets" and total not in before and pipes and "outlet" not in counted:
                total.value.status, total.value.why = "doubtful", "outlets, or downpipes?"


def _hear_across(table: Table, paper: Paper) -> None:
    """Read a table that stands on its side: a run a column."""
    above: RunDraft | None = None
    names = [heading.text.strip(" .").lower() for heading in table.headings]
    letters = {name for name in names if re.fullmatch(r"[a-z]", name)}
    paper.letters = paper.letters or (
        len(letters) >= FEWEST_LETTERS and "a" in letters and bool(letters & {"b", "c"})
    )
    for number, row in enumerate(table.rows):
        filled = [cell for cell in row.cells[1:] if cell.text]
        label = table.labels[number]
        of_job = (
            [meaning.field for meaning in label.meanings if meaning.of == "job"] if label is not None else []
        )
        if len(filled) == 1 and of_job and len(table.headings) > 1:
            answer = read_answer([(row.line, filled[0].start, filled[0].end)], label, table.legend)
            if any(put_job_answer(what, answer, paper.walk) for what in of_job if what != "title"):
                table.fields[number] = None
    for column, heading in enumerate(table.headings):
        named = read_answer([(table.head, heading.start, heading.end)])
        told: Cells = {"run": [named]}
        for number, row in enumerate(table.rows):
            what = table.fields[number]
            cell = table.across_cell(row, column)
            if cell is None or not cell.text:
                continue
            answer = read_answer([(row.line, cell.start, cell.end)], table.labels[number], table.legend)
            answer.guessed = table.guessed[number]
            if what is not None:
                told.setdefault(what, []).append(answer)
            elif answer.of("remark"):
                told.setdefault("note", []).append(answer)
        name, _ = paper.name_in(named, measured=True)
        if name is None:
            continue
        run = paper.focus(name, named)
        _hear_cells(told, paper, above)
        above = run

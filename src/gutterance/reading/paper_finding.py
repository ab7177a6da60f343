"""What of a note is tables and forms, found before any of it is heard, each line heard in its turn."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.form_finding import Form, find_form, find_titles
from gutterance.reading.form_remarks import hear_remarks
from gutterance.reading.forms import hear_form
from gutterance.reading.job_answers import fill_from_words
from gutterance.reading.keys import key_of_paper
from gutterance.reading.paper import Paper
from gutterance.reading.run_starts import starts_at_left
from gutterance.reading.table_finding import Table, find_tables, settle_items
from gutterance.reading.tables import hear_table
from gutterance.reading.written_answers import read_answer

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.form_page import FormPage
    from gutterance.reading.items import Item, Line


NOTES_HEADING = re.compile(r"\A\W*(?:[a-z]+ )?(?:notes?|remarks?|comments?|observations)\W*\Z", re.IGNORECASE)
"""A line alone above lines of remarks."""
RUN_BEFORE_NOTE = re.compile(r"\A\W*(?P<name>[A-Za-z][\w ]{0,24}?|\d{1,2})\s*(?:[-–—:]|\.\s)\s*(?=\S)")
"""`B - two slates slipped`: the run that a remark is about."""
MARK_BEFORE_NOTE = re.compile(r"\A\W*(?P<name>[A-Za-z]|\d{1,2})\s*(?:[-–—:]|\.\s)\s*(?=[A-Za-z])")
"""`* 4 - board is soft`: the mark of the row that a remark is about."""
TOLD_OF_RUNS = ("cue", "ends at", "end", "end word", "outlet", "downpipe", "same")
"""Kinds of items by which a line tells more than a remark."""
CHANGED = re.compile(
    r"\b(?:not|instead|again|should be|make (?:it|that)|that one|changed|wrong"
    r"|re-?(?:taped|measured|checked))\b",
    re.IGNORECASE,
)
"""Words of a remark with a number by which it may change what the table tells."""
TELLING = frozenset(
    {
        "profile",
        "colour",
        "material",
        "downpipe",
        "outlet",
        "end",
        "end word",
        "cue",
        "remark",
        "unknown",
        "total",
    }
)
"""Kinds of items that make a title's line tell more than the title."""


@dataclass(slots=True)
class FoundPaper:
    """The tables and the form of a note, and the lines that are only their key."""

    paper: Paper
    tables: dict[int, Table] = field(default_factory=dict)
    form: Form = field(default_factory=Form)
    keys: set[int] = field(default_factory=set)
    lines: set[int] = field(default_factory=set)
    notes: set[int] = field(default_factory=set)
    said: dict[int, list[Item]] = field(default_factory=dict)
    last: int = 0
    spoken: bool = False
    told: list[Line] = field(default_factory=list)

    @property
    def filled_in(self) -> set[int]:
        """The numbers of its lines that are no key."""
        return self.lines - self.keys

    @property
    def tells_runs(self) -> bool:
        """Whether the lengths of runs are told in a table or a form."""
        return self.form.of_runs or any("length" in table.fields for table in self.tables.values())


def find_paper(note: list[Line], walk: Walk, page: FormPage | None = None) -> FoundPaper:
    """Find the tables and forms of a note. Their lines get the items of their answers, each read alone.

    `page` is the note as it is laid out, where it is a form.
    """
    paper = Paper(walk, page=page is not None)
    legend = key_of_paper(note)
    paper.legend, paper.starts_left = legend.means, starts_at_left(note)
    found = FoundPaper(paper)
    labelled = page.labelled if page is not None else set()
    found.tables = find_tables(
        [line for line in note if line.number not in legend.lines | labelled], legend.means
    )
    in_tables = {number for table in found.tables.values() for number in table.line_numbers()}
    comma = any(table.splitter == "," for table in found.tables.values())
    found.form = find_form(note, in_tables | legend.lines if in_tables else set(), paper, comma=comma)
    paper.form_of_runs = found.form.of_runs
    if not found.tables and not found.form.of_runs:
        found.form = Form()
        return found
    found.keys = legend.lines - set(found.form.lines) - in_tables
    for table in found.tables.values():
        settle_items(table)
    for line in note:
        parted = found.form.lines.get(line.number)
        if parted is not None and parted.pairs:
            found.said[line.number] = line.items
            items: list[Item] = []
            for pair in parted.pairs:
                answer = pair.answer(paper.legend)
                items += [item for item in answer.items if item.line == line.number]
            line.items = items
    find_titles(found.form, paper)
    taken = in_tables | set(found.form.lines) | set(found.form.headings)
    found.notes = _below_notes(note, taken) | _by_mark(note, taken | found.keys, found.tables)
    found.lines = found.notes | in_tables | set(found.form.lines) | set(found.form.headings) | found.keys
    return found


def _below_notes(note: list[Line], taken: set[int]) -> set[int]:
    """The lines below a heading of notes: its own, and all up to the next table or form."""
    below: set[int] = set()
    for line in note:
        if line.number in taken:
            inside = False
        elif NOTES_HEADING.match(line.text):
            inside = True
        else:
            inside = line.number - 1 in below
        if inside:
            below.add(line.number)
    return below


def _by_mark(note: list[Line], taken: set[int], tables: dict[int, Table]) -> set[int]:
    """Lines below a table that open with the number or the letter of a row, and measure nothing."""
    marks: set[str] = set()
    for table in tables.values():
        for what in ("mark", "run"):
            if what in table.fields and not table.across:
                column = table.fields.index(what)
                marks |= {
                    answer.plain
                    for row in table.rows
                    if (answer := table.answer(row, column)) is not None
                    and re.fullmatch(r"[a-z]|\d{1,2}", answer.plain)
                }
    first = min((max(table.line_numbers()) for table in tables.values()), default=0)
    below: set[int] = set()
    for line in note:
        opening = MARK_BEFORE_NOTE.match(line.text)
        if line.number <= first or line.number in taken or opening is None:
            continue
        said = read_answer([(line, opening.end(), len(line.text))])
        if opening["name"].lower() in marks and not said.of(*TOLD_OF_RUNS) and not said.measures:
            below.add(line.number)
    return below


def _hear_note(line: Line, paper: Paper) -> None:
    """Hear a line below a heading of notes: a remark about the run it opens with, or what it measures."""
    if NOTES_HEADING.match(line.text) or not line.text.strip():
        return
    opening = RUN_BEFORE_NOTE.match(line.text)
    run, start = None, 0
    if opening is not None:
        name, _ = paper.name_in(
            read_answer([(line, opening.start("name"), opening.end("name"))]), measured=False
        )
        run = next((one for one in paper.walk.runs if one.place == name), None)
        start = opening.end() if run is not None else 0
        if run is not None:
            paper.walk.use_source(line.source(0, start))
    told = read_answer([(line, start, len(line.text))])
    if run is not None and told.measures and CHANGED.search(told.text):
        _doubt_measures(run, told.text)
    hear_remarks(told, paper, run)
    paper.walk.run, paper.walk.outlets = None, []


def _doubt_measures(run: RunDraft, words: str) -> None:
    """What was measured of a run is asked about where a remark below the table tells it otherwise."""
    pipes = [outlet.pipe.fields for outlet in run.outlets]
    for fields in (run.fields, *pipes):
        for name in ("length", "height", "wall_to_fascia"):
            reading = fields.get(name)
            if reading is not None and reading.status == "read":
                reading.status, reading.why = "doubtful", f"a remark below the table says: {words}"


def hear_paper(line: Line, found: FoundPaper) -> bool:
    """Hear a line of a table or a form. False where it is neither, and has to be heard as words said."""
    paper = found.paper
    if line.number in found.tables:
        hear_table(found.tables[line.number], paper)
        return True
    if (
        any(line.number in table.line_numbers() for table in found.tables.values())
        or line.number in found.keys
    ):
        return True
    if line.number in found.notes:
        _hear_note(line, paper)
        return True
    title = paper.walk.title_source
    if (
        (found.tables or found.form.of_runs)
        and title is not None
        and title.line == line.number
        and line.number not in found.form.lines
        and not any(item.kind in TELLING for item in line.items)
    ):
        return True  # `Larkfield Primary - north block (sheet 3)`: all of it is the heading
    paper.after_speech = found.spoken
    if found.spoken:
        # a run named in words said between the lines of a form
        paper.run, found.spoken = paper.walk.run, False
    heard = hear_form(found.form, line, paper, found.last)
    if line.text.strip():
        found.last = line.number
    if not heard:
        found.spoken = True
        found.told.append(line)
        if line.number in found.said:
            line.items = found.said[line.number]
    return heard


def finish_paper(found: FoundPaper) -> None:
    """Put what could only be put once all of the note was heard."""
    found.paper.finish()
    if found.tables or found.form.of_runs:
        for line in found.told:
            fill_from_words(line, found.paper.walk)

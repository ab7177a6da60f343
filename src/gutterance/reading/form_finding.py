"""Forms found in a note: lines of labels with their answers, and headings that name the run below them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.answer_kinds import fits
from gutterance.reading.form_lines import ENUMERATOR, FormLine, Pair, take_apart
from gutterance.reading.items import Line
from gutterance.reading.job_answers import set_title
from gutterance.reading.labels import Meaning, known_label
from gutterance.reading.places import fold_places
from gutterance.reading.tick_boxes import has_boxes
from gutterance.reading.written_answers import read_answer

if TYPE_CHECKING:
    from gutterance.reading.paper import Paper

FEWEST_PAIRS = 4
"""A note with fewer labels of runs than this is no form."""
FEWEST_FIELDS = 3
"""... or with fewer kinds of them."""
LONGEST_ANSWER = 8
"""An answer of more words than this is said rather than filled in."""
LONGEST_LENGTH = 5
"""... or than this, where a label only names a run and its length is to follow."""
TOTALS_HEADING = re.compile(r"\A\W*(?:totals?|summary|in all|tally)\W*\Z", re.IGNORECASE)
"""A line alone above totals."""
SENTENCES = re.compile(r"[.;!]\s+\S|,\s[^,]*,\s")
"""What shows that an answer is a sentence, or more than one."""
LONG_ANSWERS = frozenset({"note", "remark", "title", "nothing"})
"""What may be answered at length."""
NUMBERED_QUESTION = re.compile(r"\A\W*(?:Q\s*)?\d{1,2}\s*[.):]\s.*\?\s", re.IGNORECASE)
"""A question with its number."""
FEWEST_CORNERS = 2
"""So many lines that tell the corner between two runs make a form."""
FEWEST_IN_ROW = 3
"""A row of answers without labels has so many at least."""
FEWEST_BESIDE_TABLE = 2
"""... or, where it has a table too, with fewer kinds than this."""
LONGEST_LINE = 600
"""A longer line than this [characters] is no line of a form."""
LONGEST_HEADING = 5
"""A heading that names a run has no more words than this."""
MEASURED = frozenset(
    {
        "length",
        "left",
        "right",
        "start",
        "finish",
        "ends",
        "outlet",
        "count",
        "wall_to_fascia",
        "height",
        "ends_at",
    }
)
"""Fields that show a form to be one of runs."""
QUESTION, REPLY = (
    re.compile(r"\A\W*Q\s*\d*\s*[.:)]", re.IGNORECASE),
    re.compile(r"\A\W*A\s*\d*\s*[.:)]\s*", re.IGNORECASE),
)
"""A question and its answer on lines of their own."""
DECORATION = " \t-–—=*#_~<>[]().:|+•"
"""What may stand around a heading."""
SHOWN = ("end", "end word", "outlet", "downpipe", "ends at")
"""Kinds of items that show what an answer is of."""
QUIET = (
    "place",
    "filler",
    "mark",
    "break",
    "colon",
    "run noun",
    "part",
    "storey",
    "direction",
    "landmark",
    "lr",
)
"""Kinds of items in a heading that only names a place."""


@dataclass(slots=True)
class Form:
    """The lines of a note that are a form's, by their number; and headings that name runs."""

    lines: dict[int, FormLine] = field(default_factory=dict)
    headings: dict[int, tuple[int, int]] = field(default_factory=dict)
    of_runs: bool = False


def find_form(lines: list[Line], taken: set[int], paper: Paper, *, comma: bool = False) -> Form:
    """The form of a note. `taken` are the lines of its tables, `comma` says that commas part their cells."""
    form = Form()
    apart: dict[int, FormLine] = {}
    taken = taken | _below_totals(lines)
    for line in lines:
        if line.number not in taken and line.text.strip() and len(line.text) <= LONGEST_LINE:
            parted = take_apart(line, paper.legend, comma=comma)
            if parted.pairs:
                apart[line.number] = parted
    _join_replies(lines, apart)
    known_plain: dict[int, bool] = {}

    def plain(number: int) -> bool:
        # asked of few lines: it reads their answers
        if number not in known_plain:
            known_plain[number] = is_plain(apart[number], paper)
        return known_plain[number]

    told = [
        meaning.field
        for number, parted in apart.items()
        if any(pair.strict for pair in parted.known) and plain(number)
        for pair in parted.known
        if pair.strict
        for meaning in _of_run(pair, paper)[:1]
    ]
    corners = sum(pair.corner is not None for parted in apart.values() for pair in parted.pairs)
    form.of_runs = corners >= FEWEST_CORNERS or (
        len(told) >= FEWEST_PAIRS and len(set(told)) >= (FEWEST_BESIDE_TABLE if taken else FEWEST_FIELDS)
    )
    if not form.of_runs and not taken:
        return form
    first_of_run = next((n for n, parted in apart.items() if any(_of_run(p, paper) for p in parted.pairs)), 0)
    for number, parted in apart.items():
        known = [pair for pair in parted.known if pair.strict or (form.of_runs and not parted.lead)]
        if parted.pairs and not plain(number):
            continue
        if form.of_runs and all(is_unknown_number(pair, paper) for pair in parted.pairs) and not parted.lead:
            form.lines[number] = parted
            continue
        if (
            not known
            and paper.page
            and number < first_of_run
            and not parted.lead
            and all(_of_no_concern(p, paper) for p in parted.pairs)
        ):
            form.lines[number] = parted
            continue
        if not known or (not form.of_runs and any(pair.place for pair in parted.pairs)):
            continue
        if not form.of_runs:
            of_job = [m for pair in known if pair.label for m in pair.label.meanings if m.of == "job"]
            if not of_job or (parted.lead and not has_boxes(parted.line.text)):
                continue
        form.lines[number] = parted
        for pair in parted.pairs:
            if pair.answer_line is not None:
                form.lines[pair.answer_line.number] = FormLine(pair.answer_line)
    if form.of_runs:
        for line in lines:
            if line.number not in form.lines and line.number not in taken and len(line.text) <= LONGEST_LINE:
                parted = take_apart(line, paper.legend)
                if _is_row(parted):
                    form.lines[line.number] = parted
        _find_headings(lines, form, taken, paper)
    return form


def _below_totals(lines: list[Line]) -> set[int]:
    """The lines that stand right below a heading of totals: they are told as totals, and ask for nothing."""
    below: set[int] = set()
    heading = False
    for line in lines:
        heading = bool(line.text.strip()) and (heading or TOTALS_HEADING.match(line.text) is not None)
        if heading:
            below.add(line.number)
    return below


def is_unknown_number(pair: Pair, paper: Paper) -> bool:
    """Whether a label that nobody knows is answered with a number: nothing may be made of it."""
    if pair.label is not None or pair.corner is not None or not pair.marked:
        return False
    said = [item for item in pair.answer(paper.legend).items if item.kind not in ("filler", "mark", "break")]
    return bool(said) and all(item.kind == "measure" for item in said)


def is_plain(parted: FormLine, paper: Paper) -> bool:
    """Whether a line is filled in rather than said: its answers are short, and none of them a sentence.

    A numbered question, and what asks for remarks, may be answered at length.
    """
    if paper.page and all(_is_field(pair) for pair in parted.pairs):
        return True
    if NUMBERED_QUESTION.match(parted.line.text) or has_boxes(parted.line.text):
        return True
    for pair in parted.pairs:
        if (
            pair.label is None
            or not pair.label.of_run()
            or any(m.field in LONG_ANSWERS for m in pair.label.meanings)
        ):
            continue
        answer = pair.answer(paper.legend)
        said_on = answer.text.endswith(",")  # the next words go on with the sentence
        said_on = said_on or (" - " in answer.text and len(answer.of("measure", "ends at")) > 1)
        if said_on or len(answer.text.split()) > LONGEST_ANSWER or SENTENCES.search(answer.text):
            return False
        if pair.place is not None and pair.label.asks("run") and len(answer.text.split()) > LONGEST_LENGTH:
            return False
    return True


def _is_field(pair: Pair) -> bool:
    """Whether a label asks for one thing that is measured of a run, or marks say that it is a label."""
    if pair.place is not None:
        return False
    if pair.label is None:
        return pair.marked
    return (
        pair.strict and not pair.label.asks("run") and any(m.field in MEASURED for m in pair.label.meanings)
    )


def _of_no_concern(pair: Pair, paper: Paper) -> bool:
    """`Kind of house ... bungalow, bay at front`, before any run: a label nobody knows, nothing measured."""
    return pair.marked and not pair.answer(paper.legend).measures


def _is_row(parted: FormLine) -> bool:
    """Whether a line with no labels is a row of answers: a name, a length, and what shows what it is."""
    if parted.pairs or len(parted.lead) < FEWEST_IN_ROW:
        return False
    answers = [read_answer([(parted.line, start, end)]) for start, end in parted.lead]
    if not answers[0].of("direction", "part", "quarter", "numbered", "lr") or answers[0].measures:
        return False
    return bool(answers[1].measures or answers[1].is_ditto) and all(
        fits("ends", answer) or answer.of(*SHOWN) or answer.measures for answer in answers[1:]
    )


def _of_run(pair: Pair, paper: Paper) -> list[Meaning]:
    """What a label of a run asks for, where its answer answers it."""
    answer = pair.answer(paper.legend)
    if answer.is_empty:
        return []
    if pair.corner is not None:
        return [Meaning("right", "run")] if fits("right", answer) else []
    if pair.label is None:
        return []
    if pair.label.number is not None and pair.label.asks("run") and answer.measures:
        return [Meaning("length", "run")]
    return [
        meaning
        for meaning in pair.label.meanings
        if meaning.of == "run" and meaning.field in MEASURED and fits(meaning.field, answer)
    ]


def _join_replies(lines: list[Line], apart: dict[int, FormLine]) -> None:
    """`Q: How long?` and `A: 40' 6"` on the next line: one question with its answer."""
    for line, behind in pairwise(lines):
        asked, reply = QUESTION.match(line.text), REPLY.match(behind.text)
        if not asked or not reply:
            continue
        words = line.text[asked.end() :].strip()
        joined = take_apart(Line(line.number, line.text.rstrip(" ?") + ":", line.items), {})
        pair = joined.pairs[-1] if joined.pairs else Pair(words, None, asked.end())
        if len(joined.pairs) > 1:
            whole = take_apart(Line(line.number, words.rstrip(" ?:").replace(":", ",") + ":", line.items), {})
            pair = whole.pairs[-1] if whole.pairs else pair
        pair.line, pair.answer_line = line, behind
        end = len(behind.text.rstrip())
        pair.pieces = [(reply.end(), end)] if reply.end() < end else []
        pair.strict = True
        apart[line.number] = FormLine(line, [], [pair])
        apart[behind.number] = FormLine(behind, [], [])


def _find_headings(lines: list[Line], form: Form, taken: set[int], paper: Paper) -> None:
    """Lines that only name a run, right above labels of one."""
    filled = [line for line in lines if line.text.strip()]
    for line, behind in pairwise(filled):
        if line.number in taken or line.number in form.lines or len(line.text) > LONGEST_LINE:
            continue
        below = form.lines.get(behind.number)
        if below is None or below.lead or not below.pairs or not opens_block(below.pairs[0], paper):
            continue
        span = _heading_words(line)
        if span is not None:
            form.headings[line.number] = span


def opens_block(pair: Pair, paper: Paper) -> bool:
    """Whether a label is the first of a run's."""
    if pair.label is None or pair.place is not None:
        return False
    answer = pair.answer(paper.legend)
    return any(
        meaning.of == "run" and meaning.field in MEASURED and (answer.is_empty or fits(meaning.field, answer))
        for meaning in pair.label.meanings
    )


def _heading_words(line: Line) -> tuple[int, int] | None:
    """The words of a line that can head a run's block, or None."""
    text = line.text
    lead = ENUMERATOR.match(text)
    start = lead.end() if lead else 0
    end = len(text)
    while start < end and text[start] in DECORATION:
        start += 1
    while end > start and text[end - 1] in DECORATION:
        end -= 1
    words = text[start:end]
    if not words or len(words.split()) > LONGEST_HEADING or re.search(r"\d{2}|[.;!?]", words):
        return None
    answer = read_answer([(line, start, end)])
    if answer.measures and not re.search(r"\b[a-z]+ ?#?\d\Z", words, re.IGNORECASE):
        return None
    folded = fold_places(answer.items, text)
    if folded and any(item.kind == "place" for item in folded) and all(item.kind in QUIET for item in folded):
        return start, end
    if folded and all(item.kind in ("lr", *QUIET) for item in folded) and answer.of("lr"):
        return start, end
    label = known_label(words)
    if label is not None and label.number is None:
        return None
    decorated = words.isupper() or words.istitle() or text.strip()[0] in "-=*#["
    if label is not None or (
        decorated and all(item.kind in (*QUIET, "word", "initial", "measure") for item in answer.items)
    ):
        return start, end
    return None


def find_titles(form: Form, paper: Paper) -> None:
    """The name of the job, where a label asks for it before any run is told."""
    for number in sorted(form.lines):
        for pair in form.lines[number].pairs:
            if pair.label is None or pair.place is not None:
                continue
            if pair.label.meanings[0].field == "run" and not pair.label.asks("title"):
                return
            if any(meaning.field in MEASURED for meaning in pair.label.meanings):
                return
            if pair.label.asks("title"):
                answer = pair.answer({})
                if not answer.is_empty and set_title(answer, paper.walk):
                    return

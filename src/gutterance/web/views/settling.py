"""What the office has to settle, one question at a time, each with what may be pressed; and what to know."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.checking import open_questions
from gutterance.checking.answering import settle_answer
from gutterance.checking.findings import HOLDING, Change, Suggestion
from gutterance.checking.house import House
from gutterance.checking.wording import shown
from gutterance.sheet.amendments import TAKEN_OUT
from gutterance.web.views.sheet import field_of
from gutterance.web.views.wanted import choices, example

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.checking.questions import Question
    from gutterance.sheet.models import Sheet, Source

MOST_OFFERS = 9
"""Offers that have a key of their own: the figures 1 to 9."""

_SIGNS = {
    "gap": ("!", "missing"),
    "conflict": ("!", "at odds"),
    "doubt": ("?", "in doubt"),
    "assumption": ("~", "taken for granted"),
    "hazard": ("!", "hazard"),
}
_STANDS = frozenset({"conflict", "doubt"})
"""The kinds that may be left as they stand: both values are there, and somebody says that they are right."""


@dataclass(frozen=True, slots=True)
class Answered:
    """What somebody decided of a finding without a new value: that it stands, or that the crew is asked."""

    what: str
    by: str
    at: str
    why: str


@dataclass(frozen=True, slots=True)
class Offer:
    """An answer that one key gives: the key, the value, why it may be right, and what it would change."""

    key: str
    number: int
    value: str
    why: str
    changes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ToSettle:
    """A question of the office: what is asked and why, its words, the answers that a key gives.

    `id` names it in a form. `confirms` is told of where `yes` settles it; `stands` where it may be left as it
    is, with a reason; `wanted` is an example of the answer that may be typed, empty where none can be.
    """

    id: str
    sign: str
    word: str
    asks: str
    says: tuple[str, ...]
    about: tuple[str, ...]
    codes: tuple[str, ...]
    offers: tuple[Offer, ...]
    confirms: str
    stands: bool
    wanted: str
    frees: tuple[str, ...]
    words: tuple[tuple[int, str], ...]
    asked: Answered | None = None


@dataclass(frozen=True, slots=True)
class ToKnow:
    """What waits for no answer but must be known: a hazard, something taken for granted or left as it was."""

    id: str
    sign: str
    word: str
    says: str
    asks: str
    about: str
    lines: tuple[int, ...]
    seen: Answered | None = None
    wanted: str = ""


def finding_id(finding: Finding) -> str:
    """A name for a finding that stays while its words do: another value makes it another finding."""
    return _digest(finding.code, finding.about, finding.says)


def question_id(question: Question) -> str:
    """A name for a question, from what it asks of which values."""
    return _digest(question.text, *question.about, *question.codes)


def to_settle(
    sheet: Sheet, findings: Sequence[Finding], answered: Mapping[str, Answered] | None = None
) -> list[ToSettle]:
    """The open questions, first what frees the most, doubtful words before what was never said.

    Those that the crew was asked come last, whatever they free: nobody in the office can settle them now.
    """
    known = answered or {}
    by_question = _findings_of(findings)
    house = House(sheet)
    rows = [_to_settle(question, by_question, house, known) for question in open_questions(sheet, findings)]
    return sorted(rows, key=lambda row: row.asked is not None)


def to_know(findings: Sequence[Finding], answered: Mapping[str, Answered] | None = None) -> list[ToKnow]:
    """Hazards first, then what was taken for granted; what somebody has seen already comes last."""
    known = answered or {}
    rows = [
        ToKnow(
            finding_id(found),
            *_SIGNS[found.kind],
            found.says,
            found.question or "",
            found.about,
            tuple(sorted({words.line for words in found.source})),
            known.get(finding_id(found)),
            example(found.about, metric=False) if found.question else "",
        )
        for found in findings
        if found.kind not in HOLDING
    ]
    return sorted(rows, key=lambda row: (row.seen is not None, row.word != "hazard"))


def _findings_of(findings: Sequence[Finding]) -> dict[tuple[str, str], list[Finding]]:
    """The findings by what they are about and their code, as a question names them."""
    found: dict[tuple[str, str], list[Finding]] = {}
    for one in findings:
        if one.kind in HOLDING:
            found.setdefault((one.about, one.code), []).append(one)
    return found


def _to_settle(
    question: Question,
    by_question: Mapping[tuple[str, str], list[Finding]],
    house: House,
    known: Mapping[str, Answered],
) -> ToSettle:
    sheet = house.sheet
    own = [
        found
        for about in question.about
        for code in question.codes
        for found in by_question.get((about, code), [])
    ]
    kinds = {found.kind for found in own}
    kind = next((one for one in ("conflict", "doubt", "gap") if one in kinds), "gap")
    metric = sheet.defaults.units == "metric"
    offers = tuple(
        Offer(
            str(number) if number <= MOST_OFFERS else "",
            number,
            offer.value,
            offer.why,
            tuple((change.path, change.value) for change in offer.changes),
        )
        for number, offer in enumerate(offers_of(question, sheet), start=1)
    )
    confirmed = settle_answer(question, "yes", sheet)
    asked = next((known[finding_id(found)] for found in own if finding_id(found) in known), None)
    return ToSettle(
        question_id(question),
        *_SIGNS[kind],
        question.text,
        tuple(dict.fromkeys(found.says for found in own)),
        tuple(question.about),
        tuple(question.codes),
        offers,
        _confirms(question, sheet) if confirmed is not None and confirmed.changes else "",
        bool(own) and kinds <= _STANDS,
        _wanted(question, metric),
        _names(question.holds, house),
        _words(question.source),
        asked,
    )


def offers_of(question: Question, sheet: Sheet) -> list[Suggestion]:
    """What the question suggests; then, where its value is one of a few words, each of those.

    Words that were not understood may be struck out: taken off the sheet as no measurement.
    """
    offers = list(question.suggests)
    if set(question.codes) == {"unread-number"}:
        changes = [Change(path=path, value=TAKEN_OUT) for path in question.about]
        offers.append(Suggestion(value="strike out", why="it is no measurement of this job", changes=changes))
    known = {offer.value for offer in offers}
    said = [sheet.reading_at(path) for path in question.about]
    now = {one.value for one in said if one is not None}
    each = {choices(path) for path in question.about}
    for value in each.pop() if len(each) == 1 else ():
        if value in known or now == {value}:
            continue
        changes = [Change(path=path, value=value) for path in question.about]
        offers.append(Suggestion(value=value, why="", changes=changes))
    return offers


def _confirms(question: Question, sheet: Sheet) -> str:
    """What `yes` would confirm: the values as read."""
    readings = [(path, sheet.reading_at(path)) for path in question.about]
    values = [
        shown(reading.value, field_of(path))
        for path, reading in readings
        if reading is not None and reading.value is not None
    ]
    return " and ".join(dict.fromkeys(values)) or "as told"


def _names(paths: Sequence[str], house: House) -> tuple[str, ...]:
    """Runs by their names, downpipes by theirs: what waits for an answer."""
    names = []
    for path in paths:
        group, _, part = path.partition(".")
        run = house.run(part) if group == "runs" else None
        names.append(run.name if run is not None else f"downpipe {part}" if group == "downpipes" else part)
    return tuple(names)


def _wanted(question: Question, metric: bool) -> str:
    """An example of an answer; for several values one after another, in their order."""
    each = [example(path, metric=metric) for path in question.about]
    if set(question.codes) == {"outlet-missing"}:
        return "left"
    if not all(each):
        return ""
    return ", ".join(each)


def _words(sources: Sequence[Source]) -> tuple[tuple[int, str], ...]:
    return tuple(dict.fromkeys((words.line, words.text) for words in sources if words.text))


def _digest(*parts: str) -> str:
    return hashlib.sha256("\n".join(parts).encode("utf-8", "surrogatepass")).hexdigest()[:12]

"""What the office has to settle, one question at a time, each with what may be pressed; and what to know."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.checking import open_questions
from gutterance.checking.answering import settle_answer
from gutterance.checking.findings import HOLDING
from gutterance.checking.house import House
from gutterance.checking.wording import shown
from gutterance.jobs.questions import finding_id, offers_of, question_id
from gutterance.sheet.paths import field_of
from gutterance.web.views.wanted import example

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.checking.questions import Question
    from gutterance.jobs.decisions import Decision
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
    asked: Decision | None = None


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
    seen: Decision | None = None
    wanted: str = ""


def to_settle(
    sheet: Sheet, findings: Sequence[Finding], answered: Mapping[str, Decision] | None = None
) -> list[ToSettle]:
    """The open questions, first what frees the most, doubtful words before what was never said.

    Those that the crew was asked come last, whatever they free: nobody in the office can settle them now.
    """
    known = answered or {}
    by_question = _findings_of(findings)
    house = House(sheet)
    rows = [_to_settle(question, by_question, house, known) for question in open_questions(sheet, findings)]
    return sorted(rows, key=lambda row: row.asked is not None)


def to_know(findings: Sequence[Finding], answered: Mapping[str, Decision] | None = None) -> list[ToKnow]:
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
    known: Mapping[str, Decision],
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

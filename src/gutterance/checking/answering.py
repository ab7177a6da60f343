"""What an answer to an open question settles: which values of the sheet, read in that question's context."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.checking.findings import Change
from gutterance.checking.house import House
from gutterance.reading import read_note
from gutterance.reading.answers import is_yes, read_answer
from gutterance.sheet.amendments import file_value

if TYPE_CHECKING:
    from gutterance.checking.questions import Question
    from gutterance.sheet.models import Sheet

LETTERS = "abcdefgh"
_LETTER = re.compile(r"\s*\(?([a-h])\)?\s*\Z", re.IGNORECASE)
_CONFIRMED_BY_YES = frozenset(
    {"value-doubtful", "value-implausible", "length-worked-out", "height-against-storey", "value-inferred"}
)
_NEW_OUTLET = frozenset({"outlet-missing"})


@dataclass(frozen=True, slots=True)
class Settled:
    """What an answer does: `changes` to the sheet, or words for the note (`say`), or why it is not enough."""

    changes: tuple[Change, ...] = ()
    say: str | None = None
    not_enough: str | None = None


def settle_answer(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """What `text` settles as an answer to `question` on `sheet`, or None where it is no answer to it.

    A letter takes one of the question's suggestions; `yes` what it asks to be confirmed; anything else is
    read for the values the question is about. An answer that itself leaves room (`about 9 2`) is not enough.
    """
    letter = _LETTER.match(text)
    if letter is not None:
        return _suggestion(question, LETTERS.index(letter[1].lower()))
    if is_yes(text) and not _right_is_a_place(question, text):
        return _confirmed(question, sheet)
    metric = sheet.defaults.units == "metric"
    if _tells_of_runs(text):
        return _named_length(question, text, sheet, metric)
    answers = read_answer(text, question.about, metric=metric)
    if not answers and _NEW_OUTLET & set(question.codes):
        return _new_outlet(question, text, sheet)
    if not answers:
        return None
    for answer in answers:
        if answer.reading.status != "read":
            others = " or ".join(file_value(other.value) for other in answer.reading.could_be)
            room = f" (or {others})" if others else ""
            return Settled(not_enough=f"that leaves it open{room}: {answer.reading.why or 'say it exactly'}")
    return Settled(
        tuple(Change(path=answer.path, value=file_value(answer.reading.value)) for answer in answers)
    )


def _suggestion(question: Question, number: int) -> Settled | None:
    if number >= len(question.suggests):
        return Settled(not_enough="no suggestion has that letter")
    offer = question.suggests[number]
    if not offer.changes:
        return Settled(not_enough="that one has to be told: say the run with its length and ends")
    return Settled(tuple(offer.changes))


def _confirmed(question: Question, sheet: Sheet) -> Settled | None:
    as_told = [offer for offer in question.suggests if offer.value == "as told"]
    if as_told:
        return Settled(tuple(as_told[0].changes))
    if not _CONFIRMED_BY_YES & set(question.codes):
        return None
    changes = []
    for path in question.about:
        reading = sheet.reading_at(path)
        if reading is None or reading.value is None:
            return None
        changes.append(Change(path=path, value=file_value(reading.value)))
    return Settled(tuple(changes))


def _right_is_a_place(question: Question, text: str) -> bool:
    """Whether `right` names an end of the run: no agreement, where the question is where an outlet is."""
    asks_where = any(path.endswith(".place") for path in question.about) or _NEW_OUTLET & set(question.codes)
    return bool(asks_where) and text.strip(" .").lower() == "right"


def _tells_of_runs(text: str) -> bool:
    """Whether the words, read by themselves, measure a run or a pipe: then they are no bare answer."""
    alone = read_note([text])
    named = {run.name for run in alone.runs if run.length is not None and run.length.value is not None}
    return bool(named) or any(pipe.height or pipe.wall_to_fascia for pipe in alone.downpipes)


def _named_length(question: Question, text: str, sheet: Sheet, metric: bool) -> Settled | None:
    """`front 42-6`, where the question is which of several walls is wrong: that one's length."""
    if len(question.about) == 1 and question.about[0] != "runs":
        return _own_name_said(question, text, sheet, metric)
    alone = read_note([text])
    if alone.unread or alone.outlets or alone.downpipes or len(alone.runs) != 1:
        return None
    (said,) = alone.runs
    if said.left_end or said.right_end or said.length is None or not said.length.settled:
        return None
    if f"runs.{said.id}" not in question.holds or said.length.value is None:
        return None
    return Settled((Change(path=f"runs.{said.id}.length", value=said.length.value.file_text()),))


def _own_name_said(question: Question, text: str, sheet: Sheet, metric: bool) -> Settled | None:
    """An answer that says again which run it is of: `the back is 42-6`, after a question about the back."""
    house = House(sheet)
    parts = question.about[0].split(".")
    run = house.run(parts[1]) if parts[0] == "runs" and len(parts) > 2 else None
    if run is None:
        return None
    rest, count = re.subn(rf"\b(?:the\s+)?{re.escape(run.name)}\b", " ", text, flags=re.IGNORECASE)
    answers = read_answer(rest, question.about, metric=metric) if count else []
    if not answers or any(answer.reading.status != "read" for answer in answers):
        return None
    return Settled(
        tuple(Change(path=answer.path, value=file_value(answer.reading.value)) for answer in answers)
    )


def _new_outlet(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """Where the outlet is that a run has not: words for the note, since they add something to the house."""
    run = House(sheet).run(question.about[0].removeprefix("runs."))
    if run is None or len(question.holds) != 1 or not read_answer(text, ["outlets.new.place"]):
        return None
    return Settled(say=f"{run.name}: drop {text.strip()}")

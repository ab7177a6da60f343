"""What an answer to an open question settles: which values of the sheet, read in that question's context."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.checking.answers_in_words import IN_OTHER_WORDS, IN_WORDS, tells_of_runs
from gutterance.checking.findings import Change
from gutterance.checking.house import House
from gutterance.checking.plausibility import within_range
from gutterance.checking.settled import Settled
from gutterance.checking.wording import named, start
from gutterance.reading import read_note
from gutterance.reading.answers import is_yes, read_answer
from gutterance.sheet.amendments import file_value

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.checking.questions import Question
    from gutterance.sheet.models import Sheet

LETTERS = "abcdefgh"
_LETTER = re.compile(r"\s*\(?([a-h])\)?\s*\Z", re.IGNORECASE)
_CONFIRMED_BY_YES = frozenset(
    {
        "value-doubtful",
        "value-implausible",
        "length-worked-out",
        "height-against-storey",
        "value-inferred",
        "lower-gutter-missing",
    }
)
_SHARED = frozenset({"corner-mismatch", "corner-angle-mismatch", "gutters-meet-unlike"})
_TOLD_APART = frozenset({"walls-do-not-close", "turns-off", "opposite-eaves-differ", "unread-number"})
"""Questions whose answer says of itself which run it is of."""


def settle_answer(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """What `text` settles as an answer to `question` on `sheet`, or None where it is no answer to it.

    A letter takes one of the question's suggestions; `yes` what it asks to be confirmed; anything else is
    read for the values the question is about. An answer that itself leaves room (`about 9 2`) is not enough.
    """
    letter = _LETTER.match(text)
    if letter is not None:
        return _suggestion(question, LETTERS.index(letter[1].lower()), sheet)
    agrees = is_yes(text) and not _right_is_a_place(question, text)
    if agrees and (confirmed := _confirmed(question, sheet)) is not None:
        return confirmed
    if question.codes[0] in IN_WORDS:
        return IN_WORDS[question.codes[0]](question, text, sheet)
    metric = sheet.defaults.units == "metric"
    if tells_of_runs(text):
        return _named_length(question, text, sheet, metric)
    answers = read_answer(text, question.about, metric=metric)
    if not answers:
        other_words = IN_OTHER_WORDS.get(question.codes[0])
        return None if other_words is None else other_words(question, text, sheet)
    for answer in answers:
        if answer.reading.status != "read":
            others = " or ".join(file_value(other.value) for other in answer.reading.could_be)
            room = f" (or {others})" if others else ""
            return Settled(not_enough=f"that leaves it open{room}: {answer.reading.why or 'say it exactly'}")
    changes = [Change(path=answer.path, value=file_value(answer.reading.value)) for answer in answers]
    return Settled((*changes, *_round_the_corner(question, changes)))


def _round_the_corner(question: Question, changes: Sequence[Change]) -> Iterator[Change]:
    """The same for the run round the corner, where a question is about what two runs share there."""
    if not _SHARED & set(question.codes) or len(question.holds) != 2:
        return
    before, after = question.holds
    for change in changes:
        field = change.path.removeprefix(f"{before}.")
        if field != change.path:
            yield Change(path=f"{after}.{field.replace('right_', 'left_')}", value=change.value)


def _right_is_a_place(question: Question, text: str) -> bool:
    """Whether `right` names an end of the run: no agreement, where the question is where an outlet is."""
    asks_where = any(path.endswith(".place") for path in question.about) or "outlet-missing" in question.codes
    return asks_where and text.strip(" .").lower() == "right"


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that words given without a question may be the answer to, as it is asked back."""

    words: str
    question: Question
    settled: Settled


def could_answer(questions: Sequence[Question], text: str, sheet: Sheet) -> list[Choice]:
    """Which of the open questions `text` could be the whole answer to.

    One value under a question that asks for several could be each of them, or all. A letter or a `yes`
    belongs to the question it was asked under, and to no other.
    """
    if _LETTER.match(text) or is_yes(text):
        return []
    found = []
    for question in questions:
        settled = settle_answer(question, text, sheet)
        if settled is not None and settled.not_enough is None:
            found.append(Choice(question.text, question, settled))
        elif settled is None and len(question.about) > 1 and not _TOLD_APART & set(question.codes):
            found += _one_of_several(question, text, sheet)
    likely = [choice for choice in found if all(map(within_range, choice.settled.changes))]
    return likely or found


def _one_of_several(question: Question, text: str, sheet: Sheet) -> list[Choice]:
    house = House(sheet)
    found = []
    for path in question.about:
        settled = settle_answer(question.model_copy(update={"about": [path]}), text, sheet)
        if settled is not None and settled.not_enough is None and settled.changes:
            found.append(Choice(f"{start(named(path, house))}.", question, settled))
    every = settle_answer(question, f"{text} all", sheet) if len(found) > 1 else None
    if every is not None and every.changes:
        found.append(Choice("All of these." if len(found) > 2 else "Both of these.", question, every))
    return found


def reads_cleanly(before: Sheet, after: Sheet) -> bool:
    """Whether one more line of the note is understood as it comes: something new on the sheet, nothing of it
    in doubt, nothing else changed, no more unread."""
    was, stands = dict(before.readings()), dict(after.readings())
    return (
        len(after.unread) <= len(before.unread)
        and len(stands) > len(was)
        and all(path in stands and stands[path].value == one.value for path, one in was.items())
        and all(one.settled for path, one in stands.items() if path not in was)
    )


def _suggestion(question: Question, number: int, sheet: Sheet) -> Settled | None:
    if number >= len(question.suggests):
        return Settled(not_enough="no suggestion has that letter")
    offer = question.suggests[number]
    if not offer.changes and "run-missing" in question.codes:
        return IN_WORDS["run-missing"](question, offer.value, sheet)
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

"""What a question is called, and the answers it offers: shared by all who show it and all who settle it."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, get_args

from gutterance.checking.findings import Change, Suggestion
from gutterance.sheet.amendments import TAKEN_OUT
from gutterance.sheet.paths import field_of
from gutterance.sheet.values import End, EndsAt, Place

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking import Finding, Question
    from gutterance.sheet.models import Sheet

_CHOICES: dict[str, tuple[str, ...]] = {
    "left_end": get_args(End),
    "right_end": get_args(End),
    "place": get_args(Place),
    "ends_at": get_args(EndsAt),
}


def finding_id(finding: Finding) -> str:
    """A name for a finding that stays while its words do: another value makes it another finding."""
    return _digest(finding.code, finding.about, finding.says)


def question_id(question: Question) -> str:
    """A name for a question, from what it asks of which values."""
    return _digest(question.text, *question.about, *question.codes)


def findings_behind(question: Question, findings: Sequence[Finding]) -> list[Finding]:
    """The findings that a question asks about."""
    return [one for one in findings if one.about in question.about and one.code in question.codes]


def choices(path: str) -> tuple[str, ...]:
    """The words a value is chosen from; empty where it is measured or free.

    >>> choices("outlets.back-1.place")
    ('left', 'right', 'centre')
    """
    return _CHOICES.get(field_of(path), ())


def offers_of(question: Question, sheet: Sheet) -> list[Suggestion]:
    """What the question suggests; then, where its value is one of a few words, each of those.

    Words that were not understood may be struck out: taken off the sheet as no measurement. A run without an
    outlet gets one at an end: that offer has no changes, and is settled by its words.
    """
    offers = list(question.suggests)
    if set(question.codes) == {"unread-number"}:
        changes = [Change(path=path, value=TAKEN_OUT) for path in question.about]
        offers.append(Suggestion(value="strike out", why="it is no measurement of this job", changes=changes))
    if set(question.codes) == {"outlet-missing"} and len(question.holds) == 1:
        return [*offers, *(Suggestion(value=one, why="") for one in get_args(Place))]
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


def _digest(*parts: str) -> str:
    return hashlib.sha256("\n".join(parts).encode("utf-8", "surrogatepass")).hexdigest()[:12]

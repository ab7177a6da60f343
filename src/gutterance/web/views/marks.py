"""What stands beside a value: a sign and a word, so that no state rests on colour.

The signs of the printed lists are kept; a page tells more apart than a list does: what a person accepted,
corrected or entered, what was copied by `same as`, and what was put right in the hearing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from gutterance.render.explained import REPAIRED, WORDS
from gutterance.render.readback import SIGNS
from gutterance.sheet.amendments import of_note

if TYPE_CHECKING:
    from gutterance.sheet.models import Reading

_DITTO = ("same as", "mirror of", "said of all", "said for the whole job", "the same as")


@dataclass(frozen=True, slots=True)
class Mark:
    """A state as it is shown. `kind` is its name for styles and tests; `sign` may be read as text."""

    kind: str
    sign: str
    word: str
    says: str


READ = Mark("read", "", "read", "as the note says it")
UNSAID = Mark("unsaid", "–", "not said", "the note says nothing of it")
DITTO = Mark("ditto", "do.", "ditto", "copied from what was said before")
REPAIRED_MARK = Mark("repaired", "«»", REPAIRED, "a word was heard as another, and put right")
ACCEPTED = Mark("accepted", "✓", "accepted", "the office confirmed what was read")
CHANGED = Mark("changed", "*", "changed", "the office put another value in place of the note's")
ENTERED = Mark("entered", "+", "entered by hand", "the note gives no value; the office entered it")
HELD = Mark("held", "‖", "on hold", "waits for an answer and may not be made")
_OF_STATUS = {
    "read": READ,
    "doubtful": Mark("doubtful", SIGNS["doubtful"], WORDS["doubtful"], "read, but in doubt: to be asked"),
    "missing": Mark("missing", SIGNS["missing"], WORDS["missing"], "the note says it is missing"),
    "assumed": Mark("assumed", SIGNS["assumed"], WORDS["assumed"], "nobody said it: it was assumed"),
    "inferred": Mark(
        "inferred", SIGNS["inferred"], WORDS["inferred"], "nobody said it: it follows from others"
    ),
    "corrected": Mark(
        "corrected", SIGNS["corrected"], WORDS["corrected"], "the measurer corrected it in the note"
    ),
}

KEY = (*_OF_STATUS.values(), UNSAID, DITTO, REPAIRED_MARK, ACCEPTED, CHANGED, ENTERED, HELD)
"""Every mark there is, for the key at the foot of the page."""


def marks_of(reading: Reading[Any] | None) -> tuple[Mark, ...]:
    """The marks of a value, its state first, then how it came about. Never empty.

    >>> from gutterance.sheet.models import Reading
    >>> copied = Reading[str](value="wall", status="doubtful", why="same as the front")
    >>> [mark.word for mark in marks_of(copied)]
    ['doubtful', 'ditto']
    """
    if reading is None:
        return (UNSAID,)
    state = _by_hand(reading) if reading.by is not None else _of_status(reading)
    why = reading.why or ""
    copied = (DITTO,) if reading.by is None and why.startswith(_DITTO) else ()
    repaired = (REPAIRED_MARK,) if reading.by is None and "was taken for" in why else ()
    return (state, *copied, *repaired)


def _of_status(reading: Reading[Any]) -> Mark:
    return _OF_STATUS["missing" if reading.value is None else reading.status]


def _by_hand(reading: Reading[Any]) -> Mark:
    """An amendment: the note's own value confirmed, another in its place, or one where it has none."""
    noted = of_note(reading)
    if noted is None or noted.value is None:
        return ENTERED
    return ACCEPTED if noted.value == reading.value else CHANGED

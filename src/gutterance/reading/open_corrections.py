"""Corrections left open: a correcting word with no new value behind it puts what stood before in doubt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.stretch_words import StretchWords

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.sheet.models import Reading

CHATTER = frozenset({"actually", "sorry", "hang on", "hold on", "wait", "rather", "no", "nope", "oops"})
"""Correcting words that are often said in passing, and that alone cast no doubt."""


class OpenCorrections(StretchWords):
    """`drop right, sorry` ... and then nothing: the word waits for a value until the next line ends."""

    def _fix(self, item: Item) -> None:
        """A correcting word: keep what stood before it, to doubt it if nothing new comes."""
        self.walk.fixing = item
        self.walk.fixed_last = self.walk.last
        whole_line = self.walk.correct_line == item.line  # `Correction: the front is ...` says itself what
        self.walk.fixed_outlets = [] if whole_line else list(self.walk.outlets)

    def _leave_correction(self) -> None:
        """With no new value by the end of its line, or the next, the value before the word is in doubt."""
        walk = self.walk
        fixing = walk.fixing
        if fixing is None or self.later or fixing.line == self.line.number:
            return
        walk.fixing = None
        doubt_unfixed(walk, fixing)


def doubt_unfixed(walk: Walk, fixing: Item) -> None:
    """A correcting word to which no new value was found: what was said before it is in doubt."""
    if fixing.text.lower() in CHATTER:
        return
    doubt_outlets(walk, fixing)
    if walk.fixed_last is not None:
        _doubt(walk.fixed_last[0].get(walk.fixed_last[1]), fixing)


def doubt_outlets(walk: Walk, fixing: Item) -> None:
    """The outlets spoken of right before a correcting word that was not understood are in doubt."""
    if fixing.text.lower() in CHATTER:
        return
    for outlet in walk.fixed_outlets:
        _doubt(outlet.place, fixing)


def _doubt(reading: Reading[Any] | None, fixing: Item) -> None:
    if reading is not None and reading.status in ("read", "corrected") and reading.value is not None:
        reading.status = "doubtful"
        why = f"{fixing.text!r} was said after it"
        reading.why = f"{why}; {reading.why}" if reading.why else why

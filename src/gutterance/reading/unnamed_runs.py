"""Runs told without a name that the reader knows: `the linkway is 12 foot 3, cap each end`.

The run in focus has its length and ends already, so that another length with ends behind it tells another
run. It is put down as one, every value of it in doubt, lest it change the run before.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import STRUCTURE
from gutterance.reading.places import PlaceName
from gutterance.reading.stretch_words import StretchWords

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.items import Item

FARTHEST_END = 9
"""Within so many items behind the length of a run its ends are told."""
LONGEST_NAME = 3
"""A name nobody knows has no more words than this."""
NOT_IN_NAMES = ("ing", "ed", "ly", "s")
"""Endings of words that are rather what somebody does, or how."""
BEHIND_ENDS = frozenset({"outlet", "downpipe", "cue", "ends at", "measure", "count", "same", "fix", "was"})
"""What right before a number says that it is no run's length."""
WHY = "a length with ends behind it, and no run that the reader knows: which run is it?"


class UnnamedRuns(StretchWords):
    """A run of its own for a length that the run in focus cannot take."""

    def _opens_unnamed_run(self, item: Item, run: RunDraft) -> bool:
        """Whether a number can only be the length of a run that was not named."""
        found = item.found
        if found is None or found.kind == "other" or "cue" in item.marks or self._is_small(item):
            return False
        if len(found.amounts) < 2 and not any(amount.unit in ("foot", "metre") for amount in found.amounts):
            return False
        if not self._has_its_ends(run):
            return False
        before = next((o for o in reversed(self.items[: self.number]) if o.kind != "filler"), None)
        if before is not None and before.kind in BEHIND_ENDS:
            return False
        told = [
            o for o in [*self.items[self.number + 1 :], *self.later][:FARTHEST_END] if o.kind in STRUCTURE
        ]
        return bool(told) and told[0].kind in ("end", "end word", "end pair")

    def _has_its_ends(self, run: RunDraft) -> bool:
        """Whether both ends of a run were told, each in some way."""
        sided = sum(f"{side}_end" in run.fields for side in ("left", "right"))
        return sided + len(run.unsided) >= len(("left", "right"))

    def _focus_unnamed(self, item: Item) -> RunDraft:
        """The run brought into focus for such a length, under the words before it or a number."""
        walk = self.walk
        words = self._words_of_name()
        name = " ".join(word.text.lower() for word in words)
        place = PlaceName(part=name, own=True) if name else PlaceName(number=walk.next_number())
        run = walk.focus(place, words[0] if words else item)
        run.unnamed = True
        walk.focus_line = self.line.number
        item.doubts.append(WHY)
        return run

    def _words_of_name(self) -> list[Item]:
        """The words nobody knows between `the` and `is`, right before a length."""
        at = self.number - 1
        while at >= 0 and (self.items[at].kind in ("filler", "colon") or self.items[at].strength == 1):
            at -= 1
        words: list[Item] = []
        while at >= 0 and self.items[at].kind in ("word", "landmark") and self.items[at].text.isalpha():
            words.insert(0, self.items[at])
            at -= 1
        if not 1 <= len(words) <= LONGEST_NAME or words[-1].text.lower().endswith(NOT_IN_NAMES):
            return []
        opened = (
            self.items[at].text.lower() in ("the", "that", "a", "then the", "and the") if at >= 0 else True
        )
        return words if opened or self.items[at].kind == "break" else []

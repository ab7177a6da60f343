"""Numbers told again: put right with `it's eighteen now`, quoted (`I said thirty`), or echoed."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.length import Length
from gutterance.reading.builder import put
from gutterance.reading.discourse import FIELD_KIND, same_numbers
from gutterance.reading.stretch_words import StretchWords

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.items import Item
    from gutterance.sheet.models import Reading

IT_IS = frozenset({"it's", "its", "is", "it is", "that's", "thats", "'s"})
"""Words before a number that holds from now on."""
INCHES_A_FOOT = 12
FARTHEST_APART = 2
"""A value put right is no more than this many times the one before it."""
NEAREST_LINES = 2
"""A value told again stands at most so many lines behind the first."""


class NumbersAgain(StretchWords):
    """What is said once more of a value that was told right before."""

    def _told_again(self, item: Item) -> bool:
        """Whether a number with no word of what it measures is the last value once more, or put right."""
        last = self.walk.last_length
        if last is None or last[1] not in FIELD_KIND or item.found is None or item.found.kind == "other":
            return False
        if not 0 <= item.line - last[2].line <= NEAREST_LINES:
            return False
        return (
            self._holds_now(item)
            or self._every_so_many(item)
            or self._inches_behind_feet(item)
            or self._more_exactly(item)
            or self._part_again(item)
        )

    def _holds_now(self, item: Item) -> bool:
        """`Twenty was to the old board, it's eighteen now`: the last value, put right."""
        walk = self.walk
        behind, before = self._item_after(), self._item_before()
        if behind is None or behind.text.lower() != "now" or before is None or walk.last_length is None:
            return False
        if before.text.lower() not in IT_IS or any(
            other.kind in ("place", "cue", "outlet", "downpipe") for other in self.items[: self.number]
        ):
            return False
        fields, name, _ = walk.last_length
        reading, old = walk.length(item, name), fields.get(name)
        if reading is None or reading.value is None or old is None or old.value is None:
            walk.give_back(item)
            return False
        apart = max(reading.value.inches, old.value.inches) / (
            min(reading.value.inches, old.value.inches) or 1
        )
        if apart > FARTHEST_APART:
            reading.status, reading.why = "doubtful", f"said to hold now, but of what?; {reading.why}"
        for held in self._held_with_last(name):
            put(held, name, reading.model_copy(deep=True), fixed=True)
        walk.last = walk.last_length = (fields, name, item)
        return True

    def _held_with_last(self, name: str) -> list[dict[str, Reading[object]]]:
        """The fields of every pipe, or the run, that took the same words as the last value did."""
        fields, _, said = self.walk.last_length or ({}, "", None)
        if said is None or name not in ("height", "wall_to_fascia"):
            return [fields]
        pipes = [outlet.pipe.fields for run in self.walk.runs for outlet in run.outlets]
        spot = (said.line, said.start)
        return [
            held
            for held in pipes
            if held is fields
            or (name in held and any((s.line, s.start) == spot for s in held[name].source[:1]))
        ]

    def _every_so_many(self, item: Item) -> bool:
        """`Hangers every 24. It's snow country. Every 16.`: told twice, and it is asked which."""
        walk, before = self.walk, self._item_before()
        if walk.last_length is None or walk.last_length[1] != "hanger_spacing" or before is None:
            return False
        if before.text.lower() not in ("every", "at"):
            return False
        reading = walk.length(item, "hanger_spacing")
        if reading is None:
            return False
        walk.put(walk.last_length[0], "hanger_spacing", reading, item)
        return True

    def _part_again(self, item: Item) -> bool:
        """`... three quarters of an inch. So three quarters`; `Eighteen two` / `Two?`."""
        last = self.walk.last_length
        found = item.found
        old = last[0].get(last[1]) if last is not None else None
        if found is None or found.kind != "bare" or len(found.amounts) != 1 or found.value is None:
            return False
        if old is None or not isinstance(old.value, Length) or not self._alone():
            return False
        inches = old.value.inches
        parts = {inches % 1, inches % INCHES_A_FOOT} - {0}
        if self.walk.dialogue:
            parts.add(Fraction(inches // INCHES_A_FOOT))
        if found.value not in parts:
            return False
        self.walk.use(item)
        old.source = [*old.source, item.source()]
        return True

    def _alone(self) -> bool:
        """Whether the number is all that its sentence measures or names."""
        return not any(
            other.kind in ("place", "outlet", "downpipe", "cue", "end", "end word", "side", "lr")
            for other in self.items
        )

    def _inches_behind_feet(self, item: Item) -> bool:
        """`Eleven foot, seven and an eighth.`: the inches of the feet right before."""
        walk, found = self.walk, item.found
        before = self.items[self.number - 2] if self.number > 1 else None
        if walk.last_length is None or found is None or before is None or before is not walk.last_length[2]:
            return False
        fields, name, _ = walk.last_length
        old = fields.get(name)
        feet = before.found.amounts if before.found is not None else ()
        parted = self.items[self.number - 1].kind == "break" and self.items[self.number - 1].strength == 1
        if not parted or old is None or old.value is None or [amount.unit for amount in feet] != ["foot"]:
            return False
        if found.kind != "bare" or len(found.amounts) != 1 or not 0 < (found.value or 0) < INCHES_A_FOOT:
            return False
        walk.use(item)
        assert found.value is not None
        new = old.model_copy(deep=True)
        new.value = Length(old.value.inches + found.value, old.value.system)
        new.source = [*old.source, item.source()]
        new.why = "its inches stand behind a comma"
        if found.value.denominator == 1:
            new.status, new.why = "doubtful", "the number behind the comma taken for its inches"
        fields[name] = new
        walk.last = walk.last_length = (fields, name, item)
        return True

    def _more_exactly(self, item: Item) -> bool:
        """`I get thirty-nine and, I can't see the hook. Thirty-nine seven?`: begun again, and finished."""
        walk, found = self.walk, item.found
        if walk.last_length is None or found is None or len(found.amounts) != len(("39", "7")):
            return False
        fields, name, said = walk.last_length
        begun = said.found.amounts if said.found is not None else ()
        if len(begun) != 1 or begun[0].value != found.amounts[0].value or not self._alone():
            return False
        reading = walk.length(item, name)
        if reading is None:
            return False
        if "?" in item.text and reading.status == "read":
            reading.status, reading.why = "doubtful", f"said with a question mark; {reading.why}"
        put(fields, name, reading, fixed=True)
        walk.last = walk.last_length = (fields, name, item)
        return True

    def _quoted(self, item: Item, run: RunDraft) -> bool:
        """`Back up, right side, I said thirty and a quarter inch`: its length in other words."""
        walk = self.walk
        said = any(other.kind == "was" for other in self.items[max(0, self.number - 2) : self.number])
        old = run.fields.get("length")
        if not said or old is None or item.found is None:
            return False
        if not same_numbers(old, item):
            return False
        walk.use(item)
        old.source = [*old.source, item.source()]
        walk.last = walk.last_length = (run.fields, "length", item)
        return True

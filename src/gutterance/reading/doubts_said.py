"""What the measurer says is missing or unsure: `didn't get the back`, `42-6?`, `height to check`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.stretch_words import StretchWords
from gutterance.sheet.models import Reading

if TYPE_CHECKING:
    from gutterance.reading.items import Item

UNSURE = frozenset({"not sure", "unsure", "to check", "to confirm", "to be confirmed", "tbc"})
"""Words that, behind a number, say that it is in doubt, not that one is missing."""


class DoubtsSaid(StretchWords):
    """Values that the note itself says are missing, or in doubt."""

    def _cue(self, item: Item) -> None:
        """A cue with no number: missing, where the words say so."""
        if item.marks.get("used"):
            return
        self.walk.use(item)
        if any(other.kind == "unknown" and not self.question for other in self.items):
            self._missing(item)

    def _missing(self, cue: Item) -> None:
        """Put a field as missing, with the words that say so."""
        walk = self.walk
        name = "height" if cue.value == "down" else cue.value
        why = self.line.source(self.items[0].start, self.items[-1].end)
        reading = Reading[Any](value=None, status="missing", source=[why], why=f"the note says: {why.text}")
        if walk.run is None:
            return
        if name in ("wall_to_fascia", "height"):
            side = next((o for o in self.items if o.kind in ("side", "lr") and o.value in OPPOSITE), None)
            there = [o for o in walk.run.outlets if side is not None and o.side == side.value]
            if there:
                # `didn't get the height of the right one`
                walk.outlets = there
            walk.pipe_value(name, reading, cue)
        elif name in ("length", "roof_run"):
            walk.put(walk.run.fields, name, reading, cue)

    def _unknown(self, item: Item) -> None:
        """`didn't get the back`, `42-6?`: a field said to be missing, or a number in doubt."""
        walk = self.walk
        walk.use(item)
        before = self._item_before()
        if item.text.startswith("?") and before is not None and before.kind == "measure":
            self._doubt_last(before)
            return
        if any(other.kind == "cue" and not other.marks.get("used") for other in self.items):
            return
        if (
            walk.last is not None
            and walk.last[2] in self.items[: self.number]
            and item.text.lower() in UNSURE
        ):
            self._doubt_last(walk.last[2])
            return
        if walk.header is not None and walk.header_line == item.line and walk.run is not None:
            self._missing(walk.header)
            return
        run = walk.run
        if item.text.startswith("?") and walk.dialogue:
            return
        if run is not None and self.new_run_here and "length" not in run.fields and not run.outlets:
            why = self.line.source(self.items[0].start, self.items[-1].end)
            reading = Reading[Any](
                value=None, status="missing", source=[why], why=f"the note says: {why.text}"
            )
            walk.put(run.fields, "length", reading, item)

    def _doubt_last(self, before: Item) -> None:
        """Put a question mark's doubt on the value said last, if it is of that number."""
        last = self.walk.last
        if last is None or last[2] is not before:
            return
        reading = last[0].get(last[1])
        if reading is not None:
            reading.status = "doubtful"
            reading.why = (
                f"{reading.why}; the measurer put a question mark"
                if reading.why
                else "the measurer put a question mark"
            )

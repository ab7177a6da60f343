"""What a word or a sign of a note can mean, by slot: its own key first, then the trade's signs and words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.lexicon import short_ends
from gutterance.reading.shorthand.signs import Meaning, built_in_signs

if TYPE_CHECKING:
    from collections.abc import Mapping

    from gutterance.reading.lexicon import Term

SLOT_OF = {
    "direction": "name", "part": "name", "storey": "name", "lr": "side", "side": "side", "end": "end",
    "end word": "end", "outlet": "pipe", "downpipe": "pipe", "ends at": "ending", "no": "none",
    "same": "same", "except": "except", "quarter": "quarter", "end pair": "end pair",
}  # fmt: skip
"""The slot of a trade word by its concept."""
CUES = {"wall_to_fascia": "wall_to_fascia", "height": "height", "down": "height"}
NOT_HERE = frozenset({"back", "out", "over", "gate", "stop", "in", "up", "off"})
"""Words of the list that say too little by themselves to be looked at in a row."""


class Meanings:
    """The meanings of a note's words and signs by slot. `key` is what the note itself explains."""

    def __init__(self, terms: Mapping[str, Term], key: Mapping[str, tuple[str, Meaning]]) -> None:
        self.terms = terms
        self.key = key
        self._found: dict[str, dict[str, Meaning]] = {}

    def knows(self, text: str) -> bool:
        """Whether a word or a sign is explained by the key or known to the trade."""
        return bool(self.of(text))

    def of(self, text: str) -> dict[str, Meaning]:
        """What a text means in each slot: nothing but what the key says, where it does."""
        if text not in self._found:
            self._found[text] = self._of(text)
        return self._found[text]

    def explained(self, text: str) -> bool:
        """Whether the note's own key says what a text means."""
        return self._by_key(text) is not None

    def _by_key(self, text: str) -> tuple[str, Meaning] | None:
        if text in self.key:
            return self.key[text]
        if len(text) > 1:
            return next((said for short, said in self.key.items() if short.lower() == text.lower()), None)
        return None

    def _of(self, text: str) -> dict[str, Meaning]:
        said = self._by_key(text)
        low = text.lower()
        found = dict(built_in_signs().get(low, {}))
        pair = short_ends().get(low)
        if pair is not None:
            found.setdefault("end", Meaning(pair))
        term = self.terms.get(low)
        if term is not None and low not in NOT_HERE and not (term.cased and term.phrase != text):
            slot, meaning = self._slot(term)
            if slot is not None and meaning is not None:
                before = found.get(slot)
                if before is None or before.value == meaning.value:
                    found[slot] = meaning
        if said is not None:
            slot, meaning = said
            keeps = ("name", "to") if slot == "end" else ("name", "side", "to")
            if slot == "name" or len(text) == 1 or not found:
                # a letter of the key may still name a run or a side: `W` beside `w=wall`
                found = {name: one for name, one in found.items() if name in keeps}
            else:
                found = {name: one for name, one in found.items() if name in keeps and name != "to"}
            found[slot] = meaning
        return found

    @staticmethod
    def _slot(term: Term) -> tuple[str | None, Meaning | None]:
        if term.concept == "cue":
            value = CUES.get(term.value)
            return ("cue", Meaning(value)) if value is not None else (None, None)
        slot = SLOT_OF.get(term.concept)
        if slot is None:
            return None, None
        if slot == "name":
            value = term.value or term.phrase
            return slot, Meaning(f"{term.concept}: {value}")
        if slot == "pipe":
            return slot, Meaning("downpipe")
        return slot, Meaning(term.value)

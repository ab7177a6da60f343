"""What the verbs and nouns before a number make it measure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.prose.pipes_listed import PipesListed
from gutterance.reading.prose.pipes_told import OF_PIPES

if TYPE_CHECKING:
    from gutterance.reading.prose.chunks import Chunk

ONLY_REFERRED = frozenset(
    {"above", "against", "around", "behind", "below", "beneath", "between", "beyond", "down to",
     "from", "inside", "into", "join", "joining", "joins", "like", "meet", "meeting", "meets",
     "off", "on to", "onto", "opposite", "out of", "outside", "over", "past", "round to", "round",
     "than", "through", "to", "under", "unlike", "up to", "with"}
)  # fmt: skip
"""Words before a name by which it is only referred to."""
KNOWN_SUBJECTS = frozenset(
    {"board", "count", "direction", "drops", "each", "end", "face of part", "flank of part",
     "flank", "flanks", "former", "hand", "has", "it", "its", "latter", "length", "measures",
     "near", "next door", "no", "number", "one", "part", "pipe", "pipes", "run noun", "same",
     "side", "stands out", "which"}
)  # fmt: skip
"""Kinds of chunks before a verb that a sentence about a gutter has for its subject."""


class VerbsTold(PipesListed):
    """The subject of each clause, and what a number behind its verb would measure."""

    def _verb(self, number: int) -> None:
        chunk = self.chunks[number]
        kind = chunk.kind
        before = self._before(number)
        if kind in ("is", "measures") and self._stranger_before(number):
            if self.subject != "other" and self._in_subordinate(number):
                self.main_subject = self.subject
            self.subject = "other"
        if kind == "is" or kind == "measures":
            self.role = {"run": "length", "pipe": "height", "other": "aside"}.get(self.subject, self.subject)
        elif kind == "length":
            self.subject = self.role = "length" if self.subject != "pipe" else "height"
        elif kind == "drops":
            if self.subject == "other" and self._stranger_before(number):
                self.role = "aside"
            else:
                self.role = "height"
                if (before is not None and before.kind in ("det", "comma", "join")) or self._noun(number):
                    self.subject = "height"
        elif kind == "stands out":
            self.role = "wall_to_fascia"
            if self._noun(number):
                self.subject = "wall_to_fascia"
        elif kind == "board":
            referred = before is not None and before.kind == "prep" and before.text in ONLY_REFERRED
            if not referred:
                self.subject = "wall_to_fascia"
                self.role = None
        elif kind == "run noun":
            before_it = self.chunks[number - 1] if number else None
            behind = self.chunks[number + 1] if number + 1 < len(self.chunks) else None
            if before is not None and before.kind == "has" and self.subject == "run" and self.role is None:
                self.role = "gap"
            if behind is not None and behind.text == "of" and before_it is not None:
                self.role = "length" if self.topic.runs else None
            elif before is None or (
                before.kind in ("comma", "join", "semi", "prep")
                and before.text not in ONLY_REFERRED
                and not (before.text == "of" and self.subject in OF_PIPES)
            ):
                self.subject = "run"

    def _in_subordinate(self, number: int) -> bool:
        """`because the yard is lower,`: whether a verb stands in a clause that a comma will end."""
        for chunk in reversed(self.chunks[:number]):
            if chunk.kind in ("comma", "semi"):
                return False
            if chunk.kind == "join":
                return chunk.text not in ("and", "but", "or")
        return False

    def _stranger_before(self, number: int) -> bool:
        """Whether a noun that nobody knows is the subject of a verb: `the passage is only 900 wide`."""
        words: list[Chunk] = []
        known = False
        for place in range(number - 1, -1, -1):
            if self.chunks[place].kind in ("comma", "semi", "join", "which"):
                break
            if place < self.name_end:
                return False
            words.append(self.chunks[place])
            other = self.chunks[place].kind in ("about other things", "the house")
            if other and not self._is_object(place):
                return True
            known = known or (self.chunks[place].kind in KNOWN_SUBJECTS and not self._is_object(place))
        if known:
            return False
        return any(chunk.kind == "det" for chunk in words) and any(chunk.kind == "word" for chunk in words)

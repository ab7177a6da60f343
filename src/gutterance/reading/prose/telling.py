"""What one sentence tells: its chunks taken in order, with what it is about and what a number would measure.

A sentence is read as a whole or not at all: where a number of it found no place, it tells nothing here.
"""

from __future__ import annotations

from gutterance.reading.prose.facts import Pipes
from gutterance.reading.prose.names_told import NamesTold
from gutterance.reading.prose.naming import name_at


class Telling(NamesTold):
    """One sentence on its way to facts: what it tells in `facts` and `pipes`, numbers left over in `lost`."""

    def tell(self) -> None:
        """Take every chunk in order."""
        number = 0
        while number < len(self.chunks):
            number = self._take(number)
        self._close_end()
        for fact in self.unsided:
            self._settle(fact)
        for one in self.pipes:
            one.open = False
        for runs in self.likened:
            if any(not self._has_length(place) for place in runs):
                self.unclear.append("same")  # `and the back is the same`

    def _take(self, number: int) -> int:
        chunk = self.chunks[number]
        listed = self._take_listed(number)
        if listed is not None:
            return listed
        if chunk.kind == "pipes" and self._begins_list(number):
            self.listing = True
            self.topic.kind = self.subject = "pipe"
            return number + 1
        named = name_at(self.chunks, number)
        if named is not None:
            self.name_end = named.behind
            if self._side_of_pipe(named):
                side = (named.direction or "").removesuffix(" side")
                self._set_side(side, self.chunks[number].item(self.line))
                return named.behind
            if self._is_towards(named):
                return self._side_by_neighbour(named)
            return self._name(named)
        kind = chunk.kind
        if "same" in chunk.text.split() or kind == "same":
            self.likened.append(list(self.topic.runs))
        if kind == "hand":
            return self._hand(number)
        if kind == "next door":
            return self._next_door(number)
        if self._water_leaves(number):
            self._new_pipe(number)
            return number + 1
        if kind == "it":
            if chunk.text in ("that one", "this one") and self.told_at is not None:
                self.topic.pipes = Pipes(list(self.topic.runs), sides=[self.told_at])
            if not self._is_object(number) and self.subject == "other":
                self.subject = self.topic.kind
        elif kind == "which":
            self._which(number)
        elif kind == "each":
            if self.open_end is not None and number and self.chunks[number - 1].text in ("at", "on"):
                self.open_end.plural = True  # `a stop end at both`
        elif kind in ("former", "latter"):
            self._former(kind)
        elif kind in ("is", "measures", "drops", "stands out", "length", "board", "run noun"):
            self._verb(number)
        elif kind in ("pipe", "pipes"):
            self._pipe(number)
        elif chunk.text == "another":
            self._another(number)
        elif kind == "side":
            self._said_side(chunk.value, number)
        elif kind in ("end", "boundary"):
            self._end(number)
        elif kind == "out behind" and "house wall" in chunk.text and self.subject == "run":
            self._end_of_sides(chunk)
        elif kind == "corner":
            return self._corner(number)
        elif kind in ("comma", "semi") and self.main_subject is not None:
            self.subject, self.main_subject = self.main_subject, None
        elif kind == "dest":
            self._dest(number)
        elif kind == "number":
            return self._number(number)
        elif kind == "one":
            self._one(number)
        return number + 1

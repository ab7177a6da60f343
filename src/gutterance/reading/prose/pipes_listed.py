"""`Four downpipes, two at the front and two at the back, one at each end`: the pipes of a job as a list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.prose.facts import Pipes
from gutterance.reading.prose.naming import name_at
from gutterance.reading.prose.pipes_told import PipesTold

if TYPE_CHECKING:
    from gutterance.reading.prose.naming import Named

PLACED = frozenset({"at", "on", "for", "along"})
"""Words between a pipe of a list and its run."""
PAIR = 2


class PipesListed(PipesTold):
    """Pipes that are told as a sum first, and then by their runs."""

    def _begins_list(self, number: int) -> bool:
        """Whether the pipes of a sentence about no run are told one by one behind the next mark."""
        if self.focused or self.facts or self.pipes:
            return False
        for place in range(number + 1, len(self.chunks)):
            if self.chunks[place].kind in ("comma", "semi"):
                return self._listed(place + 1) is not None
        return False

    def _listed(self, number: int) -> Named | None:
        """The run of `two at the front`, if such a thing begins here."""
        if number + 2 >= len(self.chunks) or self.chunks[number].kind not in ("count", "one"):
            return None
        if self.chunks[number + 1].text not in PLACED:
            return None
        here = number + 2
        while here < len(self.chunks) and self.chunks[here].kind == "det":
            here += 1
        named = name_at(self.chunks, here) if here < len(self.chunks) else None
        return None if named is None or self._is_towards(named) else named

    def _take_listed(self, number: int) -> int | None:
        """Take one of the list, or `one at each end` of those told; the chunk behind it, or None."""
        if not self.listing:
            return None
        chunk = self.chunks[number]
        named = self._listed(number)
        places = self.topic.places(named, self.walk) if named is not None else None
        if named is not None and places is not None:
            count = int(chunk.value) if chunk.kind == "count" and chunk.value.isdigit() else 1
            self._close_pipes()
            self.pipes.append(Pipes(places, count, new=True, item=chunk.item(self.line)))
            self.topic.runs, self.topic.pipes = places, self.pipes[-1]
            self.topic.kind = self.subject = "pipe"
            self.focused = True
            return named.behind
        pairs = [one for one in self.pipes if one.count == PAIR and not one.sides]
        if pairs and chunk.kind == "side" and chunk.value == "both":
            item = chunk.item(self.line)
            for one in pairs:
                one.sides = [("left", item), ("right", item)]
            return number + 1
        return None

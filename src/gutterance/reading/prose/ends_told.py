"""How runs end and at which side things are, as a sentence tells it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.prose.facts import Fact
from gutterance.reading.prose.naming import name_at
from gutterance.reading.prose.sentence_words import SentenceWords
from gutterance.reading.prose.topic import SIDES_OF_A_PART

if TYPE_CHECKING:
    from gutterance.reading.items import Item
    from gutterance.reading.prose.chunks import Chunk

AT_A_BOUNDARY = frozenset({"at", "with", "on", "to", "against", "up to"})
"""Words before a party line at which a run ends: along it, it does not."""
SOON = 6
"""So many chunks ahead the side of an end may still be said."""


class EndsTold(SentenceWords):
    """Sides and ends, each waiting for the other in whatever order they are said."""

    def _said_side(self, value: str, number: int) -> None:
        item = self.chunks[number].item(self.line)
        if value == "other":
            if (
                self.open_end is not None
                and number > 1
                and [c.text for c in self.chunks[number - 2 : number]] == ["to", "the"]
            ):
                self.open_end.plural = True  # `from one outside corner to the other`
                return
            if self.chunks[number].text == "other":
                behind = self.chunks[number + 1] if number + 1 < len(self.chunks) else None
                ends = behind is None or behind.kind in ("comma", "semi", "join", "prep", "is", "end", "det")
                if not ends or self.last_end is None:
                    return
            last = self.last_end.side if self.last_end is not None else ""
            pipe = self._open_pipe()
            if pipe is not None and (self.open_end is None):
                last = pipe.sides[-1][0] if pipe.sides else ""
            self._set_side(OPPOSITE.get(last, "?"), item)
            return
        self._set_side(value, item)

    def _set_side(self, side: str, item: Item, *, weak: bool = False) -> None:
        """A side said: of the end or the pipe that waits for one, else of what comes next."""
        here, self.side_at = self.side_at, item.start
        if self.open_end is not None:
            if side == "?":
                return
            self.open_end.side = side
            self.last_end, self.open_end = self.open_end, None
            return
        again = self.last_end if self.facts and self.last_end is self.facts[-1] else None
        other = OPPOSITE.get(again.side) if again is not None else None
        if (
            here is not None
            and again is not None
            and side == other
            and self._only_joins(here, item.start)
            and not self._end_ahead(item.start)
            and self._closes_behind(item)
        ):
            self.facts.append(Fact("end", list(again.runs), again.item, value=again.value, side=side))
            return
        pipe = self._open_pipe()
        if pipe is not None and self.subject in ("pipe", "height"):
            if side == "both":
                pipe.sides = [("left", item), ("right", item)]
            elif pipe.sides and pipe.sides[-1][0] == "?":
                pipe.sides[-1] = (side, item)
            elif len(pipe.sides) < pipe.count:
                pipe.sides.append((side, item))
            elif weak or any(side == one for one, _ in pipe.sides) or side == "?":
                return
            else:
                pipe.guessed = "two different ends are said of it"
            return
        if not self._gives_a_reason(item.start):
            self.side = (side, item)

    def _gives_a_reason(self, start: int) -> bool:
        """`because the kitchen sticks out on the left`: a side of something else."""
        for chunk in reversed([chunk for chunk in self.chunks if chunk.start < start]):
            if chunk.kind in ("comma", "semi", "number"):
                return False
            if chunk.text in ("because", "since"):
                return True
        return False

    def _closes_behind(self, item: Item) -> bool:
        """Whether a clause ends with a side: what follows in one would say how that side ends."""
        behind = next((chunk for chunk in self.chunks if chunk.start >= item.end), None)
        return behind is None or behind.kind in ("comma", "semi", "join", "which") or behind.text == "as well"

    def _end_ahead(self, start: int) -> bool:
        """Whether the clause of a side goes on to an end or a pipe: the side is of that."""
        for chunk in self.chunks:
            if chunk.start > start:
                if chunk.kind in ("comma", "semi"):
                    return False
                if chunk.kind in ("end", "boundary", "pipe", "pipes", "turns", "corner", "no"):
                    return True
        return False

    def _only_joins(self, first: int, last: int) -> bool:
        """`at its left and again at its right`: whether nothing but little words stands between two sides."""
        between = [chunk for chunk in self.chunks if first < chunk.start < last]
        return all(
            chunk.kind in ("join", "prep", "det", "its") or chunk.text in ("again", "also", "another")
            for chunk in between
        )

    def _end(self, number: int) -> None:
        chunk = self.chunks[number]
        if self.subject == "other":
            return
        before = self._before(number)
        if before is not None and before.kind == "no":
            return
        if chunk.kind == "boundary" and (before is None or before.text not in AT_A_BOUNDARY):
            return
        if not self.topic.runs:
            self.unclear.append(chunk.text)
            return
        last = self.last_end
        if last is not None and self.open_end is None and last.runs == self.topic.runs:
            again = last.value == chunk.value and self.side is None and not self._side_ahead(number)
            if again:
                # `finishes at the party line with a stop end`: the same end in other words
                if chunk.kind == "boundary":
                    self.topic.told_end(last.side, "next door")
                return
        if self.open_end is not None and self.open_end.value == chunk.value:
            self.open_end.plural = self.open_end.plural or (before is not None and before.text == "to")
            return
        self._close_end()
        fact = Fact("end", list(self.topic.runs), chunk.item(self.line), value=chunk.value)
        fact.plural = chunk.text.split()[-1] in ("ends", "caps", "corners", "angles", "mitres", "miters")
        if (
            all(place.part and place.direction in SIDES_OF_A_PART for place in fact.runs)
            and len(fact.runs) > 1
        ):
            fact.side = {"wall": "inner", "inside corner": "inner", "outside corner": "outer"}.get(
                chunk.value, ""
            )
            self.facts.append(fact)
            self.last_end = fact
            return
        self.facts.append(fact)
        if self.side is not None and self.side[0] != "?":
            fact.side = self.side[0]
            self.side = None
            self.last_end = fact
            if chunk.kind == "boundary":
                self.topic.told_end(fact.side, "next door")
        else:
            self.open_end = fact

    def _end_of_sides(self, chunk: Chunk) -> None:
        """`the two returns coming out from the house wall`: where the sides of a part begin."""
        sides = [place for place in self.topic.runs if place.part and place.direction in SIDES_OF_A_PART]
        if sides and len(sides) == len(self.topic.runs):
            item = chunk.item(self.line)
            self.facts.append(Fact("end", sides, item, value="wall", side="inner"))

    def _side_ahead(self, number: int) -> bool:
        """Whether a side is said before the clause ends: `and a stop end at the left`."""
        for chunk in self.chunks[number + 1 : number + 1 + SOON]:
            if chunk.kind in ("comma", "semi", "join"):
                return False
            if chunk.kind in ("hand", "side"):
                return True
        return False

    def _corner(self, number: int) -> int:
        """`out to the corners`, `corner to corner`: told only where it can be no other."""
        of_part = self.topic.runs and all(place.part and place.direction for place in self.topic.runs)
        chunk = self.chunks[number]
        before = self._before(number)
        behind = self._corner_by_name(number, number + 1)
        if behind is not None:
            return behind
        if of_part and self.subject == "run" and not (before is not None and before.kind == "no"):
            front = all(place.direction == "front" for place in self.topic.runs)
            fact = Fact("end", list(self.topic.runs), chunk.item(self.line), value="outside corner")
            fact.side = "both" if front else "outer"
            if self.open_end is None:
                self.facts.append(fact)
        return number + 1

    def _corner_by_name(self, number: int, here: int) -> int | None:
        """`the corner at the front to the one at the rear`: where two sides of a house meet.

        Gives the chunk behind, or None where the corner is called by no neighbour.
        """
        if [chunk.text for chunk in self.chunks[here : here + 3]] == ["to", "the", "one"]:
            here += 3
        if here >= len(self.chunks) or self.chunks[here].text not in ("at", "with", "by", "of"):
            return None
        here += 1
        while here < len(self.chunks) and self.chunks[here].kind == "det":
            here += 1
        named = name_at(self.chunks, here) if here < len(self.chunks) else None
        if named is None or named.part is not None or named.direction is None:
            return None
        side = self.topic.side_towards(named.direction)
        of_pipe = self._open_pipe() is not None and self.subject == "pipe"
        if side not in OPPOSITE or of_pipe or any(place.part for place in self.topic.runs):
            return None
        item = self.chunks[number].item(self.line)
        self.facts.append(Fact("end", list(self.topic.runs), item, value="outside corner", side=side))
        if [chunk.text for chunk in self.chunks[named.behind : named.behind + 3]] == ["to", "the", "one"]:
            return self._corner_by_name(number, named.behind) or named.behind
        return named.behind

    def _settle(self, fact: Fact) -> None:
        """Give an end its side: both, where it is said of several; the other one, where one was told."""
        if fact.plural:
            fact.side = "both"
            return
        told = self._told_sides(fact)
        if len(told) == 1 and len(fact.runs) == 1:
            side, value = next(iter(told.items()))
            if value == fact.value:
                self.facts.remove(fact)
            else:
                fact.side = OPPOSITE[side]
        elif len(told) > 1 and fact.value in told.values():
            self.facts.remove(fact)

    def _told_sides(self, fact: Fact) -> dict[str, str]:
        """The ends of the same run told before, by their sides."""
        sides: dict[str, str] = {}
        for run in self.walk.runs:
            if run.place == fact.runs[0]:
                for side in OPPOSITE:
                    if f"{side}_end" in run.fields:
                        sides[side] = str(run.fields[f"{side}_end"].value)
        for other in self.facts:
            if other.name == "end" and other is not fact and other.runs == fact.runs:
                for side in ("left", "right") if other.side == "both" else (other.side,):
                    if side in OPPOSITE:
                        sides[side] = other.value
        return sides

"""Each number of a sentence on its way to a fact."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.prose.down_to_ground import ground_is_uneven
from gutterance.reading.prose.facts import Fact, Pipes
from gutterance.reading.prose.measuring import role_behind
from gutterance.reading.prose.naming import name_at
from gutterance.reading.prose.pipes_told import OF_PIPES
from gutterance.reading.prose.verbs_told import VerbsTold

if TYPE_CHECKING:
    from gutterance.reading.items import Item
    from gutterance.reading.places import PlaceName

NUMBERED = frozenset({"room", "number", "plot", "flat", "unit", "house", "page", "part", "class"})
"""Words whose number is a name."""
DIFFERENCE = frozenset({"different", "difference", "longer", "shorter", "more", "less", "higher", "lower"})
"""Words behind a number by which two others differ."""
SIDED = frozenset({"left", "right", "both"})
"""Sides that a distance may be said from."""
FARTHEST_DOUBT = 14
"""A word of doubt reaches over so many chunks either way."""
YEARS = (1800, 2100)
"""A bare whole number within this behind `in` is a year."""


class NumbersTold(VerbsTold):
    """Numbers, by the words behind them, else by what verb and subject make of them."""

    def _number(self, number: int) -> int:
        chunk = self.chunks[number]
        item = chunk.measure
        assert item is not None
        role, behind = role_behind(self.chunks, number, self.subject)
        if role is None:
            role = self.role
            if role == "gap":
                role = "length" if self.subject == "run" else None
        if role in (None, "length") and self.subject in ("run", "height") and behind == number + 1:
            role = self._not_its_length(item, number) or role
        previous = self.chunks[number - 1] if number else None
        if (
            role is None
            and self.subject == "run"
            and previous is not None
            and previous.text in ("for", "after")
        ):
            role = "length"  # `it goes on for 9.4 metres`, `stops after 8.1`
        if role is None and self.subject == "pipe" and previous is not None and previous.kind == "comma":
            told = [fact.name for fact in self.facts if fact.name in OF_PIPES]
            if told[-1:] == ["height"]:
                role = (
                    "height"  # `one on the front, nine foot two high, and one on the back, nine foot eleven`
                )
        if previous is not None and previous.text in NUMBERED:
            role = "aside"
        if previous is not None and previous.text in ("in", "since", "of") and _is_year(item):
            role = "aside"
        if self.subject == "other" or self._beside_the_measuring(number):
            role = "aside"
        if item.found is not None and any("difference" in doubt for doubt in item.found.doubts):
            self.aside.append(item)  # `an inch longer than the front`
            return number + 1
        after = self.chunks[number + 1] if number + 1 < len(self.chunks) else None
        if after is not None and after.text in DIFFERENCE:
            self.aside.append(item)
            return number + 1
        doubts = self._doubts_near(number)
        if role in OF_PIPES:
            self._pipe_value(role, item, behind, doubts)
        elif role == "length":
            self._length(item, doubts)
        elif role == "distance" and self.pipes:
            if self.pipes[-1].distance is not None:
                self.lost.append(item)
            else:
                self._distance(item, behind)
        elif role == "aside":
            self.aside.append(item)
        else:
            self.lost.append(item)
        if not self.one_by_one and role != "aside":
            self.role = self.kept_role
        return self._past_place(max(behind, number + 1))

    def _distance(self, item: Item, behind: int) -> None:
        """`one 6 feet in from the left end and the other at the right`: the distance of one pipe only."""
        pipes = self.pipes[-1]
        pipes.distance = item
        after = next((chunk for chunk in self.chunks[behind : behind + 5] if chunk.value in SIDED), None)
        if after is not None:
            pipes.distance_of = None if after.value == "both" else len(pipes.sides)
        elif len(pipes.sides) == 1:
            pipes.distance_of = 0

    def _not_its_length(self, item: Item, number: int) -> str | None:
        """What a number measures of runs whose length was told: what the number before it did, or the height.

        `5.2 at the front, but on the back 5.4`: a run has one length.
        """
        if not self.topic.runs or not all(self._has_length(place) for place in self.topic.runs):
            return None
        if all(self._is_length(place, item) for place in self.topic.runs):
            return None
        told = [fact.name for fact in self.facts]
        if told and told[-1] in OF_PIPES:
            return told[-1]
        return "height" if ground_is_uneven(self.chunks, number) else "other length"

    def _is_length(self, place: PlaceName, item: Item) -> bool:
        """Whether a number is the length told of a run, told again."""
        told = [fact.item.found for fact in self.facts if fact.name == "length" and place in fact.runs]
        here = item.found
        if any(one is not None and here is not None and one.amounts == here.amounts for one in told):
            return True
        sources = [
            source
            for run in self.walk.runs
            if run.place == place and "length" in run.fields
            for source in run.fields["length"].source
        ]
        return any(source.text == item.text for source in sources)

    def _past_place(self, behind: int) -> int:
        """Past the place or the side that a number was said for: it is no new subject."""
        if self.kept_role is None:
            return behind
        while behind < len(self.chunks) and self.chunks[behind].kind in ("prep", "det"):
            behind += 1
        named = name_at(self.chunks, behind) if behind < len(self.chunks) else None
        self.kept_role = None
        return named.behind if named is not None else behind + 1

    def _side_behind(self, behind: int) -> tuple[str, Item] | None:
        """`6.1 at the left and 6.25 at the right`: the end that a number is said for."""
        if behind >= len(self.chunks) or self.chunks[behind].text not in ("at", "on", "for"):
            return None
        behind += 1
        while behind < len(self.chunks) and self.chunks[behind].kind in ("det", "one"):
            behind += 1
        chunk = self.chunks[behind] if behind < len(self.chunks) else None
        if chunk is None or chunk.kind not in ("hand", "side") or chunk.value not in OPPOSITE:
            return None
        return chunk.value, chunk.item(self.line)

    def _several_pipes(self) -> bool:
        """Whether the runs in mind have more than one pipe."""
        here = sum(max(len(one.sides), one.count) for one in self.pipes if one.runs == self.topic.runs)
        return here + sum(len(run.outlets) for run in self.walk.runs if run.place in self.topic.runs) > 1

    def _beside_the_measuring(self, number: int) -> bool:
        """`is rotten for about two metres`: whether what is broken or dangerous is measured."""
        for place in range(number - 1, -1, -1):
            chunk = self.chunks[place]
            if chunk.kind in ("comma", "semi", "join", "number"):
                return False
            if any(
                item.kind == "remark"
                and item.value in ("repair", "hazard")
                and chunk.start <= item.start < chunk.end
                for item in self.line.items
            ):
                return True
        return False

    def _length(self, item: Item, doubts: list[str]) -> None:
        runs = self.topic.runs
        if not runs:
            self.lost.append(item)
            return
        if self.one_by_one and len(runs) > 1:
            place = self.listed.get("length", 0)
            self.listed["length"] = place + 1
            if place >= len(runs):
                self.lost.append(item)
                return
            runs = [runs[place]]
        if any(self._has_length(place) and not self._is_length(place, item) for place in runs):
            self.lost.append(item)  # a run has one length
            return
        self.facts.append(Fact("length", list(runs), item, doubts=doubts))
        self.subject = "run"

    def _pipe_value(self, name: str, item: Item, behind: int, doubts: list[str]) -> None:
        after = self.chunks[behind : behind + 3]
        if any(chunk.kind == "of all" for chunk in after[:2]):
            self.facts.append(Fact(name, [], item, everywhere=True, doubts=doubts))
            return
        both = self._of_both(behind)
        if both is not None:
            self.facts.append(Fact(name, [], item, pipes=Pipes(both), doubts=doubts))
            self.topic.pipes = Pipes(both)
            return
        before, side = self.side, self._side_behind(behind)
        if side is None and before is not None and before[0] in OPPOSITE and self._several_pipes():
            self.side = None
            here = Pipes(list(self.topic.runs), sides=[before])
            self.facts.append(Fact(name, [], item, pipes=here, doubts=doubts))
            self.topic.pipes = here
            return
        if side is not None and self.topic.runs and self._several_pipes():
            self.facts.append(
                Fact(name, [], item, pipes=Pipes(list(self.topic.runs), sides=[side]), doubts=doubts)
            )
            self.kept_role, self.told_at = name, side
            return
        placed = self._place_behind(behind)
        if placed is not None:
            self.kept_role = name
        pipes = self.topic.pipes
        if placed is not None:
            pipes = Pipes(placed)
            self.topic.runs, self.topic.pipes = placed, pipes
        elif pipes is None:
            if not self.topic.runs:
                self.lost.append(item)
                return
            pipes = self.topic.pipes = Pipes(list(self.topic.runs))
        if self.one_by_one:
            place = self.listed.get(name, 0)
            self.listed[name] = place + 1
            if len(pipes.runs) > 1 and place < len(pipes.runs):
                pipes = Pipes([pipes.runs[place]])
            elif len(pipes.sides) > 1 and place < len(pipes.sides):
                pipes = Pipes(pipes.runs, sides=[pipes.sides[place]])
        self.facts.append(Fact(name, [], item, pipes=pipes, doubts=doubts))

    def _of_both(self, behind: int) -> list[PlaceName] | None:
        """`fourteen inches on both`, where the job has two pipes on two runs: those runs."""
        words = [chunk.text for chunk in self.chunks[behind : behind + 2]]
        if words[1:] not in (["both"], ["each"], ["both of them"]) or words[0] not in ("on", "for", "at"):
            return None
        runs = [run.place for run in self.walk.runs if run.outlets]
        runs += [place for one in self.pipes for place in one.runs if place not in runs]
        if len(runs) != len(("both", "of them")):
            self.unclear.append("both")
        return runs

    def _place_behind(self, behind: int) -> list[PlaceName] | None:
        """`5.2 at the front and 5.4 at the back`: the run named right behind a number."""
        here = behind
        if here >= len(self.chunks) or self.chunks[here].text not in ("at", "on", "in", "for", "along"):
            return None
        here += 1
        while here < len(self.chunks) and self.chunks[here].kind == "det":
            here += 1
        named = name_at(self.chunks, here) if here < len(self.chunks) else None
        if named is None:
            return None
        return self.topic.places(named, self.walk)

    def _doubts_near(self, number: int) -> list[str]:
        near = self.chunks[max(0, number - FARTHEST_DOUBT) : number + FARTHEST_DOUBT]
        said = next((chunk.text for chunk in near if chunk.kind == "doubt"), None)
        return [f"the words {said!r} stand near it"] if said is not None else []


def _is_year(item: Item) -> bool:
    """Whether a number can be a year: four digits with no unit."""
    value = item.found.value if item.found is not None and item.found.kind == "bare" else None
    return value is not None and value.denominator == 1 and YEARS[0] <= value < YEARS[1]

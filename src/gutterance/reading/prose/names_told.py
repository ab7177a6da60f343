"""The names of a sentence: a run that comes into mind, one only referred to, or a neighbour's end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.prose.facts import Fact, Pipes
from gutterance.reading.prose.numbers_told import NumbersTold
from gutterance.reading.prose.pipes_told import OF_PIPES
from gutterance.reading.prose.topic import SIDES_OF_A_PART
from gutterance.reading.prose.verbs_told import ONLY_REFERRED

if TYPE_CHECKING:
    from gutterance.reading.places import PlaceName
    from gutterance.reading.prose.naming import Named

SUBORDINATE = frozenset({"because", "since", "if"})
"""Words that open a clause of its own, within which a name is only referred to."""
TURNED_TO = frozenset({"to", "on to", "round to", "onto", "round", "around", "off"})
"""Words by which a sentence comes to its subject: `round the back it is longer`."""
OF_A_RUN = frozenset(
    {"hand", "side", "pipe", "pipes", "run noun", "length", "stands out", "drops", "board", "number", "one",
     "count", "near", "each", "flank", "direction"}
)  # fmt: skip
"""Kinds of chunks that a run has: before `of the front` they make it what is told of."""


class NamesTold(NumbersTold):
    """Names, and words that stand in for them."""

    def _side_by_neighbour(self, named: Named) -> int:
        key = named.part or named.direction or named.shape
        side = self.topic.side_towards(key)
        number = named.behind
        if number < len(self.chunks) and self.chunks[number].text in ("end", "corner", "ends"):
            number += 1
        before = self._before(named.first)
        if side:
            self._set_side(side, self.chunks[named.behind - 1].item(self.line))
        elif before is None or before.kind != "near":
            self._set_side("?", self.chunks[named.behind - 1].item(self.line))
        return max(number, named.first + 1)

    def _name(self, named: Named) -> int:
        chunks = self.chunks
        before = self._before(named.first)
        places = self.topic.places(named, self.walk)
        text = before.text if before is not None else ""
        text_kind = before.kind if before is not None else ""
        referred = before is not None and (
            before.kind in ("same", "turns", "corner", "end", "near", "about other things", "board")
            or (before.kind in ("prep", "goes to") and text in ONLY_REFERRED)
        )
        if referred and text in TURNED_TO and not self.focused and not self.facts:
            referred = False  # `that brings me to the back`
        if referred and before is not None and before.kind in ("same",) and not self.focused:
            referred = True
        if self.focused and (text == "where" or text in SUBORDINATE):
            referred = True  # `where the garage comes forward to meet it`
        if self.focused and self._in_where_clause(named.first):
            referred = True  # `, where I could walk along the deck,`
        article = self.chunks[named.first - 1].text if named.first else ""
        if self.focused and named.shape == "part" and text_kind == "is" and article in ("a", "an"):
            referred = True  # `the byre is a lean-to`
        if self.focused and text == "for" and not self._number_before(named.first):
            referred = True  # `if it were not for the sun room`
        if text == "of" and not self._heads_name(named.first):
            referred = True  # `the wall of the sun room`
        if not referred and places is not None and self._noun_of_pipe_before(named.first):
            if named.shape != "part" or not all(place.part == named.part for place in self.topic.runs):
                self.topic.runs, self.topic.pipes = places, None
            return named.behind
        if referred:
            if self.last_end is not None:
                key = named.part or named.direction or ("flank" if named.shape == "flank" else "")
                if self.last_end.side in OPPOSITE and key:
                    self.topic.told_end(self.last_end.side, key)
                    places = self.topic.places(named, self.walk)
            self.last_named = places
            if places and places[0].direction in SIDES_OF_A_PART and named.shape == "wall":
                self.topic.last_side = places
            return named.behind
        if places is None and named.shape == "flank" and article in ("that", "this"):
            places = self.topic.last_side  # `round to the right side. That side is twelve feet`
        if places is not None and self._same_value(named.first):
            told = next(fact for fact in reversed(self.facts) if fact.name in OF_PIPES)
            self.facts.append(Fact(told.name, [], told.item, pipes=Pipes(places), doubts=list(told.doubts)))
            return named.behind
        if places is None:
            self.unclear.append(self.line.text[chunks[named.first].start : chunks[named.behind - 1].end])
            return named.behind
        if text == "of" and self._side_just_said(named.first):
            self._retarget(places)
            return named.behind
        if self._pipe_just_told(named.first):
            pipe = self.pipes[-1]
            pipe.runs = self.topic.runs = places
            self.topic.told = [*self.topic.told, *places][-6:]
            self.focused = True
            return named.behind
        joined = (
            before is not None
            and before.text == "and"
            and self.focused
            and self.role is None
            and not self.facts
            and self.subject == "run"
            and not named.its
            and (named.shape == "part") == all(place.direction is None for place in self.topic.runs)
            and self._joined_names(named)
        )
        self._close_end()
        self._close_pipes()
        if joined:
            self.topic.runs = [*self.topic.runs, *places]
        else:
            self.topic.runs = places
        if named.shape == "part" or named.part is not None:
            self.topic.part = named.part
        elif named.of_house or (named.shape == "wall" and all(place.part is None for place in places)):
            self.topic.part = None
        self.topic.told = [*self.topic.told, *places][-6:]
        self.topic.pipes = None
        self.topic.kind = self.subject = "run"
        self.focused = True
        self.side = None
        self.role = (
            "gap"
            if self.role == "gap"
            or (self.facts and (before is None or before.kind in ("comma", "join", "semi")))
            else None
        )
        behind = chunks[named.behind] if named.behind < len(chunks) else None
        if behind is not None and behind.kind in ("one", "pipe") and self.topic.kind == "run":
            # `the front one`, `the rear pipe`
            self._existing(places)
            return named.behind + 1
        return named.behind

    def _same_value(self, first: int) -> bool:
        """`310 from the wall at the front and the same at the back`, `and that is true of the back`."""
        if not self.facts or self.facts[-1].name not in OF_PIPES or not self.facts[-1].item.end:
            return False
        since = [c for c in self.chunks[:first] if c.start >= self.facts[-1].item.end]
        words = [word for chunk in since for word in chunk.text.split()]
        return not any(chunk.kind == "number" for chunk in since) and bool({"same", "true"} & set(words[-5:]))

    def _in_where_clause(self, first: int) -> bool:
        """Whether a name stands behind a `where` or `although`, with no mark or number between."""
        for chunk in reversed(self.chunks[:first]):
            if chunk.kind in ("comma", "semi", "number"):
                return False
            if chunk.text in ("where", "although", "though"):
                return True
        return False

    def _side_just_said(self, first: int) -> bool:
        """`at the left of the face`: whether a side of the run named stands right before it."""
        place = first - 1
        while place >= 0 and self.chunks[place].kind in ("det", "its"):
            place -= 1
        return (
            place > 0 and self.chunks[place].text == "of" and self.chunks[place - 1].kind in ("hand", "side")
        )

    def _retarget(self, places: list[PlaceName]) -> None:
        """What the side was just said of is of the run named behind it."""
        pipe = self._open_pipe()
        end = self.last_end if self.last_end in self.facts[-1:] else None
        if pipe is not None and self.subject == "pipe":
            pipe.runs = places
            self.topic.runs = places
            return
        if end is not None and self.side is None:
            end.runs = places
        self.topic.runs, self.topic.pipes = places, None
        self.topic.kind = self.subject = "run"
        self.focused = True

    def _number_before(self, first: int) -> bool:
        """`7.45 for the back`: whether a number stands before the little word before a name."""
        return any(chunk.kind in ("number", "it") for chunk in self._leading(first)[1:2])

    def _heads_name(self, first: int) -> bool:
        """`the pipe of the front`: whether what stands before an `of` is something that a run has."""
        before = self._leading(first)[1:2]
        return not before or before[0].kind in OF_A_RUN

    def _pipe_just_told(self, first: int) -> bool:
        """`one downpipe on the front`: whether a pipe first told stands right before the little word."""
        before = self._leading(first)[:2]
        return (
            len(before) == 2
            and before[0].text in ("on", "for", "along", "at", "to")
            and before[1].kind in ("pipe", "pipes", "one")
            and self._open_pipe() is not None
            and not self.pipes[-1].sides
        )

    def _noun_of_pipe_before(self, first: int) -> bool:
        """`the overhang on the garage being 200`: a name that only says where something was measured."""
        before = self._leading(first)[:2]
        return (
            len(before) == 2
            and before[0].kind == "prep"
            and before[0].text in ("on", "at", "of", "along", "for")
            and before[1].kind in ("stands out", "drops", "board")
            and self.subject in OF_PIPES
        )

    def _joined_names(self, named: Named) -> bool:
        """`The front and the back are each 9.2`: two names before one verb."""
        behind = list(self.chunks[named.behind : named.behind + 3])
        return any(chunk.kind in ("is", "measures", "has", "each") for chunk in behind[:2])

    def _hand(self, number: int) -> int:
        """`left`, `right`: an end of what is told of, one of its pipes, or a house of a pair."""
        chunk = self.chunks[number]
        behind = self.chunks[number + 1] if number + 1 < len(self.chunks) else None
        if behind is not None and behind.kind == "one of a pair":
            self.topic.flank = f"{chunk.value} side"
            return number + 2
        if behind is not None and behind.kind in ("one", "pipe", "dest"):
            if behind.kind in ("one", "pipe"):
                self._existing(self.topic.runs)
                if self.topic.pipes is not None:
                    self.topic.pipes.sides = [(chunk.value, chunk.item(self.line))]
                return number + 2
            return number + 1
        before = self._before(number)
        placed = before is None or before.kind in (
            "prep",
            "comma",
            "join",
            "near",
            "is",
            "pipe",
            "pipes",
            "end",
            "number",
        )
        if placed and not (
            behind is not None
            and behind.kind in ("part", "word", "the house")
            and behind.text
            not in (
                "as",
                "looking",
                "facing",
                "however",
                "there",
                "also",
                "too",
                "only",
                "alone",
                "again",
                "simply",
                "just",
            )
        ):
            self._set_side(chunk.value, chunk.item(self.line))
        return number + 1

    def _next_door(self, number: int) -> int:
        """`hard by the neighbours`: at the end that is theirs."""
        before = self._before(number)
        if before is not None and (before.kind == "near" or before.text in ("at", "with", "to", "against")):
            side = self.topic.side_towards("next door")
            if side and before.kind == "near":
                self._set_side(side, self.chunks[number].item(self.line), weak=True)
        return number + 1

    def _which(self, number: int) -> None:
        before = self.chunks[number - 1] if number else None
        if before is not None and before.kind == "comma" and number > 1:
            before = self.chunks[number - 2]
        if (
            before is not None
            and self.last_named is not None
            and before.kind
            in (
                "direction",
                "flank",
                "part",
                "the house",
                "face of part",
            )
            and self.role is None
            and self._verb_behind(number)
        ):
            self._close_end()
            self.topic.runs = self.last_named
            self.topic.kind = self.subject = "run"
            self.focused = True
        elif before is not None and before.kind in ("pipe", "pipes"):
            self.subject = "pipe"

    def _verb_behind(self, number: int) -> bool:
        """Whether a verb of a run follows: `which is`, `which again finishes`."""
        behind = self.chunks[number + 1 : number + 3]
        return any(
            chunk.kind in ("is", "measures", "has", "end", "turns", "same") for chunk in behind
        ) and not any(chunk.text.startswith(("we ", "you ", "i ")) for chunk in behind)

    def _former(self, kind: str) -> None:
        told = list(dict.fromkeys(self.topic.told))
        if len(told) < 2:
            self.unclear.append(kind)
            return
        self.topic.runs = [told[-2] if kind == "former" else told[-1]]
        self.topic.pipes = None
        self.subject = "pipe" if self.topic.kind == "pipe" else "run"
        if self.subject == "pipe":
            self.topic.pipes = Pipes(self.topic.runs)

"""Questions and answers: what is asked aloud, and which words of the next lines answer it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.discourse import FIELD_KIND, OPPOSITE
from gutterance.reading.places_said import PlacesSaid
from gutterance.reading.stretch_words import LONGEST_WAIT

if TYPE_CHECKING:
    from gutterance.reading.items import Item


OF_A_THING = frozenset(
    {"tall", "high", "long", "across", "down", "out", "sticks out", "stands out", "sits out", "comes out"}
)
"""Words that ask for a number only behind `how`: `the tall one` says nothing."""
MOST_WORDS_BEHIND = 2
"""More unknown words than this behind a cue, and nothing was asked."""


NOTHING = frozenset({"none", "nil", "nothing", "n/a"})
"""Words that deny, and put nothing right."""


class QuestionsSaid(PlacesSaid):
    """Questions asked aloud, and their answers: `how high is it` ... `nine four`; `drops?` ... `none`."""

    def _answer_question(self) -> None:
        """A field asked for aloud is answered no more once a place or its own number is said, or too late."""
        asked = self.walk.asked
        if asked is None:
            return
        if self.line.number - asked.line > LONGEST_WAIT and any(
            item.kind == "measure" for item in self.items
        ):
            self.walk.asked = None
            return
        if (
            asked.line == self.line.number
            and asked.value in FIELD_KIND
            and any(item.kind == "place" for item in self.items)
            and not any(item.kind == "cue" for item in self.items)
        ):
            # `Height of the downpipes? 17-8 at the front, 18-0 at the back`
            self.walk.header, self.walk.header_line = asked, self.line.number
        if any(item.kind == "place" for item in self.items) or any(
            item.kind == "measure" and "cue" in item.marks and item.marks["cue"].value == asked.value
            for item in self.items
        ):
            self.walk.asked = None

    def _leave_question(self) -> None:
        """`how high is it` with no number in the line: the next bare number answers it."""
        if any(
            item.kind == "measure" and not item.marks.get("remark") and "offset" not in item.marks
            for item in self.items
        ):
            open_cues = [
                i
                for i in self.items[self._last_measure() + 1 :]
                if i.kind == "cue" and not i.marks.get("used")
            ]
        else:
            open_cues = [i for i in self.items if i.kind == "cue" and not i.marks.get("used")]
        if not open_cues or any(item.kind in ("unknown", "same") and item.text != "?" for item in self.items):
            return
        cue = open_cues[-1]
        if cue.value not in FIELD_KIND:
            return  # `a single slope falling to the front`
        before = [other.text.lower() for other in self.items[: self.items.index(cue)]][-2:]
        if (cue.text.lower() in OF_A_THING or cue.value == "offset") and not any(
            word.startswith("how") for word in before
        ):
            return
        place = self.items.index(cue)
        if any(
            other.text.lower() in ("no", "theres no", "there's no", "without")
            for other in self.items[max(0, place - 2) : place]
        ):
            return
        if self.later and self.later[0].kind == "place":
            # `heights: front 9-2, back 9-8`: one cue for the numbers of all the runs of the line
            self.walk.header, self.walk.header_line = open_cues[-1], self.line.number
        else:
            self.walk.asked = open_cues[-1] if self._ends_with(place) or self.walk.dialogue else None

    def _ends_with(self, place: int) -> bool:
        """Whether nothing of meaning stands behind that place: the words of a question, no story."""
        behind = self.items[place + 1 :]
        words = sum(other.kind == "word" for other in behind)
        return words <= MOST_WORDS_BEHIND and all(
            other.kind in ("filler", "colon", "mark", "break", "unknown", "word") for other in behind
        )

    def _last_measure(self) -> int:
        """Where the last number of the stretch stands, or -1."""
        return max((n for n, item in enumerate(self.items) if item.kind == "measure"), default=-1)

    def _ask(self) -> None:
        """A question aloud: what it names comes into focus, and nothing is put on the sheet."""
        for number, item in enumerate(self.items):
            self.number = number
            if item.kind == "place":
                self._place(item)
            elif item.kind == "cue":
                self.walk.asked = item
            elif item.kind in ("outlet", "downpipe"):
                self.walk.asked_outlet = item
            elif item.kind in ("side", "lr") and item.value in OPPOSITE:
                self.walk.asked_side = item
            self.walk.use(item)

    def _no(self, item: Item) -> None:
        """`no`, `none`: an answer, a denial of the next thing, or a correcting word."""
        asked, self.walk.asked_outlet = self.walk.asked_outlet, None
        if (
            asked is not None
            and item.text.lower() in ("none", "no", "nil")
            and self.walk.run is not None
            and not self.walk.run.outlets
        ):
            self.walk.run.no_outlet = item.source()
            self.walk.use(item)
            follower = self._next_said()
            if follower is not None and follower.kind in ("outlet", "downpipe"):
                self.negative = item  # `no drop`: the word behind it is what there is none of
            return
        nxt = self._next_said()
        run = self.walk.run
        if item.text.lower() in NOTHING and (nxt is None or nxt.kind == "break"):
            # `OC both. none.`: where the others tell their pipes, and no correction
            if run is not None and not run.outlets and run.fields and run.no_outlet is None:
                run.no_outlet = item.source()
                run.source.extend(item.sources())
            self.walk.use(item)
            return
        if nxt is not None and nxt.kind in ("outlet", "downpipe", "end"):
            self.negative = item
            self.walk.use(item)
        elif nxt is None or nxt.kind in ("break", "side", "measure", "place", "word", "remark"):
            self.walk.fixing = item

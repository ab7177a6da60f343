"""Which way a run was walked, where its words say so: `going left`, `right to left`, `back toward the house`.

Ends told without their sides are told in the order of the walk: from left to right, unless the words say
otherwise.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE, RECTANGLE
from gutterance.reading.stretch_words import StretchWords

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.items import Item

TO_THE_LEFT = re.compile(
    r"\b(?:(?:from )?right to left|(?:going|heading|working|walking|moving) left)\b", re.IGNORECASE
)
"""Words for a walk from the right end of a run to its left."""
TO_THE_RIGHT = re.compile(
    r"\b(?:(?:from )?left to right|(?:going|heading|working|walking|moving) right)\b", re.IGNORECASE
)
"""Words for a walk from the left end of a run to its right."""
TO_THE_HOUSE = re.compile(
    r"\b(?:back|in|running|runs|going|goes|coming|comes) (?:in )?(?:to|towards?|into|up to) the"
    r" (?:main )?house\b",
    re.IGNORECASE,
)
"""Words for a walk along the side of a porch or a garage, from its front to the house."""
GOING = frozenset({"going", "heading", "working", "walking", "moving"})
"""Words before a left or right that say which way somebody went."""
BOTH_ENDS = 2
"""With more ends told than this, `back to the house` is none of them."""
AT_ITS_FRONT = {"left side": "right", "right side": "left"}
"""Which end of the side of something that stands out is at its front."""


class WalkingWay(StretchWords):
    """The end of a run that a walk along it began at."""

    def _forget_ways(self) -> None:
        """`going left`: no side that something is at."""
        for before, item in pairwise(self.items):
            if item.kind in ("lr", "side") and before.text.lower() in GOING and item.value in OPPOSITE:
                item.kind = "filler"
        others = [item for item in self.items if item.kind in ("end", "end word", "end pair")]
        for item in others:
            if item.value == "wall" and item.text.lower().startswith("back to") and len(others) > BOTH_ENDS:
                item.kind = "filler"  # `back to the house 11 foot 3, outside corner, inside corner`

    def _hear_way(self) -> None:
        """Take the words that say which way a run was walked."""
        run = self.walk.run
        if run is None or not self.items or not any(item.kind == "place" for item in self.items):
            return
        near = self._near_end(run, self.line.text[self.items[0].start : self.items[-1].end])
        if near is not None:
            run.near, run.way_told = near, True

    def _near_end(self, run: RunDraft, words: str) -> str | None:
        """Which end the walk along a run began at, or None where nothing says it."""
        if TO_THE_LEFT.search(words):
            return "right"
        if TO_THE_RIGHT.search(words):
            return "left"
        if run.place.part is not None and run.place.direction in AT_ITS_FRONT and TO_THE_HOUSE.search(words):
            return AT_ITS_FRONT[run.place.direction]
        return next((end for end in map(self._end_it_comes_from, self.items) if end is not None), None)

    def _end_it_comes_from(self, item: Item) -> str | None:
        """`the left side from the front back is ...`: the end at the run that it comes from."""
        run = self.walk.run
        if item.kind != "ref" or item.value is None or run is None or run.place.part != item.value.part:
            return None
        at = self.items.index(item)
        words = [
            other.text.lower() for other in self.items[max(0, at - 2) : at] if other.text.lower() != "the"
        ]
        behind = [other for other in self.items[at + 1 :] if other.kind != "filler"][:1]
        measured = bool(behind) and behind[0].kind in ("measure", "walk")
        if words[-1:] != ["from"] or not measured:
            return None
        return RECTANGLE.get((run.place.direction or "", item.value.direction or ""))

"""Sides said alone: which outlet a left, a right or a middle is of, when no word for one stands beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.builder import OutletDraft, RunDraft
from gutterance.reading.discourse import PIPE_CUES
from gutterance.reading.outlets_said import OutletsSaid
from gutterance.reading.stretch_words import LONGEST_WAIT

if TYPE_CHECKING:
    from gutterance.reading.items import Item


class SidesSaid(OutletsSaid):
    """Sides with nothing beside them: `... and one in the middle`, `left one w/f 24`, `one each end`."""

    def _side(self, item: Item) -> None:
        """A side that belongs to nothing beside it: `... and one in the middle`, `left one w/f 24`."""
        walk = self.walk
        run = walk.run
        if item.marks.get("used") or run is None:
            return
        thing = self.last_thing
        if run.no_outlet is not None and not run.outlets and thing is None:
            return
        asked = walk.asked_outlet
        if asked is not None and item.line - asked.line > LONGEST_WAIT:
            asked = walk.asked_outlet = None
        denied = [o for o in run.outlets if any(was.value == o.side for was in item.was)]
        if denied and item.value in ("left", "right", "centre"):
            walk.outlets = denied[-1:]  # `it goes on the left, not the right`
            self._move_side(item)
            return
        if walk.fixing is not None and walk.last is not None and thing is None:
            self._move_side(item)
            return
        listed = item.marks.get("sides", ["left", "right"] if item.value == "both" else [])
        if listed and walk.outlets and all(outlet.side is None for outlet in walk.outlets):
            self._place_each(item, run, listed)
            return
        if asked is not None and item.value in ("left", "right", "centre", "both"):
            walk.outlets = [
                walk.outlet_at(place, item, walk.text(place, item, asked), None)
                for place in self._places_of(item)
                if place is not None
            ]
            self.last_thing = asked
            return
        if item.value == "both" and self._listed_here(item):
            walk.outlets = [
                walk.outlet_at(which, item, walk.text(which, item), None) for which in ("left", "right")
            ]
            return
        if item.value not in ("left", "right", "centre"):
            return
        unplaced = next((o for o in run.outlets if o.side is None and o.at_end is None), None)
        known = next((o for o in run.outlets if o.side == item.value), None)
        if known is not None:
            walk.outlets = [known]
            walk.use(item)
        elif unplaced is not None:
            unplaced.place = walk.text(item.value, item)
            walk.outlets = [unplaced]
        elif (
            self._another_of(thing)
            or self._second_one(run)
            or walk.pipe_list
            or (thing is None and self._pipe_words_follow() and not run.outlets)
        ):
            walk.outlets = [walk.outlet_at(item.value, item, walk.text(item.value, item), None, new=True)]
        elif self._listed_here(item):
            place = walk.text(item.value, item)
            if not self._said_one():
                place.status = "doubtful"
                place.why = "an outlet was spoken of before, and only a side here"
            walk.outlets = [walk.outlet_at(item.value, item, place, None, new=True)]

    def _far_end(self, item: Item) -> None:
        """`a drop at the left and one at the far end`: the end across from the drop said last."""
        if item.marks.get("used") or not self._another_of(self.last_thing):
            return
        sides = self._which_sides(item, of_ends=False)
        if len(sides) == 1:
            item.kind, item.value = "side", sides[0]
            self._side(item)

    def _second_one(self, run: RunDraft) -> bool:
        """`Second one on the same wall at the east end`: one more outlet of the run in focus."""
        words = {other.text.lower() for other in self.items[max(0, self.number - 7) : self.number]}
        return bool(run.outlets) and bool(words & {"second", "another", "third"}) and "one" in words

    def _said_one(self) -> bool:
        """Whether `one` or `another` stands in the words right before this side."""
        before = self.items[max(0, self.number - 6) : self.number]
        return any(other.kind == "count" or other.text.lower() in ("another", "one") for other in before)

    def _listed_here(self, item: Item) -> bool:
        """`one outlet at the left of the front and one at the right of the back`: the second of them."""
        listed = self.walk.list_thing
        return (
            listed is not None
            and listed.line == item.line
            and any(other.kind == "place" for other in self.items)
            and not any(other.kind in ("end", "end word", "outlet", "downpipe") for other in self.items)
        )

    def _another_of(self, thing: Item | None) -> bool:
        """`a drop at the left and another at the right`: one more of the thing said before."""
        if thing is None or thing.kind not in ("outlet", "downpipe") or thing not in self.items:
            return False
        between = self.items[self.items.index(thing) + 1 : self.number]
        words = {other.text.lower() for other in between}
        plain = not any(other.kind == "word" for other in between)
        return bool(words & {"and", "another", "one", "&", "+", "plus"}) and (plain or self._said_one())

    def _place_each(self, item: Item, run: RunDraft, sides: list[str]) -> None:
        """`two drops ... one each end`, `drops 2: L, R`."""
        walk = self.walk
        first = walk.outlets[0]
        kept = [outlet for outlet in run.outlets if not any(outlet is other for other in walk.outlets)]
        walk.outlets = [
            OutletDraft(
                place=walk.text(which, item),
                pipe=first.pipe if which == sides[0] else OutletDraft().pipe,
                source=list(first.source),
            )
            for which in sides
        ]
        for other in walk.outlets[1:]:
            other.pipe.fields.update(
                {name: reading.model_copy(deep=True) for name, reading in first.pipe.fields.items()}
            )
        run.outlets[:] = [*kept, *walk.outlets]

    def _pipe_words_follow(self) -> bool:
        for other in [*self.items[self.number + 1 :], *self.later]:
            if other.kind == "cue":
                return other.value in PIPE_CUES
            if other.kind == "measure" and "cue" in other.marks and other.marks["cue"].kind == "cue":
                return other.marks["cue"].value in PIPE_CUES
            if other.kind == "ends at":
                return True
            if other.kind in ("end", "place"):
                return False
        return False

"""Outlets and downpipes said: where on the run each is, and how far from an end."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.builder import OutletDraft, RunDraft
from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.stretch_words import StretchWords
from gutterance.sheet.models import Reading

if TYPE_CHECKING:
    from gutterance.reading.items import Item


class OutletsSaid(StretchWords):
    """What is said of outlets: `drop left`, `two dps, both ends`, `outlet 12 in from the right`."""

    def _outlet(self, item: Item) -> None:
        """An outlet or a pipe: where it is, how many there are, or that there is none."""
        walk = self.walk
        if item.marks.get("total") or self._in_totals() or self._only_its_size():
            return
        walk.use(item)
        run = walk.run
        if self.negative is not None or item.marks.get("count") == 0 or self._none_follows():
            self.negative = None
            if run is not None:
                run.no_outlet = item.source()
                run.source.extend(item.sources())
            return
        if run is None or item.marks.get("all"):
            return
        self._count_instead_of_copies(item, run)
        side: Item | None = item.marks.get("side")
        if side is None:
            self._unplaced_outlet(item, run, item.marks.get("count", 1))
        elif side.kind == "measure":
            self._offset(side, item)
        else:
            drafts = []
            old = [o for o in run.outlets if any(was.value == o.side for was in side.was)]
            if old and side.value in (*OPPOSITE, "centre"):
                # `the dp is right, not left`
                walk.outlets = old[-1:]
                self._move_side(side)
                self.last_thing = item
                return
            between = self.items[self.number + 1 :]
            fix = next((o for o in between if o.kind == "fix" and item.start < o.start < side.start), None)
            if fix is not None and len(run.outlets) == 1:
                # `the drop is actually on the right`
                walk.fixing = fix
            if (
                walk.fixing is not None
                and side.value in (*OPPOSITE, "centre")
                and run.outlets
                and not self._said_new()
            ):
                walk.outlets = [run.outlets[-1]]
                self._move_side(side)
                self.last_thing = item
                return
            for place in self._places_of(side):
                reading = walk.text(place, item, side) if place is not None else None
                if (
                    reading is not None
                    and item.plural
                    and side.value in OPPOSITE
                    and "count" not in item.marks
                ):
                    reading.status, reading.why = "doubtful", "more than one was spoken of, and one side"
                if reading is not None and side.was:
                    reading.status, reading.why = "corrected", "corrected by the measurer"
                    places = [old for old in side.was if old.value in (*OPPOSITE, "centre")]
                    reading.was = [walk.text(old.value, old) for old in places]
                drafts.append(
                    walk.outlet_at(place, item, reading, None, new=self._said_new() and place is None)
                )
            if side.value == "named" and drafts:
                walk.use(side)
                drafts[-1].place = Reading[Any](
                    value=None,
                    status="doubtful",
                    source=[item.source(), side.source()],
                    why=f"said to be at the end by {side.marks['named'].name}: not known which end that is",
                )
            walk.outlets = drafts
        self._doubt_places(item)
        self.last_thing = item
        walk.list_thing = item

    def _count_instead_of_copies(self, item: Item, run: RunDraft) -> None:
        """`Same as the front. One pipe, at the left`: so many, with what the front's pipes have alike."""
        copies = [outlet for outlet in run.outlets if outlet.ditto]
        count = item.marks.get("count")
        if not copies or len(copies) != len(run.outlets) or count in (None, len(copies)) or self._said_new():
            return
        first = copies[0].pipe.fields
        alike = {
            name: reading
            for name, reading in first.items()
            if all(
                name in other.pipe.fields and other.pipe.fields[name].value == reading.value
                for other in copies
            )
        }
        run.outlets.clear()
        self.walk.outlets = []
        run.pending.update(alike)

    def _doubt_places(self, item: Item) -> None:
        """Make the places of the outlets just told doubtful, where the word for them is in doubt."""
        for outlet in self.walk.outlets if item.doubts else ():
            if outlet.place is not None and outlet.place.status == "read":
                outlet.place.status, outlet.place.why = "doubtful", "; ".join(item.doubts)

    def _only_its_size(self) -> bool:
        """`2x3 downpipe`, `Downpipe: 3x4`: the words name a size, not a pipe that stands somewhere."""
        near = [
            *self.items[max(0, self.number - 2) : self.number],
            *self.items[self.number + 1 : self.number + 3],
        ]
        return (
            any(
                other.kind == "measure"
                and other.found is not None
                and other.found.what in ("material size", "pipe size")
                for other in near
            )
            and "side" not in self.items[self.number].marks
        )

    def _none_follows(self) -> bool:
        """`Outlet: none`, `drops - no`."""
        for other in self.items[self.number + 1 : self.number + 4]:
            if other.kind == "no" and other.text.lower() in ("none", "nil", "0", "zero"):
                return True
            if other.kind == "count":
                return bool(other.value == 0)
            if other.kind not in ("colon", "break", "filler", "mark"):
                return False
        return False

    def _said_new(self) -> bool:
        """Whether the words before it say that it is another one."""
        words = [other.text.lower() for other in self.items[max(0, self.number - 2) : self.number]]
        return any(word in ("another", "a", "second", "one more") for word in words)

    def _places_of(self, side: Item) -> list[str | None]:
        """The places a side means for an outlet: an end, the middle, or [None] where it is not said."""
        if side.value == "centre":
            self.walk.use(side)
            return ["centre"]
        sides: list[str | None] = list(self._which_sides(side, of_ends=False))
        return sides or [None]

    def _unplaced_outlet(self, item: Item, run: RunDraft, count: int) -> None:
        """An outlet with no side beside it: a new one, one known, or as many as were counted."""
        walk = self.walk
        listed = any(other.kind == "place" and other.marks.get("listed") for other in self.later[:4])
        # `okay downspouts, the front has one each end`: the word only says what is told next
        behind = [
            o for o in [*self.items[self.number + 1 :], *self.later][:4] if o.kind not in ("filler", "break")
        ]
        heads = bool(behind) and behind[0].kind == "place" and "count" not in item.marks
        told_behind = bool(behind) and behind[0].kind == "place" and bool(behind[0].marks.get("listed"))
        if (
            (count >= 2 and self._places_follow())
            or (item.plural and (listed or heads))
            or (count == 1 and told_behind)  # `drop in the middle of the six foot bit`
        ):
            # `4 ds, both ends of front and both ends of back`: listed behind
            walk.list_thing = item
            walk.outlets = []
        elif count >= 2:
            run.outlets += [OutletDraft(source=item.sources()) for _ in range(count - len(run.outlets))]
            walk.outlets = list(run.outlets)
        elif (item.plural or self._both_near()) and run.outlets:
            walk.outlets = list(run.outlets)
        elif (item.plural or self._both_near()) and self._speaks_of_others():
            everyone = [outlet for other in walk.runs for outlet in other.outlets]
            walk.outlets = everyone[-2:] if self._both_near() else everyone
            walk.all_line = item.line
        elif self._both_near():
            after = self._item_after()
            sides = ("left", "right") if after is not None and after.text.lower() == "both" else (None, None)
            run.outlets += [
                OutletDraft(
                    place=None if side is None else walk.text(side, item, *([after] if after else [])),
                    source=item.sources(),
                )
                for side in sides
            ]
            walk.outlets = list(run.outlets)
        elif run.outlets:
            if not walk.outlets or self._said_new():
                walk.outlets = [run.outlets[-1]]
        else:
            walk.outlets = [walk.outlet_at(None, item, None, None)]

    def _places_follow(self) -> bool:
        """`4 downspouts, the front has two`: places behind, and no `left one` before them."""
        told = (other.kind for other in self.later if other.kind in ("place", "side", "lr"))
        return next(told, None) == "place"

    def _speaks_of_others(self) -> bool:
        """`Both pipes are nine foot six`: no run is named, and others than the one in focus have outlets."""
        here = self.walk.run
        own = (
            here is not None
            and "length" in here.fields
            and not here.outlets
            and here.no_outlet is None
            and self.walk.focus_line == self.line.number
            and not any(other.kind in ("measure", "cue", "ends at") for other in self.items)
        )
        return (
            not own
            and not any(other.kind == "place" for other in self.items)
            and any(run.outlets for run in self.walk.runs)
        )

    def _move_side(self, item: Item) -> None:
        """`drop right, sorry, the left`: the side just said is taken back."""
        walk = self.walk
        if walk.outlets and item.value in ("left", "right", "centre"):
            outlet = walk.outlets[-1]
            new = walk.text(item.value, item)
            if outlet.place is not None and outlet.place.value != item.value:
                new.was = [outlet.place]
                new.status, new.why = "corrected", "corrected by the measurer"
            outlet.place = new
        if walk.fixing is not None:
            walk.use(walk.fixing)
            walk.fixing = None

    def _of_high_point(self) -> bool:
        """`high point 14 feet from the left`: how far off something is that is no outlet."""
        for other in reversed(self.items[: self.number]):
            if other.kind in ("outlet", "downpipe"):
                return False
            if other.kind == "high point":
                return True
        return False

    def _side_told_last(self) -> str | None:
        """`dies into the porch on the right. One drop, 14 inches in`: the end that was told last."""
        last = self._last_side()
        if last:
            return last
        walk = self.walk
        if walk.last is None or walk.run is None or walk.last[0] is not walk.run.fields:
            return None
        side, _, what = walk.last[1].partition("_")
        return side if what == "end" else None

    def _offset(self, item: Item, thing: Item | None = None) -> None:
        """An outlet so far from an end."""
        walk = self.walk
        run = walk.run
        if item.marks.get("placed") or run is None:
            return
        item.marks["placed"] = True
        if thing is None and self._of_high_point():
            return
        target: Item = item.marks["offset"]
        reading = walk.length(item, "distance")
        if reading is None:
            return
        walk.use(target)
        side = (
            target.value
            if target.kind in ("side", "lr") and target.value in ("left", "right", "centre")
            else None
        )
        if target.kind == "far end":
            side = OPPOSITE.get(self._last_side(of_ends=False))
        elif target.kind == "end told last" or (target.kind == "near end" and _of_that_end(target)):
            side = self._side_told_last()
        if (
            side is None
            and target.kind in ("corner", "end word", "end")
            and walk.outlets
            and walk.outlets[-1].side in OPPOSITE
        ):
            side = walk.outlets[-1].side
        if target.value == "both" and thing is None and [o.side for o in walk.outlets] == ["centre"]:
            # `in the middle, 20 ft from either end`
            walk.outlets[0].source.extend([item.source(), target.source()])
            return
        if target.value == "both":
            walk.outlets = [
                walk.outlet_at(which, item, walk.text(which, target), reading.model_copy(deep=True))
                for which in ("left", "right")
            ]
            return
        place = walk.text(side, target) if side is not None else None
        if place is not None and target.kind == "end told last":
            place.status, place.why = "doubtful", "no end was said with it: taken as the one told last"
        named = walk.pipe_named is not None and walk.pipe_named.line == item.line
        if (
            thing is None
            and not named
            and walk.outlets
            and walk.outlets[-1].distance is None
            and walk.outlets[-1].side in (side, None)
        ):
            outlet = walk.outlets[-1]
            outlet.distance = reading
            if outlet.place is None:
                outlet.place = place
        else:
            told = [other for other in run.outlets if other.side == side and other.pipe.fields]
            another = (
                (thing is not None or named) and bool(told) and all(other.distance is None for other in told)
            )
            outlet = walk.outlet_at(side, item, place, reading, new=another)
            if thing is not None:
                outlet.source.extend(thing.sources())
            walk.outlets = [outlet]
        if side is None and target.kind == "end":
            outlet.at_end = (target.value, target)


def _of_that_end(target: Item) -> bool:
    """`from that end`: the one just told; not `this end`, where the walker stands."""
    return target.text.lower().split()[0] in ("that", "same", "the")

"""Ends of runs said: corners, caps and walls, with their side or tied to the run by a little word."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.builder import RunDraft, UnsidedEnd
from gutterance.reading.discourse import OPPOSITE, SIDES_IN_ORDER, Scope
from gutterance.reading.stretch_words import StretchWords
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from gutterance.reading.items import Item
    from gutterance.sheet.models import Reading


BESIDE = frozenset({"beside", "alongside", "against", "close"})
"""Words between an outlet and the end that it stands at: `outlet beside the stop end`."""


class EndsSaid(StretchWords):
    """What is said of the ends of a run: `osc left`, `from a cap to an inside corner`, `both ends capped`."""

    def _end(self, item: Item) -> None:
        """A corner, a cap or a wall: put at its side, or kept until its order tells which it is."""
        walk = self.walk
        run = walk.run
        if item.marks.get("total") or self._total_end(item):
            return
        named = walk.pipe_named is not None and walk.pipe_named.line == item.line
        if named and run is not None and "side" not in item.marks and self._at_it():
            # `Downpipe 1: bay left, at the wall end`
            walk.outlets = [walk.outlet_at(None, item, None, None, new=True)]
            walk.outlets[-1].at_end = (item.value, item)
            walk.use(item)
            return
        if item.marks.get("end ref") or self._is_end_reference(item):
            if walk.outlets:
                walk.outlets[-1].at_end = (item.value, item)
            walk.use(item)
            return
        if item.marks.get("all") and "side" not in item.marks and self._stands_there():
            walk.use(item)
            return
        if item.marks.get("all") and "side" not in item.marks:
            reading = walk.text(item.value, item, why="said of all")
            if item.marks.get("all of those"):
                reading.status, reading.why = "doubtful", "said of all of those: of which runs?"
            walk.scopes.append(Scope("ends", reading, item.marks.get("all of")))
            return
        if run is None:
            return
        if self.negative is not None:
            self.negative = None
            walk.use(item)
            return
        side: Item | None = item.marks.get("side") or walk.asked_side
        walk.asked_side = None
        angle: Reading[Any] | None = None
        if "angle" in item.marks:
            angle = walk.text(item.marks["angle"], item.marks["angle item"])
        self.last_thing = item
        if side is not None:
            sides = self._which_sides(side)
            if len(sides) == 2 and self._put_at_the_house(item, side):
                return
            if walk.fixing is not None and len(sides) == 1:
                self._doubt_moved_end(run, OPPOSITE[sides[0]], item)
            for which in sides:
                self._set_end(run, which, item, side, angle)
        elif self._ends_of_group(item):
            return
        elif (item.value == "wall" and self._both_near()) or self._of_them(item):
            self._end_of_both(item, angle)
        elif item.plural or item.marks.get("count") == 2 or self._both_near():
            self._set_end(run, "left", item, None, angle)
            self._set_end(run, "right", item, None, angle)
        else:
            run.unsided.append(UnsidedEnd(item, "length" not in run.fields, self._joined_by(), angle))
            walk.use(item)

    def _ends_of_group(self, item: Item) -> bool:
        """`the bay ends die into the wall`: said of a bay whose three runs were told."""
        words = {other.text.lower() for other in self.items[: self.number]}
        return bool(words & {"ends", "both", "sides"}) and self._put_at_the_house(item, None)

    def _put_at_the_house(self, item: Item, side: Item | None) -> bool:
        """`cap each end of it`, of a bay told side by side: its two ends at the house, not its last run's."""
        run = self.walk.run
        if run is None or item.value not in ("wall", "end cap") or run.place.part is None:
            return False
        outer = {
            other.place.direction: other
            for other in self.walk.runs
            if other.place.part == run.place.part and "length" in other.fields
        }
        sides = ("left side", "right side")
        told_now = run.place.direction is None or "length" in run.fields
        if not told_now or not {*sides, "front"} <= set(outer):
            return False
        for which, direction in zip(SIDES_IN_ORDER, sides, strict=True):
            self._set_end(outer[direction], which, item, side, None)
        return True

    def _part_angle(self, item: Item) -> None:
        """`45s on the bay corners`: kept for the corners of the bay, or of the part in focus."""
        named = next(
            (o.value for o in self.items if o.kind in ("place", "ref") and o.value is not None), None
        )
        part = named.part if named is not None and named.part else None
        if part is None and self.walk.run is not None:
            part = self.walk.run.place.part
        if "bay" in self.line.text.lower() and part is None:
            part = "bay"
        if part is not None:
            self.walk.part_angles[part] = self.walk.text(item.value, item)

    def _end_pair(self, item: Item) -> None:
        """`O/O`, `C-C`, `OC-IC`: both ends at once, left then right."""
        run = self.walk.run
        if run is None or item.marks.get("total"):
            return
        for which, value in zip(SIDES_IN_ORDER, item.value.split(", "), strict=True):
            reading = self.walk.text(value, item)
            self.walk.put(run.fields, f"{which}_end", reading, item)

    def _doubt_moved_end(self, run: RunDraft, which: str, item: Item) -> None:
        """`cap at the front, no sorry, cap at the back`: whether the first cap still stands is asked."""
        before = run.fields.get(f"{which}_end")
        if (
            before is not None
            and before.value == item.value
            and before.status in CERTAIN
            and any(source.line in (item.line, item.line - 1) for source in before.source[:1])
        ):
            before.status = "doubtful"
            before.why = f"then {item.text!r} was said of the other end, as a correction"

    def _end_of_both(self, item: Item, angle: Reading[Any] | None) -> None:
        """`porch left 6-2, porch right 6-2, both die into the wall`: an end of each of the two said last."""
        said = [run for run in self.walk.runs if run.has_data][-2:]
        for run in said:
            run.unsided.append(UnsidedEnd(item, False, "", angle))
        self.walk.use(item)

    def _of_them(self, item: Item) -> bool:
        """`left side of it 1800, right side of it 1850, they're outside corners onto the front`."""
        near = self.items[max(0, self.number - 5) : self.number]
        words = {other.text.lower() for other in near}
        said = [run for run in self.walk.runs if run.has_data][-2:]
        sides = {run.place.direction for run in said}
        same_part = len({run.place.part for run in said}) == 1 and said[0].place.part is not None
        return (
            bool(words & {"they", "they're", "theyre"})
            and (item.plural or item.value == "wall")
            and same_part
            and sides == {"left side", "right side"}
        )

    def _total_end(self, item: Item) -> bool:
        """Whether an end is counted among the totals."""
        return self._in_totals() and item.kind == "end"

    def _is_end_reference(self, item: Item) -> bool:
        """`drop at the cap`: the end only says where the outlet is."""
        if "side" in item.marks:
            return False
        words: list[str] = []
        place = self.number - 1
        while place >= 0 and (
            self.items[place].kind in ("filler", "place")
            or self.items[place].text.lower() in BESIDE
            or (self.items[place].kind == "break" and self.items[place].strength <= 1)
        ):
            if self.items[place].kind == "break" and not {"at", "by", "near", "to"} & set(words):
                return False  # `one drop, cap right`
            words.append(self.items[place].text.lower())
            place -= 1
        return (
            bool({"at", "by", "near", "on", "tight to", "tight on", *BESIDE} & set(words))
            and place >= 0
            and self.items[place].kind in ("outlet", "downpipe")
            and "side" not in self.items[place].marks
        )

    def _at_it(self) -> bool:
        """Whether `at the` stands right before."""
        words = [other.text.lower() for other in self.items[max(0, self.number - 2) : self.number]]
        return bool({"at", "by", "near"} & set(words))

    def _stands_there(self) -> bool:
        """`the pipes are all on the outside corners`: where something is, not how the runs end."""
        words = [other.text.lower() for other in self.items[max(0, self.number - 2) : self.number]]
        return bool({"on", "at", "by", "near"} & set(words))

    def _joined_by(self) -> str:
        """The word that ties an end to its run: `from a cap`, `to an outside corner`."""
        place = self.number - 1
        while place >= 0 and self.items[place].kind in ("filler", "walk", "word", "mark"):
            word = self.items[place].text.lower()
            if word in (
                "from",
                "begins",
                "beginning",
                "starts",
                "starting",
                "start",
                "starting at",
                "start at",
            ):
                return "from"
            if word in (
                "to",
                "into",
                "ends",
                "ending",
                "finishes",
                "finishing",
                "finish",
                "then",
                "meets",
                "turns",
            ):
                return "to"
            place -= 1
        after = next(
            (
                item
                for item in [*self.items[self.number + 1 :], *self.later]
                if item.kind not in ("filler", "break", "mark")
            ),
            None,
        )
        if after is not None and after.kind in ("walk", "place"):
            return "to"
        return ""

    def _set_end(
        self, run: RunDraft, which: str, item: Item, side: Item | None, angle: Reading[Any] | None
    ) -> None:
        """Put an end, with its angle where it is not square."""
        extra = [side] if side is not None else []
        self.walk.put(run.fields, f"{which}_end", self.walk.text(item.value, item, *extra), item)
        if angle is not None and angle.value == 90:
            run.fields[f"{which}_end"].source.extend(angle.source)  # square, as a corner is unless said
        elif angle is not None:
            self.walk.put(run.fields, f"{which}_angle", angle.model_copy(deep=True), item)

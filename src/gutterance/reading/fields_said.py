"""A value whose field is known, put where it belongs: a run, an outlet's pipe, the whole job, the totals."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from gutterance.reading.builder import copied_apart
from gutterance.reading.discourse import OPPOSITE, Scope
from gutterance.reading.items import Item
from gutterance.reading.places import THE_HOUSE
from gutterance.reading.sizes_said import SizesSaid
from gutterance.sheet.models import Reading, Total

OVERALL = frozenset(
    {
        "overall",
        "overall length",
        "overall run",
        "end to end",
        "corner to corner",
        "o/a",
        "total length",
        "total run",
    }
)
"""Words for the whole of a run that was told in parts."""
FEWEST_PARTS = 2
"""A whole has at least so many parts."""
STRANGE_WORDS_BORNE = 2
"""With more unknown words than this between a number and its cue, the number is doubtful."""

FARTHEST_OF_OFFSET = 10
"""How many items behind an offset's number may tell more of it."""


class FieldsSaid(SizesSaid):
    """Values with a word that says what they are: `w/f 22`, `9-4 high`, `to splash block`."""

    def _field(self, item: Item, name: str, cue: Item | None) -> None:
        """A number whose field is known."""
        walk = self.walk
        cues = [cue] if cue is not None and cue.kind == "cue" else []
        if name in ("roof_pitch", "thickness", "rainfall"):
            self._text_field(item, name, cues)
            return
        strange = item.marks.get("strange") or []
        if len(strange) > STRANGE_WORDS_BORNE:
            item.doubts.append(
                f"the words {' '.join(strange)!r} stand between the number and what it answers"
            )
        reading = walk.length(item, name, cues)
        if reading is None:
            return
        if item.marks.get("all") and name in ("wall_to_fascia", "height", "hanger_spacing", "roof_run"):
            self._for_all(name, reading, item)
        elif name in ("wall_to_fascia", "height"):
            self._pipe_field(name, reading, item)
        elif name == "offset":
            self._pipe_offset(reading, item)
        elif name == "hanger_spacing" and not (self._place_just_before() or self._place_behind()):
            walk.put(walk.defaults, name, reading, item)
        elif name == "length" and (
            self._in_totals() or (self.total is not None and not self._run_wants_length())
        ):
            walk.totals.append(Total(what="gutter length", value=reading))
        elif name == "length" and walk.run is not None and self._overall(reading, item, cue):
            return
        elif walk.run is None:
            walk.give_back(item)
        elif walk.group and name != "length":
            self._put_in_runs(name, reading, item)
        else:
            walk.put(walk.run.fields, name, reading, item)

    def _overall(self, reading: Reading[Any], item: Item, cue: Item | None) -> bool:
        """`24-0 to the jog, 12-6 from there, overall 36-6`: the parts add up, or it is asked about."""
        if cue is None or cue.text.lower() not in OVERALL:
            return False
        run = self.walk.run
        assert run is not None
        parts = []
        for other in self.items[: self.number]:
            if other.kind == "measure" and "cue" not in other.marks and other.found is not None:
                part = self.walk.length(other, "length")
                if part is not None and part.value is not None:
                    parts.append(part)
        if len(parts) < FEWEST_PARTS or reading.value is None:
            return False
        total = sum((part.value.inches for part in parts if part.value is not None), Fraction(0))
        for part in parts:
            reading.source.extend(part.source)
        said = " and ".join(part.source[0].text for part in parts)
        if total == reading.value.inches:
            reading.why = f"overall: the parts {said} add up to it"
        else:
            reading.status = "doubtful"
            reading.why = f"overall, but the parts {said} do not add up to it"
        run.fields["length"] = reading
        self.walk.last = (run.fields, "length", item)
        return True

    def _for_all(self, name: str, reading: Reading[Any], item: Item) -> None:
        """A value said of the whole job."""
        self.walk.all_line = item.line
        reading.why = f"said of all; {reading.why}" if reading.why else "said of all"
        if name == "hanger_spacing":
            self.walk.put(self.walk.defaults, name, reading, item)
        elif not self._contradicts_part(name, reading, item):
            self.walk.scopes.append(Scope(name, reading, item.marks.get("all of"), item))
            self.walk.scope_cue = Item(item.line, item.start, item.end, item.text, "cue", name)

    def _contradicts_part(self, name: str, reading: Reading[Any], item: Item) -> bool:
        """`overhang ten on the garage`, whose pipes all have theirs: the two are held against each other."""
        part = item.marks.get("all of")
        told = [
            outlet
            for run in self.walk.runs
            if part in (run.place.part, run.place.storey) or (part == THE_HOUSE and run.place.part is None)
            for outlet in run.outlets
        ]
        if not part or not told or any(name not in outlet.pipe.fields for outlet in told):
            return False
        for outlet in told:
            self.walk.put(outlet.pipe.fields, name, copied_apart(reading), item)
        return True

    def _pipe_field(self, name: str, reading: Reading[Any], item: Item) -> None:
        """A height or a wall to fascia: to the pipe in focus, the one at that side, or to all."""
        walk = self.walk
        if walk.run is None:
            self._for_all(name, reading, item)
            return
        side: Item | None = item.marks.get("near side")
        here = [o for o in walk.run.outlets if side is not None and o.side == side.value]
        if here and len(walk.run.outlets) > 1:
            # `nine seven at the left`: of the two pipes, the one there
            everywhere, walk.outlets = walk.outlets, here
            walk.pipe_value(name, reading, item)
            walk.outlets = everywhere if len(everywhere) > 1 else list(walk.run.outlets)
            return
        walk.pipe_value(name, reading, item)

    def _pipe_offset(self, reading: Reading[Any], item: Item) -> None:
        """A pipe's offset: to the pipe in focus, or kept for the one to come."""
        walk = self.walk
        if walk.run is None:
            walk.give_back(item)
            return
        targets = walk.outlets or walk.run.outlets[-1:]
        if not targets:
            walk.run.pending_offsets.append(reading)
        height, way = self._offset_height(), self._offset_way()
        for outlet in targets:
            before = len(outlet.pipe.offsets)
            outlet.pipe.offsets.append(reading)
            # each offset has its height and its way in the same place of its list
            if height is not None and len(outlet.pipe.offset_heights) == before:
                outlet.pipe.offset_heights.append(height.model_copy(deep=True))
            if way is not None and len(outlet.pipe.offset_ways) == before:
                outlet.pipe.offset_ways.append(way.model_copy(deep=True))

    def _offset_height(self) -> Reading[Any] | None:
        """`jogs 6" round the meter, 3 ft up`: how far above the ground an offset sits."""
        for number, item in enumerate(self._behind_offset(), start=self.number + 1):
            behind = [other.text.lower() for other in self.items[number + 1 : number + 4]]
            if item.kind != "measure" or item.found is None or item.found.kind == "other" or not behind:
                continue
            above = behind[0] in ("above", "off", "from") and set(behind) & {"grade", "ground"}
            if behind[0] != "up" and not above:
                return None
            item.marks["of offset"] = True
            return self.walk.length(item, "height")
        return None

    def _offset_way(self) -> Reading[Any] | None:
        """`round the meter`, `over to the left`: which way an offset goes."""
        behind = self._behind_offset()
        for number, item in enumerate(behind):
            words = item.text.lower()
            follower = behind[number + 1].text.lower() if number + 1 < len(behind) else ""
            if words == "sideways" or (words == "over" and follower in ("to", "left", "right")):
                return self.walk.text("sideways", item)
            if words in ("round", "around", "over"):
                return self.walk.text("out and back", item)
            if item.kind == "measure":
                return None
        return None

    def _behind_offset(self) -> list[Item]:
        """The items behind an offset's number that may still be about it."""
        behind: list[Item] = []
        for item in self.items[self.number + 1 :][:FARTHEST_OF_OFFSET]:
            if item.kind in ("place", "outlet", "downpipe", "ends at") or (
                item.kind == "break" and item.strength >= 3
            ):
                break
            behind.append(item)
        return behind

    def _ends_at(self, item: Item) -> None:
        """Where a pipe ends: `to a splash block`, `into the drain`."""
        walk = self.walk
        run = walk.run
        if item.text.lower() == "sb" and self._measure_follows():
            walk.fixing = item
            return
        before = self._item_before()
        if item.text.lower() == "ground" and before is not None and before.text.lower() == "the":
            # `because the ground falls away`
            return
        reading = walk.text(item.value, item)
        if item.doubts:
            reading.status, reading.why = "doubtful", "; ".join(item.doubts)
        if item.was:
            reading.status, reading.why = "corrected", "corrected by the measurer"
        if "at side" in item.marks and run is not None:
            side: Item = item.marks["at side"]
            everywhere = walk.outlets
            walk.outlets = [walk.outlet_at(side.value, side, walk.text(side.value, side), None)]
            walk.pipe_value("ends_at", reading, item)
            walk.outlets = everywhere
            return
        if item.marks.get("all"):
            walk.all_line = item.line
            reading.why = "said of all"
            walk.scopes.append(Scope("ends_at", reading, item.marks.get("all of")))
        elif run is None:
            if walk.pipe_list or not walk.runs:
                reading.why = "said of all"
                walk.scopes.append(Scope("ends_at", reading))
        elif (
            walk.outlets
            or run.outlets
            or run.pending
            or any(i.kind in ("cue", "measure") for i in self.items)
            or (item.marks.get("new sentence") and any(other.outlets for other in walk.runs))
        ):
            walk.pipe_value("ends_at", reading, item)

    def _measure_follows(self) -> bool:
        """Whether the next item is a number."""
        nxt = self._item_after()
        return nxt is not None and nxt.kind == "measure"

    def _high_point(self, item: Item) -> None:
        """`high in the middle`, `high point left`."""
        walk = self.walk
        if walk.run is None:
            return
        words = item.text.lower()
        place = "centre" if "mid" in words or "cent" in words else None
        if place is None:
            side = next(
                (
                    other
                    for other in self.items[self.number + 1 : self.number + 4]
                    if other.kind in ("side", "lr")
                ),
                None,
            )
            if side is None:
                return
            side.marks["used"] = True
            place = side.value
            walk.use(side)
        walk.put(walk.run.fields, "high_point", walk.text(place, item), item)

    def _falls_to(self, item: Item) -> None:
        """`falls to the right`: the high point is at the other end."""
        side = next(
            (
                other
                for other in self.items[self.number + 1 : self.number + 3]
                if other.kind in ("side", "lr")
            ),
            None,
        )
        walk = self.walk
        if side is None or walk.run is None or side.value not in OPPOSITE:
            return
        side.marks["used"] = True
        reading = walk.text(OPPOSITE[side.value], item, side, why="falls away from it")
        walk.put(walk.run.fields, "high_point", reading, item)

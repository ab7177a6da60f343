"""Reads a line's items into the walk: parts it into stretches, gives each item its role, then acts on each in order."""

from __future__ import annotations

from typing import Any

from gutterance.reading.builder import OutletDraft, RunDraft, UnsidedEnd, by_ditto
from gutterance.reading.corrections import merge_corrections
from gutterance.reading.discourse import FIELD_KIND, KNOWN_PIPES, OPPOSITE, PIPE_CUES, Scope, Walk
from gutterance.reading.focus import settle_places
from gutterance.reading.items import Item, Line
from gutterance.reading.places import PlaceName, fold_places
from gutterance.reading.roles import assign_roles
from gutterance.reading.sizes import gutter_width, pipe_size, pitch, profile_of, rainfall, thickness
from gutterance.sheet.models import Reading, Total

STRUCTURE = frozenset({"measure", "end", "outlet", "downpipe", "cue", "ends at", "place", "count"})
"""The kinds that a remark's words stop at: they have a place of their own on the sheet."""


def hear(line: Line, walk: Walk) -> None:
    """Read one line into the walk."""
    items = fold_places(line.items)
    items = merge_corrections(items)
    settle_places(items, walk)
    for stretch in _stretches(items, walk):
        Stretch(line, stretch, walk).act()


def _stretches(items: list[Item], walk: Walk) -> list[list[Item]]:
    """The items parted where another run comes into focus. `42 6 on the front` takes its number along."""
    stretches: list[list[Item]] = [[]]
    for item in items:
        if item.kind == "place":
            moved: list[Item] = []
            current = stretches[-1]
            number = _number_before(current, walk)
            if number is not None:
                moved = current[number:]
                del current[number:]
            stretches.append([*moved, item])
        else:
            stretches[-1].append(item)
    return [stretch for stretch in stretches if stretch]


def _number_before(current: list[Item], walk: Walk) -> int | None:
    """Where a number stands that belongs to the place now named: `forty two six on the front`."""
    place = len(current) - 1
    said_on = False
    while place >= 0 and current[place].kind == "filler":
        said_on = said_on or current[place].text.lower() in ("on", "along", "across", "for", "at")
        place -= 1
    if not said_on or place < 0 or current[place].kind != "measure":
        return None
    found = current[place].found
    if found is None or found.kind == "other":
        return None
    others = [item for item in current[:place] if item.kind in STRUCTURE]
    if others and (walk.run is None or others[0].kind != "place"):
        return None
    if others and not any(item.kind == "measure" for item in others):
        return None
    return place


class Stretch:
    """One stretch of a line about one run, acted on item by item."""

    def __init__(self, line: Line, items: list[Item], walk: Walk) -> None:
        self.line = line
        self.items = items
        self.walk = walk
        self.new_run_here = False
        self.negative: Item | None = None
        self.counted: tuple[str, int] | None = None
        self.strange: list[str] = []
        self.last_thing: Item | None = None
        self.same: Item | None = None
        self.total: Item | None = next((item for item in items if item.kind == "total"), None)

    # ------------------------------------------------------------------ the whole stretch

    def act(self) -> None:
        """Give roles, then act on each item in order."""
        assign_roles(self.items)
        self._remark_spans()
        self._everything_spans()
        for number, item in enumerate(self.items):
            self.number = number
            handler = getattr(self, "_" + item.kind.replace(" ", "_"), None)
            if item.marks.get("remark") and item.kind != "place":
                continue
            if handler is not None:
                handler(item)
            elif item.kind == "word":
                self.strange.append(item.text)
        self._leftovers()

    def _remark_spans(self) -> None:
        """Mark the items that belong to a remark, and keep the remark."""
        for number, item in enumerate(self.items):
            if item.kind != "remark" or item.marks.get("remark"):
                continue
            first = last = number
            while first > 0 and not self._stops_remark(self.items[first - 1]):
                first -= 1
            while last + 1 < len(self.items) and not self._stops_remark(self.items[last + 1], ahead=True):
                last += 1
            for other in self.items[first : last + 1]:
                other.marks["remark"] = True
            about = next((i.value for i in self.items[: last + 1] if i.kind == "place"), None)
            if about is None and self.walk.run is not None:
                about = self.walk.run.place
            self.walk.remark(self.line, self.items[first].start, self.items[last].end, item.value, about)

    def _stops_remark(self, item: Item, *, ahead: bool = False) -> bool:
        if item.kind == "break":
            return item.strength >= (4 if ahead and item.text != "," else 1) or item.text == ","
        if item.kind == "measure":
            return "cue" in item.marks or "offset" in item.marks or not ahead
        if item.kind in ("place", "end", "outlet", "downpipe", "count"):
            return True
        if item.kind == "cue":
            return bool(item.marks.get("used"))
        if item.kind in ("ends at", "walk", "same", "fix"):
            return not ahead or item.kind in ("walk", "ends at")
        if item.kind in ("side", "lr"):
            return bool(item.marks.get("used"))
        return item.kind in ("unknown",)

    def _everything_spans(self) -> None:
        """`all downpipes 9 4`, `w/f 24 all round`: numbers said of the whole house."""
        if not any(item.kind == "all" for item in self.items):
            return
        for item in self.items:
            if item.kind == "all":
                item.marks["all"] = True

    def _says_all(self) -> bool:
        """Whether this stretch speaks of the whole job: an `all`, and no run of its own here."""
        alls = [item for item in self.items if item.kind == "all" and item.text.lower() not in ("both", "each", "both of them", "every")]
        if not alls:
            return False
        return not any(item.kind == "place" for item in self.items)

    # ------------------------------------------------------------------ places

    def _place(self, item: Item) -> None:
        name: PlaceName = item.value
        self.walk.use(item)
        if self._only_a_remark(item):
            return
        if self._only_heading(item):
            self.walk.context = PlaceName(storey=name.storey, part=name.part)
        self.walk.focus(name, item)
        self.new_run_here = True
        self.strange = []

    def _only_a_remark(self, item: Item) -> bool:
        """`dog in the back`: a place in words that say nothing to measure leaves the focus where it is."""
        others = [other for other in self.items if other is not item and not other.marks.get("remark")]
        return any(other.marks.get("remark") for other in self.items) and not any(
            other.kind in ("measure", "end", "outlet", "downpipe", "cue", "unknown", "same") for other in others
        )

    def _only_heading(self, item: Item) -> bool:
        name: PlaceName = item.value
        if name.direction or not (name.part or name.storey):
            return False
        rest = [other for other in self.line.items if other.kind not in ("place", "part", "storey", "direction", "colon", "mark", "break", "filler", "run noun")]
        return not rest

    # ------------------------------------------------------------------ numbers

    def _measure(self, item: Item) -> None:
        if item.marks.get("struck"):
            return
        if "offset" in item.marks:
            self._offset(item)
            return
        found = item.found
        assert found is not None
        cue: Item | None = item.marks.get("cue")
        if cue is not None and cue.kind == "ends at":
            self._field(item, "height", cue, doubt=None)
            return
        if cue is not None:
            name = "height" if cue.value == "down" else cue.value
            self._field(item, name, cue, doubt=None)
            return
        if found.kind == "other":
            self._other(item)
            return
        self._bare_length(item)

    def _field(self, item: Item, name: str, cue: Item | None, doubt: str | None) -> None:
        """A number whose field is known."""
        walk = self.walk
        cues = [cue] if cue is not None and cue.kind == "cue" else []
        if doubt:
            item.doubts.append(doubt)
        if name in ("roof_pitch", "thickness", "rainfall"):
            self._text_field(item, name, cues)
            return
        strange = item.marks.get("strange") or []
        if len(strange) > 2:
            item.doubts.append(f"the words {' '.join(strange)!r} stand between the number and what it answers")
        reading = walk.length(item, name, cues)
        if reading is None:
            return
        if self._says_all() and name in ("wall_to_fascia", "height", "hanger_spacing", "roof_run"):
            self._for_all(name, reading, item)
            return
        if name in ("wall_to_fascia", "height"):
            self._pipe_field(name, reading, item)
        elif name == "offset":
            self._pipe_offset(reading, item)
        elif name == "hanger_spacing" and (walk.run is None or not self.new_run_here):
            walk.put(walk.defaults, name, reading, item)
        elif walk.run is None:
            if name == "length" and self.total is not None:
                self._total_length(item, reading)
            else:
                self._homeless(item)
        elif name == "length" and self.total is not None and not self.new_run_here:
            self._total_length(item, reading)
        else:
            walk.put(walk.run.fields, name, reading, item)

    def _for_all(self, name: str, reading: Reading[Any], item: Item) -> None:
        reading.why = f"said of all; {reading.why}" if reading.why else "said of all"
        if name == "hanger_spacing":
            self.walk.put(self.walk.defaults, name, reading, item)
            return
        part = next((i.value.part or i.value.storey for i in self.items if i.kind in ("place", "ref") and i.value is not None), None)
        self.walk.scopes.append(Scope(name, reading, part))

    def _pipe_field(self, name: str, reading: Reading[Any], item: Item) -> None:
        walk = self.walk
        if walk.run is None:
            self._for_all(name, reading, item)
            return
        walk.pipe_value(name, reading, item)

    def _pipe_offset(self, reading: Reading[Any], item: Item) -> None:
        walk = self.walk
        if walk.run is None:
            self._homeless(item)
            return
        targets = walk.outlets or walk.run.outlets[-1:]
        if not targets:
            walk.run.pending_offsets.append(reading)
        for outlet in targets:
            outlet.pipe.offsets.append(reading)

    def _total_length(self, item: Item, reading: Reading[Any]) -> None:
        del item
        self.walk.totals.append(Total(what="gutter length", value=reading))

    def _text_field(self, item: Item, name: str, cues: list[Item]) -> None:
        """A pitch, a thickness or a rainfall: kept as words in the sheet's spelling."""
        assert item.found is not None
        text = {"roof_pitch": pitch, "thickness": thickness, "rainfall": rainfall}[name](item)
        if text is None:
            return
        reading = self.walk.text(text, item, *cues)
        if item.found.doubts:
            reading.status, reading.why = "doubtful", "; ".join(item.found.doubts)
        if name == "roof_pitch" and self.walk.run is not None and self.new_run_here and not self._says_all():
            self.walk.put(self.walk.run.fields, name, reading, item)
        else:
            self.walk.put(self.walk.defaults, name, reading, item)

    def _other(self, item: Item) -> None:
        """A number that is surely no length: a size, a pitch, a price."""
        walk = self.walk
        found = item.found
        assert found is not None
        if found.what == "gutter size":
            self._gutter_size(item)
        elif found.what == "material size":
            self._pipe_size(item)
        elif found.what in ("pitch", "thickness"):
            self._text_field(item, {"pitch": "roof_pitch", "thickness": "thickness"}[found.what], [])
        elif found.what == "quantity" and rainfall(item) is not None:
            self._text_field(item, "rainfall", [])
        del walk

    def _gutter_size(self, item: Item) -> None:
        walk = self.walk
        assert item.found is not None
        size = gutter_width(item)
        if size is None:
            return
        profile = profile_of(item)
        reading = walk.text(size, item)
        own = walk.run is not None and self.new_run_here and not self._says_all()
        if own and walk.run is not None:
            walk.put(walk.run.fields, "gutter_size", reading, item)
        else:
            walk.put(walk.defaults, "gutter_size", reading, item)
        if profile is not None:
            walk.put(walk.defaults, "gutter_profile", walk.text(profile, item), item)

    def _pipe_size(self, item: Item) -> None:
        walk = self.walk
        assert item.found is not None
        size = pipe_size(item)
        if size is None:
            return
        near_pipe = any(
            other.kind in ("downpipe", "outlet", "elbow")
            for other in self.items[max(0, self.number - 3) : self.number + 4]
        )
        if not near_pipe and size not in KNOWN_PIPES:
            return
        if not near_pipe and any(other.kind == "word" or other.marks.get("remark") for other in self.items[max(0, self.number - 2) : self.number + 3]):
            return
        reading = walk.text(size, item)
        own = walk.run is not None and bool(walk.outlets) and walk.run.has_data and not self._says_all()
        if own and "downpipe_size" in walk.defaults:
            for outlet in walk.outlets:
                walk.put(outlet.pipe.fields, "size", reading, item)
        else:
            walk.put(walk.defaults, "downpipe_size", reading, item)

    def _bare_length(self, item: Item) -> None:
        """A number with no cue: what it answers follows from what was just said."""
        walk = self.walk
        found = item.found
        assert found is not None
        if walk.asked is not None and walk.asked.kind == "cue":
            asked, walk.asked = walk.asked, None
            name = "height" if asked.value == "down" else asked.value
            self._field(item, name, asked, None)
            return
        if walk.fixing is not None and walk.last is not None and not (self.new_run_here and walk.run is not None and "length" not in walk.run.fields):
            fields, name, _ = walk.last
            if name in FIELD_KIND:
                reading = walk.length(item, name)
                if reading is not None:
                    walk.put(fields, name, reading, item)
                return
        run = walk.run
        if run is None:
            self._homeless(item)
            return
        if "length" not in run.fields or run.fields["length"].value is None or by_ditto(run.fields["length"]):
            self._length_of_run(item, run)
            return
        self._after_length(item, run)

    def _length_of_run(self, item: Item, run: RunDraft) -> None:
        walk = self.walk
        strange = [word for word in self.strange if word.isalpha()]
        if strange:
            item.doubts.append(f"the words {' '.join(strange[-3:])!r} before it are not known")
        if not self.new_run_here and (run.outlets or run.pending) and not item.marks.get("chained"):
            item.doubts.append("said with no word of what it measures, after other things of this run")
        reading = walk.length(item, "length")
        if reading is None:
            return
        if run.source and run.source[0].line == item.line:
            reading.source.append(run.source[0])
        walk.put(run.fields, "length", reading, item)

    def _after_length(self, item: Item, run: RunDraft) -> None:
        """A number with no cue after the run's length is known: said again, or a pipe's, or nobody knows."""
        walk = self.walk
        again = walk.length(item, "length")
        known = run.fields["length"]
        if again is not None and again.value == known.value:
            known.source.append(item.source())
            return
        if self._chained(item):
            place = PlaceName(number=walk.next_number())
            left = run.unsided[-1] if run.unsided else None
            new = walk.focus(place, item)
            new.joined = True
            if left is not None:
                new.unsided.append(UnsidedEnd(left.item, True, "from", left.angle))
            self.new_run_here = True
            self._length_of_run(item, new)
            return
        if walk.outlets or run.pending:
            name = self._likely_pipe_field(item)
            if name is not None:
                taken = walk.outlets[-1].pipe.fields if walk.outlets else run.pending
                if name not in taken:
                    item.doubts.append(f"said with no word of what it measures; taken as {name.replace('_', ' ')}")
                    self._field(item, name, None, None)
                    return
        self._homeless(item)

    def _chained(self, item: Item) -> bool:
        """`... to an inside corner then 12 foot 3 to an outside corner`: another run without a name."""
        before = self.items[: self.number]
        walked = any(other.kind == "walk" for other in before[-4:])
        cornered = any(other.kind in ("end", "end word") and "side" not in other.marks for other in before[-6:])
        del item
        return walked and cornered

    def _likely_pipe_field(self, item: Item) -> str | None:
        found = item.found
        assert found is not None
        if len(found.amounts) >= 2 or (found.kind == "length" and ("'" in found.text or "f" in found.text.lower())):
            return "height"
        return "wall_to_fascia"

    def _homeless(self, item: Item) -> None:
        """A number with no place: left unused, so that the ledger lists it as unread."""
        self.walk.used.get(item.line, []).__contains__((item.start, item.end))

    def _count(self, item: Item) -> None:
        self.counted = (item.text, item.value)
        nxt = next((other for other in self.items[self.number + 1 :] if other.kind != "filler"), None)
        self.walk.use(item)
        if nxt is None:
            return
        what = {"outlet": "outlets", "downpipe": "downpipes", "run noun": "runs"}.get(nxt.kind)
        if nxt.kind in ("end",) and nxt.value in ("outside corner", "inside corner"):
            what = nxt.value + "s"
        if what is None:
            return
        totals_line = self.total is not None or (
            what == "runs" or (self.walk.run is not None and not self.new_run_here and "side" not in nxt.marks and self._counts_in_line() >= 2)
        )
        if totals_line and not self.new_run_here:
            nxt.marks["total"] = True
            self.walk.totals.append(Total(what=what, value=Reading[int](value=item.value, source=[item.source(), nxt.source()])))  # type: ignore[arg-type]
            self.walk.use(nxt)

    def _counts_in_line(self) -> int:
        return sum(other.kind == "count" and other.value > 0 for other in self.items)

    # ------------------------------------------------------------------ ends

    def _end(self, item: Item) -> None:
        walk = self.walk
        if item.marks.get("total"):
            return
        run = walk.run
        if item.marks.get("end ref") or self._is_end_reference(item):
            if walk.outlets:
                walk.outlets[-1].at_end = (item.value, item)
            walk.use(item)
            return
        if run is None:
            if self._says_all():
                walk.scopes.append(Scope("ends", walk.text(item.value, item, why="said of all")))
            return
        if self.negative is not None:
            self.negative = None
            walk.use(item)
            return
        side: Item | None = item.marks.get("side")
        angle: Reading[Any] | None = None
        if "angle" in item.marks:
            angle = walk.text(item.marks["angle"], item.marks["angle item"])
        if side is None:
            if item.plural or item.marks.get("count") == 2 or self._both_follows():
                self._set_end(run, "left", item, None, angle)
                self._set_end(run, "right", item, None, angle)
            elif self._says_all():
                walk.scopes.append(Scope("ends", walk.text(item.value, item, why="said of all")))
            else:
                run.unsided.append(UnsidedEnd(item, "length" not in run.fields, self._joined_by(), angle))
                walk.use(item)
        else:
            for which in self._which_sides(side):
                self._set_end(run, which, item, side, angle)
        self.last_thing = item

    _end_word = _end

    def _both_follows(self) -> bool:
        nxt = self.items[self.number + 1] if self.number + 1 < len(self.items) else None
        before = self.items[self.number - 1] if self.number else None
        return (nxt is not None and nxt.kind == "all" and nxt.text.lower() in ("both", "each")) or (
            before is not None and before.kind == "all" and before.text.lower() in ("both", "all")
        )

    def _is_end_reference(self, item: Item) -> bool:
        """`drop at the cap`: the end only says where the outlet is."""
        if "side" in item.marks:
            return False
        words = []
        place = self.number - 1
        while place >= 0 and self.items[place].kind == "filler":
            words.append(self.items[place].text.lower())
            place -= 1
        return bool({"at", "by", "near"} & set(words)) and place >= 0 and self.items[place].kind in ("outlet", "downpipe") and "side" not in self.items[place].marks

    def _joined_by(self) -> str:
        """The word that ties an end to its run: `from a cap`, `to an outside corner`."""
        place = self.number - 1
        while place >= 0 and self.items[place].kind in ("filler", "walk"):
            word = self.items[place].text.lower()
            if word in ("from", "begins", "beginning", "starts", "starting", "start", "starting at", "start at"):
                return "from"
            if word in ("to", "into", "ends", "ending", "finishes", "finishing", "finish", "then", "meets", "turns"):
                return "to"
            place -= 1
        return ""

    def _which_sides(self, side: Item) -> list[str]:
        self.walk.use(side)
        if side.value == "both":
            return ["left", "right"]
        if side.value in ("left", "right"):
            return [side.value]
        if side.kind == "far end":
            last = self._last_side()
            return [OPPOSITE[last]] if last in OPPOSITE else []
        if side.kind == "near end":
            last = self._last_side()
            return [last] if last in OPPOSITE else []
        return []

    def _last_side(self) -> str | None:
        for other in reversed(self.items[: self.number]):
            if other.kind in ("side", "lr") and other.value in OPPOSITE:
                value: str = other.value
                return value
        return None

    def _set_end(self, run: RunDraft, which: str, item: Item, side: Item | None, angle: Reading[Any] | None) -> None:
        extra = [side] if side is not None else []
        reading = self.walk.text(item.value, item, *extra)
        self.walk.put(run.fields, f"{which}_end", reading, item)
        if angle is not None and angle.value != 90:
            self.walk.put(run.fields, f"{which}_angle", angle.model_copy(deep=True), item)

    # ------------------------------------------------------------------ outlets and pipes

    def _outlet(self, item: Item) -> None:
        walk = self.walk
        if item.marks.get("total"):
            return
        walk.use(item)
        run = walk.run
        if self.negative is not None or item.marks.get("count") == 0:
            self.negative = None
            if run is not None:
                run.no_outlet = item.source()
            return
        if run is None or self._says_all():
            return
        side: Item | None = item.marks.get("side")
        count = item.marks.get("count", 1)
        new_word = self._said_new()
        if side is None:
            self._unplaced_outlet(item, run, count)
        elif side.kind == "measure":
            self._offset(side, item)
        else:
            places = self._places_of(side)
            drafts = []
            for place in places:
                reading = walk.text(place, item, side) if place is not None else None
                drafts.append(walk.outlet_at(place, item, reading, None, new=new_word and place is None))
            if places == [None] and side.value == "named":
                walk.use(side)
                drafts[-1].place = Reading[Any](
                    value=None, status="doubtful", source=[item.source(), side.source()],
                    why=f"said to be at the end by {side.marks['named'].name}: not known which end that is",
                )  # fmt: skip
            walk.outlets = drafts
        self.last_thing = item

    _downpipe = _outlet

    def _said_new(self) -> bool:
        words = [other.text.lower() for other in self.items[max(0, self.number - 2) : self.number]]
        return any(word in ("another", "a", "second", "one more") for word in words)

    def _places_of(self, side: Item) -> list[str | None]:
        if side.value == "centre":
            self.walk.use(side)
            return ["centre"]
        sides: list[str | None] = list(self._which_sides(side))
        return sides or [None]

    def _unplaced_outlet(self, item: Item, run: RunDraft, count: int) -> None:
        walk = self.walk
        if (item.plural or self._both_follows()) and count == 1:
            if run.outlets:
                walk.outlets = list(run.outlets)
                return
            count = 2 if self._both_follows() else 1
        if count >= 2:
            while sum(o.side is None for o in run.outlets) < count and len(run.outlets) < count:
                run.outlets.append(OutletDraft(source=[item.source()]))
            walk.outlets = list(run.outlets)
            return
        if run.outlets and not (self._said_new() and item.text.lower() not in ("pipe",)):
            if not walk.outlets:
                walk.outlets = [run.outlets[-1]]
            return
        if run.outlets and self._said_new():
            walk.outlets = [run.outlets[-1]]
            return
        walk.outlets = [walk.outlet_at(None, item, None, None)]

    def _offset(self, item: Item, thing: Item | None = None) -> None:
        """An outlet so far from an end."""
        walk = self.walk
        if item.marks.get("placed"):
            return
        item.marks["placed"] = True
        run = walk.run
        if run is None:
            return
        target: Item = item.marks["offset"]
        reading = walk.length(item, "distance")
        if reading is None:
            return
        walk.use(target)
        side = target.value if target.kind in ("side", "lr") and target.value in ("left", "right", "centre") else None
        if target.kind == "far end":
            last = self._last_side()
            side = OPPOSITE.get(last or "")
        if side is None and target.kind in ("corner", "end word", "end") and walk.outlets and walk.outlets[-1].side in OPPOSITE:
            side = walk.outlets[-1].side
        if target.value == "both":
            drafts = []
            for which in ("left", "right"):
                drafts.append(walk.outlet_at(which, item, walk.text(which, target), reading.model_copy(deep=True)))
            walk.outlets = drafts
            return
        place = walk.text(side, target) if side is not None else None
        if thing is None and walk.outlets and walk.outlets[-1].distance is None and walk.outlets[-1].side in (side, None):
            outlet = walk.outlets[-1]
            outlet.distance = reading
            if outlet.place is None:
                outlet.place = place
        else:
            outlet = walk.outlet_at(side, item, place, reading)
            walk.outlets = [outlet]
        if side is None and target.kind == "end":
            outlet.at_end = (target.value, target)
        walk.last = ({}, "distance", item)

    def _side(self, item: Item) -> None:
        """A side that belongs to nothing beside it: `... and one in the middle`, `left one w/f 24`."""
        walk = self.walk
        run = walk.run
        if item.marks.get("used") or item.marks.get("remark") or run is None:
            return
        thing = self.last_thing
        if walk.fixing is not None and walk.last is not None and thing is None:
            self._move_side(item, run)
            return
        if item.value == "both" and walk.outlets and all(o.side is None for o in walk.outlets):
            run.outlets = [o for o in run.outlets if o not in walk.outlets]
            first = walk.outlets[0]
            walk.outlets = [
                OutletDraft(place=walk.text(which, item), pipe=first.pipe if which == "left" else OutletDraft().pipe, source=list(first.source))
                for which in ("left", "right")
            ]
            run.outlets += walk.outlets
            return
        if item.value not in ("left", "right", "centre"):
            return
        unplaced = next((o for o in run.outlets if o.side is None and o.at_end is None), None)
        if unplaced is not None:
            unplaced.place = walk.text(item.value, item)
            walk.outlets = [unplaced]
            return
        known = next((o for o in run.outlets if o.side == item.value), None)
        if known is not None:
            walk.outlets = [known]
            walk.use(item)
            return
        if thing is not None and thing.kind in ("outlet", "downpipe"):
            walk.outlets = [walk.outlet_at(item.value, item, walk.text(item.value, item), None, new=True)]
        elif walk.pipe_list or (thing is None and self._pipe_words_follow()):
            walk.outlets = [walk.outlet_at(item.value, item, walk.text(item.value, item), None, new=True)]

    def _pipe_words_follow(self) -> bool:
        for other in self.items[self.number + 1 :]:
            if other.kind == "cue":
                return other.value in PIPE_CUES
            if other.kind == "measure" and "cue" in other.marks and other.marks["cue"].kind == "cue":
                return other.marks["cue"].value in PIPE_CUES
            if other.kind in ("end", "place", "break") and other.kind != "break":
                return False
        return False

    def _move_side(self, item: Item, run: RunDraft) -> None:
        """`drop right, sorry, the left`: the side just said is taken back."""
        walk = self.walk
        if walk.outlets and item.value in ("left", "right", "centre"):
            outlet = walk.outlets[-1]
            new = walk.text(item.value, item)
            if outlet.place is not None and outlet.place.value != item.value:
                new.was = [outlet.place]
                new.status, new.why = "corrected", "corrected by the measurer"
            outlet.place = new
        del run
        if walk.fixing is not None:
            walk.use(walk.fixing)
            walk.fixing = None

    def _ends_at(self, item: Item) -> None:
        walk = self.walk
        run = walk.run
        if item.text.lower() == "sb" and self._measure_follows():
            walk.fixing = item
            return
        reading = walk.text(item.value, item)
        if self._says_all():
            walk.scopes.append(Scope("ends_at", _said_of_all(reading)))
            return
        if run is None:
            return
        if not walk.outlets and not run.outlets and not run.pending and not any(i.kind in ("cue", "measure") for i in self.items):
            return
        walk.pipe_value("ends_at", reading, item)

    def _measure_follows(self) -> bool:
        nxt = self.items[self.number + 1] if self.number + 1 < len(self.items) else None
        return nxt is not None and nxt.kind == "measure"

    # ------------------------------------------------------------------ cues without numbers, and the rest

    def _cue(self, item: Item) -> None:
        if item.marks.get("used"):
            return
        self.walk.use(item)
        if any(other.kind == "unknown" for other in self.items):
            self._missing(item)

    def _missing(self, cue: Item) -> None:
        walk = self.walk
        name = "height" if cue.value == "down" else cue.value
        why = self.line.source(self.items[0].start, self.items[-1].end)
        reading = Reading[Any](value=None, status="missing", source=[why], why=f"the note says: {why.text}")
        walk.use_source(why)
        if walk.run is None:
            return
        if name in ("wall_to_fascia", "height"):
            walk.pipe_value(name, reading, cue)
        elif name in ("length", "roof_run"):
            walk.put(walk.run.fields, name, reading, cue)

    def _unknown(self, item: Item) -> None:
        """`didn't get the back`, `height ?`: a field said to be missing."""
        walk = self.walk
        walk.use(item)
        before = self.items[self.number - 1] if self.number else None
        if item.text.startswith("?"):
            if before is not None and before.kind == "measure" and walk.last is not None and walk.last[2] is before:
                fields, name, _ = walk.last
                reading = fields.get(name)
                if reading is not None:
                    reading.status = "doubtful"
                    reading.why = f"{reading.why}; the measurer put a question mark" if reading.why else "the measurer put a question mark"
                return
            open_cue = next((other for other in reversed(self.items[: self.number]) if other.kind == "cue"), None)
            if open_cue is not None and not open_cue.marks.get("used"):
                if item.text == "?" and len(self.items) - self.number <= 2 and self._is_question():
                    walk.asked = open_cue
                return
            if self._is_question():
                return
        if any(other.kind == "cue" and not other.marks.get("used") for other in self.items):
            return
        run = walk.run
        if run is not None and ("length" not in run.fields) and not run.outlets:
            why = self.line.source(self.items[0].start, self.items[-1].end)
            walk.put(run.fields, "length", Reading[Any](value=None, status="missing", source=[why], why=f"the note says: {why.text}"), item)
            walk.use_source(why)

    def _is_question(self) -> bool:
        words = {other.text.lower() for other in self.line.items}
        return bool(words & {"how", "what", "what's", "where", "which", "how high", "and", "drop", "drops", "ends", "splash", "splash?"})

    def _no(self, item: Item) -> None:
        nxt = next((other for other in self.items[self.number + 1 :] if other.kind != "filler"), None)
        if nxt is not None and nxt.kind in ("outlet", "downpipe", "end"):
            self.negative = item
            self.walk.use(item)
        elif self.last_thing is not None and self.last_thing.kind == "outlet" and self.walk.run is not None and not self.walk.run.outlets:
            self.walk.run.no_outlet = item.source()
        elif nxt is None or nxt.kind in ("break", "side", "measure", "place"):
            self.walk.fixing = item

    def _fix(self, item: Item) -> None:
        self.walk.fixing = item

    def _same(self, item: Item) -> None:
        self.same = item
        self.walk.use(item)

    _mirror = _same

    def _profile(self, item: Item) -> None:
        self._default("gutter_profile", item)

    def _material(self, item: Item) -> None:
        self._default("material", item)

    def _colour(self, item: Item) -> None:
        self._default("colour", item)

    def _default(self, name: str, item: Item) -> None:
        walk = self.walk
        reading = walk.text(item.value, item)
        if name == "colour" and walk.run is not None and self.new_run_here and "colour" in walk.defaults:
            walk.put(walk.run.fields, name, reading, item)
            return
        walk.put(walk.defaults, name, reading, item)

    def _high_point(self, item: Item) -> None:
        walk = self.walk
        if walk.run is None:
            return
        words = item.text.lower()
        place = "centre" if "mid" in words or "cent" in words else None
        if place is None:
            side = next((other for other in self.items[self.number + 1 : self.number + 4] if other.kind in ("side", "lr")), None)
            if side is None:
                return
            side.marks["used"] = True
            place = side.value
            walk.use(side)
        walk.put(walk.run.fields, "high_point", walk.text(place, item), item)

    def _falls_to(self, item: Item) -> None:
        side = next((other for other in self.items[self.number + 1 : self.number + 3] if other.kind in ("side", "lr")), None)
        walk = self.walk
        if side is None or walk.run is None or side.value not in OPPOSITE:
            return
        side.marks["used"] = True
        walk.use(side)
        reading = walk.text(OPPOSITE[side.value], item, side, why="falls away from it")
        walk.put(walk.run.fields, "high_point", reading, item)

    def _clockwise(self, item: Item) -> None:
        self.walk.clockwise = item.value == "clockwise"
        self.walk.use(item)

    # ------------------------------------------------------------------ the end of the stretch

    def _leftovers(self) -> None:
        if self.same is not None:
            from gutterance.reading.ditto import copy_same

            copy_same(self, self.same)


def _said_of_all(reading: Reading[Any]) -> Reading[Any]:
    reading.why = f"said of all; {reading.why}" if reading.why else "said of all"
    return reading



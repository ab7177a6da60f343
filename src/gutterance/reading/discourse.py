"""The walk round the house: takes items in the order they were said and puts each where it belongs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.measure.tape import FieldKind, find_lengths, settle
from gutterance.reading.builder import OutletDraft, RunDraft, by_ditto, copied_apart, put
from gutterance.reading.remark_kinds import parts_by_kind, remark_kind
from gutterance.reading.said_of_all import OF_NO_PIPE
from gutterance.reading.several_houses import Houses
from gutterance.reading.trained.symbols import Symbol, symbol_of
from gutterance.sheet.models import Alternative, Reading, Remark, Source, Total

if TYPE_CHECKING:
    from gutterance.reading.items import Item, Line
    from gutterance.reading.lettered.ring import Ring
    from gutterance.reading.places import PlaceName
    from gutterance.sheet.values import RemarkKind

FIELD_KIND: dict[str, FieldKind] = {
    "length": "run",
    "roof_run": "run",
    "height": "height",
    "down": "height",
    "wall_to_fascia": "wall to fascia",
    "hanger_spacing": "offset",
    "offset": "offset",
    "distance": "offset",
    "gutter_size": "offset",
}
"""How the number reader is to take a bare number, by the field it answers."""
FEWEST_SURE_INCHES = 4
"""A bare distance of an outlet from an end below this [in] may be in feet: the hole is as wide itself."""
FEWEST_SURE_MM = 100
"""A bare number below this [mm] is not certain to be in millimetres."""
WIDEST_SPACING_FEET = 4
"""No shop sets hangers more feet apart than this. Common practice, no source."""
PIPE_CUES = frozenset({"wall_to_fascia", "height", "down"})
"""Cues of numbers that belong to a downpipe."""
OPPOSITE = {"left": "right", "right": "left"}
"""The other end of a run, or the other side."""
SIDES_IN_ORDER = ("left", "right")
"""The ends of a run as somebody facing the wall sees them, the first first."""
KNOWN_PIPES = frozenset({"2x3", "3x4", "4x5", "3x3", "4x4", "2x2", "4x6"})
"""Sizes [in] taken for a pipe's with no word for one beside them. Common practice, no source."""
RECTANGLE = {
    # (run, neighbour or end named by it): which side of that run it is, facing the wall
    ("front", "right side"): "right", ("front", "left side"): "left",
    ("right side", "front"): "left", ("right side", "back"): "right",
    ("back", "right side"): "left", ("back", "left side"): "right",
    ("left side", "back"): "left", ("left side", "front"): "right",
    ("south", "east"): "right", ("south", "west"): "left",
    ("east", "south"): "left", ("east", "north"): "right",
    ("north", "east"): "left", ("north", "west"): "right",
    ("west", "north"): "left", ("west", "south"): "right",
}  # fmt: skip
"""Which end of a run another run meets, on a house with four sides. Geometry of the walk."""


_Read = Reading[Any]  # named once: making the type for each value was a twentieth of the reading
MOST_RUNS = 400
"""No house has so many. What is said of runs beyond them reaches no sheet, so that its numbers are unread."""


@dataclass(slots=True)
class Scope:
    """A value said of everything: applied to every run or pipe that has none of its own, at the end."""

    field: str
    reading: Reading[Any]
    part: str | None = None
    item: Item | None = None


@dataclass(slots=True)
class Walk:
    """All that has been understood so far, and what is in focus."""

    metric: bool = False
    mixed: bool = False
    runs: list[RunDraft] = field(default_factory=list)
    defaults: dict[str, Reading[Any]] = field(default_factory=dict)
    totals: list[Total] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    scopes: list[Scope] = field(default_factory=list)
    alone: list[Scope] = field(default_factory=list)
    title: str | None = None
    title_source: Source | None = None
    aside: list[tuple[Source, str]] = field(default_factory=list)
    shown: list[Source] = field(default_factory=list)
    used: dict[int, list[tuple[int, int]]] = field(default_factory=dict)
    run: RunDraft | None = None
    outlets: list[OutletDraft] = field(default_factory=list)
    pipes_before: list[OutletDraft] = field(default_factory=list)
    context: PlaceName | None = None
    last: tuple[dict[str, Reading[Any]], str, Item] | None = None
    last_length: tuple[dict[str, Reading[Any]], str, Item] | None = None
    fixing: Item | None = None
    fixed_outlets: list[OutletDraft] = field(default_factory=list)
    fixed_last: tuple[dict[str, Reading[Any]], str, Item] | None = None
    asked: Item | None = None
    asked_outlet: Item | None = None
    asked_side: Item | None = None
    offered: Any = None
    dialogue: bool = False
    labelled: bool = False
    focus_line: int = 0
    totals_from: int | None = None
    header: Item | None = None
    header_line: int = 0
    group: list[RunDraft] = field(default_factory=list)
    correcting: bool = False
    all_line: int = 0
    scope_cue: Item | None = None
    correct_line: int = 0
    list_thing: Item | None = None
    copies_due: list[tuple[RunDraft, Item, str, bool]] = field(default_factory=list)
    numbered: int = 0
    clockwise: bool = False
    part_angles: dict[str, Reading[Any]] = field(default_factory=dict)
    pipe_list: bool = False
    pipe_named: Item | None = None
    line_ends_with: Item | None = None
    pipe_lines: frozenset[int] = frozenset()
    named_behind: frozenset[int] = frozenset()
    pipe_order: list[OutletDraft] = field(default_factory=list)
    ring: Ring | None = None
    bay: str | None = None
    in_pieces: bool = False
    named_sides: frozenset[tuple[str | None, str | None]] = frozenset()
    pieced: PlaceName | None = None
    beside: bool = False
    houses: Houses = field(default_factory=Houses)
    symbols: dict[int, list[Symbol]] = field(default_factory=dict)

    # ------------------------------------------------------------------ what has been used

    def use(self, item: Item) -> None:
        """Note that the words of an item have found their place."""
        self.used.setdefault(item.line, []).append((item.start, item.end))
        for old in item.was:
            self.use(old)

    def keep_symbols(self, number: int, items: list[Item]) -> None:
        """Keep the items of a line as the trained reader sees them, before anything is done with them."""
        context = self.context.part if self.context is not None else None
        kept = self.symbols.setdefault(number, [])
        last = kept[-1].end if kept else 0
        kept += [symbol_of(item, metric=self.metric, context=context) for item in items if item.start >= last]

    def use_source(self, source: Source) -> None:
        """Note that a stretch of words has found its place."""
        self.used.setdefault(source.line, []).append((source.start, source.end))

    def give_back(self, item: Item) -> None:
        """Take back that a number was used: it found no place after all, and the ledger must list it."""
        spans = self.used.get(item.line)
        if spans:
            self.used[item.line] = [span for span in spans if span != (item.start, item.end)]

    # ------------------------------------------------------------------ places

    def like_named(self, place: PlaceName) -> list[RunDraft]:
        """Runs that a shorter name may mean: `the porch` where `porch front` and `porch left` were said."""
        words = set(place.name.split())
        return [run for run in self.runs if run.has_data and words < set(run.place.name.split())]

    def refer(self, place: PlaceName, item: Item) -> RunDraft:
        """Bring into focus the run, or the group of runs, that a name refers to where it is of no new run."""
        if any(run.place == place and run.has_data for run in self.runs):
            return self.focus(place, item)
        meant = self.like_named(place)
        if len(meant) > 1:
            with_outlets = [run for run in meant if run.outlets]
            meant = with_outlets if with_outlets else meant
        if len(meant) == 1:
            return self.focus(meant[0].place, item)
        if not meant:
            return self.focus(place, item)
        run = self.focus(place, item)
        self.group = meant
        return run

    def focus(self, place: PlaceName, item: Item | None) -> RunDraft:
        """Bring a run into focus: the one of that name, or a new one."""
        self.group = []
        words = set(place.name.split())
        for run in self.runs:
            if run.place == place or (
                not (place.number and place.part) and set(run.place.name.split()) == words
            ):
                self.run = run
                self.outlets = []
                if item is not None and (item.marks.get("with") or item.marks.get("numbered")):
                    run.source.extend(item.sources())
                return run
        run = RunDraft(place)
        before = next((other for other in reversed(self.runs) if other.has_data), None)
        if before is not None:
            near = RECTANGLE.get((place.name, before.place.name))
            run.near = near or ("right" if self.clockwise else "left")
            far = RECTANGLE.get((before.place.name, place.name))
            if far is not None:
                before.near = OPPOSITE[far]
        elif self.clockwise:
            run.near = "right"
        if item is not None:
            run.source.extend(item.sources())
        if len(self.runs) < MOST_RUNS:
            self.runs.append(run)
        self.run = run
        self.outlets = []
        return run

    def counts(self) -> frozenset[int]:
        """How many runs, ends of runs and outlets have been told: what `all 4` may count."""
        if not any("length" in run.fields for run in self.runs):
            return frozenset()
        runs = sum("length" in run.fields for run in self.runs)
        return frozenset({runs, 2 * runs, sum(len(run.outlets) for run in self.runs)})

    def next_number(self) -> str:
        """The number of the next run that has no name."""
        self.numbered += 1
        return str(max(self.numbered, sum(run.has_data for run in self.runs) + 1))

    # ------------------------------------------------------------------ readings

    def length(self, item: Item, name: str, extra: list[Item] | None = None) -> Reading[Any] | None:
        """The reading of a measure as an answer to a field, or None where it cannot be one."""
        assert item.found is not None
        kind = FIELD_KIND[name]
        if name == "hanger_spacing" and _feet_and_inches(item):
            kind = "height"  # `brkts 2 0`: no two numbers of inches
        read = settle(item.found, kind, metric=self.metric)
        if read is None:
            return None
        reading = _Read(value=read.length, why=read.why)
        reading.source = [item.source(), *(other.source() for other in extra or [])]
        reading.could_be = [Alternative[Any](value=length, why=why) for length, why in read.could_be]
        doubts = [*read.doubts, *item.doubts]
        if (
            self.metric
            and read.length.system == "metric"
            and name in ("wall_to_fascia", "distance")
            and _few(item)
        ):
            doubts.append("so few millimetres, or another unit?")
        if not self.metric and name == "distance" and _few(item, FEWEST_SURE_INCHES):
            doubts.append("so few inches, or feet?")
        if doubts:
            reading.status = "doubtful"
            reading.why = "; ".join([*doubts, read.why])
        for old in item.was:
            before = self.length(old, name)
            if before is not None:
                reading.was.append(before.model_copy(update={"was": []}))
        if item.was:
            if reading.status == "read":
                reading.status = "corrected"
            reading.why = f"{reading.why}; corrected by the measurer"
        self.use(item)
        for other in extra or []:
            self.use(other)
        return reading

    def text(self, value: Any, *items: Item, why: str | None = None) -> Reading[Any]:
        """The reading of a word or a count."""
        for item in items:
            self.use(item)
        return _Read(value=value, source=[source for item in items for source in item.sources()], why=why)

    def put(self, fields: dict[str, Reading[Any]], name: str, reading: Reading[Any], item: Item) -> None:
        """Put a reading on the sheet, as a correction where a correcting word came before it."""
        quoted = _quoted_in(fields.get(name), item)
        if quoted is not None:
            fields[name].source.append(quoted.source())
            reading.was = []
        put(
            fields,
            name,
            reading,
            fixed=self.fixing is not None
            or self.correcting
            or self.correct_line == item.line
            or quoted is not None,
        )
        if self.fixing is not None or self.correct_line == item.line or self.correcting:
            self._doubt_copies(fields, name)
        if self.fixing is not None:
            self.use(self.fixing)
            self.fixing = None
        self.last = (fields, name, item)
        if name in FIELD_KIND:
            self.last_length = self.last

    def _doubt_copies(self, fields: dict[str, Reading[Any]], name: str) -> None:
        """A run corrected after another was said to be the same: is the other to change with it?"""
        for run in self.runs:
            copy = run.fields.get(name)
            if run.like is None or run.like.fields is not fields or copy is None or not by_ditto(copy):
                continue
            if copy.status != "doubtful":
                copy.status = "doubtful"
                copy.why = f"the {run.like.place.name} was corrected afterwards; {copy.why}"

    # ------------------------------------------------------------------ outlets and pipes

    def outlet_at(
        self,
        side: str | None,
        item: Item,
        reading: Reading[Any] | None,
        distance: Reading[Any] | None,
        *,
        new: bool = False,
    ) -> OutletDraft:
        """The outlet of the run in focus at that place; made where there is none."""
        run = self.run
        assert run is not None
        named, self.pipe_named = self.pipe_named, None
        if (
            named is not None
            and named.line == item.line
            and any(outlet.pipe.fields for outlet in run.outlets)
        ):
            new = not any(
                outlet.side == side and (distance is None) == (outlet.distance is None)
                for outlet in run.outlets
            )
        for outlet in run.outlets if side is not None and self.fixing is None else ():
            place = outlet.place
            if place is not None and place.value != side and any(was.value == side for was in place.was):
                place.status, place.why = "doubtful", f"{side} was taken back, and then said again"
                outlet.source.extend(item.sources())
                return outlet
        if not new:
            for outlet in run.outlets:
                if outlet.side == side and (
                    distance is None or outlet.distance is None or outlet.distance.value == distance.value
                ):
                    if distance is not None and outlet.distance is None:
                        outlet.distance = distance
                    outlet.ditto = False
                    outlet.source.extend(item.sources())
                    return outlet
            if side is not None:
                for outlet in run.outlets:
                    if outlet.side is None and outlet.at_end is None:
                        outlet.place, outlet.distance = reading, distance
                        outlet.source.extend(item.sources())
                        return outlet
        copied = [outlet for outlet in run.outlets if outlet.ditto]
        if copied and side is not None:
            # `same as the front, but the drop is on the right`: what was copied gives way to what is said
            outlet = copied[0]
            outlet.place, outlet.distance, outlet.ditto = reading, distance, False
            outlet.source.extend(item.sources())
            run.outlets[:] = [other for other in run.outlets if not other.ditto]
            return outlet
        outlet = OutletDraft(place=reading, distance=distance, source=item.sources())
        run.outlets.append(outlet)
        if run.pending and len(run.outlets) == 1:
            outlet.pipe.fields.update(run.pending)
            outlet.pipe.offsets += run.pending_offsets
            run.pending, run.pending_offsets = {}, []
        return outlet

    def pipe_value(self, name: str, reading: Reading[Any], item: Item) -> None:
        """A value of a pipe: to the outlets in focus, else kept for the run's outlet to come."""
        run = self.run
        assert run is not None
        if self.group and not run.outlets:
            for other in self.group:
                for outlet in other.outlets:
                    self.put(outlet.pipe.fields, name, copied_apart(reading), item)
            if any(other.outlets for other in self.group):
                return
        if item.marks.get("of every pipe"):
            self._for_others(name, reading, item)
            return
        if item.marks.get("alone"):
            self.alone.append(Scope(name, copied_apart(reading)))
        if not self.outlets and not run.outlets and self._said_of_others(name, item):
            self._for_others(name, reading, item)
            return
        if not self.outlets and len(run.outlets) == 1:
            self.outlets = [run.outlets[0]]
        if not self.outlets and len(run.outlets) > 1:
            self.outlets = [o for o in run.outlets if name not in o.pipe.fields] or list(run.outlets)
            if name == "height" and len(self.outlets) > 1 and not item.marks.get("of the run"):
                reading.status = "doubtful" if reading.status == "read" else reading.status
                reading.why = _also(
                    reading.why, "said once for a run with several downpipes, without saying which"
                )
        if not self.outlets:
            self.put(run.pending, name, reading, item)
            return
        if item.marks.get("both") and "at side" not in item.marks:
            self.outlets = self._both_outlets(run)
        for number, outlet in enumerate(self.outlets):
            self.put(outlet.pipe.fields, name, reading if number == 0 else copied_apart(reading), item)

    def _said_of_others(self, name: str, item: Item) -> bool:
        """Whether a pipe's value must be of the runs before, as the run in focus has no outlet."""
        run = self.run
        assert run is not None
        if self.focus_line == item.line and run.no_outlet is None and not item.marks.get("new sentence"):
            return False
        return any(
            name not in outlet.pipe.fields
            for other in self.runs
            if other is not run
            for outlet in other.outlets
        )

    def _for_others(self, name: str, reading: Reading[Any], item: Item) -> None:
        """Keep a pipe's value for all that have none of their own; doubtful, unless said of all."""
        if not (self.all_line == item.line and item.line):
            reading.status = "doubtful" if reading.status == "read" else reading.status
            reading.why = _also(reading.why, OF_NO_PIPE)
        self.scopes.append(Scope(name, reading))

    def _both_outlets(self, run: RunDraft) -> list[OutletDraft]:
        """The two that `both` means: those in focus, the run's, or the last two said in this job."""
        if len(self.outlets) >= 2:
            return self.outlets
        if len(run.outlets) == 2:
            return list(run.outlets)
        everyone = [outlet for other in self.runs for outlet in other.outlets]
        return everyone[-2:] if len(everyone) >= 2 else self.outlets

    def remark(self, line: Line, start: int, end: int, kind: RemarkKind, about: PlaceName | None) -> None:
        """A remark: the words of a stretch of a line."""
        source = line.source(start, end)
        if not source.text:
            return
        self.use_source(source)
        last = self.remarks[-1] if self.remarks else None
        if last is not None and last.source.line == source.line and source.start <= last.source.end:
            merged = line.source(min(last.source.start, source.start), max(last.source.end, source.end))
            self.remarks[-1] = last.model_copy(
                update={"text": merged.text, "source": merged, "kind": _kind_of(merged, line, last.kind)}
            )
            self.use_source(merged)
            return
        for begin, end in _parts(source, line):
            part = line.source(source.start + begin, source.start + end)
            self.remarks.append(
                Remark(
                    kind=_kind_of(part, line, kind),
                    about=about.id if about else None,
                    text=part.text,
                    source=part,
                )
            )


def _items_of(source: Source, line: Line) -> list[Item]:
    """The items of a stretch of a line, read by itself."""
    from gutterance.reading.pipeline import pipeline

    return (line.reader or pipeline()).line(line.number, source.text).items


def _parts(source: Source, line: Line) -> list[tuple[int, int]]:
    """The parts of a remark that are about things of different kinds."""
    return parts_by_kind(_items_of(source, line), source.text)


def _kind_of(source: Source, line: Line, otherwise: RemarkKind) -> RemarkKind:
    """What a remark in those words of a line is about."""
    return remark_kind(_items_of(source, line), source.text, otherwise)


def _feet_and_inches(item: Item) -> bool:
    """Whether two bare numbers can be the feet and inches between hangers: `2 0`, `1 6`."""
    amounts = item.found.amounts if item.found is not None else ()
    return (
        len(amounts) == len(("2", "0"))
        and all(amount.is_whole and amount.unit is None for amount in amounts)
        and amounts[0].value <= WIDEST_SPACING_FEET
        and amounts[1].value < 12
    )


def same_numbers(old: Reading[Any], item: Item) -> bool:
    """`thirty and a quarter inch` of `thirty foot and a quarter inch`: the same numbers in other words."""
    if item.found is None or item.found.kind == "other":
        return False
    number = sum(amount.value for amount in item.found.amounts)
    return any(
        found.kind != "other" and sum(amount.value for amount in found.amounts) == number
        for source in old.source
        for found in find_lengths(source.text)
    )


def _quoted_in(old: Reading[Any] | None, item: Item) -> Item | None:
    """The number taken back that quotes a value in other words, or None."""
    if old is None or len(item.was) != 1 or not same_numbers(old, item.was[0]):
        return None
    return item.was[0]


def _few(item: Item, fewest: int = FEWEST_SURE_MM) -> bool:
    """Whether a bare number is too small to be certain of as millimetres, or as so many inches."""
    found = item.found
    return (
        found is not None
        and found.kind == "bare"
        and found.value is not None
        and found.value.denominator == 1  # `.35` is in metres
        and found.value < fewest
    )


def _also(why: str | None, more: str) -> str:
    """A reason with one more behind it."""
    return f"{why}; {more}" if why else more

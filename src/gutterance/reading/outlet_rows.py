"""Rows that only tell where outlets are, run by run: `dr S both ends. N at R only`, `one ea corner fr n bk`.

Such a row stands below the runs. Each of its entries names runs that were told and the ends of them that
have an outlet, in either order; an entry may say that a run has none. What is left of the line is read on.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.builder import RunDraft
from gutterance.reading.neighbours import in_context
from gutterance.reading.places import LR_SIDE, PlaceName
from gutterance.reading.scanning import NUMBER_WORDS
from gutterance.reading.totals_said import keep_total

if TYPE_CHECKING:
    from gutterance.reading.builder import OutletDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item

HEADS = frozenset({"outlet", "downpipe", "downpipe name"})
"""Kinds of items that open such a row."""
SHORT_HEADS = frozenset({"dr", "drs", "outs", "o", "pops"})
"""Words that open one where a run is named behind them, and mean nothing alone."""
LITTLE = frozenset(
    {"on", "at", "the", "of", "of the", "in", "a", "is", "are", "has", "have", "gets", "with", "its", "also",
     "then", "only", "side", "end", "ends", "corner", "just", "there", "that", "hand", "there's"}
)  # fmt: skip
"""Little words within an entry."""
JOINTS = frozenset({"and", "&", "+", "n", "or", "/", "nor"})
"""Words and signs between two names, or two sides, of one entry."""
NO_ENDS = frozenset({"end", "ends", "corner", "cnr", "corners"})
"""What `one ea` must have behind it to mean both ends."""
ONE_EACH = re.compile(r"(?:(?:one|1) )?(?:ea\.?|each|either|per)", re.IGNORECASE)
"""With an end behind it: one at both."""
BOTH_ENDS = ("left", "right")
MOST_COUNTED = 20
"""A larger number before the entries counts no outlets."""
MISCOUNTED = "so many outlets were listed, and another number was said"


@dataclass(slots=True)
class _Entry:
    """Runs named, the items of their sides, and how many outlets were said for each."""

    names: list[tuple[Item, RunDraft]] = field(default_factory=list)
    sides: list[tuple[str, Item]] = field(default_factory=list)
    counts: list[Item] = field(default_factory=list)
    denied: Item | None = None
    same: Item | None = None

    @property
    def is_whole(self) -> bool:
        return bool(self.names) and bool(self.sides or self.denied is not None)


def hear_outlet_row(items: list[Item], walk: Walk) -> list[Item]:
    """Read a row of outlets into the walk; what is left of the line, all of it where it is none."""
    head = _head(items, walk)
    if head is None or walk.asked is not None:
        return items
    row = _Row(items, head + 1, walk)
    row.read()
    named = [run for entry in row.entries for _, run in entry.names if entry.denied is None]
    placed = [(id(run), side) for entry in row.entries for _, run in entry.names for side, _ in entry.sides]
    if len(named) < 2 or len(set(placed)) < len(placed) or any(run.outlets for run in named):
        return items
    walk.runs += [run for run in row.ahead if run in named]
    walk.use(items[head])
    listed: list[OutletDraft] = []
    for entry in row.entries:
        listed += _give(entry, walk)
    for count in row.counts:
        keep_total("downpipes", walk.text(_count(count), count), walk)
        if _count(count) != len(listed):
            for outlet in listed:
                if outlet.place is not None:
                    outlet.place.status, outlet.place.why = "doubtful", MISCOUNTED
    walk.pipe_order = listed
    walk.run, walk.outlets = None, []  # what stands below is of all of them, or names its run
    return items[row.end :]


def _give(entry: _Entry, walk: Walk) -> list[OutletDraft]:
    """Put what an entry says on its runs; the outlets that it made."""
    made: list[OutletDraft] = []
    for name, run in entry.names:
        walk.use(name)
        if entry.denied is not None:
            walk.use(entry.denied)
            run.no_outlet = run.no_outlet or name.source()
            continue
        walk.focus(run.place, name)
        for side, item in entry.sides:
            reading = walk.text(side, item)
            if entry.same is not None:
                walk.use(entry.same)
                reading.source.append(entry.same.source())
            for count in entry.counts:
                walk.shown.append(count.source())
                if _count(count) > 1 and _count(count) != len(entry.sides):
                    reading.status, reading.why = "doubtful", MISCOUNTED
            outlet = walk.outlet_at(side, item, reading, None)
            outlet.source.append(name.source())
            made.append(outlet)
    return made


def _head(items: list[Item], walk: Walk) -> int | None:
    """Where the word stands that opens a row of outlets, below runs with lengths; None where none does."""
    if sum("length" in run.fields for run in walk.runs) < 2 and any(run.has_data for run in walk.runs):
        return None
    at = 0
    while at < len(items) and (items[at].kind == "mark" or items[at].text.lower() in ("so", "and", "the")):
        at += 1
    if at + 1 < len(items) and _count(items[at]) and items[at + 1].kind in ("outlet", "downpipe"):
        at += 1  # `3 drops: ...`
    if at + 1 >= len(items):
        return None
    if items[at].kind in HEADS:
        return at
    behind = next((item for item in items[at + 1 :] if item.kind not in ("break", "colon", "mark")), None)
    named = behind is not None and behind.kind in ("place", "initial")
    return at if items[at].text.lower() in SHORT_HEADS and named else None


def _count(item: Item) -> int:
    """How many outlets an item counts; 0 where it counts none."""
    if item.kind == "downpipe name":
        return int(item.value) if str(item.value).isdecimal() else 0
    if item.kind not in ("measure", "count"):
        return 0
    word = item.text.lower()
    count = int(word) if word.isdecimal() else NUMBER_WORDS.get(word, 0)
    return count if count <= MOST_COUNTED else 0


class _Row:
    """The entries of a row, read from left to right as far as they are wholly understood."""

    def __init__(self, items: list[Item], start: int, walk: Walk) -> None:
        self.items, self.walk = items, walk
        self.end = self.at = start
        self.entries: list[_Entry] = []
        self.ahead: list[RunDraft] = []
        counted = items[max(0, start - 2) : start]
        self.counts = [item for item in counted if item.kind == "downpipe name" or _count(item)]

    def read(self) -> None:
        """Read entries as long as each is whole."""
        self._skip(breaks=True)
        if self.at < len(self.items) and _count(self.items[self.at]) and self._is_of_all():
            self.counts.append(self.items[self.at])
            self.at += 1
        while self.at < len(self.items):
            self._skip(breaks=True)
            entry = self._entry()
            if entry is None:
                break
            self.entries.append(entry)
            self.end = self.at
        if self._tells_more():
            self.entries.clear()

    def _tells_more(self) -> bool:
        """`Front left, 9-2 to splash, back right, ...`: the entries tell of their pipes too."""
        if self.end < len(self.items) and self.items[self.end].kind != "break":
            return True
        behind = [item for item in self.items[self.end :] if item.kind not in ("break", "mark", "filler")]
        return bool(behind) and behind[0].kind in ("measure", "ends at", "cue")

    def _is_of_all(self) -> bool:
        """`dp 4, one ea corner`: a count of all of them, with a break behind it."""
        behind = self.items[self.at + 1] if self.at + 1 < len(self.items) else None
        return behind is not None and (behind.kind in ("break", "colon") or behind.text in ("-", "–"))

    def _skip(self, *, breaks: bool) -> None:
        while self.at < len(self.items):
            item = self.items[self.at]
            little = item.kind in ("filler", "mark") and (item.text.lower() in LITTLE or item.kind == "mark")
            joint = breaks and item.text.lower() in JOINTS and item.kind != "initial"
            if not (little or joint or (breaks and item.kind in ("break", "colon"))):
                return
            self.at += 1

    def _entry(self) -> _Entry | None:
        entry = _Entry()
        while self.at < len(self.items):
            self._skip(breaks=False)
            if self.at >= len(self.items) or not self._take(entry):
                break
        if not entry.is_whole:
            return None
        return entry

    def _take(self, entry: _Entry) -> bool:
        """Take the next item into the entry, if it belongs there."""
        item = self.items[self.at]
        if item.kind == "no" and not entry.names and not entry.sides:
            entry.denied = item
            self.at += 1
            return True
        if self._joint(entry):
            self.at += 1
            return True
        run = self._run(item)
        if entry.denied is not None and item.kind == "lr" and item.value in LR_SIDE:
            run = self._told(PlaceName(direction=LR_SIDE[item.value]))
        if run is not None:
            if entry.names and entry.sides and self._name_came_first(entry):
                return False  # the next entry, with no break between
            entry.names.append((item, run))
            self.at += 1
            return True
        if entry.denied is not None:
            return False
        if item.kind == "same" and entry.names and not entry.sides and self.entries:
            entry.sides, entry.same = list(self.entries[-1].sides), item
            self.at += 1
            return True
        return self._side(entry)

    def _joint(self, entry: _Entry) -> bool:
        """A joint between two names or two sides: `rear lt + rt`, `fr n bk`."""
        item = self.items[self.at]
        if item.text.lower() not in JOINTS or self.at + 1 >= len(self.items):
            return False
        after = next((other for other in self.items[self.at + 1 :] if other.text.lower() not in LITTLE), None)
        before = self.items[self.at - 1]
        if after is None:
            return False
        if entry.denied is not None:
            return bool(entry.names)
        names = bool(entry.names) and self._run(before) is not None and self._run(after) is not None
        sides = bool(entry.sides) and _side_of(after) is not None
        return names or sides

    def _name_came_first(self, entry: _Entry) -> bool:
        return entry.names[0][0].start < entry.sides[0][1].start

    def _run(self, item: Item) -> RunDraft | None:
        """The run that an item names, told before."""
        if item.kind == "place" and isinstance(item.value, PlaceName):
            name = item.value
        elif item.kind == "initial":
            name = PlaceName(direction=item.value)
        else:
            return None
        return self._told(name)

    def _told(self, name: PlaceName) -> RunDraft | None:
        name = in_context(name, self.walk)
        if not any(run.has_data for run in self.walk.runs):
            return self._told_later(name)
        found = [run for run in self.walk.runs if run.place == name and run.has_data]
        return found[0] if len(found) == 1 else None

    def _told_later(self, name: PlaceName) -> RunDraft:
        """`drops F both, Bk both` above the runs: the run that a name will be of."""
        known = next((run for run in [*self.walk.runs, *self.ahead] if run.place == name), None)
        if known is None:
            known = RunDraft(name)
            self.ahead.append(known)
        return known

    def _side(self, entry: _Entry) -> bool:
        """A side, a count before it, or `one ea end`."""
        item = self.items[self.at]
        side = _side_of(item)
        if side is not None:
            if item.kind == "lr" and not entry.names and not self._named_behind():
                return False
            for one in BOTH_ENDS if side == "both" else (side,):
                if one not in [known for known, _ in entry.sides]:
                    entry.sides.append((one, item))
            self.at += 1
            return True
        if item.kind == "all" and item.text.lower() == "both" and entry.names and not entry.sides:
            entry.sides = [(one, item) for one in BOTH_ENDS]
            self.at += 1
            return True
        behind = self.items[self.at + 1] if self.at + 1 < len(self.items) else None
        if behind is None or behind.kind == "break":
            return False
        if ONE_EACH.fullmatch(item.text):
            if behind.text.lower() not in NO_ENDS:
                return False
            entry.sides = [(one, item) for one in BOTH_ENDS]
            self.at += 2
            return True
        if not 0 < _count(item) <= len(BOTH_ENDS):
            return False
        entry.counts.append(item)
        self.at += 1
        return True

    def _named_behind(self) -> bool:
        """Whether a run is named behind a side that opens its entry: `left of the front`."""
        here = self.at + 1
        while here < len(self.items) and self.items[here].text.lower() in LITTLE:
            here += 1
        return here < len(self.items) and self._run(self.items[here]) is not None


def _side_of(item: Item) -> str | None:
    """Which end or ends an item says: left, right, centre or both."""
    if item.kind not in ("lr", "side"):
        return None
    return item.value if item.value in ("left", "right", "centre", "both") or item.value in LR_SIDE else None

"""A line of a note whose corners have names: each as an end of the run told of, or of both that meet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item, Line
from gutterance.reading.lettered.asides import (
    beside_the_measuring,
    keep_remark,
    only_adds_up,
    puts_right,
    without_asides,
)
from gutterance.reading.lettered.headings import heading, heading_before
from gutterance.reading.lettered.hearing import goes_on, hear_at_corner, plain, sentences
from gutterance.reading.lettered.joints import (
    ENDS,
    SHORT_ENDS,
    put_corner,
    rest_of_corners,
    take_joints,
)
from gutterance.reading.lettered.kinds import THINGS
from gutterance.reading.lettered.rewriting import hear_of
from gutterance.reading.lettered.roles import MENTIONED
from gutterance.reading.places import PlaceName
from gutterance.reading.points.naming import DRAWING
from gutterance.reading.speech import hear, hear_words
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.lettered.ring import Ring
    from gutterance.reading.points.naming import Points
    from gutterance.sheet.models import Sheet

TO_A_POINT = frozenset(
    {
        "falls",
        "fall",
        "falling",
        "goes",
        "drains",
        "draining",
        "runs",
        "down",
        "feeds",
        "slopes",
        "flows",
        "going",
    }
)
"""Words by which a run's water goes to a corner: that is no outlet of its own."""
REFERRED = frozenset(
    {"as", "like", "same", "than", "from", "off", "onto", "into", "past", "between", "behind"}
)
"""Words before the name of a run of which nothing is told there."""
OUGHT = frozenset({"same", "match", "matches", "equal", "agree", "alike"})
ABOUT_OUGHT = frozenset({"ought", "should", "supposed", "meant", "must", "don't", "doesn't", "dont", "not"})
"""Words by which two lengths that ought to be the same are not."""


def begin_round(ring: Ring, points: Points) -> None:
    """Note which runs meet at each corner of the sketch."""
    for point in points.before.keys() & points.behind.keys():
        first, then = points.met_at(point)
        side, other = points.side_at(first, point), points.side_at(then, point)
        assert side is not None
        assert other is not None
        ring.meets[first, side] = then
        ring.meets[then, other] = first


def doubt_unsaid_way(points: Points, sheet: Sheet) -> None:
    """Where nobody said which way the corners go, runs whose two ends differ may be the other way about."""
    if points.way_known:
        return
    for run in sheet.runs:
        ends = [end for end in (run.left_end, run.right_end) if end is not None and end.value is not None]
        if run.name.lower().removeprefix("run ") not in {name.lower() for name in points.order}:
            continue
        if len(ends) == 2 and ends[0].value != ends[1].value:
            for end in ends:
                if end.status in CERTAIN:
                    end.status = "doubtful"
                    end.why = "by the way that the corners go round, which was not said: from left to right?"


def hear_points(line: Line, walk: Walk, ring: Ring, points: Points) -> None:
    """Read one line of a note with named corners into the walk."""
    walk.shown += [item.source() for item in line.items if item.kind in ("numbered", "point")]
    if not line.text.strip():
        if ring.heading is not None and line.number > ring.heading.line + 1:
            ring.topic, ring.heading = "runs", None
        walk.run, walk.outlets, ring.subject = None, [], None
        return
    if not any(_is_run(item) or item.kind == "point" for item in line.items):
        if heading(line.items, ring) or rest_of_corners(line.items, walk, ring):
            return
        if walk.run is not None and not goes_on(line):
            walk.run, walk.outlets = None, []
        hear(line, walk)
        return
    if DRAWING.fullmatch(line.text) and not any(item.kind == "measure" for item in line.items):
        for item in line.items:
            walk.use(item)
        return
    for sentence in sentences([_as_names(plain(item), points) for item in line.items]):
        _Sentence(line, walk, ring, points).hear(sentence)


def _is_run(item: Item) -> bool:
    return item.kind == "numbered" and bool(item.marks.get("lettered"))


def _as_names(item: Item, points: Points) -> Item:
    """A run as a name of one, and a corner where two runs meet as a name of both."""
    if _is_run(item):
        named = Item(item.line, item.start, item.end, item.text, "names", (item.value,))
        named.marks.update(lettered=True, joined="one")
        return named
    if item.kind == "point":
        named = Item(item.line, item.start, item.end, item.text, "names", points.met_at(item.value))
        named.marks.update(lettered=True, joined="pair", point=item.value)
        if len(named.value) == 1:
            named.marks["joined"] = "free end"
        return named
    return item


def _point(item: Item) -> str | None:
    """The corner that an item names, or None."""
    return item.marks.get("point") if item.kind == "names" else None


class _Sentence:
    """One sentence of such a note."""

    def __init__(self, line: Line, walk: Walk, ring: Ring, points: Points) -> None:
        self.line, self.walk, self.ring, self.points = line, walk, ring, points

    def hear(self, items: list[Item]) -> None:
        """Read the sentence: its corners by name, then a clause for each run."""
        items = heading_before(items, self.ring)
        if heading(items, self.ring):
            return
        puts_right(items, self.walk, self.line.number)
        items = without_asides(items)
        if only_adds_up(items) or rest_of_corners(items, self.walk, self.ring):
            return
        runs = [item for item in items if item.kind == "names" and _point(item) is None]
        if self._doubt_those_unlike(items, runs):
            return
        told = any(item.kind in (*ENDS, *THINGS, "measure", "same") for item in items) or _short_end(items)
        if not told and beside_the_measuring(items):
            self._remark(items)
            return
        if not runs and not any(item.kind in THINGS for item in items) and self.ring.topic == "runs":
            self._corners(items)
            return
        for clause in self._clauses(items):
            self._clause(clause)

    def _remark(self, items: list[Item]) -> None:
        """Words about something beside the measuring, at a run or at a corner."""
        for item in items:
            if item.kind == "names":
                item.kind, item.value = "ref", PlaceName(number=item.value[0])
                item.marks["words"] = [item.text.lower()]
        hear_words(Line(self.line.number, self.line.text, items), self.walk)
        keep_remark(self.line, items, self.walk)

    def _doubt_those_unlike(self, items: list[Item], runs: list[Item]) -> bool:
        """`FG and HA ought to be the same. One is a foot out`: neither length is to be trusted."""
        words = {word for item in items for word in item.text.lower().split()}
        if len(runs) < 2 or not words & OUGHT or not words & ABOUT_OUGHT:
            return False
        if any(item.kind == "measure" and not _a_count(item) for item in items):
            return False
        for named in runs:
            self.walk.use(named)
            run = next((run for run in self.walk.runs if run.place.number == named.value[0]), None)
            length = run.fields.get("length") if run is not None else None
            if length is not None and length.status == "read":
                length.status = "doubtful"
                length.why = "said to be the same as another that is not: which of the two is right?"
        return True

    def _corners(self, items: list[Item]) -> None:
        """`B and E inside 45, the rest outside`, `stop end at 7`: what is at the corners themselves."""
        rest = next((number for number, item in enumerate(items) if item.kind in ("all", "rest")), len(items))
        if rest_of_corners(items[rest:], self.walk, self.ring):
            items = items[:rest]
        items = self._free_ends(take_joints(items, self.walk, self.ring))
        if not items or rest_of_corners(items, self.walk, self.ring):
            return
        left = [item for item in items if item.kind == "names"]
        for item in left:
            self.walk.use(item)
            item.kind, item.value = "filler", ""
        if any(item.kind not in ("filler", "mark", "break", "colon", *ENDS) for item in items):
            self.walk.run, self.walk.outlets = None, []
            hear_words(Line(self.line.number, self.line.text, items), self.walk)

    def _free_ends(self, items: list[Item]) -> list[Item]:
        """What is at corners where only one run ends; what is left of the items comes back."""
        free = [item for item in items if item.marks.get("joined") == "free end"]
        ends = [item for item in items if item.kind in ENDS]
        if not free or len({item.value for item in ends}) != 1:
            return items
        for item in free:
            run, point = item.value[0], _point(item)
            side = self.points.side_at(run, str(point))
            if side is not None:
                self.walk.use(item)
                self.walk.use(ends[0])
                put_corner(self.walk, run, side, ends[0], item, None)
        return [item for item in items if item not in free and item not in ends]

    def _clauses(self, items: list[Item]) -> list[list[Item]]:
        """The items parted where something of another run begins, each part with its own words."""
        starts = [
            number for number, item in enumerate(items)
            if item.kind == "names" and _point(item) is None and not self._only_referred(items, number)
        ]  # fmt: skip
        if self.ring.topic != "runs" and not starts:
            starts = [number for number, item in enumerate(items) if _point(item) is not None]
        starts = sorted({*starts, *self._pipes_at_corners(items)})
        cuts = [0]
        for number in starts[1:]:
            back = number
            while back > cuts[-1] + 1 and self._leads_to(items[back - 1], items[number]):
                back -= 1
            cuts.append(back)
        clauses = [items[first:stop] for first, stop in zip(cuts, [*cuts[1:], len(items)], strict=True)]
        _carry_things(clauses)
        return clauses

    def _pipes_at_corners(self, items: list[Item]) -> list[int]:
        """`Spout at A 9-2 splash, one on CD ...`: where words tell of a corner's pipe alone."""
        found: list[int] = []
        first = 0
        for number in range(len(items) + 1):
            if number < len(items) and items[number].kind != "break":
                continue
            part = items[first:number]
            named = any(item.kind == "names" and _point(item) is None for item in part)
            told = any(item.kind in THINGS for item in part) and any(item.kind == "measure" for item in part)
            if told and not named and any(_point(item) is not None for item in part):
                found.append(first)
            first = number + 1
        return found

    def _leads_to(self, item: Item, run: Item) -> bool:
        """`and at C on the CD side`: whether a word before a run's name belongs to what is said of it."""
        if run.kind != "names":
            return False
        point = _point(item)
        if point is not None:
            return self.points.side_at(run.value[0], point) is not None
        return item.kind in ("filler", "mark", "walk", *THINGS) or item.text == "/"

    def _only_referred(self, items: list[Item], number: int) -> bool:
        """`same as A-B`, `under C-D`: a run that is only mentioned."""
        before = [item.text.lower() for item in items[max(0, number - 2) : number]]
        kinds = [item.kind for item in items[max(0, number - 3) : number]]
        return bool(set(before) & (MENTIONED | REFERRED)) or "same" in kinds

    def _clause(self, items: list[Item]) -> None:
        """One clause: told of the run that it names, or of the corner that it names."""
        run = next(
            (
                item for number, item in enumerate(items)
                if item.kind == "names" and _point(item) is None and not self._only_referred(items, number)
            ),
            None,
        )  # fmt: skip
        corners = [item for item in items if _point(item) is not None]
        if self._only_falls(items, run, corners):
            about = PlaceName(number=run.value[0]) if run is not None else None
            self.walk.remark(self.line, items[0].start, items[-1].end, "other", about)
            return
        if run is not None:
            self._of_run(items, run, run.value[0])
            return
        if not corners:
            self._of_run(items, None, None)
        elif len(corners[0].value) == 1:
            self._of_run(items, corners[0], corners[0].value[0])
        else:
            rest = [item for item in items if item is not corners[0]]
            hear_at_corner(self.line, corners[0], self._plain_ends(rest, None), self.walk, self.ring)

    def _only_falls(self, items: list[Item], run: Item | None, corners: list[Item]) -> bool:
        """`1-2 falls to 2`, `everything from E round to A goes to A`: where the water goes, and no outlet."""
        if any(item.kind in ("measure", *ENDS, *THINGS) and not _a_count(item) for item in items):
            return False
        words = {word for item in items for word in item.text.lower().split()}
        return bool(corners) and bool(words & TO_A_POINT) and (run is not None or len(corners) > 1)

    def _of_run(self, items: list[Item], named: Item | None, run: str | None) -> None:
        """A clause about one run, its corners as left and right."""
        here = run if run is not None else self.ring.subject
        rest = self._plain_ends([item for item in items if item is not named or _point(item)], here)
        subject = (named, run) if named is not None and run is not None else None
        known = {id(outlet) for each in self.walk.runs for outlet in each.outlets}
        hear_of(self.line, rest, self.walk, self.ring, subject)
        if self.points.way_known or not any(_point(item) for item in items):
            return
        for outlet in self.walk.outlets:
            place = outlet.place
            if id(outlet) not in known and place is not None and place.status == "read":
                place.status = "doubtful"
                place.why = "by the way that the corners go round, which was not said: from left to right?"

    def _plain_ends(self, items: list[Item], run: str | None) -> list[Item]:
        """The items with each corner of the run as its left or right, and other names as mentions."""
        out: list[Item] = []
        sided = any(run is not None and _point(i) and self.points.side_at(run, str(_point(i))) for i in items)
        for number, item in enumerate(items):
            point = _point(item)
            behind = items[number + 1].text.lower() if number + 1 < len(items) else ""
            if point is not None:
                side = self.points.side_at(run, point) if run is not None else None
                if side is None:
                    self.walk.use(item)
                    out.append(Item(item.line, item.start, item.end, item.text, "filler", ""))
                else:
                    out.append(Item(item.line, item.start, item.end, item.text, "side", side))
            elif item.kind == "names":
                self.walk.use(item)
                ref = Item(item.line, item.start, item.end, item.text, "ref", PlaceName(number=item.value[0]))
                ref.marks["words"] = [item.text.lower()]
                out.append(ref)
            elif (
                sided
                and item.kind in ("lr", "side")
                and behind in ("at", "on", "by", "in", "under", "against")
            ):
                out.append(
                    Item(item.line, item.start, item.end, item.text, "filler", "")
                )  # `right at the corner`
            else:
                out.append(item)
        for first, item in zip([None, *out], out, strict=False):
            value = SHORT_ENDS.get(item.text.lower())
            beside = first is not None and first.kind == "side"
            if value is not None and beside and item.kind not in ENDS and item.found is None:
                item.kind, item.value = "end word", value
        return out


def _carry_things(clauses: list[list[Item]]) -> None:
    """`Drops at A on AB, and at C on CD`: one for each run."""
    things = [item for item in clauses[0] if item.kind in THINGS]
    if len(clauses) < 2 or len(things) != 1:
        return
    thing = things[0]
    alone = [_only_placed(clause) for clause in clauses[1:]]
    if not all(alone):
        return
    for clause in clauses:
        one = Item(thing.line, thing.start, thing.end, thing.text, thing.kind, thing.value)
        if thing in clause:
            clause[clause.index(thing)] = one
        else:
            clause.insert(0, one)


def _only_placed(clause: list[Item]) -> bool:
    """Whether a clause says of an outlet where it is, and not what it is."""
    placed = any(_point(item) is not None or item.kind in ("lr", "side") for item in clause)
    return placed and not any(item.kind in ("measure", "same", *ENDS, *THINGS) for item in clause)


def _short_end(items: list[Item]) -> bool:
    """Whether a short word for a corner stands behind a corner's name: `5 int`."""
    return any(item.text.lower() in SHORT_ENDS and item.found is None for item in items[1:])


def _a_count(item: Item) -> bool:
    return item.kind == "measure" and item.found is not None and item.found.what == "count"

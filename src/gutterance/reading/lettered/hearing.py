"""A line of a lettered note: cut into clauses about one run each, which are rewritten and heard."""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING

from gutterance.reading.items import Item, Line
from gutterance.reading.lettered.aliases import heads_a_part, name_of, name_sides, note_sides, said_of_alias
from gutterance.reading.lettered.asides import (
    beside_the_measuring,
    keep_remark,
    only_adds_up,
    only_says_so,
    puts_right,
    without_asides,
    without_storeys,
)
from gutterance.reading.lettered.chains import take_chain
from gutterance.reading.lettered.clauses import cut_into_clauses
from gutterance.reading.lettered.groups import fold_groups, is_name
from gutterance.reading.lettered.headings import carry_outlets, cue_for_all, heading, heading_before
from gutterance.reading.lettered.joints import is_pair, rest_of_corners, take_joints
from gutterance.reading.lettered.kinds import PLACES, THINGS
from gutterance.reading.lettered.pipes import focus_labelled
from gutterance.reading.lettered.rewriting import hear_of
from gutterance.reading.line_openings import wall_at_a_side
from gutterance.reading.places import PlaceName
from gutterance.reading.speech import hear, hear_words

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.lettered.ring import Ring


def hear_lettered(line: Line, walk: Walk, ring: Ring) -> None:
    """Read one line of a lettered note into the walk."""
    if not line.text.strip():
        if ring.heading is not None and line.number > ring.heading.line + 1:
            ring.topic, ring.heading = "runs", None
        if not walk.dialogue:
            walk.run, walk.outlets = None, []
            ring.subject = None
        return
    wall_at_a_side(line)
    if not any(is_name(item) or item.kind == "pipe label" for item in name_sides(line.items, ring)):
        if heading(line.items, ring) or (ring.topic != "runs" and rest_of_corners(line.items, walk, ring)):
            return
        if rest_of_corners(line.items, walk, ring) or _of_aliases(line, walk, ring):
            return
        if heads_a_part(line.items, walk):
            return
        if not walk.dialogue and walk.run is not None and not goes_on(line):
            walk.run, walk.outlets = None, []
        hear(line, walk)
        return
    if take_chain(line.items, walk, ring):
        return
    note_sides(line.items, ring)
    items = fold_groups(name_sides([plain(item) for item in line.items], ring), line.text, ring)
    for sentence in sentences(items):
        _hear_sentence(line, sentence, walk, ring)


def _of_aliases(line: Line, walk: Walk, ring: Ring) -> bool:
    """`house 8/12, garage 4/12`: what is said of all the runs that share a name."""
    told = said_of_alias(line.items, walk, ring)
    for names, items in told:
        for item in items:
            item.marks["of the runs"] = bool(names)
        for name in names:
            place = Item(line.number, items[0].start, items[0].start, "", "place", name_of(name, walk, ring))
            place.marks.update(words=[name], settled=True)
            hear_words(Line(line.number, line.text, [place, *deepcopy(items)]), walk)
        if not names:
            walk.run, walk.outlets = None, []
            hear_words(Line(line.number, line.text, deepcopy(items)), walk)
    if told:
        walk.run, walk.outlets = None, []
    return bool(told)


def goes_on(line: Line) -> bool:
    """Whether a line with no name in it goes on about the run before."""
    kinds = {item.kind for item in line.items}
    if line.text[:1].isspace() and kinds & {"downpipe", "cue", "ends at"}:
        return True  # set in below the run: `   pipe: 9 ft 3, wall to fascia 17 in`
    return bool(kinds & {"lr", "side", "end", "end word", "outlet", "same"})


def plain(item: Item) -> Item:
    """`@` and `'s` as the little words they are."""
    if item.text == "@":
        return Item(item.line, item.start, item.end, "at", "filler", "at")
    if item.text in ("'s", "’s"):
        item.kind = "filler"
    return item


def sentences(items: list[Item]) -> list[list[Item]]:
    """The items parted where a sentence ends."""
    out: list[list[Item]] = [[]]
    for item in items:
        out[-1].append(item)
        if (item.kind == "break" and item.strength >= 3) or item.text == "?":
            out.append([])
    return [sentence for sentence in out if sentence]


def _hear_sentence(line: Line, items: list[Item], walk: Walk, ring: Ring) -> None:
    """Read one sentence: its corners by pair, then a clause for each run."""
    items = heading_before(items, ring)
    if heading(items, ring):
        return
    puts_right(items, walk, line.number)
    items = without_asides(without_storeys(items, ring))
    if only_adds_up(items) or only_says_so(items):
        return
    if rest_of_corners(items, walk, ring):
        return
    if beside_the_measuring(items):
        for item in items:
            if item.kind == "names":
                item.kind, item.value = "ref", PlaceName(number=item.value[0])
                item.marks["words"] = [item.text.lower()]
        hear_words(Line(line.number, line.text, items), walk)
        keep_remark(line, items, walk)
        return
    if ring.topic == "runs" and not any(item.kind in THINGS or item.kind == "pipe label" for item in items):
        items = take_joints(items, walk, ring)
        if rest_of_corners(items, walk, ring):
            return
    header: Item | None = None
    clauses = cut_into_clauses(items, walk, ring)
    carry_outlets(clauses, ring)
    for clause in clauses:
        header = cue_for_all(clause, header)
        _hear_clause(line, clause, walk, ring)


def _hear_clause(line: Line, items: list[Item], walk: Walk, ring: Ring) -> None:
    """Hear a clause once for each run that it is about."""
    first = items[0]
    if first.kind != "names" or first.marks.get("role") != "subject":
        labelled = focus_labelled(items, walk, ring)
        if not labelled and any(
            item.kind == "pipe label" and not item.marks.get("like pipe") for item in items
        ):
            _hear_unplaced(line, items, walk)
            return
        hear_of(line, items, walk, ring, None, labelled=labelled)
        return
    rest = items[1:]
    if is_pair(first):
        hear_at_corner(line, first, rest, walk, ring)
        return
    names = list(first.value)
    if (len(names) > 1 and any(item.kind == "downpipe" for item in rest)) or (
        len(names) > 1 and ring.topic == "pipes"
    ):
        piped = [
            name for name in names
            if any(run.place.number == name and run.outlets for run in walk.runs)
        ]  # fmt: skip
        names = piped or names
    for number, name in enumerate(names):
        hear_of(line, deepcopy(rest) if number else rest, walk, ring, (first, name))


def _hear_unplaced(line: Line, items: list[Item], walk: Walk) -> None:
    """`pipe 3, 4 in over the plinth`, where nobody has said where pipe 3 is: its numbers stay unread."""
    if not any(item.kind in PLACES for item in items):
        return
    for item in items:
        if item.kind == "pipe label":
            item.kind = "downpipe name"
    hear_words(Line(line.number, line.text, items), walk)


def hear_at_corner(line: Line, pair: Item, rest: list[Item], walk: Walk, ring: Ring) -> None:
    """`DP1 R1/R4`, `outlet at corner C/D`: an outlet where two runs meet, on the first of them."""
    first, second = pair.value
    for name, other in ((first, second), (second, first)):
        side = ring.side_toward(name, other)
        drafts = [run for run in walk.runs if run.place.number == name]
        if side is not None and any(outlet.side == side for run in drafts for outlet in run.outlets):
            first, second = name, other
            break
    side = ring.side_toward(first, second)
    where = Item(pair.line, pair.start, pair.end, pair.text, "side", side or "named")
    where.marks.update(named=PlaceName(number=second))
    label = [item for item in rest if item.kind == "pipe label" or item.kind in THINGS]
    others = [item for item in rest if not any(item is one for one in label) and item.kind != "corner"]
    known = any(
        outlet.side == side for run in walk.runs if run.place.number == first for outlet in run.outlets
    )
    hear_of(line, [*label, where, *others], walk, ring, (pair, first))
    if not known:
        for outlet in walk.outlets:
            if outlet.place is not None and outlet.place.status == "read":
                outlet.place.status = "doubtful"
                outlet.place.why = f"at the corner of two runs: on run {first}, or on run {second}?"

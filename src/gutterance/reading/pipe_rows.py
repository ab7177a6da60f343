"""Rows about one thing of several downpipes: `dn F 9-2, B 9-6`, `wf 18 - 18 - 22`, `to spl - drn - grd`.

A row is led by a cue; its values go to the pipes named in it, or, where it names none, to the pipes in the
order in which they were listed. A row that is not wholly understood is left to the rules for other lines.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.bare_rows import (
    HOUSE_WORDS,
    NO_CUE,
    cue_either_way,
    cue_first,
    field_without_cue,
    hear_pair_of_all,
    height_of_all,
    name_the_house,
)
from gutterance.reading.discourse import RECTANGLE
from gutterance.reading.neighbours import in_context
from gutterance.reading.places import COMPASS, LR_SIDE, THE_HOUSE, PlaceName
from gutterance.reading.roles import fits_field

if TYPE_CHECKING:
    from gutterance.reading.builder import OutletDraft, RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line

PIPE_FIELDS = {"wall_to_fascia": "wall_to_fascia", "height": "height", "down": "height"}
"""Cues that lead a row of pipes, and the field each fills."""
REST_WORDS = frozenset({"other", "others", "rest", "remaining"})
"""Words for the pipes that the row has not named."""
OPENING_WORDS = frozenset({"so", "and", "ok", "okay", "then", "the", "now", "right", "all the", "um", "uh"})
"""Words that open a sentence and say nothing."""
ROW_KINDS = frozenset({"place", "house", "measure", "ends at", "lr", "side", "initial"})
"""Kinds of items that a row is made of."""
EVERY_WORDS = frozenset({"both", "all", "each", "ea", "ea.", "pair", "one", "ones"})
"""Words that only say that a value is of each pipe of its place."""
SENTENCE = 4
"""A break of this strength ends a sentence."""
SHORTEST_HEIGHT_IN_INCHES = 48
"""`drops: front 2.65`: a smaller number than this [in] is no height of an eave."""


@dataclass(slots=True)
class Entry:
    """A value or more, and the pipes they are of; no pipes where none was named."""

    outlets: list[OutletDraft] = field(default_factory=list)
    named: list[Item] = field(default_factory=list)
    values: list[Item] = field(default_factory=list)
    rest: bool = False
    rest_count: int | None = None


def hear_pipe_row(line: Line, items: list[Item], walk: Walk) -> list[Item]:
    """Read a row about several pipes into the walk; what is left of the line, all of it where it is none.

    What stands before the row and names no place is of every pipe: `w/f 16, H 9-2 front, 10-8 back`.
    """
    if hear_pair_of_all(items, walk):
        return []
    houses = name_the_house(items)
    cue_either_way(items)
    items = height_of_all(cue_first(items, frozenset(PIPE_FIELDS)), walk)
    for start, item in enumerate(items):
        if start and not (items[start - 1].kind in ("break", "measure") and item.kind == "cue"):
            continue  # `Ovh 18  ht 9' frt 8'6 bk`
        before = items[:start]
        if any(
            other.kind in ("place", "ref", "side", "lr", "outlet") or other.strength >= 3 for other in before
        ):
            break
        left = _hear_row(line, items[start:], walk, fewest_named=2 if start else 0)
        if left is not None:
            for other in before:
                other.marks["of every pipe"] = True
            items = [*before, *left]
            break
    for item, kind in houses:
        item.kind = kind  # in what is no such row the house is what it was
    return items


def sentence_of_pipes(items: list[Item]) -> int | None:
    """Where a later sentence begins that tells of the pipes of several places, or None."""
    for at in range(1, len(items)):
        before = items[at - 1]
        begins = (before.kind == "break" and before.strength >= SENTENCE) or (
            items[at].kind == "downpipe" and before.text.lower() in OPENING_WORDS
        )
        if not begins:
            continue
        head = _head(items[at:])
        if head is not None and head[0] != "ends_at" and _tells_of_places(items, at + head[1]):
            return at
    return None


def _hear_row(line: Line, items: list[Item], walk: Walk, fewest_named: int) -> list[Item] | None:
    """Read the row that begins with the first of these items; what is left of them, None where it is none."""
    head = _head(items)
    if head is None and not fewest_named and walk.asked is None:
        bare = field_without_cue(items, walk)
        head = (*bare, None) if bare is not None else None
    if head is None:
        return None
    name, start, cue = head
    tail = next((at for at in range(start, len(items)) if _begins_other(items, at, name)), len(items))
    entries = _entries(_names_before_values(_sides_before_values(items[start:tail])), walk)
    if fewest_named and (entries is None or sum(bool(entry.named) for entry in entries) < fewest_named):
        return None
    if entries is None or not _is_whole(entries, name, walk):
        _doubt_initials(items)
        return None
    if all(not entry.named and not entry.rest for entry in entries):
        plan = _in_order(entries, walk)
    else:
        plan = _by_name(entries, walk)
    if plan is None or not all(_can_be(value, name, walk) for _, value in plan):
        _doubt_initials(items)
        return None
    if cue is not None:
        walk.use(cue)
    for entry in entries:
        for item in entry.named:
            walk.use(item)
    if cue is None and name != "ends_at":
        for _, value in plan:
            if not value.doubts:
                value.doubts.append(NO_CUE.format(name.replace("_", " ")))
    for outlet, value in plan:
        _give(outlet, name, value, cue, walk)
    if plan:
        walk.run = _run_of(plan[-1][0], walk)
        walk.outlets = [plan[-1][0]]
        walk.focus_line = line.number
    if cue is not None and cue.kind == "cue":
        walk.header, walk.header_line = cue, line.number
    left = items[tail:]
    if not any(item.kind in ("place", "ref") for item in left):
        for item in left:
            item.marks["of every pipe"] = True
    return left


def _doubt_initials(items: list[Item]) -> None:
    """`heights E 4 780, W 4 815`, when not all of it is followed: a letter within a line may name nothing."""
    measures = [item for item in items if item.kind == "measure"]
    if len(measures) > 1 and any(item.kind == "initial" for item in items):
        for item in measures:
            item.doubts.append("one of several values in a row, of which not all was followed")


def note_listed_pipes(line: Line, walk: Walk) -> None:
    """`DS  F-R  B-L  B-R`: a line that only lists where pipes are gives the order of the rows below it."""
    said = [item for item in line.items if item.kind not in ("mark", "colon", "filler", "break")]
    if not said or said[0].kind not in ("downpipe", "outlet") or any(item.kind == "measure" for item in said):
        return
    listed = [
        outlet for outlet in _all_outlets(walk) if any(source.line == line.number for source in outlet.source)
    ]
    if len(listed) > 1:
        # by where each is named: the word for all of them stands before the first, and may be in its words
        listed.sort(key=lambda outlet: max(s.start for s in outlet.source if s.line == line.number))
        walk.pipe_order = listed


def _head(items: list[Item]) -> tuple[str, int, Item | None] | None:
    """The field of the row, where its values begin, and the cue that says so."""
    start = 0
    while start < len(items) and (
        (items[start].kind == "mark" and items[start].text not in (">", "?"))
        or items[start].text.lower() in OPENING_WORDS
    ):
        start += 1
    if start >= len(items):
        return None
    first = items[start]
    if first.kind == "downpipe" and start + 1 < len(items):
        behind = items[start + 1]
        if behind.kind == "cue" and behind.value in PIPE_FIELDS:
            start, first = start + 1, behind
        elif _tells_of_places(items, start + 1):
            return "height", start + 1, first
    after = start + 1
    while after < len(items) and (items[after].kind == "colon" or items[after].text in ("@", "-", "–")):
        after += 1
    if first.kind == "cue" and first.value in PIPE_FIELDS:
        return PIPE_FIELDS[first.value], after, first
    if first.text.lower() == "to" or first.kind == "arrow":
        return "ends_at", after, None
    if first.kind == "outlet" and first.plural and (after > start + 1 or _tells_of_places(items, after)):
        return "height", after, first
    measured = any(item.kind == "measure" and not _counts_rest(items, at) for at, item in enumerate(items))
    if any(item.kind == "ends at" for item in items) and not measured:
        return "ends_at", start, None
    return None


def _tells_of_places(items: list[Item], start: int) -> bool:
    """`pipes at the front are 18 6, back ones 19 2`: more than one place, each with one number and no cue."""
    end = next((at for at in range(start, len(items)) if _row_is_told(items, at)), len(items))
    told = ("place", "initial", "house", "measure", "cue", "end", "outlet")
    kinds = [
        "place" if item.kind in ("initial", "house") else item.kind
        for item in items[start:end]
        if item.kind in told
    ]
    pair = kinds[:2]
    return len(kinds) > len(pair) and set(pair) == {"place", "measure"} and kinds == pair * (len(kinds) // 2)


def _row_is_told(items: list[Item], at: int) -> bool:
    """Whether a break parts the row from what measures nothing: `..., front ones to the drain`."""
    if items[at].kind != "break":
        return False
    return items[at].strength >= 3 or not any(item.kind == "measure" for item in items[at:])


def _begins_other(items: list[Item], at: int, name: str) -> bool:
    """Where the row ends: `R 96?? (dirt pile)`, `rear 9-10, 18" overhang`, `back 9-2. Overhang 18`."""
    item = items[at]
    if item.text == "(":
        return not any(other.kind in ("measure", "ends at") for other in items[at:])
    if item.kind == "break" and item.strength >= 4:
        return True
    parted = at > 0 and items[at - 1].kind == "break" and name != "ends_at"
    if parted and not any(other.kind == "measure" for other in items[at:]):
        return True  # `8-10 at the back, all go to drains`, `..., front ones to the drain, back on to blocks`
    behind = items[at + 1] if at + 1 < len(items) else None
    for cue in (item, behind if item.kind == "measure" else None):
        if cue is not None and cue.kind == "cue" and PIPE_FIELDS.get(cue.value) != name:
            return True
    return False


def _names_before_values(items: list[Item]) -> list[Item]:
    """`9 foot 6 front, 8 foot 10 at the back`: the same row with each name before its value."""
    parts = _parts(items)
    if len(parts) > 1 and all(_one_of_each(part) for part in parts):
        return [item for part in parts for item in _name_first(part)]
    said = [item for item in items if item.kind in ROW_KINDS]
    pairs = len(said) // 2
    kinds = [
        "place" if item.kind in ("initial", "house") else item.kind for item in said if item.kind != "ends at"
    ]
    if pairs < 2 or kinds != ["measure", "place"] * (len(kinds) // 2):
        return items
    out: list[Item] = []
    waiting: list[Item] = []
    for item in items:
        if item.kind == "measure":
            waiting = [item]
        elif item.kind in ("place", "initial", "house"):
            out += [item, *waiting]
            waiting = []
        elif not (waiting and item.kind == "filler"):
            (waiting if waiting else out).append(item)
    return [*out, *waiting]


def _parts(items: list[Item]) -> list[list[Item]]:
    """The row parted at its commas, each with the comma behind it."""
    parts: list[list[Item]] = [[]]
    for number, item in enumerate(items):
        parts[-1].append(item)
        if item.kind == "break" and item.text in (",", ";") and number + 1 < len(items):
            parts.append([])
    return parts


def _one_of_each(part: list[Item]) -> bool:
    """Whether a part of a row has one name and one number, and no more."""
    said = sorted(
        "place" if item.kind in ("initial", "house") else item.kind for item in part if item.kind in ROW_KINDS
    )
    return said == ["measure", "place"]


def _name_first(part: list[Item]) -> list[Item]:
    """`9-2 front` in a row that goes on `back 10-6`: as the others."""
    name = next(item for item in part if item.kind in ("place", "initial", "house"))
    return [name, *(item for item in part if item is not name and item.kind != "filler")]


def _sides_before_values(items: list[Item]) -> list[Item]:
    """`bk 9-2 left 9-4 rt`: each side of the run behind its value, as one before it."""
    out = list(items)
    named = valued = False
    for number, item in enumerate(items):
        behind = items[number + 1] if number + 1 < len(items) else None
        if item.kind in ("place", "initial", "house"):
            named, valued = True, False
        elif item.kind in ("lr", "side"):
            named = named and valued
        elif (
            item.kind == "measure"
            and named
            and behind is not None
            and behind.kind in ("lr", "side")
            and behind.value in ("left", "right", "centre")
            and _ends_pair(items, number + 2)
        ):
            out[number], out[number + 1] = behind, item
            valued = True
    return out


def _ends_pair(items: list[Item], at: int) -> bool:
    """Whether what stands behind a value and its side begins another pair, or ends the row."""
    behind = next((item for item in items[at:] if item.kind not in ("filler", "mark")), None)
    if behind is None or behind.kind in ("break", "place", "initial", "house", "ends at"):
        return True
    after = [item.kind for item in items[at:] if item.kind not in ("filler", "mark")][1:2]
    return behind.kind == "measure" and after in (["lr"], ["side"])


def _entries(items: list[Item], walk: Walk) -> list[Entry] | None:
    """The row's values, each with the pipes named before it; None where some word of it is not understood."""
    entries: list[Entry] = [Entry()]
    number = 0
    last_run: RunDraft | None = None
    while number < len(items):
        item = items[number]
        current = entries[-1]
        if item.kind in ("measure", "ends at") and not _counts_rest(items, number):
            current.values.append(item)
            number += 1
            continue
        if item.text.lower() in REST_WORDS or item.kind == "rest":
            current = _open(entries)
            current.rest = True
            count = items[number + 1] if number + 1 < len(items) else None
            if count is not None and _counts_rest(items, number + 1):
                current.rest_count = int(
                    (count.found.value if count.found is not None else None) or count.value or 0
                )
                number += 1
            number += 1
            continue
        if item.text.lower() in EVERY_WORDS or item.kind == "all":
            number += 1
            continue
        if set(item.text) == {"?"} and current.values:
            current.values[-1].doubts.append(f"{item.text!r}: written with a question mark")
            number += 1
            continue
        if item.kind == "except":
            _open(entries)
            number += 1
            continue
        if item.text.lower() in ("at", "on") and current.values and not _names_next(items, number):
            return None  # `10-1 at the left and 10-4 at the right`: the name stands behind its value
        if item.kind in ("break", "mark", "colon", "arrow", "filler", "downpipe") or item.text in (">", "@"):
            number += 1
            continue
        meant = _named(items, number, last_run, walk)
        if meant is None:
            return None
        outlets, run, used = meant
        current = _open(entries)
        current.outlets += [
            outlet for outlet in outlets if not any(outlet is known for known in current.outlets)
        ]
        current.named += items[number : number + used]
        last_run = run or last_run
        number += used
    return entries


def _names_next(items: list[Item], number: int) -> bool:
    """`... are 18 6 and at the back 19 2`: the name stands before a value of its own."""
    behind = [item for item in items[number + 1 :] if item.kind != "filler"][:2]
    return [item.kind for item in behind] == ["place", "measure"]


def _open(entries: list[Entry]) -> Entry:
    """The entry that pipes named now belong to: the last where it has no value yet, else a new one."""
    if entries[-1].values:
        entries.append(Entry())
    return entries[-1]


def _counts_rest(items: list[Item], number: int) -> bool:
    """`other 3`: how many are left, no value."""
    return (
        number > 0
        and items[number - 1].text.lower() in REST_WORDS
        and items[number].kind in ("measure", "count")
        and (items[number].found is None or items[number].found.kind in ("bare", "other"))  # type: ignore[union-attr]
    )


def _named(
    items: list[Item], number: int, last_run: RunDraft | None, walk: Walk
) -> tuple[list[OutletDraft], RunDraft | None, int] | None:
    """The pipes that the words from there on name, the run they are of, and how many items that takes."""
    item = items[number]
    if item.text.lower() in HOUSE_WORDS:
        house = [run for run in walk.runs if run.place.part in (None, THE_HOUSE) and run.outlets]
        return _outlets(house), None, 1
    if item.kind == "quarter":
        direction, side = item.value.split()
        return _at_side(_runs_named(PlaceName(direction=direction), walk), side, 1)
    if item.kind == "compass corner":
        return _at_compass_corner(item.value.split(), walk)
    if item.kind in ("lr", "side") and item.value in ("left", "right", "centre"):
        if last_run is not None and item.value in [outlet.side for outlet in last_run.outlets]:
            return [outlet for outlet in last_run.outlets if outlet.side == item.value], last_run, 1
        sides = (
            _runs_named(PlaceName(direction=LR_SIDE.get(item.value)), walk) if item.value in LR_SIDE else []
        )
        return (_outlets(sides), sides[0], 1) if len(sides) == 1 else None
    if item.kind in ("place", "initial"):
        name = item.value if item.kind == "place" else PlaceName(direction=item.value)
        runs = _runs_named(name, walk)
        if not runs:
            return _at_end_in_name(name, walk)
        follower = items[number + 1] if number + 1 < len(items) else None
        if (
            follower is not None
            and follower.kind in ("lr", "side")
            and follower.value in ("left", "right", "centre")
        ):
            return _at_side(runs, follower.value, 2)
        return _outlets(runs), runs[0] if len(runs) == 1 else None, 1
    return None


def _at_side(
    runs: list[RunDraft], side: str, used: int
) -> tuple[list[OutletDraft], RunDraft | None, int] | None:
    """The pipes at one side of those runs."""
    there = [outlet for outlet in _outlets(runs) if outlet.side == side]
    return (there, runs[0] if len(runs) == 1 else None, used) if there else None


def _at_end_in_name(name: PlaceName, walk: Walk) -> tuple[list[OutletDraft], RunDraft | None, int] | None:
    """`front left`, folded into one name: the pipe at the left of the front."""
    words = (name.direction or "").split()
    if len(words) != len(("front", "left")) or words[1] not in LR_SIDE:
        return None
    return _at_side(_runs_named(PlaceName(name.storey, name.part, words[0]), walk), words[1], 1)


def _at_compass_corner(
    directions: list[str], walk: Walk
) -> tuple[list[OutletDraft], RunDraft | None, int] | None:
    """`NE 11-2`: the pipe at that corner of the house, on whichever of the two sides it hangs."""
    found: list[tuple[RunDraft, OutletDraft]] = []
    for here, other in (directions, directions[::-1]):
        side = RECTANGLE.get((here, other))
        for run in _runs_named(PlaceName(direction=here), walk):
            found += [(run, outlet) for outlet in run.outlets if outlet.side == side]
    return ([found[0][1]], found[0][0], 1) if len(found) == 1 else None


def _runs_named(name: PlaceName, walk: Walk) -> list[RunDraft]:
    """The runs with pipes that a name means: the one so called, or all whose names begin so."""
    name = in_context(name, walk)
    exact = [
        run for run in walk.runs if set(run.place.name.split()) == set(name.name.split()) and run.outlets
    ]
    if exact:
        return exact
    if any(run.place == name and run.has_data for run in walk.runs):
        return []
    meant = [run for run in walk.like_named(name) if run.outlets]
    return meant if not (name.direction in COMPASS and len(meant) > 1) else []


def _outlets(runs: list[RunDraft]) -> list[OutletDraft]:
    return [outlet for run in runs for outlet in run.outlets]


def _all_outlets(walk: Walk) -> list[OutletDraft]:
    return _outlets(walk.runs)


def _run_of(outlet: OutletDraft, walk: Walk) -> RunDraft | None:
    return next((run for run in walk.runs if any(outlet is other for other in run.outlets)), None)


def _is_whole(entries: list[Entry], name: str, walk: Walk) -> bool:
    """Whether each value of the row has pipes, each name a value, and all values are of the row's kind."""
    kind = "ends at" if name == "ends_at" else "measure"
    values = [value for entry in entries for value in entry.values]
    named = [entry for entry in entries if entry.named or entry.rest]
    if not values or (len(values) == 1 and not (named and len(named[0].outlets) > 0 and kind == "measure")):
        return False
    if any(not entry.values for entry in entries):
        return False
    if any(value.kind != kind for value in values) and name != "height":
        return False
    if any(entry.named and not entry.outlets for entry in entries):
        return False
    return bool(_all_outlets(walk))


def _in_order(entries: list[Entry], walk: Walk) -> list[tuple[OutletDraft, Item]] | None:
    """Values with no names: one for each pipe, in the order in which the pipes were listed."""
    values = [value for entry in entries for value in entry.values]
    everyone = _all_outlets(walk)
    order = [outlet for outlet in walk.pipe_order if any(outlet is other for other in everyone)]
    if not order and len(values) > 1:
        order = sorted(everyone, key=lambda outlet: (outlet.source[0].line, outlet.source[0].start))
    if len(order) != len(values) or any(outlet.ditto for outlet in order):
        return None
    return list(zip(order, values, strict=True))


def _by_name(entries: list[Entry], walk: Walk) -> list[tuple[OutletDraft, Item]] | None:
    """Values to the pipes named before them; one before any name is for those that the row does not name."""
    plan: list[tuple[OutletDraft, Item]] = []
    taken = [outlet for entry in entries for outlet in entry.outlets]
    left = [outlet for outlet in _all_outlets(walk) if not any(outlet is other for other in taken)]
    for entry in entries:
        outlets = entry.outlets if entry.named else left
        if entry.rest_count is not None and entry.rest_count != len(outlets):
            return None
        measures = [value for value in entry.values if value.kind == "measure"]
        endings = [value for value in entry.values if value.kind == "ends at"]
        for values in (measures, endings):
            if len(values) == 1 and outlets:
                plan += [(outlet, values[0]) for outlet in outlets]
            elif (
                len(values) > 1
                and len(values) == len(outlets)
                and len({id(_run_of(o, walk)) for o in outlets}) == 1
            ):
                plan += zip(outlets, values, strict=True)
            elif values:
                return None
    return plan


def _can_be(value: Item, name: str, walk: Walk) -> bool:
    """Whether a value can answer the row's field."""
    if value.kind == "ends at":
        return True
    found = value.found
    if name == "ends_at" or found is None or found.kind == "other" or not fits_field(name, value):
        return False
    if name != "height":
        return walk.length(value, name) is not None
    reading = walk.length(value, name)
    value_said = reading.value if reading is not None else None
    return value_said is not None and value_said.inches >= SHORTEST_HEIGHT_IN_INCHES


def _give(outlet: OutletDraft, name: str, value: Item, cue: Item | None, walk: Walk) -> None:
    """Put a value of the row into a pipe."""
    if value.kind == "ends at":
        walk.put(outlet.pipe.fields, "ends_at", walk.text(value.value, value), value)
        return
    reading = walk.length(value, name, [cue] if cue is not None and cue.kind == "cue" else [])
    if reading is not None:
        walk.put(outlet.pipe.fields, name, reading, value)

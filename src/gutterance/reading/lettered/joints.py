"""Corners named by the two runs that meet there: `A-B inside`, `B/C and C/D: OSC`, `the rest outside`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.lettered.ring import OpenJoint
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.reading.lettered.ring import Ring
    from gutterance.sheet.models import Reading

ENDS = frozenset({"end", "end word"})
CORNERS = frozenset({"outside corner", "inside corner"})
SHORT_ENDS = {
    "ext": "outside corner", "external": "outside corner", "out": "outside corner", "o": "outside corner",
    "o/s": "outside corner", "int": "inside corner", "internal": "inside corner", "in": "inside corner",
    "i": "inside corner", "i/s": "inside corner",
}  # fmt: skip
"""Words that are a corner only behind the two runs that meet there."""
FARTHEST_SIDE = 20
"""So many items before a corner at most its side may be told."""
HALF_RIGHT = 45
"""The angle of a bay's corner [degrees]."""


def is_pair(item: Item) -> bool:
    """Whether an item names two runs that meet."""
    return item.kind == "names" and item.marks.get("joined") == "pair"


def take_joints(items: list[Item], walk: Walk, ring: Ring) -> list[Item]:
    """Put the corners of a sentence that are named by their runs; what is left of its items comes back."""
    _short_ends(items)
    marks = [item for item in items if is_pair(item) or item.kind in ENDS]
    if not any(is_pair(item) for item in marks) or not any(item.kind in ENDS for item in marks):
        return items
    waiting: list[Item] = []
    end: Item | None = None
    taken: set[int] = set()
    pair_first = is_pair(next(item for item in marks if is_pair(item) or _for_pairs(items, item)))
    for item in marks:
        if is_pair(item):
            if pair_first:
                waiting.append(item)
            elif end is not None:
                _put_joint(items, item, end, walk, ring, taken)
        elif _of_a_run(items, item):
            waiting = []
            end = None
        else:
            end = item
            for pair in waiting:
                _put_joint(items, pair, item, walk, ring, taken)
            waiting = []
    said = {item.value for item in items if id(item) in taken and item.kind in ENDS}
    return [
        item for item in items
        if id(item) not in taken
        and not (item.kind in ENDS and item.value in said and not _of_a_run(items, item))
    ]  # fmt: skip


def _short_ends(items: list[Item]) -> None:
    """`A/B ext, C/D int`: short words that are corners right beside a pair."""
    for number, item in enumerate(items):
        value = SHORT_ENDS.get(item.text.lower())
        if value is None or item.kind in ENDS or item.found is not None:
            continue
        near = [
            other
            for other in items[max(0, number - 2) : number]
            if other.kind not in ("colon", "filler", "mark")
        ]
        if any(is_pair(other) for other in near[-1:]):
            item.kind, item.value = "end word", value


def _for_pairs(items: list[Item], end: Item) -> bool:
    """Whether an end is told of the pairs behind it: `outside at A/B, C/D`."""
    return end.kind in ENDS and not _of_a_run(items, end)


def _of_a_run(items: list[Item], end: Item) -> bool:
    """Whether an end is one run's own: a cap or a wall, or one that follows a single name."""
    if end.value not in CORNERS:
        return True
    at = next(number for number, item in enumerate(items) if item is end)
    for item in reversed(items[:at]):
        if item.kind == "names":
            return not is_pair(item)
        if item.kind == "measure" and item.found is not None and item.found.kind == "length":
            return True
    return False


def _put_joint(items: list[Item], pair: Item, end: Item, walk: Walk, ring: Ring, taken: set[int]) -> None:
    """A corner put on both runs that meet there."""
    first, second = pair.value
    side = ring.side_toward(first, second) or _side_said(items, pair, ring)
    angle = _angle_beside(items, end)
    for item in (pair, end, *([angle] if angle is not None else [])):
        walk.use(item)
        taken.add(id(item))
    if side is None:
        ring.open_joints.append(OpenJoint((first, second), end.value, end))
        return
    ring.meet(first, side, second)
    put_corner(walk, first, side, end, pair, angle)
    put_corner(walk, second, OPPOSITE[side], end, pair, angle)


def put_corner(walk: Walk, name: str, side: str, end: Item, pair: Item, angle: Item | None) -> None:
    """One end of a run, as the corner of a pair."""
    run = draft_of(walk, name, pair)
    reading = walk.text(end.value, end, pair)
    if any(doubt for doubt in end.doubts):
        reading.status, reading.why = "doubtful", "; ".join(end.doubts)
    walk.put(run.fields, f"{side}_end", reading, end)
    if angle is not None:
        walk.put(run.fields, f"{side}_angle", walk.text(float(HALF_RIGHT), angle), angle)


def draft_of(walk: Walk, name: str, item: Item) -> RunDraft:
    """The run of that name, made where there is none; what is in focus stays so."""
    run, outlets, group = walk.run, walk.outlets, walk.group
    level = walk.ring.storeys.get(name) if walk.ring is not None else None
    found = walk.focus(
        PlaceName(number=name, level=level or (walk.context.storey if walk.context else None)), item
    )
    walk.run, walk.outlets, walk.group = run, outlets, group
    return found


def _side_said(items: list[Item], pair: Item, ring: Ring) -> str | None:
    """`the right of it goes into the garage, A/C, inside`: the first run's side, told before it."""
    at = next(number for number, item in enumerate(items) if item is pair)
    told: str | None = None
    subject = ring.subject
    for item in reversed(items[max(0, at - FARTHEST_SIDE) : at]):
        if item.kind == "names":
            subject = item.value[0]
            break
        if told is None and item.kind in ("lr", "side") and item.value in OPPOSITE:
            told = str(item.value)
    if told is None or subject not in pair.value:
        return None
    return told if subject == pair.value[0] else OPPOSITE[told]


def _angle_beside(items: list[Item], end: Item) -> Item | None:
    """The `45` beside a corner."""
    at = next(number for number, item in enumerate(items) if item is end)
    for item in [*items[at + 1 : at + 3], *items[max(0, at - 2) : at]]:
        if item.kind == "angle word":
            return item
        found = item.found
        if item.kind == "measure" and found is not None and found.value in (45, 135):
            return item
    return None


def rest_of_corners(items: list[Item], walk: Walk, ring: Ring) -> bool:
    """`all the rest outside`, `everything's outside except C/D`: what the corners are that were not told."""
    if not any(item.kind in ("all", "rest") for item in items):
        return False
    ends = [item for item in items if item.kind in ENDS and item.value in CORNERS]
    if len(ends) != 1 or any(
        item.kind in ("measure", "outlet", "downpipe") and not _small(item) for item in items
    ):
        return False
    at = next(number for number, item in enumerate(items) if item.kind in ("all", "rest"))
    named = [item for item in items[:at] if item.kind == "names"]
    if named and not (len(named) == 1 and named[0].marks.get("joined") in ("range",)):
        return False
    said = {frozenset(item.value) for item in items if item.kind == "names" and len(item.value) == 2}
    reading: Reading[Any] = walk.text(ends[0].value, ends[0], why="said of all the rest")
    ring.rest = (reading, frozenset(said))
    for item in items:
        walk.use(item)
    return True


def _small(item: Item) -> bool:
    """A count, as in `all six outside`."""
    return item.found is not None and item.found.kind == "bare" and (item.found.value or 0) <= 12

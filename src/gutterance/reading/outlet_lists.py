"""Outlets listed by the run each is on: `downpipes one on the front left, one each end of the back`.

Each entry names a run and a side of it, in either order. It becomes one place that brings that outlet into
focus, so that what is said behind it (`9-4, to the drain`) goes to that outlet's pipe.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import LR_SIDE, PlaceName, significant

if TYPE_CHECKING:
    from gutterance.reading.items import Line

HEADS = frozenset({"outlet", "downpipe"})
"""What a list of outlets begins with."""
SIDES = frozenset({"side", "lr"})
"""Kinds of items that say which end of a run."""
PLACES = frozenset({"left", "right", "centre", "both"})
"""Where on its run a listed outlet may be."""
LITTLE = frozenset(
    {"on", "at", "the", "of", "of the", "in", "a", "is", "are", "there's", "theres", "it's", "its", "to",
     "for", "also", "then", "and", "&", "or", "another", "one", "down"}
)  # fmt: skip
"""Little words within an entry."""
FEWEST_LISTED = 2
"""So many lines that open with a run and a side are a list of pipes."""
MOST_LITTLE = 5
"""An entry has no more little words in a row than this."""
CORNER_WORDS = frozenset({"corner", "cnr", "end", "hand end", "hand"})
"""Words behind a side that add nothing to it."""
POINTED_OUT = frozenset({"one", "ones", "one's"})
"""`the front left one`: words that show that an outlet is meant."""


@dataclass(slots=True)
class _Entry:
    last: int
    place: Item
    side: Item | None
    counted: int


def listed_pipe_lines(lines: list[Line]) -> frozenset[int]:
    """The numbers of lines that list pipes: `- Front left: 9-1, to the drain`, two of them at least.

    A line that tells an end is of a run (`back left: 20-0, outside corner`), and no pipe's.
    """
    found = [line.number for line in lines if _opens_with_quarter(line)]
    return frozenset(found) if len(found) >= FEWEST_LISTED else frozenset()


def _opens_with_quarter(line: Line) -> bool:
    """Whether a line opens with a run and a side of it, and then something else."""
    said = [item for item in line.items if item.kind not in ("mark", "break", "filler")]
    named = 0
    while named < len(said) and said[named].kind in ("direction", "part", "storey", "initial"):
        named += 1
    if not named or len(said) < named + 2 or said[named].kind not in SIDES or said[named].value not in PLACES:
        return False
    behind = said[named + 1]
    if (
        behind.kind not in ("colon", "measure", "same", "cue", "ends at")
        or behind.start - said[named].end > 2
    ):
        return False
    return not any(item.kind in ("end", "end word", "end pair") for item in said)


def fold_outlet_lists(line: Line, items: list[Item], *, listed: bool) -> list[Item]:
    """The items of a line with each entry of a list of outlets as one place, its side under a mark.

    `listed` says that the lines stand below a heading of pipes, so that no head need be said.
    """
    out: list[Item] = []
    open_list = listed and not any(item.kind in HEADS for item in items)
    entries = 0
    first_of_two: Item | None = None
    number = 0
    while number < len(items):
        item = items[number]
        if item.kind in HEADS and not _denied(items, number):
            open_list = True
            entries = 0
        elif item.kind in ("end", "end word") or (item.kind == "break" and item.strength >= 4 and not listed):
            open_list = False
        entry = _entry_at(items, number, open_list=open_list, later=entries > 0)
        if entry is None:
            if item.kind == "measure" and not entries:
                open_list = listed
            out.append(item)
            number += 1
            continue
        folded = _folded(line, items, number, entry)
        if out and _is_compared(out):
            folded.kind = "ref"
        out.append(folded)
        if first_of_two is not None:
            folded.marks["either"] = first_of_two.marks["either"] = True
        said_or = any(other.text.lower() == "or" for other in items[entry.last + 1 : entry.last + 3])
        first_of_two = folded if said_or else None
        entries += 1
        number = entry.last + 1
    return out


def _is_compared(before: list[Item]) -> bool:
    """`Front right: as front left`, `same as the back left`: an entry that another is likened to."""
    last = next((item for item in reversed(before) if item.text.lower() != "the"), None)
    if last is None:
        return False
    if last.kind == "filler" and last.text.lower() == "as":
        last.kind, last.value = "same", "same"
    return last.kind in ("same", "mirror")


def _denied(items: list[Item], number: int) -> bool:
    """`no downpipe`: there is nothing to list."""
    before = significant(items, number - 1, -1)
    return before is not None and (items[before].kind == "no" or items[before].value == 0)


def _entry_at(items: list[Item], first: int, *, open_list: bool, later: bool) -> _Entry | None:
    """The entry that begins there, or None. In a list of several a run with no side is an entry too."""
    here = first
    counted = 0
    if _count(items[here]):
        counted = _count(items[here])
        here += 1
    little = _past_little(items, here)
    if little is None:
        return None
    here, words = little
    if here >= len(items):
        return None
    item = items[here]
    if item.kind == "place" and _names_a_run(item):
        behind = _past_little(items, here + 1)
        at = behind[0] if behind is not None else len(items)
        side = items[at] if at < len(items) else None
        if (
            side is not None
            and side.kind in SIDES
            and side.value in PLACES
            and not _own_side(items, at)
            and not _side_is_a_run(items, item.value, side.value)
        ):
            last = _past_corner(items, at)
            pointed = last + 1 < len(items) and (
                items[last + 1].text.lower() in POINTED_OUT or items[last + 1].kind in HEADS
            )
            compared = first > 0 and items[first - 1].kind in ("same", "mirror")
            if open_list or pointed or counted or compared:
                return _Entry(last, item, side, counted)
            return None
        if open_list and counted and (later or counted > 1 or "on" in words) and not _measured(items, here):
            return _Entry(here, item, None, counted)
        return None
    if item.kind in SIDES and item.value in PLACES and (open_list or counted):
        behind = _past_little(items, _past_corner(items, here) + 1)
        if behind is None or behind[0] >= len(items) or not behind[1] & {"of", "of the", "on", "at"}:
            return None
        place = items[behind[0]]
        if place.kind == "place" and _names_a_run(place):
            return _Entry(behind[0], place, item, counted)
    return None


def _count(item: Item) -> int:
    """How many outlets an item counts: the `one` of `one on the front`; 0 where it counts none."""
    found = item.found
    if (
        item.kind not in ("measure", "count")
        or found is None
        or found.kind != "bare"
        or len(found.amounts) != 1
    ):
        return 0
    value = found.value or 0
    return int(value) if value.denominator == 1 and 1 <= value <= 4 else 0


def _past_little(items: list[Item], start: int) -> tuple[int, frozenset[str]] | None:
    """Where the first word stands that is no little one, and the little words before it."""
    here = start
    words: set[str] = set()
    while here < len(items) and (items[here].kind == "filler" or items[here].kind == "colon"):
        if items[here].text.lower() not in LITTLE and items[here].kind != "colon":
            return None
        words.add(items[here].text.lower())
        here += 1
    return (here, frozenset(words)) if here - start <= MOST_LITTLE else None


def _past_corner(items: list[Item], side: int) -> int:
    """Where the words for a side end: `left hand end`, `right corner`."""
    last = side
    while last + 1 < len(items) and items[last + 1].text.lower() in CORNER_WORDS:
        last += 1
    return last


def _names_a_run(item: Item) -> bool:
    """Whether a place is a whole run: no storey or house alone."""
    name: PlaceName = item.value
    return bool(name.direction or name.part or name.number)


def _own_side(items: list[Item], side: int) -> bool:
    """Whether a side begins what follows rather than ends the entry: `back, left is 24 foot`."""
    after = significant(items, side + 1, 1)
    return (
        items[side].kind == "lr"
        and after is not None
        and any(item.text.lower() in ("is", "'s") for item in items[side + 1 : after])
        and items[after].kind in ("measure", "same")
    )


def _side_is_a_run(items: list[Item], name: PlaceName, side: str) -> bool:
    """`one on the porch left`, where the porch left was told as a run: no left end of a porch."""
    direction = LR_SIDE.get(side)
    return name.direction is None and any(
        item.kind == "place" and item.value.part == name.part and item.value.direction == direction
        for item in items
        if direction is not None
    )


def _measured(items: list[Item], place: int) -> bool:
    """Whether a run is told there, with a length or an end: no entry of a list."""
    after = significant(items, place + 1, 1)
    return after is not None and items[after].kind in ("end", "end word", "same")


def _folded(line: Line, items: list[Item], first: int, entry: _Entry) -> Item:
    """The place that an entry becomes."""
    begin, end = items[first], items[entry.last]
    folded = Item(
        line.number, begin.start, end.end, line.text[begin.start : end.end], "place", entry.place.value
    )
    folded.marks.update(entry.place.marks)
    folded.marks.update(words=[entry.place.text.lower()], settled=True, listed=True)
    if entry.side is not None:
        folded.marks["quarter side"] = entry.side.value
    folded.marks["outlets"] = entry.counted or 1
    folded.marks["with"] = [*entry.place.marks.get("with", ())]
    return folded

"""Remarks: words said beside the measuring, kept as they were said, whose numbers measure no gutter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import STRUCTURE
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line

OF_THE_OLD = frozenset({"old", "existing", "currently", "at the moment"})
"""Words for the gutter that hangs there now."""
LENGTH_OF_THEIR_OWN = frozenset({"ladder", "ladders", "fence", "extension"})
"""Things with lengths that are not of the house: `40 ft ladder`."""
BESIDE = frozenset({"over", "above", "under", "below", "near", "beside", "behind", "along", "around"})
"""Words that set what a remark is about beside a place."""
LONGEST_REMARK_BEFORE = 5
"""In words without punctuation a remark begins at most so many items before its word."""
LONGEST_REMARK_AFTER = 10
"""... and ends at most so many items after it."""


def find_remarks(line: Line, items: list[Item], walk: Walk) -> None:
    """Mark the items that belong to a remark, and keep the remark with the run it is about."""
    number = 0
    while number < len(items):
        item = items[number]
        if item.kind != "remark" or item.marks.get("remark"):
            number += 1
            continue
        if item.text.lower() in LENGTH_OF_THEIR_OWN:
            _doubt_its_length(items, number)
        first = last = number
        while first > 0 and not _remark_begins_after(items, first - 1):
            first -= 1
        if item.text.lower() in OF_THE_OLD and any(other.kind in STRUCTURE for other in items[first:number]):
            first = number
        if item.text.lower() in OF_THE_OLD:
            # `the existing brackets are 30 inches apart`: nothing in it is measured for the new gutter
            while last + 1 < len(items) and items[last + 1].kind not in ("break", "place"):
                last += 1
        while last + 1 < len(items) and not _remark_stops_before(items, last + 1):
            last += 1
        if not any(other.kind == "break" for other in items):
            # words with no punctuation: a remark does not run on for ever
            first = max(first, number - LONGEST_REMARK_BEFORE)
            last = min(last, number + LONGEST_REMARK_AFTER)
        about = _about(items, first, last) or _focus_before(items, first)
        for other in items[first : last + 1]:
            other.marks["remark"] = item.value
        walk.remark(
            line,
            items[first].start,
            items[last].end,
            item.value,
            about or (walk.run.place if walk.run else None),
        )
        number = last + 1


def _doubt_its_length(items: list[Item], number: int) -> None:
    """`ladder on the left side 24 ft`: the ladder's length, or the run's?"""
    words = items[number + 1 : number + 6]
    kinds = [item.kind for item in words if item.kind != "filler"]
    if kinds[:2] == ["place", "measure"] and words and words[0].kind == "filler":
        measure = next(item for item in words if item.kind == "measure")
        measure.doubts.append(f"the length of the {items[number].text.lower()}, or of the run?")


def _remark_begins_after(items: list[Item], number: int) -> bool:
    """Whether a remark begins right behind that item."""
    item = items[number]
    if item.kind == "measure" and item.found is not None and item.found.kind == "length":
        return items[number + 1].text.lower() not in LENGTH_OF_THEIR_OWN
    if item.kind == "break":
        return item.strength >= 1
    if item.kind == "place":
        return _place_has_own_words(items, number)
    if item.kind in ("side", "lr"):
        return bool(number) and items[number - 1].kind in STRUCTURE
    return item.kind in STRUCTURE or item.kind in ("same", "unknown", "no")


def _remark_stops_before(items: list[Item], number: int) -> bool:
    """Whether a remark ends right before that item."""
    item = items[number]
    if item.kind == "break":
        return item.strength >= 3 or (item.strength >= 1 and _structure_soon(items, number + 1))
    if item.kind == "measure":
        found = item.found
        nxt = items[number + 1] if number + 1 < len(items) else None
        if found is None or found.kind == "other" or nxt is None:
            return False
        behind = next((other for other in items[number + 1 :] if other.kind not in ("break", "filler")), nxt)
        ends_behind = len(found.amounts) > 1 and behind.kind in ("end", "end word", "end pair")
        return nxt.kind in ("cue", "ends at") or ends_behind or _begins_to_measure(items, number)
    if item.kind == "place":
        return _place_has_own_words(items, number)
    if item.kind == "walk":
        return _structure_soon(items, number + 1, within=4)
    if item.kind in ("end", "outlet") and any(
        other.kind in ("side", "lr", "measure") for other in items[number + 1 : number + 5]
    ):
        return True
    if item.kind in ("end", "outlet", "downpipe", "cue", "ends at", "same", "unknown"):
        return not any(other.kind == "break" for other in items) or _structure_soon(
            items, number + 1, within=3
        )
    return item.kind == "count" and _structure_soon(items, number + 1, within=3)


def _begins_to_measure(items: list[Item], number: int) -> bool:
    """`it's broken up by a chimney so there's 12 foot`: what is told behind the remark."""
    found = items[number].found
    words = [item.text.lower() for item in items[max(0, number - 2) : number]]
    in_feet = found is not None and any(amount.unit in ("foot", "metre") for amount in found.amounts)
    return (
        in_feet
        and words[:1] in (["so"], ["and"])
        and words[-1:] in (["there's"], ["theres"], ["it's"], ["its"])
    )


def _structure_soon(items: list[Item], start: int, within: int = 5) -> bool:
    """Whether something measured follows before the words break off."""
    for item in items[start : start + within]:
        if item.kind == "break" and item.strength >= 1:
            return False
        if item.kind in ("remark", "word"):
            return False
        if item.kind in STRUCTURE or item.kind == "place":
            return True
    return False


def _place_has_own_words(items: list[Item], number: int) -> bool:
    """Whether a place is followed by something to measure before the words break off."""
    if any(item.text.lower() in BESIDE for item in items[max(0, number - 2) : number]):
        return False  # `fascia soft over the garage, 6 ft`
    for item in items[number + 1 : number + 7]:
        if item.kind == "break" and item.strength >= 3:
            return False
        if item.kind in ("remark", "word", "landmark"):
            return False
        if item.kind in STRUCTURE or item.kind in ("same", "mirror", "unknown"):
            return True
    return False


def _about(items: list[Item], first: int, last: int) -> PlaceName | None:
    """The place named within a remark, or None."""
    for item in items[first : last + 1]:
        if item.kind in ("place", "ref") and isinstance(item.value, PlaceName):
            return item.value
    return None


def _focus_before(items: list[Item], first: int) -> PlaceName | None:
    """The place named last before a remark, or None."""
    for item in reversed(items[:first]):
        if item.kind == "place":
            value: PlaceName = item.value
            return value
    return None

"""A line parted into stretches: the items between one run coming into focus and the next."""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING

from gutterance.reading.items import STRUCTURE

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item

LARGEST_SMALL_COUNT = 4
"""A bare number up to this may count things; above it measures."""


def part_into_stretches(items: list[Item], walk: Walk) -> list[list[Item]]:
    """The items parted where another run comes into focus, and where a sentence ends.

    A place at the end of its clause takes along what was said before it: `42 6 on the front`,
    `wf 12 front, wf 14 back`.
    """
    stretches: list[list[Item]] = [[]]
    for number, item in enumerate(items):
        if item.kind == "place" and not item.marks.get("remark"):
            current = stretches[-1]
            start = _taken_along(items, number, current, walk)
            moved = current[start:] if start is not None else []
            if start is not None:
                del current[start:]
            stretches.append([*moved, item])
            continue
        stretches[-1].append(item)
        if (item.kind == "break" and item.strength >= 4) or (
            item.text == "?" and not _asks_of_number(items, number)
        ):
            stretches.append([])
    return _shared_by_two([stretch for stretch in stretches if stretch])


def _shared_by_two(stretches: list[list[Item]]) -> list[list[Item]]:
    """`front and wing front all 9-2`: what is said of two places is said of each."""
    out: list[list[Item]] = []
    for number, stretch in enumerate(stretches):
        words = [item for item in stretch if item.text.lower() not in ("the", ",")]
        follows = stretches[number + 1] if number + 1 < len(stretches) else []
        only_and = len(words) == 2 and words[0].kind == "place" and words[1].text.lower() in ("and", "&", "+")
        each = len(words) == 1 and words[0].kind == "place" and _of_each(follows)
        if (
            (only_and or each)
            and follows
            and follows[0].kind == "place"
            and any(item.kind in STRUCTURE for item in follows)
        ):
            out.append([words[0], *(deepcopy(item) for item in follows[1:])])
        else:
            out.append(stretch)
    return out


def _of_each(follows: list[Item]) -> bool:
    """`dorm L, dorm R 6-10 ea`: the number is of each place of the list."""
    return any(item.text.lower().rstrip(".") in ("ea", "each") for item in follows[2:4])


def _asks_of_number(items: list[Item], number: int) -> bool:
    """`42-6?`: a doubt about the number before it."""
    return number > 0 and items[number - 1].kind == "measure"


def _taken_along(items: list[Item], number: int, current: list[Item], walk: Walk) -> int | None:
    """From where on the words before a place belong to it, or None."""
    after = next((item for item in items[number + 1 :] if item.kind != "filler"), None)
    ends_clause = after is None or after.kind == "break"
    place = len(current) - 1
    said_on = False
    while place >= 0 and current[place].kind == "filler":
        said_on = said_on or current[place].text.lower() in (
            "on",
            "along",
            "across",
            "for",
            "at",
            "of",
            "that's",
            "thats",
        )
        place -= 1
    if place < 0 or current[place].kind == "fix":
        return None  # `so five no wait the left side ...`: what stood before it was taken back
    piped = any(run.outlets for run in walk.runs) or any(
        item.kind in ("outlet", "downpipe") for item in items[:number]
    )
    if said_on and current[place].kind == "ends at" and piped:
        another = any(item.text.lower() in ("another", "second") for item in current[place + 1 :])
        return place + 1 if another else place
    found = current[place].found
    if said_on and current[place].kind == "measure" and place and found is not None and found.kind != "other":
        before = next((item for item in reversed(current[:place]) if item.kind != "filler"), None)
        if before is not None and before.kind == "cue" and not ends_clause:
            walk.header, walk.header_line = before, items[number].line
            items[number].marks["took"] = True
            return place
        earlier = next((item for item in reversed(current[:place]) if item.kind == "place"), None)
        if earlier is not None and earlier.marks.get("took"):
            items[number].marks["took"] = True
            return place
    clause = place
    while clause >= 0 and not (current[clause].kind == "break" and current[clause].strength >= 1):
        clause -= 1
    words = current[clause + 1 : place + 1]
    if items[number].marks.get("except"):
        return None
    begun = _begun_from_end(current, clause + 1)
    if begun:
        return clause + 1
    of_it = any(item.text.lower() == "of" for item in current[place + 1 :])
    if current[place].kind in ("side", "lr") and of_it:
        return _thing_before_side(current, place)
    if any(item.kind == "place" for item in words):
        # `9 2 on the front and 9 8 on the back`
        tail = _measure_run(current, place)
        return tail if said_on and tail is not None and ends_clause else None
    measures = [item for item in words if _may_be_length(item)]
    if current[place].kind in ("side", "lr") and said_on and not measures:
        return _thing_before_side(current, place)
    if current[place].kind == "unknown" and not measures:
        # `didn't get the back`
        return place
    if current[place].kind in ("outlet", "downpipe") and place == len(current) - 1 and not measures:
        return place
    if (
        said_on
        and current[place].kind == "measure"
        and walk.run is not None
        and "length" in walk.run.fields
        and len(measures) == 1
    ):
        return place
    if said_on and any(item.kind in ("outlet", "downpipe", "count") for item in words) and not measures:
        return clause + 1
    if not measures:
        return None
    if ends_clause:
        return clause + 1
    if (
        said_on
        and current[place].kind == "measure"
        and (walk.run is None or not any(i.kind == "place" for i in current))
    ):
        return place
    return None


def _begun_from_end(current: list[Item], start: int) -> bool:
    """`From that inside corner the left side comes out 12-2`: where the run named next begins."""
    words = current[start:]
    return (
        len(words) >= 2
        and words[0].text.lower() in ("from", "off")
        and all(item.kind in ("filler", "end", "end word", "corner") for item in words)
        and any(item.kind in ("end", "end word") for item in words)
    )


def _may_be_length(item: Item) -> bool:
    """Whether a number may measure something, rather than count it: not the `one` of `one at each end`."""
    found = item.found
    if item.kind != "measure" or found is None:
        return False
    return (
        found.kind != "bare"
        or len(found.amounts) > 1
        or found.value is None
        or found.value > LARGEST_SMALL_COUNT
        or found.value.denominator != 1
    )


def _thing_before_side(current: list[Item], place: int) -> int:
    """`one outlet at the left end of the front`: from where on the words belong to the place behind them."""
    start = place
    while start and (
        current[start - 1].kind in ("filler", "count", "outlet", "downpipe")
        or (current[start - 1].kind == "measure" and not _may_be_length(current[start - 1]))
    ):
        start -= 1
    return start


def _measure_run(current: list[Item], place: int) -> int | None:
    """Where the number with its cue begins that ends at that place, or None."""
    if current[place].kind == "measure":
        before = place - 1
        while before >= 0 and current[before].kind == "filler":
            before -= 1
        own = before >= 0 and current[before].kind == "cue" and current[before].value == "wall_to_fascia"
        return before if own else place
    if current[place].kind == "cue" and place > 0 and current[place - 1].kind == "measure":
        return place - 1
    return None

"""What is said of everything: `all the downpipes are nine four`, `w/f 24 everywhere`, `both ends capped`."""

from __future__ import annotations

import re
from itertools import takewhile
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item

BOTH = frozenset(
    {"both", "both of them", "both of em", "both of 'em", "both of those", "both of these",
     "the both of them", "the two of them", "the pair of them", "them both"}
)  # fmt: skip
"""Words for two that were told before."""
LOCAL_ALL = BOTH | {"each", "ea", "ea.", "each one"}
"""Words for all of the run's own, not of the house."""
SCOPED = frozenset(
    {
        "outlet",
        "downpipe",
        "end",
        "end word",
        "corner",
        "cue",
        "colour",
        "profile",
        "material",
        "measure",
        "count",
        "run noun",
        "ends at",
        "fix",
        "same",
    }
)
"""What an `all` must stand before to be said of the job."""
BACKWARD_ALL = frozenset(
    {"everywhere", "throughout", "all round", "all rd", "all rnd", "all arnd", "all around",
     "all the way round", "all the way around",
     "across the board", "all over", "typical", "typ", "typ.", "all of them", "all of em", "whole house",
     "whole job", "the lot", "thruout", "thru out", "thru-out", "the whole way round", "the whole way around",
     "whole way round", "whole way around", "at every corner", "at all four corners",
     "right the way round", "right round"}
)  # fmt: skip
"""Words for all that stand behind what they speak of: `w/f 24 everywhere`."""
THOSE = frozenset({"those", "these"})
"""Words for some that were told before, and not for all of the house."""
OF_NO_PIPE = "said of no downpipe in particular; taken for all that have none of their own"
"""Why a value is in doubt that may be of every downpipe."""
ON_ITS_OWN_LINE = "said once, on a line of its own below the runs: of every downpipe?"
"""Why a value is in doubt that was told below the last run."""
COUNTED = re.compile(r"(?:x\s?)?(?P<count>[2-9])(?:\s?x)?", re.IGNORECASE)
"""`x3`, `3x`: how many."""
COUNT_ALONE = re.compile(r"[2-9]|1\d")
"""A number that may count the pipes, or the ends, of a house."""
MOST_TOLD_AHEAD = 8
"""`OSC all 4` at the head of a note, before any run: no house has many more corners or ends."""
REACH_OF_BOTH = 8
"""How many items `both` reaches."""


def find_scopes(items: list[Item]) -> None:
    """Mark the items that speak of the whole job: `all the downpipes are nine four`, `w/f 24 everywhere`."""
    for number, item in enumerate(items):
        if item.kind != "all" or item.marks.get("remark"):
            continue
        if item.text.lower() in LOCAL_ALL:
            if item.text.lower() in BOTH:
                _mark_both(items, number)
            continue
        _count_behind(items, number)
        part = None
        place = number + 1
        while place < len(items) and items[place].text.lower() in ("the", "of", "of the"):
            place += 1
        if place < len(items) and items[place].kind == "place" and not items[place].value.direction:
            part = items[place].value.part or items[place].value.storey
            items[place].kind = "ref"
        if part is None and [other.text.lower() for other in items[number + 1 : number + 3]] == [
            "up",
            "there",
        ]:
            part = "upper"  # `eaves 600 all round up there`
        if _is_local(items, number) and part is None:
            continue
        ahead = next((other for other in items[number + 1 :] if other.kind != "filler"), None)
        if ahead is not None and ahead.text.lower() in ("one", "the way", "that", "right"):
            continue
        if (
            ahead is not None
            and ahead.kind == "same"
            and any(other.kind in ("place", "ref") for other in items[number + 1 : number + 6])
        ):
            continue  # `everything same as the front`: of this one, not of the job
        if (
            part is None
            and ahead is not None
            and ahead.kind not in (*SCOPED, "break", "place")
            and item.text.lower() not in BACKWARD_ALL
        ):
            continue
        backward = (
            item.text.lower() in BACKWARD_ALL
            or ahead is None
            or (ahead.kind == "break" and ahead.strength >= 1)
            or _of_all_behind(items, number, ahead)
        )
        reach = _backward(items, number) if backward else _forward(items, number)
        those = any(other.text.lower() in THOSE for other in items[number + 1 : number + 3])
        for other in items[reach[0] : reach[1]]:
            other.marks["all"] = True
            if those:
                other.marks["all of those"] = True
            if other.kind == "measure" and " " in item.text:
                other.marks.setdefault("with", []).append(item)  # the number of `all four`
            if part is not None:
                other.marks["all of"] = part


def _count_behind(items: list[Item], number: int) -> None:
    """`outside corners all 4`: so many as a house has, and no measure."""
    before = next((item for item in reversed(items[:number]) if item.kind != "filler"), None)
    count = items[number + 1] if number + 1 < len(items) else None
    behind = items[number + 2] if number + 2 < len(items) else None
    if (
        items[number].text.lower() == "all"
        and before is not None
        and before.kind in ("end", "end word", "corner")
        and count is not None
        and count.text in ("3", "4")
        and (behind is None or behind.kind == "break")
    ):
        items[number].marks.setdefault("with", []).append(count)
        count.kind = "filler"


def _of_all_behind(items: list[Item], number: int, ahead: Item) -> bool:
    """`1'-6" oh all eaves`, `wf 14 all dps`: what `all` names only says what the number before it is of."""
    if ahead.kind not in ("run noun", "outlet", "downpipe"):
        return False
    before = _clause(reversed(items[:number]))
    behind = _clause(iter(items[items.index(ahead) + 1 :]))
    told = {item.kind for item in before}
    return {"measure", "cue"} <= told and not any(
        item.kind in ("measure", "cue", "place", "ends at", "colon") for item in behind
    )


def _clause(items: Iterator[Item]) -> list[Item]:
    """The items up to the next mark that parts."""
    return list(takewhile(lambda item: not (item.kind == "break" and item.strength >= 1), items))


def mark_alone(items: list[Item]) -> None:
    """`wf 14`, a line of its own: it may be of the pipe before it, or of every pipe."""
    said = [item for item in items if item.kind not in ("filler", "break", "mark", "colon", "all")]
    if sorted(item.kind for item in said) == ["cue", "measure"] or [item.kind for item in said] == [
        "ends at"
    ]:
        for item in said:
            item.marks["alone"] = True


def count_all(items: list[Item], walk: Walk) -> None:
    """`oh 24 all 4`, `caps all 4`: the number behind `all` counts what the house has so many of.

    Only behind a value, or an end, that it can be said of: in `pipes all 9-4` it is the value itself.
    """
    counts = walk.counts() or frozenset(range(2, MOST_TOLD_AHEAD + 1))
    for number in range(1, len(items) - 1):
        every, count = items[number], items[number + 1]
        if every.kind != "all" or every.text.lower() != "all" or COUNT_ALONE.fullmatch(count.text) is None:
            continue
        behind = items[number + 2] if number + 2 < len(items) else None
        ends = behind is None or behind.kind in ("break", "mark", "end", "downpipe", "outlet", "filler")
        if items[number - 1].kind in ("measure", "end", "end word", "ends at") and ends:
            if int(count.text) in counts:
                walk.shown.append(count.source())
                count.kind = "filler"
            elif count.kind == "measure":
                count.kind = "not counted"


def mark_counted_ending(items: list[Item], pipes: int) -> None:
    """`splash x3`, a line of its own: of every pipe where the house has so many, else asked about."""
    said = [item for item in items if item.kind not in ("filler", "break", "mark", "colon", "all")]
    if [item.kind for item in said] not in (["ends at", "measure"], ["measure", "ends at"]):
        return
    ending, count = sorted(said, key=lambda item: item.kind)
    times = COUNTED.fullmatch(count.text.strip())
    if times is None:
        return
    if int(times["count"]) == pipes:
        ending.marks["all"] = True
        ending.marks.setdefault("with", []).append(count)
        count.kind = "filler"
        return
    ending.marks["alone"] = True
    ending.doubts.append(f"{count.text!r} was said with it, and there are {pipes} downpipes")


def _mark_both(items: list[Item], number: int) -> None:
    """Mark the clause that `both` speaks of: `20 inches on both`, `both 9 4 down`."""
    ahead = next((other for other in items[number + 1 :] if other.kind != "filler"), None)
    before = items[number - 1].text.lower() if number else ""
    opens = number == 1 or (
        number > 1 and items[number - 2].kind == "break" and items[number - 2].text != ","
    )
    behind_it = before in ("on", "for") and not opens
    step = -1 if ahead is None or ahead.kind == "break" or behind_it else 1
    place = number + step
    if step > 0 and ahead is not None and ahead.kind == "place":
        # `both on run seven are ten foot two`
        place = next(at for at in range(number, len(items)) if items[at] is ahead) + 1
    told = step > 0  # `R 11-2, to drain. w/f 18 both`: what a sentence tells is its own
    while 0 <= place < len(items) and abs(place - number) <= REACH_OF_BOTH:
        item = items[place]
        ended = item.kind == "break" and item.strength >= 3 and (told or place < number - 1)
        if item.kind == "place" or ended:
            break
        item.marks["both"] = True
        told = told or item.kind == "measure"
        place += step


def _is_local(items: list[Item], number: int) -> bool:
    """`front 40, three drops, all 9-4 high`: all of that run's, not of the house."""
    start = max(
        (n for n, item in enumerate(items[:number]) if item.kind == "break" and item.strength >= 4),
        default=-1,
    )
    before = items[start + 1 : number]
    places = [place for place, item in enumerate(before) if item.kind == "place"]
    if not places:
        return False
    before = before[places[-1] :]
    ahead = next((item for item in items[number + 1 :] if item.kind != "filler"), None)
    if ahead is not None and (
        ahead.kind in ("colour", "profile", "material")
        or (ahead.found is not None and ahead.found.what == "gutter size")
    ):
        return False
    last = next((item for item in reversed(before) if item.kind != "filler"), None)
    if last is not None and last.kind in ("downpipe", "outlet"):
        return False
    plural_outlets = any(
        item.kind in ("outlet", "downpipe") and (item.plural or item.marks.get("count", 1) > 1)
        for item in before
    )
    return plural_outlets and not (ahead is not None and ahead.kind in ("downpipe", "outlet"))


def _backward(items: list[Item], number: int) -> tuple[int, int]:
    """From where to where an `all` behind its words reaches."""
    first = number
    seen_measure = False
    while first > 0:
        item = items[first - 1]
        if item.kind in ("place", "ref") or (item.kind == "break" and item.strength >= 3):
            break
        if item.kind == "break" and seen_measure:
            break
        if item.kind == "measure":
            if seen_measure and "and" not in {other.text.lower() for other in items[first : first + 3]}:
                break
            seen_measure = True
        first -= 1
    return _past_own_number(items, first, number), number + 1


def _past_own_number(items: list[Item], first: int, number: int) -> int:
    """`the back two are nine eight splash blocks all round`: the height is the back's alone."""
    ahead = [item for item in items[max(0, first - 2) : first] if item.kind != "filler"]
    if not any(item.kind in ("place", "ref") for item in ahead):
        return first
    told = [place for place in range(first, number) if items[place].kind not in ("filler", "count")]
    own = len(told) > 1 and items[told[0]].kind == "measure" and items[told[1]].kind == "ends at"
    return told[1] if own else first


def _forward(items: list[Item], number: int) -> tuple[int, int]:
    """From where to where an `all` before its words reaches."""
    last = number + 1
    measured = False
    while last < len(items):
        item = items[last]
        if item.kind == "place" or (item.kind == "break" and item.strength >= 3):
            break
        if measured and item.kind in ("end", "end word", "outlet"):
            break
        measured = measured or item.kind == "measure"
        last += 1
    return number, last

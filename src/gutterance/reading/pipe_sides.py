"""Left and right that are the downpipes of the run being told: `Heights?` ... `Left ten two, right nine`."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.tape import settle
from gutterance.reading.discourse import same_numbers

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item

HEIGHTS = frozenset({"height", "down"})
"""What is asked for, or told, of a downpipe."""
LONGEST_WAIT = 2
"""An answer stands at most so many lines behind its question."""
TALLEST_SURE = Fraction(14 * 12)
"""A left and a right taller than this [in] may be sides of the house as well. Common practice, no source."""
TELLS_ENDS = frozenset({"end", "end word", "end pair", "outlet"})
"""Kinds of items that, behind a number, make it the length of a run."""
OTHER = {"left": "right", "right": "left"}


@dataclass(slots=True)
class _Told:
    """What was told of the run that the words are about: its length, and which of its pipes have a height."""

    length: bool
    waiting: set[str]
    done: set[str]


def of_the_pipe_there(items: list[Item], number: int, walk: Walk) -> bool:
    """`Heights. Back, left one ten even, right one ten nine`: of the run named last, which has a pipe there.

    Either the side of the house that the word may mean is told already; or a question or a sentence says what
    the numbers are; or the run has a pipe at either end that waits for its height, and both are told at once.
    """
    named = next((at for at in range(number - 1, -1, -1) if items[at].kind == "place"), None)
    place = items[named].value if named is not None else walk.run.place if walk.run is not None else None
    here = next((run for run in walk.runs if run.place == place), None)
    told = _told_of(here, items, 0 if named is None else named + 1, number, walk)
    if not told.length:
        return False
    side = items[number].value
    if side not in told.waiting:
        return here is not None and _height_again(here, items, number)
    direction = f"{side} side"
    if any(run.place.direction == direction and "length" in run.fields for run in walk.runs) and here:
        return True
    headed = walk.header is not None and walk.header_line == items[number].line
    if headed or _asked_for_heights(items[number], walk) or _headed_here(items, number):
        return True
    if not _either_pipe(items, number, told):
        return False
    items[number].marks["pipe there"] = True
    if walk.ring is None and place is not None and place.number is None:
        _doubt_if_tall(items, number, walk)
    return True


def _told_of(here: RunDraft | None, items: list[Item], first: int, number: int, walk: Walk) -> _Told:
    """What the lines before and this one, from item `first` on, tell of the run in focus."""
    told = _Told(here is not None and "length" in here.fields, set(), set())
    for outlet in here.outlets if here is not None else ():
        if outlet.side is not None:
            height = outlet.pipe.fields.get("height")
            known = height is not None and height.value is not None
            (told.done if known else told.waiting).add(outlet.side)
    piped = walk.asked_outlet is not None and here is walk.run
    for at in range(first, number):
        item = items[at]
        if item.kind == "measure" and not piped:
            told.length = True
        elif item.kind in ("outlet", "downpipe"):
            piped = True
        elif item.kind == "side" and item.marks.get("pipe there"):
            told.waiting.discard(item.value)
            told.done.add(item.value)
        elif item.kind == "side" and piped and item.value in (*OTHER, "both"):
            told.waiting |= (set(OTHER) if item.value == "both" else {item.value}) - told.done
    return told


def _asked_for_heights(item: Item, walk: Walk) -> bool:
    """`What are the heights` right before it."""
    asked = walk.asked
    return asked is not None and asked.value in HEIGHTS and 0 <= item.line - asked.line <= LONGEST_WAIT


def _headed_here(items: list[Item], number: int) -> bool:
    """Whether a sentence of this line is but a word for what the numbers behind it are: `Heights.`"""
    for at, item in enumerate(items[:number]):
        alone = at == 0 or (items[at - 1].kind == "break" and items[at - 1].strength >= 3)
        closed = at + 1 < len(items) and (items[at + 1].kind == "colon" or items[at + 1].strength >= 3)
        if item.kind == "cue" and item.value in HEIGHTS and alone and closed:
            return True
    return False


def _either_pipe(items: list[Item], number: int, told: _Told) -> bool:
    """`Drop each end. Left is nine ten, right is ten six.`: both at once, and no ends behind them."""
    side = items[number].value
    measure = _number_behind(items, number)
    if measure is None or measure.found is None or _ends_behind(items, measure):
        return False
    if OTHER[side] in told.done:
        return True
    return OTHER[side] in told.waiting and _other_behind(items, number, OTHER[side])


def _doubt_if_tall(items: list[Item], number: int, walk: Walk) -> None:
    """Numbers so large that they may be the sides of the house are asked about."""
    measure, side = _number_behind(items, number), items[number].value
    read = settle(measure.found, "height", metric=walk.metric) if measure and measure.found else None
    if measure is not None and read is not None and read.length.inches > TALLEST_SURE:
        measure.doubts.append(f"of the {side} side, or of the downpipe at the {side}?")


def _number_behind(items: list[Item], number: int) -> Item | None:
    """The number right behind a left or right: `left is ten two`, `left one: ten two`."""
    for item in items[number + 1 : number + 4]:
        if item.kind == "measure":
            return item
        if item.kind not in ("filler", "colon", "mark", "cue") and item.text.lower() not in (
            "'s",
            "’s",
            "one",
        ):
            return None
    return None


def _other_behind(items: list[Item], number: int, other: str) -> bool:
    """Whether the other side stands behind it with a number of its own."""
    for at in range(number + 2, len(items)):
        item = items[at]
        if item.kind in ("lr", "side") and item.value == other:
            return _number_behind(items, at) is not None
        if item.kind == "place":
            return False
    return False


def _ends_behind(items: list[Item], measure: Item) -> bool:
    """`left 31 2, corner each end`: the length of a side of the house."""
    at = next(place for place, item in enumerate(items) if item is measure)
    for item in items[at + 1 :]:
        if item.kind in ("place", "lr", "side", "measure") or (item.kind == "break" and item.strength >= 3):
            return False
        if item.kind in TELLS_ENDS:
            return True
    return False


def _height_again(here: RunDraft, items: list[Item], number: int) -> bool:
    """`left ten even`, of the run in focus whose pipe at the left was told to be ten feet tall: once more."""
    measure = _number_behind(items, number)
    if measure is None:
        return False
    return any(
        outlet.side == items[number].value
        and "height" in outlet.pipe.fields
        and same_numbers(outlet.pipe.fields["height"], measure)
        for outlet in here.outlets
    )

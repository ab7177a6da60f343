"""Sides in a list behind an outlet: `DP left, centre, right`, `drops 2: L, R`, as one word for all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item

if TYPE_CHECKING:
    from gutterance.reading.items import Line

SIDES = frozenset({"left", "right", "centre"})
"""Places of an outlet that a list may name."""
JOINTS = frozenset({"and", "&", "+", "plus"})
"""Words that join the last of a list."""
BETWEEN = frozenset({"filler", "colon", "count", "place"})
"""Kinds of items that may stand between the outlet and its sides."""
MOVES_ON = frozenset({"walk", "place", "filler", "title", "measure"})
"""What, behind `..., right,`, makes the right no side: `drop left, right, moving on`."""


def fold_side_lists(line: Line, items: list[Item]) -> list[Item]:
    """The line's items with each list of an outlet's sides as one, its places under the mark `sides`."""
    name_centres(items)
    out: list[Item] = []
    number = 0
    while number < len(items):
        last, sides = _list_at(items, number)
        if len(sides) < 2:
            out.append(items[number])
            number += 1
            continue
        first, end = items[number], items[last]
        folded = Item(first.line, first.start, end.end, line.text[first.start : end.end], "side", "several")
        folded.marks.update(sides=sides, settled=True)
        out.append(folded)
        number = last + 1
    return out


def _list_at(items: list[Item], first: int) -> tuple[int, list[str]]:
    """Where the list that begins there ends, and its sides; fewer than two where there is none."""
    if not _is_side(items[first]) or not _behind_outlet(items, first):
        return first, []
    sides = [items[first].value]
    last = first
    commas = False
    while True:
        comma, place = _next_side(items, last + 1)
        if place is None or items[place].value in sides:
            break
        sides.append(items[place].value)
        commas = commas or comma
        last = place
    while len(sides) > 1 and not _closes(items, last, commas=commas):
        sides.pop()
        last = next(place for place in range(last - 1, first - 1, -1) if _is_side(items[place]))
    return last, sides


def _is_side(item: Item) -> bool:
    return item.kind in ("lr", "side") and item.value in SIDES


def name_centres(items: list[Item]) -> None:
    """`3 drops  L C R`, `DP L, C, R`: between a left and a right, a C or an M is the middle."""
    for number, item in enumerate(items):
        if item.kind != "word" or item.text not in ("C", "M"):
            continue
        near = [
            next((o for o in side if o.text not in (",", "+", "&", "/")), None)
            for side in (items[max(0, number - 2) : number][::-1], items[number + 1 : number + 3])
        ]
        if all(other is not None and other.kind in ("lr", "side") for other in near) and (
            {other.value for other in near if other is not None} == {"left", "right"}
        ):
            item.kind, item.value = "side", "centre"


def _behind_outlet(items: list[Item], number: int) -> bool:
    """Whether an outlet or a pipe stands right before, with a count or a little word between at most."""
    place = number - 1
    if place > 0 and items[place].kind == "break" and items[place].strength <= 1 and items[place - 1].plural:
        place -= 1  # `three downspouts, left end, center and right end`
    counted = place > 0 and items[place].kind == "colon" and items[place - 1].kind == "measure"
    while place >= 0 and (items[place].kind in BETWEEN or (counted and items[place].kind == "measure")):
        place -= 1
    return place >= 0 and items[place].kind in ("outlet", "downpipe")


def _next_side(items: list[Item], number: int) -> tuple[bool, int | None]:
    """Whether a comma comes first, and where the next side of a list stands, or None."""
    place = number
    comma = False
    while place < len(items):
        item = items[place]
        if item.kind == "break" and item.text == "," and not comma:
            comma = True
        elif item.text.lower() not in JOINTS and item.text.lower() not in ("the", "at the", "on the", "one"):
            break
        place += 1
    if place >= len(items) or not _is_side(items[place]):
        return comma, None
    if place == number and any(len(item.text.rstrip(".")) > 1 for item in (items[place - 1], items[place])):
        return comma, None  # `drop left right moving on`: only letters stand side by side, `drops L R`
    return comma, place


def _closes(items: list[Item], last: int, *, commas: bool) -> bool:
    """Whether a list can end there: what follows is the pipes' own, and begins no run and no end."""
    follower = items[last + 1] if last + 1 < len(items) else None
    if follower is None or follower.kind in ("cue", "ends at"):
        return True
    if follower.kind == "break":
        behind = items[last + 2] if last + 2 < len(items) else None
        return not (
            follower.text == ","
            and items[last].text.lower() == "right"
            and behind is not None
            and behind.kind in MOVES_ON
        )
    if follower.kind in ("measure", "filler"):
        return not commas
    return False

"""A building brought up by itself: `byre first. front 11.34`, `dairy next`, `now the cart shed, front only`.

The sides told from there on are sides of that building, until another is brought up, or the house.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.places import THE_HOUSE, PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line

BEFORE = frozenset(
    {"now", "then", "next", "the", "ok", "okay", "and", "so", "right", "on", "to", "over", "that", "is"}
)
"""Words before the building."""
IN_TURN = frozenset({"first", "next", "now", "then", "last", "after", "that"})
"""Words by which a building takes its turn."""
SIDES = frozenset({"direction", "initial"})
"""Kinds of items that name a side of a building."""
FULL_STOP = 3
"""How strongly a full stop parts."""
WITHIN = 12
"""A side of the building is named within so many items behind them."""
LONGEST = 6
"""The words that bring a building up are no more than this."""


def open_part(line: Line, walk: Walk) -> None:
    """Take the building that a line brings up out of its items, and let it be what follows is about."""
    if any(run.place.part is None and run.has_data for run in walk.runs):
        return  # a house told side by side, its garage among them: what follows may be the house again
    items = [item for item in line.items if item.kind != "mark"]
    opening = _opening(items)
    if opening is None:
        return
    part, last = opening
    behind = items[last + 1 :]
    turn = any(item.text.lower() in IN_TURN for item in items[: last + 1])
    sided = bool(behind) and any(item.kind in SIDES for item in behind[:WITHIN])
    if not (sided if behind else turn):
        return
    if part.value == THE_HOUSE:
        walk.context = None
    else:
        walk.context = PlaceName(part=part.value or part.text.lower())
    walk.run, walk.outlets, walk.pipe_list = None, [], False
    for item in items[: last + 1]:
        walk.use(item)
    line.items = [item for item in line.items if item.start > items[last].start]


def _opening(items: list[Item]) -> tuple[Item, int] | None:
    """The building that the first words bring up, and the place of the last item of those words."""
    number = 0
    while number < len(items) and items[number].text.lower() in BEFORE:
        number += 1
    if number >= len(items) or number > LONGEST or items[number].kind != "part":
        return None
    part = items[number]
    last = number
    while last + 1 < len(items) and items[last + 1].text.lower() in IN_TURN:
        last += 1
    turn = last > number or any(item.text.lower() in IN_TURN for item in items[:number])
    after = items[last + 1] if last + 1 < len(items) else None
    if after is None:
        return (part, last) if turn else None
    if after.kind == "break" and (after.strength >= FULL_STOP or (turn and after.strength >= 1)):
        return part, last + 1
    return None

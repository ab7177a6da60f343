"""Both sides of a porch, a garage or the like told at once: `porch 12-0 front, 7-2 each side, caps at wall`.

Such a line is put as `porch front 12-0, porch left and porch right 7-2`. What is told behind it with no side
is of the front, but for an end at the wall, or a cap: that is where the sides meet the house.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import THE_HOUSE, PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

EACH_SIDE = re.compile(
    r"\s*,?\s*(?:long\s+|down\s+|back\s+|on\s+|up\s+)*(?:each|both|either|per|a|ea\.?)\s+(?:sides?|return|cheek|leg)s?\b"
    r"(?!\s+of\b)",
    re.IGNORECASE,
)
"""What stands behind the length of both sides."""
SIDES_ARE = re.compile(
    r"\b(?:(?:both|the|its|and|two|2)\s+)*(?:sides|returns|cheeks|legs|wings)\s*(?:are|both|each|is|=|:|-)?\s*\Z",
    re.IGNORECASE,
)
"""What stands before it."""
OF_THE_SIDES = re.compile(r"\b(?:sides|returns|cheeks|legs)\b", re.IGNORECASE)
"""What the sides are called."""
AT_THE_HOUSE = frozenset({"end cap", "wall"})
"""How a side ends at the house."""
STOPS = frozenset({"stop", "stops"})
"""Words for an end that do not say which."""
BUTTS = frozenset({"butt", "butts"})
"""Words for an end at the house, and for a barrel."""
LONGEST_SIDE_FEET = 40
"""No side of such a part is longer than this [ft]. Common practice, no source."""
SHORTEST_IN_MM = 400
"""A bare number from here on is in millimetres."""
BEFORE_PART = frozenset({"filler", "walk", "mark", "colon"})
"""Kinds of items that may stand before the part."""
NO_PARTS = frozenset({"bay", "jog", THE_HOUSE})
"""Parts that are told in another way, or are none."""


def tell_sides_of_part(line: Line, walk: Walk) -> None:
    """Put a line that tells both sides of a part at once as one that tells each run by its name."""
    items = line.items
    place = next((number for number in range(len(items)) if _is_length_of_sides(line, number)), None)
    if place is None:
        return
    part = _part_before(items, place, walk)
    if part is None:
        return
    measure = items[place]
    number = items.index(part) if part in items else -1
    head = _head(items[number + 1 : place]) if number >= 0 else []
    if head is None:
        return
    here = SIDES_ARE.search(line.text[: measure.start])
    head = [item for item in head if here is None or item.end <= here.start()]
    behind = EACH_SIDE.match(line.text, measure.end)
    after = [item for item in items[place + 1 :] if behind is None or item.start >= behind.end()]
    while after and after[0].kind == "all":
        after = after[1:]
    named = Names(part.value)
    line.items = [
        *([] if number < 0 else items[:number]),
        named.place(part, "front"),
        *head,
        named.place(measure, "left side"),
        Item(measure.line, measure.start, measure.start, "and", "filler", "and"),
        named.place(measure, "right side"),
        measure,
        *told_behind(after, named, measure),
    ]


@dataclass(frozen=True, slots=True)
class Names:
    """The names of a part's runs."""

    part: str

    def place(self, words: Item, direction: str) -> Item:
        """A run of the part, named in those words."""
        name = PlaceName(part=self.part, direction=direction)
        place = Item(words.line, words.start, words.end, words.text, "place", name)
        place.marks.update(words=[direction], settled=True)
        return place


def _is_length_of_sides(line: Line, place: int) -> bool:
    """Whether the item there is a length said of each side."""
    item = line.items[place]
    found = item.found
    if item.kind != "measure" or found is None or found.kind == "other" or not found.amounts:
        return False
    first = found.amounts[0]
    long = len(found.amounts) > 1 or first.unit in ("foot", "metre") or first.value >= SHORTEST_IN_MM
    if not long or (first.unit in (None, "foot") and LONGEST_SIDE_FEET < first.value < SHORTEST_IN_MM):
        return False
    if any(other.kind in ("cue", "outlet", "downpipe") for other in line.items[max(0, place - 2) : place]):
        return False
    behind = line.items[place + 1 : place + 2]
    if behind and behind[0].text.lower() in ("from", "in", "off"):
        return False
    return (
        EACH_SIDE.match(line.text, item.end) is not None
        or SIDES_ARE.search(line.text[: item.start]) is not None
    )


def _part_before(items: list[Item], place: int, walk: Walk) -> Item | None:
    """The part whose sides they are: the first thing the line names, or the one in focus."""
    named = [item for item in items[:place] if item.kind in ("part", "direction", "storey", "initial")]
    parts = [item for item in named if item.kind == "part"]
    if parts:
        part = parts[-1]
        before = items[: items.index(part)]
        quiet = all(item.kind in BEFORE_PART for item in before)
        return part if quiet and part.value not in NO_PARTS and part.value else None
    run = walk.run
    if named or run is None or run.place.part is None or run.place.part in NO_PARTS or walk.bay is not None:
        return None
    if run.place.direction not in (None, "front") or run.place.storey is not None:
        return None
    first = items[place]
    return Item(first.line, first.start, first.end, first.text, "part", run.place.part)


def _head(items: list[Item]) -> list[Item] | None:
    """What is told between the part and its sides, of its front; None where another place is named."""
    if any(item.kind in ("part", "initial", "storey", "quarter") for item in items):
        return None
    if any(item.kind == "direction" and item.value != "front" for item in items):
        return None
    return [item for item in items if item.kind not in ("direction", "colon")]


def told_behind(after: list[Item], named: Names, last: Item) -> list[Item]:
    """What is told behind the sides: ends at the house to them, all else to the front.

    `last` is the length told last.
    """
    told: list[Item] = []
    of_front = False
    for number, item in enumerate(after):
        if item.text.lower() in BUTTS and any(
            other.text.lower() == "house" for other in after[number + 1 :][:2]
        ):
            item.kind, item.value = "end", "wall"  # no water butt
        front = item.kind in ("direction", "quarter") and str(item.value).split()[0] == "front"
        if item.kind in ("part", "storey") or (item.kind in ("direction", "quarter") and not front):
            return [*told, *after[number:]]
        if item.kind in ("end", "end word") and item.value in AT_THE_HOUSE and not sided(after, number):
            if any(other.kind in ("end", "end word") for other in after[max(0, number - 3) : number]):
                continue  # `die into the wall`, `caps at the wall`: one end in two words
            if item.text.lower() in STOPS:
                continue  # `they stop at the house`: with a cap, or into the wall?
            for side in ("left", "right"):
                told += [named.place(item, f"{side} side"), _like(item, item.kind, item.value)]
                told += [_like(item, "side", side)]
            of_front = False
            continue
        quiet = item.kind in ("break", "filler", "mark", "all", "part angle") or OF_THE_SIDES.fullmatch(
            item.text
        )
        if not of_front and not quiet:
            told.append(named.place(item, "front"))
            of_front = True
        if item.kind == "quarter":
            told.append(_like(item, "lr", str(item.value).split()[1]))
        elif not front:
            told.append(item)
    if not of_front:
        told.append(named.place(last, "front"))  # what the next line tells is of it
    return told


def sided(items: list[Item], number: int) -> bool:
    """Whether a left or a right stands beside an item."""
    return any(item.kind in ("lr", "side") for item in items[max(0, number - 2) : number + 3])


def _like(item: Item, kind: str, value: object) -> Item:
    """An item in the words of another."""
    return Item(item.line, item.start, item.end, item.text, kind, value)

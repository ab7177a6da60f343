"""The pieces of a side on either side of something: `To the left of the sunroom 17-6 ..., right of it 19-11`.

They are runs of the side that was told last, `back left` and `back right`, not sides of what stands between.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

TO_THE_SIDE = re.compile(
    r"\b(?P<to>to the |on the )?(?P<side>left|right)(?: hand)?(?: side)? of "
    r"(?:(?P<it>it|that|them)|the (?P<what>[a-z]+(?: [a-z]+)?))\b",
    re.IGNORECASE,
)
"""Words for the one side or the other of something."""
WITH_PIECES = frozenset({"front", "back", "north", "south", "east", "west", "left side", "right side"})
"""Sides of a house that something may stand before."""
FARTHEST = 4
"""The length of a piece stands within so many items behind such words."""


def name_either_side(line: Line, items: list[Item], walk: Walk) -> list[Item]:
    """The line's items with each piece beside something as a place of its own."""
    if " of " not in line.text:
        return items
    for match in TO_THE_SIDE.finditer(line.text):
        base = _side_told_before(items, match.start(), walk)
        behind = [item for item in items if item.start >= match.end()][:FARTHEST]
        measured = next((item for item in behind if item.kind not in ("filler", "colon", "break")), None)
        said = match["to"] is not None and match["to"].lower().startswith("to")
        other = match["it"] is not None and walk.beside and " side " not in match.group().lower()
        if base is None or measured is None or measured.kind != "measure" or not (said or other):
            continue
        if any(item.start < match.end() < item.end for item in items):
            continue
        place = Item(line.number, match.start(), match.end(), match.group(), "place")
        place.value = replace(base, direction=f"{base.direction} {match['side'].lower()}")
        walk.beside = True
        place.marks.update(words=[match.group().lower()], settled=True)
        before = [item for item in items if item.end <= match.start()]
        items = [*before, place, *(item for item in items if item.start >= match.end())]
    return items


def _side_told_before(items: list[Item], start: int, walk: Walk) -> PlaceName | None:
    """The side of the house that was named last before a spot, without its pieces."""
    names = [item.value for item in items if item.kind == "place" and item.end <= start]
    names = [name for name in names if isinstance(name, PlaceName) and name.direction is not None]
    last = names[-1] if names else walk.run.place if walk.run is not None else None
    if last is None or last.direction is None or last.part is not None:
        return None
    whole = last.direction.removesuffix(" left").removesuffix(" right")
    return replace(last, direction=whole) if whole in WITH_PIECES else None

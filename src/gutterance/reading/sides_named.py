"""Runs called by a place and a side alone: `Wing left, nineteen six, cap`, `And back right?`.

The same words may name where a downpipe is: `back left nine two`. Which they are is told by the whole note: a
place with a length and ends of its own has no runs called by its sides.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.reading.places import LR_SIDE, PLACE_KINDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.reading.items import Item, Line

HALVED = frozenset({"front", "back"})
"""Directions that have a left and a right."""
LITTLE = frozenset({"filler", "walk", "mark", "colon"})
"""Kinds of items that may stand before a name where a sentence opens."""
ENDS = frozenset({"end", "end word", "end pair"})
"""Kinds of items that tell how a run ends."""
FARTHEST = 25
"""What is told of a place stands within so many items behind its name."""

Side = tuple[str | None, str | None]
"""The part and the direction of a run's name."""


@dataclass(frozen=True, slots=True)
class _Opening:
    """A place that opens a clause: its part or direction, its side if one is said, and what is told of it."""

    kind: str
    place: str
    side: str | None
    told: bool


def sides_named_alone(lines: list[Line]) -> frozenset[Side]:
    """The (part, direction) of the runs of a note that go by a place and a side alone."""
    openings = list(_openings([item for line in lines for item in [*line.items, None]]))
    whole = {(one.kind, one.place) for one in openings if one.side is None and one.told}
    sides: dict[tuple[str, str], set[str]] = {}
    told = set()
    for one in openings:
        if one.side is not None and (one.kind, one.place) not in whole:
            sides.setdefault((one.kind, one.place), set()).add(one.side)
            if one.told:
                told.add((one.kind, one.place, one.side))
    return frozenset(
        (place, LR_SIDE[side]) if kind == "part" else (None, f"{place} {side}")
        for (kind, place), both in sides.items()
        for side in both
        if len(both) > 1 and any((kind, place, one) in told for one in both)
    )


def _openings(items: list[Item | None]) -> Iterator[_Opening]:
    """The places that open a clause; a line's end is None."""
    fresh = True
    for at, item in enumerate(items):
        if item is None or item.kind == "break" or item.text.startswith("?"):
            fresh = True
            continue
        if item.kind in LITTLE:
            continue
        if fresh and (item.kind == "part" or (item.kind == "direction" and item.value in HALVED)):
            behind = items[at + 1] if at + 1 < len(items) else None
            side = behind.value if behind is not None and behind.kind == "lr" else None
            longer = side is None and behind is not None and behind.kind in (*PLACE_KINDS, "side")
            of_another = behind is not None and behind.text.lower() in ("of", "of the")
            if not longer and not of_another:
                yield _Opening(item.kind, item.value, side, _is_told(items, at + (1 if side is None else 2)))
        fresh = False


def _is_told(items: list[Item | None], first: int) -> bool:
    """Whether a length and how it ends stand behind a name, before its pipes and another place."""
    measured = False
    fresh = False
    for item in items[first : first + FARTHEST]:
        if item is None or item.kind == "break":
            fresh = True
            continue
        if item.kind in LITTLE:
            continue
        if fresh and item.kind in PLACE_KINDS:
            return False
        fresh = False
        if item.kind in ("outlet", "downpipe", "cue", "ends at") and not measured:
            return False
        if item.kind == "measure" and item.found is not None and item.found.kind != "other":
            measured = True
        elif measured and item.kind in ENDS:
            return True
    return False

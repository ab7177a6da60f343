"""What stands beside a place word, past the little words; and a place brought into focus."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.places import (
    PlaceName,
    significant,
)

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item


def before_it(items: list[Item], number: int) -> Item | None:
    """The item before, past the little words; None at the start of a line or sentence."""
    place = significant(items, number - 1, -1)
    if place is None:
        return None
    item = items[place]
    if item.kind == "break" and item.strength >= 3:
        return None
    return item


def after_it(items: list[Item], number: int) -> Item | None:
    """The item after, past the little words; None at the end."""
    place = significant(items, number + 1, 1)
    return None if place is None else items[place]


def past_colon(items: list[Item], number: int) -> Item | None:
    """The item after, past the little words and a colon; None at the end."""
    place = significant(items, number + 1, 1, frozenset({"filler", "colon"}))
    return None if place is None else items[place]


def is_length_like(item: Item | None) -> bool:
    """Whether an item is a number that may be a length: no pitch, price or date."""
    return (
        item is not None and item.kind == "measure" and item.found is not None and item.found.kind != "other"
    )


def bring_into_focus(item: Item, name: PlaceName) -> None:
    """Make an item a place of that name, which comes into focus when its turn comes."""
    item.kind, item.value = "place", name


AGAINST_THE_HOUSE = frozenset({"porch", "bay", "entry", "portico", "canopy", "stoop", "dormer"})
"""Parts that have no eave at their back."""
THE_BACK = PlaceName(direction="back")


def _told(place: PlaceName, walk: Walk) -> bool:
    return any(run.place == place and run.has_data for run in walk.runs)


def in_context(name: PlaceName, walk: Walk) -> PlaceName:
    """A place under a heading (`Garage:`, `UPPER`) is a place of that part or storey.

    A porch or a bay stands against the house: behind it, a back that was not told yet is the house's.
    """
    context = walk.context
    if context is None:
        return name
    if context.part in AGAINST_THE_HOUSE and name == THE_BACK and not _told(THE_BACK, walk):
        walk.context = None
        return name
    if context.part and not name.part and name.direction and not name.storey:
        name = replace(name, part=context.part)
    if context.storey and not name.storey and name.direction and not name.part:
        name = replace(name, storey=context.storey)
    elif context.storey and not name.storey:
        name = replace(name, level=context.storey)
    return name

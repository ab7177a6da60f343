"""What a run's name says of where it stands: front, right, back, left, or a point of the compass.

Walking left to right along each run goes round the house anticlockwise seen from above, so the sides follow
one another front, right, back, left; and south, east, north, west.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.sheet.models import Run

_SIDES = {
    "front": 0,
    "right": 1,
    "back": 2,
    "rear": 2,
    "behind": 2,
    "left": 3,
    "south": 0,
    "east": 1,
    "north": 2,
    "west": 3,
}
_SAY_NOTHING = frozenset(
    {"the", "side", "wall", "eave", "eaves", "run", "gutter", "of", "house", "main", "elevation"}
)
SIDE_NAMES = ("front", "right side", "back", "left side")
COMPASS_NAMES = ("south side", "east side", "north side", "west side")
_COMPASS = frozenset({"north", "south", "east", "west"})


@dataclass(frozen=True, slots=True)
class Position:
    """A side of a building: `turn` counts 0 front, 1 right, 2 back, 3 left; no `building` is the house."""

    building: str
    turn: int
    compass: bool


def position(run: Run) -> Position | None:
    """The plain side a run's name gives it, or None where the name says more or less than one side.

    `garage front` is the front of the building `garage`; `front left` is no plain side.
    """
    words = [word for word in re.split(r"[^a-z0-9]+", (run.name or run.id).lower()) if word]
    sides = [word for word in words if word in _SIDES]
    if len(sides) != 1:
        return None
    rest = [word for word in words if word not in _SIDES and word not in _SAY_NOTHING]
    return Position(" ".join(rest), _SIDES[sides[0]], sides[0] in _COMPASS)


def facing(run: Run) -> Position | None:
    """The side a run is on or is a part of: `front left` and `front step 2` face as the front does."""
    at = position(run)
    if at is not None:
        return at
    words = [word for word in re.split(r"[^a-z0-9]+", (run.name or run.id).lower()) if word]
    first = next((word for word in words if word in _SIDES), None)
    return None if first is None else Position(building(run), _SIDES[first], first in _COMPASS)


def building(run: Run) -> str:
    """The building a run's name puts it on: `garage`, `porch`, or empty for the house itself."""
    at = position(run)
    if at is not None:
        return at.building
    words = [word for word in re.split(r"[^a-z]+", (run.name or run.id).lower()) if word]
    return " ".join(word for word in words if word in BUILDINGS)


BUILDINGS = frozenset(
    {"garage", "porch", "shed", "barn", "carport", "workshop", "addition", "annexe", "conservatory"}
)
"""Words of a run's name that put it on a building, or a part of one, with walls of its own."""


def side_name(turn: int, compass: bool, of: str) -> str:
    """The name of a side nobody measured, named like the others: `left side`, `garage back`, `west side`."""
    name = (COMPASS_NAMES if compass else SIDE_NAMES)[turn % 4]
    return f"{of} {name}" if of else name

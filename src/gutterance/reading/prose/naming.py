"""Names of runs in a sentence: `the left-hand side of the garage`, `the two cheeks`, `the face`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.prose.chunks import Chunk

FLANK = frozenset({"flank", "flank of part"})
"""Nouns for one side of something."""


@dataclass(frozen=True, slots=True)
class Named:
    """A name as said: its parts, not yet held against what is known, and the chunk behind it.

    `shape` is 'wall' for a side of the house or of a part, 'wall of part' where it is of a part, 'part' for
    a part alone, 'flank' for a side not said which, 'flanks' for both, 'face' for the front of a part.
    `of_house` and `of_it` say what stands behind (`of the house`, `of it`), `its` what stands before.
    """

    shape: str
    direction: str | None
    part: str | None
    storey: str | None
    of_house: bool
    of_it: bool
    its: bool
    first: int
    behind: int


def name_at(chunks: list[Chunk], first: int) -> Named | None:
    """The name that begins at a chunk, or None."""
    place = first
    storey = part = direction = shape = None
    of_house = of_it = False
    if chunks[place].kind == "storey" and place + 1 < len(chunks):
        storey = chunks[place].value if chunks[place].value != "main" else None  # the main house's
        place += 1
    kind = chunks[place].kind
    behind = _kind(chunks, place + 1)
    if kind == "direction":
        if chunks[place].text == "back" and _adverb(chunks, first):
            return None
        direction, shape = chunks[place].value, "wall"
        place += 1
        if behind == "part":
            part, direction, shape = chunks[place].value, None, "part"  # `the rear extension`
            place += 1
    elif kind == "hand" and behind == "word" and chunks[place + 1].text == "piece":
        direction, shape = f"{chunks[place].value} side", "wall of part"
        place += 2
    elif kind == "hand" and behind in FLANK:
        direction = f"{chunks[place].value} side"
        shape = "wall of part" if chunks[place + 1].kind == "flank of part" else "wall"
        place += 2
    elif kind in FLANK:
        shape = "flank"
        place += 1
    elif kind == "flanks":
        shape = "flanks"
        place += 1
    elif kind == "face of part":
        shape = "face"
        place += 1
    elif kind == "part":
        part, shape = chunks[place].value, "part"
        place += 1
    else:
        return None
    if shape == "part" and _kind(chunks, place) == "the house":
        return None  # `the shop building` is the house
    if shape == "part":
        if _kind(chunks, place) == "word" and chunks[place].text == "'s":
            place += 1
        following = _kind(chunks, place)
        if following == "direction":
            direction, shape = chunks[place].value, "wall"
            place += 1
        elif following == "hand" and _kind(chunks, place + 1) in FLANK:
            direction, shape = f"{chunks[place].value} side", "wall"
            place += 2
        elif following == "face of part":
            shape = "face"
            place += 1
        elif following == "flanks":
            shape = "flanks"
            place += 1
    if _kind(chunks, place) == "run noun":
        place += 1
    if _kind(chunks, place) == "prep" and chunks[place].text == "of" and shape != "part":
        here = place + 1
        while _kind(chunks, here) == "det":
            here += 1
        if _kind(chunks, here) == "the house":
            of_house, place = True, here + 1
        elif _kind(chunks, here) == "part" and part is None:
            part, place = chunks[here].value, here + 1
        elif _kind(chunks, here) == "it":
            of_it, place = True, here + 1
    assert shape is not None
    return Named(
        shape, direction, part, storey, of_house, of_it, _kind(chunks, first - 1) == "its", first, place
    )


def _kind(chunks: list[Chunk], place: int) -> str:
    return chunks[place].kind if 0 <= place < len(chunks) else ""


def _adverb(chunks: list[Chunk], first: int) -> bool:
    """`all the way back along the wall`: a back with no article before it is no side of a house."""
    before = _kind(chunks, first - 1)
    return before not in ("", "det", "its", "count", "storey", "part") and chunks[first - 1].text not in (
        "long",
        "whole",
        "high",
        "low",
        "short",
        "'s",
        "main",
        "own",
    )

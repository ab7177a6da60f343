"""A sentence on what the gutter is made of: `half round, 115 wide, in black steel, with round pipes`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.measure.length import Length
from gutterance.reading.sizes import gutter_width, pipe_size, profile_of, thickness

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.reading.prose.chunks import Chunk

MADE_OF = {"profile": "gutter_profile", "material": "material", "colour": "colour"}
"""Kinds of items that say what a gutter is, and the field of the job each answers."""
TELLS_OF_A_RUN = frozenset(
    {"end", "end word", "end pair", "ends at", "unknown", "withdraw", "total", "except"}
)
"""Kinds of items that no sentence on the material has."""
BEHIND_STUFF = frozenset(
    {"break", "colour", "measure", "run noun", "downpipe", "profile", "outlet", "cue", "mark"}
)
"""Kinds of items behind a stuff that is what the gutter is made of ..."""
LITTLE_BEHIND_STUFF = frozenset({"and", "with", "in", "to", "for", "please", "or"})
"""... and little words behind one."""
WISHES = frozenset({"make it", "make that", "make them"})
"""Words that correct in a clipped note, and only wish in a sentence."""
WIDEST_IN_INCHES = 12
"""A gutter's or pipe's width above this is in millimetres."""
NARROWEST_GUTTERS = (5, 6, 7, 8)
"""Widths in inches that only a gutter has. Common practice, no source."""
NEAREST = 4
"""So many chunks off a number stands the word for what it is the size of."""


def tell_materials(items: Sequence[Item], chunks: list[Chunk], walk: Walk) -> bool:
    """Put what a sentence says of the material on the sheet, if it tells of nothing else; whether it did."""
    kinds = {item.kind for item in items}
    if not (kinds & {"profile"} or is_made_of(items)) or kinds & TELLS_OF_A_RUN:
        return False
    if any(item.kind == "fix" and item.text.lower() not in WISHES for item in items):
        return False
    sizes: list[tuple[str, object, Item]] = []
    for number, chunk in enumerate(chunks):
        if chunk.measure is None:
            continue
        size = _size(chunks, number)
        if size is None:
            return False
        sizes.append((*size, chunk.measure))
    for item in items:
        if item.kind in MADE_OF:
            walk.put(walk.defaults, MADE_OF[item.kind], walk.text(item.value, item), item)
    for name, value, item in sizes:
        walk.put(walk.defaults, name, walk.text(value, item), item)
        profile = profile_of(item) if name == "gutter_size" else None
        if profile is not None and "gutter_profile" not in walk.defaults:
            walk.put(walk.defaults, "gutter_profile", walk.text(profile, item), item)
    return True


def is_made_of(items: Sequence[Item]) -> bool:
    """Whether a stuff is named for itself: not the `steel` of a steel tape."""
    for number, item in enumerate(items):
        behind = items[number + 1] if number + 1 < len(items) else None
        if item.kind == "material" and (
            behind is None or behind.kind in BEHIND_STUFF or behind.text.lower() in LITTLE_BEHIND_STUFF
        ):
            return True
    return False


def _size(chunks: list[Chunk], number: int) -> tuple[str, object] | None:
    """The field that a number is a size for, and its value; None where it is of neither gutter nor pipe."""
    item = chunks[number].measure
    assert item is not None
    assert item.found is not None
    if item.found.what == "gutter size":
        return "gutter_size", gutter_width(item)
    if item.found.what == "thickness":
        thick = thickness(item)
        return None if thick is None else ("thickness", thick)
    if item.found.what in ("pipe size", "material size"):
        size = pipe_size(item)
        return None if size is None else ("downpipe_size", size)
    if len(item.found.amounts) != 1:
        return None
    amount = item.found.amounts[0]
    metric = amount.unit == "millimetre" or (amount.unit is None and amount.value > WIDEST_IN_INCHES)
    if not metric and amount.unit not in (None, "inch"):
        return None
    near = chunks[max(0, number - NEAREST) : number + NEAREST]
    words = [chunk.text for chunk in near]
    behind = _first(chunks[number + 1 : number + NEAREST], ("pipe", "pipes", "run noun", "wide"))
    before = _first(list(reversed(chunks[max(0, number - NEAREST) : number])), ("pipe", "pipes", "run noun"))
    if behind in ("pipe", "pipes") or (before in ("pipe", "pipes") and behind is None):
        shape = (
            "square"
            if any(word.startswith("sq") for word in words)
            else "round"
            if "round" in words
            else None
        )
        if shape is None:
            return None
        return (
            "downpipe_size",
            f"{amount.value} mm {shape}" if metric else f"{Length(amount.value).file_text()} {shape}",
        )
    narrow = amount.unit == "inch" and amount.value in NARROWEST_GUTTERS
    if narrow and before not in ("pipe", "pipes") and behind not in ("pipe", "pipes"):
        return "gutter_size", Length(amount.value)  # `white aluminium, the five inch`
    if behind in ("run noun", "wide") or before == "run noun" or "half" in words:
        return "gutter_size", Length.from_mm(amount.value) if metric else Length(amount.value)
    return None


def _first(chunks: list[Chunk], kinds: tuple[str, ...]) -> str | None:
    """The kind of the first chunk that is of one of these, up to the next comma."""
    for chunk in chunks:
        if chunk.kind in ("comma", "semi"):
            return None
        if chunk.kind in kinds:
            return chunk.kind
    return None

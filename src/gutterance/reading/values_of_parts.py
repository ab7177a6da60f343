"""Heights and overhangs said of the house or of a part of it: `soffit ten on the garage`, `fourteen inch
overhang on the house`, `the overhang on the sunroom is six`.

Such a value is of every pipe of that part. The part's name measures no run of its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.places import THE_HOUSE, PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item

OF_PIPES = frozenset({"wall_to_fascia", "height", "down"})
"""Cues of what each pipe has."""
LITTLE = frozenset({"filler", "colon", "walk"})
"""Kinds of items that may stand between a value and its part."""
HOUSE = frozenset({"house", "main house"})
FARTHEST = 8
"""Within so many items behind the cue its number and its part stand."""


def find_values_of_parts(items: list[Item], walk: Walk) -> None:
    """Mark each such value as said of all of its part, where that part was told."""
    for at, cue in enumerate(items):
        if cue.kind != "cue" or cue.marks.get("remark") or cue.marks.get("all"):
            continue
        if cue.value not in OF_PIPES and cue.value != "roof_pitch":
            continue
        part = _part_behind(items, at + 1)
        if part is None:
            measure = _measure(items, at + 1)
            part = _part_behind(items, measure + 1) if measure is not None else None
        else:
            measure = _measure(items, part + 1)
        if part is not None and measure is None:
            measure = _measure_before(items, at)
        if part is None or measure is None or measure == part + 1 or not _closes(items, max(part, measure)):
            continue
        _mark(items, cue, items[measure], items[part], walk)


def _mark(items: list[Item], cue: Item, measure: Item, place: Item, walk: Walk) -> None:
    """Make a value one of all of its part, where anything is told of that part."""
    name = place.value if place.kind == "place" else PlaceName(part=THE_HOUSE)
    part = name.part or name.storey
    house = part == THE_HOUSE
    if cue.value == "roof_pitch":
        if house:
            place.kind = "ref"  # the roof's pitch is the job's, and no run is told
        return
    names = [run.place for run in walk.runs if run.has_data]
    names += [item.value for item in items if item.kind == "place" and item is not place]
    if not any(name.part is None if house else part in (name.part, name.storey) for name in names):
        return
    if place.kind == "place":
        place.kind = "ref"
    measure.marks.update({"all": True, "all of": part, "cue": cue})
    cue.marks["used"] = True


def _part_behind(items: list[Item], start: int) -> int | None:
    """Where the part stands behind `on the`, or None."""
    words: list[str] = []
    for at in range(start, min(start + FARTHEST, len(items))):
        item = items[at]
        said_on = "on" in words or "at" in words
        if item.kind in ("place", "ref") and isinstance(item.value, PlaceName):
            general = item.value.direction is None and item.value.number is None
            return at if said_on and general else None
        if said_on and item.text.lower() in HOUSE and words[-1:] == ["the"]:
            return at
        if item.kind not in LITTLE and item.kind != "all":
            return None
        words.append(item.text.lower())
    return None


def _measure(items: list[Item], start: int) -> int | None:
    """Where the number stands, past little words, or None."""
    for at in range(start, min(start + FARTHEST, len(items))):
        found = items[at].found
        if items[at].kind == "measure" and found is not None:
            return at if found.kind != "other" or found.what in ("pitch", "angle") else None
        if items[at].kind not in LITTLE and items[at].text.lower() != "all":
            return None
    return None


def _measure_before(items: list[Item], at: int) -> int | None:
    """`fourteen inch overhang`: where the number stands right before its cue, or None."""
    before = items[at - 1] if at else None
    plain = before is not None and before.kind == "measure" and before.found is not None
    return at - 1 if plain and before is not None and before.found.kind != "other" else None  # type: ignore[union-attr]


def _closes(items: list[Item], last: int) -> bool:
    """Whether nothing that a run would have stands right behind: no length, and no end."""
    behind = next((item for item in items[last + 1 :] if item.kind not in LITTLE), None)
    return behind is None or behind.kind not in (
        "measure",
        "end",
        "end word",
        "end pair",
        "outlet",
        "downpipe",
    )

"""Pipes of a lettered note: their labels (`DP1`, `P4`), and which of their bare numbers is height or wall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.measure.tape import settle
from gutterance.reading.items import Item

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.lettered.ring import Ring
    from gutterance.sheet.models import Reading

LOWEST_EAVE = 60
"""Nobody hangs a gutter lower than this [in] on a house. Common practice, no source."""
HIGHEST_EAVE = 600
"""Higher than this [in] is no eave of a house. Common practice, no source."""
LIKELY_PIPE = 156
"""Up to this [in] a length beside an outlet may be the height of its pipe. Common practice, no source."""
WIDEST_OVERHANG = 48
"""No wall stands farther back from its fascia than this [in]. Common practice, no source."""
PIPE_FIELDS = ("wall_to_fascia", "height", "ends_at", "size")


def name_pipe_fields(items: list[Item], walk: Walk) -> None:
    """`9-2  22  splash`: the larger of a pipe's two numbers is its height, the smaller its wall to fascia.

    Only where neither could be the other; else the numbers stay bare, and are asked about.
    """
    measures = [
        item for item in items
        if item.kind == "measure" and item.found is not None and item.found.kind != "other" and not item.was
        and not is_offset(items, item) and not cue_beside(items, item)
    ]  # fmt: skip
    cued = {cue for item in items if item.kind == "cue" for cue in [item.value]}
    fields = [_field_of(item, walk, alone=len(measures) == 1 and "height" not in cued) for item in measures]
    if not measures or len(measures) > 2 or len(set(fields)) != len(fields):
        return
    for item, name in zip(measures, fields, strict=True):
        if name is not None and name not in cued:
            item.marks["cue"] = Item(item.line, item.start, item.start, "", "field", name)
            item.marks["named field"] = True


def doubt_length(items: list[Item], walk: Walk) -> None:
    """`run 2 9-4, drop left`: with no end told and low enough for a pipe, is it the run's length?"""
    if any(item.kind in ("end", "end word") for item in items):
        return
    for item in items:
        if item.kind == "measure" and item.found is not None and item.found.kind != "other":
            tall = settle(item.found, "height", metric=walk.metric)
            if tall is not None and LOWEST_EAVE <= tall.length.inches <= LIKELY_PIPE:
                item.doubts.append("the length of the run, or the height of its downpipe?")


def _field_of(item: Item, walk: Walk, *, alone: bool) -> str | None:
    """Which field of a pipe a number can only answer, or None."""
    assert item.found is not None
    tall = settle(item.found, "height", metric=walk.metric)
    wide = settle(item.found, "wall to fascia", metric=walk.metric)
    could_be_height = tall is not None and LOWEST_EAVE <= tall.length.inches <= HIGHEST_EAVE
    could_be_wall = wide is not None and 0 < wide.length.inches <= WIDEST_OVERHANG
    feet_and_inches = len(item.found.amounts) > 1 or item.found.kind == "length"
    if could_be_height and could_be_wall and not walk.metric and not feet_and_inches:
        return "wall_to_fascia" if not alone else None
    if could_be_height and could_be_wall:
        return None
    if could_be_height:
        return "height"
    return "wall_to_fascia" if could_be_wall else None


def is_offset(items: list[Item], item: Item) -> bool:
    """`18" from R`: how far from an end."""
    at = next(number for number, other in enumerate(items) if other is item)
    words = [other.text.lower() for other in items[at + 1 : at + 4]]
    return bool({"from", "off"} & set(words))


def cue_beside(items: list[Item], item: Item) -> bool:
    """Whether a word right beside says what a number is."""
    at = next(number for number, other in enumerate(items) if other is item)
    near = [*items[max(0, at - 1) : at], *items[at + 1 : at + 2]]
    return any(other.kind == "cue" for other in near)


def label_heard(label: str, walk: Walk, ring: Ring) -> None:
    """Remember which outlet a pipe's label stands for."""
    if len(walk.outlets) == 1:
        ring.labelled[label] = walk.outlets[0]


def focus_labelled(items: list[Item], walk: Walk, ring: Ring) -> bool:
    """`pipe 3, 4 in over the plinth`: the pipe of that label comes into focus."""
    first = next((item for item in items if item.kind not in ("filler", "mark", "break")), None)
    if first is None or first.kind != "pipe label" or first.value not in ring.labelled:
        return False
    outlet = ring.labelled[first.value]
    run = next((run for run in walk.runs if any(outlet is other for other in run.outlets)), None)
    if run is None:
        return False
    walk.run, walk.outlets = run, [outlet]
    ring.subject = run.place.number
    walk.use(first)
    items.remove(first)
    return True


def copy_labelled(like: Item, walk: Walk, ring: Ring) -> None:
    """`P5 on run 4, 18'9, same as P4`: what was not told of a pipe is as on the other."""
    origin = ring.labelled.get(like.value)
    if origin is None:
        return
    walk.use(like)
    for outlet in walk.outlets:
        if outlet is origin:
            continue
        for name in PIPE_FIELDS:
            reading = origin.pipe.fields.get(name)
            if reading is not None and name not in outlet.pipe.fields:
                copy: Reading[object] = reading.model_copy(deep=True)
                copy.why = f"same as {like.text}"
                copy.source = [*copy.source, like.source()]
                outlet.pipe.fields[name] = copy
        if not outlet.pipe.offsets:
            outlet.pipe.offsets = [offset.model_copy(deep=True) for offset in origin.pipe.offsets]

"""Answers about a run's outlets: where they are, and how many."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE, RECTANGLE
from gutterance.reading.places import COMPASS
from gutterance.reading.roles import assign_roles
from gutterance.reading.run_answers import length_reading, settle_doubt
from gutterance.reading.stretch_words import found_value

if TYPE_CHECKING:
    from gutterance.reading.builder import OutletDraft, RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.reading.written_answers import Answer

RUNS_ON = frozenset(
    {"via", "into", "onto", "flows", "flow", "shares", "shared", "see", "goes", "feeds", "around", "round"}
)
"""Words of an outlet's answer that send the water to another run."""
NONE = re.compile(r"\W*(?:no|none|nil|n/?a)\b(?!\.?\s*\d)", re.IGNORECASE)
"""An answer that opens so says that there is no outlet: `none - falls to R`."""
BETWEEN_DISTANCES = re.compile(r"\s*(?:[/,;&+]|\band\b)\s*", re.IGNORECASE)
"""What stands between two distances in an answer."""
PLACES = (*OPPOSITE, "centre")
"""Where on a run an outlet may be said to be."""
MOST_OUTLETS = 12
"""A larger number than this counts no outlets of one run."""


def no_outlet(answer: Answer, walk: Walk, run: RunDraft) -> None:
    """A run that is said to have no outlet."""
    run.no_outlet = answer.line.source(answer.start, answer.end)
    run.source.append(run.no_outlet)
    walk.use_source(run.no_outlet)


def outlets(answer: Answer, walk: Walk, run: RunDraft) -> None:
    """The outlets of a run: their sides, how far from an end, or only how many."""
    walk.run = run
    items = answer.items
    for item in items:
        if item.kind == "all" and item.text.lower() in ("both", "each"):
            item.kind, item.value = "side", "both"
        elif item.kind == "direction" and item.value in ("left side", "right side"):
            item.kind, item.value = "side", item.value.split()[0]
        elif item.kind == "quarter":
            item.kind, item.value = "side", item.value.split()[1]
    name_compass_ends(items, run)
    if NONE.match(answer.text):
        no_outlet(answer, walk, run)
        return
    if any(item.kind == "falls to" or item.text.lower() in RUNS_ON for item in items):
        return
    end = answer.label.measured_from if answer.label is not None else None
    if end is not None and answer.measures and not answer.of("side", "lr"):
        label = answer.as_item
        walk.outlets = [
            walk.outlet_at(
                end, item, walk.text(end, label), length_reading(item, "distance", part, walk), new=True
            )
            for part in answer.parts(BETWEEN_DISTANCES)
            for item in part.measures
        ]
        return
    assign_roles(items)
    placed = _at_a_distance(answer, walk)
    for item in items:
        if item.kind not in ("side", "lr") or item.marks.get("done") or _struck(answer, item):
            continue
        sides = ("left", "right") if item.value == "both" else (item.value,)
        placed += [
            walk.outlet_at(side, item, walk.text(side, item), None) for side in sides if side in PLACES
        ]
    free = [item for item in answer.measures if "offset" not in item.marks]
    if len(free) == 1 and placed and found_value(free[0]) == len(placed) and _is_count(free[0]):
        walk.use(free[0])  # `1 (R)`: how many, not how far
    elif len(free) == 1 and len(placed) == 1 and placed[0].distance is None and placed[0].side in OPPOSITE:
        placed[0].distance = length_reading(free[0], "distance", answer, walk)
    if not placed:
        placed = _counted(answer, walk)
    for outlet in placed:
        if outlet.place is not None:
            settle_doubt(outlet.place, answer)
    if placed:
        walk.outlets = placed
    elif re.search(r"\b(?:no|none|nil)\b", answer.text, re.IGNORECASE):
        no_outlet(answer, walk, run)
    for item in items:
        if item.kind in ("count", "outlet", "downpipe", "side", "lr"):
            walk.use(item)


def name_compass_ends(items: list[Item], run: RunDraft) -> None:
    """`E end`, `NE`: on a run that faces a quarter of the sky, the left or the right by the map."""
    here = run.place.direction or ""
    if here not in COMPASS:
        return
    for item in items:
        if item.kind not in ("initial", "direction", "compass corner"):
            continue
        sides = [RECTANGLE.get((here, name)) for name in str(item.value).split() if name != here]
        if len(sides) == 1 and sides[0] is not None:
            item.kind, item.value = "side", sides[0]


def _at_a_distance(answer: Answer, walk: Walk) -> list[OutletDraft]:
    """`1.5 m from left end`: outlets told by how far they are from an end."""
    placed: list[OutletDraft] = []
    for item in answer.items:
        target = item.marks.get("offset")
        if item.marks.get("struck") or target is None or target.value not in PLACES:
            continue
        reading = length_reading(item, "distance", answer, walk)
        target.marks["done"] = True
        placed.append(walk.outlet_at(target.value, item, walk.text(target.value, target), reading))
    return placed


def _counted(answer: Answer, walk: Walk) -> list[OutletDraft]:
    """Outlets of which only the number is told: `2`, `two drops`, `yes`."""
    run = walk.run
    assert run is not None
    counts = [item for item in answer.numbers if _is_count(item) and found_value(item) is not None]
    counts += [item for item in answer.of("count") if item.value]
    if counts:
        item = counts[0]
        number = int(item.value if item.kind == "count" else found_value(item) or 0)
        walk.use(item)
        if number == 0:
            no_outlet(answer, walk, run)
        if run.outlets:
            return list(run.outlets)
        return [walk.outlet_at(None, item, None, None, new=True) for _ in range(min(number, MOST_OUTLETS))]
    named = answer.of("outlet", "downpipe")
    if (named or re.fullmatch(r"y|yes|yep|✓|✔|x|1", answer.plain)) and not run.outlets:
        return [walk.outlet_at(None, named[0] if named else answer.as_item, None, None, new=True)]
    return list(run.outlets) if answer.plain in ("y", "yes") else []


def _is_count(item: Item) -> bool:
    """Whether a number stands without a unit, whole and small: it may count outlets."""
    value = found_value(item)
    return (
        item.found is not None
        and item.found.kind == "bare"
        and value is not None
        and value == int(value)
        and value <= MOST_OUTLETS
    )


def _struck(answer: Answer, item: Item) -> bool:
    """Whether an item stands between two pairs of tildes: `~~left~~ right`."""
    return answer.line.text[answer.start : item.start].count("~~") % 2 == 1

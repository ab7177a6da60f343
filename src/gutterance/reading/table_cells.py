"""The cells of a table: what each kind of column puts on the sheet."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.reading.corrections import merge_corrections
from gutterance.reading.discourse import OPPOSITE, Walk
from gutterance.reading.items import Item, Line
from gutterance.reading.roles import assign_roles
from gutterance.reading.sizes import gutter_width, pipe_size, pitch
from gutterance.reading.stretch_words import found_value
from gutterance.sheet.models import Reading

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.table_finding import Cell

RUNS_ON = frozenset(
    {"via", "into", "onto", "flows", "flow", "shares", "shared", "see", "goes", "feeds", "around", "round"}
)
"""Words of an outlet's cell that send the water to another run."""


def cell_items(line: Line, cell: Cell) -> list[Item]:
    """The items inside a cell, with what was corrected there."""
    inside = [item for item in line.items if item.start >= cell.start and item.end <= cell.end]
    return merge_corrections(inside)


def _measures(line: Line, cell: Cell) -> list[Item]:
    return _measures_of(cell_items(line, cell))


def _measures_of(items: list[Item]) -> list[Item]:
    return [item for item in items if item.kind == "measure" and not item.marks.get("struck")]


def _missing(line: Line, cell: Cell, walk: Walk) -> Reading[Any]:
    """A value that the table itself says is not known, by a question mark or a word."""
    why = line.source(cell.start, cell.end)
    walk.use_source(why)
    return Reading[Any](value=None, status="missing", source=[why], why=f"the table says: {why.text}")


def _length_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft, name: str = "length") -> None:
    """A length, or that it is not known."""
    items = cell_items(line, cell)
    measures = _measures_of(items)
    if any(item.kind == "unknown" or item.text == "?" for item in items) or "?" in cell.text:
        if measures:
            measures[0].doubts.append("the measurer put a question mark")
        else:
            run.fields[name] = _missing(line, cell, walk)
            return
    for item in measures:
        reading = walk.length(item, name)
        if reading is not None:
            walk.put(run.fields, name, reading, item)


def _end_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft, which: str) -> None:
    """One end of a run."""
    items = cell_items(line, cell)
    assign_roles(items)
    ends = [
        item
        for item in items
        if item.kind in ("end", "end word") or (item.kind == "word" and item.text.lower() == "wall")
    ]
    doubtful = "?" in cell.text or any(item.kind == "unknown" for item in items)
    if not ends:
        if doubtful:
            run.fields[f"{which}_end"] = _missing(line, cell, walk)
        return
    item = ends[-1]
    reading = walk.text("wall" if item.kind == "word" else item.value, item)
    if doubtful:
        reading.status, reading.why = "doubtful", "the measurer put a question mark"
    walk.put(run.fields, f"{which}_end", reading, item)
    angle = item.marks.get("angle")
    if angle is not None and angle != 90:
        walk.put(run.fields, f"{which}_angle", walk.text(angle, item.marks["angle item"]), item)


def _ends_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    """Both ends of a run in one cell."""
    items = cell_items(line, cell)
    pair = next((item for item in items if item.kind == "end pair"), None)
    if pair is not None:
        for which, value in zip(("left", "right"), pair.value.split(", "), strict=True):
            walk.put(run.fields, f"{which}_end", walk.text(value, pair), pair)
        return
    ends = [item for item in items if item.kind in ("end", "end word")]
    if len(ends) == 1:
        ends = ends * 2
    for which, item in zip(("left", "right"), ends, strict=False):
        walk.put(run.fields, f"{which}_end", walk.text(item.value, item), item)


def _outlet_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    """The outlets of a run: sides, offsets or a count."""
    items = cell_items(line, cell)
    for item in items:
        if item.kind == "direction" and item.value in ("left side", "right side"):
            item.kind, item.value = "side", item.value.split()[0]
    if re.match(r"\W*(?:no|none|nil)\b", cell.text, re.IGNORECASE):
        # `none - falls to R`: what stands behind is no outlet of this run
        run.no_outlet = line.source(cell.start, cell.end)
        return
    if any(item.kind == "falls to" or item.text.lower() in RUNS_ON for item in items):
        return
    assign_roles(items)
    placed: list[Any] = []
    for item in items:
        if item.marks.get("struck"):
            continue
        if "offset" in item.marks and item.marks["offset"].value in (*OPPOSITE, "centre"):
            target = item.marks["offset"]
            reading = walk.length(item, "distance")
            target.marks["done"] = True
            placed.append(
                walk.outlet_at(target.value, item, walk.text(target.value, target), reading, new=True)
            )
    for item in items:
        if item.kind not in ("side", "lr") or item.marks.get("done") or _struck(item, line):
            continue
        sides = ("left", "right") if item.value == "both" else (item.value,)
        placed.extend(
            walk.outlet_at(side, item, walk.text(side, item), None, new=True)
            for side in sides
            if side in (*OPPOSITE, "centre")
        )
    measures = [
        item
        for item in items
        if item.kind == "measure"
        and "offset" not in item.marks
        and item.found is not None
        and item.found.kind != "other"
    ]
    if len(measures) == 1 and placed and found_value(measures[0]) == len(placed) and _bare(measures[0]):
        walk.use(measures[0])  # `1 (R)`: how many, not how far
    elif (
        len(measures) == 1 and len(placed) == 1 and placed[0].distance is None and placed[0].side in OPPOSITE
    ):
        placed[0].distance = walk.length(measures[0], "distance")
    if not placed and any(item.kind in ("outlet", "downpipe", "count") and item.value != 0 for item in items):
        counts = [item.value for item in items if item.kind == "count"]
        placed.extend(
            walk.outlet_at(None, items[0], None, None, new=True) for _ in range(counts[0] if counts else 1)
        )
    if "?" in cell.text and placed and placed[-1].place is not None:
        placed[-1].place.status, placed[-1].place.why = "doubtful", "the measurer put a question mark"
    if placed:
        walk.outlets = placed
    elif re.search(r"\b(?:no|none|nil)\b", cell.text, re.IGNORECASE):
        run.no_outlet = line.source(cell.start, cell.end)
    for item in items:
        if item.kind in ("count", "outlet", "downpipe", "side", "lr"):
            walk.use(item)


def _bare(item: Item) -> bool:
    """Whether a number stands without a unit."""
    return item.found is not None and item.found.kind == "bare"


def _struck(item: Item, line: Line) -> bool:
    """Whether an item stands between two pairs of tildes: `~~left~~ right`."""
    return line.text[: item.start].count("~~") % 2 == 1


def _pipe_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft, name: str) -> None:
    """A number of the run's pipes: one for all, or one for each."""
    items = cell_items(line, cell)
    if not walk.outlets:
        walk.outlets = list(run.outlets)
    measures = [item for item in items if item.kind == "measure" and not item.marks.get("struck")]
    if not measures:
        if "?" in cell.text or any(item.kind == "unknown" for item in items):
            missing = _missing(line, cell, walk)
            walk.pipe_value(name, missing, Item(line.number, cell.start, cell.end, cell.text, "word"))
        return
    if "?" in cell.text:
        measures[-1].doubts.append("the measurer put a question mark")
    outlets = walk.outlets
    if len(measures) > 1 and len(measures) == len(outlets):
        for outlet, item in zip(outlets, measures, strict=True):
            reading = walk.length(item, name)
            if reading is not None:
                walk.outlets = [outlet]
                walk.pipe_value(name, reading, item)
        walk.outlets = outlets
        return
    reading = walk.length(measures[0], name)
    if reading is not None:
        for item in items:
            item.marks["all"] = True
        walk.pipe_value(name, reading, measures[0])


def _ends_at_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    """Where the run's pipes end."""
    items = [item for item in cell_items(line, cell) if item.kind == "ends at"]
    if not walk.outlets:
        walk.outlets = list(run.outlets)
    outlets = walk.outlets
    if len(items) > 1 and len(items) == len(outlets):
        for outlet, item in zip(outlets, items, strict=True):
            walk.outlets = [outlet]
            walk.pipe_value("ends_at", walk.text(item.value, item), item)
        walk.outlets = outlets
    elif items:
        walk.pipe_value("ends_at", walk.text(items[0].value, items[0]), items[0])


def _size_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    for item in _measures(line, cell):
        size = pipe_size(item)
        if size is not None:
            for outlet in walk.outlets or run.outlets:
                walk.put(outlet.pipe.fields, "size", walk.text(size, item), item)


def _pitch_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    for item in _measures(line, cell):
        text = pitch(item)
        if text is not None:
            walk.put(run.fields, "roof_pitch", walk.text(text, item), item)


def _gutter_size_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    for item in _measures(line, cell):
        width = gutter_width(item)
        if width is not None:
            walk.put(run.fields, "gutter_size", walk.text(width, item), item)


def _note_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    items = cell_items(line, cell)
    kind = next((item.value for item in items if item.kind == "remark"), "other")
    walk.remark(line, cell.start, cell.end, kind, run.place)


CELL_HANDLERS: dict[str, Any] = {
    "length": _length_cell,
    "left": lambda line, cell, walk, run: _end_cell(line, cell, walk, run, "left"),
    "right": lambda line, cell, walk, run: _end_cell(line, cell, walk, run, "right"),
    "ends": _ends_cell,
    "outlet": _outlet_cell,
    "at": _outlet_cell,
    "wall_to_fascia": lambda line, cell, walk, run: _pipe_cell(line, cell, walk, run, "wall_to_fascia"),
    "height": lambda line, cell, walk, run: _pipe_cell(line, cell, walk, run, "height"),
    "ends_at": _ends_at_cell,
    "size": _size_cell,
    "roof_run": lambda line, cell, walk, run: _length_cell(line, cell, walk, run, "roof_run"),
    "roof_pitch": _pitch_cell,
    "gutter_size": _gutter_size_cell,
    "note": _note_cell,
}
"""What is done with a cell of each kind of column. Of a storey column nothing is taken."""

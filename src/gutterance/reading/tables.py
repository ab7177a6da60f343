"""Tables: rows and columns drawn with bars, tabs, commas or blanks, each cell read as an answer to its heading."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from gutterance.reading.corrections import merge_corrections
from gutterance.reading.discourse import OPPOSITE, Walk
from gutterance.reading.ditto import copied
from gutterance.reading.focus import in_context
from gutterance.reading.items import Item, Line
from gutterance.reading.places import LR_SIDE, PlaceName, fold_places
from gutterance.reading.roles import assign_roles
from gutterance.reading.sizes import gutter_width, pipe_size, pitch
from gutterance.sheet.models import Reading

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft

HEADINGS = {
    "run": "run|runs|location|eave|eaves|elevation|on run|wall|side|where|place|area|no|no.|#|name|downpipe|dp|pipe|downspout|position|section|stretch|item",
    "length": "length|len|lgth|size|run length|long|measure|measured|gutter|total|feet|ft|lf|mm|length (mm)|length mm|m|metres|length (m)|length (ft)|gutter length|l (mm)|ft-in",
    "left": "left|left end|l|l end|l/end|lh|lh end|left hand|lend|l. end|end l|left corner",
    "right": "right|right end|r|r end|r/end|rh|rh end|right hand|rend|r. end|end r|right corner",
    "ends": "ends|corners|both ends|end|corner",
    "outlet": "outlet|outlets|drop|drops|o/l|outlet at|dp at|dps|downpipe at|outlet(s)|outlet position|dp position|downpipes|dp side",
    "at": "at|end of run|which end|from",
    "wall_to_fascia": "w/f|w-f|wf|wall to fascia|wall-fascia|wall/fascia|overhang|soffit|o/h|fascia|projection|w-fascia|soffit (mm)|w/f (in)|overhang (mm)|w to f|wall - fascia|soffit mm|w/f mm|w/f in",
    "height": "height|ht|h|hgt|dp height|pipe height|drop height|height (mm)|drop to ground|down|fall height|dp ht|pipe ht|height mm",
    "ends_at": "ends at|to|goes to|ending|discharge|dp to|ends|discharges|into|discharges to|runs to|ends in|terminates|where to|empties|outfall|finish",
    "size": "pipe size|dp size|size of pipe",
    "gutter_size": "gutter size|profile",
    "roof_run": "roof run|eave to ridge|roof depth|roof run (mm)|ridge",
    "roof_pitch": "pitch|roof pitch",
    "note": "note|notes|remarks|comment|comments|remark",
    "storey": "storey|story|level|floor",
}
BY_WORD = {word: key for key, words in HEADINGS.items() for word in words.split("|")}
RULE = re.compile(r"\A[\s|+:=-]*\Z")
EMPTY = frozenset({"", "-", "--", "–", "—", "n/a", "na", "nil", "none", "x", "no", "0", "nothing", "."})
DITTO = frozenset(
    {
        '"',
        "''",
        "”",
        "″",
        "do",
        "do.",
        "ditto",
        "same",
        "〃",
        '" "',
        "as above",
        ",,",
        '-"-',
        "same as above",
    }
)
FEWEST_COLUMNS = 3
HEADING_SHARE = 0.6


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell: its place in the line and its text."""

    start: int
    end: int
    text: str


@dataclass(slots=True)
class Table:
    """A table found in the note: its heading's columns and the rows below it."""

    keys: list[str | None]
    starts: list[int]
    rows: list[tuple[Line, list[Cell]]]
    head: Line
    across: bool = False
    names: list[Cell] | None = None


def find_tables(lines: list[Line]) -> dict[int, Table]:
    """The tables of a note, by the number of their heading's line."""
    tables: dict[int, Table] = {}
    number = 0
    while number < len(lines):
        table = _table_at(lines, number)
        if table is None:
            number += 1
            continue
        tables[table.head.number] = table
        last = max([table.head.number, *(line.number for line, _ in table.rows)])
        while number < len(lines) and lines[number].number <= last:
            number += 1
    return tables


def _splitter(text: str) -> str | None:
    if text.count("|") >= FEWEST_COLUMNS - 1:
        return "|"
    if text.count("\t") >= FEWEST_COLUMNS - 1:
        return "\t"
    if len(re.findall(r"\S {2,}(?=\S)", text)) >= FEWEST_COLUMNS - 1:
        return "  "
    if text.count(",") >= FEWEST_COLUMNS - 1:
        return ","
    return None


def _cells(text: str, splitter: str) -> list[Cell]:
    if splitter == "  ":
        return [Cell(m.start(), m.end(), m.group()) for m in re.finditer(r"\S+(?: \S+)*", text)]
    cells: list[Cell] = []
    start = 0
    for part in text.split(splitter):
        lead = len(part) - len(part.lstrip())
        cells.append(Cell(start + lead, start + lead + len(part.strip()), part.strip()))
        start += len(part) + len(splitter)
    if splitter == "|":
        if cells and not cells[0].text:
            cells = cells[1:]
        if cells and not cells[-1].text:
            cells = cells[:-1]
    return cells


def _key(text: str) -> str | None:
    words = re.sub(r"[*_`]", "", text.lower()).strip(" .:")
    return BY_WORD.get(words) or BY_WORD.get(re.sub(r"\s*\(.*\)", "", words))


def _table_at(lines: list[Line], number: int) -> Table | None:
    head = lines[number]
    splitter = _splitter(head.text)
    if splitter is None:
        return None
    cells = _cells(head.text, splitter)
    if len(cells) < FEWEST_COLUMNS:
        return None
    keys = [_key(cell.text) for cell in cells]
    known = sum(key is not None for key in keys)
    across = False
    if known < FEWEST_COLUMNS - 1 or known < HEADING_SHARE * len(cells):
        if not _names_across(head, cells):
            return None
        across = True
    rows: list[tuple[Line, list[Cell]]] = []
    for line in lines[number + 1 :]:
        if RULE.match(line.text) and line.text.strip():
            continue
        row_splitter = splitter if splitter in line.text else None
        if row_splitter is None or not line.text.strip():
            break
        row = _cells(line.text, row_splitter)
        if len(row) < 2 or (splitter == "  " and len(row) < 2):
            break
        if (
            sum(_key(cell.text) is not None for cell in row) >= max(2, HEADING_SHARE * len(row))
            and not across
        ):
            break
        rows.append((line, row))
    if not rows:
        return None
    if across and not any(_key(row[0].text) for _, row in rows):
        return None
    if keys.count("outlet") > 1 and "height" not in keys:
        # a column headed `drop` beside one headed `outlet` is how far the water drops
        keys = [
            "height" if key == "outlet" and cell.text.lower().startswith("drop") else key
            for key, cell in zip(keys, cells, strict=True)
        ]
    return Table(keys, [cell.start for cell in cells], rows, head, across, cells if across else None)


def _names_across(head: Line, cells: list[Cell]) -> bool:
    """Whether the heading's cells are runs, so that the table stands on its side."""
    named = 0
    for cell in cells[1:] if _key(cells[0].text) == "run" or not cells[0].text else cells:
        items = [item for item in head.items if item.start >= cell.start and item.end <= cell.end]
        named += bool(items) and all(
            item.kind in ("direction", "part", "storey", "run noun", "filler", "lr") for item in items
        )
    return named >= FEWEST_COLUMNS - 1


def hear_table(table: Table, walk: Walk) -> None:
    """Read a table's rows into the walk."""
    walk.used.setdefault(table.head.number, [])
    if table.across:
        _hear_across(table, walk)
        return
    previous: dict[str, tuple[Line, Cell]] = {}
    last_run: RunDraft | None = None
    for line, row in table.rows:
        placed = _columns(table, row)
        by_key: dict[str, tuple[Line, Cell]] = {key: (line, cell) for key, cell in placed if key is not None}
        run = _row_run(by_key, walk)
        if run is None:
            continue
        _hear_row(by_key, previous, walk, run, last_run)
        previous = by_key
        last_run = run
    walk.run, walk.outlets = None, []


def _columns(table: Table, row: list[Cell]) -> list[tuple[str | None, Cell]]:
    if len(row) == len(table.keys):
        return list(zip(table.keys, row, strict=True))
    if _splitter(table.head.text) != "  ":
        return list(zip(table.keys, row, strict=False))
    placed = []
    for cell in row:
        nearest = min(range(len(table.starts)), key=lambda n: abs(table.starts[n] - cell.start))
        placed.append((table.keys[nearest], cell))
    return placed


def _hear_across(table: Table, walk: Walk) -> None:
    assert table.names is not None
    names = table.names
    by_key: dict[str, tuple[Line, list[Cell]]] = {}
    for line, row in table.rows:
        key = _key(row[0].text) if row else None
        if key is not None:
            by_key[key] = (line, row)
    last_run: RunDraft | None = None
    for column in range(1, len(names)):
        cells = {key: (line, row[column]) for key, (line, row) in by_key.items() if column < len(row)}
        cells["run"] = (table.head, names[column])
        run = _row_run(cells, walk)
        if run is not None:
            _hear_row(cells, {}, walk, run, last_run)
            last_run = run
    walk.run, walk.outlets = None, []


def _items(line: Line, cell: Cell) -> list[Item]:
    inside = [item for item in line.items if item.start >= cell.start and item.end <= cell.end]
    return merge_corrections(inside)


def _row_run(cells: dict[str, tuple[Line, Cell]], walk: Walk) -> RunDraft | None:
    """The run a row is about, with a side of it in focus where the name says one (`Front left`)."""
    if "run" not in cells:
        return None
    line, cell = cells["run"]
    items = fold_places(_items(line, cell))
    place = next((item for item in items if item.kind == "place"), None)
    quarter = next((item for item in items if item.kind == "quarter"), None)
    side: Item | None = next(
        (item for item in items if item.kind in ("lr", "side") and item.value in OPPOSITE), None
    )
    if quarter is not None:
        direction, which = quarter.value.split()
        side = Item(line.number, quarter.start, quarter.end, quarter.text, "side", which)
        place = Item(
            line.number, quarter.start, quarter.end, quarter.text, "place", PlaceName(direction=direction)
        )
    name: PlaceName | None = None
    if place is not None:
        name = in_context(place.value, walk)
    elif side is not None and not any(key in cells for key in ("at",)):
        name = in_context(PlaceName(direction=LR_SIDE[side.value]), walk)
        side = None
    else:
        words = re.sub(r"\A(?:run|no\.?|#)\s*", "", cell.text.strip(" .:#"), flags=re.IGNORECASE)
        if re.fullmatch(r"\d{1,3}|[A-Za-z]", words):
            name = PlaceName(number=words.lower() if not words.isdigit() else words)
        elif (
            cell.text
            and cell.text.lower() not in EMPTY
            and not re.match(r"totals?\b", cell.text, re.IGNORECASE)
        ):
            name = PlaceName(part=re.sub(r"\s+", " ", cell.text.lower()), own=True)
    if name is None:
        return None
    run = walk.focus(name, items[0] if items else None)
    run.tabled = True
    walk.used.setdefault(line.number, []).append((cell.start, cell.end))
    if (
        side is not None
        and place is not None
        and ("height" in cells or "wall_to_fascia" in cells or "ends_at" in cells)
        and "length" not in cells
    ):
        walk.outlets = [walk.outlet_at(side.value, side, walk.text(side.value, side), None)]
    return run


def _hear_row(
    cells: dict[str, tuple[Line, Cell]],
    above: dict[str, tuple[Line, Cell]],
    walk: Walk,
    run: RunDraft,
    last: RunDraft | None,
) -> None:
    order = [
        "length",
        "left",
        "right",
        "ends",
        "outlet",
        "at",
        "wall_to_fascia",
        "height",
        "ends_at",
        "size",
        "roof_run",
        "roof_pitch",
        "gutter_size",
        "storey",
        "note",
    ]
    for key in order:
        if key not in cells:
            continue
        line, cell = cells[key]
        walk.used.setdefault(line.number, [])
        text = cell.text.lower().strip("*_ ")
        if text in DITTO and last is not None:
            _ditto(key, line, cell, walk, run, last)
            continue
        if text in EMPTY:
            if key in ("outlet", "at") and text:
                run.no_outlet = line.source(cell.start, cell.end)
            continue
        _HANDLERS[key](line, cell, walk, run)
    del above


def _ditto(key: str, line: Line, cell: Cell, walk: Walk, run: RunDraft, last: RunDraft) -> None:
    same = Item(line.number, cell.start, cell.end, cell.text, "same")
    words = f"the {last.place.name}, the row above"
    field = {"left": "left_end", "right": "right_end"}.get(key, key)
    if field in last.fields:
        run.fields[field] = copied(last.fields[field], "same as", words, same)
    elif key in ("wall_to_fascia", "height", "ends_at") and last.outlets:
        origin = last.outlets[-1].pipe.fields.get(key)
        if origin is not None and run.outlets:
            walk.pipe_value(key, copied(origin, "same as", words, same), same)
    elif key in ("outlet", "at"):
        for outlet in last.outlets:
            if outlet.place is not None:
                walk.outlets = [
                    walk.outlet_at(
                        outlet.place.value,
                        same,
                        copied(outlet.place, "same as", words, same),
                        outlet.distance,
                    )
                ]


def _measures(line: Line, cell: Cell) -> list[Item]:
    return [item for item in _items(line, cell) if item.kind == "measure" and not item.marks.get("struck")]


def _length_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft, name: str = "length") -> None:
    items = _items(line, cell)
    measures = [item for item in items if item.kind == "measure" and not item.marks.get("struck")]
    if any(item.kind == "unknown" or item.text == "?" for item in items) or "?" in cell.text:
        if measures:
            measures[0].doubts.append("the measurer put a question mark")
        else:
            why = line.source(cell.start, cell.end)
            run.fields[name] = Reading[Any](
                value=None, status="missing", source=[why], why=f"the table says: {why.text}"
            )
            walk.use_source(why)
            return
    for item in measures:
        reading = walk.length(item, name)
        if reading is not None:
            walk.put(run.fields, name, reading, item)


def _end_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft, which: str) -> None:
    items = _items(line, cell)
    assign_roles(items)
    ends = [
        item
        for item in items
        if item.kind in ("end", "end word") or (item.kind == "word" and item.text.lower() == "wall")
    ]
    doubtful = "?" in cell.text or any(item.kind == "unknown" for item in items)
    if not ends:
        if doubtful:
            why = line.source(cell.start, cell.end)
            walk.use_source(why)
            run.fields[f"{which}_end"] = Reading[Any](
                value=None, status="missing", source=[why], why=f"the table says: {why.text}"
            )
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
    items = _items(line, cell)
    ends = [item for item in items if item.kind in ("end", "end word")]
    if len(ends) == 1:
        ends = ends * 2
    for which, item in zip(("left", "right"), ends, strict=False):
        walk.put(run.fields, f"{which}_end", walk.text(item.value, item), item)


def _outlet_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    items = _items(line, cell)
    for item in items:
        if item.kind == "direction" and item.value in ("left side", "right side"):
            item.kind, item.value = "side", item.value.split()[0]
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
    for number, item in enumerate(items):
        if item.kind not in ("side", "lr") or item.marks.get("done"):
            continue
        if _struck(items, number, line):
            continue
        for place in ("left", "right") if item.value == "both" else (item.value,):
            if place in ("left", "right", "centre"):
                placed.append(walk.outlet_at(place, item, walk.text(place, item), None, new=True))
    measures = [
        item
        for item in items
        if item.kind == "measure"
        and "offset" not in item.marks
        and item.found is not None
        and item.found.kind != "other"
    ]
    if len(measures) == 1 and len(placed) == 1 and placed[0].distance is None and placed[0].side in OPPOSITE:
        placed[0].distance = walk.length(measures[0], "distance")
    if not placed and any(item.kind in ("outlet", "downpipe", "count") and item.value != 0 for item in items):
        counts = [item.value for item in items if item.kind == "count"]
        for _ in range(counts[0] if counts else 1):
            placed.append(walk.outlet_at(None, items[0], None, None, new=True))
    if "?" in cell.text and placed and placed[-1].place is not None:
        placed[-1].place.status, placed[-1].place.why = "doubtful", "the measurer put a question mark"
    if placed:
        walk.outlets = placed
    elif re.search(r"\b(?:no|none|nil)\b", cell.text, re.IGNORECASE):
        run.no_outlet = line.source(cell.start, cell.end)
    for item in items:
        if item.kind in ("count", "outlet", "downpipe", "side", "lr"):
            walk.use(item)


def _struck(items: list[Item], number: int, line: Line) -> bool:
    before = line.text[: items[number].start].count("~~")
    return before % 2 == 1


def _pipe_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft, name: str) -> None:
    items = _items(line, cell)
    if not walk.outlets:
        walk.outlets = list(run.outlets)
    measures = [item for item in items if item.kind == "measure" and not item.marks.get("struck")]
    if not measures:
        if "?" in cell.text or any(item.kind == "unknown" for item in items):
            why = line.source(cell.start, cell.end)
            walk.use_source(why)
            walk.pipe_value(
                name,
                Reading[Any](value=None, status="missing", source=[why], why=f"the table says: {why.text}"),
                Item(line.number, cell.start, cell.end, cell.text, "word"),
            )
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
    items = [item for item in _items(line, cell) if item.kind == "ends at"]
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
    items = _items(line, cell)
    kind = next((item.value for item in items if item.kind == "remark"), "other")
    walk.remark(line, cell.start, cell.end, kind, run.place)


def _storey_cell(line: Line, cell: Cell, walk: Walk, run: RunDraft) -> None:
    del line, cell, walk, run


_HANDLERS: dict[str, Any] = {
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
    "storey": _storey_cell,
}

__all__ = ["Table", "find_tables", "hear_table"]

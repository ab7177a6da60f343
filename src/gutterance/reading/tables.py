"""Tables read: each row is a run or a pipe, and each of its cells the answer to its column's heading."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE, Walk
from gutterance.reading.ditto import copied
from gutterance.reading.items import Item, Line
from gutterance.reading.neighbours import in_context
from gutterance.reading.places import LR_SIDE, PlaceName, fold_places
from gutterance.reading.table_cells import CELL_HANDLERS, cell_items
from gutterance.reading.table_finding import Cell, Table, column_of, splitter_of
from gutterance.reading.totals_said import totals_of_cell

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft

EMPTY = frozenset({"", "-", "--", "–", "—", "n/a", "na", "nil", "none", "x", "no", "0", "nothing", "."})
"""Words of a cell in which there is nothing."""
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
"""Words of a cell that repeat the row above."""


def hear_table(table: Table, walk: Walk) -> None:
    """Read a table's rows into the walk."""
    walk.used.setdefault(table.head.number, [])
    if table.across:
        _hear_across(table, walk)
        return
    last_run: RunDraft | None = None
    for line, row in table.rows:
        placed = _columns(table, row)
        by_key: dict[str, tuple[Line, Cell]] = {}
        for key, cell in placed:
            if key is not None:
                by_key.setdefault(key, (line, cell))
                if key in table.guessed:
                    walk.guessed.append((line.source(cell.start, cell.end), table.guessed[key], key))
        if _is_total_row(row):
            for key, cell in placed:
                totals_of_cell(cell_items(line, cell), key, _heading_of(key, table), walk)
            continue
        run = _row_run(by_key, walk)
        if run is None:
            continue
        _hear_row(by_key, walk, run, last_run)
        last_run = run
    walk.run, walk.outlets = None, []


def _heading_of(key: str | None, table: Table) -> str:
    """The words that head the column of that kind."""
    if key is None or key not in table.keys:
        return ""
    column = table.keys.index(key)
    end = table.starts[column + 1] if column + 1 < len(table.starts) else len(table.head.text)
    return table.head.text[table.starts[column] : end]


def _is_total_row(row: list[Cell]) -> bool:
    """Whether a row adds up those above it."""
    first = next((cell.text for cell in row if cell.text), "")
    return re.match(r"\W*(?:sub\W?)?(?:totals?|sum|in all|overall)\b", first, re.IGNORECASE) is not None


def _columns(table: Table, row: list[Cell]) -> list[tuple[str | None, Cell]]:
    """Each cell of a row with the kind of its column."""
    if len(row) == len(table.keys):
        return list(zip(table.keys, row, strict=True))
    if splitter_of(table.head.text) != "  ":
        return list(zip(table.keys, row, strict=False))
    placed = []
    for cell in row:
        nearest = min(range(len(table.starts)), key=lambda n: abs(table.starts[n] - cell.start))
        placed.append((table.keys[nearest], cell))
    return placed


def _hear_across(table: Table, walk: Walk) -> None:
    """Read a table that stands on its side: a run a column."""
    assert table.names is not None
    names = table.names
    by_key: dict[str, tuple[Line, list[Cell]]] = {}
    for line, row in table.rows:
        key = column_of(row[0].text) if row else None
        if key is not None:
            by_key[key] = (line, row)
    last_run: RunDraft | None = None
    for column in range(1, len(names)):
        cells = {key: (line, row[column]) for key, (line, row) in by_key.items() if column < len(row)}
        cells["run"] = (table.head, names[column])
        run = _row_run(cells, walk)
        if run is not None:
            _hear_row(cells, walk, run, last_run)
            last_run = run
    walk.run, walk.outlets = None, []


def _row_run(cells: dict[str, tuple[Line, Cell]], walk: Walk) -> RunDraft | None:
    """The run a row is about, with a side of it in focus where the name says one (`Front left`)."""
    if "run" not in cells:
        return None
    line, cell = cells["run"]
    items = fold_places(cell_items(line, cell), line.text)
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
        elif cell.text and cell.text.lower() not in EMPTY:
            name = PlaceName(part=re.sub(r"\s+", " ", cell.text.lower()), own=True)
    if name is None:
        return None
    run = walk.focus(name, items[0] if items else None)
    run.tabled = True
    run.source.append(line.source(cell.start, cell.end))
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
    walk: Walk,
    run: RunDraft,
    last: RunDraft | None,
) -> None:
    """Read the cells of one run."""
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
                run.source.append(run.no_outlet)
            continue
        CELL_HANDLERS[key](line, cell, walk, run)


def _ditto(key: str, line: Line, cell: Cell, walk: Walk, run: RunDraft, last: RunDraft) -> None:
    """Copy a cell's value from the row above."""
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

"""Tables found in a note: rows and columns drawn with bars, tabs, commas or blanks, and their headings."""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.items import Line

HEADINGS = {
    "run": (
        "run|runs|location|eave|eaves|elevation|elev|elev.|on run|wall|side|where|place|area|no|no.|#|name|"
        "downpipe|dp|pipe|downspout|position|pos|section|stretch|item"
    ),
    "length": (
        "length|len|lgth|size|run length|long|measure|measured|gutter|total|feet|ft|lf|mm|"
        "length (mm)|length mm|m|metres|length (m)|length (ft)|gutter length|l (mm)|ft-in"
    ),
    "left": "left|left end|l|l end|l/end|lh|lh end|left hand|lend|l. end|end l|left corner",
    "right": "right|right end|r|r end|r/end|rh|rh end|right hand|rend|r. end|end r|right corner",
    "ends": "ends|corners|both ends|end|corner",
    "outlet": (
        "outlet|outlets|drop|drops|o/l|outlet at|dp at|dps|downpipe at|outlet(s)|outlet position|"
        "dp position|downpipes|dp side"
    ),
    "at": "at|end of run|which end|from",
    "wall_to_fascia": (
        "w/f|w-f|wf|wtf|w.t.f|ovhg|ovhg.|wall to fascia|"
        "wall-fascia|wall/fascia|overhang|soffit|o/h|fascia|projection|"
        "w-fascia|soffit (mm)|w/f (in)|overhang (mm)|w to f|wall - fascia|soffit mm|w/f mm|w/f in"
    ),
    "height": (
        "height|ht|h|hgt|dp height|pipe height|drop height|height (mm)|drop to ground|down|"
        "fall height|dp ht|pipe ht|height mm"
    ),
    "ends_at": (
        "ends at|to|goes to|ending|discharge|dp to|ends|discharges|into|discharges to|runs to|"
        "ends in|terminates|where to|empties|outfall|finish"
    ),
    "size": "pipe size|dp size|size of pipe",
    "gutter_size": "gutter size|profile",
    "roof_run": "roof run|eave to ridge|roof depth|roof run (mm)|ridge",
    "roof_pitch": "pitch|roof pitch",
    "note": "note|notes|remarks|comment|comments|remark",
    "storey": "storey|story|level|floor",
}
"""What a column is, by the words that head it."""
BY_WORD = {word: key for key, words in HEADINGS.items() for word in words.split("|")}
"""What a column is, for each of the words that may head it."""
HEADING_PATTERNS: tuple[tuple[str, str | None], ...] = (
    (r"roof|qty|quantity|hanger|colou?r|material", None),
    (r"\bw\W?(?:t|to|-)?\W?f\b|wall|over\W?h|ovhg|soffit|\bo\W?h\b|throw|projection|stand", "wall_to_fascia"),
    (r"\bh(?:eigh)?t\b|\bhgt\b|height|\bhigh\b|to (?:grade|ground)", "height"),
    (r"disch|shoe|outfall|terminates|empties|\bgoes\b|drains? to|kick", "ends_at"),
    (r"size", None),
    (r"\bd\W?[sp]\b|down\W?(?:pipe|spout)|outlet|\bdrops?\b|leader|\bo/l\b", "outlet"),
    (r"\b(?:left|lh|l)\b.*\b(?:right|rh|r)\b", "ends"),
    (r"\b(?:left|lh|l)\b", "left"),
    (r"\b(?:right|rh|r)\b", "right"),
    (r"\bcorners?\b|\bends?\b|\bterms?\b|mit(?:er|re)", "ends"),
    (r"\blin|length|\blen\b|\blf\b|\blgth\b|measure", "length"),
    (r"\brun\b|elev|\beave|\bside\b|location|\bface\b", "run"),
    (r"remark|note|comment", "note"),
)
"""What a heading of several words most likely is; the first pattern that is found decides."""
NOTHING = frozenset({"", "-", "–", "—", "none", "n/a", "na", "nil", "no", "x"})
"""Cells that say nothing."""
WHAT_CELLS_SAY = {
    "length": frozenset({"measure"}),
    "height": frozenset({"measure"}),
    "wall_to_fascia": frozenset({"measure"}),
    "left": frozenset({"end", "end word"}),
    "right": frozenset({"end", "end word"}),
    "ends": frozenset({"end", "end word", "end pair"}),
    "outlet": frozenset({"lr", "side", "quarter", "compass corner"}),
    "ends_at": frozenset({"ends at"}),
}
"""The kinds of items that the cells of a column hold."""
GUESSES_ASKED = frozenset({"length", "height", "wall_to_fascia", "outlet"})
"""Columns whose cells do not show by themselves what they are: a heading only guessed at is asked about."""
LONGEST_HEADING = 4
"""A heading has no more words than this."""
RULE = re.compile(r"\A[\s|+:=-]*\Z")
"""A line drawn between rows."""
FEWEST_COLUMNS = 3
"""Fewer columns than this are no table."""
HEADING_SHARE = 0.6
"""The share of the heading's cells that must be known words for a heading."""


PIPE_HEADINGS = frozenset({"downpipe", "dp", "pipe", "downspout"})
"""Headings that name the pipe a row is about, where nothing else does."""
PLACE_HEADINGS = frozenset({"pos", "position", "where", "location", "place"})
"""Headings that tell, beside a column of runs, where on its run an outlet is."""
PIPE_NUMBERS = frozenset({"ds", "dp", "dp no", "ds no", "no", "pipe no", "downpipe no"})
"""Headings of a column that numbers the pipes, in a list of them."""
NUMBER_HEADINGS = frozenset({"no", "", "item"})
"""Headings of a column that only numbers the rows."""
FEWEST_NAMED = 2
"""So many columns that could name the runs are too many."""


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
    guessed: dict[str, str] = field(default_factory=dict)


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


def splitter_of(text: str) -> str | None:
    """What parts the columns of a line: a bar, a tab, wide blanks or a comma; None where nothing does."""
    if text.count("|") >= FEWEST_COLUMNS - 1:
        return "|"
    if text.count("\t") >= FEWEST_COLUMNS - 1:
        return "\t"
    if "  " in text and len(re.findall(r"\S {2,}(?=\S)", text)) >= FEWEST_COLUMNS - 1:
        return "  "
    if text.count(",") >= FEWEST_COLUMNS - 1:
        return ","
    return None


def _cells(text: str, splitter: str) -> list[Cell]:
    """The cells of a line, each with its place."""
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


def column_of(text: str) -> str | None:
    """What kind of column a heading names, or None."""
    words = re.sub(r"[*_`]", "", text.lower()).strip(" .:")
    return BY_WORD.get(words) or BY_WORD.get(re.sub(r"\s*\(.*\)", "", words))


def _column_like(text: str) -> str | None:
    """What kind of column a heading of several words most likely names (`LH term.`, `D/S pos.`), or None."""
    words = re.sub(r"\(.*?\)", " ", text.lower())
    if not words.strip() or re.search(r"\d", words) or len(words.split()) > LONGEST_HEADING:
        return None
    return next((key for pattern, key in HEADING_PATTERNS if re.search(pattern, words)), None)


def _lists_pipes(line: Line) -> bool:
    """`DP  F-L   B-R`: where the pipes are, for the rows below it; no headings of columns."""
    said = [item for item in line.items if item.kind not in ("mark", "colon", "break")]
    return (
        bool(said)
        and said[0].kind in ("downpipe", "outlet")
        and all(item.kind == "quarter" for item in said[1:])
    )


def _table_at(lines: list[Line], number: int) -> Table | None:
    """The table whose heading is that line, or None."""
    head = lines[number]
    splitter = splitter_of(head.text)
    if splitter is None:
        return None
    cells = _cells(head.text, splitter)
    if len(cells) < FEWEST_COLUMNS or _lists_pipes(head):
        return None
    keys = [column_of(cell.text) for cell in cells]
    likely = [key or _column_like(cell.text) for key, cell in zip(keys, cells, strict=True)]
    if splitter == "," or not any(keys):
        likely = list(keys)
    known = sum(key is not None for key in likely)
    across = False
    if known < FEWEST_COLUMNS - 1 or known < HEADING_SHARE * len(cells):
        if not _names_across(head, cells):
            return None
        across = True
        likely = list(keys)
    rows: list[tuple[Line, list[Cell]]] = []
    for line in lines[number + 1 :]:
        if RULE.match(line.text) and line.text.strip():
            continue
        row_splitter = splitter if splitter in line.text else None
        if row_splitter is None or not line.text.strip():
            break
        row = _cells(line.text, row_splitter)
        if len(row) < 2:
            break
        if (
            sum(column_of(cell.text) is not None for cell in row) >= max(2, HEADING_SHARE * len(row))
            and not across
        ):
            break
        rows.append((line, row))
    if not rows:
        return None
    if across and not any(column_of(row[0].text) for _, row in rows):
        return None
    if keys.count("outlet") > 1 and "height" not in keys:
        # a column headed `drop` beside one headed `outlet` is how far the water drops
        keys = [
            "height" if key == "outlet" and cell.text.lower().startswith("drop") else key
            for key, cell in zip(keys, cells, strict=True)
        ]
    known_keys = list(keys)
    keys = [
        key or (guess if guess is not None and _cells_fit(guess, column, rows) else None)
        for column, (key, guess) in enumerate(zip(keys, likely, strict=True))
    ]
    keys = _one_column_of_runs(keys, cells, rows)
    guessed = {
        key: cell.text
        for key, known_key, cell in zip(keys, known_keys, cells, strict=True)
        if key in GUESSES_ASKED and known_key is None
    }
    names = cells if across else None
    return Table(keys, [cell.start for cell in cells], rows, head, across, names, guessed)


def _one_column_of_runs(
    keys: list[str | None], cells: list[Cell], rows: list[tuple[Line, list[Cell]]]
) -> list[str | None]:
    """The columns' keys with one that names the runs.

    A list of pipes may be headed `DP`, and then the pipe is what the row is about; beside a column of runs it
    tells their outlets. A column of numbers or letters gives way to one whose cells name places.
    """
    words = [cell.text.lower().strip(" .:#") for cell in cells]
    named = [place for place, key in enumerate(keys) if key == "run"]
    if "outlet" in keys and words[keys.index("outlet")] in PIPE_NUMBERS and named:
        keys = [None if key == "outlet" else key for key in keys]
    if len(named) < FEWEST_NAMED:
        return keys
    plain = [place for place in named if words[place] not in PIPE_HEADINGS]
    plain = [place for place in plain if words[place] not in NUMBER_HEADINGS] or plain or named
    kept = max(plain, key=lambda place: (_places_named(place, rows), -place))
    out = list(keys)
    for place in named:
        if place != kept:
            of_outlets = words[place] in PIPE_HEADINGS and place > kept and "outlet" not in out
            at = words[place] in PLACE_HEADINGS and "length" not in keys
            out[place] = "outlet" if of_outlets else "at" if at else None
    return out


def _places_named(column: int, rows: list[tuple[Line, list[Cell]]]) -> int:
    """In how many rows the cell of a column names a place on the house."""
    return sum(
        any(
            item.kind in ("direction", "part", "storey", "quarter")
            and row[column].start <= item.start < row[column].end
            for item in line.items
        )
        for line, row in rows
        if column < len(row)
    )


def _cells_fit(key: str, column: int, rows: list[tuple[Line, list[Cell]]]) -> bool:
    """Whether the cells below a heading that was only guessed at say the kind of thing that it promises."""
    filled = [(line, row[column]) for line, row in rows if column < len(row) and row[column].text]
    filled = [(line, cell) for line, cell in filled if cell.text.lower().strip(" .") not in NOTHING]
    if not filled:
        return True
    wanted = WHAT_CELLS_SAY.get(key)
    if wanted is None:
        return key == "note" or not any(char.isdigit() for _, cell in filled for char in cell.text)
    fitting = sum(
        any(item.kind in wanted and cell.start <= item.start < cell.end for item in line.items)
        for line, cell in filled
    )
    return fitting >= HEADING_SHARE * len(filled)


def _names_across(head: Line, cells: list[Cell]) -> bool:
    """Whether the heading's cells are runs, so that the table stands on its side."""
    named = 0
    starts = [item.start for item in head.items]
    for cell in cells[1:] if column_of(cells[0].text) == "run" or not cells[0].text else cells:
        within = head.items[bisect_left(starts, cell.start) : bisect_left(starts, cell.end)]
        items = [item for item in within if item.end <= cell.end]
        named += bool(items) and all(
            item.kind in ("direction", "part", "storey", "run noun", "filler", "lr") for item in items
        )
    return named >= FEWEST_COLUMNS - 1

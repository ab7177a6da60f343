"""A note read both ways, as words and as shorthand rows: which of the two understood it.

Neither reader is asked what it thinks of itself: what counts is how much of the note is on its sheet. Where
both are certain and differ, the value is asked about.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.shorthand.finding import Found, find_rows
from gutterance.sheet.models import Alternative, Sheet
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from gutterance.notes import Note

FEWEST_ROWS = 2
MOST_LINES = 80
"""A longer note is no scrap of shorthand."""
LONGEST_LINE = 90
WORD = re.compile(r"[A-Za-z]+")
A_WHOLE_WORD = 4
"""A word of so many letters is hardly ever cut short."""
MOST_WHOLE_WORDS = 0.4
"""A note with a larger share of whole words is none of shorthand: scraps have a third at most."""
SHARE = 0.7
"""The rows are taken where they leave less than this share of the troubles."""
LOST = 1.5
"""How heavily it weighs that a certain value of the words is none of the rows'."""
SECOND_READING = "read as shorthand rows it says otherwise"


def read_both_ways(given: Note | Sequence[str], read: Callable[[Found | None], Sheet]) -> Sheet:
    """The sheet of a note, by its shorthand rows where they explain more of it than its words do."""
    sheet = read(None)
    texts = sheet.note
    if not _may_be_shorthand(given, texts):
        return sheet
    found = find_rows(texts, metric=False)
    if len(found.rows.rows) < FEWEST_ROWS:
        return sheet
    other = read(found)
    words = sum(token.kind == "word" for run in found.rows.runs for token in run.loose)
    left, gone = troubles(other) + words / 2, lost(sheet, other) + _outlets_lost(sheet, other)
    more = lost(other, sheet, certain=False) if not gone else 0
    fewer = troubles(sheet) >= 2 and left + LOST * gone <= SHARE * troubles(sheet)
    if not fewer and not (more and left <= troubles(sheet) + more / 2):
        return sheet
    _compare(other, sheet, found.rows.lines)
    return other


def _may_be_shorthand(given: Note | Sequence[str], texts: Sequence[str]) -> bool:
    """Whether a note is written in short lines of words cut short."""
    from gutterance.notes import Note

    if isinstance(given, Note) and any(line.words for line in given.lines):
        return False
    words = WORD.findall("\n".join(texts[: MOST_LINES + 1]))
    if sum(len(word) >= A_WHOLE_WORD for word in words) > MOST_WHOLE_WORDS * len(words):
        return False
    filled = [text for text in texts if text.strip()]
    short = sum(len(text) <= LONGEST_LINE for text in filled)
    return FEWEST_ROWS < len(filled) <= MOST_LINES and short * 4 >= len(filled) * 3


def troubles(sheet: Sheet) -> float:
    """How much of a note its sheet leaves open: unread numbers, doubts, runs with no length or no ends."""
    doubts = sum(reading.status in ("doubtful", "missing") for _, reading in sheet.readings())
    bare = sum(run.length is None for run in sheet.runs)
    ends = sum((run.left_end is None) + (run.right_end is None) for run in sheet.runs)
    return 2 * len(sheet.unread) + doubts + 4 * bare + ends + (8 if not sheet.runs else 0)


def lost(before: Sheet, after: Sheet, *, certain: bool = True) -> int:
    """How many values of a sheet the other has not, or has otherwise: the certain ones, or all."""
    has = dict(after.readings())
    return sum(
        path not in has or (certain and has[path].value != reading.value)
        for path, reading in before.readings()
        if (reading.status in CERTAIN or not certain) and path.startswith(("runs.", "outlets.", "downpipes."))
    )


def _outlets_lost(before: Sheet, after: Sheet) -> int:
    """How many outlets, certain of their places, only the first has of the runs that both tell of."""
    count = 0
    for run in before.runs:
        sure = [
            outlet
            for outlet in before.outlets_of(run.id)
            if outlet.place is not None and outlet.place.status in CERTAIN and outlet.place.value is not None
        ]
        if after.run(run.id) is not None:
            count += max(0, len(sure) - len(after.outlets_of(run.id)))
    return count


def _compare(chosen: Sheet, other: Sheet, rows: set[int]) -> None:
    """Ask about a value of which the other reading is as certain that it is different.

    What no row tells stays in doubt where it was: the words of the note are the same.
    """
    by_path = dict(other.readings())
    for path, reading in chosen.readings():
        second = by_path.get(path)
        told = any(source.line in rows for source in reading.source)
        of_parts = path.startswith(("runs.", "outlets.", "downpipes."))
        if (
            second is not None
            and of_parts
            and not told
            and second.status == "doubtful"
            and reading.status in CERTAIN
        ):
            reading.status, reading.why = "doubtful", second.why
        if second is None or second.status not in CERTAIN:
            continue
        if reading.status not in CERTAIN or second.value is None or reading.value is None:
            continue
        if second.value != reading.value and path.startswith(("runs.", "downpipes.")):
            reading.status = "doubtful"
            reading.why = f"{SECOND_READING}; {reading.why}" if reading.why else SECOND_READING
            reading.could_be = [
                Alternative(value=second.value, why="the row read as words"),
                *reading.could_be,
            ]

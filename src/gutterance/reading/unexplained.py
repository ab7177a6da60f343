"""Words of a note that nothing explains: an unknown trade word makes what stands beside it unsure.

A word is explained if it is in the lexicon, is part of a remark or a title, or is everyday talk
(`everyday.toml`). `gorl on the left, cap on the right` names something at the left end, whatever a gorl is;
an outlet told right beside it may be told of it. How near is near differs by field, and was weighed on the
corpus with words of the trade made unknown: `benchmarks/damaged_notes.py` measures it again.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

from gutterance.reading.builder import by_ditto

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.sheet.models import Sheet

BEFORE = frozenset({"length", "place", "distance", "wall_to_fascia", "colour"})
"""Fields whose words an unexplained word right before them puts in doubt."""
BEHIND = frozenset({"place", "ends_at", "wall_to_fascia"})
"""Fields whose words an unexplained word right behind them puts in doubt."""
MOST_FILLERS = 3
"""So many little words may stand between."""
SHORTEST = 3
"""A shorter word than this is a letter of something, a unit or a slip, and says little."""


@cache
def everyday_words() -> frozenset[str]:
    """The words that explain themselves."""
    text = resources.files("gutterance.reading").joinpath("everyday.toml").read_text(encoding="utf-8")
    words = tomllib.loads(text).get("words")
    if not isinstance(words, list) or not all(
        isinstance(word, str) and word == word.lower() for word in words
    ):
        raise ValueError("everyday.toml: `words` must be a list of words in small letters")
    return frozenset(words)


def is_unexplained(item: Item) -> bool:
    """Whether an item is a word that neither the lexicon nor everyday talk explains."""
    return (
        item.kind == "word"
        and len(item.text) >= SHORTEST
        and item.text.isalpha()
        and not item.marks.get("remark")
        and item.text.lower() not in everyday_words()
    )


def beside_unexplained(lines: list[Line], walk: Walk, sheet: Sheet) -> dict[str, str]:
    """The paths of values that stand right beside an unexplained word, with that word.

    A word that names a run of this note is explained by that, one within a value by the value. What came by
    ditto was said elsewhere, and a form has its own words between its answers.
    """
    strange = {line.number: line for line in lines if any(is_unexplained(item) for item in line.items)}
    found: dict[str, str] = {}
    if not strange:
        return found
    names = {word for run in sheet.runs for word in run.name.split()}
    forms = {draft.place.id for draft in walk.runs if draft.tabled}
    run_of = {outlet.id: outlet.run for outlet in sheet.outlets}
    remarks = {(remark.source.line, remark.source.start, remark.source.end) for remark in sheet.remarks}
    for path, reading in sheet.readings():
        field = path.rsplit(".", 1)[-1]
        if not reading.source or (field not in BEFORE and field not in BEHIND) or by_ditto(reading):
            continue
        part = path.split(".")[1]
        if run_of.get(part, part) in forms:
            continue
        line = strange.get(reading.source[0].line)
        if line is None:
            continue
        own = [source for source in reading.source if source.line == line.number]
        at = [
            number
            for number, item in enumerate(line.items)
            if any(source.start <= item.start < source.end for source in own)
        ]
        if not at:
            continue
        beside = [
            _neighbour(line.items, place, step)
            for place, step, fields in ((at[0], -1, BEFORE), (at[-1], 1, BEHIND))
            if field in fields
        ]
        for item in beside:
            if item is None or not is_unexplained(item) or _within(item, remarks):
                continue
            word = item.text.lower()
            fixing = reading.status == "corrected" and item.start < reading.source[0].start
            if word not in names and word not in str(reading.value).split() and not fixing:
                found[path] = item.text
    return found


def _neighbour(items: list[Item], place: int, step: int) -> Item | None:
    """The next item before or behind, over little words."""
    for _ in range(MOST_FILLERS + 1):
        place += step
        if not 0 <= place < len(items):
            return None
        if items[place].kind != "filler":
            return items[place]
    return None


def _within(item: Item, remarks: set[tuple[int, int, int]]) -> bool:
    return any(line == item.line and start <= item.start < end for line, start, end in remarks)

"""Runs told in a numbered list and called by their number later: `3. Rear 36-1`, then `3: 18" / 9-8`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import PLACE_KINDS, PlaceName, fold_places

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.items import Line

ROW = re.compile(r"\A\s*(?:[-*•]\s*)?[#(]?(?P<number>\d{1,2})\s?[.):](?=\s)\s*")
"""The number of a list's row."""
CALLED = re.compile(
    r"\A\s*(?:[-*•]\s*)?(?:(?:on|at|no\.?|number|run)\s+)?#?(?P<number>\d{1,2})"
    r"(?P<end>\s?[.:)=](?!\d)\s*|\s?[-–—]\s+|\s+(?=(?:left|right|lh|rh|L|R)\b))",
    re.IGNORECASE,
)
"""A line that opens with the number of a run told before."""
FEWEST = 2
"""So many rows of the list name their runs at least."""


def rows_with_names(texts: Sequence[str], place_words: frozenset[str]) -> bool:
    """Whether the rows of a numbered list have names of their own: their numbers are not the names."""
    numbered = [match for text in texts if (match := ROW.match(text))]
    named = {match["number"] for match in numbered if _opens_with(match, place_words)}
    return len(named) >= FEWEST and len(named) * 2 > len({match["number"] for match in numbered})


def _opens_with(row: re.Match[str], place_words: frozenset[str]) -> bool:
    """Whether the first word behind a row's number is one for a place."""
    word = re.match(r"(?:(?:the|house|main)\s+)*(\w+)", row.string[row.end() :].lower())
    return word is not None and word[1] in place_words


def call_by_row(lines: list[Line]) -> None:
    """Where a line opens with the number of a row that told a run, give the line that run's name."""
    names: dict[str, PlaceName] = {}
    for line in lines:
        row, called = ROW.match(line.text), CALLED.match(line.text)
        if row is not None:
            name = _name_of_row(line, row.end())
            if name is not None and row["number"] not in names and _has_length(line, row.end()):
                names[row["number"]] = name
                continue
        if called is not None and len(names) >= FEWEST and called["number"] in names:
            _put_name(line, called, names[called["number"]])


def _name_of_row(line: Line, start: int) -> PlaceName | None:
    """The place that the words of a row open with."""
    items = [item for item in line.items if item.start >= start]
    while items and items[0].kind == "filler":
        items = items[1:]  # `the rear`, `house front`
    if not items or items[0].kind not in (*PLACE_KINDS, "lr", "initial"):
        return None
    if items[0].kind in ("lr", "initial"):
        return None
    folded = fold_places([_copy(item) for item in items], line.text)
    name = folded[0].value if folded and folded[0].kind == "place" else None
    return name if isinstance(name, PlaceName) else None


def _copy(item: Item) -> Item:
    return Item(
        item.line,
        item.start,
        item.end,
        item.text,
        item.kind,
        item.value,
        item.found,
        item.term,
        item.strength,
    )


def _has_length(line: Line, start: int) -> bool:
    """Whether a number stands in a row that may be the length of its run."""
    return any(
        item.kind == "measure" and item.found is not None and item.found.kind != "other"
        for item in line.items
        if item.start >= start
    )


def _put_name(line: Line, called: re.Match[str], name: PlaceName) -> None:
    """Put the run's name where its number stands, unless the line names a run itself."""
    behind = [item for item in line.items if item.start >= called.end()]
    if behind and behind[0].kind in PLACE_KINDS:
        return
    start, end = called.start("number"), called.end("number")
    place = Item(line.number, start, end, line.text[start:end], "place", name)
    place.marks.update(words=[line.text[start:end]], settled=True, numbered=True)
    line.items = [place, *behind]

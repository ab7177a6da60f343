"""A note with shorthand rows heard: its rows by themselves, the rest of its lines as any other words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.pipeline import pipeline
from gutterance.reading.shorthand.asides import hear_aside
from gutterance.reading.shorthand.putting import put_rows
from gutterance.reading.shorthand.spec import put_spec
from gutterance.reading.shorthand.tokens import tokens_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line
    from gutterance.reading.number_style import NumberStyle
    from gutterance.reading.shorthand.finding import Found

WALK_TOLD = re.compile(r"\b(?:go|walk\w*|going)\b.*\b(?:house|hse|hand|left|right|clock\w*)\b", re.IGNORECASE)


def take_rows(note: list[Line], found: Found) -> list[Line]:
    """The lines that are still to be heard as words. Rows keep no items but what the ledger needs."""
    rows = found.rows
    rest: list[Line] = []
    for line in note:
        if line.number in rows.partly:
            start = rows.partly[line.number]
            line.items = [item for item in line.items if item.end <= start]
            rest.append(line)
        elif line.number not in rows.lines | rows.keys:
            rest.append(line)
        else:
            line.items = []
    return rest


def put_found(note: list[Line], rest: list[Line], found: Found, walk: Walk, style: NumberStyle) -> list[Line]:
    """Put the rows into the walk, then the job's stuff and the asides. The lines left over are returned."""
    texts = [line.text for line in note]
    walk.metric = walk.metric or found.context.metric
    put_rows(found.rows, walk, texts)
    for number in found.rows.keys:
        walk.shown.append(note[number - 1].source())
    terms = pipeline().by_phrase
    left: list[Line] = []
    title = walk.title_source
    for line in rest:
        start = title.end if title is not None and title.line == line.number else 0
        end = found.rows.partly.get(line.number, len(line.text))
        if _is_spec(line, start, end, walk, terms):
            continue
        tokens = tokens_of(line.text, line.number, found.context.meanings, style)
        if start == 0 and hear_aside(line, tokens, walk, found, terms):
            line.items = []
            continue
        if WALK_TOLD.search(line.text) and not any(run.line == line.number for run in found.rows.runs):
            walk.shown.append(line.source())
            continue
        left.append(line)
    return left


def _is_spec(line: Line, start: int, end: int, walk: Walk, terms: dict) -> bool:  # type: ignore[type-arg]
    return put_spec(line, start, end, walk, terms)


def items_of_rows(note: Sequence[Line], found: Found, style: NumberStyle) -> None:
    """Give the rows the items of their numbers, by which the ledger tells what found no place."""
    for line in note:
        if line.number in found.rows.lines:
            tokens = tokens_of(line.text, line.number, found.context.meanings, style)
            line.items = [*line.items, *(
                token.item() for token in tokens
                if token.kind in ("number", "size") and all(item.end <= token.start for item in line.items)
            )]  # fmt: skip

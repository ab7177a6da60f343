"""A note with shorthand rows heard: its rows by themselves, the rest of its lines as any other words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.pipeline import pipeline
from gutterance.reading.shorthand.asides import hear_aside
from gutterance.reading.shorthand.putting import put_line
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
        elif line.number in rows.beside:
            start = rows.beside[line.number]
            line.items = [item for item in line.items if item.end <= start]
            rest.append(line)
        elif line.number not in rows.lines | rows.keys:
            rest.append(line)
        else:
            line.items = []
    return rest


def hear_row(line: Line, found: Found, walk: Walk, style: NumberStyle) -> bool:
    """Hear a line of a shorthand note; False where it is left to be heard as words."""
    rows = found.rows
    terms = pipeline().by_phrase
    number = line.number
    if number in rows.keys:
        walk.shown.append(line.source(*(() if number not in rows.beside else (rows.beside[number],))))
    put_line(number, rows, walk, line)
    if number in rows.lines and number not in rows.partly:
        _behind_totals(line, found, walk)
        _words_left_over(line, found, walk)
        return True
    if number in rows.keys and number not in rows.beside:
        return True
    title = walk.title_source
    start = title.end if title is not None and title.line == number else 0
    end = rows.partly.get(number, rows.beside.get(number, len(line.text)))
    if put_spec(line, start, end, walk, terms):
        return True
    tokens = tokens_of(line.text, number, found.context.meanings, style)
    if start == 0 and number not in rows.beside and hear_aside(line, tokens, walk, found):
        line.items = []
        return True
    if WALK_TOLD.search(line.text) and found.context.starts_left is not None:
        walk.shown.append(line.source())
        return True
    return False


def _words_left_over(line: Line, found: Found, walk: Walk) -> None:
    """The words of a row that are none of shorthand: a remark on its run."""
    for run in found.rows.runs:
        words = [token for token in run.loose if token.line == line.number and token.kind == "word"]
        if not any(len(token.text) > 2 for token in words):
            continue
        start, end = words[0].start, words[-1].end
        between = [token for token in run.tokens if token.line == line.number and token.start > start]
        text = line.text[start:end]
        if not between and not any(char.isdigit() for char in text):
            walk.remark(line, start, end, "other", run.name)


def _behind_totals(line: Line, found: Found, walk: Walk) -> None:
    """`Σ 8 runs, 5 dp, bring 1 spare O`: the words behind the totals are a remark."""
    ends = [total.end for total in found.rows.totals if total.line == line.number]
    if not ends:
        return
    rest = re.sub(r"\A[\s,;.]+", "", line.text[max(ends) :])
    if len(rest.split()) > 1:
        walk.remark(line, len(line.text) - len(rest), len(line.text), "other", None)


def name_job(note: Sequence[Line], found: Found, walk: Walk) -> None:
    """The title of a scrap that has no street in it: what stands first, up to a wide blank."""
    first = next((line for line in note if line.text.strip()), None)
    if walk.title is not None or first is None or first.number in found.rows.lines:
        return
    end = found.rows.beside.get(first.number, len(first.text))
    match = re.match(r"\s*(?P<title>[^\W_].*?)(?=\s{2,}|[,;(]|\s+[-–—]\s|\.\s|\s*\Z)", first.text[:end])
    if match is None or not re.match(r"(?:#?\d{1,5}[a-z]?\s)?[A-Za-z][\w'’. -]*\Z", match["title"]):
        return
    if first.number in found.rows.keys and first.number not in found.rows.beside:
        return
    walk.title = match["title"].strip()
    walk.title_source = first.source(match.start("title"), match.end("title"))


def items_of_rows(note: Sequence[Line], found: Found, style: NumberStyle) -> None:
    """Give the rows the items of their numbers, by which the ledger tells what found no place."""
    for line in note:
        if line.number in found.rows.lines:
            tokens = tokens_of(line.text, line.number, found.context.meanings, style)
            line.items = [*line.items, *(
                token.item() for token in tokens
                if token.kind in ("number", "size") and all(item.end <= token.start for item in line.items)
            )]  # fmt: skip

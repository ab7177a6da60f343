"""Whether a note is shorthand, and the reading of its rows that leaves the least unexplained."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gutterance.reading.number_style import NumberStyle, number_style
from gutterance.reading.pipeline import pipeline
from gutterance.reading.shorthand.key import Key, find_key
from gutterance.reading.shorthand.meanings import Meanings
from gutterance.reading.shorthand.note import NoteReader, Reading, may_be_joined
from gutterance.reading.shorthand.row import Context
from gutterance.reading.shorthand.shape import place_by_shape

if TYPE_CHECKING:
    from collections.abc import Sequence

METRIC = re.compile(r"\b\d+\s?mm\b|\(mm\)|\bmm\b|\bmet(?:re|er)s?\b", re.IGNORECASE)
LARGE = re.compile(r"(?<![\d.])[1-9]\d{3,4}(?![\d.])")
"""A whole number that as a length can only be in millimetres."""
FEET = re.compile(r"\d['’′]|\d[\"”″]|(?<![\d-])\d{1,3}-(?:\d|1[01])(?![\d-])")
DECIMAL = re.compile(r"(?<![\d.])\d{1,2}\.\d{1,3}(?![\d.])")
IN_INCHES = re.compile(r"(?:\b(?:all|in)\s|[(]\s?|\s{3,})(?:inches|ins|in)\s?(?:[).]|\Z)", re.IGNORECASE)
"""Words that say so."""
HEAD = 3
"""Lines at the head of a note."""
_HOUSE = r"\b(?:house|hse|wall) (?:on|to) (?:my |the |your )?"
ANTICLOCKWISE = re.compile(
    rf"{_HOUSE}l(?:eft)?\b(?: hand)?|\banti-?clock|\bcounter-?clock|\bl(?:eft)? (?:to|>|->|→) r",
    re.IGNORECASE,
)
"""Words that say that a walker goes so that each run starts at its left end as seen facing it."""
CLOCKWISE = re.compile(
    rf"{_HOUSE}r(?:ight)?\b(?: hand)?|(?<!anti)(?<!anti-)(?<!counter)(?<!counter-)\bclockwise"
    r"|\br(?:ight)? (?:to|>|->|→) l\b",
    re.IGNORECASE,
)
"""... or at its right end."""


@dataclass(slots=True)
class Found:
    """The rows of a note, its key and what holds for all of them."""

    rows: Reading
    key: Key
    context: Context


def find_rows(texts: Sequence[str], *, metric: bool = False) -> Found:
    """The best reading of a note's rows: the one that leaves the fewest numbers without a place."""
    key = find_key(texts, pipeline())
    tries = [_read(texts, key, metric=metric, joined=False)]
    if may_be_joined(texts):
        tries.append(_read(texts, key, metric=metric, joined=True))
    return min(tries, key=lambda found: _cost(found.rows))


def _read(texts: Sequence[str], key: Key, *, metric: bool, joined: bool) -> Found:
    whole = "\n".join(texts)
    context = Context(Meanings(pipeline().by_phrase, key.means), numbers=key.numbers)
    context.metric = metric or _is_metric(whole)
    left, right = ANTICLOCKWISE.search(whole), CLOCKWISE.search(whole)
    if bool(left) != bool(right):
        context.starts_left = left is not None
    reader = NoteReader(texts, key, context, style_of(texts), joined=joined)
    rows = reader.read()
    place_by_shape(rows, metric=context.metric)
    reader.copy_due()
    return Found(rows, key, context)


def style_of(texts: Sequence[str]) -> NumberStyle:
    """How the note writes its numbers; `IN INCHES` alone at its head says it of a scrap too."""
    style = number_style(texts)
    if any(IN_INCHES.search(text) for text in texts[:HEAD]):
        return replace(style, inches=True)
    return style


FEWEST_LARGE, FEWEST_DECIMALS = 3, 6


def _is_metric(whole: str) -> bool:
    """Whether bare numbers are in millimetres or metres: said so, or so many can be nothing else."""
    if FEET.search(whole):
        return False
    decimals = len(DECIMAL.findall(whole)) >= FEWEST_DECIMALS and "ft" not in whole
    return bool(METRIC.search(whole)) or len(LARGE.findall(whole)) >= FEWEST_LARGE or decimals


def _cost(rows: Reading) -> float:
    """How much of the rows is not explained."""
    loose = sum(token.kind in ("number", "size") for run in rows.runs for token in run.loose)
    bare = sum(run.length is None for run in rows.runs)
    ends = sum(2 - len(run.ends) for run in rows.runs)
    return loose * 2 + bare * 2 + ends * 0.5 - len(rows.rows)

"""Which field the numbers that no sign leads answer: what fits all rows, and nothing else does as well."""

from __future__ import annotations

import re
from itertools import permutations
from typing import TYPE_CHECKING

from gutterance.reading.shorthand.facts import Number, RunFacts
from gutterance.reading.shorthand.row import SHORTEST_HEIGHT, can_be, give_in_turn

if TYPE_CHECKING:
    from gutterance.reading.shorthand.facts import PipeFacts
    from gutterance.reading.shorthand.note import Reading
    from gutterance.reading.shorthand.row import Uncued
    from gutterance.reading.shorthand.tokens import Token

FIELDS = ("height", "wall_to_fascia")
ALONE = "told with no sign of what it measures, in one row alone; taken for it by its size"
EITHER = "told with no sign of what it measures: height, or wall to fascia?"


def place_by_shape(reading: Reading, *, metric: bool) -> None:
    """Give the numbers of rows that no sign leads to the fields which alone fit all the rows."""
    by_row: dict[int, list[Uncued]] = {}
    for one in reading.uncued:
        by_row.setdefault(id(one.facts), []).append(one)
    rows: dict[int, list[list[Uncued]]] = {}
    for told in by_row.values():
        rows.setdefault(len(told), []).append(told)
    for count, alike in rows.items():
        _place(reading, count, alike, metric=metric)


def _place(reading: Reading, count: int, rows: list[list[Uncued]], *, metric: bool) -> None:
    """Rows that have so many of them."""
    ways = [way for way in _ways(count) if all(_fits(row, way, metric=metric) for row in rows)]
    if not ways:
        for row in rows:
            alone = [way for way in _ways(count) if _fits(row, way, metric=metric)]
            if len(alone) == 1 and len(rows) > 1:
                _give(reading, row, alone[0], None)
            else:
                _leave(reading, row)
        return
    for row in rows:
        doubt = None
        if len(ways) > 1:
            doubt = EITHER
        elif len(rows) == 1 and not all(_is_marked(one.token) for one in row):
            doubt = ALONE
        _give(reading, row, ways[0], doubt)


def _is_marked(token: Token) -> bool:
    """Whether a number shows its feet or its inches, or is one of inches with no feet it could be."""
    return re.search(r"\d\s?['’′\"”″-]|[½¼¾]", token.text) is not None or len(token.founds[0].amounts) > 1


def _ways(count: int) -> list[tuple[str, ...]]:
    """How so many numbers may be shared among the fields: each field once, or all the same one."""
    if count == 1:
        return [(what,) for what in FIELDS]
    if count == len(FIELDS):
        return [*permutations(FIELDS), ("height", "height")]
    if count == len(FIELDS) + 1:
        return [("wall_to_fascia", "height", "height"), ("height", "height", "wall_to_fascia")]
    return []


def _fits(row: list[Uncued], way: tuple[str, ...], *, metric: bool) -> bool:
    taken = [what for what in FIELDS if any(what in pipe.numbers for one in row for pipe in one.pipes)]
    if any(what in taken for what in way):
        return False
    pipes = max((len(one.pipes) for one in row), default=0)
    most = max(way.count(what) for what in way)
    return (most == 1 or most == pipes) and all(
        can_be(one.token, what, metric=metric) or _short(one.token, what, taken, metric=metric)
        for one, what in zip(row, way, strict=True)
    )


def _short(token: Token, what: str, taken: list[str], *, metric: bool) -> bool:
    """`3'2 oh 10`: a short pipe onto a roof below, its feet marked, and the wall's distance told."""
    if (
        what != "height"
        or "wall_to_fascia" not in taken
        or not re.search(r"\d\s?['’′-]\s?\d|\d['’′]", token.text)
    ):
        return False
    length = token.length("height", metric=metric)
    return length is not None and length.inches >= SHORTEST_HEIGHT.inches


def _give(reading: Reading, row: list[Uncued], way: tuple[str, ...], doubt: str | None) -> None:
    pipes: list[PipeFacts] = row[-1].pipes
    if not pipes:
        _leave(reading, row)
        return
    for what in dict.fromkeys(way):
        numbers = [Number(one.token, doubt) for one, field in zip(row, way, strict=True) if field == what]
        if not give_in_turn(pipes, what, numbers):
            _loose(reading, row, [number.token.start for number in numbers])


def _leave(reading: Reading, row: list[Uncued]) -> None:
    _loose(reading, row, [one.token.start for one in row])


def _loose(reading: Reading, row: list[Uncued], starts: list[int]) -> None:
    del reading
    for one in row:
        owner: RunFacts | None = one.facts
        if owner is not None and one.token.start in starts:
            owner.loose.append(one.token)

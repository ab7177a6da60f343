"""What a message says beside the measuring: each clause with a word for it is a remark of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.prose.naming import name_at

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.reading.places import PlaceName
    from gutterance.reading.prose.chunks import Chunk
    from gutterance.reading.prose.topic import Topic
    from gutterance.sheet.values import RemarkKind

GRAVEST_FIRST: tuple[RemarkKind, ...] = ("hazard", "repair", "access", "customer", "materials", "other")
"""Kinds of remarks: a clause with words of several is of the first."""
ASKS = frozenset({"i", "we", "they", "he", "she", "please", "would", "could"})
"""Words with which a new clause, and so a new remark, begins behind an `and`."""


def keep_remarks(
    line: Line, chunks: list[Chunk], told: list[Item], walk: Walk, topic: Topic, *, quiet: bool
) -> None:
    """Keep each clause of a sentence with words of a remark in it, and none of the values that were told.

    `quiet` sentences tell nothing of the gutter: a time of day in them makes a clause what a customer wants.
    """
    for clause in _clauses(chunks):
        start, end = clause[0].start, clause[-1].end
        kinds = {item.value for item in line.items if item.kind == "remark" and start <= item.start < end}
        times = any(
            chunk.measure is not None
            and chunk.measure.found is not None
            and chunk.measure.found.what == "time"
            for chunk in clause
        )
        if quiet and times:
            kinds.add("customer")
        if not kinds or any(start <= item.start < end for item in told):
            continue
        kind: RemarkKind = next((kind for kind in GRAVEST_FIRST if kind in kinds), "other")
        about = next(
            (place for number in range(len(clause)) if (place := _place(clause, number, walk, topic))), None
        )
        walk.remark(line, start, end, kind, about)


def _place(clause: list[Chunk], number: int, walk: Walk, topic: Topic) -> PlaceName | None:
    named = name_at(clause, number)
    places = topic.places(named, walk) if named is not None else None
    return places[0] if places else None


def _clauses(chunks: list[Chunk]) -> list[list[Chunk]]:
    """The chunks parted at semicolons, and at an `and` with which somebody new says or wants something."""
    clauses: list[list[Chunk]] = [[]]
    for number, chunk in enumerate(chunks):
        behind = chunks[number + 1].text if number + 1 < len(chunks) else ""
        if chunk.kind == "semi" or (chunk.text in ("and", "but") and behind in ASKS):
            clauses.append([])
            continue
        clauses[-1].append(chunk)
    return [clause for clause in clauses if clause]

"""Runs that may be none: names by which a note more likely means a run told elsewhere, or no run at all.

Each rule looks at how a name stands among the other names of the note, never at what the words are: a run
that does not exist brings ends, an outlet and a pipe with it, each as certain as the run.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.places import COMPASS
from gutterance.reading.unexplained import is_unexplained

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.reading.builder import RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line

SEEN_FROM_OUTSIDE = frozenset({"front", "back", "left side", "right side"})
"""Sides of a house by where one stands, as against those by the compass."""
LONGEST_INITIAL = 2
"""A name of no more letters than this is short for one."""


def shaky_runs(lines: list[Line], walk: Walk) -> dict[str, str]:
    """The ids of runs that may be none, with what speaks against them."""
    told = [draft for draft in walk.runs if draft.has_data]
    by_number = {line.number: line for line in lines}
    shaky: dict[str, str] = {}
    for draft in told:
        if draft.tabled and not draft.in_rows:
            continue
        for rule in _RULES:
            why = rule(draft, told, by_number)
            if why is not None:
                shaky[draft.place.id] = why
                break
    return shaky


def _only_a_storey(draft: RunDraft, told: list[RunDraft], _lines: dict[int, Line]) -> str | None:
    """`every corner up top`, beside an upper front and an upper back: said of those, or a run of its own?"""
    place = draft.place
    if place.storey is None or place.direction is not None or place.part is not None:
        return None
    sides = [other for other in told if other.place.storey == place.storey and other.place.direction]
    return f"which of the {place.storey} runs is meant?" if sides else None


def _no_storey_where_others_have_one(
    draft: RunDraft, told: list[RunDraft], _lines: dict[int, Line]
) -> str | None:
    """`front` beside an `upper front` of the same note: the lower one, or the upper one again?"""
    place = draft.place
    if place.direction is None or place.part is not None or place.storey or place.level or place.house:
        return None
    for other in told:
        high = other.place
        if high.storey and high.direction == place.direction and high.part is None and not high.house:
            return f"is it the {high.name}, or one of another storey?"
    return None


def _compass_among_other_sides(draft: RunDraft, told: list[RunDraft], _lines: dict[int, Line]) -> str | None:
    """`F 21-0 ... S 28-9 ... R 21-0`: does `S` mean the south where the others are front and rear?"""
    place = draft.place
    short = any(len(source.text.strip(" .:)")) <= LONGEST_INITIAL for source in draft.source)
    if place.part is not None or place.direction is None or not short:
        return None
    others = {other.place.direction for other in told if other.place.part is None and other is not draft}
    if place.direction in COMPASS and others & SEEN_FROM_OUTSIDE:
        return f"is it the {place.direction}, where others are called front or back?"
    if place.direction in SEEN_FROM_OUTSIDE and others & COMPASS:
        return f"is it the {place.direction}, where others are called by the compass?"
    return None


def _behind_a_word_nobody_knows(draft: RunDraft, _told: list[RunDraft], lines: dict[int, Line]) -> str | None:
    """`the thrapple back is 12-4`: a back of something that the reader does not know."""
    if draft.place.own or not draft.source:
        return None
    named = draft.source[0]
    line = lines.get(named.line)
    if line is None:
        return None
    at = next((n for n, item in enumerate(line.items) if item.start == named.start), 0)
    before: Item | None = line.items[at - 1] if at else None
    if before is None or not is_unexplained(before):
        return None
    return f"{before.text!r} before the name of the {draft.place.name} is not known"


def _told_as_a_neighbour(draft: RunDraft, _told: list[RunDraft], lines: dict[int, Line]) -> str | None:
    """`outside corner back ...`: a name right behind a corner may say what lies round it."""
    named = draft.source[0] if draft.source else None
    line = lines.get(named.line) if named is not None else None
    if named is None or line is None:
        return None
    at = next((n for n, item in enumerate(line.items) if item.start == named.start), 0)
    if at and line.items[at - 1].kind == "corner":
        return f"is the {draft.place.name} a run here, or what lies round the corner?"
    return None


_RULES: tuple[Callable[[RunDraft, list[RunDraft], dict[int, Line]], str | None], ...] = (
    _only_a_storey,
    _no_storey_where_others_have_one,
    _compass_among_other_sides,
    _behind_a_word_nobody_knows,
    _told_as_a_neighbour,
)

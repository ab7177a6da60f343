"""Headings of a lettered note, and words that its clauses share: `Drops:`, `DPs at A left, C right`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.lettered.groups import is_name
from gutterance.reading.lettered.kinds import THINGS
from gutterance.reading.lettered.pipes import is_offset

if TYPE_CHECKING:
    from gutterance.reading.lettered.ring import Ring

LONGEST_HEADING = 7


def heading(items: list[Item], ring: Ring) -> bool:
    """`Drops:`, `Three outlets.`, `Pipes is on the other page`: what the words behind are about."""
    said = [
        item for item in items if item.kind not in ("filler", "mark", "colon", "break", "storey", "heading")
    ]
    things = [item for item in said if item.kind in THINGS]
    if not things or len(said) > LONGEST_HEADING:
        return False
    for item in said:
        if item in things or item.kind in ("count", "word", "all", "run noun", "cue", "ends at"):
            continue
        if item.kind == "measure" and item.found is not None and _only_counts(item) and len(said) <= 3:
            continue
        return False
    if any(item.kind in ("ends at",) for item in said) or (len(said) == 1 and len(items) > 4):
        return False
    if any(item.kind == "cue" for item in said) and len(said) < 3:
        return False
    ring.topic, ring.heading = _topic_of(things[-1]), things[-1]
    return True


def _only_counts(item: Item) -> bool:
    """`Three drops`: a number that counts what stands behind it."""
    return item.found is not None and (item.found.kind == "bare" or item.found.what == "count")


def _topic_of(thing: Item) -> str:
    return "pipes" if thing.kind == "downpipe" else "outlets"


def cue_for_all(clause: list[Item], header: Item | None) -> Item | None:
    """`eave to ridge 14' on 1 & 4, 11'6 on 2 & 3`: the cue of the first number is the second's too."""
    cues = [
        item
        for item in clause
        if item.kind == "cue" and item.value in ("roof_run", "roof_pitch", "height", "wall_to_fascia")
    ]
    measures = [item for item in clause if item.kind == "measure"]
    if len(cues) == 1 and len(measures) == 1:
        return cues[0]
    others = any(item.kind in ("end", "end word", "side", "lr", "ends at", *THINGS) for item in clause)
    if header is not None and len(measures) == 1 and not cues and not others:
        clause.insert(clause.index(measures[0]), header)
        return header
    return None


def carry_outlets(clauses: list[list[Item]], ring: Ring) -> None:
    """`outlets at A left, A right and C right`: the word for an outlet, to each run listed behind it."""
    if ring.topic != "runs":
        return
    carried: Item | None = None
    several = sum(clause[0].marks.get("role") == "subject" for clause in clauses) > 1
    for clause in clauses:
        things = [number for number, item in enumerate(clause) if item.kind in THINGS]
        if clause[0].marks.get("role") != "subject":
            continue
        told = any(item.kind in ("side", "lr") or item.marks.get("role") == "neighbour" for item in clause)
        measured = any(item.kind == "measure" and not is_offset(clause, item) for item in clause)
        ended = any(item.kind in ("end", "end word", "same") for item in clause)
        if things and several:
            thing = clause[things[-1]]
            one = Item(
                thing.line, thing.start, thing.end, thing.text, thing.kind, thing.value, marks=thing.marks
            )
            clause[things[-1]] = carried = one
        elif carried is not None and told and not measured and not ended:
            clause.insert(
                1, Item(carried.line, carried.start, carried.end, carried.text, carried.kind, carried.value)
            )
        else:
            carried = None


def heading_before(items: list[Item], ring: Ring) -> list[Item]:
    """`drops: F end of A / ...`: the heading taken off what it heads."""
    first = next((number for number, item in enumerate(items) if is_name(item)), None)
    if first is None:
        return items
    head = items[:first]
    colon = next((number for number, item in enumerate(head) if item.kind == "colon"), None)
    things = [item for item in head if item.kind in THINGS]
    storeyed = bool(head) and head[0].kind in ("storey", "word") and len(head) == 2 and head[1].kind in THINGS
    if colon is not None and things and not any(item.kind in ("side", "lr", "pipe label") for item in head):
        head, rest = items[: colon + 1], items[colon + 1 :]
        if heading(head, ring):
            return rest
    if storeyed and head[1].plural and heading(head, ring):
        return items[first:]
    return items

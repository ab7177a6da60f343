"""A sentence of a lettered note cut into clauses, each with the run that it is about first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import STRUCTURE, Item
from gutterance.reading.lettered.kinds import THINGS
from gutterance.reading.lettered.roles import END_WORDS, TAKES_BACK, role_of

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.lettered.ring import Ring

LITTLE = frozenset({"filler", "walk", "mark"})
"""Kinds of items over which what is said of a run reaches."""


def cut_into_clauses(items: list[Item], walk: Walk, ring: Ring) -> list[list[Item]]:
    """The items parted into clauses, each with its subject first where it has one."""
    subject = ring.subject if walk.run is not None else None
    roles: dict[int, str] = {}
    told: str | None = None
    for number, item in enumerate(items):
        if item.kind != "names":
            continue
        here = _named_behind(items, number) or told
        role = role_of(items, number, here or subject, carried=here is None)
        roles[number] = role
        told = str(item.value[0]) if role == "subject" else told
    cuts: list[tuple[int, int]] = []
    last_end = 0
    for number in sorted(place for place, role in roles.items() if role == "subject"):
        start = _lead(items, number, last_end, roles)
        cuts.append((start, number))
        last_end = number + 1
    clauses = [] if cuts else [_told(items, roles, 0)]
    if cuts and cuts[0][0] > 0:
        clauses.append(_told(items[: cuts[0][0]], roles, 0))
    for place, (start, number) in enumerate(cuts):
        stop = cuts[place + 1][0] if place + 1 < len(cuts) else len(items)
        clause = _told(items[start:stop], roles, start)
        clauses.append([clause.pop(number - start), *clause])
    return [
        clause for clause in clauses if any(item.kind not in ("break", "filler", "mark") for item in clause)
    ]


def _told(items: list[Item], roles: dict[int, str], offset: int) -> list[Item]:
    """Items with the role of each name marked."""
    for number, item in enumerate(items):
        if item.kind == "names":
            item.marks["role"] = roles.get(number + offset, "mention")
    return list(items)


def _named_behind(items: list[Item], number: int) -> str | None:
    """`F end of A`: the run named behind, of which the first is only the end's."""
    behind = items[number + 1 : number + 4]
    words = [item.text.lower() for item in behind]
    if len(behind) < 3 or words[0] not in ("end", "corner") or words[1] not in ("of", "on"):
        return None
    return str(behind[2].value[0]) if behind[2].kind == "names" else None


def _lead(items: list[Item], number: int, floor: int, roles: dict[int, str]) -> int:
    """From where on the words before a name are said of it."""
    start = _over_little_words(items, number, floor)
    little = {item.text.lower() for item in items[start:number]}
    met = start - 1
    if met >= floor and items[met].kind == "corner":
        met -= 1
    if met >= floor and roles.get(met) == "neighbour" and little & TAKES_BACK:
        # `F end of A`, `drop at the A/B corner of B`
        return _over_things(items, _over_little_words(items, met, floor), floor, met)
    if start > floor and items[start - 1].kind in (*THINGS, "pipe label", "count"):
        return _over_things(items, start, floor, start)
    if not little & TAKES_BACK:
        while start < number and _no_opening(items[start]):
            start += 1
        return start
    return _taken_back(items, number, start, floor)


def _over_little_words(items: list[Item], number: int, floor: int) -> int:
    """The first of the little words right before a place."""
    while number > floor and items[number - 1].kind in LITTLE:
        number -= 1
    return number


def _over_things(items: list[Item], start: int, floor: int, otherwise: int) -> int:
    """The first of an outlet's words that end there (`and one drop at the`), else the place given."""
    first = start
    while first > floor and items[first - 1].kind in (
        *THINGS,
        *LITTLE,
        "pipe label",
        "count",
        "measure",
        "colon",
    ):
        if items[first - 1].kind == "measure" and not _counts(items[first - 1]):
            break
        first -= 1
    told = any(item.kind in (*THINGS, "pipe label", "count", "measure") for item in items[first:start])
    return first if told else otherwise


def _no_opening(item: Item) -> bool:
    """Whether a little word belongs to what went before rather than to the name behind it."""
    return item.kind == "filler" and item.text.lower() not in ("and", "&", "the", "on", "then")


def _taken_back(items: list[Item], number: int, start: int, floor: int) -> int:
    """`eight foot six on leg one`: from where on the words before belong to the run named behind them."""
    back = start
    while back > floor:
        item = items[back - 1]
        if item.kind in ("break", "profile", "material", "colour", "names", "total"):
            break
        if item.text.lower() in END_WORDS and back >= 2 and items[back - 2].kind == "names":
            break
        joined = item.text.lower() in ("and", "&") and floor
        if joined and any(other.kind != "filler" for other in items[back:start]):
            break
        back -= 1
    behind = items[number + 1] if number + 1 < len(items) else None
    says_more = behind is not None and behind.found is not None and behind.found.kind != "other"
    own = [item for item in items[back:start] if item.kind in (*STRUCTURE, "side", "lr", "names")]
    if says_more and any(item.kind == "measure" for item in own):
        return start
    return back if own else start


def _counts(item: Item) -> bool:
    """`One on A`: a number that counts."""
    return (
        item.found is not None
        and item.found.kind == "bare"
        and item.text.lower() in ("one", "1", "two", "2", "another")
    )

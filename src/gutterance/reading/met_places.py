"""Places that are no run in what is said of them: what a run dies into, or what is only there.

Such a place is referred to. What follows it is still said of the run that was told before it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import STRUCTURE
from gutterance.reading.neighbours import is_length_like
from gutterance.reading.places import significant

if TYPE_CHECKING:
    from gutterance.reading.items import Item

TAKES_AN_OBJECT = frozenset(
    {
        "into",
        "against",
        "to",
        "butts",
        "butt",
        "butting",
        "abuts",
        "abut",
        "abutting",
        "dies",
        "die",
        "at",
        "up",
    }
)
"""Last words of an end behind which stands what the run dies into: `dies into`, `butts up against`."""
LITTLE = frozenset({"filler", "lr", "side"})
"""Kinds of items between `dies into` and the thing: `dies into the side of the porch`."""
OVER_TO = frozenset({"over to", "across to", "through to", "up to", "along to", "down to", "onto", "on to"})
"""Ways of saying where the run goes that was named right before."""
SORTS = frozenset({"thing", "type", "sort", "kind", "job", "style", "roof", "one", "bit"})
"""Words behind a part of a house by which it only says what something is like: `a skillion thing`."""


def only_met(items: list[Item], number: int) -> bool:
    """`dies into the porch on the right, one drop`: the porch is what the run ends at."""
    here = number - 1
    while here >= 0 and items[here].kind in LITTLE and number - here <= 4:
        here -= 1
    if here < 0 or items[here].kind != "end" or items[here].value != "wall":
        return False
    if items[here].text.lower().split()[-1] not in TAKES_AN_OBJECT:
        return False
    behind = significant(items, number + 1, 1)
    return behind is None or not is_length_like(items[behind]) or _told_of_outlet(items, behind)


def _told_of_outlet(items: list[Item], number: int) -> bool:
    """`dies into the porch, 14 inches in from that end a drop`: the number is no length of the porch."""
    words = [item.text.lower() for item in items[number + 1 : number + 3]]
    return words[:1] == ["in"] or "from" in words


def goes_over_to(items: list[Item], number: int) -> bool:
    """`front, left corner over to the wing. Outside on the left`: where the run named before it ends."""
    here = number - 1
    while here >= 0 and items[here].text.lower() in ("the", "where", "that"):
        here -= 1
    if here < 1 or items[here].text.lower() not in OVER_TO or items[here - 1].kind not in ("side", "corner"):
        return False
    for item in reversed(items[:here]):
        if item.kind == "place":
            return True
        if item.kind not in ("filler", "side", "lr", "corner", "word", "landmark", "cue") and not (
            item.kind == "break" and item.strength <= 1
        ):
            return False
    return False


def only_described_as(items: list[Item], number: int) -> bool:
    """`And the carport. Flat, skillion thing, one gutter along the front of it`: what the carport is like."""
    behind = items[number + 1] if number + 1 < len(items) else None
    name = items[number].value
    if (
        behind is None
        or name.part is None
        or name.direction
        or name.storey
        or behind.text.lower() not in SORTS
    ):
        return False
    told = next((item for item in reversed(items[:number]) if item.kind in ("place", "measure")), None)
    after = significant(items, number + 2, 1)
    return (
        told is not None
        and told.kind == "place"
        and told.value.part not in (None, name.part)
        and (after is None or not is_length_like(items[after]))
    )


def walked_to(items: list[Item], number: int) -> bool:
    """`And that brings me back to the carport.`: a sentence in which somebody only comes to a place."""
    behind = items[number + 1] if number + 1 < len(items) else None
    if behind is not None and not (behind.kind == "break" and behind.strength >= 3):
        return False
    words: set[str] = set()
    for item in reversed(items[:number]):
        if item.kind == "break" and item.strength >= 3:
            break
        if item.kind in (*STRUCTURE, "side", "lr", "place", "ref", "same", "corner", "no", "remark"):
            return False
        words |= set(item.text.lower().split())
    return "to" in words and bool(
        words & {"me", "us", "i'm", "im", "we're", "walking", "come", "coming", "on"}
    )

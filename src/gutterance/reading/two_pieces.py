"""A side of the house in two pieces, told by their lengths: `18-9 left of it, 22 right of it.`

The pieces are runs of their own, `back left` and `back right`; what is said of the left one and the right one
right after is said of them.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

BESIDE = re.compile(
    r"\b(?:to the |on the )?(?P<side>left|right)(?: hand)?(?: side)? of (?:it|that|the [a-z]+)\b",
    re.IGNORECASE,
)
"""Words behind the length of a piece for where it is."""
OUTER_ENDS = re.compile(r"\b(?:the )?(?:outer|outside|far) ends? of (?:each|both)\b", re.IGNORECASE)
"""The left end of the left piece, and the right end of the right one."""
THE_ONE = re.compile(
    r"\b(?:the |on the |for the )?(?P<side>left|right)(?:[ -]hand)?(?: one)?\b", re.IGNORECASE
)
"""One of the two pieces, behind a number that is told of it."""
SIDES = ("left", "right")


def name_two_pieces(line: Line, items: list[Item], walk: Walk) -> list[Item]:
    """The line's items with each of two pieces of a side as a place before what is said of it."""
    told = _lengths_beside(line, items)
    if {side for _, _, side in told} != set(SIDES) or len(told) != len(SIDES):
        return items
    base = _base(items, told[0][0], walk)
    if base is None:
        return items
    first, last = told[0][0], told[-1][0] + 1
    for item in items[:first]:
        if item.text.lower() in ("two", "2") and item.kind == "measure":
            item.kind = "count"
            walk.shown.append(item.source())  # `in two`
    head = items[:first]
    pieces: list[Item] = []
    for at, upto, side in told:
        pieces += [_place(line, items[at], upto, base, side), items[at]]
    rest = [item for item in items[last:] if item.start >= told[-1][1]]
    return [*head, *_told_apart(line, pieces), *_of_the_pieces(line, rest, base)]


def _told_apart(line: Line, pieces: list[Item]) -> list[Item]:
    """The pieces with a break between them."""
    stop = Item(line.number, pieces[2].start, pieces[2].start, "", "break", ".", strength=3)
    return [*pieces[:2], stop, *pieces[2:]]


def _lengths_beside(line: Line, items: list[Item]) -> list[tuple[int, int, str]]:
    """Where the length of each piece stands among the items, where its words end, and its side."""
    found: list[tuple[int, int, str]] = []
    for match in BESIDE.finditer(line.text):
        at = next((n for n, item in enumerate(items) if item.end <= match.start() <= item.end + 1), None)
        behind = next((item for item in items if item.start >= match.end()), None)
        closed = behind is None or behind.kind == "break"
        if at is not None and items[at].kind == "measure" and closed:
            found.append((at, match.end(), match["side"].lower()))
    return found


def _base(items: list[Item], first: int, walk: Walk) -> PlaceName | None:
    """The side that is in pieces: the last one named before."""
    names = [item.value for item in items[:first] if item.kind == "place"]
    names = [name for name in names if isinstance(name, PlaceName)]
    names += [walk.run.place] if walk.run is not None and not names else []
    sides = [name for name in names if name.direction in ("front", "back") and name.part is None]
    return sides[-1] if sides else None


def _place(line: Line, first: Item, upto: int, base: PlaceName, side: str) -> Item:
    """A piece as a place; its words are those of its side, behind the number."""
    words = line.text[first.end : upto]
    start = upto - len(words.lstrip())
    place = Item(line.number, start, upto, words.lstrip(), "place")
    place.value = replace(base, direction=f"{base.direction} {side}")
    place.marks.update(words=[place.text.lower()], settled=True)
    return place


def _of_the_pieces(line: Line, items: list[Item], base: PlaceName) -> list[Item]:
    """`Spout outer end of each. 9-4 the left one, 9-10 the right`: each told of its piece."""
    outer = OUTER_ENDS.search(line.text, items[0].start if items else 0)
    thing = next((item for item in items if item.kind in ("outlet", "downpipe")), None)
    if outer is None or thing is None:
        return items
    out: list[Item] = []
    for item in items:
        if item is thing or outer.start() <= item.start < outer.end():
            continue
        out.append(item)
    measured = {side: number for number, side in _numbers_of(line, out)}
    told: list[Item] = []
    used: set[int] = set()
    for side in SIDES:
        piece = _place(line, thing, outer.end(), base, side)
        where = Item(line.number, outer.start(), outer.end(), outer.group(), "side", side)
        told += [piece, Item(thing.line, thing.start, thing.end, thing.text, thing.kind, thing.value), where]
        if side in measured:
            height = out[measured[side]]
            height.marks["cue"] = Item(height.line, height.start, height.start, "", "field", "height")
            height.doubts.append("the height of the pipe on that piece?")
            told.append(height)
            used |= {measured[side], measured[side] + 1}
        told.append(Item(line.number, outer.end(), outer.end(), "", "break", ".", strength=3))
    rest = [item for number, item in enumerate(out) if number not in used and item.text.lower() != "the"]
    return [*told, *rest]


def _numbers_of(line: Line, items: list[Item]) -> list[tuple[int, str]]:
    """Each number with one of the pieces right behind: `9-4 the left one`."""
    found: list[tuple[int, str]] = []
    for number, item in enumerate(items[:-1]):
        match = THE_ONE.match(line.text, item.end + 1)
        if item.kind == "measure" and item.found is not None and item.found.kind != "other" and match:
            found.append((number, match["side"].lower()))
    return found if len({side for _, side in found}) == len(found) else []

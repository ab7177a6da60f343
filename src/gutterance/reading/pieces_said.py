"""A side of the house told in pieces: `the front is in two, first piece 16-4 ..., second piece 22 foot ...`.

Each piece is a run of its own, named by its side and its number: `front 1`, `front 2`.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

NOUNS = "piece|bit|section|part|half|stretch|chunk"
"""What a part of a side is called."""
ORDINALS = {"first": 1, "1st": 1, "second": 2, "2nd": 2, "third": 3, "3rd": 3}
"""Words for the place of a piece in its row, from left to right as the walk goes."""
FOLLOWING = frozenset({"other", "next", "last", "final"})
"""Words for the piece behind the one told before."""
PIECE = re.compile(
    rf"\b(?P<which>{'|'.join([*ORDINALS, *sorted(FOLLOWING)])})"
    rf"\s+(?:little\s+|short\s+|long\s+)?(?:{NOUNS})\b"
    r"(?!\s+of\s+(?:pipe|downpipe|downspout|gutter is))",
    re.IGNORECASE,
)
"""A piece as it is named: `first piece`, `the other bit`."""
BY_SIDE = re.compile(
    rf"\b(?P<side>left|middle|centre|center|right)(?:[ -]hand)?\s+(?:{NOUNS})\b(?!\s+of\b)", re.IGNORECASE
)
"""A piece named by where it is: `left bit`, `the middle section`."""
FIRST = re.compile(rf"\b(?:first|1st)\s+(?:{NOUNS})\b", re.IGNORECASE)
"""The first of them, without which there are none."""


def tells_in_pieces(texts: Sequence[str]) -> bool:
    """Whether a note tells of a first piece, and of another."""
    whole = "\n".join(texts)
    by_side = {match["side"].lower() for match in BY_SIDE.finditer(whole)}
    return len(by_side) > 1 or (FIRST.search(whole) is not None and len(PIECE.findall(whole)) > 1)


def name_pieces(line: Line, items: list[Item], walk: Walk) -> list[Item]:
    """The line's items with each piece of a side as a place of its own."""
    if not walk.in_pieces:
        return items
    here = walk.run.place if walk.run is not None else None
    out: list[Item] = []
    covered = 0
    for item in items:
        if item.start < covered:
            continue
        match = PIECE.match(line.text, item.start)
        beside = BY_SIDE.match(line.text, item.start)
        if beside is not None and match is None and item.kind != "place" and walk.bay is None:
            side = walk.pieced or here
            name = beside["side"].lower().replace("center", "middle").replace("centre", "middle")
            if side is not None and side.direction is not None and _measured_behind(items, beside.end()):
                whole = side.direction.removesuffix(f" {_piece_of(side)}")
                here = walk.pieced = replace(side, direction=f"{whole} {name}")
                out.append(_as_place(line, items, item, beside.end(), here))
                covered = out[-1].end
                continue
        if match is None:
            if item.kind == "place" and isinstance(item.value, PlaceName):
                here = item.value
                if here.direction is not None and not _piece_of(here):
                    walk.pieced = None
            out.append(item)
            continue
        number = ORDINALS.get(match["which"].lower()) or _number_in(walk.pieced) + 1
        side = here if number == 1 or walk.pieced is None else walk.pieced
        if side is None or side.direction is None:
            out.append(item)
            continue
        whole = side.direction.removesuffix(f" {_number_in(side)}").removesuffix(f" {_piece_of(side)}")
        here = walk.pieced = replace(side, direction=f"{whole} {number}")
        out.append(_as_place(line, items, item, match.end(), here))
        covered = out[-1].end
    return out


def _as_place(line: Line, items: list[Item], first: Item, upto: int, name: PlaceName) -> Item:
    """The words of a piece as a place of that name."""
    end = min((other.end for other in items if other.end >= upto), default=upto)
    place = Item(line.number, first.start, end, line.text[first.start : end], "place", name)
    place.marks.update(words=[place.text.lower()], settled=True)
    return place


def _measured_behind(items: list[Item], start: int) -> bool:
    """Whether a number stands right behind the name of a piece."""
    behind = [item for item in items if item.start >= start and item.kind not in ("filler", "colon")][:1]
    return bool(behind) and behind[0].kind == "measure"


def _piece_of(place: PlaceName) -> str:
    """Which piece of a side a place is: `2`, `left`, or nothing."""
    words = (place.direction or "").split()
    return words[-1] if len(words) > 1 and words[-1] in ("left", "middle", "right") else ""


def _number_in(place: PlaceName | None) -> int:
    """The number of the piece that a place is, or 0."""
    last = (place.direction or "").split()[-1:] if place is not None else []
    return int(last[0]) if last and last[0].isdecimal() else 0

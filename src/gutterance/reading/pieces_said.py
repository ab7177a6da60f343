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

NOUNS = "piece|bit|section|part|half|stretch|chunk|leg|length"
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
FIRST = re.compile(rf"\b(?:first|1st)\s+(?:{NOUNS})\b", re.IGNORECASE)
"""The first of them, without which there are none."""


def tells_in_pieces(texts: Sequence[str]) -> bool:
    """Whether a note tells of a first piece, and of another."""
    whole = "\n".join(texts)
    return FIRST.search(whole) is not None and len(PIECE.findall(whole)) > 1


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
        if match is None:
            if item.kind == "place" and isinstance(item.value, PlaceName):
                here = item.value
            out.append(item)
            continue
        number = ORDINALS.get(match["which"].lower()) or _number_in(walk.pieced) + 1
        side = here if number == 1 else walk.pieced
        if side is None or side.direction is None:
            out.append(item)
            continue
        whole = side.direction.removesuffix(f" {_number_in(side)}")
        here = walk.pieced = replace(side, direction=f"{whole} {number}")
        end = min((o.end for o in items if o.end >= match.end()), default=match.end())
        place = Item(line.number, item.start, end, line.text[item.start : end], "place", here)
        place.marks.update(words=[place.text.lower()], settled=True)
        out.append(place)
        covered = end
    return out


def _number_in(place: PlaceName | None) -> int:
    """The number of the piece that a place is, or 0."""
    last = (place.direction or "").split()[-1:] if place is not None else []
    return int(last[0]) if last and last[0].isdecimal() else 0

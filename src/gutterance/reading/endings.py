"""Where several pipes of a run end, each with its side: `drain L, SB R`, `left tile / right splash`."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.items import Item

BETWEEN = frozenset({"filler", "mark", "colon", "arrow"})
"""Kinds of items that may stand between an ending and its side, beside a comma."""
SIDES = frozenset({"side", "lr"})
FEWEST = 2
"""So many endings with sides of their own at least: a side beside one alone may be the outlet's."""


def endings_by_side(items: list[Item]) -> None:
    """Mark each ending with the side it stands beside, where endings and sides come by turns."""
    for turns in _rows(items):
        pairs = _pairs(turns)
        sides = [side.value for _, side in pairs]
        if len(pairs) < FEWEST or len(set(sides)) < len(sides):
            continue
        for ending, side in pairs:
            ending.marks["at side"] = side
            side.marks["used"] = True


def _rows(items: list[Item]) -> list[list[Item]]:
    """Endings and sides that stand together with nothing else between them."""
    rows: list[list[Item]] = [[]]
    for item in items:
        if item.kind == "ends at" or (item.kind in SIDES and item.value in ("left", "right", "centre")):
            rows[-1].append(item)
        elif not (item.kind in BETWEEN or (item.kind == "break" and item.strength <= 1)):
            rows.append([])
    return [row for row in rows if len(row) >= 2 * FEWEST]


def _pairs(turns: list[Item]) -> list[tuple[Item, Item]]:
    """Each ending with its side; nothing where they do not come strictly by turns."""
    kinds = [item.kind == "ends at" for item in turns]
    if len(turns) % 2 or any(kind == after for kind, after in pairwise(kinds)):
        return []
    both = zip(turns[::2], turns[1::2], strict=True)
    return [(a, b) if a.kind == "ends at" else (b, a) for a, b in both]

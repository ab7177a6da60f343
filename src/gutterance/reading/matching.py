"""Which cue a number answers, and which side a thing is on: neighbours paired at the least cost.

Both questions have one shape. Two kinds of item alternate along a line; each item belongs with the
neighbour before it or the one behind it (`w/f 24 H 9-4`, `24 wall to fascia 9 4 high`), and what is said in
one order at the start of a line is said so on the rest of it. The pairing that costs least overall is
taken, so that no item is matched alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.items import Item

Cost = Callable[[int, int], float | None]
"""The cost of pairing the items at two positions (smaller first), or None where they cannot be paired."""

PAIR_WORTH = 10.0
"""What a pair is worth: a pair that costs more than this is not made."""


def pair_neighbours(positions: Sequence[int], cost: Cost) -> list[tuple[int, int]]:
    """The pairs of neighbouring positions, each used at most once, whose total worth is greatest.

    `positions` are the places of the items that take part, in order. Linear in their number.
    """
    count = len(positions)
    best = [0.0] * (count + 1)
    made = [False] * (count + 1)
    for here in range(1, count + 1):
        best[here] = best[here - 1]
        if here >= 2:
            price = cost(positions[here - 2], positions[here - 1])
            if price is not None and price < PAIR_WORTH:
                worth = best[here - 2] + PAIR_WORTH - price
                if worth > best[here] + 1e-9:
                    best[here], made[here] = worth, True
    pairs: list[tuple[int, int]] = []
    here = count
    while here > 0:
        if made[here]:
            pairs.append((positions[here - 2], positions[here - 1]))
            here -= 2
        else:
            here -= 1
    return pairs[::-1]


def distance(items: Sequence[Item], first: int, second: int) -> float:
    """How far apart two items stand: breaks and unknown words count, fillers hardly at all."""
    price = 0.0
    for item in items[first + 1 : second]:
        if item.kind == "break":
            price += {0: 0.2, 1: 1.5, 3: 4.0, 4: 9.0}[item.strength]
        elif item.kind == "colon":
            price += 0.1
        elif item.kind in ("filler", "angle"):
            price += 0.15
        elif item.kind in ("word", "mark"):
            price += 1.2
        elif item.kind in ("walk", "fix", "remark"):
            price += 2.5
        else:
            price += 1.0
    return price

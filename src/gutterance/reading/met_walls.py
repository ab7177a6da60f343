"""`Butts the house wall on the right`: two words for one end, which has but one side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.met_places import TAKES_AN_OBJECT

if TYPE_CHECKING:
    from gutterance.reading.items import Item

OF_THE_WALL = frozenset(
    {"the", "a", "house", "main", "existing", "old", "brick", "their", "our", "it's", "its", "neighbour's",
     "neighbor's", "neighbours", "party", "gable", "of", "up", "on", "hse"}
)  # fmt: skip
"""Words between what a run does and the wall that it meets."""
MOST_BETWEEN = 4


def fold_met_walls(items: list[Item]) -> list[Item]:
    """The items of a line with each `butts ... wall` as one end."""
    out: list[Item] = []
    dropped = 0
    for number, item in enumerate(items):
        if number < dropped:
            continue
        out.append(item)
        if item.kind != "end" or item.value != "wall" or item.text.lower().split()[-1] not in TAKES_AN_OBJECT:
            continue
        at = number + 1
        while at < len(items) and at - number <= MOST_BETWEEN and items[at].text.lower() in OF_THE_WALL:
            at += 1
        if at < len(items) and items[at].kind == "end" and items[at].text.lower().endswith("wall"):
            item.marks.setdefault("with", []).append(items[at])
            dropped = at + 1
    return out

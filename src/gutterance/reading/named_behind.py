"""Lines that tell a run first and name it behind: `22'9 OC/IC - back`, `14-2 cap, wall - porch front`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import LR_SIDE, PLACE_KINDS, PlaceName

if TYPE_CHECKING:
    from gutterance.reading.items import Line

FEWEST = 2
"""So many lines at least are told so: one alone may go on with the run before it."""
DASHES = frozenset({"-", "–", "—", "=", ":", "->", "("})
"""Marks before a name that stands behind what is told of it."""
OF_THE_RUN = frozenset({"end", "end word", "end pair", "side", "lr", "corner", "angle word", "filler", "all"})
"""Kinds of items that may stand between a run's length and its name."""


def lines_named_behind(lines: list[Line]) -> frozenset[int]:
    """The numbers of the lines that name their run behind its length, where the note tells its runs so."""
    opened = [line for line in lines if _opens_with_length(_said(line))]
    named = [line.number for line in opened if _name_at(_said(line)) is not None]
    return frozenset(named) if len(named) >= FEWEST and 2 * len(named) > len(opened) else frozenset()


def name_first(items: list[Item]) -> list[Item]:
    """The items of such a line with the run's name before the rest."""
    at = next(
        (n for n, item in enumerate(items) if n and item.kind == "place" and _behind_dash(items, n)), None
    )
    if at is None:
        at = next(
            (n for n, item in enumerate(items) if n and _is_side(item) and _behind_dash(items, n)), None
        )
        if at is None:
            return items
        item = items[at]
        side = Item(
            item.line, item.start, item.end, item.text, "place", PlaceName(direction=LR_SIDE[item.value])
        )
        side.marks.update(words=[item.text.lower()], settled=True)
        items = [*items[:at], side, *items[at + 1 :]]
    before = items[:at]
    while before and before[-1].text in DASHES:
        before.pop()
    rest = items[at + 1 :]
    joint = (
        [Item(items[at].line, items[at].end, items[at].end, ",", "break", ",", strength=1)] if rest else []
    )
    return [items[at], *before, *joint, *rest]


def _said(line: Line) -> list[Item]:
    """The items of a line without the mark that may open it."""
    items = line.items
    while items and items[0].text in ("-", "*", "•", ">"):
        items = items[1:]
    return items


def _opens_with_length(items: list[Item]) -> bool:
    return (
        bool(items)
        and items[0].kind == "measure"
        and items[0].found is not None
        and items[0].found.kind != "other"
    )


def _name_at(items: list[Item]) -> int | None:
    """Where the name of the run stands: behind a dash, and before it only the run's length and ends."""
    ends = 0
    for number, item in enumerate(items[1:], start=1):
        if (item.kind in PLACE_KINDS or _is_side(item)) and _behind_dash(items, number):
            behind = items[number + 1] if number + 1 < len(items) else None
            told = behind is not None and behind.kind in ("measure", "colon")
            return number if ends and not told else None
        if item.kind == "break" or item.text in DASHES or item.kind in OF_THE_RUN:
            ends += item.kind in ("end", "end word", "end pair")
            continue
        return None
    return None


def _is_side(item: Item) -> bool:
    return item.kind == "lr" and item.value in LR_SIDE


def _behind_dash(items: list[Item], number: int) -> bool:
    return items[number - 1].text in DASHES or items[number - 1].kind == "arrow"

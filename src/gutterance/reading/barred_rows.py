"""Rows that a crew parts with bars, without headings: `|| F || 58-0 || oc/oc || dp L`."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.items import Item, Line

FEWEST_BARS = 2
NAMES = frozenset({"initial", "direction", "lr", "part", "storey", "numbered", "quarter", "place"})
"""Kinds of items that a row is named by."""


def drop_bars(lines: list[Line]) -> None:
    """Take the bars away that stand before a row's name or right behind it, and one of two."""
    for line in lines:
        if line.text.count("|") < FEWEST_BARS:
            continue
        kept: list[Item] = []
        named = False
        for item in line.items:
            if item.text.strip("|") == "":
                before = kept[-1] if kept else None
                if before is None or before.text == "|" or (not named and before.kind in NAMES):
                    continue
            elif kept and kept[-1].text == "|":
                named = True
            kept.append(item)
        while kept and kept[-1].text == "|":
            kept.pop()
        line.items = kept

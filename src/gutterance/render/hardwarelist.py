"""The hardware list: what to load, how many, and why so many."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.plain import columns, harmless, heading, page

if TYPE_CHECKING:
    from gutterance.lists.models import Lists
    from gutterance.shop import Shop


def hardware_list(lists: Lists, shop: Shop | None = None) -> str:
    """Items with how many to load; how many of them belong to something on hold; and why so many."""
    lines = heading("HARDWARE", lists.title)
    rows = [["", "load", "item", "on hold", "why"]]
    for one in lists.hardware:
        load = one.count + one.spare
        count = str(load) if one.unit == "each" else f"{load} {many(one.unit, load)}"
        held = str(one.on_hold) if one.on_hold else ""
        spare = f"{one.count} used, {one.spare} spare; " if one.spare else ""
        rows.append(["[ ]", count, harmless(one.item), held, spare + harmless(one.why)])
    lines += columns(rows) if lists.hardware else ["Nothing to load yet."]
    if shop is not None:
        lines += ["", f"Counted, and spares added, by the rules of: {harmless(shop.name)}."]
    return page(lines)


def many(unit: str, count: int) -> str:
    """A unit in its plural: its first word bears the s (`lengths of 10' 0"`)."""
    if count == 1:
        return unit
    first, space, rest = unit.partition(" ")
    return f"{first}s{space}{rest}"

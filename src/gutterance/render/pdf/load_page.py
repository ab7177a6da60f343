"""The load list on paper, for the trailer: a box to tick, how many, of what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.cutlist import coil_words
from gutterance.render.hardwarelist import many
from gutterance.render.pdf.blocks import Block, heading, said, table
from gutterance.render.plain import tape

if TYPE_CHECKING:
    from gutterance.lists.models import Hardware, Lists
    from gutterance.shop import Shop


def load_page(lists: Lists, shop: Shop | None) -> list[Block]:
    """Coil first, then the hardware and pipe with their spares; what is counted for held parts is told."""
    blocks: list[Block] = []
    if lists.coil_runs:
        rows = [
            [tape(one.order or one.total), f"coil {one.coil}", coil_words(one)] for one in lists.coil_runs
        ]
        blocks.append(heading("Coil"))
        blocks.append(table(["load", "item", ""], rows, ["0.9fr", "1.5fr", "1.6fr"], big=[0, 1], tick=True))
    blocks.append(heading("Hardware and pipe"))
    if lists.hardware:
        rows = [[_count(one), one.item, _why(one)] for one in lists.hardware]
        blocks.append(
            table(["load", "item", "why"], rows, ["0.9fr", "1.5fr", "1.6fr"], big=[0, 1], tick=True)
        )
    else:
        blocks.append(said("Nothing to load yet."))
    held = [one.id for one in lists.pieces if one.hold] + [
        f"downpipe {one.id}" for one in lists.downpipes if one.hold
    ]
    if held:
        blocks.append(
            said(f"On hold, and neither in coil nor in pipe above: {', '.join(held)}.", bold=True, mark="?")
        )
    longest = max((one.back for one in lists.pieces if one.back is not None and not one.hold),
                  key=lambda one: one.inches, default=None)  # fmt: skip
    if longest is not None:
        blocks.append(said(f"Longest piece to carry: {tape(longest)}."))
    if shop is not None:
        blocks.append(said(f"Counted, and spares added, by the rules of: {shop.name}.", size=8.5))
    return blocks


def _count(one: Hardware) -> str:
    load = one.count + one.spare
    return str(load) if one.unit == "each" else f"{load} {many(one.unit, load)}"


def _why(one: Hardware) -> str:
    spare = f"{one.count} used, {one.spare} spare; " if one.spare else ""
    held = f"{one.on_hold} for what is on hold; " if one.on_hold else ""
    return spare + held + one.why

"""Sealant and rivets: the bead and the rivets each joint takes, and the tubes that come to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.layout.corners import CORNER_ENDS
from gutterance.layout.wording import shown
from gutterance.lists.models import Hardware

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.layout import Layout
    from gutterance.lists.items import ItemMaker
    from gutterance.shop import Shop


def sealing(layout: Layout, shop: Shop, item: ItemMaker) -> list[Hardware]:
    """Tubes and rivets for every corner, end cap, outlet and lap, those on hold among them.

    Tubes = sum of beads / what a tube gives, rounded up. Bead and yield are shop rules (common practice, no
    source).
    """
    rules = shop.sealing
    counts, held = _joints(layout), _joints(layout, held=True)
    beads = (
        rules.bead_at_corner.inches,
        rules.bead_at_end_cap.inches,
        rules.bead_at_outlet.inches,
        rules.bead_at_lap.inches,
    )
    each = (rules.rivets_at_corner, rules.rivets_at_end_cap, rules.rivets_at_outlet, rules.rivets_at_lap)
    joints = ", ".join(
        f"{count} {what}{'s' if count != 1 else ''}" for what, count in counts.items() if count
    )
    bead = _sum(counts, beads)
    system = layout.runs[0].system if layout.runs else "imperial"
    tubes = _tubes(bead, rules.tube_gives.inches)
    without = _tubes(bead - _sum(held, beads), rules.tube_gives.inches)
    tube = shown(rules.tube_gives.inches, system)
    why = f"{shown(bead, system)} of bead at {tube} a tube: {joints}"
    rivets, waiting = (sum(a * b for a, b in zip(one.values(), each, strict=True)) for one in (counts, held))
    return [
        Hardware(item="sealant", count=tubes, unit="tube", on_hold=tubes - without, why=why),
        item("rivet", rivets, waiting, joints, "rivets"),
    ]


def _tubes(bead: Fraction, gives: Fraction) -> int:
    return int(-(bead // -gives))


def _sum(counts: dict[str, int], beads: tuple[Fraction, ...]) -> Fraction:
    return sum((count * bead for count, bead in zip(counts.values(), beads, strict=True)), 0 * beads[0])


def _joints(layout: Layout, *, held: bool = False) -> dict[str, int]:
    """How many joints there are of each kind; only those of pieces on hold where `held`."""
    pieces = [piece for piece in layout.pieces if piece.hold or not held]
    ends = [(piece, "left", piece.left) for piece in pieces] + [
        (piece, "right", piece.right) for piece in pieces
    ]
    corners = {
        layout.corners.get((piece.run, "left" if side == "left" else "right"))
        for piece, side, end in ends
        if end in CORNER_ENDS
    }
    # a lap at the end of a run is met by another run's, or by gutter that is not on the sheet
    laps = max(sum(end == "lap" and at == side for _, at, end in ends) for side in ("left", "right"))
    return {
        "corner": len(corners - {None}),
        "end cap": sum(end in ("end cap", "wall") for _, _, end in ends),
        "outlet": sum(len(piece.holes) for piece in pieces),
        "lap": laps,
    }

"""The pieces onto coils, and the order to run them in."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.lists.models import CoilRun, MachineStep
from gutterance.measure.length import Length
from gutterance.stock.coils import Coil, CoilPiece, CoilUse, onto_coils
from gutterance.stock.machine_order import Place, Stretch, machine_order

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.layout import Layout
    from gutterance.lists.models import Piece
    from gutterance.lists.rounding import Rounder
    from gutterance.measure.length import System
    from gutterance.shop import Shop

Kind = tuple[str | None, Length]


def run_coils(
    layout: Layout, pieces: Sequence[Piece], shop: Shop, rounder: Rounder, system: System
) -> tuple[list[MachineStep], list[CoilRun]]:
    """The machine's steps, nothing on hold among them, and what is run off which coil."""
    stretches = _stretches(layout, pieces)
    by_id = {piece.id: piece for piece in pieces}
    width_of = {}
    for laid in layout.pieces:
        profile = layout.runs[laid.run].gutter.profile
        if profile is not None:
            width_of[laid.id] = profile.coil_width
    kinds: dict[Kind, list[CoilPiece]] = defaultdict(list)
    for step in machine_order(stretches, {}):
        coil = by_id[step.piece].coil
        if coil is not None and step.piece in width_of:
            kind = by_id[step.piece].colour, width_of[step.piece]
            kinds[kind].append(CoilPiece(step.piece, coil.inches))
    uses = [(kind, use) for kind, wanted in kinds.items() for use in _uses(kind, wanted, shop)]
    coil_of = {one.id: _name(kind, use, shop) for kind, use in uses for one in use.pieces}
    steps = machine_order(stretches, coil_of)
    ranks = {step.piece: rank for rank, step in enumerate(steps)}
    uses.sort(key=lambda one: min(ranks[piece.id] for piece in one[1].pieces))
    return (
        [MachineStep(piece=one.piece, coil=one.coil, why=one.why, hang=one.hang) for one in steps],
        [_coil_run(kind, use, ranks, shop, rounder, system) for kind, use in uses],
    )


def _stretches(layout: Layout, pieces: Sequence[Piece]) -> list[Stretch]:
    by_run: dict[int, list[Place]] = defaultdict(list)
    for laid, piece in zip(layout.pieces, pieces, strict=True):
        by_run[laid.run].append(Place(piece.id, outlet=bool(piece.outlets), ready=not piece.hold))
    return [
        Stretch([place for i in channel.runs for place in by_run[i]], channel.loop)
        for channel in layout.channels
    ]


def _uses(kind: Kind, wanted: list[CoilPiece], shop: Shop) -> list[CoilUse]:
    coils = [Coil(one.name, one.left.inches) for one in shop.coils_of(*kind)]
    return onto_coils(wanted, coils, shop.coil.lost_each.inches, shop.coil.change_worth.inches)


def _name(kind: Kind, use: CoilUse, shop: Shop) -> str:
    if use.coil is not None:
        return use.coil.name
    colour, width = kind
    to_order = ", to order" if shop.coils else ""
    return f"{colour or 'colour not said'}, {width.inch_text()}{to_order}"


def _coil_run(
    kind: Kind, use: CoilUse, ranks: dict[str, int], shop: Shop, rounder: Rounder, system: System
) -> CoilRun:
    left, order = use.left_over, use.total + use.lost if use.coil is None else None
    return CoilRun(
        coil=_name(kind, use, shop),
        colour=kind[0],
        width=kind[1],
        pieces=sorted((one.id for one in use.pieces), key=ranks.__getitem__),
        total=Length(use.total, system),
        lost=rounder.round(use.lost, system, "up"),
        left_over=rounder.round(left, system, "down"),
        order=rounder.round(order, system, "up"),
    )

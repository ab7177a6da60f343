"""What a corner does to a piece: the fit at its back, the mitre at its front, and the tab it may carry."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from gutterance.layout.values import PieceEnd, Reason, Side
from gutterance.layout.wording import shown, signed

if TYPE_CHECKING:
    from gutterance.measure.length import System
    from gutterance.sheet.values import End
    from gutterance.shop import Shop

SQUARE = Fraction(90)
FINENESS = 2**20
"""Tangents are kept to the nearest 1/1,048,576: on a 20 in wide gutter that is under 1/50,000 in."""

PIECE_ENDS: dict[str, PieceEnd] = {
    "outside corner": "outside mitre",
    "inside corner": "inside mitre",
    "end cap": "end cap",
    "wall": "wall",
    "splice": "lap",
}
CORNER_ENDS: dict[PieceEnd, str] = {
    "outside mitre": "outside", "inside mitre": "inside", "outside box": "outside", "inside box": "inside",
}  # fmt: skip
"""How a piece may end at a corner, and which way the corner turns."""


@dataclass(frozen=True, slots=True)
class EndTakeUp:
    """What one end of a run does: to the back [in], to the front beyond the back [in], and the tab [in].

    `back` or `front` is None where it cannot be known; the reasons say each step.
    """

    piece_end: PieceEnd
    turn: Fraction
    back: Fraction | None
    front: Fraction | None
    tab: Fraction
    why: tuple[Reason, ...]


@lru_cache(maxsize=1024)
def half_turn_tangent(turn: Fraction) -> Fraction:
    """tan(t/2) for a corner that turns by `turn` [degrees], 0 < turn < 180, as a rational.

    A square corner gives exactly 1. For others the tangent is irrational, so it is taken to the nearest
    1/2^20; the one rounding that a list shows is made later, to the shop's step.

    Raises ValueError outside 0 to 180 degrees.

    >>> half_turn_tangent(Fraction(90))
    Fraction(1, 1)
    >>> round(float(half_turn_tangent(Fraction(45))), 5)  # sqrt(2) - 1
    0.41421
    """
    if not 0 < turn < 180:
        raise ValueError(f"a corner turns by more than 0 and less than 180 degrees, not {turn}")
    if turn == SQUARE:
        return Fraction(1)
    return Fraction(round(math.tan(math.radians(turn) / 2) * FINENESS), FINENESS)


def mitre(top_width: Fraction, turn: Fraction) -> Fraction:
    """How much the front lip differs from the back at a corner: W tan(t/2) [in].

    `top_width` W [in] over 0; `turn` t [degrees], over 0 and under 180. Longer at an outside corner,
    shorter at an inside one. Source: plane geometry (the mitre line halves the angle between the two runs).

    A 5 in gutter at a square corner: 5 x tan 45 = 5 in.

    >>> mitre(Fraction(5), Fraction(90))
    Fraction(5, 1)
    """
    return top_width * half_turn_tangent(turn)


def end_take_up(
    side: Side,
    end: End | None,
    turn: Fraction,
    top_width: Fraction | None,
    shop: Shop,
    system: System,
    path: str,
    upstream: bool | None = None,
) -> EndTakeUp:
    """What the `side` end of a run, ending so, takes up by the shop's rules.

    At a made box the piece is square and shorter by the box's leg less what goes into it; elsewhere its back
    runs to the corner, with the fit, and its front to the mitre line. A hand mitre's tab lies on one of the
    two pieces: `upstream` says whether the water leaves this one there.

    `turn` [degrees] counts at corners only; `top_width` [in] is None where the gutter's shape is not known;
    `path` is the run's path on the sheet.
    """
    at = f"{path}.{side}_end"
    nothing = Fraction(0)
    if end is None:
        return EndTakeUp(
            "unknown", turn, None, None, nothing, (Reason("back", f"{side} end not known", None, at),)
        )
    piece_end = PIECE_ENDS[end]
    if end in ("end cap", "wall"):
        fit = (shop.fit.end_cap if end == "end cap" else shop.fit.wall).inches
        return EndTakeUp(piece_end, turn, fit, nothing, nothing, _fit_reason(fit, end, side, system, at))
    if end == "splice":
        half = shop.pieces.lap.inches / 2
        says = f"{signed(half, system)} half the lap, {side} end"
        return EndTakeUp(piece_end, turn, half, nothing, nothing, (Reason("back", says, half, at),))
    outside = end == "outside corner"
    rules = shop.corners
    method = corner_method(turn, shop)
    if method == "box mitre":
        leg = (rules.box_outside_leg if outside else rules.box_inside_leg).inches
        overlap = rules.box_overlap.inches
        steps = (
            Reason("back", f"{signed(-leg, system)} {end} {side}: leg of the made box, square cut", -leg, at),
            Reason("back", f"{signed(overlap, system)} goes into the box", overlap),
        )
        box: PieceEnd = "outside box" if outside else "inside box"
        return EndTakeUp(box, turn, overlap - leg, nothing, nothing, steps)
    fit = (shop.fit.outside_corner if outside else shop.fit.inside_corner).inches
    why = list(_fit_reason(fit, end, side, system, at))
    front: Fraction | None = None
    if top_width is not None:
        front = mitre(top_width, turn) * (1 if outside else -1)
        angle = "" if turn == SQUARE else f" of {degrees(turn)}"
        says = (
            f"{signed(front, system)} {end}{angle} {side}: mitre, {shown(top_width, system, feet=False)} top"
        )
        why.append(Reason("front", says, front, at))
    tab = nothing
    if method == "hand mitre" and _bears_tab(side, shop, upstream=upstream):
        tab = rules.tab.inches
        why.append(Reason("coil", f"{signed(tab, system)} lap tab, {side} end", tab))
    return EndTakeUp(piece_end, turn, fit, front, tab, tuple(why))


def corner_method(turn: Fraction, shop: Shop) -> str:
    """How a corner of that turn [degrees] is made: a box where boxes come in it, else as the shop says."""
    rules = shop.corners
    if rules.method != "box mitre" or any(Fraction(one) == turn for one in rules.box_turns):
        return rules.method
    return rules.without_box


def _bears_tab(side: Side, shop: Shop, *, upstream: bool | None) -> bool:
    rule = shop.corners.tab_on
    if rule == "upstream piece":
        # where nobody knows which way the water goes the tab is on one of the two pieces all the same
        return side == "right" if upstream is None else upstream
    return rule == f"{side} end"


def _fit_reason(fit: Fraction, end: str, side: Side, system: System, path: str) -> tuple[Reason, ...]:
    if fit == 0:
        return ()
    return (Reason("back", f"{signed(fit, system)} {end} {side}", fit, path),)


def degrees(turn: Fraction) -> str:
    """An angle as people write it: `45°`, `22.5°`."""
    return f"{turn.numerator if turn.denominator == 1 else f'{float(turn):g}'}°"

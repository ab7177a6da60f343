"""A downpipe's way back to the wall: elbow geometry, and the field rule beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.shop import PipeShape, Shop

FINENESS = 2**20
"""Sines and cotangents are kept to the nearest 1/1,048,576: under 1/8,000 in over a throw of 10 ft."""


@dataclass(frozen=True, slots=True)
class Return:
    """The gooseneck's cut length [in] and the height [in] that elbows and gooseneck take together."""

    rule: str
    gooseneck: Fraction
    drop: Fraction


@lru_cache(maxsize=256)
def _sine_and_cotangent(turn: float) -> tuple[Fraction, Fraction]:
    angle = math.radians(turn)
    sine = Fraction(round(math.sin(angle) * FINENESS), FINENESS)
    return sine, Fraction(round(FINENESS / math.tan(angle)), FINENESS)


def by_geometry(throw: Fraction, shape: PipeShape) -> Return:
    """By the elbow's own shape: gooseneck = H / sin b - 2 (leg_b - slip), drop = 2 leg_a + H cot b.

    `throw` H [in], 0 or more; b the elbow's turn [degrees], over 0 and under 90. A gooseneck of nothing
    or less means that the elbows alone already throw too far: the caller must refuse it.
    Source: plane trigonometry on the pipe's middle line.

    With H = 24 in and the generic 75 degree elbow the field rule's 20 in and 12 in come out to 1/64 in:

    >>> from gutterance.shop import load_shop
    >>> way = by_geometry(Fraction(24), load_shop().pipe("2x3"))
    >>> abs(way.gooseneck - 20) < Fraction(1, 64), abs(way.drop - 12) < Fraction(1, 64)
    (True, True)
    """
    sine, cotangent = _sine_and_cotangent(shape.elbow_turn)
    straight = 2 * (shape.leg_b.inches - shape.slip.inches)
    return Return("elbow geometry", throw / sine - straight, 2 * shape.leg_a.inches + throw * cotangent)


def elbow_to_elbow(shape: PipeShape) -> tuple[Fraction, Return]:
    """The throw [in] of two elbows pushed straight into each other, and what that takes.

    The slanted middle line is then 2 leg_b - slip, so the throw is (2 leg_b - slip) sin b and the drop
    2 leg_a + (2 leg_b - slip) cos b. Source: plane trigonometry on the pipe's middle line.

    The generic 75 degree elbow throws 6.345 x sin 75 = 6.13 in so:

    >>> from gutterance.shop import load_shop
    >>> throw, way = elbow_to_elbow(load_shop().pipe("2x3"))
    >>> round(float(throw), 2)
    6.13
    """
    sine, cotangent = _sine_and_cotangent(shape.elbow_turn)
    throw = (2 * shape.leg_b.inches - shape.slip.inches) * sine
    drop = 2 * shape.leg_a.inches + throw * cotangent
    return throw, Return("elbow to elbow", Fraction(0), drop)


def elbows_trimmed(throw: Fraction, shape: PipeShape) -> tuple[Fraction, Return] | None:
    """Two elbows in each other with their legs cut shorter, for a `throw` [in] under that of whole ones.

    The slanted middle line is H / sin b; each leg is then (H / sin b + slip) / 2 long, and must keep the
    slip. Returns what is cut off each leg [in] and the drop; None where too little of the legs would be
    left, or the throw is not under that of whole elbows. Source: plane trigonometry on the pipe's middle
    line.

    A 4 in ledge with the generic 75 degree elbow: 4 / sin 75 = 4.141; (4.141 + 1.5) / 2 = 2.821, 1.10 in
    off each:

    >>> from gutterance.shop import load_shop
    >>> off, way = elbows_trimmed(Fraction(4), load_shop().pipe("2x3"))
    >>> round(float(off), 2)
    1.1
    """
    sine, cotangent = _sine_and_cotangent(shape.elbow_turn)
    leg = (throw / sine + shape.slip.inches) / 2
    if not shape.slip.inches < leg < shape.leg_b.inches:
        return None
    drop = 2 * shape.leg_a.inches + throw * cotangent
    return shape.leg_b.inches - leg, Return("elbows trimmed", Fraction(0), drop)


def by_field_rule(wall_to_fascia: Fraction, shop: Shop) -> Return:
    """By the field rule: gooseneck = wall to fascia [in] - 4 in, drop = 12 in (both shop rules).

    Source: common practice, no source. True near 24 in for a 75 degree elbow; for others look at the
    geometry.

    >>> from gutterance.shop import load_shop
    >>> by_field_rule(Fraction(24), load_shop())
    Return(rule='field rule', gooseneck=Fraction(20, 1), drop=Fraction(12, 1))
    """
    rules = shop.downpipes
    return Return("field rule", wall_to_fascia - rules.field_less.inches, rules.field_drop.inches)

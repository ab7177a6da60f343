"""Legs of a stretch: gutter between two outlets, or an outlet and a closed end, and their depths."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.layout.values import PlacedOutlet
    from gutterance.shop import Shop

Place = tuple[int, Fraction]
"""A place along a channel: how many runs of unknown length lie left of it, and the known inches."""


def fall_over(length: Fraction, shop: Shop) -> Fraction:
    """The least fall [in] over `length` [in] by the shop's rate: drop x length / over.

    Source of the default rate, 1/4 in per 10 ft: common practice, no source. The arithmetic over 40 ft at
    that rate gives 1 in.

    >>> from gutterance.shop import load_shop
    >>> fall_over(Fraction(40 * 12), load_shop())
    Fraction(1, 1)
    """
    return shop.fall.drop.inches * length / shop.fall.over.inches


@dataclass(slots=True)
class Sink:
    """An outlet as the water sees it: its place, and its depth [in] where both its legs are known."""

    outlet: PlacedOutlet
    place: Place
    depth: Fraction | None = Fraction(0)
    doubt: bool = False


@dataclass(slots=True)
class Leg:
    """Gutter between two outlets, or an outlet and a closed end; `high` [in] counts from its left end.

    `said` is whether the note put the high point there.
    """

    left: Sink | None
    right: Sink | None
    start: Place
    length: Fraction | None
    high: Fraction | None = None
    high_below: Fraction | None = None
    doubt: bool = False
    said: bool = False

    def below(self, along: Fraction) -> Fraction | None:
        """Depth [in] at `along` [in] from the leg's left end; None where it is not known."""
        if along == 0 and self.left is not None:
            return self.left.depth
        if self.length is None or self.high is None or self.high_below is None:
            return None
        sink, reach = (self.left, self.high) if along <= self.high else (self.right, self.length - self.high)
        away = self.high - along if along <= self.high else along - self.high
        if reach == 0 or away == 0:
            return self.high_below
        if sink is None or sink.depth is None:
            return None
        return self.high_below + (sink.depth - self.high_below) * away / reach


def reach_to(leg: Leg, outlet: PlacedOutlet) -> Fraction:
    """How far [in] water runs along a leg to that outlet from the high point; 0 where not known."""
    if leg.length is None or leg.high is None:
        return Fraction(0)
    from_left = leg.left is not None and leg.left.outlet is outlet
    return leg.high if from_left else leg.length - leg.high


def reach_asked(leg: Leg, outlet: PlacedOutlet) -> Fraction:
    """The way [in] a leg itself asks an outlet to fall over; 0 where not known.

    Half a leg between two outlets, wherever their falls then meet: an outlet made deep by its other leg draws
    the high point away from it, but asks for no more fall.
    """
    if leg.length is None:
        return Fraction(0)
    if leg.left is None or leg.right is None:
        return leg.length
    return reach_to(leg, outlet) if leg.said else leg.length / 2


def by_place(sink: Sink) -> Place:
    """To sort outlets along their stretch."""
    return sink.place


def between(left: Place, right: Place) -> Fraction | None:
    """Known inches from one place to another, or None where a run of unknown length lies between them."""
    return right[1] - left[1] if left[0] == right[0] else None

"""How lettered runs stand to one another: their order round the house, and which end meets which run."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE

if TYPE_CHECKING:
    from gutterance.reading.builder import OutletDraft
    from gutterance.reading.items import Item
    from gutterance.reading.lettered.naming import Naming
    from gutterance.sheet.models import Reading


@dataclass(slots=True)
class OpenJoint:
    """A corner said of two runs, of which it is not known which ends meet there."""

    pair: tuple[str, str]
    value: str
    item: Item


@dataclass(slots=True)
class Ring:
    """The order of lettered runs, and what the note has said so far of which meets which.

    Walking left to right along each run goes round the house anticlockwise, so the right end of a run meets
    the left end of the next, and the other way round where the names go clockwise.
    """

    naming: Naming
    order: list[str]
    clockwise: bool
    meets: dict[tuple[str, str], str] = field(default_factory=dict)
    against: list[tuple[str, str, str]] = field(default_factory=list)
    kept: int = 0
    open_joints: list[OpenJoint] = field(default_factory=list)
    topic: str = "runs"
    heading: Item | None = None
    subject: str | None = None
    labelled: dict[str, OutletDraft] = field(default_factory=dict)
    named_ends: dict[tuple[str, str], str] = field(default_factory=dict)
    aliases: dict[str, set[str]] = field(default_factory=dict)
    sides: dict[str, set[str]] = field(default_factory=dict)
    storeys: dict[str, str] = field(default_factory=dict)
    rest: tuple[Reading[str], frozenset[frozenset[str]]] | None = None

    def side_toward(self, run: str, other: str) -> str | None:
        """The end of a run that meets the other: as said, else by the order; None where neither tells."""
        for side in OPPOSITE:
            if self.meets.get((run, side)) == other or self.meets.get((other, OPPOSITE[side])) == run:
                return side
        return self.side_by_order(run, other)

    def side_by_order(self, run: str, other: str) -> str | None:
        """The end of a run that meets the other where the names go round the house in order."""
        order = self.order
        if self.naming.no_order or run == other or run not in order or other not in order or len(order) < 2:
            return None
        here, there, last = order.index(run), order.index(other), len(order) - 1
        if there == here + 1:
            ahead = True
        elif there == here - 1:
            ahead = False
        elif {here, there} == {0, last}:
            ahead = here == last
        else:
            return None
        return "left" if ahead == self.clockwise else "right"

    def adjacent(self, first: str, second: str) -> bool:
        """Whether two runs stand side by side in the order, or were said to meet."""
        return self.side_toward(first, second) is not None

    def between(self, first: str, last: str) -> list[str]:
        """The names from one to another: `A to D`."""
        if first not in self.order or last not in self.order:
            return [first, last]
        here, there = self.order.index(first), self.order.index(last)
        return (
            self.order[here : there + 1] if here <= there else [*self.order[here:], *self.order[: there + 1]]
        )

    def meet(self, run: str, side: str, other: str) -> None:
        """Note that a run's end was said to meet another run."""
        by_order = self.side_by_order(run, other)
        if by_order == side:
            self.kept += 1
        elif by_order is not None:
            self.against.append((run, side, other))
        self.meets.setdefault((run, side), other)
        self.meets.setdefault((other, OPPOSITE[side]), run)

    def neighbour(self, run: str, side: str) -> tuple[str, bool] | None:
        """The run that meets an end, and whether the note vouches for that; None where none is known."""
        said = self.meets.get((run, side))
        if said is not None:
            return said, True
        if self.naming.no_order or self.against or run not in self.order or len(self.order) < 2:
            return None
        step = -1 if (side == "left") != self.clockwise else 1
        at = self.order.index(run) + step
        closed = self.naming.closed
        if not 0 <= at < len(self.order):
            if not closed:
                return None
            at %= len(self.order)
        other = self.order[at]
        if self.meets.get((other, OPPOSITE[side]), run) != run:
            return None
        return other, self.naming.in_order or self.kept > 0

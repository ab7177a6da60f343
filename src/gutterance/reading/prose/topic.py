"""What a message is about from sentence to sentence: the run told of, the part, its pipes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE, RECTANGLE
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.prose.facts import Pipes
    from gutterance.reading.prose.naming import Named

SIDES_OF_A_PART = ("left side", "right side")
"""The two sides of what stands out from a house."""


@dataclass(slots=True)
class Topic:
    """What the sentences so far leave in mind."""

    runs: list[PlaceName] = field(default_factory=list)
    kind: str = "run"
    pipes: Pipes | None = None
    part: str | None = None
    flank: str | None = None
    last_side: list[PlaceName] | None = None
    line: int = 0
    told: list[PlaceName] = field(default_factory=list)
    meets: dict[tuple[str, str], str] = field(default_factory=dict)
    doubted: list[tuple[int, int, int]] = field(default_factory=list)
    by_halves: bool = False

    def places(self, named: Named, walk: Walk) -> list[PlaceName] | None:
        """The runs that a name means here; None where that cannot be told."""
        part = self.part if (named.of_it or named.its) and named.part is None else named.part
        house = named.of_house
        if named.shape == "part":
            return [PlaceName(named.storey, named.part, None)]
        if named.shape == "flanks":
            owner = part if part is not None else None if house else self.part
            return [PlaceName(named.storey, owner, side) for side in SIDES_OF_A_PART]
        if named.shape == "face":
            owner = part or self.part
            return None if owner is None else [PlaceName(named.storey, owner, "front")]
        if named.shape == "flank":
            if part is not None:
                return None
            side = self.flank or _only_flank(walk)
            return None if side is None else [PlaceName(named.storey, None, side)]
        if named.shape == "wall of part":
            owner = part or self.part
            return None if owner is None else [PlaceName(named.storey, owner, named.direction)]
        if part is None and not house and self.part is not None and (named.its or self._of_part(named, walk)):
            part = self.part
        here = PlaceName(named.storey, part, named.direction)
        if named.storey is None and part is None and not any(run.place == here for run in walk.runs):
            # `the upper front is 31 feet; the front one has a pipe`
            alike = [
                run.place
                for run in walk.runs
                if run.place.part is None and run.place.direction == here.direction and run.has_data
            ]
            if len(alike) == 1:
                return alike
        return [here]

    def _of_part(self, named: Named, walk: Walk) -> bool:
        """`the front`, in a paragraph about the garage: the garage's, where the house's was told before."""
        of_part = any(
            run.place.part == self.part and run.place.direction == named.direction for run in walk.runs
        )
        of_house = any(
            run.place.part is None and run.place.direction == named.direction and "length" in run.fields
            for run in walk.runs
        )
        return of_house or of_part

    def side_towards(self, other: str) -> str:
        """Which end of the run in mind is the one by a neighbour, or nothing."""
        if len(self.runs) != 1:
            return ""
        here = self.runs[0]
        if here.part is None and here.direction is not None:
            side = RECTANGLE.get((here.direction, other))
            if side is not None:
                return side
        return self.meets.get((here.name, other), "")

    def told_end(self, side: str, other: str) -> None:
        """Keep that the run in mind meets a neighbour with that end."""
        if len(self.runs) == 1 and side in OPPOSITE:
            here = self.runs[0]
            self.meets[here.name, other] = side
            if other == "next door" and here == PlaceName(direction="front"):
                self.flank = f"{OPPOSITE[side]} side"
            if other == "flank" and here.part is None and here.direction in ("front", "back"):
                met = {value: name for (run, name), value in RECTANGLE.items() if run == here.direction}
                self.flank = met.get(side)


def _only_flank(walk: Walk) -> str | None:
    """The one side of the house that was told, where only one was."""
    told = {
        run.place.direction
        for run in walk.runs
        if run.place.part is None and run.place.direction in SIDES_OF_A_PART and run.has_data
    }
    return told.pop() if len(told) == 1 else None

"""Each part of an outlet's share against the flow it gets [l/s], by one method."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from gutterance.drainage import manning
from gutterance.drainage.errors import OutOfRangeError
from gutterance.drainage.method import Capacity, Reach

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.drainage.method import Method
    from gutterance.drainage.rainfall import Rainfall
    from gutterance.drainage.sections import GutterSection, PipeSection
    from gutterance.drainage.share import Share, Side

Part = Literal["gutter", "outlet", "downpipe"]


@dataclass(slots=True)
class Judged:
    """A part, the flow [l/s] it gets and what it can take; `uniform` is Manning's figure [l/s] beside it."""

    part: Part
    of: str
    flow: float
    capacity: Capacity
    side: Side | None = None
    uniform: float | None = None

    @property
    def full(self) -> float | None:
        """How full [-]; None where the capacity is not known."""
        return self.capacity.full(self.flow)


def side_flow(side: Side, rain: Rainfall, method: Method) -> float:
    """The flow [l/s] that comes along one side."""
    area = sum(strip.plan * method.area(strip.rise).factor for strip in side.strips)
    return method.flow(area, rain)


def judge_side(side: Side, share: Share, rain: Rainfall, method: Method, roughness: float) -> Judged:
    """One side's gutter; `roughness` is Manning's n for the figure beside it."""
    reach = Reach(side.length, share.slope, side.bends)
    made = [(tried(method.gutter, section, reach), section) for section in side.sections]
    # where sizes change on the way, the one that can take least decides; one that is not known decides first
    capacity, section = min(made, key=lambda pair: -1 if pair[0].flow is None else pair[0].flow)
    uniform = manning.full_flow(section, float(share.slope), roughness) if share.slope > 0 else None
    return Judged("gutter", section.name, side_flow(side, rain, method), capacity, side, uniform)


def judge_pipe(gutter: GutterSection, pipe: PipeSection, flow: float, method: Method) -> list[Judged]:
    """The outlet's hole, where the method has a rule for it, and the downpipe."""
    out: list[Judged] = []
    try:
        hole = method.outlet(gutter, pipe)
    except OutOfRangeError as error:
        hole = Capacity(None, "out of range", str(error))
    if hole is not None:
        out.append(Judged("outlet", f"hole for {pipe.name}", flow, hole))
    out.append(Judged("downpipe", pipe.name, flow, tried(method.pipe, pipe)))
    return out


def tried(ask: Callable[..., Capacity], *args: object) -> Capacity:
    """What a method answers; no capacity, and why, where it does not reach."""
    try:
        return ask(*args)
    except OutOfRangeError as error:
        return Capacity(None, "out of range", str(error))

"""One outlet's share of a roof against its gutter, hole and downpipe, by one method, and what would mend it.

Lengths are exact inches, areas square metres, flows litres a second, rises in 12.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from gutterance.drainage import manning
from gutterance.drainage.errors import OutOfRangeError
from gutterance.drainage.method import Capacity, Counted, Reach
from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from gutterance.drainage.method import Method
    from gutterance.drainage.rainfall import Rainfall
    from gutterance.drainage.sections import GutterSection, PipeSection

Part = Literal["gutter", "outlet", "downpipe"]
MendKind = Literal["bigger gutter", "bigger pipe", "one more outlet", "more fall"]
_LARGEST_SCALE = Fraction(4)
_SCALE_STEP = Fraction(1, 64)


@dataclass(frozen=True, slots=True)
class Strip:
    """A piece of roof that drains to one piece of a run's gutter.

    length and roof_run: [in]. rise: [-] in 12, where known. gutter: the run's. after_bend: whether a change
    of direction over 10° lies between it and the strip before it on the way up from the outlet.
    """

    run: str
    length: Fraction
    roof_run: Fraction
    rise: Fraction | None
    gutter: GutterSection
    after_bend: bool = False

    @property
    def plan(self) -> float:
        """Plan area [m²]."""
        return float(self.length * self.roof_run * MM_PER_INCH**2) / 1_000_000

    def cut(self, length: Fraction) -> Strip:
        """The part of it next to the outlet, `length` [in] long."""
        return Strip(self.run, length, self.roof_run, self.rise, self.gutter, self.after_bend)


@dataclass(frozen=True, slots=True)
class Side:
    """The gutter to one side of an outlet, from the outlet up to its high point or stop end."""

    toward: Literal["left", "right"]
    strips: tuple[Strip, ...]

    @property
    def length(self) -> Fraction:
        """How far [in] the water comes."""
        return sum((strip.length for strip in self.strips), Fraction(0))

    @property
    def bends(self) -> int:
        """Changes of direction on the way."""
        return sum(strip.after_bend for strip in self.strips)

    def near_half(self) -> Side:
        """What is left of it when one more outlet stands at its far end and the two share it."""
        left, kept = self.length / 2, []
        for strip in self.strips:
            if left <= 0:
                break
            kept.append(strip.cut(min(strip.length, left)))
            left -= strip.length
        return Side(self.toward, tuple(kept))

    @property
    def sections(self) -> list[GutterSection]:
        """The gutters it is made of, each once."""
        return list(dict.fromkeys(strip.gutter for strip in self.strips))


@dataclass(frozen=True, slots=True)
class Share:
    """What drains to one outlet: its two sides, the gutter it is cut in, its pipe, the gutter's fall [-]."""

    sides: tuple[Side, ...]
    gutter: GutterSection
    pipe: PipeSection | None
    slope: Fraction


@dataclass(frozen=True, slots=True)
class Mend:
    """A change that brings a part to `full` [-] by the same method; over 1 where it will not do alone."""

    part: Part
    kind: MendKind
    what: str
    full: float
    at: Side | None = None


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


@dataclass(slots=True)
class Outcome:
    """What came of one share: what was counted of each strip, and each part judged; or why none of it."""

    counted: list[tuple[Strip, Counted]] = field(default_factory=list)
    area: float = 0.0
    flow: float = 0.0
    judged: list[Judged] = field(default_factory=list)
    mends: list[Mend] = field(default_factory=list)
    lacks: str | None = None


@dataclass(frozen=True, slots=True)
class Offers:
    """What the shop has: gutters of the same make and pipes of the same kind to choose a bigger one from."""

    gutters: tuple[GutterSection, ...] = ()
    pipes: tuple[PipeSection, ...] = ()


def percent(full: float) -> int:
    """How full, in whole per cent, rounded up, so that nothing over full ever reads 100 %.

    >>> percent(0.731), percent(1.0001)
    (74, 101)
    """
    return math.ceil(full * 100 - 1e-9)


def judge(share: Share, rain: Rainfall, method: Method, offers: Offers, roughness: float) -> Outcome:
    """Judge an outlet's share by one method. What the method does not reach gets no capacity and says why."""
    outcome = Outcome()
    try:
        for side in share.sides:
            outcome.counted += [(strip, method.area(strip.rise)) for strip in side.strips]
    except OutOfRangeError as error:
        outcome.lacks = str(error)
        return outcome
    outcome.area = sum(strip.plan * counted.factor for strip, counted in outcome.counted)
    outcome.flow = method.flow(outcome.area, rain)
    for side in share.sides:
        if side.length > 0:
            outcome.judged.append(_judge_side(side, share, rain, method, roughness))
    if share.pipe is not None:
        outcome.judged += _judge_pipe(share.gutter, share.pipe, outcome.flow, method)
    for one in outcome.judged:
        if one.full is None or one.full > 1:
            outcome.mends += list(_mends(one, share, rain, method, offers))
    return outcome


def _side_flow(side: Side, rain: Rainfall, method: Method) -> float:
    area = sum(strip.plan * method.area(strip.rise).factor for strip in side.strips)
    return method.flow(area, rain)


def _judge_side(side: Side, share: Share, rain: Rainfall, method: Method, roughness: float) -> Judged:
    reach = Reach(side.length, share.slope, side.bends)
    made = [(_tried(method.gutter, section, reach), section) for section in side.sections]
    # where sizes change on the way, the one that can take least decides; one that is not known decides first
    capacity, section = min(made, key=lambda pair: -1 if pair[0].flow is None else pair[0].flow)
    uniform = manning.full_flow(section, float(share.slope), roughness) if share.slope > 0 else None
    return Judged("gutter", section.name, _side_flow(side, rain, method), capacity, side, uniform)


def _judge_pipe(gutter: GutterSection, pipe: PipeSection, flow: float, method: Method) -> list[Judged]:
    out: list[Judged] = []
    try:
        hole = method.outlet(gutter, pipe)
    except OutOfRangeError as error:
        hole = Capacity(None, "out of range", str(error))
    if hole is not None:
        out.append(Judged("outlet", f"hole for {pipe.name}", flow, hole))
    out.append(Judged("downpipe", pipe.name, flow, _tried(method.pipe, pipe)))
    return out


def _tried(ask: Callable[..., Capacity], *args: object) -> Capacity:
    try:
        return ask(*args)
    except OutOfRangeError as error:
        return Capacity(None, "out of range", str(error))


def _mends(one: Judged, share: Share, rain: Rainfall, method: Method, offers: Offers) -> Iterable[Mend]:
    if one.part == "gutter":
        assert one.side is not None
        reach = Reach(one.side.length, share.slope, one.side.bends)
        yield from _steeper(one, method, reach)
        yield from _bigger_gutter(one, method, reach, offers)
        half = one.side.near_half()
        shorter = Reach(half.length, share.slope, half.bends)
        capacity = min(
            (_tried(method.gutter, section, shorter).flow or 0.0 for section in half.sections), default=0.0
        )
        if capacity > 0:
            yield Mend("gutter", "one more outlet", "", _side_flow(half, rain, method) / capacity, one.side)
        return
    assert share.pipe is not None
    yield from _bigger_pipe(one, share, method, offers)
    longest = max(share.sides, key=lambda side: _side_flow(side, rain, method), default=None)
    if one.capacity.flow and longest is not None and longest.length > 0:
        less = _side_flow(longest, rain, method) - _side_flow(longest.near_half(), rain, method)
        yield Mend(one.part, "one more outlet", "", (one.flow - less) / one.capacity.flow, longest)


def _steeper(one: Judged, method: Method, reach: Reach) -> Iterable[Mend]:
    assert one.side is not None
    for slope in method.slopes(reach):
        made = [_tried(method.gutter, section, Reach(reach.length, slope, reach.bends)).flow
                for section in one.side.sections]  # fmt: skip
        if all(made) and one.flow <= min(flow for flow in made if flow is not None):
            least = min(flow for flow in made if flow is not None)
            yield Mend("gutter", "more fall", f"{slope * 12} in to the foot", one.flow / least, one.side)
            return


def _bigger_gutter(one: Judged, method: Method, reach: Reach, offers: Offers) -> Iterable[Mend]:
    assert one.side is not None
    now = max(one.side.sections, key=lambda section: section.area_mm2)
    larger = [section for section in offers.gutters if section.area_mm2 > now.area_mm2]
    for section in sorted(larger, key=lambda section: section.area_mm2):
        flow = _tried(method.gutter, section, reach).flow
        if flow is not None and one.flow <= flow:
            yield Mend("gutter", "bigger gutter", section.name, one.flow / flow, one.side)
            return
    for scale in _scales():
        section = now.scaled(scale)
        flow = _tried(method.gutter, section, reach).flow
        if flow is not None and one.flow <= flow:
            what = f"{_quarter_up(section.top)} across, in the same proportions"
            yield Mend("gutter", "bigger gutter", what, one.flow / flow, one.side)
            return


def _scales() -> Iterable[Fraction]:
    """Enlargements to try where the shop has nothing large enough, smallest first."""
    return (1 + _SCALE_STEP * step for step in range(1, int((_LARGEST_SCALE - 1) / _SCALE_STEP) + 1))


def _quarter_up(inches: Fraction) -> str:
    up = -(-inches * 4 // 1) / Fraction(4)
    return f"{float(up):g} in ({float(up * MM_PER_INCH):.0f} mm)"


def _bigger_pipe(one: Judged, share: Share, method: Method, offers: Offers) -> Iterable[Mend]:
    assert share.pipe is not None
    for pipe in sorted(offers.pipes, key=lambda pipe: pipe.area_in2):
        full = _full_of(pipe, one, share, method)
        if full is not None and full <= 1:
            yield Mend(one.part, "bigger pipe", pipe.name, full)
            return
    for scale in _scales():
        pipe = share.pipe.scaled(scale)
        full = _full_of(pipe, one, share, method)
        if full is not None and full <= 1:
            wide = _quarter_up(max(pipe.along, pipe.out))
            what = f"{wide} round" if pipe.round else f"{wide} on its wide side, in the same proportions"
            yield Mend(one.part, "bigger pipe", what, full)
            return


def _full_of(pipe: PipeSection, one: Judged, share: Share, method: Method) -> float | None:
    """How full [-] the fuller of hole and pipe would be; None where either is not known."""
    fulls = [judged.full for judged in _judge_pipe(share.gutter, pipe, one.flow, method)]
    return None if None in fulls else max(full for full in fulls if full is not None)

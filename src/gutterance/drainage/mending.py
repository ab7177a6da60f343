"""What would mend a part that gets more rain than it can take, worked out by the same method."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from gutterance.drainage.judging import judge_pipe, side_flow, tried
from gutterance.drainage.method import Reach
from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.drainage.judging import Judged, Part
    from gutterance.drainage.method import Method
    from gutterance.drainage.rainfall import Rainfall
    from gutterance.drainage.sections import GutterSection, PipeSection
    from gutterance.drainage.share import Share, Side

MendKind = Literal["bigger gutter", "bigger pipe", "one more outlet", "more fall"]
_LARGEST_SCALE = Fraction(4)
_SCALE_STEP = Fraction(1, 64)


@dataclass(frozen=True, slots=True)
class Mend:
    """A change that brings a part to `full` [-] by the same method; over 1 where it will not do alone."""

    part: Part
    kind: MendKind
    what: str
    full: float
    at: Side | None = None


@dataclass(frozen=True, slots=True)
class Offers:
    """What the shop has: gutters of the same make and pipes of the same kind to choose a bigger one from."""

    gutters: tuple[GutterSection, ...] = ()
    pipes: tuple[PipeSection, ...] = ()


def mends(one: Judged, share: Share, rain: Rainfall, method: Method, offers: Offers) -> Iterable[Mend]:
    """What would mend a part that is too full, or that the method gives no capacity as it is."""
    if one.part == "gutter":
        assert one.side is not None
        reach = Reach(one.side.length, share.slope, one.side.bends)
        yield from _steeper(one, method, reach)
        yield from _bigger_gutter(one, method, reach, offers)
        half = one.side.near_half()
        shorter = Reach(half.length, share.slope, half.bends)
        capacity = min(
            (tried(method.gutter, section, shorter).flow or 0.0 for section in half.sections), default=0.0
        )
        if capacity > 0:
            yield Mend("gutter", "one more outlet", "", side_flow(half, rain, method) / capacity, one.side)
        return
    assert share.pipe is not None
    yield from _bigger_pipe(one, share, method, offers)
    longest = max(share.sides, key=lambda side: side_flow(side, rain, method), default=None)
    if one.capacity.flow and longest is not None and longest.length > 0:
        less = side_flow(longest, rain, method) - side_flow(longest.near_half(), rain, method)
        yield Mend(one.part, "one more outlet", "", (one.flow - less) / one.capacity.flow, longest)


def _steeper(one: Judged, method: Method, reach: Reach) -> Iterable[Mend]:
    assert one.side is not None
    for slope in method.slopes(reach):
        made = [tried(method.gutter, section, Reach(reach.length, slope, reach.bends)).flow
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
        flow = tried(method.gutter, section, reach).flow
        if flow is not None and one.flow <= flow:
            yield Mend("gutter", "bigger gutter", section.name, one.flow / flow, one.side)
            return
    for scale in _scales():
        section = now.scaled(scale)
        flow = tried(method.gutter, section, reach).flow
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
    fulls = [judged.full for judged in judge_pipe(share.gutter, pipe, one.flow, method)]
    return None if None in fulls else max(full for full in fulls if full is not None)

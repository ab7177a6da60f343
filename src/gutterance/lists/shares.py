"""Which gutter drains to which outlet: each stretch, walked from every outlet to its high points and ends."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from gutterance.layout import Layout
    from gutterance.layout.values import Channel, PlacedOutlet, Side
    from gutterance.sheet.models import Sheet

_SLIGHT_TURN = 10
"""Degrees: EN 12056-3, 5.1.8, counts a change of direction over this as an angle."""


@dataclass(frozen=True, slots=True)
class GutterPart:
    """A piece of one run's gutter, from `start` to `end` [in] of the run."""

    run: int
    start: Fraction
    end: Fraction
    after_bend: bool = False


@dataclass(frozen=True, slots=True)
class _Joint:
    """Where two runs meet: whether the water turns there, and how low [in] the gutter lies."""

    bend: bool
    below: Fraction | None


@dataclass(frozen=True, slots=True)
class _High:
    """A high point."""


@dataclass(frozen=True, slots=True)
class _Gap:
    """A run along which the water cannot be followed, and why not."""

    why: str


@dataclass(frozen=True, slots=True)
class _Outlet:
    """An outlet, with its place known."""

    outlet: PlacedOutlet


_Mark = GutterPart | _Joint | _High | _Gap | _Outlet


@dataclass(slots=True)
class Drained:
    """One side of an outlet: its gutter from the outlet up; `open` says why it could not be followed."""

    toward: Side
    lengths: list[GutterPart] = field(default_factory=list)
    open: str | None = None
    halfway: bool = False


class Stretches:
    """The stretches of a layout, walked from outlet to outlet. Time grows with the walk's length alone."""

    def __init__(self, layout: Layout, sheet: Sheet) -> None:
        self.layout = layout
        self.sheet = sheet
        self._right_ends: dict[int, Fraction | None] = {}
        self._highs: dict[int, list[Fraction]] = defaultdict(list)
        for point in layout.falls:
            if point.what == "right end":
                self._right_ends[point.run] = point.below
            elif point.what == "high point" and point.at is not None:
                self._highs[point.run].append(point.at)

    def sides(self, channel: Channel) -> list[tuple[PlacedOutlet, list[Drained]]]:
        """Each outlet of a stretch with its two sides. Outlets without a place have none."""
        marks = self._marks(channel)
        out: list[tuple[PlacedOutlet, list[Drained]]] = []
        for at, mark in enumerate(marks):
            if isinstance(mark, _Outlet):
                before = _from(marks, at, -1, loop=channel.loop)
                after = _from(marks, at, 1, loop=channel.loop)
                out.append((mark.outlet, [_walk("left", before), _walk("right", after)]))
        out += [(outlet, []) for outlet in channel.outlets if outlet.at is None]
        return out

    def _marks(self, channel: Channel) -> list[_Mark]:
        """The stretch from left to right: gutter, outlets, high points, and the joints between runs."""
        here: dict[int, list[PlacedOutlet]] = defaultdict(list)
        for outlet in channel.outlets:
            here[outlet.run].append(outlet)
        marks: list[_Mark] = []
        following = [*channel.runs[1:], *(channel.runs[:1] if channel.loop else [])]
        for number, i in enumerate(channel.runs):
            marks += _run_marks(i, self.layout, here[i], self._highs[i])
            if number < len(following):
                bend = _turns(self.sheet, i, following[number])
                marks.append(_Joint(bend, self._right_ends.get(i)))
        return marks


def _from(marks: list[_Mark], at: int, step: int, *, loop: bool) -> Iterator[_Mark]:
    """The marks after one, to the right (1) or the left (-1); round a loop up to that one itself."""
    here = at + step
    while loop or 0 <= here < len(marks):
        here %= len(marks)
        yield marks[here]
        if here == at:
            return
        here += step


def _run_marks(i: int, layout: Layout, here: list[PlacedOutlet], highs: list[Fraction]) -> list[_Mark]:
    run = layout.runs[i]
    lost = [one.id for one in here if one.at is None]
    if lost:
        gap = _Gap(f"the place of outlet {' and '.join(lost)}")
        placed = [_Outlet(one) for one in here if one.at is not None]
        return [gap, *(mark for one in placed for mark in (one, gap))]
    stops: list[tuple[Fraction, _Mark]] = [(at, _High()) for at in highs]
    stops += [(one.at, _Outlet(one)) for one in here if one.at is not None]
    stops.sort(key=lambda stop: stop[0])
    marks: list[_Mark] = []
    at = Fraction(0)
    for place, stop in stops:
        if place > at:
            marks.append(GutterPart(i, at, place))
        marks.append(stop)
        at = place
    if run.length is None:
        marks.append(_Gap(f"the length of {run.name}"))
    elif run.length > at:
        marks.append(GutterPart(i, at, run.length))
    return marks


def _turns(sheet: Sheet, i: int, j: int) -> bool:
    """Whether the water changes direction where run i meets run j."""
    end = sheet.runs[i].right_end
    if end is not None and end.value == "splice":
        return False
    for angle in (sheet.runs[i].right_angle, sheet.runs[j].left_angle):
        if angle is not None and angle.value is not None:
            return abs(angle.value) > _SLIGHT_TURN
    return True


def _walk(toward: Side, marks: Iterable[_Mark]) -> Drained:
    """Gutter up to the high point or end; where none is told of, to the highest joint or half way."""
    side, bend = Drained(toward), False
    joints: list[tuple[int, Fraction | None]] = []
    for mark in marks:
        if isinstance(mark, GutterPart):
            side.lengths.append(GutterPart(mark.run, mark.start, mark.end, bend))
            bend = False
        elif isinstance(mark, _Joint):
            bend = bend or mark.bend
            joints.append((len(side.lengths), mark.below))
        elif isinstance(mark, _High):
            return side
        elif isinstance(mark, _Gap):
            side.open = mark.why
            return side
        else:
            _share_with_next(side, joints)
            return side
    return side


def _share_with_next(side: Drained, joints: list[tuple[int, Fraction | None]]) -> None:
    """Cut a side that runs on to the next outlet: at the one joint that lies highest, else half way."""
    known = sorted((below, at) for at, below in joints if below is not None)
    if known and len(known) == len(joints) and (len(known) == 1 or known[0][0] < known[1][0]):
        side.lengths = side.lengths[: known[0][1]]
        return
    side.halfway = True
    left = sum((one.end - one.start for one in side.lengths), Fraction(0)) / 2
    kept = []
    for one in side.lengths:
        if left <= 0:
            break
        part = min(one.end - one.start, left)
        start = one.end - part if side.toward == "left" else one.start
        kept.append(GutterPart(one.run, start, start + part, one.after_bend))
        left -= part
    side.lengths = kept


def touches(one: GutterPart, layout: Layout) -> list[Side]:
    """The ends of its run that a piece of gutter reaches."""
    out: list[Side] = ["left"] if one.start == 0 else []
    return [*out, "right"] if one.end == layout.runs[one.run].length else out

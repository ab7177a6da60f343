"""The water's way: how far below its stretch's level line the gutter hangs at each point.

Every leg falls towards an outlet at the shop's rate at least. Between two outlets the high point is where
the two falls meet; at a closed end it is the end. An outlet is as deep as its longest leg asks.
"""

from __future__ import annotations

import itertools
from bisect import bisect_right
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding
from gutterance.layout.holding import unsettled
from gutterance.layout.values import Channel, FallPoint, Hold, LaidRun, PlacedOutlet
from gutterance.layout.wording import listed, shown

if TYPE_CHECKING:
    from collections.abc import Container

    from gutterance.sheet.models import Sheet
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
    """Gutter between two outlets, or an outlet and a closed end; `high` [in] counts from its left end."""

    left: Sink | None
    right: Sink | None
    start: Place
    length: Fraction | None
    high: Fraction | None = None
    high_below: Fraction | None = None
    doubt: bool = False

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


class Water:
    """The falls of one channel."""

    def __init__(
        self, channel: Channel, sheet: Sheet, runs: list[LaidRun], shop: Shop, doubtful: Container[int] = ()
    ) -> None:
        self.channel = channel
        self.sheet = sheet
        self.runs = runs
        self.shop = shop
        self.findings: list[Finding] = []
        self._place: dict[int, Place] = {}
        unknown, at = 0, Fraction(0)
        for i in channel.runs:
            self._place[i] = (unknown, at)
            length = runs[i].length
            unknown, at = (unknown + 1, at) if length is None else (unknown, at + length)
        self._end: Place = (unknown, at)
        self._starts = [self._place[i] for i in channel.runs]
        self._outlets: dict[int, list[PlacedOutlet]] = {}
        for one in channel.outlets:
            self._outlets.setdefault(one.run, []).append(one)
        known = [one for one in channel.outlets if one.at is not None]
        self.unplaced = [one for one in channel.outlets if one.at is None]
        self.sinks = sorted(
            (Sink(one, self.place(one.run, one.at or Fraction(0))) for one in known), key=_by_place
        )
        self._highs = self._said_high_points()
        self.legs = self._make_legs()
        self._set_depths()
        self._legs_of: dict[int, list[Leg]] = {}
        for leg in self.legs:
            for sink in (leg.left, leg.right):
                if sink is not None:
                    self._legs_of.setdefault(id(sink.outlet), []).append(leg)
        self._mark_doubts(doubtful)

    def place(self, run: int, at: Fraction) -> Place:
        """Where a point of a run lies along the channel."""
        unknown, before = self._place[run]
        return unknown, before + at

    def _said_high_points(self) -> list[tuple[Place, int]]:
        highs: list[tuple[Place, int]] = []
        for i in self.channel.runs:
            reading = self.sheet.runs[i].high_point
            if reading is None or not reading.settled or reading.value is None:
                continue
            word = reading.value.casefold()
            length = self.runs[i].length
            if "left" in word:
                highs.append((self.place(i, Fraction(0)), i))
            elif length is not None and "right" in word:
                highs.append((self.place(i, length), i))
            elif length is not None and any(name in word for name in ("cent", "middle", "mid")):
                highs.append((self.place(i, length / 2), i))
            else:
                self._doubt_high(
                    i, f"the high point {reading.value!r} on {self.runs[i].name} is not understood"
                )
        return sorted(highs)

    def _doubt_high(self, i: int, says: str) -> None:
        run = self.runs[i]
        question = f"Where is the high point of {run.name}?"
        self.findings.append(
            Finding(
                code="high-point-unclear",
                kind="doubt",
                about=f"runs.{run.id}.high_point",
                says=f"{says}; the falls shown do without it",
                question=question,
            )
        )

    def _make_legs(self) -> list[Leg]:
        sinks = self.sinks
        if not sinks:
            return []
        legs: list[Leg] = []
        if not self.channel.loop:
            start: Place = (0, Fraction(0))
            legs.append(Leg(None, sinks[0], start, _between(start, sinks[0].place)))
        for left, right in itertools.pairwise(sinks):
            legs.append(Leg(left, right, left.place, _between(left.place, right.place)))
        last = sinks[-1]
        if not self.channel.loop:
            legs.append(Leg(last, None, last.place, _between(last.place, self._end)))
        else:
            head, tail = _between(last.place, self._end), _between((0, Fraction(0)), sinks[0].place)
            whole = head + tail if head is not None and tail is not None else None
            legs.append(Leg(last, sinks[0], last.place, whole))
        if self.unplaced:
            # an outlet whose place is not known could lie on any leg that touches its run: those give no fall
            self._forget_legs_near_unplaced(legs)
        return legs

    def _forget_legs_near_unplaced(self, legs: list[Leg]) -> None:
        for one in self.unplaced:
            low = self._place[one.run]
            length = self.runs[one.run].length
            high = (low[0] + 1, low[1]) if length is None else (low[0], low[1] + length)
            for leg in legs:
                end = leg.right.place if leg.right is not None and leg.right.place > leg.start else self._end
                wraps = self.channel.loop and leg is legs[-1]
                if (leg.start <= high and low <= end) or (wraps and low <= self.sinks[0].place):
                    leg.length = None

    def _set_depths(self) -> None:
        for leg in self.legs:
            self._set_said_high(leg)
            if leg.length is None:
                for sink in (leg.left, leg.right):
                    if sink is not None:
                        sink.depth = None
                continue
            middle = leg.high if leg.high is not None else leg.length / 2
            if leg.left is None or leg.right is None:
                reach_left = reach_right = leg.length
            else:
                reach_left, reach_right = middle, leg.length - middle
            for sink, reach in ((leg.left, reach_left), (leg.right, reach_right)):
                if sink is not None and sink.depth is not None:
                    sink.depth = max(sink.depth, fall_over(reach, self.shop))
        for leg in self.legs:
            self._set_high(leg)

    def _set_said_high(self, leg: Leg) -> None:
        if leg.length is None:
            return
        for place, i in self._highs:
            along = _between(leg.start, place)
            wraps = self.channel.loop and leg is self.legs[-1]
            if wraps and place < leg.start:
                head, tail = _between(leg.start, self._end), _between((0, Fraction(0)), place)
                along = head + tail if head is not None and tail is not None else None
            if along is None or not 0 < along < leg.length:
                continue
            if leg.left is None or leg.right is None:
                says = (
                    f"the high point said for {self.runs[i].name} would lead water to an end with no outlet"
                )
                self._doubt_high(i, says)
            else:
                leg.high = along

    def _set_high(self, leg: Leg) -> None:
        if leg.length is None:
            return
        rate = fall_over(Fraction(1), self.shop)
        left, right = leg.left, leg.right
        if left is None or right is None:
            sink = left or right
            assert sink is not None
            leg.high = leg.length if right is None else Fraction(0)
            if sink.depth is not None:
                leg.high_below = sink.depth - rate * leg.length
            return
        if left.depth is None or right.depth is None:
            return
        if leg.high is None:
            meets = leg.length / 2
            if rate > 0:
                meets += (left.depth - right.depth) / (2 * rate)
            # where one outlet is far deeper than the other the falls would meet beyond it: keep the high
            # point well
            # inside the leg; the fall to the deeper outlet is then steeper than the shop asks, never less
            leg.high = min(max(meets, leg.length / 4), leg.length * 3 / 4)
        leg.high_below = min(left.depth - rate * leg.high, right.depth - rate * (leg.length - leg.high))

    def _mark_doubts(self, doubtful: Container[int]) -> None:
        """A leg over a run in doubt, or to an outlet in doubt, makes its outlets' depths doubtful."""
        for i in self.channel.runs:
            length = self.runs[i].length
            if i not in doubtful or length is None:
                continue
            first, last = (
                self._leg_number(self.place(i, Fraction(0))),
                self._leg_number(self.place(i, length)),
            )
            if first is None or last is None:
                continue
            wanted = (
                range(first, last + 1) if first <= last else [*range(first, len(self.legs)), *range(last + 1)]
            )
            for number in wanted:
                self.legs[number].doubt = True
        for sink in self.sinks:
            if sink.outlet.hold:
                for leg in self._legs_of[id(sink.outlet)]:
                    leg.doubt = True
        for leg in self.legs:
            for one in (leg.left, leg.right):
                if one is not None and leg.doubt:
                    one.doubt = True

    def in_doubt(self, run: int, at: Fraction) -> bool:
        """Whether the depth there rests on a length or an outlet's place that is in doubt."""
        found = self._leg_at(self.place(run, at))
        if found is None:
            return False
        leg = found[0]
        return leg.doubt or any(sink is not None and sink.doubt for sink in (leg.left, leg.right))

    def below(self, run: int, at: Fraction) -> Fraction | None:
        """Depth [in] below the level line at `at` [in] on a run; None where it cannot be known."""
        found = self._leg_at(self.place(run, at))
        return None if found is None else found[0].below(found[1])

    def flows_right(self, run: int, at: Fraction) -> bool | None:
        """Whether water at that point runs to the right; None where that is not known."""
        found = self._leg_at(self.place(run, at))
        if found is None or found[0].high is None:
            return None
        return found[1] > found[0].high

    def _leg_number(self, place: Place) -> int | None:
        if not self.sinks:
            return None
        number = bisect_right(self.sinks, place, key=_by_place) - 1
        if self.channel.loop:
            return number if number >= 0 else len(self.legs) - 1
        return number + 1

    def _leg_at(self, place: Place) -> tuple[Leg, Fraction] | None:
        number = self._leg_number(place)
        if number is None:
            return None
        leg = self.legs[number]
        if self.channel.loop and place < leg.start:
            head, tail = _between(leg.start, self._end), _between((0, Fraction(0)), place)
            along = head + tail if head is not None and tail is not None else None
        else:
            along = _between(leg.start, place)
        return None if along is None or leg.length is None else (leg, along)

    def points(self, laps: dict[int, list[Fraction]]) -> list[FallPoint]:
        """The falls to hang by: each run's ends, outlets, high points and laps, left to right."""
        if not self.channel.outlets:
            return []
        highs = self._high_places()
        out: list[FallPoint] = []
        for i in self.channel.runs:
            run = self.runs[i]
            inner: list[tuple[Fraction | None, str, PlacedOutlet | None]] = []
            inner += [(one.at, f"outlet {one.id}", one) for one in self._outlets.get(i, [])]
            inner += [(at, "high point", None) for at in highs.get(i, [])]
            inner += [(at, "lap", None) for at in laps.get(i, [])]
            inner.sort(key=lambda mark: (mark[0] is None, mark[0] or 0))
            marks = [(Fraction(0), "left end", None), *inner, (run.length, "right end", None)]
            hold = unsettled(
                f"runs.{run.id}.high_point", self.sheet.runs[i].high_point, f"the high point of {run.name}"
            )
            for at, what, outlet in marks:
                below = None if at is None else self.below(i, at)
                held = list(hold)
                if below is None:
                    says = "not known while a length or an outlet's place is open"
                    held.append(Hold(f"runs.{run.id}", says))
                elif at is not None and self.in_doubt(i, at):
                    held.append(Hold(f"runs.{run.id}", "rests on a value in doubt"))
                why: list[str] = []
                if below is not None:
                    why = self._why(outlet) if outlet is not None else self._why_there(i, at)
                out.append(FallPoint(i, at, what, below, outlet is not None, why, held))
        return out

    def _why(self, outlet: PlacedOutlet) -> list[str]:
        reach = self._longest_reach(outlet)[1]
        system = self.runs[outlet.run].system
        rate = f"{shown(self.shop.fall.drop.inches, system)} in {shown(self.shop.fall.over.inches, system)}"
        return [f"longest leg {shown(reach, system)}, at {rate} at least"]

    def _why_there(self, run: int, at: Fraction | None) -> list[str]:
        """How a point that is no outlet comes to its depth: how far up which outlet's fall it lies."""
        found = None if at is None else self._leg_at(self.place(run, at))
        if found is None:
            return []
        (leg, along), system = found, self.runs[run].system
        if leg.length is None or leg.high is None:
            return []
        away, sink = (along, leg.left) if along <= leg.high else (leg.length - along, leg.right)
        if sink is None:
            return []
        meet = ", where the two falls meet" if along == leg.high and leg.left and leg.right else ""
        return [f"{shown(away, system)} up the fall from outlet {sink.outlet.id}{meet}"]

    def _longest_reach(self, outlet: PlacedOutlet) -> tuple[Leg, Fraction]:
        reaches = [(leg, _reach(leg, outlet)) for leg in self._legs_of[id(outlet)]]
        return max(reaches, key=lambda pair: pair[1])

    def _high_places(self) -> dict[int, list[Fraction]]:
        """High points inside runs, by run. One at a closed end is that end and not named again."""
        out: dict[int, list[Fraction]] = {}
        for leg in self.legs:
            if leg.left is None or leg.right is None or leg.high is None or leg.high_below is None:
                continue
            unknown, at = leg.start[0], leg.start[1] + leg.high
            if self.channel.loop and at >= self._end[1]:
                unknown, at = 0, at - self._end[1]
            i = self._run_at((unknown, at))
            within = at - self._place[i][1]
            length = self.runs[i].length
            if length is None or 0 < within < length:
                out.setdefault(i, []).append(within)
        return out

    def _run_at(self, place: Place) -> int:
        return self.channel.runs[max(0, bisect_right(self._starts, place) - 1)]

    def too_deep(self) -> list[Finding]:
        """A finding for each outlet deeper than the shop's most, with what would mend it."""
        out = []
        for sink in self.sinks:
            if sink.depth is None or sink.depth <= self.shop.fall.most.inches:
                continue
            run = self.runs[sink.outlet.run]
            worst, reach = self._longest_reach(sink.outlet)
            at_end = worst.left is None or worst.right is None
            mend = "at the far end of that leg" if at_end else "in the middle of that leg"
            better = fall_over(reach / 2, self.shop)
            system = run.system
            step = self.shop.rounding.metric_step if system == "metric" else self.shop.rounding.step
            deep, less = (-(-one // step.inches) * step.inches for one in (sink.depth, better))
            out.append(
                Finding(
                    code="fall-too-great",
                    kind="doubt",
                    about=f"outlets.{sink.outlet.id}",
                    says=(
                        f"Outlet {sink.outlet.id} on {run.name} would hang "
                        f"{shown(deep, system, feet=False)} low: its longest leg is {shown(reach, system)}. "
                        f"One more outlet {mend} would bring that leg to {shown(less, system, feet=False)}."
                    ),
                    question=f"May one more outlet go in near {run.name}, or is there room for that fall?",
                )
            )
        return out


def _reach(leg: Leg, outlet: PlacedOutlet) -> Fraction:
    """How far [in] water runs along a leg to that outlet from the high point; 0 where not known."""
    if leg.length is None or leg.high is None:
        return Fraction(0)
    from_left = leg.left is not None and leg.left.outlet is outlet
    return leg.high if from_left else leg.length - leg.high


def _by_place(sink: Sink) -> Place:
    return sink.place


def _between(left: Place, right: Place) -> Fraction | None:
    """Known inches from one place to another, or None where a run of unknown length lies between them."""
    return right[1] - left[1] if left[0] == right[0] else None


def say_where_dry(channel: Channel, runs: list[LaidRun]) -> None:
    """Say on a channel without any outlet why it gets no falls."""
    if not channel.outlets:
        names = listed([runs[i].name for i in channel.runs])
        channel.says.append(f"no outlet on this stretch ({names}): no falls can be given")

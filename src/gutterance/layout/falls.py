"""The water's way: how far below its stretch's level line the gutter hangs at each point.

Every leg falls towards an outlet at the shop's rate at least. Between two outlets the high point is where
the two falls meet, or where the note says; at a closed end it is the end. An outlet is as deep as its longest
leg asks.
"""

from __future__ import annotations

import itertools
from bisect import bisect_right
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.holding import unsettled
from gutterance.layout.legs import Leg, Place, Sink, between, by_place, fall_over, reach_asked
from gutterance.layout.said_highs import SaidHighs
from gutterance.layout.values import Channel, FallPoint, Hold, LaidRun, PlacedOutlet
from gutterance.layout.wording import listed, shown

if TYPE_CHECKING:
    from collections.abc import Container

    from gutterance.checking.findings import Finding
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop


class Water:
    """The falls of one channel."""

    def __init__(
        self, channel: Channel, sheet: Sheet, runs: list[LaidRun], shop: Shop, doubtful: Container[int] = ()
    ) -> None:
        self.channel = channel
        self.sheet = sheet
        self.runs = runs
        self.shop = shop
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
            (Sink(one, self.place(one.run, one.at or Fraction(0))) for one in known), key=by_place
        )
        self.legs = self._make_legs()
        said = SaidHighs(channel, sheet, runs, self.place)
        said.set_on(self.legs, self._end)
        self.findings: list[Finding] = said.findings
        self._doubted = said.doubted
        self._set_depths()
        self._high_by_run: dict[int, list[Fraction]] | None = None
        self._legs_of: dict[int, list[Leg]] = {}
        for leg in self.legs:
            for sink in (leg.left, leg.right):
                if sink is not None:
                    self._legs_of.setdefault(id(sink.outlet), []).append(leg)
        self.mark_doubts(doubtful)

    def high_points(self, run: int) -> list[Fraction]:
        """High points within a run [in from its left end]: the two falls' meeting places."""
        if self._high_by_run is None:
            self._high_by_run = self._high_places()
        return self._high_by_run.get(run, [])

    def place(self, run: int, at: Fraction) -> Place:
        """Where a point of a run lies along the channel."""
        unknown, before = self._place[run]
        return unknown, before + at

    def _make_legs(self) -> list[Leg]:
        sinks = self.sinks
        if not sinks:
            return []
        legs: list[Leg] = []
        if not self.channel.loop:
            start: Place = (0, Fraction(0))
            legs.append(Leg(None, sinks[0], start, between(start, sinks[0].place)))
        for left, right in itertools.pairwise(sinks):
            legs.append(Leg(left, right, left.place, between(left.place, right.place)))
        last = sinks[-1]
        if not self.channel.loop:
            legs.append(Leg(last, None, last.place, between(last.place, self._end)))
        else:
            head, tail = between(last.place, self._end), between((0, Fraction(0)), sinks[0].place)
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

    def mark_doubts(self, doubtful: Container[int]) -> None:
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
        number = bisect_right(self.sinks, place, key=by_place) - 1
        if self.channel.loop:
            return number if number >= 0 else len(self.legs) - 1
        return number + 1

    def _leg_at(self, place: Place) -> tuple[Leg, Fraction] | None:
        number = self._leg_number(place)
        if number is None:
            return None
        leg = self.legs[number]
        if self.channel.loop and place < leg.start:
            head, tail = between(leg.start, self._end), between((0, Fraction(0)), place)
            along = head + tail if head is not None and tail is not None else None
        else:
            along = between(leg.start, place)
        return None if along is None or leg.length is None else (leg, along)

    def points(self, laps: dict[int, list[Fraction]], joints: dict[int, list[Fraction]]) -> list[FallPoint]:
        """The falls to hang by: each run's ends, outlets, high points, laps and joints, left to right."""
        if not self.channel.outlets:
            return []
        out: list[FallPoint] = []
        for i in self.channel.runs:
            run = self.runs[i]
            inner: list[tuple[Fraction | None, str, PlacedOutlet | None]] = []
            inner += [(one.at, f"outlet {one.id}", one) for one in self.outlets_on(i)]
            inner += [(at, "high point", None) for at in self.high_points(i)]
            open_at = joints.get(i, [])
            inner += [(at, "expansion joint" if at in open_at else "lap", None) for at in laps.get(i, [])]
            inner.sort(key=lambda mark: (mark[0] is None, mark[0] or 0))
            marks = [(Fraction(0), "left end", None), *inner, (run.length, "right end", None)]
            hold = unsettled(
                f"runs.{run.id}.high_point", self.sheet.runs[i].high_point, f"the high point of {run.name}"
            )
            if i in self._doubted:
                hold.append(Hold(f"runs.{run.id}.high_point", "the high point is in question"))
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
        reach = self.longest_reach(outlet)[1]
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

    def longest_reach(self, outlet: PlacedOutlet) -> tuple[Leg, Fraction]:
        """The leg with the longest way to an outlet, and that way [in]."""
        return max(self.reaches(outlet), key=lambda pair: pair[1])

    def reaches(self, outlet: PlacedOutlet) -> list[tuple[Leg, Fraction]]:
        """The legs that fall to an outlet, each with the way [in] it asks the outlet to fall over."""
        return [(leg, reach_asked(leg, outlet)) for leg in self._legs_of[id(outlet)]]

    def _high_places(self) -> dict[int, list[Fraction]]:
        """High points inside runs, by run. One at a closed end is that end and not named again."""
        out: dict[int, list[Fraction]] = {}
        for leg in self.legs:
            if leg.left is None or leg.right is None or leg.high is None or leg.high_below is None:
                continue
            i, within = self.locate(leg, leg.high)
            length = self.runs[i].length
            if length is None or 0 < within < length:
                out.setdefault(i, []).append(within)
        return out

    def locate(self, leg: Leg, along: Fraction) -> tuple[int, Fraction]:
        """The run that a place `along` [in] a leg lies on, and how far [in] from that run's left end."""
        unknown, at = leg.start[0], leg.start[1] + along
        if self.channel.loop and at >= self._end[1]:
            unknown, at = 0, at - self._end[1]
        i = self._run_at((unknown, at))
        return i, at - self._place[i][1]

    def number_of(self, run: int) -> int:
        """Which run of its stretch a run is, from nought."""
        return bisect_right(self._starts, self._place[run]) - 1

    def outlets_on(self, run: int) -> list[PlacedOutlet]:
        """The outlets of a run, left to right."""
        return self._outlets.get(run, [])

    def _run_at(self, place: Place) -> int:
        return self.channel.runs[max(0, bisect_right(self._starts, place) - 1)]


def say_where_dry(channel: Channel, runs: list[LaidRun]) -> None:
    """Say on a channel without any outlet why it gets no falls."""
    if not channel.outlets:
        names = listed([runs[i].name for i in channel.runs])
        channel.says.append(f"no outlet on this stretch ({names}): no falls can be given")

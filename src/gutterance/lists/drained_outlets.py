"""Each outlet of a layout before one method: what drains to it, how full that makes it, what would mend."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.drainage.check import judge, percent
from gutterance.drainage.mending import Offers
from gutterance.drainage.share import Share, Side, Strip
from gutterance.lists.drainage_models import DrainedOutlet, DrainedStrip, MendOffer, PartCheck
from gutterance.lists.rain_words import area_text
from gutterance.lists.roof import Roof
from gutterance.lists.sections import gutter_section, offered_gutters, offered_pipes, pipe_section
from gutterance.lists.shares import Stretches, touches
from gutterance.measure.length import MM_PER_INCH, Length

if TYPE_CHECKING:
    from gutterance.drainage.asked import RainAsked
    from gutterance.drainage.check import Outcome
    from gutterance.drainage.judging import Judged
    from gutterance.drainage.mending import Mend
    from gutterance.drainage.method import Method
    from gutterance.drainage.rainfall import Rainfall
    from gutterance.layout import Layout
    from gutterance.layout.values import Channel, PlacedOutlet
    from gutterance.lists.shares import Drained, GutterPart
    from gutterance.measure.length import System
    from gutterance.sheet.models import Downpipe, Sheet
    from gutterance.shop import Shop


class OutletChecker:
    """Checks the outlets of a layout by one method and rainfall."""

    def __init__(
        self, sheet: Sheet, layout: Layout, shop: Shop, method: Method, rain: Rainfall, asked: RainAsked
    ) -> None:
        self.sheet = sheet
        self.layout = layout
        self.shop = shop
        self.method = method
        self.rain = rain
        self.roof = Roof(sheet, layout, shop, method, asked)
        self.stretches = Stretches(layout, sheet)
        self.pipes: dict[str, list[Downpipe]] = defaultdict(list)
        for pipe in sheet.downpipes:
            if pipe.outlet is not None:
                self.pipes[pipe.outlet].append(pipe)

    def channel(self, channel: Channel, stretch: str) -> list[DrainedOutlet]:
        """Each outlet of a stretch."""
        found = self.stretches.sides(channel)
        return [self._outlet(outlet, sides, channel, stretch) for outlet, sides in found]

    def _outlet(
        self, outlet: PlacedOutlet, sides: list[Drained], channel: Channel, stretch: str
    ) -> DrainedOutlet:
        run = self.layout.runs[outlet.run]
        at = Length(outlet.at, run.system) if outlet.at is not None else None
        out = DrainedOutlet(id=outlet.id, stretch=stretch, run=run.id, run_name=run.name, at=at)
        runs = list(dict.fromkeys(one.run for side in sides for one in side.lengths))
        out.missing = [] if sides else [f"the place of outlet {outlet.id}"]
        out.missing += [side.open for side in sides if side.open is not None]
        out.missing += self.roof.missing(runs)
        pipe = self.shop.pipe(outlet.size) if outlet.size is not None else None
        if pipe is None:
            out.missing.append(
                f"the shape of the pipe at {outlet.id}: the shop file has none called {outlet.size}"
            )
        elif run.gutter.profile is None:
            out.missing.append(f"the shape of the gutter of {run.name}: the shop file does not have it")
        out.missing = list(dict.fromkeys(out.missing))
        out.rests_on = self.roof.rests_on(runs, channel)
        out.rests_on += [hold.says for hold in outlet.hold] + list(outlet.guesses)
        if out.missing or pipe is None or run.gutter.profile is None:
            return out
        if any(side.halfway for side in sides):
            out.rests_on.append("the high point is not known: the water is taken to part half way")
        share = Share(
            tuple(Side(side.toward, tuple(self._strip(one) for one in side.lengths)) for side in sides),
            gutter_section(run.gutter.profile),
            pipe_section(pipe),
            self.shop.fall.drop.inches / self.shop.fall.over.inches,
        )
        offers = Offers(offered_gutters(run.gutter.profile, self.shop), offered_pipes(pipe, self.shop))
        outcome = judge(share, self.rain, self.method, offers, self.shop.rain.manning_n)
        self._fill(out, outcome, sides)
        self._tell_of_valleys(out, sides)
        out.says += self._notes(outlet, sides, share)
        return out

    def _strip(self, one: GutterPart) -> Strip:
        profile = self.layout.runs[one.run].gutter.profile
        assert profile is not None
        return Strip(
            self.layout.runs[one.run].id,
            one.end - one.start,
            self.roof.run(one.run),
            self.roof.rise(one.run),
            gutter_section(profile),
            one.after_bend,
        )

    def _fill(self, out: DrainedOutlet, outcome: Outcome, sides: list[Drained]) -> None:
        if outcome.lacks is not None:
            out.says.append(f"{self.method.name} does not reach this roof: {outcome.lacks}")
            return
        out.area_m2, out.flow_l_s = round(outcome.area, 4), round(outcome.flow, 5)
        places = [(side, one) for side in sides for one in side.lengths]
        for (strip, counted), (side, one) in zip(outcome.counted, places, strict=True):
            run = self.layout.runs[one.run]
            out.strips.append(
                DrainedStrip(
                    run=run.id,
                    run_name=run.name,
                    toward=side.toward,
                    length=Length(strip.length, run.system),
                    roof_run=Length(strip.roof_run, run.system),
                    plan_m2=round(strip.plan, 4),
                    counted_m2=round(strip.plan * counted.factor, 4),
                    why=counted.why,
                )
            )
        out.checks = [self._check(one) for one in outcome.judged]
        known = [one.full for one in outcome.judged]
        if any(full is not None and full > 1 for full in known):
            out.enough = False
        elif all(full is not None for full in known):
            out.enough = True
        out.mends = [self._mend(one) for one in outcome.mends]

    def _check(self, one: Judged) -> PartCheck:
        system = self._system()
        flow = one.capacity.flow
        return PartCheck(
            part=one.part,
            of=one.of,
            toward=one.side.toward if one.side is not None else None,
            length=Length(one.side.length, system) if one.side is not None else None,
            flow_l_s=round(one.flow, 5),
            capacity_l_s=round(flow, 5) if flow is not None else None,
            full_percent=percent(one.full) if one.full is not None else None,
            method=self.method.name,
            clause=one.capacity.clause,
            why=one.capacity.why,
            notes=list(one.capacity.notes),
            manning_l_s=round(one.uniform, 5) if one.uniform is not None else None,
        )

    def _system(self) -> System:
        return "metric" if self.sheet.defaults.units == "metric" else "imperial"

    def _mend(self, one: Mend) -> MendOffer:
        full = percent(one.full)
        where = f" to the {one.at.toward}" if one.at is not None else ""
        says = {
            "bigger gutter": f"a bigger gutter{where}, {one.what}",
            "bigger pipe": f"a bigger pipe and hole, {one.what}",
            "more fall": f"a fall of {one.what}{where}",
            "one more outlet": f"one more outlet at the far end of the gutter{where}",
        }[one.kind]
        enough = "" if full <= 100 else ", which alone is not enough"
        return MendOffer(
            part=one.part, kind=one.kind, says=f"{says}: {full} % full{enough}", full_percent=full
        )

    def _notes(self, outlet: PlacedOutlet, sides: list[Drained], share: Share) -> list[str]:
        says = self.method.limits(sum((side.length for side in share.sides), Fraction(0)))
        for side in sides:
            for one in side.lengths:
                run = self.sheet.runs[one.run]
                if self.roof.run(one.run) == 0:
                    says.append(f"no roof drains to {run.name}: its roof run is said to be nothing")
        for pipe in self.pipes.get(outlet.id, []):
            if pipe.ends_at is not None and pipe.ends_at.value in ("lower roof", "lower gutter"):
                says.append(
                    f"its pipe ends at a {pipe.ends_at.value}: add this water to what drains there, "
                    "it is not counted"
                )
        return says

    def _tell_of_valleys(self, out: DrainedOutlet, sides: list[Drained]) -> None:
        """A valley's water is told of, not counted; where it would overfill a part the verdict is open."""
        if out.flow_l_s is None:
            return
        more: dict[str | None, float] = defaultdict(float)
        for side in sides:
            for one in side.lengths:
                for end in self._inside_corners(one):
                    plan = float(self.roof.run(one.run) * MM_PER_INCH / 1000) ** 2 / 2
                    flow = self.method.flow(
                        plan * self.method.area(self.roof.rise(one.run)).factor, self.rain
                    )
                    more[side.toward] += flow
                    more[None] += flow
                    out.says.append(
                        f"a valley at the {end} of {self.sheet.runs[one.run].name} may bring up to "
                        f"{area_text(plan, self._system())} of plan more than its roof run times length, "
                        "which is not counted here"
                    )
        for check in out.checks:
            added = more.get(check.toward, 0.0)
            if not added or check.capacity_l_s is None or (check.full_percent or 0) > 100:
                continue
            full = percent((check.flow_l_s + added) / check.capacity_l_s)
            if full > 100:
                where = f" to the {check.toward}" if check.toward is not None else ""
                what = "outlet hole" if check.part == "outlet" else check.part
                out.says.append(f"with all a valley may bring the {what}{where} would be {full} % full")
                out.enough = None if out.enough else out.enough

    def _inside_corners(self, one: GutterPart) -> list[str]:
        """The ends of its run, reached by a piece of gutter, at which the roof has a valley."""
        run = self.sheet.runs[one.run]
        ends = (("left", run.left_end), ("right", run.right_end))
        inside = [end for end, reading in ends if reading is not None and reading.value == "inside corner"]
        return [end for end in touches(one, self.layout) if end in inside]

"""From a sheet, its findings and the shop's rules to the lists, rounding each length once on the way."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from gutterance import __version__
from gutterance.layout import Layout, lay_out, values
from gutterance.layout.pipe_words import place_words
from gutterance.lists.cautions import cautions_for
from gutterance.lists.coil_running import run_coils
from gutterance.lists.drainage import drain, findings_of
from gutterance.lists.hardware import hardware_for
from gutterance.lists.models import (
    Assembly,
    Bend,
    Channel,
    DownpipeList,
    Fall,
    Hangers,
    Hold,
    Hole,
    Lists,
    Movement,
    OutletWithoutPipe,
    Part,
    Piece,
    Reason,
)
from gutterance.lists.pipe_cutting import cut_pipes
from gutterance.lists.rounding import Rounder
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from fractions import Fraction

    from gutterance.checking.findings import Finding
    from gutterance.drainage.asked import RainAsked
    from gutterance.measure.length import System
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop


def make_lists(
    sheet: Sheet, findings: Sequence[Finding], shop: Shop, rain: RainAsked | None = None,
    left: Callable[[Finding], bool] | None = None,
) -> Lists:  # fmt: skip
    """All lists of a job. What the checker's `findings` hold is listed, marked and kept out of the order.

    `rain` is the rainfall and method asked for now, over those of sheet and shop; `left` tells of a doubt of
    the layout's own that somebody left as it stands. Raises nothing for any sheet: what cannot be worked out
    is on hold with its reason. Rainfall that was asked for or stands in the shop file and cannot be used
    raises RainError or RateError.
    """
    layout = lay_out(sheet, findings, shop, left)
    lists = _Maker(sheet, layout, shop).make()
    lists.drainage = drain(sheet, layout, shop, rain)
    lists.findings += findings_of(lists.drainage)
    return lists


class _Maker:
    def __init__(self, sheet: Sheet, layout: Layout, shop: Shop) -> None:
        self.sheet = sheet
        self.layout = layout
        self.shop = shop
        self.round = Rounder(shop)
        self.system: System = "metric" if sheet.defaults.units == "metric" else "imperial"

    def make(self) -> Lists:
        pieces = [self._piece(one) for one in self.layout.pieces]
        pipes = [self._pipe(one) for one in self.layout.pipes]
        held = {laid.id: laid for laid in self.layout.pipes if not laid.hold}
        steps, coil_runs = run_coils(self.layout, pieces, self.shop, self.round, self.system)
        cuts, need, uncut = cut_pipes(pipes, self.shop, self.round, self.system)
        for pipe in pipes:
            if pipe.hold and pipe.id in held:
                held[pipe.id].hold += [values.Hold(one.about, one.says, one.question) for one in pipe.hold]
        return Lists(
            title=self.sheet.title,
            made_by=f"gutterance {__version__}",
            shop=self.shop.name,
            units=self.sheet.defaults.units,
            step=self.round.step(self.system),
            rounding=self.round.says(self.system),
            pieces=pieces,
            machine_order=[step.piece for step in steps],
            machine_steps=steps,
            channels=[self._channel(number, one) for number, one in enumerate(self.layout.channels, start=1)],
            falls=[self._fall(one) for one in self.layout.falls],
            hangers=[self._hangers(one) for one in self.layout.hangers],
            movements=[self._movement(one) for one in self.layout.movements],
            assemblies=[
                Assembly(pieces=[piece.id for piece in one.pieces], carriers=one.carriers, says=one.says)
                for one in self.layout.assemblies
            ],
            downpipes=pipes,
            no_pipe=self._no_pipe(),
            pipe_cuts=cuts,
            pipe_need=need,
            coil_runs=coil_runs,
            hardware=hardware_for(self.layout, need, self.shop),
            cautions=cautions_for(self.sheet),
            assumed=list(self.layout.assumed),
            findings=[*self.layout.findings, *uncut],
        )

    def _no_pipe(self) -> list[OutletWithoutPipe]:
        runs = {run.id: run for run in reversed(self.layout.runs)}
        return [
            OutletWithoutPipe(
                id=outlet.id,
                place=place_words(outlet, runs.get(outlet.run), self.system),
                into=outlet.into.value,
            )
            for outlet in self.sheet.outlets
            if outlet.without_pipe and outlet.into is not None and outlet.into.value
        ]

    def _piece(self, one: values.LaidPiece) -> Piece:
        run = self.layout.runs[one.run]
        system = run.system
        back = self.round.round(one.back, system)
        why = self.round.reasons(one.why)
        why += self.round.told("back", one.back, system)
        why += self.round.told("front", one.front, system)
        why += self.round.told("blank", one.blank, system)
        why += self.round.told("coil", one.coil, system, "up")
        holes = [self._hole(one, outlet, from_left) for outlet, from_left in one.holes]
        for outlet, from_left in one.holes:
            why += self.round.told(f"outlets.{outlet.id}", from_left, system)
        return Piece(
            id=one.id,
            run=run.id,
            run_name=run.name,
            number=one.number,
            of=one.of,
            back=back,
            front=self.round.round(one.front, system),
            blank=self.round.round(one.blank, system),
            coil=self.round.round(one.coil, system, "up"),
            leads=self.shop.pieces.leads,
            left=one.left,
            right=one.right,
            left_angle=_angle(one.left_turn),
            right_angle=_angle(one.right_turn),
            left_tab=self.round.round(one.left_tab or None, system),
            right_tab=self.round.round(one.right_tab or None, system),
            left_lap=one.left_lap,
            right_lap=one.right_lap,
            starts_at=self.round.round(one.start, system),
            outlets=holes,
            profile=run.gutter.name,
            size=run.gutter.size_text,
            colour=run.gutter.colour,
            carriers=one.carriers,
            guesses=list(one.guesses),
            hold=_holds(one.hold),
            why=why,
        )

    def _hole(self, one: values.LaidPiece, outlet: values.PlacedOutlet, from_left: Fraction | None) -> Hole:
        """A hole from both ends, of the back and of the blank, so that the two always add up as cut."""
        system = self.layout.runs[one.run].system
        back, blank = self.round.round(one.back, system), self.round.round(one.blank, system)
        left = self.round.round(from_left, system)
        hole = Hole(id=outlet.id, from_left=left, from_right=_rest(back, left), size=outlet.size)
        if from_left is not None and blank is not None and one.blank != one.back:
            hole.blank_from_left = self.round.round(from_left + one.blank_left, system)
            hole.blank_from_right = _rest(blank, hole.blank_from_left)
        return hole

    def _movement(self, one: values.Movement) -> Movement:
        run = self.layout.runs[one.run]
        return Movement(
            run=run.id,
            material=one.material,
            moves=self.round.sure(one.moves, run.system),
            joint_over=Length(one.joint_over, run.system),
            joints=[self.round.sure(at, run.system) for at in one.joints],
            source=one.source,
            why=[*self.round.reasons(one.why), *self.round.told("moves", one.moves, run.system)],
        )

    def _channel(self, number: int, one: values.Channel) -> Channel:
        return Channel(
            id=f"stretch-{number}",
            runs=[self.layout.runs[i].id for i in one.runs],
            loop=one.loop,
            outlets=[outlet.id for outlet in one.outlets],
            length=self.round.round(one.length, self.layout.runs[one.runs[0]].system),
            says=list(one.says),
        )

    def _fall(self, one: values.FallPoint) -> Fall:
        run = self.layout.runs[one.run]
        # an outlet up and everything else down, so that no leg loses any of its fall to rounding
        below = self.round.round(one.below, run.system, "up" if one.at_least else "down")
        return Fall(
            run=run.id,
            at=self.round.round(one.at, run.system),
            what=one.what,
            below_high_point=below,
            why=list(one.why),
            hold=_holds(one.hold),
        )

    def _hangers(self, one: values.LaidHangers) -> Hangers:
        run = self.layout.runs[one.run]
        at = [self.round.sure(place, run.system, "down") for place in one.at]
        gaps = [right.inches - left.inches for left, right in itertools.pairwise(at)]
        why = self.round.reasons(one.why)
        if one.known:
            why.append(Reason(number="count", says=f"{len(at)} along {run.name}, one near each end"))
        return Hangers(
            run=run.id,
            count=len(at) if one.known else None,
            at=at,
            below=[self.round.round(below, run.system, "down") for below in one.below],
            spacing=Length(max(gaps), run.system) if gaps else None,
            hold=_holds(one.hold),
            why=why,
        )

    def _pipe(self, one: values.LaidPipe) -> DownpipeList:
        system = one.system
        why = self.round.reasons(one.why)
        for number, exact in (("gooseneck", one.gooseneck), ("drop", one.drop), ("wall_pipe", one.wall_pipe)):
            why += self.round.told(number, exact, system)
        return DownpipeList(
            id=one.id,
            outlet=one.outlet,
            run=self.layout.runs[one.run].id if one.run is not None else None,
            place=one.place,
            size=one.size,
            colour=one.colour,
            ends_at=one.ends_at,
            rule=one.rule,
            gooseneck=self.round.round(one.gooseneck, system),
            drop=self.round.round(one.drop, system),
            wall_pipe=self.round.round(one.wall_pipe, system),
            wall_cuts=[self.round.sure(cut, system) for cut in one.wall_cuts],
            tail=self.round.round(one.tail, system),
            bends=[self._bend(bend, system) for bend in one.bends],
            trim=self.round.round(one.trim, system),
            other_rule=one.other_rule,
            other_gooseneck=self.round.round(one.other_gooseneck, system),
            other_drop=self.round.round(one.other_drop, system),
            rules_differ=one.rules_differ,
            parts=[Part(what=what, count=count) for what, count in one.parts],
            joints=one.joints,
            straps=[self.round.sure(place, system, "down") for place in one.straps],
            says=list(one.says),
            hold=_holds(one.hold),
            why=why,
        )

    def _bend(self, one: values.LaidBend, system: System) -> Bend:
        return Bend(
            what=one.what,
            way=one.way,
            throw=self.round.sure(one.throw, system),
            cuts=[self.round.sure(cut, system) for cut in one.cuts],
            drop=self.round.sure(one.drop, system),
            above_foot=self.round.round(one.above_foot, system),
        )


def _holds(holds: list[values.Hold]) -> list[Hold]:
    return [Hold(about=one.about, says=one.says, question=one.question) for one in holds]


def _rest(whole: Length | None, part: Length | None) -> Length | None:
    return None if whole is None or part is None else Length(whole.inches - part.inches, whole.system)


def _angle(turn: Fraction | None) -> str | None:
    return None if turn is None else f"{float(turn):g}"

"""The whole house: from field sheet, findings and shop rules to pieces, falls, hangers and pipes."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding
from gutterance.layout.channels import make_channels
from gutterance.layout.corners import SQUARE, EndTakeUp, end_take_up
from gutterance.layout.downpipes import PipeLayer
from gutterance.layout.falls import Water, say_where_dry
from gutterance.layout.gutters import gutter_of
from gutterance.layout.hangers import hanger_places
from gutterance.layout.holding import HoldBook, guessed, length_had, merged, said, unsettled
from gutterance.layout.joining import Joints, join_runs
from gutterance.layout.outlets import blocked_zones, outlets_by_id, place_outlets
from gutterance.layout.pieces import RunWork, lap_middles, lay_pieces
from gutterance.layout.values import (
    Hold,
    LaidHangers,
    LaidPiece,
    LaidRun,
    LapSide,
    Layout,
    PlacedOutlet,
    Reason,
    Side,
)
from gutterance.layout.wording import note_once, shown

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.measure.length import System
    from gutterance.sheet.models import LengthReading, Run, Sheet
    from gutterance.sheet.values import End
    from gutterance.shop import Shop

_CLEAR_OF_LAP = Fraction(1)
_WORD = re.compile(r"[^\W\d_]+")


def lay_out(sheet: Sheet, findings: Sequence[Finding], shop: Shop) -> Layout:
    """Lay out a house by the shop's rules. Lengths are exact [in]; nothing is rounded but the hanger marks.

    A finding that holds a run or a downpipe, and any value not settled that one rests on, is a hold on
    it: it is worked out as far as it can be, and marked. No sheet, however broken, raises.
    """
    return _House(sheet, findings, shop).lay()


class _House:
    def __init__(self, sheet: Sheet, findings: Sequence[Finding], shop: Shop) -> None:
        self.sheet = sheet
        self.shop = shop
        self.layout = Layout()
        self.findings = findings
        self.book = HoldBook(sheet, findings)
        self.ids = Counter(run.id for run in sheet.runs)
        self.joints: Joints = join_runs(sheet)
        self.close_word = _said_close(sheet, shop)
        self.by_run: list[list[LaidPiece]] = []
        self.run_holds: list[list[Hold]] = []

    def lay(self) -> Layout:
        layout, sheet, shop = self.layout, self.sheet, self.shop
        layout.runs = [self._laid_run(run) for run in sheet.runs]
        placed, stray = place_outlets(sheet, layout.runs, shop, layout.assumed)
        self._lay_pieces(placed)
        self._lay_water(placed)
        self._lay_hangers(placed)
        layer = PipeLayer(sheet, layout.runs, outlets_by_id(placed), self.book, shop, layout.assumed)
        for pipe in sheet.downpipes:
            layout.pipes.append(layer.lay(pipe, _system(sheet, pipe.height)))
        layout.findings += [_finding("outlet-on-no-run", hold) for hold in stray]
        layout.findings += self._own_holds()
        layout.findings += self._lost_holds()
        return layout

    def _laid_run(self, run: Run) -> LaidRun:
        value = run.length.value.inches if run.length is not None and run.length.value is not None else None
        usable = value is not None and 0 < value <= self.shop.limits.run.inches
        gutter = gutter_of(run, self.sheet, self.shop, self.layout.assumed)
        return LaidRun(run.id, run.name, _system(self.sheet, run.length), value if usable else None, gutter)

    def _run_holds(self, i: int) -> list[Hold]:
        run, path = self.sheet.runs[i], f"runs.{self.sheet.runs[i].id}"
        own: list[Hold] = []
        if run.length is None:
            own.append(
                Hold(f"{path}.length", f"the length of {run.name} was not said", f"How long is {run.name}?")
            )
        elif run.length.value is not None and self.layout.runs[i].length is None:
            says = f"a length of {run.length.value.tape_text()} for {run.name} cannot be right"
            own.append(Hold(f"{path}.length", says, f"How long is {run.name}?"))
        own += unsettled(f"{path}.length", run.length, f"the length of {run.name}")
        for side, end, angle in (
            ("left", run.left_end, run.left_angle),
            ("right", run.right_end, run.right_angle),
        ):
            if end is None:
                says = f"the {side} end of {run.name} was not said"
                own.append(Hold(f"{path}.{side}_end", says, f"What is at the {side} end of {run.name}?"))
            own += unsettled(f"{path}.{side}_end", end, f"the {side} end of {run.name}")
            own += unsettled(f"{path}.{side}_angle", angle, f"the angle at the {side} end of {run.name}")
        if self.ids[run.id] > 1:
            says = f"{self.ids[run.id]} runs bear the id {run.id!r}: which is meant is open"
            own.append(Hold(path, says, f"What are the two runs called {run.id}?"))
        return merged(self.book.runs.get(run.id, []), own)

    def _turns(self, holds: list[list[Hold]]) -> list[tuple[Fraction, Fraction]]:
        """The turn at each end of each run [degrees]: its own, else its neighbour's, else square."""
        runs, previous = self.sheet.runs, self.joints.previous
        out = []
        for i, run in enumerate(runs):
            before, after = previous[i], self.joints.next[i]
            other_left = runs[before].right_angle if before is not None else None
            other_right = runs[after].left_angle if after is not None else None
            turns = []
            for side, own, other in (
                ("left", run.left_angle, other_left),
                ("right", run.right_angle, other_right),
            ):
                here = own.value if own is not None and own.value is not None else None
                there = other.value if other is not None and other.value is not None else None
                if here is not None and there is not None and here != there:
                    says = f"the corner at the {side} of {run.name} is given as {here:g}° and as {there:g}°"
                    question = f"By how much does the corner at the {side} of {run.name} turn?"
                    holds[i].append(Hold(f"runs.{run.id}.{side}_angle", says, question))
                value = here if here is not None else there
                turns.append(self._turn(value, i, side, holds))
            out.append((turns[0], turns[1]))
        return out

    def _turn(self, value: float | None, i: int, side: str, holds: list[list[Hold]]) -> Fraction:
        run = self.sheet.runs[i]
        if value is None:
            return SQUARE
        if 0 < value <= 90:
            return Fraction(value).limit_denominator(3600)
        # over 90 it may be the turn (a sharp corner) or the angle inside it (a bay): the two give other
        # mitres
        says = (
            f"a corner of {value:g}° at the {side} of {run.name}: its turn, or the angle between the walls?"
        )
        question = f"Does the corner at the {side} of {run.name} turn by {value:g}° or by {180 - value:g}°?"
        holds[i].append(Hold(f"runs.{run.id}.{side}_angle", says, question))
        return SQUARE

    def _lay_pieces(self, placed: list[list[PlacedOutlet]]) -> None:
        holds = [self._run_holds(i) for i in range(len(self.sheet.runs))]
        turns = self._turns(holds)
        for i, j, says in self.joints.clashes:
            for here in (i, j):
                side = "right" if here == i else "left"
                at = f"runs.{self.sheet.runs[here].id}.{side}_end"
                holds[here].append(Hold(at, says, "Which corner is it, outside or inside?"))
        used: Counter[str] = Counter()
        for i, run in enumerate(self.sheet.runs):
            path, laid = f"runs.{run.id}", self.layout.runs[i]
            work = RunWork(
                i,
                laid,
                path,
                self._end(i, "left", turns[i][0]),
                self._end(i, "right", turns[i][1]),
                placed[i],
                merged(holds[i]),
                length_had(run.length),
                [
                    *guessed(run.length, "length"),
                    *guessed(run.left_end, "left end"),
                    *guessed(run.right_end, "right end"),
                    *guessed(run.left_angle, "left angle"),
                    *guessed(run.right_angle, "right angle"),
                ],
            )
            self.run_holds.append(work.hold)
            self._hold_unclear_angle(work)
            pieces = lay_pieces(work, self.shop, used[run.id])
            used[run.id] += len(pieces)
            self.by_run.append(pieces)
            self.layout.pieces += pieces

    def _end(self, i: int, side: Side, turn: Fraction) -> EndTakeUp:
        run, laid = self.sheet.runs[i], self.layout.runs[i]
        reading = run.left_end if side == "left" else run.right_end
        end: End | None = reading.value if reading is not None else None
        width = laid.gutter.profile.top_width.inches if laid.gutter.profile is not None else None
        return end_take_up(side, end, turn, width, self.shop, laid.system, f"runs.{run.id}")

    def _hold_unclear_angle(self, work: RunWork) -> None:
        """Where an angle is on hold its mitre is not known: give no front rather than a wrong one."""
        for side in ("left", "right"):
            if any(hold.about == f"{work.path}.{side}_angle" for hold in work.hold):
                end = work.left if side == "left" else work.right
                if end.front:
                    unknown = EndTakeUp(end.piece_end, end.turn, end.back, None, end.tab, end.why)
                    if side == "left":
                        work.left = unknown
                    else:
                        work.right = unknown

    def _lay_water(self, placed: list[list[PlacedOutlet]]) -> None:
        layout = self.layout
        laps = {i: lap_middles(pieces, self.shop) for i, pieces in enumerate(self.by_run) if len(pieces) > 1}
        layout.channels = make_channels(self.sheet, layout.runs, self.joints, placed)
        doubtful = {i for i, hold in enumerate(self.run_holds) if hold}
        for channel in layout.channels:
            say_where_dry(channel, layout.runs)
            if not channel.outlets and not channel.open_ends:
                self._hold_dry(channel.runs)
            water = Water(channel, self.sheet, layout.runs, self.shop, doubtful)
            layout.falls += water.points(laps)
            layout.findings += water.findings + water.too_deep()
            self._set_lap_sides(channel.runs, water)

    def _hold_dry(self, runs: list[int]) -> None:
        """A stretch closed at both ends and without an outlet would be made with no hole in it: hold it."""
        for i in runs:
            run = self.layout.runs[i]
            if run.id in self.book.dry:
                continue
            says = f"no outlet where {run.name} drains to"
            hold = Hold(f"runs.{run.id}.outlets", says, f"Where is the outlet for {run.name}?")
            for piece in self.by_run[i]:
                piece.hold = merged(piece.hold, [hold])

    def _set_lap_sides(self, runs: list[int], water: Water) -> None:
        """At a lap the piece the water comes from lies over the one it goes to."""
        for i in runs:
            for piece in self.by_run[i]:
                if piece.start is None or piece.back is None:
                    continue
                half = self.shop.pieces.lap.inches / 2
                if piece.left == "lap":
                    to_right = water.flows_right(i, piece.start + half)
                    piece.left_lap = _lap_side(None if to_right is None else not to_right)
                if piece.right == "lap":
                    piece.right_lap = _lap_side(water.flows_right(i, piece.start + piece.back - half))

    def _lay_hangers(self, placed: list[list[PlacedOutlet]]) -> None:
        for i, run in enumerate(self.sheet.runs):
            self.layout.hangers.append(self._hangers(i, run, placed[i], self.by_run[i]))

    def _hangers(self, i: int, run: Run, outlets: list[PlacedOutlet], pieces: list[LaidPiece]) -> LaidHangers:
        laid, rules, path = self.layout.runs[i], self.shop.hangers, f"runs.{run.id}.hanger_spacing"
        reading, at = run.hanger_spacing, path
        if reading is None:
            reading, at = self.sheet.defaults.hanger_spacing, "defaults.hanger_spacing"
        held = unsettled(at, reading, f"the hanger spacing of {run.name}")
        out = LaidHangers(i, hold=merged(self.run_holds[i], held))
        if reading is not None and reading.value is not None:
            spacing = reading.value.inches
            out.why.append(
                Reason("spacing", f"{shown(spacing, laid.system, feet=False)} {said(reading)}", spacing, at)
            )
        elif self.close_word is not None:
            spacing = rules.close_spacing.inches
            says = f"{shown(spacing, laid.system, feet=False)}, close, for {self.close_word}: shop rule"
            out.why.append(Reason("spacing", says, spacing))
            note_once(
                self.layout.assumed,
                f"hangers {shown(spacing, laid.system, feet=False)} apart, close: the note speaks of "
                f"{self.close_word}, shop rule",
            )
        else:
            spacing = rules.spacing.inches
            out.why.append(
                Reason("spacing", f"{shown(spacing, laid.system, feet=False)}: shop rule", spacing)
            )
        if laid.length is None:
            return out
        ends = [
            self._hanger_from_end(i, run.left_end.value if run.left_end else None),
            self._hanger_from_end(i, run.right_end.value if run.right_end else None),
        ]
        blocked = blocked_zones(outlets, rules.clear_of_outlet.inches)
        half = self.shop.pieces.lap.inches / 2 + _CLEAR_OF_LAP
        blocked += [(lap - half, lap + half) for lap in lap_middles(pieces, self.shop)]
        step = self.shop.rounding.metric_step if laid.system == "metric" else self.shop.rounding.step
        places = hanger_places(laid.length, ends[0], ends[1], spacing, sorted(blocked), step.inches)
        if places is None:
            says = f"hangers {shown(spacing, laid.system, feet=False)} apart cannot be set on {run.name}"
            out.hold.append(Hold(at, says, f"How far apart are the hangers on {run.name}?"))
            return out
        out.at, out.known = places, True
        return out

    def _hanger_from_end(self, i: int, end: End | None) -> Fraction:
        """From an inside corner the first hanger stands clear of the other gutter's width."""
        usual = self.shop.hangers.from_end.inches
        profile = self.layout.runs[i].gutter.profile
        if end == "inside corner" and profile is not None:
            return max(usual, profile.top_width.inches + 2)
        return usual

    def _own_holds(self) -> list[Finding]:
        """A finding for each hold that the sheet's findings do not tell of, with all it keeps waiting."""
        told = {one.about for one in self.findings} | {one.about for one in self.layout.findings}
        says = {one.says for one in self.findings}
        own: dict[str, Finding] = {}
        parts = [(f"runs.{self.layout.runs[one.run].id}", one.hold) for one in self.layout.pieces]
        parts += [(f"downpipes.{one.id}", one.hold) for one in self.layout.pipes]
        for path, holds in parts:
            for hold in holds:
                if hold.about in told or hold.says in says:
                    continue
                one = own.setdefault(hold.says, _finding("cannot-be-made", hold))
                if path not in one.holds:
                    one.holds.append(path)
        return list(own.values())

    def _lost_holds(self) -> list[Finding]:
        return [
            Finding(
                code="hold-fits-nothing",
                kind="doubt",
                about=path,
                says=f"a finding holds {path!r}, which is no run or downpipe of this sheet: {finding.says}",
                question=finding.question,
            )
            for path, finding in self.book.nowhere
        ]


def _lap_side(over: bool | None) -> LapSide:
    return "unknown" if over is None else "over" if over else "under"


def _system(sheet: Sheet, reading: LengthReading | None) -> System:
    if sheet.defaults.units == "mixed":
        return reading.value.system if reading is not None and reading.value is not None else "imperial"
    return "metric" if sheet.defaults.units == "metric" else "imperial"


def _said_close(sheet: Sheet, shop: Shop) -> str | None:
    """The word of the note or of a remark (`snow`) that asks for the close hanger spacing, or None."""
    wanted = {word.casefold(): word for word in shop.hangers.close_where_said}
    for text in (*sheet.note, *(remark.text for remark in sheet.remarks)):
        for word in _WORD.findall(text.casefold()):
            if word in wanted:
                return wanted[word]
    return None


def _finding(code: str, hold: Hold) -> Finding:
    says = hold.says[:1].upper() + hold.says[1:]
    says = says if says.endswith((".", "?", "!")) else f"{says}."
    return Finding(code=code, kind="gap", about=hold.about, says=says, question=hold.question)

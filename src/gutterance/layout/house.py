"""The whole house: from field sheet, findings and shop rules to pieces, falls, hangers and pipes."""

from __future__ import annotations

from collections import Counter, defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding, Suggestion
from gutterance.layout.assembly import assemblies
from gutterance.layout.channels import make_channels
from gutterance.layout.corners import SQUARE, EndTakeUp, end_take_up
from gutterance.layout.downpipes import PipeLayer
from gutterance.layout.expansion import material_of, movement_of
from gutterance.layout.falls import Water, say_where_dry
from gutterance.layout.gutters import gutter_of
from gutterance.layout.hanging import Hanging
from gutterance.layout.holding import HoldBook, guessed, length_had, merged, unsettled
from gutterance.layout.joining import Joints, join_runs
from gutterance.layout.outlets import outlets_by_id, place_outlets
from gutterance.layout.pieces import RunWork, lap_middles, lay_pieces
from gutterance.layout.remedies import Remedies
from gutterance.layout.values import (
    Channel,
    Hold,
    LaidPiece,
    LaidRun,
    LapSide,
    Layout,
    PlacedOutlet,
    Side,
)
from gutterance.layout.wording import cannot_be, listed, note_once

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from gutterance.measure.length import System
    from gutterance.sheet.models import LengthReading, Run, Sheet
    from gutterance.sheet.values import End
    from gutterance.shop import Shop


def lay_out(
    sheet: Sheet, findings: Sequence[Finding], shop: Shop, left: Callable[[Finding], bool] | None = None
) -> Layout:
    """Lay out a house by the shop's rules. Lengths are exact [in]; nothing is rounded but the hanger marks.

    A finding that holds a run or a downpipe, and any value not settled that one rests on, is a hold on
    it: it is worked out as far as it can be, and marked. `left` tells of a doubt of the layout's own that
    somebody left as it stands: it is told and holds nothing. No sheet, however broken, raises.
    """
    return _House(sheet, findings, shop, left).lay()


class _House:
    def __init__(
        self, sheet: Sheet, findings: Sequence[Finding], shop: Shop, left: Callable[[Finding], bool] | None
    ) -> None:
        self.sheet = sheet
        self.shop = shop
        self.left = left
        self.layout = Layout()
        self.findings = findings
        self.book = HoldBook(sheet, findings)
        self.index: dict[str, list[int]] = defaultdict(list)
        for i, run in enumerate(sheet.runs):
            self.index[run.id].append(i)
        self.joints: Joints = join_runs(sheet)
        self.waters: list[Water] = []
        self.water_of: dict[int, Water] = {}
        self.joints_in: list[list[Fraction]] = []
        self.material = material_of(sheet, shop)[0]
        self.by_run: list[list[LaidPiece]] = []
        self.run_holds: list[list[Hold]] = []

    def lay(self) -> Layout:
        layout, sheet, shop = self.layout, self.sheet, self.shop
        layout.runs = [self._laid_run(run) for run in sheet.runs]
        placed, stray = place_outlets(sheet, layout.runs, shop, layout.assumed)
        layout.channels = make_channels(sheet, layout.runs, self.joints, placed)
        self._number_corners()
        for channel in layout.channels:
            water = Water(channel, sheet, layout.runs, shop)
            self.waters.append(water)
            self.water_of.update(dict.fromkeys(channel.runs, water))
        self._lay_pieces(placed)
        self._lay_laps()
        hanging = Hanging(sheet, shop, layout)
        layout.hangers = [
            hanging.lay(i, placed[i], self.by_run[i], self.run_holds[i]) for i in range(len(sheet.runs))
        ]
        self._lay_falls()
        layout.assemblies = assemblies(layout.channels, self.by_run, layout.runs, shop)
        self._tell_of_shapes()
        layer = PipeLayer(sheet, layout.runs, outlets_by_id(placed), self.book, shop, layout.assumed)
        for pipe in sheet.downpipes:
            layout.pipes.append(layer.lay(pipe, _system(sheet, pipe.height)))
        layout.findings += layer.findings
        layout.findings += [_finding("outlet-on-no-run", hold) for hold in stray]
        layout.findings += self._own_holds()
        layout.findings += self._lost_holds()
        return layout

    def _number_corners(self) -> None:
        """Give the two run ends that meet at a corner one number, and a corner that meets nothing its own."""
        corners = self.layout.corners
        for i, following in enumerate(self.joints.next):
            if following is not None:
                corners[i, "right"] = corners[following, "left"] = len(corners)
        for i, run in enumerate(self.sheet.runs):
            for side, end in (("left", run.left_end), ("right", run.right_end)):
                if end is not None and end.value in ("outside corner", "inside corner"):
                    number = len(corners) + len(self.sheet.runs)
                    corners.setdefault((i, "left" if side == "left" else "right"), number)

    def _tell_of_shapes(self) -> None:
        """Say once which generic shapes the numbers rest on, for nobody has measured them."""
        for run in self.layout.runs:
            profile = run.gutter.profile
            if profile is not None and not profile.measured:
                words = f"{profile.size.inch_text()} {profile.name}: generic shape, {profile.shape_words}"
                note_once(
                    self.layout.assumed, f"{words}: measure your own once and write it in the shop file"
                )

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
            most, value = self.shop.limits.run.inches, run.length.value
            says = cannot_be(f"the length of {run.name},", value.inches, most, value.system)
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
        if len(self.index[run.id]) > 1:
            says = f"{len(self.index[run.id])} runs bear the id {run.id!r}: which is meant is open"
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
        if 90 < value < 180 and self.shop.corners.over_90 != "ask":
            exact = Fraction(value).limit_denominator(3600)
            return exact if self.shop.corners.over_90 == "turn" else 180 - exact
        # over 90 it may be the turn (a sharp corner) or the angle inside it (a bay): the two give other
        # mitres
        says = (
            f"a corner of {value:g}° at the {side} of {run.name}: its turn, or the angle between the walls?"
        )
        question = f"Does the corner at the {side} of {run.name} turn by {value:g}° or by {180 - value:g}°?"
        if not 0 < value < 180:
            says = f"a corner of {value:g}° at the {side} of {run.name} cannot be"
            question = f"By how much does the corner at the {side} of {run.name} turn?"
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
                self.material,
                self.water_of[i].high_points(i),
            )
            self.run_holds.append(work.hold)
            self._hold_unclear_angle(work)
            pieces = lay_pieces(work, self.shop, used[run.id])
            self.joints_in.append(work.joints)
            used[run.id] += len(pieces)
            self.by_run.append(pieces)
            self.layout.pieces += pieces

    def _end(self, i: int, side: Side, turn: Fraction) -> EndTakeUp:
        run, laid = self.sheet.runs[i], self.layout.runs[i]
        reading = run.left_end if side == "left" else run.right_end
        end: End | None = reading.value if reading is not None else None
        width = laid.gutter.profile.top_width.inches if laid.gutter.profile is not None else None
        upstream = None
        if self.shop.corners.tab_on == "upstream piece" and laid.length is not None:
            right = self.water_of[i].flows_right(i, Fraction(0) if side == "left" else laid.length)
            upstream = None if right is None else right == (side == "right")
        return end_take_up(side, end, turn, width, self.shop, laid.system, f"runs.{run.id}", upstream)

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

    def _lay_laps(self) -> None:
        """Which piece lies over at each lap, and how far the long runs move."""
        for channel, water in zip(self.layout.channels, self.waters, strict=True):
            self._set_lap_sides(channel.runs, water)
        for i, run in enumerate(self.layout.runs):
            moved = movement_of(i, run, self.joints_in[i], self.sheet, self.shop, self.layout.assumed)
            if moved is not None:
                self.layout.movements.append(moved)

    def _lay_falls(self) -> None:
        layout, marks = self.layout, {one.run: one.at for one in self.layout.hangers}
        laps = {i: lap_middles(pieces, self.shop) for i, pieces in enumerate(self.by_run) if len(pieces) > 1}
        joints = {i: self.joints_in[i] for i in laps}
        doubtful = {i for i, hold in enumerate(self.run_holds) if hold}
        for channel, water in zip(layout.channels, self.waters, strict=True):
            water.mark_doubts(doubtful)
            say_where_dry(channel, layout.runs)
            remedies = Remedies(water, self.sheet, self.shop, marks, laps)
            spills = any(layout.runs[i].id in self.book.spilling for i in channel.runs)
            if not channel.outlets and not channel.open_ends and not spills:
                self._hold_dry(channel, remedies)
            layout.falls += water.points(laps, joints)
            layout.findings += water.findings
            for finding in remedies.too_deep():
                layout.findings.append(finding)
                self._hold_for(finding)
            for i in channel.runs:
                hangers = layout.hangers[i]
                hangers.below = [water.below(i, at) for at in hangers.at]

    def _hold_for(self, finding: Finding) -> None:
        if finding.kind == "doubt" and self.left is not None and self.left(finding):
            return
        hold = Hold(finding.about, finding.says, finding.question)
        for path in finding.holds:
            for i in self.index[path.removeprefix("runs.")]:
                for piece in self.by_run[i]:
                    piece.hold = merged(piece.hold, [hold])

    def _hold_dry(self, channel: Channel, remedies: Remedies) -> None:
        """A stretch closed at both ends and without an outlet would be made with no hole in it: hold it."""
        words, _ = remedies.for_dry()
        if words is not None:
            channel.says.append(words)
        untold = [i for i in channel.runs if self.layout.runs[i].id not in self.book.dry]
        if not untold:
            return
        names = listed([self.layout.runs[i].name for i in channel.runs])
        first = self.layout.runs[channel.runs[0]]
        says = f"No outlet where {names} {'drains' if len(channel.runs) == 1 else 'drain'} to."
        if words is not None:
            says += f" {words[:1].upper()}{words[1:]}."
        finding = Finding(
            code="stretch-without-outlet",
            kind="gap",
            about=f"runs.{first.id}.outlets",
            says=says,
            question=f"Where is the outlet for {names}?",
            suggests=[Suggestion(value=words, why="by the shop's fall")] if words is not None else [],
            holds=[f"runs.{self.layout.runs[i].id}" for i in untold],
        )
        self.layout.findings.append(finding)
        self._hold_for(finding)

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


def _finding(code: str, hold: Hold) -> Finding:
    says = hold.says[:1].upper() + hold.says[1:]
    says = says if says.endswith((".", "?", "!")) else f"{says}."
    return Finding(code=code, kind="gap", about=hold.about, says=says, question=hold.question)

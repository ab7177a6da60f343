"""What mends a stretch that falls too far or has no outlet: one more outlet, or a two-way fall."""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding, Suggestion
from gutterance.layout.legs import Leg, Sink, fall_over
from gutterance.layout.splitting import nearest_free
from gutterance.layout.wording import listed, shown
from gutterance.measure.length import MM_PER_INCH, Length, LengthTextError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.layout.falls import Water
    from gutterance.layout.values import LaidRun
    from gutterance.sheet.models import Run, Sheet
    from gutterance.shop import Shop

_MOST_OUTLETS = 20
_GRIDS = {
    "imperial": (Fraction(1), Fraction(1, 2), Fraction(1, 16)),
    "metric": (10 / MM_PER_INCH, 1 / MM_PER_INCH),
}
_BOARD = re.compile(r"\d+\s*[x×]\s*\d+")


@dataclass(frozen=True, slots=True)
class Site:
    """A place for an outlet: on which run, how far [in] from its left end, and how far along the leg [in]."""

    run: int
    at: Fraction
    along: Fraction


def room_for_fall(run: Run, laid: LaidRun, shop: Shop) -> tuple[Fraction, str]:
    """How far [in] the gutter of a run may drop below its high point, and in words why no more.

    Where the note says which board the fascia is (or how deep), its face less the gutter's depth; else the
    shop's usual most; never more than the gutter is deep, for the roof would then shoot over it.
    """
    depth = laid.gutter.profile.depth.inches if laid.gutter.profile is not None else None
    room, why = shop.fall.most.inches, "a usual fascia leaves (shop rule)"
    found = _fascia_face(run, shop)
    if found is not None and depth is not None:
        face, how = found
        room = max(face - depth, Fraction(0))
        why = f"its fascia of {shown(face, laid.system)}{how} leaves"
    if depth is not None and depth < room:
        room, why = depth, "the gutter is deep"
    return room, why


def _fascia_face(run: Run, shop: Shop) -> tuple[Fraction, str] | None:
    """The fascia's face [in], and where a board's name gave it that this is not a measured one."""
    if run.fascia is None or not run.fascia.settled or run.fascia.value is None:
        return None
    text = run.fascia.value
    board = _BOARD.search(text)
    if board is not None:
        name = "".join(board[0].split()).replace("×", "x")
        face = shop.fall.boards.get(name)
        return (face.inches, f" (a {name} by the shop file: measure it)") if face is not None else None
    try:
        return Length.from_file_text(text).inches, ""
    except LengthTextError:
        return None


class Remedies:
    """Remedies for one stretch, clear of the hangers and laps it already has."""

    def __init__(
        self,
        water: Water,
        sheet: Sheet,
        shop: Shop,
        hangers: dict[int, list[Fraction]],
        laps: dict[int, list[Fraction]],
    ) -> None:
        self.water = water
        self.sheet = sheet
        self.shop = shop
        self.hangers = hangers
        self.laps = laps
        self.runs = water.runs

    def too_deep(self) -> list[Finding]:
        """A finding for each leg whose outlet would hang lower than there is room for, and its mend."""
        out = []
        told: set[int] = set()
        for sink in self.water.sinks:
            if sink.depth is None:
                continue
            i = sink.outlet.run
            room, why = room_for_fall(self.sheet.runs[i], self.runs[i], self.shop)
            if sink.depth <= room:
                continue
            for leg, reach in self.water.reaches(sink.outlet):
                if id(leg) not in told and fall_over(reach, self.shop) > room:
                    told.add(id(leg))
                    out.append(self._finding(sink, leg, reach, room, why))
        return out

    def for_dry(self) -> tuple[str | None, list[int]]:
        """Where an outlet would drain a stretch that has none, in words, and the runs it would go on."""
        length = self.water.channel.length
        if length is None:
            return None, []
        leg = Leg(None, None, (0, Fraction(0)), length)
        first = self.water.channel.runs[0]
        room, _ = room_for_fall(self.sheet.runs[first], self.runs[first], self.shop)
        sites, reach = self._sites(leg, room, self._half_width(None))
        if not sites:
            return None, []
        low = self._low(fall_over(reach, self.shop), first)
        words = f"{_outlets(len(sites))} {self._where(sites)} would drain it, {low} low"
        return words, [site.run for site in sites]

    def _finding(self, sink: Sink, leg: Leg, reach: Fraction, room: Fraction, why: str) -> Finding:
        outlet, i = sink.outlet, sink.outlet.run
        run = self.runs[i]
        assert sink.depth is not None
        low, most = self._low(sink.depth, i), shown(room, run.system, feet=False)
        says = (
            f"Outlet {outlet.id} on {run.name} would hang {low} low, more than the {most} that {why}: its "
            f"longest leg is {shown(reach, run.system)}."
        )
        mends, touched = self._mends(sink, leg, room)
        if mends:
            says += f" {mends[0].value[:1].upper()}{mends[0].value[1:]}: {mends[0].why}."
        if len(mends) > 1:
            says += f" Or {mends[1].value}: {mends[1].why}."
        return Finding(
            code="fall-too-great",
            kind="doubt",
            about=f"outlets.{outlet.id}",
            says=says,
            question=f"Is there room on {run.name} for a fall of {low}, or may it be mended so?",
            suggests=mends,
            holds=list(dict.fromkeys(f"runs.{self.runs[one].id}" for one in [i, *touched])),
        )

    def _mends(self, sink: Sink, leg: Leg, room: Fraction) -> tuple[list[Suggestion], list[int]]:
        """What would mend it, the cheapest first: a two-way fall takes no parts, an outlet takes a pipe."""
        mends: list[Suggestion] = []
        touched: list[int] = []
        i, assured = sink.outlet.run, leg.length
        assert assured is not None
        if leg.said and fall_over(assured / 2, self.shop) <= room:
            low = self._low(fall_over(assured / 2, self.shop), i)
            why = f"each outlet is then {low} low, and nothing more is needed"
            mends.append(Suggestion(value="let it fall both ways from the middle of that leg", why=why))
        moved = self._moved(sink, room)
        if moved is not None:
            mends.append(moved[0])
            touched.append(moved[1])
        sites, reach = self._sites(leg, room, sink.outlet.half_width)
        if sites:
            low = self._low(fall_over(reach, self.shop), i)
            why = f"no outlet of that leg is then lower than {low}"
            value = f"{_outlets(len(sites), more=True)} {self._where(sites)}"
            mends.append(Suggestion(value=value, why=why))
            touched += [site.run for site in sites]
        elif not mends and room > 0:
            needed = _outlets_needed(leg, room, self.shop)
            value = f"{needed} more outlets along that leg"
            mends.append(Suggestion(value=value, why="so many it takes, evenly; look at the length again"))
        return mends, touched

    def _moved(self, sink: Sink, room: Fraction) -> tuple[Suggestion, int] | None:
        """The only outlet of a chain put in its middle, so that it falls both ways with no more parts."""
        water, length = self.water, self.water.channel.length
        if water.channel.loop or len(water.channel.outlets) != 1 or length is None:
            return None
        whole = Leg(None, None, (0, Fraction(0)), length)
        site = self._site_at(whole, length / 2, sink.outlet.half_width, but=sink)
        if site is None:
            return None
        reach = max(site.along, length - site.along)
        if fall_over(reach, self.shop) > room:
            return None
        low = self._low(fall_over(reach, self.shop), site.run)
        value = f"outlet {sink.outlet.id} moved to {self._place(site)}, a two-way fall"
        return Suggestion(value=value, why=f"it is then {low} low, with no more parts"), site.run

    def _sites(self, leg: Leg, room: Fraction, half: Fraction) -> tuple[list[Site], Fraction]:
        """Where outlets go on a leg so that none falls further than `room` [in], and the longest reach.

        One near an end or a corner if that will do, for that is where a downpipe is wanted (common
        practice, no source); else one where the falls even out; else as many as it takes, evenly.
        """
        best: tuple[Fraction, Site] | None = None
        for site in self._corner_sites(leg, half):
            reach = _reach_with(leg, [site.along], loop=self.water.channel.loop)
            if fall_over(reach, self.shop) <= room and (best is None or reach < best[0]):
                best = reach, site
        if best is not None:
            return [best[1]], best[0]
        for count in range(1, _MOST_OUTLETS + 1):
            sites = [self._site_at(leg, along, half) for along in _even(leg, count)]
            found = [site for site in sites if site is not None]
            if len(found) < count:
                continue
            reach = _reach_with(leg, [site.along for site in found], loop=self.water.channel.loop)
            if fall_over(reach, self.shop) <= room:
                return found, reach
        return [], Fraction(0)

    def _corner_sites(self, leg: Leg, half: Fraction) -> Iterator[Site]:
        for i, begins in self._runs_on(leg):
            low, high = self._free_of_ends(i, half)
            for ideal in (low, high):
                site = self._site(leg, i, begins, ideal, half)
                if site is not None:
                    yield site

    def _site_at(self, leg: Leg, along: Fraction, half: Fraction, but: Sink | None = None) -> Site | None:
        """The free place nearest to one along a leg."""
        best: Site | None = None
        for i, begins in self._runs_on(leg):
            length = self.runs[i].length
            if length is None or not begins - 24 <= along <= begins + length + 24:
                continue
            site = self._site(leg, i, begins, along - begins, half, but)
            if site is not None and (best is None or abs(site.along - along) < abs(best.along - along)):
                best = site
        return best

    def _site(
        self, leg: Leg, i: int, begins: Fraction, ideal: Fraction, half: Fraction, but: Sink | None = None
    ) -> Site | None:
        rules, run = self.shop, self.runs[i]
        low, high = self._free_of_ends(i, half)
        clear = half + rules.hangers.clear_of_outlet.inches
        beside = half + rules.pieces.lap.inches / 2 + rules.pieces.lap_clear_of_outlets.inches
        blocked = [(mark - clear, mark + clear) for mark in self.hangers.get(i, [])]
        blocked += [(lap - beside, lap + beside) for lap in self.laps.get(i, [])]
        blocked += [
            (one.at - half - one.half_width, one.at + half + one.half_width)
            for one in self.water.outlets_on(i)
            if one.at is not None and (but is None or one is not but.outlet)
        ]
        for grid in _GRIDS[run.system]:
            at = nearest_free(ideal, low, high, blocked, grid)
            if at is not None:
                along = begins + at
                return Site(i, at, along) if leg.length is not None and 0 < along < leg.length else None
        return None

    def _free_of_ends(self, i: int, half: Fraction) -> tuple[Fraction, Fraction]:
        """From where to where [in] on a run an outlet stands clear of both ends or corners."""
        run, length = self.sheet.runs[i], self.runs[i].length
        assert length is not None
        margins = []
        for end in (run.left_end, run.right_end):
            margin = max(self.shop.outlets.from_end.inches, half + 1)
            profile = self.runs[i].gutter.profile
            if end is not None and end.value == "inside corner" and profile is not None:
                margin = max(margin, profile.top_width.inches + half + 1)
            margins.append(margin)
        return margins[0], length - margins[1]

    def _runs_on(self, leg: Leg) -> Iterator[tuple[int, Fraction]]:
        """The runs a leg lies on, each with where its left end is along the leg [in]."""
        if leg.length is None:
            return
        i, within = self.water.locate(leg, Fraction(0))
        order = self.water.channel.runs
        number, begins = self.water.number_of(i), -within
        for _ in range(len(order) + 1):
            here = order[number % len(order)]
            length = self.runs[here].length
            if (
                length is None
                or begins >= leg.length
                or (number >= len(order) and not self.water.channel.loop)
            ):
                return
            yield here, begins
            number, begins = number + 1, begins + length

    def _half_width(self, size: str | None) -> Fraction:
        shape = self.shop.pipe(size or self.shop.usual.downpipe_size)
        return shape.along.inches / 2 if shape is not None else Fraction(2)

    def _low(self, depth: Fraction, i: int) -> str:
        """A depth as the falls list shows an outlet's: up to the shop's step."""
        system = self.runs[i].system
        step = (self.shop.rounding.metric_step if system == "metric" else self.shop.rounding.step).inches
        return shown(-(-depth // step) * step, system, feet=False)

    def _where(self, sites: list[Site]) -> str:
        return listed([self._place(site) for site in sites])

    def _place(self, site: Site) -> str:
        run = self.runs[site.run]
        assert run.length is not None
        left, right = site.at, run.length - site.at
        side, near = ("left", left) if left <= right else ("right", right)
        other, far = ("right", right) if left <= right else ("left", left)
        return (
            f"{shown(near, run.system)} from the {side} end of {run.name} "
            f"({shown(far, run.system)} from its {other} end)"
        )


def _outlets(count: int, *, more: bool = False) -> str:
    if count == 1:
        return "one more outlet" if more else "an outlet"
    return f"{count} more outlets" if more else f"{count} outlets"


def _posts(leg: Leg, alongs: list[Fraction]) -> tuple[list[Fraction], bool, bool]:
    """All outlets along a leg, and whether it is closed at its left and at its right."""
    assert leg.length is not None
    ends = [*([Fraction(0)] if leg.left else []), *([leg.length] if leg.right else [])]
    return sorted([*ends, *alongs]), leg.left is None, leg.right is None


def _reach_with(leg: Leg, alongs: list[Fraction], *, loop: bool) -> Fraction:
    """The longest way [in] water would run on a leg with outlets added at `alongs` [in]."""
    assert leg.length is not None
    posts, left, right = _posts(leg, alongs)
    halves = [(after - before) / 2 for before, after in itertools.pairwise(posts)]
    if loop and left and right:
        return max([*halves, (leg.length - posts[-1] + posts[0]) / 2])
    return max([*halves, *([posts[0]] if left else []), *([leg.length - posts[-1]] if right else [])])


def _outlets_needed(leg: Leg, room: Fraction, shop: Shop) -> int:
    """The fewest outlets on a leg that bring every reach down to what may fall by `room` [in]."""
    assert leg.length is not None
    most = room / fall_over(Fraction(1), shop)
    kept = (1 if leg.left else 0) + (1 if leg.right else 0)
    return int(-((leg.length / most - kept) // -2))


def _even(leg: Leg, count: int) -> list[Fraction]:
    """Where `count` more outlets go so that all reaches of a leg are alike [in from its left end]."""
    assert leg.length is not None
    # a leg between two outlets is cut in count + 1 stretches of two reaches; an end takes one reach
    shares = 2 * count + (1 if leg.left else 0) + (1 if leg.right else 0)
    reach = leg.length / shares
    first = 2 * reach if leg.left else reach
    return [first + 2 * reach * number for number in range(count)]

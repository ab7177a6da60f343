"""What each downpipe is made of: gooseneck, wall pipe, elbows, straps; or why it cannot be said yet."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.elbows import Return, by_field_rule, by_geometry, elbow_to_elbow
from gutterance.layout.holding import HoldBook, guessed, merged, unsettled
from gutterance.layout.outlets import pipe_size_of
from gutterance.layout.values import Hold, LaidPipe, LaidRun, PlacedOutlet, Reason
from gutterance.layout.wording import note_once, shown, signed

if TYPE_CHECKING:
    from gutterance.measure.length import System
    from gutterance.sheet.models import Downpipe, LengthReading, Outlet, Sheet
    from gutterance.shop import Shop

_NOTHING = Fraction(0)


class PipeLayer:
    """Lays the downpipes of one sheet by one shop's rules."""

    def __init__(
        self,
        sheet: Sheet,
        runs: list[LaidRun],
        placed: dict[str, list[PlacedOutlet]],
        book: HoldBook,
        shop: Shop,
        assumed: list[str],
    ) -> None:
        self.sheet = sheet
        self.runs = runs
        self.placed = placed
        self.book = book
        self.shop = shop
        self.assumed = assumed
        self.outlets: dict[str, Outlet] = {}
        for outlet in sheet.outlets:
            self.outlets.setdefault(outlet.id, outlet)

    def lay(self, pipe: Downpipe, system: System) -> LaidPipe:
        """One downpipe. Anything open is a hold, and what rests on it stays None."""
        path = f"downpipes.{pipe.id}"
        hold: list[Hold] = list(self.book.pipes.get(pipe.id, []))
        outlet = self.outlets.get(pipe.outlet or "")
        place = self.placed.get(pipe.outlet or "", [])
        run = place[0].run if place else None
        if outlet is None:
            says = (
                "it has no outlet on the sheet"
                if pipe.outlet is None
                else f"there is no outlet {pipe.outlet!r}"
            )
            hold.append(Hold(f"{path}.outlet", f"downpipe {pipe.id}: {says}", "Which outlet does it take?"))
        laid = LaidPipe(
            id=pipe.id,
            outlet=pipe.outlet,
            run=run,
            place=_place_words(outlet, self.runs[run] if run is not None else None, system),
            size=None,
            colour=self.runs[run].gutter.colour if run is not None else None,
            ends_at=None,
            shape=None,
            ending=None,
            system=system,
        )
        hold += self._set_size(laid, pipe, outlet)
        hold += self._set_ending(laid, pipe)
        hold += _open(pipe.wall_to_fascia, f"{path}.wall_to_fascia", f"the wall to fascia of {pipe.id}")
        hold += _open(pipe.height, f"{path}.height", f"the height of {pipe.id}")
        laid.hold = merged(hold)
        for reading, what in (
            (pipe.wall_to_fascia, "wall to fascia"),
            (pipe.height, "height"),
            (pipe.ends_at, "ending"),
            (pipe.size, "size"),
        ):
            laid.says += guessed(reading, what)
        self._cut(laid, pipe)
        laid.hold = merged(laid.hold)
        return laid

    def _set_size(self, laid: LaidPipe, pipe: Downpipe, outlet: Outlet | None) -> list[Hold]:
        hold: list[Hold] = []
        if pipe.size is not None:
            laid.size = pipe.size.value
            hold = unsettled(f"downpipes.{pipe.id}.size", pipe.size, f"the size of downpipe {pipe.id}")
        elif outlet is not None:
            laid.size, hold = pipe_size_of(self.sheet, outlet, {})
        elif self.sheet.defaults.downpipe_size is not None:
            laid.size = self.sheet.defaults.downpipe_size.value
            hold = unsettled("defaults.downpipe_size", self.sheet.defaults.downpipe_size, "the downpipe size")
        if laid.size is None and not hold:
            laid.size = self.shop.usual.downpipe_size
            note_once(self.assumed, f"pipe {laid.size}: not said, shop rule")
        if laid.size is not None:
            laid.shape = self.shop.pipe(laid.size)
            if laid.shape is None:
                says = f"the shop file has no pipe {laid.size!r}: add a [[pipes]] table for it"
                hold.append(Hold(f"downpipes.{pipe.id}.size", says, f"Is {laid.size} the right pipe?"))
        return hold

    def _set_ending(self, laid: LaidPipe, pipe: Downpipe) -> list[Hold]:
        hold = unsettled(f"downpipes.{pipe.id}.ends_at", pipe.ends_at, f"what {pipe.id} ends at")
        if pipe.ends_at is not None and pipe.ends_at.value is not None:
            laid.ends_at = pipe.ends_at.value
            laid.ending = self.shop.endings.get(pipe.ends_at.value)
            if laid.ending is None:
                says = f"the shop file has no [endings] table for {laid.ends_at!r}"
                hold.append(Hold(f"downpipes.{pipe.id}.ends_at", says))
        elif not hold:
            laid.ends_at = self.shop.downpipes.ending
            laid.ending = self.shop.endings[self.shop.downpipes.ending]
            words = f"downpipe ends at {laid.ends_at}: not said, shop rule"
            laid.says.append(words)
            note_once(self.assumed, words)
        return hold

    def _cut(self, laid: LaidPipe, pipe: Downpipe) -> None:
        shop, path, system = self.shop, f"downpipes.{pipe.id}", laid.system
        reach, height = _inches(pipe.wall_to_fascia), _inches(pipe.height)
        for name, value, most in (
            ("wall_to_fascia", reach, shop.limits.wall_to_fascia.inches),
            ("height", height, shop.limits.height.inches),
        ):
            words = name.replace("_", " ")
            if value is not None and (value < 0 or value > most or (name == "height" and value == 0)):
                says = f"a {words} of {shown(value, system)} cannot be right"
                laid.hold.append(Hold(f"{path}.{name}", says, f"What is the {words} of {pipe.id}?"))
        laid.parts = _parts(laid, pipe, reach)
        laid.why += _part_reasons(laid, pipe, reach, path)
        ways = (
            self._ways(laid, reach)
            if reach is not None and 0 <= reach <= shop.limits.wall_to_fascia.inches
            else []
        )
        if ways:
            self._set_ways(laid, ways, reach or _NOTHING, path)
        if not ways or height is None or not 0 < height <= shop.limits.height.inches or laid.ending is None:
            return
        laid.tail = laid.ending.tail.inches or None
        if laid.drop is not None:
            self._set_wall_pipe(laid, pipe, height, path)

    def _ways(self, laid: LaidPipe, reach: Fraction) -> list[Return]:
        """The ways back to the wall, the shop's own first. Straight down where the wall is flush."""
        if reach == 0:
            return [Return("straight", _NOTHING, _NOTHING)]
        if laid.shape is None:
            return []
        ways = [
            by_field_rule(reach, self.shop),
            by_geometry(max(reach + self.shop.downpipes.throw_allowance.inches, _NOTHING), laid.shape),
        ]
        return ways if self.shop.downpipes.rule == "field rule" else ways[::-1]

    def _set_ways(self, laid: LaidPipe, ways: list[Return], wall_to_fascia: Fraction, path: str) -> None:
        rules, system, used = self.shop.downpipes, laid.system, ways[0]
        laid.rule = used.rule
        at = f"{path}.wall_to_fascia"
        reach = shown(wall_to_fascia, system, feet=False)
        if used.rule == "straight":
            laid.drop = used.drop
            laid.why.append(
                Reason("drop", "no distance from wall to fascia: straight down, no elbows at the top")
            )
            return
        laid.drop = used.drop
        laid.why.append(Reason("gooseneck", f"wall to fascia {reach}", None, at))
        laid.why += _way_reasons(used, rules.field_less.inches, laid, system)
        if used.gooseneck < rules.shortest_cut.inches:
            assert laid.shape is not None
            throw, joined = elbow_to_elbow(laid.shape)
            if abs(wall_to_fascia + rules.throw_allowance.inches - throw) <= rules.tolerance.inches:
                laid.rule, laid.drop = joined.rule, joined.drop
                words = f"two elbows pushed together, no gooseneck: they throw {shown(throw, system)}"
                laid.says.append(words)
                kept = [one for one in laid.why if one.number == "parts"]
                laid.why = [*kept, Reason("drop", words, joined.drop, at)]
                return
            says = (
                f"wall to fascia {reach} is too short for two elbows and a gooseneck: it would be "
                f"{shown(used.gooseneck, system, feet=False)} by the {used.rule} "
                f"(two elbows pushed together throw {shown(throw, system)})"
            )
            laid.hold.append(Hold(at, says, f"How is {laid.id} brought back to the wall?"))
            laid.drop = None
            return
        laid.gooseneck = used.gooseneck
        other = ways[1]
        laid.other_rule, laid.other_gooseneck, laid.other_drop = other.rule, other.gooseneck, other.drop
        laid.why.append(Reason("other_gooseneck", f"wall to fascia {reach}, by {other.rule}", None, at))
        laid.why += [
            replace(one, number=f"other_{one.number}")
            for one in _way_reasons(other, rules.field_less.inches, laid, system)
        ]
        apart = max(abs(used.gooseneck - other.gooseneck), abs(used.drop - other.drop))
        laid.rules_differ = apart > rules.tolerance.inches
        if laid.rules_differ:
            most = shown(rules.tolerance.inches, system, feet=False)
            laid.says.append(
                f"field rule and elbow geometry differ by over {most}: try the elbows before cutting"
            )

    def _set_wall_pipe(self, laid: LaidPipe, pipe: Downpipe, height: Fraction, path: str) -> None:
        rules, system = self.shop.downpipes, laid.system
        assert laid.drop is not None
        assert laid.ending is not None
        steps = [
            (height, f"height {shown(height, system)}", f"{path}.height"),
            (-rules.outlet_stub.inches, "outlet stub", None),
            (-laid.drop, "drop of elbows and gooseneck", None),
            (-laid.ending.take.inches, f"taken by the ending: {laid.ends_at}", f"{path}.ends_at"),
        ]
        for number, offset in enumerate(pipe.offsets, start=1):
            steps += self._offset_steps(laid, offset, number, path)
        wall = sum((amount for amount, _, _ in steps), _NOTHING)
        for amount, words, at in steps:
            if amount:
                says = words if amount == height else f"{signed(amount, system)} {words}"
                laid.why.append(Reason("wall_pipe", says, amount, at))
        if wall < rules.shortest_cut.inches:
            says = (
                f"a height of {shown(height, system)} is too small for its elbows: {shown(wall, system)} left"
            )
            laid.hold.append(Hold(f"{path}.height", says, f"What is the height of {pipe.id}?"))
            return
        laid.wall_pipe = wall
        laid.wall_cuts, joints = _wall_cuts(
            wall, rules.stock.inches, rules.joint_lap.inches, rules.shortest_cut.inches
        )
        if len(laid.wall_cuts) > 1:
            lap = shown(rules.joint_lap.inches, system, feet=False)
            laid.says.append(f"wall pipe in {len(laid.wall_cuts)} lengths, {lap} laps, upper into lower")
            stock = shown(rules.stock.inches, system)
            laid.why.append(
                Reason("wall_cuts", f"wall pipe {shown(wall, system)} from lengths of {stock}, {lap} a lap")
            )
        laid.straps = strap_places(wall, rules.strap_from_end.inches, rules.strap_spacing.inches, joints)
        laid.parts.append(("pipe strap", len(laid.straps)))
        end, widest = (shown(one.inches, system) for one in (rules.strap_from_end, rules.strap_spacing))
        at_joints = ", one at each joint" if joints else ""
        laid.why.append(
            Reason("straps", f"one {end} from each end{at_joints}, none wider apart than {widest}: shop rule")
        )

    def _offset_steps(
        self, laid: LaidPipe, offset: LengthReading, number: int, path: str
    ) -> list[tuple[Fraction, str, str | None]]:
        """What an offset takes off the wall pipe. Where it sits is not on the sheet, so it holds."""
        at = f"{path}.offsets.{number}"
        laid.hold += _open(offset, at, f"offset {number} of {laid.id}")
        throw = _inches(offset)
        if throw is None or laid.shape is None or throw <= 0:
            return []
        way = by_geometry(throw, laid.shape)
        words = shown(throw, laid.system, feet=False)
        says = f"the offset of {words} on {laid.id} needs the height it sits at"
        if way.gooseneck < self.shop.downpipes.shortest_cut.inches:
            says = f"an offset of {words} on {laid.id} is too short for two elbows and a cut between them"
        laid.hold.append(Hold(f"{at}.place", says, f"How high up is the offset on {laid.id}?"))
        return [(-way.drop, f"drop of the {words} offset, by elbow geometry", at)]


_NEAR = Fraction(3)


def strap_places(
    wall: Fraction, from_end: Fraction, spacing: Fraction, joints: list[Fraction]
) -> list[Fraction]:
    """Strap heights [in] up from the wall pipe's lower end, never wider apart than `spacing`.

    Source: one at the top, one at the bottom, one at each joint between (NAVEDTRA 14044); the spacing is
    a shop rule (common practice, no source). A joint within 3 in of the top or bottom strap has that one
    (common practice, no source).

    >>> strap_places(Fraction(126), Fraction(6), Fraction(60), [Fraction(27, 4)])
    [Fraction(27, 4), Fraction(507, 8), Fraction(120, 1)]
    """
    if wall <= 2 * from_end:
        return [wall / 2]
    between = [joint for joint in joints if from_end < joint < wall - from_end]
    ends = [end for end in (from_end, wall - from_end) if all(abs(end - joint) >= _NEAR for joint in between)]
    posts = sorted({*ends, *between})
    out = posts[:1]
    for post in posts[1:]:
        below = out[-1]
        shares = int(-((post - below) // -spacing))
        out += [below + (post - below) * number / shares for number in range(1, shares + 1)]
    return out


def _wall_cuts(
    wall: Fraction, stock: Fraction, lap: Fraction, shortest: Fraction
) -> tuple[list[Fraction], list[Fraction]]:
    """The wall pipe's cuts, top to bottom, and the heights of the joints' middles from its lower end [in]."""
    if wall <= stock or stock <= 2 * lap:
        return [wall], []
    count = int(-((wall - lap) // -(stock - lap)))
    cuts = [stock] * (count - 1)
    cuts.append(wall + (count - 1) * lap - sum(cuts, _NOTHING))
    if cuts[-1] < shortest + lap:
        # a stub at the foot is no use: share it with the length above
        both = cuts[-1] + cuts[-2]
        cuts[-2:] = [both / 2, both / 2]
    joints, up = [], _NOTHING
    for cut in reversed(cuts[1:]):
        up += cut - lap
        joints.append(up + lap / 2)
    return cuts, joints


def _parts(laid: LaidPipe, pipe: Downpipe, reach: Fraction | None) -> list[tuple[str, int]]:
    elbows = 0 if reach == 0 else 2
    elbows += 2 * len(pipe.offsets)
    parts: list[tuple[str, int]] = []
    if laid.ending is not None:
        elbows += laid.ending.elbows
        if laid.ending.extra:
            parts.append((laid.ending.extra, 1))
    if elbows:
        parts.insert(0, (f"elbow {laid.size}" if laid.size else "elbow", elbows))
    return parts


def _part_reasons(laid: LaidPipe, pipe: Downpipe, reach: Fraction | None, path: str) -> list[Reason]:
    reasons = [] if reach == 0 else [Reason("parts", "2 elbows at the top", None, f"{path}.wall_to_fascia")]
    if pipe.offsets:
        reasons.append(Reason("parts", f"{2 * len(pipe.offsets)} elbows at the offsets"))
    if laid.ending is not None:
        elbows = f"{laid.ending.elbows or 'no'} elbow{'' if laid.ending.elbows == 1 else 's'}"
        extra = f", 1 {laid.ending.extra}" if laid.ending.extra else ""
        says = f"{elbows}{extra} at the end: {laid.ends_at}"
        reasons.append(Reason("parts", says, None, f"{path}.ends_at"))
    return reasons


def _way_reasons(way: Return, field_less: Fraction, laid: LaidPipe, system: System) -> list[Reason]:
    if way.rule == "field rule":
        return [
            Reason("gooseneck", f"{signed(-field_less, system)} field rule", -field_less),
            Reason("drop", f"{shown(way.drop, system, feet=False)} field rule", way.drop),
        ]
    shape = laid.shape
    assert shape is not None
    turn = f"{shape.elbow_turn:g}°"
    straight = 2 * (shape.leg_b.inches - shape.slip.inches)
    return [
        Reason("gooseneck", f"/ sin {turn}, {signed(-straight, system)} two elbow legs less slip", -straight),
        Reason(
            "drop",
            f"two elbow legs, {shown(2 * shape.leg_a.inches, system, feet=False)}, + throw x cot {turn}",
            way.drop,
        ),
    ]


def _place_words(outlet: Outlet | None, run: LaidRun | None, system: System) -> str | None:
    if outlet is None:
        return None
    name = run.name if run is not None else outlet.run
    if outlet.from_ is None:
        return name
    if outlet.from_ == "centre":
        return f"{name}, centre"
    distance = _inches(outlet.distance)
    if distance is None:
        return f"{name}, {outlet.from_} end"
    return f"{name}, {shown(distance, system)} from the {outlet.from_} end"


def _open(reading: LengthReading | None, path: str, what: str) -> list[Hold]:
    if reading is None:
        return [Hold(path, f"{what} was not said", f"What is {what}?")]
    return unsettled(path, reading, what)


def _inches(reading: LengthReading | None) -> Fraction | None:
    return reading.value.inches if reading is not None and reading.value is not None else None

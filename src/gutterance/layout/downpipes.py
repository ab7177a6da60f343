"""What each downpipe is made of: gooseneck, wall pipe, elbows, straps; or why it cannot be said yet."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.bends import Bends
from gutterance.layout.elbows import Return, by_field_rule, by_geometry, elbow_to_elbow, elbows_trimmed
from gutterance.layout.holding import HoldBook, guessed, merged, unsettled
from gutterance.layout.outlets import pipe_size_of
from gutterance.layout.pipe_parts import count_parts
from gutterance.layout.pipe_words import inches_of, open_value, place_words, way_reasons
from gutterance.layout.values import Hold, LaidPipe, LaidRun, PlacedOutlet, Reason
from gutterance.layout.wall_pipe import set_wall_pipe
from gutterance.layout.wording import at_step, cannot_be, note_once, shown

if TYPE_CHECKING:
    from gutterance.checking.findings import Finding
    from gutterance.measure.length import System
    from gutterance.sheet.models import Downpipe, Outlet, Sheet
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
        self.findings: list[Finding] = []
        self.bends = Bends(sheet, placed, shop, self.findings)
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
            place=place_words(outlet, self.runs[run] if run is not None else None, system),
            size=None,
            colour=self.runs[run].gutter.colour if run is not None else None,
            ends_at=None,
            shape=None,
            ending=None,
            system=system,
        )
        hold += self._set_size(laid, pipe, outlet)
        hold += self._set_ending(laid, pipe)
        hold += open_value(pipe.wall_to_fascia, f"{path}.wall_to_fascia", f"the wall to fascia of {pipe.id}")
        hold += open_value(pipe.height, f"{path}.height", f"the height of {pipe.id}")
        laid.hold = merged(hold)
        for reading, what in (
            (pipe.wall_to_fascia, "wall to fascia"),
            (pipe.height, "height"),
            (pipe.ends_at, "ending"),
            (pipe.size, "size"),
        ):
            laid.says += guessed(reading, what)
        self._cut(laid, pipe, place[0] if place else None)
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

    def _cut(self, laid: LaidPipe, pipe: Downpipe, outlet: PlacedOutlet | None) -> None:
        shop, path, system = self.shop, f"downpipes.{pipe.id}", laid.system
        reach, height = inches_of(pipe.wall_to_fascia), inches_of(pipe.height)
        most = {"wall_to_fascia": shop.limits.wall_to_fascia.inches, "height": shop.limits.height.inches}
        for name, value in (("wall_to_fascia", reach), ("height", height)):
            words = name.replace("_", " ")
            if value is not None and (value < 0 or value > most[name] or (name == "height" and value == 0)):
                says = cannot_be(f"the {words} of {pipe.id},", value, most[name], system)
                laid.hold.append(Hold(f"{path}.{name}", says, f"What is the {words} of {pipe.id}?"))
        ways = self._ways(laid, reach) if reach is not None and 0 <= reach <= most["wall_to_fascia"] else []
        if ways:
            self._set_ways(laid, ways, reach or _NOTHING, path)
        laid.bends = self.bends.lay(laid, pipe, outlet)
        if ways and height is not None and 0 < height <= most["height"] and laid.ending is not None:
            laid.tail = laid.ending.tail.inches or None
            if laid.drop is not None:
                set_wall_pipe(laid, pipe, height, path, shop)
        count_parts(laid, reach, path, shop)
        self._say_of_ending(laid)
        self._tell_of_elbows(laid)

    def _tell_of_elbows(self, laid: LaidPipe) -> None:
        """Say once that cuts rest on a generic elbow, for nobody has measured the shop's own."""
        by_shape = laid.rule in ("elbow geometry", "elbows trimmed", "elbow to elbow") or laid.bends
        if by_shape and laid.shape is not None and not laid.shape.measured:
            words = f"{laid.shape.size} elbows: generic shape: measure the legs of your own once"
            note_once(self.assumed, f"{words} and write them in the shop file")

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
        laid.drop = used.drop
        if used.rule == "straight":
            laid.why.append(
                Reason("drop", "no distance from wall to fascia: straight down, no elbows at the top")
            )
            return
        if used.gooseneck < rules.shortest_cut.inches:
            self._set_elbows_alone(laid, used, wall_to_fascia, at)
            return
        laid.why.append(Reason("gooseneck", f"wall to fascia {reach}", None, at))
        laid.why += way_reasons(used, rules.field_less.inches, laid, system)
        laid.gooseneck = used.gooseneck
        other = ways[1]
        laid.other_rule, laid.other_gooseneck, laid.other_drop = other.rule, other.gooseneck, other.drop
        laid.why.append(Reason("other_gooseneck", f"wall to fascia {reach}, by {other.rule}", None, at))
        laid.why += [
            replace(one, number=f"other_{one.number}")
            for one in way_reasons(other, rules.field_less.inches, laid, system)
        ]
        apart = max(abs(used.gooseneck - other.gooseneck), abs(used.drop - other.drop))
        laid.rules_differ = apart > rules.tolerance.inches
        if laid.rules_differ:
            most = shown(rules.tolerance.inches, system, feet=False)
            laid.says.append(
                f"field rule and elbow geometry differ by over {most}: try the elbows before cutting"
            )

    def _set_elbows_alone(self, laid: LaidPipe, used: Return, wall_to_fascia: Fraction, at: str) -> None:
        """Too near the wall for a gooseneck: elbow into elbow, whole or with the legs between cut shorter."""
        rules, system = self.shop.downpipes, laid.system
        assert laid.shape is not None
        wanted = wall_to_fascia + rules.throw_allowance.inches
        throw, joined = elbow_to_elbow(laid.shape)
        trimmed = elbows_trimmed(wanted, laid.shape) if wanted < throw else None
        if abs(wanted - throw) <= rules.tolerance.inches:
            laid.rule, laid.drop = joined.rule, joined.drop
            words = f"two elbows pushed together, no gooseneck: they throw {shown(throw, system)}"
        elif trimmed is not None:
            laid.trim, way = trimmed
            laid.rule, laid.drop = way.rule, way.drop
            off = at_step(laid.trim, system, self.shop)
            words = f"two elbows pushed together, no gooseneck: cut {off} off the leg of each where they meet"
        else:
            says = (
                f"wall to fascia {shown(wall_to_fascia, system, feet=False)} does not suit two elbows: a "
                f"gooseneck would be {shown(used.gooseneck, system, feet=False)} by the {used.rule}, and two "
                f"elbows pushed together throw {shown(throw, system)}"
            )
            laid.hold.append(Hold(at, says, f"How is {laid.id} brought back to the wall?"))
            laid.drop = None
            return
        laid.says.append(words)
        laid.why.append(Reason("drop", words, laid.drop, at))
        if laid.trim is not None:
            turn = f"{laid.shape.elbow_turn:g}°"
            says = f"leg_b less half of (throw {shown(wanted, system, feet=False)} / sin {turn} + slip)"
            laid.why.append(Reason("trim", says, laid.trim, at))

    def _say_of_ending(self, laid: LaidPipe) -> None:
        """What must be looked at where the water of one roof comes down on another."""
        if laid.ends_at == "lower gutter":
            laid.says.append(
                "into the lower gutter: its size, outlets and pipes must take this roof's water too"
            )
        elif laid.ends_at == "lower roof":
            laid.says.append(
                "onto the lower roof: the spreader lies on it, and its gutter takes this water too"
            )

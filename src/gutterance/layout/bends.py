"""Where a pipe leaves the wall's line: round a ledge or band course, sideways, arms from other outlets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding
from gutterance.layout.elbows import Return, by_geometry, elbow_to_elbow, elbows_trimmed
from gutterance.layout.holding import guessed
from gutterance.layout.pipe_words import inches_of, open_value
from gutterance.layout.values import Hold, LaidBend, LaidPipe, PlacedOutlet, Reason
from gutterance.layout.wording import at_step, cannot_be, shown

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.sheet.models import Downpipe, LengthReading, Sheet
    from gutterance.shop import Shop

OUT, ROUND, SIDEWAYS = "out", "out and back", "sideways"
_SIDEWAYS_SAID = ("sideways", "to the side", "jog over", "jogs over")
_ROUND_SAID = (
    "band course", "string course", "out and back", "round the", "around the", "jogs around", "kicks round",
)  # fmt: skip


class Bends:
    """Works out the bends of the pipes of one sheet."""

    def __init__(
        self, sheet: Sheet, placed: dict[str, list[PlacedOutlet]], shop: Shop, findings: list[Finding]
    ) -> None:
        self.sheet = sheet
        self.placed = placed
        self.shop = shop
        self.findings = findings

    def lay(self, laid: LaidPipe, pipe: Downpipe, outlet: PlacedOutlet | None) -> list[LaidBend]:
        """The bends of one pipe, top first: arms from other outlets, then offsets in the note's order."""
        bends = [bend for other in pipe.also_takes if (bend := self._arm(laid, other, outlet)) is not None]
        for number, offset in enumerate(pipe.offsets, start=1):
            bend = self._offset(laid, pipe, offset, number)
            if bend is not None:
                bends.append(bend)
        return bends

    def _offset(self, laid: LaidPipe, pipe: Downpipe, offset: LengthReading, number: int) -> LaidBend | None:
        at = f"downpipes.{pipe.id}.offsets.{number}"
        held = open_value(offset, at, f"offset {number} of {laid.id}")
        laid.hold += held
        laid.says += guessed(offset, f"offset {number}")
        throw = inches_of(offset)
        if throw is None or laid.shape is None:
            return None
        words = shown(throw, laid.system, feet=False)
        if not 0 < throw <= self.shop.limits.wall_to_fascia.inches:
            most = self.shop.limits.wall_to_fascia.inches
            says = cannot_be(f"offset {number} of {laid.id},", throw, most, laid.system)
            laid.hold.append(Hold(at, says, f"How far does {laid.id} go over there?"))
            return None
        way, sure = self._way_of(pipe, offset, number)
        bend = LaidBend(f"offset {number}", way, throw)
        step = self._step(throw, laid)
        if step is None:
            says = f"an offset of {words} on {laid.id} does not suit two elbows and a cut between them"
            laid.hold.append(Hold(at, says, f"How does {laid.id} go over {words}?"))
            return None
        cut, drop, note = step
        if note:
            laid.says.append(f"offset {number}: {note}")
        times = 2 if way == ROUND else 1
        bend.drop = drop * times
        bend.cuts = [cut] if cut is not None else []
        if way == ROUND:
            straight = self.shop.downpipes.band_height.inches
            bend.cuts = [*bend.cuts, straight, *bend.cuts]
            bend.drop += straight
            laid.says.append(
                f"offset {number}: {shown(straight, laid.system, feet=False)} straight past the band, "
                "shop rule: measure the band"
            )
        if not sure:
            laid.says.append(
                f"offset {number} of {words} taken to step out over a ledge and stay out: not said"
            )
        self._set_height(bend, laid, pipe, number)
        laid.why.append(Reason(f"bends.{bend.what}", f"{words} over, {way}", None, at))
        laid.why += _step_reasons(bend, cut, laid)
        return bend

    def _set_height(self, bend: LaidBend, laid: LaidPipe, pipe: Downpipe, number: int) -> None:
        path = f"downpipes.{pipe.id}.offset_heights.{number}"
        reading = pipe.offset_heights[number - 1] if number <= len(pipe.offset_heights) else None
        bend.above_foot = inches_of(reading)
        if reading is not None:
            laid.hold += open_value(reading, path, f"the height of offset {number} of {laid.id}")
        if bend.above_foot is not None:
            return
        self.findings.append(
            Finding(
                code="offset-height-not-said",
                kind="assumption",
                about=path,
                says=f"How high up offset {number} of downpipe {laid.id} sits was not said: its wall pipe is "
                "given in all, to be cut on site.",
                question=f"How far above its foot does {laid.id} go over?",
                source=list(pipe.offsets[number - 1].source),
            )
        )

    def _step(self, throw: Fraction, laid: LaidPipe) -> tuple[Fraction | None, Fraction, str] | None:
        """One step sideways by two elbows: the cut between them [in], the drop [in], and what to note."""
        assert laid.shape is not None
        rules = self.shop.downpipes
        way: Return = by_geometry(throw, laid.shape)
        if way.gooseneck >= rules.shortest_cut.inches:
            return way.gooseneck, way.drop, ""
        whole, joined = elbow_to_elbow(laid.shape)
        if abs(whole - throw) <= rules.tolerance.inches:
            return None, joined.drop, "elbow straight into elbow"
        trimmed = elbows_trimmed(throw, laid.shape) if throw < whole else None
        if trimmed is None:
            return None
        off = at_step(trimmed[0], laid.system, self.shop)
        return None, trimmed[1].drop, f"elbow into elbow, {off} cut off the leg of each where they meet"

    def _way_of(self, pipe: Downpipe, offset: LengthReading, number: int) -> tuple[str, bool]:
        """Which way an offset goes, and whether that was said."""
        if number <= len(pipe.offset_ways) and pipe.offset_ways[number - 1].value in (OUT, ROUND, SIDEWAYS):
            return pipe.offset_ways[number - 1].value or OUT, True
        lines = {source.line for source in offset.source}
        said = " ".join(
            text for line, text in enumerate(self.sheet.note, start=1) if line in lines
        ).casefold()
        if any(word in said for word in _SIDEWAYS_SAID):
            return SIDEWAYS, True
        if any(word in said for word in _ROUND_SAID):
            return ROUND, True
        return OUT, "ledge" in said or "water table" in said

    def _arm(self, laid: LaidPipe, other: str, outlet: PlacedOutlet | None) -> LaidBend | None:
        """The arm that brings another outlet's water into this pipe: back to the wall, then along it."""
        at = f"downpipes.{laid.id}.also_takes"
        place = self.placed.get(other, [])
        if not place:
            says = f"downpipe {laid.id} is to take outlet {other!r} too, which is not on the sheet"
            laid.hold.append(Hold(at, says, f"Which other outlet does {laid.id} take?"))
            return None
        one = place[0]
        if outlet is None or one.at is None or outlet.at is None or laid.shape is None:
            return None
        if one.run != outlet.run or one.at == outlet.at:
            says = f"outlet {other} is not along the same run as {laid.outlet}: its arm cannot be worked out"
            laid.hold.append(Hold(at, says, f"How does the water of {other} get to {laid.id}?"))
            return None
        throw = abs(one.at - outlet.at)
        way = by_geometry(throw, laid.shape)
        if way.gooseneck < self.shop.downpipes.shortest_cut.inches:
            says = f"outlets {other} and {laid.outlet} are too near each other for an arm between them"
            laid.hold.append(Hold(at, says, f"How do {other} and {laid.outlet} share a pipe?"))
            return None
        reach = shown(throw, laid.system)
        bend = LaidBend(f"arm from {other}", "arm", throw, [way.gooseneck], way.drop)
        arm = shown(way.gooseneck, laid.system)
        laid.says.append(f"takes outlet {other} too, {reach} along: arm of {arm} into a branch")
        laid.why.append(Reason(f"bends.{bend.what}", f"{reach} along from outlet {laid.outlet}"))
        laid.why += _step_reasons(bend, way.gooseneck, laid)
        return bend


def _step_reasons(bend: LaidBend, cut: Fraction | None, laid: LaidPipe) -> list[Reason]:
    """How the cut between two elbows and the height they take come of the elbow's shape."""
    shape, number = laid.shape, f"bends.{bend.what}"
    assert shape is not None
    turn = f"{shape.elbow_turn:g}°"
    legs = shown(2 * shape.leg_a.inches, laid.system, feet=False)
    why = [Reason(number, f"drop: two elbow legs, {legs}, + throw x cot {turn}")]
    if cut is not None:
        less = shown(2 * (shape.leg_b.inches - shape.slip.inches), laid.system, feet=False)
        why.insert(0, Reason(number, f"cut: throw / sin {turn}, less {less} of elbow legs less slip"))
    return why

"""The pipe down the wall: how long it is in all, its sections between bends, its cuts, joints and straps."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.pipe_lengths import lengths_of, strap_places
from gutterance.layout.values import Hold, LaidBend, LaidPipe, Reason
from gutterance.layout.wording import shown, signed

if TYPE_CHECKING:
    from gutterance.sheet.models import Downpipe
    from gutterance.shop import Shop

_NOTHING = Fraction(0)


def set_wall_pipe(laid: LaidPipe, pipe: Downpipe, height: Fraction, path: str, shop: Shop) -> None:
    """Wall pipe = height - outlet stub - drop - drop of each offset - branches - what the ending takes [in].

    Where an offset's height is known the pipe is cut above and below it; else it is given in all.
    """
    rules, system = shop.downpipes, laid.system
    assert laid.drop is not None
    assert laid.ending is not None
    steps: list[tuple[Fraction, str, str | None]] = [
        (height, f"height {shown(height, system)}", f"{path}.height"),
        (-rules.outlet_stub.inches, "outlet stub", None),
        (-laid.drop, "drop of elbows and gooseneck", None),
        (-laid.ending.take.inches, f"taken by the ending: {laid.ends_at}", f"{path}.ends_at"),
    ]
    arms = [bend for bend in laid.bends if bend.way == "arm"]
    offsets = [bend for bend in laid.bends if bend.way != "arm"]
    for number, bend in enumerate(offsets, start=1):
        words = f"drop of the {shown(bend.throw, system, feet=False)} {bend.what}, by elbow geometry"
        steps.append((-bend.drop, words, f"{path}.offsets.{number}"))
    steps += [(-rules.branch_take.inches, f"the branch for the {bend.what}", None) for bend in arms]
    wall = sum((amount for amount, _, _ in steps), _NOTHING)
    for amount, words, at in steps:
        if amount:
            says = words if amount == height else f"{signed(amount, system)} {words}"
            laid.why.append(Reason("wall_pipe", says, amount, at))
    if wall < rules.shortest_cut.inches:
        needs = height - wall + rules.shortest_cut.inches
        says = (
            f"a height of {shown(height, system)} is too small for its elbows: they and its ending need "
            f"{shown(needs, system)} at the least"
        )
        laid.hold.append(Hold(f"{path}.height", says, f"What is the height of {pipe.id}?"))
        return
    sections = _sections(laid, wall, arms, offsets, path, shop)
    if sections is None:
        return
    laid.wall_pipe = wall
    _cut_and_strap(laid, sections, offsets, shop)


def _sections(
    laid: LaidPipe, wall: Fraction, arms: list[LaidBend], offsets: list[LaidBend], path: str, shop: Shop
) -> list[Fraction] | None:
    """The straight lengths [in] top to bottom; None where a bend sits where there is no pipe for it."""
    assert laid.ending is not None
    rules = shop.downpipes
    lengths: list[Fraction] = []
    left = wall
    for bend in sorted(arms, key=lambda one: one.drop):
        # an arm meets the wall where the pipe does, and drops to its branch beside the pipe
        length = bend.drop - sum(lengths, _NOTHING) - rules.branch_take.inches * len(lengths)
        if length < rules.shortest_cut.inches or left - length < rules.shortest_cut.inches:
            dropped = shown(bend.drop, laid.system)
            says = f"the {bend.what} drops {dropped}, which leaves no pipe on one side of its branch"
            laid.hold.append(Hold(f"{path}.also_takes", says, f"Where do the two pipes of {laid.id} meet?"))
            return None
        lengths.append(length)
        left -= length
    known = [bend for bend in offsets if bend.above_foot is not None]
    if len(known) < len(offsets):
        return [*lengths, left]
    foot = laid.ending.take.inches
    below: list[Fraction] = []
    for bend in sorted(known, key=lambda one: one.above_foot or _NOTHING):
        assert bend.above_foot is not None
        length = bend.above_foot - foot
        if length < rules.shortest_cut.inches or left - length < rules.shortest_cut.inches:
            at = shown(bend.above_foot, laid.system)
            says = f"{bend.what} of {laid.id} at {at} above its foot leaves no pipe on one side of it"
            number = bend.what.removeprefix("offset ")
            about = f"{path}.offset_heights.{number}"
            laid.hold.append(Hold(about, says, f"How far above its foot does {laid.id} go over?"))
            return None
        below.append(length)
        left -= length
        foot = bend.above_foot + bend.drop
    return [*lengths, left, *reversed(below)]


def _cut_and_strap(laid: LaidPipe, sections: list[Fraction], offsets: list[LaidBend], shop: Shop) -> None:
    rules, system = shop.downpipes, laid.system
    on_site = any(bend.above_foot is None for bend in offsets)
    foot, straps, joints = _NOTHING, [], 0
    spaces = _spaces_between(sections, offsets, shop)
    cuts: list[Fraction] = []
    for number, length in enumerate(reversed(sections)):
        own, inner = lengths_of(length, rules.stock.inches, rules.joint_lap.inches, rules.shortest_cut.inches)
        places = strap_places(length, rules.strap_from_end.inches, rules.strap_spacing.inches, inner)
        straps += [foot + place for place in places]
        cuts = own + cuts
        joints += len(own) - 1
        foot += length + (spaces[number] if number < len(spaces) else _NOTHING)
    laid.wall_cuts = cuts
    stock, lap = shown(rules.stock.inches, system), shown(rules.joint_lap.inches, system, feet=False)
    wall = shown(sum(sections, _NOTHING), system)
    if joints:
        laid.says.append(f"wall pipe in {len(cuts)} lengths, {lap} laps, upper into lower")
        laid.why.append(Reason("wall_cuts", f"wall pipe {wall} from lengths of {stock}, {lap} a lap"))
    elif len(cuts) > 1:
        laid.why.append(Reason("wall_cuts", f"wall pipe {wall}, above and below each bend"))
    extra = len(offsets) if on_site else 0
    laid.straps = [] if on_site else straps
    # a pipe cut on site has a strap at the top and the bottom of both its parts, so one more for each offset
    laid.parts.append(("pipe strap", len(straps) + extra))
    end, widest = (shown(one.inches, system) for one in (rules.strap_from_end, rules.strap_spacing))
    at_joints = ", one at each joint" if joints else ""
    more = ", one more at each offset; marks on site" if on_site else ""
    laid.why.append(
        Reason(
            "straps", f"one {end} from each end{at_joints}, none wider apart than {widest}: shop rule{more}"
        )
    )
    if on_site:
        laid.says.append("cut the wall pipe on site above and below the offset: its height was not said")


def _spaces_between(sections: list[Fraction], offsets: list[LaidBend], shop: Shop) -> list[Fraction]:
    """What lies between the straight sections, from the bottom up [in]: offsets, then branches."""
    known = sorted(
        (bend for bend in offsets if bend.above_foot is not None), key=lambda one: one.above_foot or _NOTHING
    )
    low = [bend.drop for bend in known] if len(known) == len(offsets) else []
    return [*low, *[shop.downpipes.branch_take.inches] * (len(sections) - 1 - len(low))]

"""Gaps: what nobody said and no list can be made without."""

from __future__ import annotations

from textwrap import shorten
from typing import TYPE_CHECKING, Any

from gutterance.checking.codes import finding
from gutterance.checking.findings import Change, Suggestion
from gutterance.checking.house import House, pipe_path, run_path, sources, unsaid
from gutterance.checking.joints import CORNERS, FREE, Joints, Side, opposite
from gutterance.checking.places import Position, position
from gutterance.checking.said_beside import SaidBeside
from gutterance.checking.wording import (
    listed,
    of_outlet,
    of_path,
    of_pipe,
    of_run,
    of_runs,
    shown,
    start,
    unit_words,
)
from gutterance.sheet.amendments import file_value
from gutterance.sheet.models import NEW_DOWNPIPE, Downpipe, Run

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.sheet.models import Outlet, Reading

SIDES: tuple[Side, Side] = ("left", "right")
LONGEST_REASON = 90
"""Letters of the note's own reason that a finding repeats; the whole stands with the reading."""


def find_gaps(house: House, joints: Joints) -> Iterator[Finding]:
    """Every gap: runs, their lengths and ends, outlets, downpipes, and what was said to be missing."""
    if not house.sheet.runs:
        yield finding(
            "no-runs",
            "runs",
            "No run of gutter was read.",
            f"Which side first, and how long is it, {unit_words(house)}?",
        )
    yield from _lengths(house)
    yield from _ends(house, joints)
    said = SaidBeside(house)
    yield from _corners_without_a_partner(house, joints, said)
    yield from _missing_runs(house, joints, said)
    yield from _outlets(house, joints, said)
    yield from _outlet_places(house)
    yield from _downpipes(house)
    yield from _said_to_be_missing(house)


def _because(reading: Reading[Any] | None) -> str:
    """The reason the note gives, in brackets, where it gives one."""
    if reading is None or not reading.why:
        return ""
    return f" ({shorten(reading.why, LONGEST_REASON, placeholder=' …')})"


def offered(path: str, value: Any, field: str, why: str) -> Suggestion:
    """A value for a path, as a suggestion that can be amended as it stands."""
    return Suggestion(
        value=shown(value, field), why=why, changes=[Change(path=path, value=file_value(value))]
    )


def other_values(reading: Reading[Any] | None, path: str, field: str) -> list[Suggestion]:
    """What else the words could mean, as suggestions."""
    others = [] if reading is None else reading.could_be
    return [offered(path, other.value, field, other.why) for other in others]


def _lengths(house: House) -> Iterator[Finding]:
    for run in house.sheet.runs:
        if unsaid(run.length):
            name = of_run(run)
            yield finding(
                "length-missing",
                f"{run_path(run)}.length",
                f"{start(name)} has no length{_because(run.length)}.",
                f"How long is {name}, {unit_words(house)}?",
                holds=[run_path(run)],
                source=sources(run.length) or run.source,
                suggests=other_values(run.length, f"{run_path(run)}.length", "length"),
            )


def _ends(house: House, joints: Joints) -> Iterator[Finding]:
    beside = _perhaps_beside(joints)
    for index, run in enumerate(house.sheet.runs):
        for side in SIDES:
            if joints.end(index, side) is not None:
                continue
            reading = run.left_end if side == "left" else run.right_end
            holds = [run_path(run)]
            where = f"the {side} end of {of_run(run)}"
            question = f"What is at {where}: outside corner, inside corner, end cap or wall?"
            # Where the note says which run is next, the two ends are one corner, and one answer serves both.
            joint = joints.right_of.get(index) if side == "right" else joints.left_of.get(index)
            if joint is not None and joint.how == "said":
                before, after = house.sheet.runs[joint.before], house.sheet.runs[joint.after]
                other = after if side == "right" else before
                if joints.end(joint.after if side == "right" else joint.before, _across(side)) is None:
                    holds.append(run_path(other))
                question = (
                    f"What is between {of_run(before)} and {of_run(after)}: outside corner or inside corner?"
                )
            yield finding(
                "end-missing",
                f"{run_path(run)}.{side}_end",
                f"Nothing is said of {where}{_because(reading)}.",
                question,
                holds=holds,
                source=sources(reading) or run.source,
                suggests=[
                    *other_values(reading, f"{run_path(run)}.{side}_end", f"{side}_end"),
                    *_same_corner(house, joints, beside.get((index, side)), _across(side), run_path(run)),
                ],
            )


def _perhaps_beside(joints: Joints) -> dict[tuple[int, Side], int]:
    """For an end, the run that may start round it, where names or order make one likely."""
    beside: dict[tuple[int, Side], int] = {}
    pairs = [*joints.maybe, *((joint.before, joint.after) for joint in joints.joints)]
    for before, after in pairs:
        beside.setdefault((before, "right"), after)
        beside.setdefault((after, "left"), before)
    return beside


def _same_corner(house: House, joints: Joints, other: int | None, side: Side, path: str) -> list[Suggestion]:
    """The corner as it was told on the run round it: offered, since the two may be one."""
    corner = None if other is None else joints.end(other, side)
    if other is None or corner not in CORNERS:
        return []
    why = f"{of_run(house.sheet.runs[other])} has an {corner} on its {side}, which may be the same one"
    return [offered(f"{path}.{_across(side)}_end", corner, "end", why)]


def _across(side: Side) -> Side:
    return "left" if side == "right" else "right"


_NAMED_TRIED = 64
"""How many runs are looked at for the one that a corner leads to by its name."""
_PARTNERS_TRIED = 8
"""How many loose ends are tried as the other half of a corner: so that 5,000 runs take no longer."""


def _corners_without_a_partner(house: House, joints: Joints, said: SaidBeside) -> Iterator[Finding]:
    runs = house.sheet.runs
    spoken_for = {run for missing in joints.missing for run in missing.beside}
    # An end that is not said, or in doubt, may be the other half of any corner.
    unknown = {
        side: any(end is None or not end.settled for end in (getattr(run, f"{side}_end") for run in runs))
        for side in SIDES
    }
    for kind in CORNERS:
        loose = {side: [run for run in joints.loose(side) if joints.end(run, side) == kind] for side in SIDES}
        for side in SIDES:
            partners = loose[_across(side)]
            if not loose[side] or unknown[_across(side)]:
                continue
            for run in loose[side]:
                others = (one for one in partners[:_PARTNERS_TRIED] if one != run)
                if run in spoken_for or any(not opposite(joints, run, one) for one in others):
                    continue
                name = of_run(runs[run])
                words = said.words(runs[run], "gutter beyond")
                if words is not None:
                    yield _gutter_beyond([runs[run]], f"round the {side} corner of {name}", words)
                    continue
                beside = _beside_with_free_end(house, joints, run, side)
                if beside is not None:
                    yield _corner_against_free_end(house, joints, run, side, beside)
                    continue
                yield finding(
                    "corner-unpartnered",
                    f"{run_path(runs[run])}.{side}_end",
                    f"The {side} end of {name} is said to be an {kind}, but no run starts round it.",
                    f"What is round the {side} corner of {name}: more gutter, or does it end there?",
                    holds=[run_path(runs[run])],
                    source=sources(runs[run].left_end if side == "left" else runs[run].right_end)
                    or runs[run].source,
                )


def _beside_with_free_end(house: House, joints: Joints, run: int, side: Side) -> int | None:
    """The run that by its name is round that corner, where it is told to end there without one."""
    at = position(house.sheet.runs[run])
    if at is None:
        return None
    turn = (at.turn + (1 if side == "right" else -1)) % 4
    storey = (house.sheet.runs[run].storey or "").lower()
    for index, other in enumerate(house.sheet.runs[:_NAMED_TRIED]):
        if (
            position(other) == Position(at.building, turn, at.compass)
            and (other.storey or "").lower() == storey
            and joints.end(index, _across(side)) in FREE
        ):
            return index
    return None


def _corner_against_free_end(house: House, joints: Joints, run: int, side: Side, beside: int) -> Finding:
    one, other = house.sheet.runs[run], house.sheet.runs[beside]
    corner, free = joints.end(run, side), joints.end(beside, _across(side))
    here, there = f"{run_path(one)}.{side}_end", f"{run_path(other)}.{_across(side)}_end"
    return finding(
        "corner-unpartnered",
        here,
        f"{start(of_run(one))} is said to turn an {corner} at its {side} end, but {of_run(other)}, beside "
        f"it, ends there at {'an' if free == 'end cap' else 'a'} {free}.",
        f"What is between {of_run(one)} and {of_run(other)}: {corner}, or do they end there?",
        holds=[run_path(one), run_path(other)],
        source=sources(
            one.left_end if side == "left" else one.right_end,
            other.right_end if side == "left" else other.left_end,
        )
        or one.source,
        suggests=[
            offered(there, corner, "end", f"{of_run(other)} goes round the same corner"),
            offered(here, free, "end", f"{of_run(one)} ends there too"),
        ],
    )


def _missing_runs(house: House, joints: Joints, said: SaidBeside) -> Iterator[Finding]:
    for missing in joints.missing:
        beside = [house.sheet.runs[run] for run in missing.beside]
        words = said.of_side(missing.name, "gutter beyond") or said.of_side(
            missing.name.removesuffix(" side"), "gutter beyond"
        )
        if words is not None:
            yield _gutter_beyond(beside, f"on the {missing.name}", words)
            continue
        yield finding(
            "run-missing",
            "runs",
            f"{start(of_runs(beside))} {'end' if len(beside) > 1 else 'ends'} at a corner that leads to "
            f"the {missing.name}, but no {missing.name} was read.",
            f"Is there gutter on the {missing.name}, and how long is it?",
            holds=[run_path(run) for run in beside],
            source=[words for run in beside for words in run.source],
        )


def _gutter_beyond(runs: Sequence[Run], where: str, words: str) -> Finding:
    return finding(
        "gutter-beyond",
        run_path(runs[0]),
        f"{start(of_runs(runs))} {'meets' if len(runs) == 1 else 'meet'} gutter that is there already, "
        f"{where}: the note says “{words}”. The corner is made to fit it.",
        f"Is there gutter already {where}?",
        source=[one for run in runs for one in run.source],
    )


def _outlets(house: House, joints: Joints, said: SaidBeside) -> Iterator[Finding]:
    runs = house.sheet.runs
    if runs and not house.sheet.outlets and not house.sheet.downpipes:
        yield finding(
            "outlets-not-said",
            "outlets",
            "Nothing is said of any outlet or downpipe.",
            "Where are the outlets: which runs, which ends?",
            holds=[run_path(run) for run in runs],
        )
        return
    for stretch in joints.stretches(sure=False):
        members = [runs[index] for index in stretch]
        if any(run.id in house.outlets_on for run in members):
            continue
        names = of_runs(members)
        one = len(members) == 1
        words = [said.words(run, "outlet") for run in members]
        if all(words):
            yield finding(
                "no-outlet-wanted",
                run_path(members[0]),
                f"{start(names)} {'has' if one else 'have'} no outlet, as the note says "
                f"({listed(list(dict.fromkeys(f'“{told}”' for told in words)))}): made without.",
                f"Is {names} to have no outlet?" if one else f"Are {names} to have no outlet?",
                source=[words for run in members for words in run.source],
            )
            continue
        yield finding(
            "outlet-missing",
            run_path(members[0]),
            f"{start(names)} {'has' if one else 'make one stretch with'} no outlet.",
            f"Where does the water leave {names}?" if one else f"Where is the outlet on {names}?",
            holds=[run_path(run) for run in members],
            source=[words for run in members for words in run.source],
        )


def _outlet_places(house: House) -> Iterator[Finding]:
    for outlet in house.sheet.outlets:
        if not unsaid(outlet.place):
            continue
        run = house.run(outlet.run)
        where = repr(outlet.run) if run is None else of_run(run)
        yield finding(
            "outlet-place-missing",
            f"outlets.{outlet.id}.place",
            f"An outlet on {where} has no place{_because(outlet.place)}.",
            f"Where on {where} is the outlet: left, right, or how far from which end?",
            holds=[] if run is None else [run_path(run)],
            source=sources(outlet.place, outlet.distance, outlet.size) or ([] if run is None else run.source),
        )


def empties_elsewhere(outlet: Outlet) -> bool:
    """Whether the note says, surely or not, what takes an outlet's water in place of a downpipe."""
    return outlet.into is not None and outlet.into.value not in (None, NEW_DOWNPIPE)


def _downpipes(house: House) -> Iterator[Finding]:
    sheet = house.sheet
    bare = [one for one in sheet.outlets if one.id not in house.pipes_at and not empties_elsewhere(one)]
    if bare and not sheet.downpipes and len(bare) == len(sheet.outlets):
        yield finding(
            "downpipes-not-said",
            "downpipes",
            "There are outlets, but nothing is said of their downpipes.",
            "Are downpipes wanted? If so, wall to fascia and height of each?",
            source=sources(*(outlet.place for outlet in sheet.outlets)),
        )
    else:
        for outlet in bare:
            name = of_outlet(outlet, house)
            yield finding(
                "outlet-downpipe-missing",
                f"outlets.{outlet.id}",
                f"{start(name)} has no downpipe.",
                f"What takes the water from {name}: wall to fascia and height of its downpipe?",
                source=sources(outlet.place, outlet.distance),
            )
    for pipe in sheet.downpipes:
        yield from _downpipe(pipe, house)


def _downpipe(pipe: Downpipe, house: House) -> Iterator[Finding]:
    path = pipe_path(pipe)
    name = of_pipe(pipe, house)
    if pipe.outlet is None:
        yield finding(
            "downpipe-outlet-missing",
            f"{path}.outlet",
            f"Nothing says which outlet {name} comes down from.",
            f"Which run is {name} on, and which end?",
            holds=[path],
            source=pipe.source or sources(pipe.wall_to_fascia, pipe.height),
        )
    if unsaid(pipe.wall_to_fascia):
        yield finding(
            "wall-to-fascia-missing",
            f"{path}.wall_to_fascia",
            f"{start(name)} has no wall to fascia{_because(pipe.wall_to_fascia)}.",
            f"Wall to fascia at {name}, {unit_words(house, inches_only=True)}?",
            holds=[path],
            source=sources(pipe.wall_to_fascia) or pipe.source,
            suggests=other_values(pipe.wall_to_fascia, f"{path}.wall_to_fascia", "wall_to_fascia"),
        )
    if unsaid(pipe.height):
        yield finding(
            "height-missing",
            f"{path}.height",
            f"{start(name)} has no height{_because(pipe.height)}.",
            f"How far down is it from the outlet to the end of {name}, {unit_words(house)}?",
            holds=[path],
            source=sources(pipe.height) or pipe.source,
            suggests=other_values(pipe.height, f"{path}.height", "height"),
        )


_OWN_CODE = frozenset({"length", "left_end", "right_end", "place", "wall_to_fascia", "height"})


def _said_to_be_missing(house: House) -> Iterator[Finding]:
    for placed in house.placed:
        if placed.reading.value is not None or placed.group == "totals":
            continue
        if placed.field in _OWN_CODE and (
            isinstance(placed.part, Run | Downpipe) or (placed.field == "place" and placed.part is not None)
        ):
            continue
        name = of_path(placed.path, placed.field, placed.part, house)
        yield finding(
            "value-missing",
            placed.path,
            f"{start(name)} is missing{_because(placed.reading)}.",
            f"What is {name}?",
            holds=house.rests_on(placed),
            source=placed.reading.source,
            suggests=other_values(placed.reading, placed.path, placed.field),
        )

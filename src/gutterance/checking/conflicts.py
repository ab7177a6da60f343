"""Conflicts: things said that cannot all be so."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.checking.codes import finding
from gutterance.checking.gaps import offered
from gutterance.checking.house import House, Placed, pipe_path, run_path, sources, within_reason
from gutterance.checking.joints import CORNERS, Joints
from gutterance.checking.slips import odd_slip
from gutterance.checking.tape_tolerance import tape_tolerance
from gutterance.checking.wording import either, of_outlet, of_path, of_run, shown, start
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding, Suggestion
    from gutterance.sheet.models import Alternative, Outlet, Reading, Total

FOOT = Fraction(12)
SAID = "said"
"""How the reason of an alternative begins that was itself said in the note, and not only heard otherwise."""


def find_conflicts(house: House, joints: Joints) -> Iterator[Finding]:
    """Two values for one thing, outlets beyond their runs, corners, stated totals, broken names."""
    for placed in house.placed:
        if said_twice(placed):
            yield _two_values(placed, house)
    yield from _outlets_beyond(house)
    yield from _corners_that_disagree(house, joints)
    yield from _angles_that_disagree(house, joints)
    yield from _unlike_round_a_corner(house, joints)
    yield from _totals(house, joints)
    yield from _broken_names(house, joints)


def said_twice(placed: Placed) -> bool:
    """Whether a doubtful value was said otherwise before, with no correcting word between."""
    reading = placed.reading
    return reading.status == "doubtful" and reading.value is not None and bool(_said_otherwise(reading))


def _said_otherwise(reading: Reading[Any]) -> list[Alternative[Any]]:
    """The other values that were themselves said: their reason begins so. The rest were only heard so."""
    return [
        other
        for other in reading.could_be
        if other.value != reading.value and other.why.lower().startswith(SAID)
    ]


def _two_values(placed: Placed, house: House) -> Finding:
    reading = placed.reading
    name = of_path(placed.path, placed.field, placed.part, house)
    others = _said_otherwise(reading)
    values = [reading.value, *(other.value for other in others)]
    written = list(dict.fromkeys(shown(value, placed.field) for value in values))
    return finding(
        "two-values",
        placed.path,
        f"{start(name)} was said as {' and as '.join(written)}, with no word to say which is right.",
        f"Which is {name}: {either(written)}?",
        holds=house.rests_on(placed),
        source=reading.source,
        suggests=[
            offered(placed.path, reading.value, placed.field, "said last"),
            *(offered(placed.path, other.value, placed.field, other.why) for other in others),
        ],
    )


def _outlets_beyond(house: House) -> Iterator[Finding]:
    for outlet in house.sheet.outlets:
        run = house.run(outlet.run)
        distance = outlet.distance.value if outlet.distance is not None else None
        if run is None or distance is None:
            continue
        length = run.length.value if run.length is not None else None
        name = of_outlet(outlet, house)
        if distance.inches < 0:
            says = f"{start(name)} is off the end of the run."
        elif length is not None and distance.inches > _room(outlet, length):
            says = f"{start(name)} is beyond the run, which is {length.tape_text()} long."
        else:
            continue
        yield finding(
            "outlet-beyond-run",
            f"outlets.{outlet.id}.distance",
            says,
            f"How far is the outlet from the {_end_words(outlet)} of {of_run(run)}?",
            holds=[run_path(run)],
            source=sources(outlet.distance, run.length),
        )


def _room(outlet: Outlet, length: Length) -> Fraction:
    return length.inches / 2 if outlet.from_ == "centre" else length.inches


def _end_words(outlet: Outlet) -> str:
    return "middle" if outlet.from_ == "centre" else f"{outlet.from_ or 'left'} end"


def _corners_that_disagree(house: House, joints: Joints) -> Iterator[Finding]:
    for joint in joints.disagree:
        before, after = house.sheet.runs[joint.before], house.sheet.runs[joint.after]
        right, left = joints.end(joint.before, "right"), joints.end(joint.after, "left")
        yield finding(
            "corner-mismatch",
            f"{run_path(before)}.right_end",
            f"{start(of_run(before))} ends right at {_a(right)}, but {of_run(after)}, round the same corner, "
            f"starts left at {_a(left)}.",
            f"What is between {of_run(before)} and {of_run(after)}: {right} or {left}?",
            holds=[run_path(before), run_path(after)],
            source=sources(before.right_end, after.left_end),
        )


def _a(words: str | None) -> str:
    words = words or "nothing"
    return f"an {words}" if words[0] in "aeiou" else f"a {words}"


def _angles_that_disagree(house: House, joints: Joints) -> Iterator[Finding]:
    for joint in joints.joints:
        right, left = joints.angle(joint.before, "right"), joints.angle(joint.after, "left")
        if right == left or joints.end(joint.before, "right") == "splice":
            continue
        if {right, left} == {None, 90.0}:
            continue  # unsaid is 90
        before, after = house.sheet.runs[joint.before], house.sheet.runs[joint.after]
        yield finding(
            "corner-angle-mismatch",
            f"{run_path(before)}.right_angle",
            f"The corner between {of_run(before)} and {of_run(after)} is {_angle(right)} on one and "
            f"{_angle(left)} on the other.",
            f"What angle is the corner between {of_run(before)} and {of_run(after)}: "
            f"{shown(90.0 if right is None else right)} or {shown(90.0 if left is None else left)} degrees?",
            holds=[run_path(before), run_path(after)],
            source=sources(before.right_angle, after.left_angle),
        )


def _unlike_round_a_corner(house: House, joints: Joints) -> Iterator[Finding]:
    """Gutters of two sizes or colours that are to meet at a corner or a splice."""
    defaults = house.sheet.defaults
    for joint in joints.joints:
        before, after = house.sheet.runs[joint.before], house.sheet.runs[joint.after]
        for field, word in (("gutter_size", "wide"), ("colour", "in colour")):
            usual = getattr(defaults, field)
            one, other = getattr(before, field) or usual, getattr(after, field) or usual
            if (
                one is None
                or other is None
                or not (one.settled and other.settled)
                or one.value == other.value
            ):
                continue
            if one.by is not None and other.by is not None:
                continue
            here, there = shown(one.value, field), shown(other.value, field)
            yield finding(
                "gutters-meet-unlike",
                f"{run_path(before)}.{field}",
                f"The gutter on {of_run(before)} is {here} {word} and on {of_run(after)} {there}, and they "
                "meet: the two do not fit together.",
                f"Which is it on {of_run(before)} and {of_run(after)}: {here} or {there}?",
                holds=[run_path(before), run_path(after)],
                source=sources(one, other),
            )


def _angle(angle: float | None) -> str:
    return "a plain 90 degrees" if angle is None else f"{shown(angle)} degrees"


def _totals(house: House, joints: Joints) -> Iterator[Finding]:
    for total in house.sheet.totals:
        value = total.value.value
        if value is None or total.value.status in ("doubtful", "missing"):
            continue
        if isinstance(value, Length):
            found = _gutter_length(house, total, value) if total.what == "gutter length" else None
        elif total.what == "end caps":
            found = _cap_count(house, joints, total, value)
        elif total.what in ("outside corners", "inside corners", "corners"):
            found = _corner_count(house, joints, total, value)
        else:
            found = _part_count(house, total, value)
        if found is not None:
            yield found


def _part_count(house: House, total: Total, stated: int) -> Finding | None:
    sheet = house.sheet
    runs, outlets, pipes = len(sheet.runs), len(sheet.outlets), len(sheet.downpipes)
    read = {"runs": runs, "outlets": outlets, "downpipes": pipes}.get(total.what)
    if read is None or read == stated:
        return None
    every_run = [run_path(run) for run in sheet.runs]
    every_pipe = [pipe_path(pipe) for pipe in sheet.downpipes]
    holds: list[str] = []
    if total.what == "runs":
        # A run too few leaves the others as they were; a run too many may be any of them.
        holds = every_run if read > stated else []
    elif total.what == "outlets":
        holds = every_run  # one of them has a hole too few, or too many
    elif read > stated:
        holds = [*every_pipe, *every_run]
    elif outlets != stated:
        holds = every_run  # the pipe not read has an outlet not read
    return finding(
        "total-mismatch",
        f"totals.{total.what}",
        f"The note says {stated} {total.what}, but {read} {'was' if read == 1 else 'were'} read.",
        f"How many {total.what} are there, and which {'is too many' if read > stated else 'is not here'}?",
        holds=holds,
        source=total.value.source,
    )


def _corner_count(house: House, joints: Joints, total: Total, stated: int) -> Finding | None:
    """A corner is told on one run or on both: the count is held only against what it cannot be."""
    kinds: tuple[str, ...] = CORNERS if total.what == "corners" else (total.what.removesuffix("s"),)
    ends = unknown = 0
    for index in range(len(house.sheet.runs)):
        for end in (joints.end(index, "left"), joints.end(index, "right")):
            ends += end in kinds
            unknown += end is None
    met = sum(
        joints.end(joint.before, "right") in kinds and joints.end(joint.after, "left") in kinds
        for joint in joints.joints
    )
    fewest, most = (ends + 1) // 2, ends - met + unknown
    if fewest <= stated <= most:
        return None
    read = ends - met
    return finding(
        "total-mismatch",
        f"totals.{total.what}",
        f"The note says {stated} {total.what}, but {read} {'was' if read == 1 else 'were'} read.",
        f"How many {total.what} are there, and which is wrong?",
        holds=[
            run_path(run)
            for index, run in enumerate(house.sheet.runs)
            if joints.end(index, "left") in CORNERS or joints.end(index, "right") in CORNERS
        ],
        source=total.value.source,
    )


def _cap_count(house: House, joints: Joints, total: Total, stated: int) -> Finding | None:
    """End caps are told run by run: the count is held against those told, and the ends not said."""
    ends = [
        (run, joints.end(index, side))
        for index, run in enumerate(house.sheet.runs)
        for side in ("left", "right")
    ]
    told = sum(end == "end cap" for _, end in ends)
    if told <= stated <= told + sum(end is None for _, end in ends):
        return None
    return finding(
        "total-mismatch",
        "totals.end caps",
        f"The note says {stated} end caps, but {told} {'was' if told == 1 else 'were'} read.",
        "How many end caps are there, and which end is wrong?",
        holds=[run_path(run) for run, end in ends if end in ("end cap", "wall") or told < stated],
        source=total.value.source,
    )


def _gutter_length(house: House, total: Total, stated: Length) -> Finding | None:
    lengths = [
        run.length.value
        for run in house.sheet.runs
        if run.length is not None and run.length.value is not None and within_reason(run.length.value)
    ]
    if not within_reason(stated):
        return None
    read = sum((length.inches for length in lengths), Fraction(0))
    allowed = sum((tape_tolerance(length.inches) for length in lengths), Fraction(0))
    if stated.inches % FOOT == 0:
        allowed = max(allowed, FOOT)  # a total in whole feet was rounded, up or down
    complete = len(lengths) == len(house.sheet.runs)
    if read - stated.inches <= allowed and (not complete or stated.inches - read <= allowed):
        return None
    less = read < stated.inches
    return finding(
        "total-mismatch",
        "totals.gutter length",
        f"The note says {stated.tape_text()} of gutter in all, but the runs read add up to "
        f"{Length(read, stated.system).tape_text()}: "
        f"{Length(abs(read - stated.inches), stated.system).tape_text()} too {'little' if less else 'much'}.",
        "Which run's length is wrong, or is a run missing?" if less else "Which run's length is wrong?",
        holds=[run_path(run) for run in house.sheet.runs],
        source=total.value.source,
        suggests=_total_meant(stated, read) if complete else [],
    )


def _total_meant(stated: Length, read: Fraction) -> list[Suggestion]:
    """The sum of the runs, where a common slip would have made the stated total of it."""
    meant = Length(read, stated.system)
    slip = odd_slip(stated, meant)
    if slip is None:
        return []
    return [offered("totals.gutter length", meant, "length", f"{slip}, in the total; each run as told")]


def _broken_names(house: House, joints: Joints) -> Iterator[Finding]:
    sheet = house.sheet
    yield from _ids_twice("runs", [run.id for run in sheet.runs], "run")
    yield from _ids_twice("outlets", [outlet.id for outlet in sheet.outlets], "outlet")
    yield from _ids_twice("downpipes", [pipe.id for pipe in sheet.downpipes], "downpipe")
    for outlet in sheet.outlets:
        if house.run(outlet.run) is None:
            yield finding(
                "outlet-run-unknown",
                f"outlets.{outlet.id}.run",
                f"Outlet {outlet.id} is on {outlet.run!r}, and no run has that name.",
                f"Which run is outlet {outlet.id} on?",
                holds=[pipe_path(pipe) for pipe in house.pipes_at.get(outlet.id, [])],
                source=sources(outlet.place, outlet.distance),
            )
    for pipe in sheet.downpipes:
        if pipe.outlet is not None and pipe.outlet not in house.outlet_of:
            yield finding(
                "downpipe-outlet-unknown",
                f"{pipe_path(pipe)}.outlet",
                f"Downpipe {pipe.id} comes from outlet {pipe.outlet!r}, and there is no such outlet.",
                f"Which outlet does downpipe {pipe.id} come from?",
                holds=[pipe_path(pipe)],
                source=pipe.source,
            )
    for index in joints.next_unknown:
        run = sheet.runs[index]
        itself = run.next_run in (run.id, run.name)
        yield finding(
            "next-run-unknown",
            f"{run_path(run)}.next_run",
            f"After {of_run(run)} comes {run.next_run!r}, "
            f"{'which is the same run' if itself else 'and no run has that name'}.",
            f"Which run comes after {of_run(run)}, going right?",
            holds=[run_path(run)],
            source=run.source,
        )
    for first, second in joints.next_twice:
        one, two = sheet.runs[first], sheet.runs[second]
        yield finding(
            "next-run-twice",
            f"{run_path(two)}.next_run",
            f"Both {of_run(one)} and {of_run(two)} are said to lead to {two.next_run!r}.",
            f"Which run leads to {two.next_run!r}: {of_run(one)} or {of_run(two)}?",
            holds=[run_path(one), run_path(two)],
            source=[*one.source, *two.source],
        )


def _ids_twice(group: str, ids: list[str], what: str) -> Iterator[Finding]:
    for part_id, count in Counter(ids).items():
        if count > 1:
            yield finding(
                "id-twice",
                f"{group}.{part_id}",
                f"{count} {what}s are called {part_id!r}.",
                f"Which {what} is {part_id!r}, and what are the others called?",
                holds=[] if group == "outlets" else [f"{group}.{part_id}"],
            )

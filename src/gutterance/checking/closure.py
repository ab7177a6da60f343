"""Closure: whether the runs of a full walk round come back to where they began.

A ring of runs is a traverse. Its corners must turn it by one full turn, and its steps must add up to
nothing, to within what a steel tape may itself be out (`tape_tolerance`, summed over the runs that must
agree). Nothing is said of a walk that is not known to be closed.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.crossing import first_crossing
from gutterance.checking.findings import Change, Suggestion
from gutterance.checking.house import House, run_path, sources
from gutterance.checking.open_chains import check_open_chains, missing_side
from gutterance.checking.places import building
from gutterance.checking.repairs import MOST_FOR_PAIRS, Repair, as_the_other, closes_to, repairs, wall_repairs
from gutterance.checking.rings import FULL_TURN, Vector, along, direction
from gutterance.checking.tape_tolerance import tape_tolerance
from gutterance.checking.traverse import (
    Traverse,
    length_path,
    ratio,
    root,
    square,
    tape,
    to_mark,
    traverse_of,
)
from gutterance.checking.walking_way import settle_walking_way
from gutterance.checking.wording import either, listed, of_run, of_runs, start

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.findings import Finding
    from gutterance.checking.joints import Joints
    from gutterance.checking.root_two import RootTwo
    from gutterance.measure.length import Length
    from gutterance.sheet.models import Run

MOST_OFFERED = 3
WORKED_OUT = "worked out: with it"
"""How the reason of a length begins that closure put on the sheet."""
OUT_OF_SQUARE = Fraction(1)
"""By how much walls may miss closing [in] and be told without stopping a piece: houses are out of square by
as much (common practice, no source)."""
MOST_FACES = 4
"""Overhangs of the job that are tried for a wall measured at the wrong face."""


@dataclass(frozen=True, slots=True)
class Inferred:
    """A length that nothing but closure tells, and from which runs it follows."""

    length: Length
    why: str


@dataclass(slots=True)
class Closure:
    """What closure tells: findings, what it suggests for values that others ask about (by path), the lengths
    it works out for runs that have none (by path), and a line on each ring that closes."""

    findings: list[Finding] = field(default_factory=list)
    suggests: defaultdict[str, list[Suggestion]] = field(default_factory=lambda: defaultdict(list))
    inferred: dict[str, Inferred] = field(default_factory=dict)
    sides_missing: dict[tuple[str, ...], Suggestion] = field(default_factory=dict)
    closed: list[str] = field(default_factory=list)


def closure_of(house: House, joints: Joints) -> Closure:
    """What closure tells of a house, once it is settled in `joints` which way round each ring was walked."""
    faces = faces_told(house)
    either_way = settle_walking_way(house, joints, faces)
    return _check_closure(house, joints, faces, either_way)


def _check_closure(
    house: House, joints: Joints, faces: list[Length], either_way: dict[int, Traverse]
) -> Closure:
    """Check every ring of runs, and every open chain whose ends must agree. About n log n in the runs."""
    closure = Closure()
    inside = _turning_inside(house, joints)
    for ring in joints.rings():
        if _may_be_partial(house, joints, ring, inside):
            continue
        traverse = traverse_of(house, joints, ring)
        if traverse is not None:
            _Ring(traverse, closure, faces, either_way.get(ring[0])).check()
    closure.findings.extend(check_open_chains(house, joints))
    for missing in joints.missing:
        offer = missing_side(house, joints, missing)
        if offer is not None:
            closure.sides_missing[tuple(run_path(house.sheet.runs[run]) for run in missing.beside)] = offer
    return closure


def _turning_inside(house: House, joints: Joints) -> defaultdict[str, list[int]]:
    """The runs of the house itself that turn inside corners, storey by storey."""
    turning: defaultdict[str, list[int]] = defaultdict(list)
    for index, run in enumerate(house.sheet.runs):
        ends = (joints.end(index, "left"), joints.end(index, "right"))
        if "inside corner" in ends and not building(run):
            turning[(run.storey or "").strip().lower()].append(index)
    return turning


def _may_be_partial(
    house: House, joints: Joints, ring: Sequence[int], inside: defaultdict[str, list[int]]
) -> bool:
    """Whether four sides taken together by their names may have walls between them that are told apart: other
    runs of their storey turn inside corners."""
    if any(joints.right_of[index].how != "named" for index in ring):
        return False
    members = set(ring)
    storeys = {(house.sheet.runs[index].storey or "").strip().lower() for index in ring}
    # as many as the ring has, and one more, tell whether any is beside it
    return any(
        not members.issuperset(inside[storey][: len(members) + 1]) for storey in storeys if storey in inside
    )


def faces_told(house: House) -> list[Length]:
    """The overhangs told on the job, each once: a wall face lies that far behind its fascia."""
    told = dict.fromkeys(
        pipe.wall_to_fascia.value
        for pipe in house.sheet.downpipes
        if pipe.wall_to_fascia is not None and pipe.wall_to_fascia.settled
    )
    return [face for face in told if face is not None and face.inches > 0][:MOST_FACES]


@dataclass(slots=True)
class _Ring:
    of: Traverse
    closure: Closure
    faces: list[Length]
    other_way: Traverse | None
    """The same ring walked the other way round, where a slip as likely would close that."""

    def _repairs(self) -> list[Repair]:
        """The repairs of the ring, likeliest first; with those of the other way round that are as likely."""
        found = repairs(self.of, self.faces)
        if self.other_way is None or not found:
            return found
        known = [one.changes for one in found]
        as_well = [
            replace(one, why=f"{one.why}, walked the other way round")
            for one in repairs(self.other_way, self.faces)
            if one.rank == found[0].rank and one.changes not in known
        ]
        return sorted([*found, *as_well], key=lambda one: one.rank)

    def check(self) -> None:
        """Turns first; lengths mean nothing until the corners are right."""
        of = self.of
        if of.size < 3 and not of.said:
            return  # no walk round: nobody said that these two follow one another both ways
        if of.two_ways:
            self._told_two_ways()
        elif of.in_doubt:
            self._in_doubt()
        elif not of.turns_once(of.walked.turn):
            self._turn_is_off()
        elif of.walked.square:
            self._check_square()
        else:
            self._check_steps()

    def _told_two_ways(self) -> None:
        """Corners told two ways are asked about as such: here is what would settle them."""
        of = self.of
        offers = [self._offer(one) for one in self._repairs()[:MOST_OFFERED]]
        for at in of.two_ways:
            field_name = "right_angle" if (of.right[at] > 0) == (of.left[at] > 0) else "right_end"
            self.closure.suggests[f"{run_path(of.runs[at])}.{field_name}"].extend(offers)

    def _in_doubt(self) -> None:
        """The one corner in doubt: which way it makes a full turn."""
        of = self.of
        if len(of.in_doubt) != 1:
            return
        at = of.in_doubt[0]
        for turn, kind in ((abs(of.right[at]), "outside corner"), (-abs(of.right[at]), "inside corner")):
            if turn and of.turns_once(of.walked.turn - of.right[at] + turn):
                offer = Suggestion(value=kind, why="then the corners make one full turn round the house")
                self.closure.suggests[f"{run_path(of.runs[at])}.right_end"].append(offer)
                self.closure.suggests[f"{run_path(of.runs[of.after(at)])}.left_end"].append(offer)

    def _turn_is_off(self) -> None:
        of = self.of
        total = of.walked.turn
        if total % FULL_TURN == 0 and total != 0 and not of.said:
            return  # as many full turns as buildings walked: which run belongs to which is not known
        found = self._repairs()
        offers = [self._offer(one) for one in found[:MOST_OFFERED]]
        first, last = of.runs[0], of.runs[-1]
        degrees = f"{int(total)}" if total.denominator == 1 else f"{float(total):.1f}"
        if total == FULL_TURN - 90 and not of.said and not (found and found[0].closes and found[0].changes):
            self.closure.findings.append(
                finding(
                    "run-missing",
                    "runs",
                    f"The corners of {of_runs(of.runs)} make {degrees}, and a walk round makes 360: "
                    f"one more side would close it.",
                    offers[0].value.join(("Was ", " left out?"))
                    if found and found[0].closes
                    else f"Is a run missing between {of_run(last)} and {of_run(first)}, and how long is it?",
                    holds=[run_path(last), run_path(first)],
                    source=sources(last.right_end, first.left_end),
                    suggests=offers,
                )
            )
            return
        self.closure.findings.append(
            finding(
                "turns-off",
                "runs",
                f"The corners of {of_runs(of.runs)} make {degrees}, and a walk round a house makes 360.",
                "Which corner is wrong, or which run is missing?",
                holds=[run_path(run) for run in of.runs],
                source=sources(*(run.right_end for run in of.runs)),
                suggests=offers,
            )
        )

    def _check_square(self) -> None:
        """Square corners: the runs one way must add up to the runs the other way, along and across apart."""
        of = self.of
        miss = of.misclosure()
        off_by = (miss[0].plain, miss[1].plain)
        off: list[int] = []
        for axis in (0, 1):
            unknown = [at for at in of.unknown if bool(of.units[at].imag) == bool(axis)]
            if len(unknown) == 1:
                way = direction(of.walked.headings[unknown[0]])[axis]
                self._work_out({unknown[0]: -way * miss[axis]}, axis)
            elif not unknown and abs(off_by[axis]) > self._allowed(axis):
                off.append(axis)
        if not off:
            if not of.unknown:
                self._closed(miss)
            return
        whole = [] if of.unknown else self._repairs()
        for axis in off:
            part = complex(off_by[0], 0) if axis == 0 else complex(0, off_by[1])
            found = [one for one in whole if one.closes]
            if len(off) > 1 or of.unknown:
                found = [*(one for one in found if len(one.changes) < 3), *wall_repairs(of, part, self.faces)]
            walls = [at for at in range(of.size) if bool(of.units[at].imag) == bool(axis)]
            if not found and len(walls) == 2:
                found = as_the_other(of, walls[0], walls[1])
            self._walls_off(axis, off_by[axis], sorted(found, key=lambda one: one.order))

    def _allowed(self, axis: int) -> Fraction:
        of = self.of
        walls = (at for at in range(of.size) if bool(of.units[at].imag) == bool(axis))
        return sum((tape_tolerance(of.inches(at)) for at in walls), Fraction(0))

    def _walls_off(self, axis: int, miss: Fraction, found: Sequence[Repair]) -> None:
        of = self.of
        walls = [at for at in range(of.size) if bool(of.units[at].imag) == bool(axis)]
        ways = {at: direction(of.walked.headings[at])[axis] for at in walls}
        there = [at for at in walls if ways[at] > 0]
        back = [at for at in walls if ways[at] < 0]
        self._tell(
            walls,
            f"{self._differ(there, back)} differ by {tape(abs(miss), of.system)}"
            + (" after the jogs" if len(walls) > 2 else "")
            + self._sums(there, back),
            abs(miss),
            self._allowed(axis),
            found,
        )

    def _differ(self, there: Sequence[int], back: Sequence[int]) -> str:
        """The longest wall each way: `The front and the back`."""
        longest = [max(side, key=self.of.inches, default=None) for side in (there, back)]
        names = [of_run(self.of.runs[at]) for at in longest if at is not None]
        return start(" and ".join(names if len(names) > 1 else [*names, "nothing opposite"]))

    def _sums(self, there: Sequence[int], back: Sequence[int]) -> str:
        of = self.of
        if len(there) + len(back) < 3:
            return ""
        sides = [
            " + ".join(f"{of.runs[at].name} {tape(of.inches(at), of.system)}" for at in side[:6])
            + (f" + {len(side) - 6} more" if len(side) > 6 else "")
            for side in (there, back)
        ]
        return f" ({sides[0] or 'nothing'}, against {sides[1] or 'nothing'})"

    def _check_steps(self) -> None:
        """Any corners: the steps add up to nothing."""
        of = self.of
        miss = of.misclosure()
        unknown = of.unknown
        if unknown:
            self._work_out_steps(unknown, miss)
            return
        if square(miss) <= of.allowed**2:
            self._closed(miss)
            return
        steps = [direction(heading) for heading in of.walked.headings]
        bearing = [at for at in range(of.size) if abs(along(miss, steps[at])) > of.allowed]
        distance = root(square(miss))
        says = f"The walk round {of_runs(of.runs)} ends {tape(distance, of.system)} from where it began"
        self._tell(bearing, says, distance, of.allowed, [one for one in self._repairs() if one.closes])

    def _tell(
        self, walls: Sequence[int], says: str, miss: Fraction, allowed: Fraction, found: Sequence[Repair]
    ) -> None:
        of = self.of
        runs = [of.runs[at] for at in walls]
        if miss <= OUT_OF_SQUARE:
            self.closure.findings.append(
                finding(
                    "walls-nearly-close",
                    "runs",
                    f"{says}, {ratio(miss, of.perimeter)} of the way round: more than the "
                    f"{tape(allowed, of.system)} a steel tape may be out, no more than houses are. "
                    "Each wall is taken as measured.",
                    source=sources(*(run.length for run in runs)),
                )
            )
            return
        named = [f"{of_run(run)} {_length_text(run)}" for run in runs]
        each = listed(named)
        self.closure.findings.append(
            finding(
                "walls-do-not-close",
                "runs",
                f"{says}, {ratio(miss, of.perimeter)} of the way round; "
                f"a steel tape may be out by {tape(allowed, of.system)} over them."
                + self._how_far_looked(found),
                f"Which is wrong: {each}?" if len(runs) > 2 else f"Which is right: {either(named)}?",
                holds=[run_path(run) for run in runs],
                source=sources(*(run.length for run in runs)),
                suggests=[self._offer(one) for one in found[:MOST_OFFERED]],
            )
        )

    def _how_far_looked(self, found: Sequence[Repair]) -> str:
        """Where nothing settles it and not everything was tried, how far was looked."""
        if found or self.of.size <= MOST_FOR_PAIRS:
            return ""
        return (
            f" No one slip explains it; two at once are looked for in walks of up to {MOST_FOR_PAIRS} runs,"
            f" and this has {self.of.size}."
        )

    def _closed(self, miss: Vector) -> None:
        of = self.of
        off = root(square(miss))
        how = "exactly" if not off else f"to {tape(off, of.system)}"
        self.closure.closed.append(
            f"The walk round {of_runs(of.runs)} closes {how}: {ratio(off, of.perimeter)} "
            f"(a steel tape may be out by {tape(of.allowed, of.system)})."
        )
        crossing = first_crossing(of)
        if crossing is None:
            return
        one, other = (of.runs[at] for at in crossing)
        self.closure.findings.append(
            finding(
                "walls-cross",
                "runs",
                f"Drawn as told, {of_run(one)} crosses {of_run(other)}: no house is built so.",
                f"Which corner or length between {of_run(one)} and {of_run(other)} is wrong?",
                holds=[run_path(run) for run in of.runs[crossing[0] : crossing[1] + 1]],
                source=sources(one.length, other.length),
            )
        )

    def _offer(self, one: Repair) -> Suggestion:
        why = one.why
        if why.startswith("if "):
            why += (
                f", {closes_to(self.of, one.off)}" if one.closes else ", the corners would make one full turn"
            )
        return Suggestion(value=one.value, why=why, changes=list(one.changes))

    def _work_out(self, lengths: dict[int, RootTwo], axis: int | None = None) -> None:
        """Lengths that close the walls, for runs that have none or one in doubt."""
        of = self.of
        if any(inches <= 0 for inches in lengths.values()):
            missing = of_runs([of.runs[at] for at in lengths])
            walls = [
                at
                for at in range(of.size)
                if at not in lengths and (axis is None or bool(of.units[at].imag) == bool(axis))
            ]
            self._tell(
                walls,
                f"However long {missing} may be, the other walls leave no room for it: they are out",
                max(to_mark(abs(inches), of.system) for inches in lengths.values()),
                of.allowed,
                (),
            )
            return
        for at, inches in lengths.items():
            run = of.runs[at]
            length = of.in_system(inches)
            self.closure.suggests[length_path(run)].append(
                Suggestion(
                    value=length.tape_text(),
                    why="then the walls of the house close",
                    changes=[Change(path=length_path(run), value=length.file_text())],
                )
            )
            if run.length is None or run.length.value is None or run.length.status == "inferred":
                others = [other for number, other in enumerate(of.runs) if number not in lengths]
                exact = of.walked.exact and not inches.roots
                near = "" if exact else ", through odd corners to about a mark"
                self.closure.inferred[length_path(run)] = Inferred(
                    length, f"{WORKED_OUT} the walls close round {of_runs(others)}{near}"
                )

    def _work_out_steps(self, unknown: list[int], miss: Vector) -> None:
        of = self.of
        steps = [direction(of.walked.headings[at]) for at in unknown]
        if len(unknown) == 1:
            part = along(miss, steps[0])
            rest = (miss[0] - part * steps[0][0], miss[1] - part * steps[0][1])
            if square(rest) <= of.allowed**2:
                self._work_out({unknown[0]: -part})
                return
            off = root(square(rest))
            walls = [at for at in range(of.size) if at != unknown[0]]
            name = of_run(of.runs[unknown[0]])
            says = f"However long {name} may be, the other walls miss one another by {tape(off, of.system)}"
            self._tell(walls, says, off, of.allowed, ())
        elif len(unknown) == 2:
            one, two = steps
            cross = one[0] * two[1] - one[1] * two[0]
            if abs(cross) > Fraction(1, 100):
                first = (-miss[0] * two[1] + miss[1] * two[0]) / cross
                second = (-miss[1] * one[0] + miss[0] * one[1]) / cross
                self._work_out({unknown[0]: first, unknown[1]: second})


def _length_text(run: Run) -> str:
    return run.length.value.tape_text() if run.length is not None and run.length.value is not None else ""

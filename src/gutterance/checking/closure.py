"""Closure: whether the runs of a full walk round come back to where they began.

A ring of runs is a traverse. Its corners must turn it by one full turn, and its steps must add up to
nothing, to within what a steel tape may itself be out (`tape_tolerance`, summed over the runs that must
agree). Nothing is said of a walk that is not known to be closed.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction
from math import isqrt
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.findings import Suggestion
from gutterance.checking.house import House, run_path, sources, within_reason
from gutterance.checking.joints import FREE, Joints
from gutterance.checking.places import BUILDINGS, position
from gutterance.checking.rings import FULL_TURN, Vector, Walk, along, direction, turn_of, walk
from gutterance.checking.slips import slip_to
from gutterance.checking.tape_tolerance import tape_tolerance
from gutterance.checking.wording import listed, of_run, of_runs, start
from gutterance.measure.length import Length, System

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.sheet.models import Run

SIXTEENTH = Fraction(1, 16)
ODD_CORNER = Fraction(1)
"""How far a corner that is no multiple of 45 may be out [degrees]: an angle finder reads to a degree (common
practice, no source)."""
OUT_OF_SQUARE = Fraction(1)
"""By how much opposite eaves of a gable may differ [in] without a word (common practice, no source)."""
MOST_OFFERED = 3


@dataclass(slots=True)
class Closure:
    """What closure tells: its findings, and what it suggests for values that others ask about, by path."""

    findings: list[Finding] = field(default_factory=list)
    suggests: defaultdict[str, list[Suggestion]] = field(default_factory=lambda: defaultdict(list))


def check_closure(house: House, joints: Joints) -> Closure:
    """Check every ring of runs, and the two eaves of every plain gable. Linear in the number of runs."""
    closure = Closure()
    for ring in joints.rings():
        _Ring(house, joints, ring, closure).check()
    _opposite_eaves(house, closure)
    return closure


@dataclass(slots=True)
class _Ring:
    """One closed walk: run numbers in walking order."""

    house: House
    joints: Joints
    ring: list[int]
    closure: Closure

    @property
    def runs(self) -> list[Run]:
        return [self.house.sheet.runs[index] for index in self.ring]

    def check(self) -> None:
        """Turn first; lengths mean nothing until the corners are right."""
        turns = self._turns()
        if turns is None:
            return
        walked = walk(turns)
        if abs(abs(walked.turn) - FULL_TURN) > self._turn_tolerance(turns):
            self._turn_is_off(walked, turns)
        elif walked.square:
            for axis in (0, 1):
                self._check_axis(walked, axis)
        else:
            self._check_steps(walked)

    def _turns(self) -> list[Fraction] | None:
        """The turn at the right end of each run, or None where a corner is not settled or told two ways."""
        turns: list[Fraction] = []
        unsettled: list[int] = []
        for at, index in enumerate(self.ring):
            after = self.joints.right_of[index].after
            here, there = self.house.sheet.runs[index].right_end, self.house.sheet.runs[after].left_end
            if here is None or there is None or not here.settled or not there.settled:
                return None
            right, left = self.joints.angle(index, "right"), self.joints.angle(after, "left")
            if right is not None and left is not None and right != left:
                return None
            turn = turn_of(here.value, left if right is None else right)
            if turn is None:
                return None
            if here.value != there.value:
                unsettled.append(at)
            turns.append(turn)
        if unsettled:
            self._settle_corner(turns, unsettled)
            return None
        return turns

    def _settle_corner(self, turns: list[Fraction], unsettled: list[int]) -> None:
        """One corner told two ways: say which of the two makes a full turn."""
        if len(unsettled) != 1:
            return
        at = unsettled[0]
        run = self.runs[at]
        for corner in ("outside corner", "inside corner"):
            turn = abs(turns[at]) if corner == "outside corner" else -abs(turns[at])
            if abs(sum(turns) - turns[at] + turn) == FULL_TURN:
                self.closure.suggests[f"{run_path(run)}.right_end"].append(
                    Suggestion(value=corner, why="then the corners make one full turn round the house")
                )

    @staticmethod
    def _turn_tolerance(turns: Iterable[Fraction]) -> Fraction:
        return ODD_CORNER * sum(turn % 45 != 0 for turn in turns)

    def _turn_is_off(self, walked: Walk, turns: list[Fraction]) -> None:
        total = walked.turn
        said = all(self.joints.right_of[index].how == "said" for index in self.ring)
        if total % FULL_TURN == 0 and total != 0 and not said:
            return  # as many full turns as buildings walked: which run belongs to which is not known
        first, last = self.runs[0], self.runs[-1]
        degrees = _degrees(total)
        if total == FULL_TURN - 90 and not said:
            self.closure.findings.append(
                finding(
                    "run-missing",
                    "runs",
                    f"The corners of {of_runs(self.runs)} make {degrees}, and a walk round makes 360: "
                    f"one more side would close it.",
                    f"Is a run missing between {of_run(last)} and {of_run(first)}, and how long is it?",
                    holds=[run_path(last), run_path(first)],
                    source=sources(last.right_end, first.left_end),
                )
            )
            return
        self.closure.findings.append(
            finding(
                "turns-off",
                "runs",
                f"The corners of {of_runs(self.runs)} make {degrees}, and a walk round a house makes 360.",
                "Which corner is wrong, or which run is missing?",
                holds=[run_path(run) for run in self.runs],
                source=sources(*(run.right_end for run in self.runs)),
                suggests=self._flips(walked, turns),
            )
        )

    def _flips(self, walked: Walk, turns: list[Fraction]) -> list[Suggestion]:
        """Single corners which, turned the other way, make a full turn; those that close the walls first.

        Turning corner k the other way swings every later run round it, so each is tried in constant time from
        the sum of the steps before it and the sum of those after.
        """
        lengths = self._lengths()
        known = None if None in lengths else [length.inches for length in lengths if length is not None]
        allowed = sum((tape_tolerance(length) for length in known or []), Fraction(0))
        end = (Fraction(0), Fraction(0)) if known is None else walked.misclosure(known)
        x = y = Fraction(0)
        ranked: list[tuple[int, int, Suggestion]] = []
        for at, run in enumerate(self.runs):
            if known is not None:
                step = direction(walked.headings[at])
                x, y = x + known[at] * step[0], y + known[at] * step[1]
            turn = turns[at]
            if turn == 0 or abs(walked.turn - 2 * turn) != FULL_TURN:
                continue
            closes = False
            if known is not None:
                cos, sin = direction(-2 * turn)
                later = (end[0] - x, end[1] - y)
                miss = (x + cos * later[0] - sin * later[1], y + sin * later[0] + cos * later[1])
                closes = _square(miss) <= allowed * allowed
            after = self.runs[(at + 1) % len(self.runs)]
            corner = "inside corner" if turn > 0 else "outside corner"
            why = "then the corners make one full turn" + (" and the walls close" if closes else "")
            ranked.append(
                (
                    not closes,
                    at,
                    Suggestion(value=f"{corner} between {of_run(run)} and {of_run(after)}", why=why),
                )
            )
        return [suggestion for _, _, suggestion in sorted(ranked, key=lambda row: row[:2])[:MOST_OFFERED]]

    def _lengths(self) -> list[Length | None]:
        return [
            run.length.value
            if run.length is not None and run.length.settled and within_reason(run.length.value)
            else None
            for run in self.runs
        ]

    def _check_axis(self, walked: Walk, axis: int) -> None:
        """Square corners: the runs one way must add up to the runs the other way, along and across apart."""
        lengths = self._lengths()
        ways = [int(direction(heading)[axis]) for heading in walked.headings]
        on_axis = [at for at, way in enumerate(ways) if way]
        unknown = [at for at in on_axis if lengths[at] is None]
        known = [at for at in on_axis if lengths[at] is not None]
        miss = sum((ways[at] * _inches(lengths[at]) for at in known), Fraction(0))
        if len(unknown) == 1:
            self._infer(unknown[0], -ways[unknown[0]] * miss)
            return
        allowed = sum((tape_tolerance(_inches(lengths[at])) for at in known), Fraction(0))
        if unknown or abs(miss) <= allowed:
            return
        there = [at for at in known if ways[at] > 0]
        back = [at for at in known if ways[at] < 0]
        self.closure.findings.append(
            self._walls_off(
                known,
                f"{_add_up(self.runs, lengths, there, back)} differ by "
                f"{_tape(abs(miss), self.runs[known[0]])}",
                allowed,
                # Mended by one wall: along its own way, the miss taken off.
                {at: _inches(lengths[at]) - ways[at] * miss for at in known},
            )
        )

    def _check_steps(self, walked: Walk) -> None:
        """Any corners: the steps add up to nothing."""
        lengths = self._lengths()
        steps = [direction(heading) for heading in walked.headings]
        unknown = [at for at, length in enumerate(lengths) if length is None]
        known = [at for at, length in enumerate(lengths) if length is not None]
        miss = walked.misclosure([_inches(length) for length in lengths])
        allowed = sum((tape_tolerance(_inches(lengths[at])) for at in known), Fraction(0))
        if unknown:
            self._infer_steps(unknown, steps, miss, allowed)
            return
        if _square(miss) <= allowed * allowed:
            return
        distance = _root(_square(miss))
        bearing = [at for at in known if abs(along(miss, steps[at])) > allowed]
        mended = {}
        for at in bearing:
            part = along(miss, steps[at])
            if _square((miss[0] - part * steps[at][0], miss[1] - part * steps[at][1])) <= allowed * allowed:
                mended[at] = _inches(lengths[at]) - part
        says = f"the walk round {of_runs(self.runs)} ends {_tape(distance, self.runs[0])} from where it began"
        self.closure.findings.append(self._walls_off(bearing, start(says), allowed, mended))

    def _walls_off(
        self, walls: list[int], says: str, allowed: Fraction, mended: dict[int, Fraction]
    ) -> Finding:
        runs = self.runs
        suspects = [runs[at] for at in walls]
        offers = []
        for at, wanted in mended.items():
            reading = runs[at].length
            if reading is None or reading.value is None:
                continue
            slip = slip_to(reading.value, wanted, allowed, reading.could_be)
            if slip is not None:
                meant = slip.meant.tape_text()
                why = (
                    f"if {of_run(runs[at])} were {meant} rather than {reading.value.tape_text()} "
                    f"({slip.why}), the walls would close"
                )
                offers.append((slip.rank, Suggestion(value=f"{runs[at].name} {meant}", why=why)))
        each = listed([f"{of_run(run)} {_length_text(run)}" for run in suspects])
        return finding(
            "walls-do-not-close",
            "runs",
            f"{says}; a steel tape may be out by {_tape(allowed, runs[0])} over them.",
            f"Which is wrong: {each}?" if len(suspects) > 2 else f"Which is right: {each}?",
            holds=[run_path(run) for run in suspects],
            source=sources(*(run.length for run in suspects)),
            suggests=[offer for _, offer in sorted(offers, key=lambda row: row[0])[:MOST_OFFERED]],
        )

    def _infer(self, at: int, inches: Fraction) -> None:
        """Offer the length that closes the walls, for one that is missing or in doubt."""
        if inches <= 0:
            return
        run = self.runs[at]
        value = Length(inches, self._system())
        self.closure.suggests[f"{run_path(run)}.length"].append(
            Suggestion(value=value.tape_text(), why="then the walls of the house close")
        )

    def _infer_steps(self, unknown: list[int], steps: list[Vector], miss: Vector, allowed: Fraction) -> None:
        if len(unknown) == 1:
            at = unknown[0]
            part = along(miss, steps[at])
            rest = (miss[0] - part * steps[at][0], miss[1] - part * steps[at][1])
            if _square(rest) <= allowed * allowed:
                self._infer(at, _to_mark(-part))
        elif len(unknown) == 2:
            one, two = (steps[at] for at in unknown)
            cross = one[0] * two[1] - one[1] * two[0]
            if abs(cross) > Fraction(1, 100):
                first = (-miss[0] * two[1] + miss[1] * two[0]) / cross
                second = (-miss[1] * one[0] + miss[0] * one[1]) / cross
                if first > 0 and second > 0:
                    self._infer(unknown[0], _to_mark(first))
                    self._infer(unknown[1], _to_mark(second))

    def _system(self) -> System:
        return next((length.system for length in self._lengths() if length is not None), "imperial")


def _opposite_eaves(house: House, closure: Closure) -> None:
    """The two eaves of a plain gable, with nothing else told of that storey, are mostly alike."""
    groups: defaultdict[str, list[Run]] = defaultdict(list)
    for run in house.sheet.runs:
        groups[(run.storey or "").strip().lower()].append(run)
    for runs in groups.values():
        if len(runs) != 2:
            continue
        one, two = runs
        here, there = position(one), position(two)
        if here is None or there is None or (here.turn - there.turn) % 4 != 2:
            continue
        if here.building != there.building or here.building not in ("", *BUILDINGS):
            continue
        if any(end is None or end.value not in FREE for run in runs for end in (run.left_end, run.right_end)):
            continue
        if not (one.length and two.length and one.length.settled and two.length.settled):
            continue
        first, second = one.length.value, two.length.value
        if first is None or second is None:
            continue
        allowed = max(tape_tolerance(first.inches) + tape_tolerance(second.inches), OUT_OF_SQUARE)
        if abs(first.inches - second.inches) <= allowed:
            continue
        offers = []
        for run, length, other in ((one, first, second), (two, second, first)):
            slip = slip_to(length, other.inches, allowed, run.length.could_be if run.length else ())
            if slip is not None:
                why = f"{slip.why}; then both eaves agree"
                offers.append(Suggestion(value=f"{run.name} {slip.meant.tape_text()}", why=why))
        closure.findings.append(
            finding(
                "opposite-eaves-differ",
                "runs",
                f"{start(of_run(one))} is {first.tape_text()} and {of_run(two)} {second.tape_text()}: "
                f"opposite eaves of a plain gable are mostly alike.",
                f"Is {of_run(one)} really {first.tape_text()} and {of_run(two)} {second.tape_text()}?",
                # Walls do jog unsaid: only a difference that one slip explains stops the pieces.
                holds=[run_path(one), run_path(two)] if offers else [],
                source=sources(one.length, two.length),
                suggests=offers,
            )
        )


def _inches(length: Length | None) -> Fraction:
    return Fraction(0) if length is None else length.inches


def _square(vector: Vector) -> Fraction:
    return vector[0] * vector[0] + vector[1] * vector[1]


def _root(square: Fraction) -> Fraction:
    """The square root, to 2^-20 in: only ever shown, rounded to a mark."""
    return Fraction(isqrt(int(square * 2**40)), 2**20)


def _to_mark(inches: Fraction) -> Fraction:
    """To the nearest sixteenth: a length worked out through odd angles is no exact fraction."""
    return Length(inches).rounded(SIXTEENTH).inches


def _tape(inches: Fraction, like: Run) -> str:
    """A difference as it is shown: exact where that is short, else to the nearest sixteenth or millimetre."""
    system = like.length.value.system if like.length is not None and like.length.value else "imperial"
    length = Length(inches, system)
    if system == "metric":
        return f"{round(length.mm)} mm"
    return length.tape_text() if inches.denominator <= 64 else length.rounded(SIXTEENTH).tape_text()


def _degrees(turn: Fraction) -> str:
    return f"{int(turn)}" if turn.denominator == 1 else f"{float(turn):.1f}"


def _length_text(run: Run) -> str:
    return run.length.value.tape_text() if run.length is not None and run.length.value is not None else ""


def _add_up(
    runs: Sequence[Run], lengths: Sequence[Length | None], there: Sequence[int], back: Sequence[int]
) -> str:
    """`The front and the back`, or with sums where a side is made of several walls."""

    def side(walls: Sequence[int]) -> str:
        names = of_runs([runs[at] for at in walls]) or "no wall"
        if len(walls) < 2:
            return names
        total = sum((_inches(lengths[at]) for at in walls), Fraction(0))
        return f"{names} (together {_tape(total, runs[walls[0]])})"

    return start(f"{side(there)} and {side(back)}")

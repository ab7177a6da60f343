"""Single changes that would settle a ring that does not close, ranked by how people really slip.

Tried are: each length by its likely slips, or as its neighbour's said again; two lengths told for each other;
a corner turned the other way or by another angle; a jog told the wrong way; a run's ends told left for right;
a run told twice; a run left out. Each is tried in constant time from sums made once, so that a ring of n runs
takes n log n. Where none settles it, two changes together are tried, in rings of up to `MOST_FOR_PAIRS` runs.
None is ever applied by itself.
"""

from __future__ import annotations

from cmath import exp
from dataclasses import dataclass, field
from fractions import Fraction
from math import pi
from typing import TYPE_CHECKING, Final

from gutterance.checking.findings import Change
from gutterance.checking.house import run_path
from gutterance.checking.rings import FULL_TURN, along, direction, walk
from gutterance.checking.root_two import RootTwo
from gutterance.checking.slips import LONGEST, Slip, likely_slips
from gutterance.checking.traverse import Traverse, length_path, tape
from gutterance.checking.wording import of_run
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

MOST_FOR_PAIRS = 24
"""Runs in the largest ring in which two changes together are looked for: the work grows with the square."""
MOST_KEPT = 12
SHORTEST = Fraction(6)
"""Walls shorter than this [in] are not worked out: no eave is."""

_EXACTLY: Final = 1 / 32
"""How near [in] a value fits that fits to the mark."""

# Ranks, among those of `slips`. All common practice, no source.
_TOLD_TWICE: Final = 1.0
_LEFT_FOR_RIGHT: Final = 1.0
_CORNER_ONE_RUN: Final = 1.5
_LEFT_OUT: Final = 2.0
_FOR_EACH_OTHER: Final = 2.5
_NEIGHBOURS_VALUE: Final = 2.5
_CORNER: Final = 2.5
_JOG: Final = 3.0
_ANGLE: Final = 3.0
_TWO: Final = 4.0
_AS_THE_OTHER: Final = 9.0
_TURNS_ONLY: Final = 20.0


@dataclass(frozen=True, slots=True)
class Repair:
    """A change that would settle the ring: in words, why it may be, and what it changes on the sheet."""

    rank: float
    value: str
    why: str
    changes: tuple[Change, ...] = ()
    off: float = field(default=0.0)
    weight: float = field(default=0.0)
    alike: int = field(default=0)
    """1 where the wall would then be as long as one across from it, -1 where it is so already."""

    @property
    def closes(self) -> bool:
        """Whether the walls close by it, and not the corners alone."""
        return self.rank < _TURNS_ONLY

    @property
    def order(self) -> tuple[float, int, float, float]:
        """Likeliest first; of equals a wall that then matches one across from it, before one that does so as
        told; then the longer wall, which has more tape to misread; then the better fit."""
        return (self.rank, -self.alike, -self.weight, self.off)


def repairs(traverse: Traverse, faces: Sequence[Length] = ()) -> list[Repair]:
    """The repairs of a ring that is off, likeliest first. `faces`: overhangs told on the job."""
    search = _Search(traverse, faces)
    found = list(search.singles())
    if not any(one.closes for one in found) and traverse.size <= MOST_FOR_PAIRS:
        found += search.pairs()
    return _best(found)


def wall_repairs(traverse: Traverse, end: complex, faces: Sequence[Length] = ()) -> list[Repair]:
    """The single lengths that would settle one part of a misclosure, `end` [in, along and across]."""
    return _best(_Search(traverse, faces).lengths(end, traverse.units))


def as_the_other(traverse: Traverse, one: int, other: int) -> list[Repair]:
    """Two walls that must be as long as each other: either as long as the other one."""
    found = []
    for at, like in ((one, other), (other, one)):
        run, length, meant = traverse.runs[at], traverse.lengths[at], traverse.lengths[like]
        if length is not None and meant is not None:
            found.append(
                Repair(
                    _AS_THE_OTHER,
                    f"{run.name} {meant.tape_text()}",
                    f"if {of_run(run)} were as long as {of_run(traverse.runs[like])}",
                    (Change(path=length_path(run), value=meant.file_text()),),
                )
            )
    return found


def _best(found: Iterable[Repair]) -> list[Repair]:
    unlike: dict[str, Repair] = {}
    for one in sorted(found, key=lambda one: one.order):
        unlike.setdefault(one.value, one)
    return list(unlike.values())[:MOST_KEPT]


class _Search:
    def __init__(self, traverse: Traverse, faces: Sequence[Length]) -> None:
        self.of = traverse
        self.faces = faces
        self.end = traverse.before[-1]
        self.turn = traverse.walked.turn
        self.off_by = float(traverse.allowed) + 1e-6
        self.known = not traverse.unknown
        self._slips: dict[int, list[Slip]] = {}
        self._across: dict[tuple[Fraction, Fraction], list[int]] = {}
        for at, length in enumerate(traverse.lengths):
            if length is not None:
                heading = (traverse.walked.headings[at] + FULL_TURN // 2) % FULL_TURN
                self._across.setdefault((heading, length.inches), []).append(at)

    def singles(self) -> Iterator[Repair]:
        of = self.of
        if len(of.two_ways) > 2:
            return
        yield from self._left_out()
        yield from self._told_twice()
        if of.two_ways:
            yield from self._ends_crossed()
            if len(of.two_ways) == 1:
                yield from self._told_two_ways(of.two_ways[0])
            return
        if of.turns_once(self.turn):
            if self.known:
                yield from self.lengths(self.end, of.units)
                yield from self._for_each_other()
                yield from self._jogs()
        else:
            yield from self._corners()

    def _swung(self, at: int, turn: Fraction) -> complex:
        """Where the walk ends if joint `at` turned by `turn` more."""
        pivot = self.of.before[at + 1]
        return pivot + _spin(turn) * (self.end - pivot)

    def _closing(self, end: complex) -> bool:
        return self.known and abs(end) <= self.off_by

    def slips(self, at: int) -> list[Slip]:
        """The likely slips of one wall."""
        if at not in self._slips:
            reading, length = self.of.runs[at].length, self.of.lengths[at]
            found: list[Slip] = []
            if reading is not None and length is not None and 0 < length.inches < LONGEST:
                faces = self._faces(at)
                found = [
                    slip for slip in likely_slips(length, reading.could_be, faces) if slip.meant.inches > 0
                ]
            self._slips[at] = found
        return self._slips[at]

    def _faces(self, at: int) -> list[Length]:
        """By how much a wall grows to its fascia: twice the overhang between outside corners, less it between
        inside ones; between one of each the two overhangs make up for one another."""
        into, out = self.of.right[at - 1], self.of.right[at]
        if not into or not out or (into > 0) != (out > 0):
            return []
        sign = 2 if out > 0 else -2
        return [Length(sign * face.inches, face.system) for face in self.faces]

    def lengths(self, end: complex, units: Sequence[complex], after: int = -1) -> Iterator[Repair]:
        """Walls that, one at a time, close a walk that ends at `end`."""
        of = self.of
        for at in range(after + 1, of.size):
            unit = units[at]
            part = (end * unit.conjugate()).real
            if abs(end - part * unit) > self.off_by or abs(part) <= self.off_by:
                continue
            wanted = float(of.inches(at)) - part
            slip = next(
                (one for one in self.slips(at) if abs(float(one.meant.inches) - wanted) <= self.off_by), None
            )
            # a slip that fits only to the tape's tolerance leaves room for a neighbour's length told exactly
            off = None if slip is None else abs(float(slip.meant.inches) - wanted)
            beside = self._neighbours_value(at, wanted) if off is None or off > _EXACTLY else None
            for one in (slip, beside):
                if one is not None:
                    yield self._length(at, one, abs(float(one.meant.inches) - wanted))

    def _neighbours_value(self, at: int, wanted: float) -> Slip | None:
        """A wall told exactly as long as the wall beside it may have got its neighbour's length."""
        of = self.of
        length = of.lengths[at]
        if length is None or wanted < SHORTEST:
            return None
        for beside in (at - 1, of.after(at)):
            other = of.lengths[beside]
            if beside != at and other is not None and other.inches == length.inches:
                meant = of.in_system(RootTwo(Fraction(wanted).limit_denominator(2**16)))
                return Slip(meant, f"it has the length of {of_run(of.runs[beside])} beside it", 0)
        return None

    def _length(self, at: int, slip: Slip, off: float) -> Repair:
        run, length = self.of.runs[at], self.of.lengths[at]
        assert length is not None
        rank = _NEIGHBOURS_VALUE if slip.why.startswith("it has the length of") else slip.rank
        meant = slip.meant.tape_text()
        then, now = self._opposite(at, slip.meant), self._opposite(at, length)
        twin = f"; then as long as {of_run(self.of.runs[then])}" if then is not None and now is None else ""
        return Repair(
            rank,
            f"{run.name} {meant}",
            f"if {of_run(run)} were {meant} rather than {length.tape_text()} ({slip.why}{twin})",
            (Change(path=length_path(run), value=slip.meant.file_text()),),
            off,
            float(min(length.inches, slip.meant.inches)),
            (then is not None) - (now is not None),
        )

    def _opposite(self, at: int, length: Length) -> int | None:
        """A wall of that length that goes back the way wall `at` goes."""
        heading = self.of.walked.headings[at] % FULL_TURN
        return next((other for other in self._across.get((heading, length.inches), ()) if other != at), None)

    def _for_each_other(self) -> Iterator[Repair]:
        """Two walls beside one another, or a left and a right, with each other's lengths."""
        of = self.of
        if of.size < 4:
            return
        pairs = {tuple(sorted((at, of.after(at)))) for at in range(of.size)} | self._namesakes()
        for one, other in sorted(pairs):
            here, there = of.lengths[one], of.lengths[other]
            if here is None or there is None or here.inches == there.inches:
                continue
            end = self.end + float(there.inches - here.inches) * (of.units[one] - of.units[other])
            if not self._closing(end):
                continue
            first, second = of.runs[one], of.runs[other]
            yield Repair(
                _FOR_EACH_OTHER,
                f"{first.name} {there.tape_text()} and {second.name} {here.tape_text()}",
                f"if {of_run(first)} and {of_run(second)} had each other's lengths",
                (
                    Change(path=length_path(first), value=there.file_text()),
                    Change(path=length_path(second), value=here.file_text()),
                ),
                abs(end),
                float(min(here.inches, there.inches)),
            )

    def _namesakes(self) -> set[tuple[int, ...]]:
        """Runs whose names differ only by left and right."""
        names: dict[str, int] = {}
        for at, run in enumerate(self.of.runs):
            names.setdefault(run.name.strip().lower(), at)
        pairs = set()
        for name, at in names.items():
            other = names.get(name.replace("left", "right")) if "left" in name else None
            if other is not None and other != at:
                pairs.add(tuple(sorted((at, other))))
        return pairs

    def _corners(self) -> Iterator[Repair]:
        """Corners that, turned the other way or by another angle, make one full turn."""
        of = self.of
        for at, turn in enumerate(of.right):
            if not turn:
                continue
            for other, rank in (
                (-turn, _CORNER),
                *((_signed(angle, turn), _ANGLE) for angle in (45, 90) if abs(turn) != angle),
                (_signed(180 - abs(turn), turn), _ANGLE),
            ):
                if of.turns_once(self.turn - turn + other):
                    yield self._corner(at, other, rank)

    def _corner(self, at: int, turn: Fraction, rank: float) -> Repair:
        of = self.of
        run, after = of.runs[at], of.runs[of.after(at)]
        end = self._swung(at, turn - of.right[at])
        closes = self._closing(end)
        flipped = (turn > 0) != (of.right[at] > 0)
        kind = "outside corner" if turn > 0 else "inside corner"
        if flipped:
            value = f"{kind} between {of_run(run)} and {of_run(after)}"
            changes = [
                Change(path=f"{run_path(run)}.right_end", value=kind),
                Change(path=f"{run_path(after)}.left_end", value=kind),
            ]
        else:
            degrees = _degrees(abs(turn))
            value = f"{degrees} degrees between {of_run(run)} and {of_run(after)}"
            changes = [
                Change(path=f"{run_path(run)}.right_angle", value=degrees),
                Change(path=f"{run_path(after)}.left_angle", value=degrees),
            ]
        why = "then the corners make one full turn"
        if closes:
            why += " and the walls close"
        return Repair(rank if closes else _TURNS_ONLY + rank, value, why, tuple(changes), abs(end))

    def _told_two_ways(self, at: int) -> Iterator[Repair]:
        """One corner told two ways: which of the two closes the house."""
        of = self.of
        for turn in (of.right[at], of.left[at]):
            if of.turns_once(self.turn - of.right[at] + turn):
                end = self._swung(at, turn - of.right[at])
                yield self._one_way(at, turn, end)

    def _one_way(self, at: int, turn: Fraction, end: complex) -> Repair:
        of = self.of
        run, after = of.runs[at], of.runs[of.after(at)]
        closes = self._closing(end)
        why = "then the corners make one full turn round the house" + (
            " and the walls close" if closes else ""
        )
        if abs(of.right[at]) != abs(of.left[at]):
            degrees = _degrees(abs(turn))
            changes = [
                Change(path=f"{run_path(run)}.right_angle", value=degrees),
                Change(path=f"{run_path(after)}.left_angle", value=degrees),
            ]
            return Repair(_rank(_CORNER_ONE_RUN, closes), degrees, why, tuple(changes), abs(end))
        kind = "outside corner" if turn > 0 else "inside corner"
        path = f"{run_path(after)}.left_end" if turn == of.right[at] else f"{run_path(run)}.right_end"
        return Repair(_rank(_CORNER_ONE_RUN, closes), kind, why, (Change(path=path, value=kind),), abs(end))

    def _ends_crossed(self) -> Iterator[Repair]:
        """A run whose two ends were told left for right, so that both its corners are told two ways."""
        of = self.of
        if len(of.two_ways) != 2:
            return
        for at in range(of.size):
            before = (at - 1) % of.size
            if set(of.two_ways) != {before, at} or before == at:
                continue
            # told on this run: left[before] at its left, right[at] at its right
            if of.right[at] != of.right[before] or of.left[before] != of.left[at]:
                continue
            turn = of.left[at] - of.right[at]
            if not of.turns_once(self.turn + turn):
                continue
            end = self._swung(at, turn)
            run = of.runs[at]
            closes = self._closing(end)
            why = f"if the two ends of {of_run(run)} were told left for right"
            yield Repair(
                _rank(_LEFT_FOR_RIGHT, closes),
                f"{run.name}: {_kind(of.right[at])} left, {_kind(of.left[before])} right",
                why,
                (
                    Change(path=f"{run_path(run)}.left_end", value=_kind(of.right[at])),
                    Change(path=f"{run_path(run)}.right_end", value=_kind(of.left[before])),
                ),
                abs(end),
            )

    def _jogs(self) -> Iterator[Repair]:
        """A jog that steps the other way: both its corners told inside for outside."""
        of = self.of
        for at in range(of.size):
            into, out = of.right[at - 1], of.right[at]
            if not into or into != -out or of.size < 4:
                continue
            end = self.end - of.steps[at] + of.steps[at] * _spin(-2 * into)
            if not self._closing(end):
                continue
            before, run, after = of.runs[at - 1], of.runs[at], of.runs[of.after(at)]
            left, right = _kind(-into), _kind(-out)
            yield Repair(
                _JOG,
                f"{run.name}: {left} left, {right} right",
                f"if {of_run(run)} stepped the other way",
                (
                    Change(path=f"{run_path(before)}.right_end", value=left),
                    Change(path=f"{run_path(run)}.left_end", value=left),
                    Change(path=f"{run_path(run)}.right_end", value=right),
                    Change(path=f"{run_path(after)}.left_end", value=right),
                ),
                abs(end),
                float(of.inches(at)),
            )

    def _told_twice(self) -> Iterator[Repair]:
        """A run that is its neighbour said again."""
        of = self.of
        if of.size < 4:
            return
        for at in range(of.size):
            before, after = (at - 1) % of.size, of.after(at)
            length = of.lengths[at]
            into, out = of.own[before][0], of.own[at][1]
            if length is None or into != out or not set(of.two_ways) <= {before, at}:
                continue
            if not any(
                of.inches(beside) == length.inches and self._ends(beside) == self._ends(at)
                for beside in (before, after)
            ):
                continue
            turn = into - of.right[before] - of.right[at]
            if not of.turns_once(self.turn + turn):
                continue
            pivot = of.before[at]
            end = pivot + _spin(turn) * (self.end - of.before[at + 1])
            closes = self._closing(end)
            run = of.runs[at]
            yield Repair(
                _rank(_TOLD_TWICE, closes),
                f"no {run.name}" if run.name != of.runs[before].name else f"one {run.name}, not two",
                f"if {of_run(run)} ({length.tape_text()}) were a neighbour said twice",
                (),
                abs(end),
                float(length.inches),
            )

    def _ends(self, at: int) -> tuple[Fraction, Fraction]:
        """The turns at a run's left and right end, as told on that run."""
        return self.of.own[at - 1][1], self.of.own[at][0]

    def _left_out(self) -> Iterator[Repair]:
        """A run that nobody told, round a corner that two runs are told to share."""
        of = self.of
        if not self.known or of.said:
            return
        kept = 0
        for at in range(of.size):
            into, out = of.own[at]
            if not set(of.two_ways) <= {at} or not into or not out:
                continue
            more = into + out - of.right[at]
            if not of.turns_once(self.turn + more):
                continue
            unit = of.units[at] * _spin(into)
            end = self._swung(at, more)
            part = (end * unit.conjugate()).real
            if -part < SHORTEST or abs(end - part * unit) > self.off_by:
                continue
            kept += 1
            if kept > MOST_KEPT:
                return  # each takes a walk round of its own to be exact
            length = self._exact_left_out(at)
            one, other = of.runs[at], of.runs[of.after(at)]
            yield Repair(
                _LEFT_OUT,
                f"a run of {length.tape_text()} between {of_run(one)} and {of_run(other)}",
                f"if a run of {length.tape_text()} between {of_run(one)} and {of_run(other)} was left out",
                (),
                abs(end - part * unit),
            )

    def _exact_left_out(self, at: int) -> Length:
        of = self.of
        walked = walk([*of.right[:at], *of.own[at], *of.right[at + 1 :]])
        lengths = [of.inches(number) for number in range(of.size)]
        lengths.insert(at + 1, Fraction(0))
        miss = walked.misclosure(lengths)
        return of.in_system(-along(miss, direction(walked.headings[at + 1])))

    def pairs(self) -> Iterator[Repair]:
        """Two slips, or a corner and a slip, that together close the walls."""
        of = self.of
        if not self.known or len(of.two_ways) > 1:
            return
        if not of.two_ways and of.turns_once(self.turn):
            for one in range(of.size):
                for slip in self.slips(one):
                    end = self.end + float(slip.meant.inches - of.inches(one)) * of.units[one]
                    first = self._length(one, slip, 0.0)
                    for second in self.lengths(end, of.units, one):
                        yield _both(first, second)
            return
        joints = of.two_ways or range(of.size)
        for at in joints:
            for turn in (of.left[at],) if of.two_ways else (-of.right[at],):
                for choice in {turn, of.right[at]} if of.two_ways else {turn}:
                    more = choice - of.right[at]
                    if not of.turns_once(self.turn + more):
                        continue
                    spin = _spin(more)
                    units = [unit if number <= at else spin * unit for number, unit in enumerate(of.units)]
                    first = (
                        self._one_way(at, choice, 0j) if of.two_ways else self._corner(at, choice, _CORNER)
                    )
                    for second in self.lengths(self._swung(at, more), units):
                        yield _both(first, second)


def _both(first: Repair, second: Repair) -> Repair:
    rank = _TWO + first.rank % _TURNS_ONLY + second.rank
    why = first.why if first.why.startswith("if ") else f"if it is {first.value}"
    return Repair(
        rank,
        f"{first.value}; {second.value}",
        f"{why}, and {second.why.removeprefix('if ')}",
        (*first.changes, *second.changes),
        first.off + second.off,
        min(first.weight, second.weight),
    )


def _rank(rank: float, closes: bool) -> float:
    return rank if closes else _TURNS_ONLY + rank


def _signed(angle: Fraction | int, like: Fraction) -> Fraction:
    return Fraction(angle) if like > 0 else Fraction(-angle)


def _spin(degrees: Fraction) -> complex:
    quarter, rest = divmod(degrees % FULL_TURN, 90)
    return (1j ** int(quarter)) * (exp(1j * float(rest) * pi / 180) if rest else 1)


def _kind(turn: Fraction) -> str:
    return "outside corner" if turn > 0 else "inside corner" if turn < 0 else "splice"


def _degrees(turn: Fraction) -> str:
    return f"{int(turn)}" if turn.denominator == 1 else f"{float(turn):.1f}"


def closes_to(traverse: Traverse, off: float) -> str:
    """`the walls would close exactly`, or to how much."""
    inches = Fraction(off).limit_denominator(64)
    if inches < Fraction(1, 64):
        return "the walls would close exactly"
    return f"the walls would close to {tape(inches, traverse.system)}"

"""One ring of runs made ready for the arithmetic of a closed traverse.

Run `i` of a traverse turns into run `i + 1` by `turns[i]` [degrees, left positive]. Geometry that only
chooses between repairs is done in floats (complex numbers: along and across the first run); what is shown as
a length is always exact.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import accumulate
from math import isqrt
from typing import TYPE_CHECKING

from gutterance.checking.house import House, run_path, within_reason
from gutterance.checking.rings import FULL_TURN, Vector, Walk, direction, turn_of, walk
from gutterance.checking.tape_tolerance import tape_tolerance
from gutterance.measure.length import Length, System

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.joints import Joints
    from gutterance.checking.root_two import RootTwo
    from gutterance.sheet.models import Run

ODD_CORNER = Fraction(1)
"""How far a corner that is no multiple of 45 may be out [degrees]: an angle finder reads to a degree (common
practice, no source)."""
SIXTEENTH = Fraction(1, 16)


@dataclass(slots=True)
class Traverse:
    """A ring whose every corner is told. `two_ways` are the joints told two ways, or in doubt."""

    runs: list[Run]
    lengths: list[Length | None]
    right: list[Fraction]
    """The turn at the right end of each run, as told on that run."""
    left: list[Fraction]
    """The turn at the right end of each run, as told on the run after it."""
    own: list[tuple[Fraction, Fraction]]
    """Both again as two corners: a plain 90 degrees where that run gives no angle of its own."""
    two_ways: list[int]
    in_doubt: list[int]
    said: bool
    walked: Walk = field(init=False)
    units: list[complex] = field(init=False)
    steps: list[complex] = field(init=False)
    before: list[complex] = field(init=False)
    turn_tolerance: Fraction = field(init=False)
    """How far the turns together may be out [degrees]."""

    def __post_init__(self) -> None:
        self.walked = walk(self.right)
        self.units = [complex(*map(float, direction(heading))) for heading in self.walked.headings]
        self.steps = [
            0j if length is None else float(length.inches) * unit
            for length, unit in zip(self.lengths, self.units, strict=True)
        ]
        self.before = [0j, *accumulate(self.steps)]
        self.turn_tolerance = ODD_CORNER * sum(turn % 45 != 0 for turn in self.right)

    @property
    def size(self) -> int:
        """How many runs there are."""
        return len(self.runs)

    @property
    def unknown(self) -> list[int]:
        """The runs without a settled length, by number."""
        return [at for at, length in enumerate(self.lengths) if length is None]

    @property
    def allowed(self) -> Fraction:
        """By how much a steel tape may have put the walk out [in]: each wall's tolerance, added up."""
        return sum((tape_tolerance(self.inches(at)) for at in range(self.size)), Fraction(0))

    @property
    def perimeter(self) -> Fraction:
        """The settled lengths together [in]."""
        return sum((self.inches(at) for at in range(self.size)), Fraction(0))

    @property
    def system(self) -> System:
        """How its lengths are written."""
        return next((length.system for length in self.lengths if length is not None), "imperial")

    def inches(self, at: int) -> Fraction:
        """The settled length of a run [in], 0 where there is none."""
        length = self.lengths[at]
        return Fraction(0) if length is None else length.inches

    def turns_once(self, turn: Fraction) -> bool:
        """Whether that is one full turn, round a house or round a courtyard."""
        return abs(abs(turn) - FULL_TURN) <= self.turn_tolerance

    def misclosure(self) -> Vector:
        """Where the walk ends, from where it began [in]."""
        return self.walked.misclosure([self.inches(at) for at in range(self.size)])

    def after(self, at: int) -> int:
        """The number of the run after that one."""
        return (at + 1) % self.size

    def in_system(self, inches: RootTwo) -> Length:
        """A worked-out length as this house is measured; to a mark where odd angles make it no exact one."""
        if self.walked.exact and not inches.roots:
            return Length(inches.plain, self.system)
        return Length(to_mark(inches, self.system), self.system)


def traverse_of(house: House, joints: Joints, ring: Sequence[int]) -> Traverse | None:
    """The traverse of a ring, or None where a corner is not told, is no corner, or has no possible angle."""
    runs = [house.sheet.runs[index] for index in ring]
    right: list[Fraction] = []
    left: list[Fraction] = []
    own: list[tuple[Fraction, Fraction]] = []
    two_ways: list[int] = []
    in_doubt: list[int] = []
    for at, index in enumerate(ring):
        after = joints.right_of[index].after
        here, there = house.sheet.runs[index].right_end, house.sheet.runs[after].left_end
        if here is None or there is None:
            return None
        one, other = joints.angle(index, "right"), joints.angle(after, "left")
        turn = turn_of(here.value, other if one is None else one)
        back = turn_of(there.value, one if other is None else other)
        if turn is None or back is None:
            return None
        if turn != back:
            two_ways.append(at)
        elif not (here.settled and there.settled):
            in_doubt.append(at)
        own.append((turn_of(here.value, one) or turn, turn_of(there.value, other) or back))
        right.append(turn)
        left.append(back)
    said = all(joints.right_of[index].how == "said" for index in ring)
    return Traverse(runs, [known_length(run) for run in runs], right, left, own, two_ways, in_doubt, said)


def known_length(run: Run) -> Length | None:
    """A run's length where it was measured and is settled; one worked out from the others proves nothing."""
    reading = run.length
    if reading is None or not reading.settled or reading.status == "inferred":
        return None
    return reading.value if within_reason(reading.value) else None


def to_mark(inches: RootTwo, system: System) -> Fraction:
    """To the nearest sixteenth or millimetre: a length worked out through odd angles is no exact fraction."""
    return inches.nearest(Length.from_mm(1).inches if system == "metric" else SIXTEENTH)


def square(vector: Vector) -> RootTwo:
    """The square of a vector's length."""
    return vector[0] * vector[0] + vector[1] * vector[1]


def root(of: RootTwo) -> Fraction:
    """The square root, to 2^-20 in: only ever shown, rounded to a mark."""
    return Fraction(isqrt(int(of.nearest(Fraction(1, 2**40)) * 2**40)), 2**20)


def tape(inches: Fraction, system: System) -> str:
    """A difference as it is shown: exact where that is short, else to the nearest sixteenth or millimetre."""
    length = Length(inches, system)
    if system == "metric":
        return f"{round(length.mm)} mm"
    return length.tape_text() if inches.denominator <= 64 else length.rounded(SIXTEENTH).tape_text()


def ratio(miss: Fraction, perimeter: Fraction) -> str:
    """The surveyor's misclosure ratio: `1 in 340`, or `1 in more than 100,000` for next to none.

    >>> ratio(Fraction(36), Fraction(1836))
    '1 in 51'
    """
    if miss * 100_000 < perimeter or not miss:
        return "1 in more than 100,000"
    return f"1 in {round(perimeter / miss):,}"


def length_path(run: Run) -> str:
    """The path of a run's length: `runs.back.length`."""
    return f"{run_path(run)}.length"

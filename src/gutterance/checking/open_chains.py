"""Walks that are not closed but whose ends must agree: the eaves of gable houses, and a side left out.

A plain gable has no eave on two sides. Where its eaves are one run each they are compared; where they step,
the parts that run the same way are added up; where an eave goes on round corners to the other side (a hip at
one end only), the gable wall closes it square. Only a storey that is told by such eaves alone is looked at: a
wall may jog where there is no gutter, and then nobody told of it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.findings import Change, Suggestion
from gutterance.checking.house import House, run_path, sources
from gutterance.checking.places import BUILDINGS, building, facing
from gutterance.checking.plausibility import plausible
from gutterance.checking.rings import FULL_TURN, along, direction, turn_of, walk
from gutterance.checking.root_two import RootTwo
from gutterance.checking.slips import slip_to
from gutterance.checking.tape_tolerance import tape_tolerance
from gutterance.checking.traverse import known_length, length_path, square, tape, to_mark
from gutterance.checking.wording import of_run, start
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.checking.joints import Joints, MissingRun
    from gutterance.sheet.models import Run

OUT_OF_SQUARE = Fraction(1)
"""By how much opposite eaves of a gable may differ [in] without a word (common practice, no source)."""


FINEST = Fraction(1, 2**20)


@dataclass(frozen=True, slots=True)
class _Chain:
    """Runs joined from one free end to another, all told: how each lies to the first, and the whole turn."""

    runs: list[Run]
    lengths: list[Length]
    ways: list[RootTwo]
    """How far each run goes along the first, for each inch of it: 1, 0 or -1 at square corners."""
    turn: Fraction

    @property
    def round_a_porch(self) -> bool:
        """Whether it goes out from a wall and back to it: both its ends are against one."""
        ends = (self.runs[0].left_end, self.runs[-1].right_end)
        return all(end is not None and end.value == "wall" for end in ends)

    @property
    def at_walls(self) -> bool:
        """Whether it begins or ends against a wall, and so goes round no gable."""
        ends = (self.runs[0].left_end, self.runs[-1].right_end)
        return any(end is not None and end.value == "wall" for end in ends)

    @property
    def reach(self) -> RootTwo:
        """How far the chain goes along its first run [in]."""
        return _sum(n.inches * way for n, way in zip(self.lengths, self.ways, strict=True))

    @property
    def allowed(self) -> Fraction:
        """What the tape may have put it out by [in]."""
        return sum(
            (tape_tolerance(n.inches) for n, way in zip(self.lengths, self.ways, strict=True) if way),
            Fraction(0),
        )


def check_open_chains(house: House, joints: Joints) -> Iterator[Finding]:
    """Opposite eaves of gables that differ, storey by storey."""
    storeys: defaultdict[str, list[int]] = defaultdict(list)
    for index, run in enumerate(house.sheet.runs):
        storeys[(run.storey or "").strip().lower()].append(index)
    for runs in storeys.values():
        starts = [index for index in runs if index not in joints.left_of]
        if not 1 <= len(starts) <= 2:
            continue
        indexes = [_follow(joints, index) for index in starts]
        if sorted(index for one in indexes for index in one) != sorted(runs):
            continue
        # words like `step` or `upper` put a run on no building of its own
        if len({building(house.sheet.runs[index]) for index in runs} & BUILDINGS) > 1:
            continue
        if any(building(house.sheet.runs[index]) not in ("", *BUILDINGS) for index in starts):
            continue
        chains = [_chain(house, joints, one) for one in indexes]
        if all(_confirmed(house.sheet.runs[index]) for index in runs):
            continue  # somebody has said that they do differ so
        if (
            len(chains) == 1
            and chains[0] is not None
            and abs(chains[0].turn) == FULL_TURN // 2
            and not chains[0].at_walls
        ):
            yield from _round_a_hip(chains[0])
        elif len(chains) == 2 and chains[0] is not None and chains[1] is not None:
            yield from _opposite(chains[0], chains[1])
    yield from _porches(house, joints)


def _porches(house: House, joints: Joints) -> Iterator[Finding]:
    """Walks of three runs out from a wall and back to it, whose returns differ. The wall may step, so that
    nothing is held for it."""
    apart = plausible().limit("returns_apart")
    for index in range(len(house.sheet.runs)):
        if index in joints.left_of:
            continue
        path = _follow(joints, index)
        chain = _chain(house, joints, path) if len(path) == 3 else None
        if chain is None or not chain.round_a_porch or abs(chain.turn) != FULL_TURN // 2:
            continue
        out, _, back = chain.runs
        off = abs(chain.reach)
        if off <= apart.inches or all(_confirmed(run) for run in chain.runs):
            continue
        there, here = (chain.lengths[at].tape_text() for at in (0, 2))
        yield finding(
            "opposite-eaves-differ",
            "runs",
            f"{start(of_run(out))} is {there} and {of_run(back)} {here}, both back to the wall: "
            f"{apart.why}, and these differ by {tape(_tape(off), chain.lengths[0].system)}.",
            f"Does the wall step there, or which is wrong: {of_run(out)} {there} or {of_run(back)} {here}?",
            source=sources(out.length, back.length),
        )


def _sum(parts: Iterable[RootTwo]) -> RootTwo:
    return sum(parts, RootTwo(Fraction(0)))


def _tape(inches: RootTwo) -> Fraction:
    """The length as a fraction: exact, or at odd corners finer than any tape."""
    return inches.plain if not inches.roots else inches.nearest(FINEST)


def _confirmed(run: Run) -> bool:
    return run.length is not None and run.length.by is not None


def _follow(joints: Joints, index: int) -> list[int]:
    path = [index]
    while path[-1] in joints.right_of and len(path) <= len(joints.house.sheet.runs):
        path.append(joints.right_of[path[-1]].after)
    return path


def _chain(house: House, joints: Joints, indexes: Sequence[int]) -> _Chain | None:
    """The chain of those runs, or None where an end, a corner or a length is not known."""
    runs = [house.sheet.runs[index] for index in indexes]
    for end in (runs[0].left_end, runs[-1].right_end):
        if end is None or not end.settled or end.value not in ("end cap", "wall"):
            return None
    turns = _turns(joints, indexes)
    lengths = [known_length(run) for run in runs]
    if turns is None or any(length is None for length in lengths):
        return None
    walked = walk([*turns, Fraction(0)])
    ways = [direction(heading)[0] for heading in walked.headings]
    return _Chain(runs, [length for length in lengths if length is not None], ways, walked.turn)


def _turns(joints: Joints, indexes: Sequence[int]) -> list[Fraction] | None:
    """The turn after each run but the last, or None where one is not told or told two ways."""
    turns: list[Fraction] = []
    runs = joints.house.sheet.runs
    for before, after in pairwise(indexes):
        here, there = runs[before].right_end, runs[after].left_end
        if here is None or there is None or not (here.settled and there.settled):
            return None
        one, other = joints.angle(before, "right"), joints.angle(after, "left")
        turn = turn_of(here.value, other if one is None else one)
        if turn is None or turn != turn_of(there.value, one if other is None else other):
            return None
        turns.append(turn)
    return turns


def _round_a_hip(chain: _Chain) -> Iterator[Finding]:
    """A walk that begins and ends at one gable: its two eaves end level with each other."""
    off = chain.reach
    allowed = max(chain.allowed, OUT_OF_SQUARE)
    if abs(off) <= allowed:
        return
    there = [at for at, way in enumerate(chain.ways) if way > 0]
    back = [at for at, way in enumerate(chain.ways) if way < 0]
    yield _differ(chain, there, chain, back, off, allowed)


def _opposite(one: _Chain, other: _Chain) -> Iterator[Finding]:
    """The two eaves of a plain gable, each with its steps added up."""
    if one.turn or other.turn:
        return
    here, there = facing(one.runs[0]), facing(other.runs[0])
    if here is None or there is None or (here.turn - there.turn) % 4 != 2 or here.building != there.building:
        return
    off = one.reach - other.reach
    allowed = max(one.allowed + other.allowed, OUT_OF_SQUARE)
    if abs(off) <= allowed:
        return
    yield _differ(
        one,
        [at for at, way in enumerate(one.ways) if way],
        other,
        [at for at, way in enumerate(other.ways) if way],
        off,
        allowed,
    )


def _differ(
    one: _Chain, here: Sequence[int], other: _Chain, there: Sequence[int], off: RootTwo, allowed: Fraction
) -> Finding:
    offers = []
    for chain, walls, sign in ((one, here, 1), (other, there, -1 if other is not one else 1)):
        for at in walls:
            run, length = chain.runs[at], chain.lengths[at]
            way = chain.ways[at] * sign
            wanted = (length.inches - off / way).nearest(FINEST)
            slip = slip_to(length, wanted, allowed, run.length.could_be if run.length else ())
            if slip is not None:
                offers.append(
                    (
                        slip.rank,
                        Suggestion(
                            value=f"{run.name} {slip.meant.tape_text()}",
                            why=f"{slip.why}; then both eaves agree",
                            changes=[Change(path=length_path(run), value=slip.meant.file_text())],
                        ),
                    )
                )
    offers.sort(key=lambda row: row[0])
    told = {run.id: run for run in (*one.runs, *other.runs)}.values()
    as_told = Suggestion(
        value="as told",
        why="the walls do differ so",
        changes=[
            Change(path=length_path(run), value=run.length.value.file_text())
            for run in told
            if run.length is not None and run.length.value is not None
        ],
    )
    runs = [one.runs[at] for at in here] + [other.runs[at] for at in there]
    first, second = _side(one, here), _side(other, there)
    return finding(
        "opposite-eaves-differ",
        "runs",
        f"{start(first)} and {second}: opposite eaves of a plain gable are mostly alike, and these differ by "
        f"{tape(_tape(abs(off)), one.lengths[0].system)}.",
        f"Is it right that {first} and {second}?",
        # Walls do jog unsaid: only a difference that one slip explains stops the pieces.
        holds=[run_path(run) for run in runs] if offers else [],
        source=sources(*(run.length for run in runs)),
        suggests=[*(offer for _, offer in offers[:3]), as_told],
    )


def _side(chain: _Chain, walls: Sequence[int]) -> str:
    """`the front is 42' 6"`, or with its parts added up: `the front and the bay are together 54' 0"`."""
    names = " and ".join(of_run(chain.runs[at]) for at in walls)
    total = abs(_sum(chain.lengths[at].inches * chain.ways[at] for at in walls))
    shown = tape(_tape(total), chain.lengths[0].system)
    return f"{names} is {shown}" if len(walls) == 1 else f"{names} make together {shown}"


def missing_side(house: House, joints: Joints, missing: MissingRun) -> Suggestion | None:
    """How long a side must be that nobody told, where the sides told close with it."""
    if len(missing.beside) != 2:
        return None
    before, after = missing.beside
    path = _follow(joints, after)
    if path[-1] != before or len(set(path)) != len(path):
        return None
    turns = _turns(joints, path)
    runs = [house.sheet.runs[index] for index in path]
    lengths = [known_length(run) for run in runs]
    here, there = runs[-1].right_end, runs[0].left_end
    if turns is None or None in lengths or here is None or there is None:
        return None
    last = turn_of(here.value, joints.angle(before, "right"))
    first = turn_of(there.value, joints.angle(after, "left"))
    if last is None or first is None:
        return None
    walked = walk([*turns, last, first])
    if abs(walked.turn) != FULL_TURN:
        return None
    known = [length for length in lengths if length is not None]
    miss = walked.misclosure([*(length.inches for length in known), Fraction(0)])
    step = direction(walked.headings[-1])
    inches = -along(miss, step)
    rest = (miss[0] + inches * step[0], miss[1] + inches * step[1])
    allowed = sum((tape_tolerance(length.inches) for length in known), Fraction(0))
    if inches <= 0 or square(rest) > allowed**2:
        return None
    system = known[0].system
    exact = walked.exact and not inches.roots
    length = Length(inches.plain if exact else to_mark(inches, system), system)
    return Suggestion(value=f"{missing.name} {length.tape_text()}", why="then the walls of the house close")

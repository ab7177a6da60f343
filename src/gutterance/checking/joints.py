"""Which ends of which runs meet, and so which runs are one stretch of gutter.

Seen from outside, the right end of a run meets the left end of the next one round the house. Where the note
says which run comes next, that is taken. Otherwise runs are taken as neighbours only where names or order
make it plain and both ends tell of the same corner; where it is not plain, nothing is claimed.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from gutterance.checking.places import Position, building, position, side_name
from gutterance.checking.rings import FULL_TURN, turn_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gutterance.checking.house import House
    from gutterance.sheet.models import Run
    from gutterance.sheet.values import End

Side = Literal["left", "right"]
CORNERS: tuple[End, ...] = ("outside corner", "inside corner")
JOINED: frozenset[End] = frozenset({*CORNERS, "splice"})
FREE: frozenset[End] = frozenset({"end cap", "wall"})


@dataclass(frozen=True, slots=True)
class Joint:
    """The right end of run number `before` meets the left end of run number `after`.

    `how`: `said` (the note says which run is next), `named` (front, right, back, left), `order` (next on the
    sheet), or `only` (the only two ends left that can meet).
    """

    before: int
    after: int
    how: Literal["said", "named", "order", "only"]


@dataclass(frozen=True, slots=True)
class MissingRun:
    """A run that must be there, since corners on both sides of it lead to it. `beside` are runs by number."""

    name: str
    beside: tuple[int, ...]


@dataclass(slots=True)
class Joints:
    """What is known of how the runs meet. Runs are numbered as on the sheet, from 0."""

    house: House
    joints: list[Joint] = field(default_factory=list)
    disagree: list[Joint] = field(default_factory=list)
    maybe: list[tuple[int, int]] = field(default_factory=list)
    missing: list[MissingRun] = field(default_factory=list)
    next_unknown: list[int] = field(default_factory=list)
    next_twice: list[tuple[int, int]] = field(default_factory=list)
    right_of: dict[int, Joint] = field(default_factory=dict)
    left_of: dict[int, Joint] = field(default_factory=dict)

    def end(self, run: int, side: Side) -> End | None:
        """What is said of that end of a run."""
        reading = getattr(self.house.sheet.runs[run], f"{side}_end")
        return None if reading is None else reading.value

    def angle(self, run: int, side: Side) -> float | None:
        """The corner angle said at that end of a run [degrees]."""
        reading = getattr(self.house.sheet.runs[run], f"{side}_angle")
        return None if reading is None else reading.value

    def is_joined(self, run: int, side: Side) -> bool:
        """Whether that end is known to meet another run."""
        return run in (self.right_of if side == "right" else self.left_of)

    def join(self, before: int, after: int, how: Literal["said", "named", "order", "only"]) -> None:
        """Take two ends as meeting."""
        joint = Joint(before, after, how)
        self.joints.append(joint)
        self.right_of[before] = joint
        self.left_of[after] = joint
        ends = (self.end(before, "right"), self.end(after, "left"))
        if None not in ends and ends[0] != ends[1]:
            self.disagree.append(joint)

    def loose(self, side: Side) -> list[int]:
        """The runs whose end on that side is a corner that meets nothing yet."""
        return [
            run
            for run in range(len(self.house.sheet.runs))
            if self.end(run, side) in CORNERS and not self.is_joined(run, side)
        ]

    def rings(self) -> list[list[int]]:
        """The runs of each walk that comes back to its start, in walking order."""
        rings: list[list[int]] = []
        seen: set[int] = set()
        for first in range(len(self.house.sheet.runs)):
            path: list[int] = []
            at: int | None = first
            while at is not None and at not in seen:
                seen.add(at)
                path.append(at)
                at = self.right_of[at].after if at in self.right_of else None
            if path and at == first:
                rings.append(path)
        return rings

    def stretches(self, *, sure: bool) -> list[list[int]]:
        """Runs joined into one stretch of gutter; `sure=False` counts the joints that may be there too."""
        groups = _Groups(len(self.house.sheet.runs))
        for joint in self.joints:
            groups.unite(joint.before, joint.after)
        if not sure:
            for before, after in self.maybe:
                groups.unite(before, after)
        return groups.lists()


def find_joints(house: House) -> Joints:
    """Work out which ends meet. Near linear in the number of runs."""
    joints = Joints(house)
    _join_said(joints)
    for storey in _storeys(house):
        rest = [run for run in storey if run not in joints.right_of and run not in joints.left_of]
        turning = {run for run in storey if not _ends_free(house.sheet.runs[run])}
        # Sides with walls stepped between them (`north`, `inner west`, `inner north`, `west`) make one round
        # in the order told, though their names put them on other parts.
        if any(joints.end(run, side) == "inside corner" for run in rest for side in _SIDES):
            _join_ring(joints, [run for run in rest if run in turning])
            rest = [run for run in rest if not _resolved(joints, run)]
        for part in _by_building(house, rest):
            if not _join_chain(joints, part):
                _join_named(joints, part, alone=turning <= set(part))
        rest = [run for run in storey if not _resolved(joints, run)]
        for part in _by_building(house, rest):
            _join_ring(joints, part)
        rest = [run for run in storey if not _resolved(joints, run)]
        _join_in_order(joints, rest)
    _join_only(joints)
    return joints


def _ends_free(run: Run) -> bool:
    """Whether a run surely meets no other: both its ends are said, and neither turns a corner."""
    return all(end is not None and end.settled and end.value in FREE for end in (run.left_end, run.right_end))


def _resolved(joints: Joints, run: int) -> bool:
    return all(joints.is_joined(run, side) or joints.end(run, side) in FREE for side in ("left", "right"))


def _join_said(joints: Joints) -> None:
    house = joints.house
    by_name: dict[str, int | None] = {}
    for index, run in enumerate(house.sheet.runs):
        name = run.name.strip().lower()
        by_name[name] = None if name in by_name else index
    for index, run in enumerate(house.sheet.runs):
        if run.next_run is None:
            continue
        after = house.run_at.get(run.next_run)
        if after is None:
            after = by_name.get(run.next_run.strip().lower())
        if after is None or after == index:
            joints.next_unknown.append(index)
            continue
        if joints.end(index, "right") in FREE and joints.end(after, "left") in FREE:
            continue  # said in walking order only: two free ends do not meet
        if after in joints.left_of:
            joints.next_twice.append((joints.left_of[after].before, index))
            continue
        joints.join(index, after, "said")


def _storeys(house: House) -> Iterable[list[int]]:
    storeys: defaultdict[str, list[int]] = defaultdict(list)
    for index, run in enumerate(house.sheet.runs):
        storeys[(run.storey or "").strip().lower()].append(index)
    return storeys.values()


def _by_building(house: House, runs: Sequence[int]) -> Iterable[list[int]]:
    buildings: defaultdict[str, list[int]] = defaultdict(list)
    for run in runs:
        buildings[building(house.sheet.runs[run])].append(run)
    return buildings.values()


def _plain_sides(joints: Joints, runs: Sequence[int]) -> dict[int, tuple[int, Position]] | None:
    """The runs by side, where each is a different plain side of one building, all named alike."""
    sides: dict[int, tuple[int, Position]] = {}
    for run in runs:
        at = position(joints.house.sheet.runs[run])
        if at is None or at.turn in sides:
            return None
        sides[at.turn] = (run, at)
    if len({at.compass for _, at in sides.values()}) > 1:
        return None
    return sides


def _join_named(joints: Joints, runs: Sequence[int], *, alone: bool) -> None:
    """A building whose runs are its plain sides, in whatever order they were said.

    `alone`: nothing else on this storey turns a corner, so that one can only lead to another of these sides.
    """
    if len(runs) < 2:
        return
    sides = _plain_sides(joints, runs)
    if sides is None:
        return
    if any(joints.end(run, side) == "inside corner" for run in runs for side in _SIDES) and not (
        alone and len(sides) == 4
    ):
        return  # an inside corner means more walls than plain sides, unless these are all there are
    for turn, (run, at) in sides.items():
        beyond = sides.get((turn + 1) % 4)
        if beyond is not None:
            _join_where_both_turn(joints, run, beyond[0], "named")
        elif alone and joints.end(run, "right") in CORNERS:
            other = sides.get((turn + 2) % 4)
            beside = [run]
            if other is not None and joints.end(other[0], "left") in CORNERS:
                beside.append(other[0])
            joints.missing.append(MissingRun(side_name(turn + 1, at.compass, at.building), tuple(beside)))
        before = sides.get((turn - 1) % 4)
        across = sides.get((turn - 2) % 4)
        if (
            before is None
            and alone
            and joints.end(run, "left") in CORNERS
            and not (across is not None and joints.end(across[0], "right") in CORNERS)
        ):
            joints.missing.append(MissingRun(side_name(turn - 1, at.compass, at.building), (run,)))


_SIDES: tuple[Side, Side] = ("left", "right")


def _join_where_both_turn(
    joints: Joints, before: int, after: int, how: Literal["named", "order"], *, same: bool = False
) -> bool:
    """Join two ends that both turn a corner; remember them as perhaps joined where one is not said."""
    if joints.is_joined(before, "right") or joints.is_joined(after, "left") or before == after:
        return False
    right, left = joints.end(before, "right"), joints.end(after, "left")
    if right in JOINED and left in JOINED and (right == left or not same):
        joints.join(before, after, how)
        return True
    if right not in FREE and left not in FREE:
        joints.maybe.append((before, after))
    return False


def _join_chain(joints: Joints, runs: Sequence[int]) -> bool:
    """The runs of one part, as said, where they plainly go from one free end round corners to another.

    Then names do not matter: the left side of what stands at the back is told as seen from there.
    """
    for order in (list(runs), list(reversed(runs))):
        if (
            len(order) > 2
            and joints.end(order[0], "left") in FREE
            and joints.end(order[-1], "right") in FREE
            and all(
                joints.end(one, "right") in CORNERS and joints.end(one, "right") == joints.end(two, "left")
                for one, two in pairwise(order)
            )
            and not any(opposite(joints, one, two) for one, two in pairwise(order))
        ):
            for one, two in pairwise(order):
                joints.join(one, two, "order")
            return True
    return False


def _join_ring(joints: Joints, runs: Sequence[int]) -> None:
    """The runs of one building, in the order said, where they plainly make one closed walk of their own."""
    order = _walking_order(joints, runs)
    if len(order) < 3 or any(joints.is_joined(run, side) for run in order for side in _SIDES):
        return
    pairs = list(zip(order, order[1:] + order[:1], strict=True))
    turned = Fraction(0)
    for before, after in pairs:
        end = joints.end(before, "right")
        if end not in JOINED or end != joints.end(after, "left") or opposite(joints, before, after):
            return
        angle = joints.angle(before, "right")
        turn = turn_of(end, angle if angle is not None else joints.angle(after, "left"))
        if turn is None:
            return
        turned += turn
    if abs(turned) == FULL_TURN:
        for before, after in pairs:
            joints.join(before, after, "order")


def _join_in_order(joints: Joints, runs: Sequence[int]) -> None:
    """What is left of a storey, each run with the next on the sheet, round to the first again."""
    order = _walking_order(joints, runs)
    if len(order) < 2:
        return
    pairs = list(pairwise(order))
    if len(order) > 2:
        pairs.append((order[-1], order[0]))
    odd: list[tuple[int, int]] = []
    joined = 0
    for before, after in pairs:
        if joints.house.sheet.runs[before].next_run is not None or opposite(joints, before, after):
            continue
        if _join_where_both_turn(joints, before, after, "order", same=True):
            joined += 1
        elif joints.end(before, "right") in CORNERS and joints.end(after, "left") in CORNERS:
            odd.append((before, after))
    # Where all the other corners of a round agree, the one that differs is plainly one corner told two ways;
    # and two that differ at the two ends of one run are that run's ends told left for right.
    if (len(odd) == 1 or _crossed(joints, odd)) and joined == len(pairs) - len(odd) and len(order) > 2:
        for before, after in odd:
            joints.join(before, after, "order")
    else:
        joints.maybe.extend(odd)


def _crossed(joints: Joints, odd: Sequence[tuple[int, int]]) -> bool:
    """Whether two corners told two ways are one run's ends, which would agree the other way round."""
    if len(odd) != 2:
        return False
    for (before, run), (other, after) in (odd, odd[::-1]):
        if run == other:
            return joints.end(before, "right") == joints.end(run, "right") and joints.end(
                after, "left"
            ) == joints.end(run, "left")
    return False


def opposite(joints: Joints, before: int, after: int) -> bool:
    """Whether two runs are opposite sides of one building, which never meet at a corner."""
    runs = joints.house.sheet.runs
    one, other = position(runs[before]), position(runs[after])
    return (
        one is not None
        and other is not None
        and one.building == other.building
        and one.compass == other.compass
        and (one.turn - other.turn) % 4 == 2
    )


def _walking_order(joints: Joints, runs: Sequence[int]) -> list[int]:
    """The runs left to right round the house: as said, or backwards where the measurer walked clockwise."""
    order = list(runs)
    named = agree = 0
    for one, two in [*pairwise(order), *([(order[-1], order[0])] if len(order) > 2 else [])]:
        named += _named_step(joints.house.sheet.runs[one], joints.house.sheet.runs[two])
        agree += ends_agree(joints, one, two) - ends_agree(joints, two, one)
    clockwise = named < 0 or (named == 0 and agree < 0)
    return order[::-1] if clockwise else order


def _named_step(one: Run, two: Run) -> int:
    """+1 where the names go round anticlockwise (front to right), -1 where they go clockwise, else 0."""
    first, second = position(one), position(two)
    if first is None or second is None:
        return 0
    if first.building != second.building or first.compass != second.compass:
        return 0
    return {1: 1, 3: -1}.get((second.turn - first.turn) % 4, 0)


def ends_agree(joints: Joints, before: int, after: int) -> int:
    """How plainly two ends tell of one corner: the same corner counts 1, by the same odd angle 2."""
    right, left = joints.end(before, "right"), joints.end(after, "left")
    if right is None or left is None or not (right in JOINED or left in JOINED):
        return 0
    if right != left:
        return -1
    angles = {joints.angle(before, "right") or 90.0, joints.angle(after, "left") or 90.0}
    if len(angles) > 1:
        return -1
    return 1 if angles == {90.0} else 2


def _join_only(joints: Joints) -> None:
    """The last two ends of a kind, where they can be nothing but one corner."""
    spoken_for = {run for missing in joints.missing for run in missing.beside}
    for kind in CORNERS:
        rights = [run for run in joints.loose("right") if joints.end(run, "right") == kind]
        lefts = [run for run in joints.loose("left") if joints.end(run, "left") == kind]
        if len(rights) == 1 == len(lefts):
            before, after = rights[0], lefts[0]
            runs = joints.house.sheet.runs
            same_storey = (runs[before].storey or "") == (runs[after].storey or "")
            if (
                before != after
                and same_storey
                and before not in spoken_for
                and after not in spoken_for
                and not opposite(joints, before, after)
            ):
                joints.join(before, after, "only")
        elif rights and lefts:
            # They may meet, in some pairing that is not known: one stretch, for all we can say.
            everyone = rights + lefts
            joints.maybe.extend((everyone[0], other) for other in everyone[1:])


class _Groups:
    """Numbers united into groups (union by find with path halving)."""

    def __init__(self, count: int) -> None:
        self._parent = list(range(count))

    def _top(self, number: int) -> int:
        parent = self._parent
        while parent[number] != number:
            parent[number] = parent[parent[number]]
            number = parent[number]
        return number

    def unite(self, one: int, other: int) -> None:
        """Put two numbers in one group; the group is named by its lowest."""
        low, high = sorted((self._top(one), self._top(other)))
        self._parent[high] = low

    def lists(self) -> list[list[int]]:
        """The groups, each in order, by their lowest number."""
        groups: defaultdict[int, list[int]] = defaultdict(list)
        for number in range(len(self._parent)):
            groups[self._top(number)].append(number)
        return [groups[top] for top in sorted(groups)]

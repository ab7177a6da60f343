"""Which run meets which: by the note's own words, else by corners that match, each guess said.

Walking each run from left to right goes round the house anticlockwise, so a run's right end meets the
left end of the next.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from gutterance.sheet.models import Reading, Run, Sheet
    from gutterance.sheet.values import End

JOINABLE = ("outside corner", "inside corner", "splice")
# Which way a side faces, counted anticlockwise seen from above: the order in which a walk left to right
# meets them.
_FACES = {
    "front": 0,
    "right": 1,
    "back": 2,
    "rear": 2,
    "left": 3,
    "south": 0,
    "east": 1,
    "north": 2,
    "west": 3,
}
_SQUARE = 90.0

How = Literal["said", "names", "order"]


@dataclass(slots=True)
class Joints:
    """`next[i]` is the run that the right end of run i meets, or None; `how` says how that is known."""

    next: list[int | None]
    how: list[How | None]
    clashes: list[tuple[int, int, str]] = field(default_factory=list)

    @property
    def previous(self) -> list[int | None]:
        """The run whose right end meets the left end of run i, or None."""
        back: list[int | None] = [None] * len(self.next)
        for i, j in enumerate(self.next):
            if j is not None:
                back[j] = i
        return back


def join_runs(sheet: Sheet) -> Joints:
    """Join the runs of a sheet end to end.

    First where the note says which run comes next; then by the order of the note where the corners match
    and the sides' names bear it out; then by the names alone; then by the order where names say nothing.
    """
    runs = sheet.runs
    joints = Joints([None] * len(runs), [None] * len(runs))
    taken: set[int] = set()
    _join_as_said(runs, joints, taken)
    _join_by_order(runs, joints, taken, borne_out=True)
    _join_by_names(runs, joints, taken)
    _join_by_order(runs, joints, taken, borne_out=False)
    _close_walks(runs, joints, taken)
    return joints


def _link(joints: Joints, taken: set[int], i: int, j: int, how: How) -> None:
    joints.next[i], joints.how[i] = j, how
    taken.add(j)


def _join_as_said(runs: list[Run], joints: Joints, taken: set[int]) -> None:
    by_name: dict[str, list[int]] = defaultdict(list)
    for i, run in enumerate(runs):
        for name in {_key(run.id), _key(run.name)}:
            by_name[name].append(i)
    for i, run in enumerate(runs):
        if run.next_run is None:
            continue
        right = _value(run.right_end)
        found = by_name.get(_key(run.next_run), [])
        if right not in JOINABLE or len(found) != 1 or found[0] in taken or found[0] == i:
            continue
        j = found[0]
        left = _value(runs[j].left_end)
        if left is not None and left != right:
            says = f"{run.name} ends right at an {right}, {runs[j].name} begins left at an {left}"
            joints.clashes.append((i, j, says))
            continue
        _link(joints, taken, i, j, "said")


def _join_by_names(runs: list[Run], joints: Joints, taken: set[int]) -> None:
    groups: dict[tuple[str | None, str], dict[int, list[int]]] = defaultdict(lambda: defaultdict(list))
    for i, run in enumerate(runs):
        side = facing(run)
        if side is not None:
            groups[run.storey, _rest(run)][side].append(i)
    for i, run in enumerate(runs):
        side = facing(run)
        turn = _turn(run.right_end)
        if side is None or turn is None or joints.next[i] is not None or not _square(run.right_angle):
            continue
        there = groups[run.storey, _rest(run)][(side + turn) % 4]
        if len(there) == 1 and len(groups[run.storey, _rest(run)][side]) == 1:
            j = there[0]
            if j not in taken and j != i and _match(runs[i], runs[j]):
                _link(joints, taken, i, j, "names")


def _join_by_order(runs: list[Run], joints: Joints, taken: set[int], *, borne_out: bool) -> None:
    for i in range(len(runs) - 1):
        if joints.next[i] is not None or i + 1 in taken or not _may_follow(runs[i], runs[i + 1]):
            continue
        if not borne_out or (facing(runs[i]) is not None and facing(runs[i + 1]) is not None):
            _link(joints, taken, i, i + 1, "order")


def _close_walks(runs: list[Run], joints: Joints, taken: set[int]) -> None:
    """Join the last run of a chain back to its first, where the turns on the way make one full round."""
    previous = joints.previous
    for first in range(len(runs)):
        if previous[first] is not None or first in taken:
            continue
        chain = [first]
        while (following := joints.next[chain[-1]]) is not None and following != first:
            chain.append(following)
        last = chain[-1]
        if len(chain) >= 3 and _may_follow(runs[last], runs[first]) and _full_round([runs[i] for i in chain]):
            _link(joints, taken, last, first, "order")


def _full_round(chain: list[Run]) -> bool:
    total = 0.0
    for run in chain:
        turn = _turn(run.right_end)
        if turn is None:
            if _value(run.right_end) != "splice":
                return False
            continue
        angle = run.right_angle.value if run.right_angle is not None else None
        total += turn * (_SQUARE if angle is None else angle)
    return abs(total - 360) < 1


def _may_follow(run: Run, following: Run) -> bool:
    if run.storey != following.storey or not _match(run, following):
        return False
    here, there, turn = facing(run), facing(following), _turn(run.right_end)
    if here is None or there is None or turn is None or not _square(run.right_angle):
        return True
    return there == (here + turn) % 4


def _match(run: Run, following: Run) -> bool:
    right, left = run.right_end, following.left_end
    sure = right is not None and left is not None and right.settled and left.settled
    return sure and _value(right) in JOINABLE and _value(right) == _value(left)


def _value(end: Reading[End] | None) -> End | None:
    return None if end is None else end.value


def _turn(end: Reading[End] | None) -> int | None:
    value = _value(end)
    return {"outside corner": 1, "inside corner": -1}.get(value or "")


def _square(angle: Reading[float] | None) -> bool:
    return angle is None or angle.value is None or angle.value == _SQUARE


def facing(run: Run) -> int | None:
    """Which way a run's name says it faces (0 front, then anticlockwise), or None where it does not."""
    sides = {_FACES[word] for word in _key(run.id).split("-") if word in _FACES}
    return sides.pop() if len(sides) == 1 else None


def _rest(run: Run) -> str:
    words = [word for word in _key(run.id).split("-") if word not in _FACES and word != "side"]
    return "-".join(words)


def _key(name: str) -> str:
    return "-".join(name.casefold().replace("_", "-").replace("-", " ").split())

"""Which run's right end meets which run's left end, as the checker sees it, for the water to cross.

Walking each run from left to right goes round the house anticlockwise, so a run's right end meets the
left end of the next.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.checking.house import House
from gutterance.checking.joints import JOINED, find_joints

if TYPE_CHECKING:
    from gutterance.sheet.models import Reading, Sheet
    from gutterance.sheet.values import End

JOINABLE = JOINED


@dataclass(slots=True)
class Joints:
    """`next[i]` is the run that the right end of run i meets, or None; `how` says how that is known.

    `clashes` are runs that meet though one ends at an outside corner and the other at an inside one.
    """

    next: list[int | None]
    how: list[str | None]
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
    """Join the runs of a sheet end to end, where both ends tell of the same corner or splice.

    A corner in doubt joins nothing: which run the water goes to is then open.
    """
    runs = sheet.runs
    found = find_joints(House(sheet))
    joints = Joints([None] * len(runs), [None] * len(runs))
    taken: set[int] = set()
    for joint in found.joints:
        i, j = joint.before, joint.after
        if joints.next[i] is not None or j in taken or not _meet(runs[i].right_end, runs[j].left_end):
            continue
        joints.next[i], joints.how[i] = j, joint.how
        taken.add(j)
    for joint in found.disagree:
        one, other = runs[joint.before], runs[joint.after]
        right, left = found.end(joint.before, "right"), found.end(joint.after, "left")
        says = f"{one.name} ends right at an {right}, {other.name} begins left at an {left}"
        joints.clashes.append((joint.before, joint.after, says))
    return joints


def _meet(right: Reading[End] | None, left: Reading[End] | None) -> bool:
    if right is None or left is None or not right.settled or not left.settled:
        return False
    return right.value in JOINABLE and right.value == left.value

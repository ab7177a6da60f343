"""Which way round a ring was walked, where the ends of its runs leave that open.

The order of a note gives a ring either way round: anticlockwise as it stands, or clockwise. Where the corners
told agree as well the one way as the other, and the ring as taken does not close, it is turned round if it
then closes, or if a likelier slip would close it. Where slips as likely close it either way, both are
offered.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.joints import ends_agree
from gutterance.checking.repairs import repairs
from gutterance.checking.traverse import square, traverse_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.house import House
    from gutterance.checking.joints import Joints
    from gutterance.checking.traverse import Traverse
    from gutterance.measure.length import Length

_CLOSES = -1.0
_NOTHING_CLOSES = 1000.0


def settle_walking_way(house: House, joints: Joints, faces: Sequence[Length]) -> dict[int, Traverse]:
    """Turn round, in `joints`, the rings joined by order alone that close better the other way.

    Returned, by their first run: the rings that slips as likely would close the other way round, so walked.
    """
    either_way: dict[int, Traverse] = {}
    for ring in joints.rings():
        if len(ring) < 4 or any(joints.right_of[index].how != "order" for index in ring):
            continue
        backwards = [ring[0], *ring[:0:-1]]
        if _agreement(joints, ring) != _agreement(joints, backwards):
            continue
        here, forth = _slip_needed(house, joints, ring, faces)
        if here == _CLOSES:
            continue
        _join(joints, backwards)
        there, back = _slip_needed(house, joints, backwards, faces)
        if there >= here:
            _join(joints, ring)
        if there == here and forth is not None and back is not None:
            either_way[ring[0]] = back
    return either_way


def _agreement(joints: Joints, ring: Sequence[int]) -> int:
    return sum(ends_agree(joints, ring[at - 1], ring[at]) for at in range(len(ring)))


def _slip_needed(
    house: House, joints: Joints, ring: Sequence[int], faces: Sequence[Length]
) -> tuple[float, Traverse | None]:
    """The rank of the likeliest slip that closes a ring, and the ring as a traverse."""
    traverse = traverse_of(house, joints, ring)
    if traverse is None:
        return _NOTHING_CLOSES, None
    sound = not traverse.two_ways and traverse.turns_once(traverse.walked.turn)
    if sound and (traverse.unknown or square(traverse.misclosure()) <= traverse.allowed**2):
        return _CLOSES, traverse
    return min((one.rank for one in repairs(traverse, faces)), default=_NOTHING_CLOSES), traverse


def _join(joints: Joints, ring: Sequence[int]) -> None:
    """Take the ring as meeting in that order, in place of what it was."""
    members = set(ring)
    joints.joints = [joint for joint in joints.joints if joint.before not in members]
    joints.disagree = [joint for joint in joints.disagree if joint.before not in members]
    joints.maybe = [pair for pair in joints.maybe if not members.intersection(pair)]
    for at in range(len(ring)):
        joints.join(ring[at - 1], ring[at], "order")

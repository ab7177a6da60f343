"""Corners of lettered runs once the walk is done: shared where two meet, told of the rest, or asked about."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.discourse import OPPOSITE, SIDES_IN_ORDER
from gutterance.sheet.models import Reading
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.lettered.ring import OpenJoint, Ring

Runs = dict[str, "RunDraft"]
"""Runs by the letter or number that names them."""
CORNERS = frozenset({"outside corner", "inside corner"})


def settle_corners(ring: Ring, runs: list[RunDraft]) -> None:
    """Give each lettered run the corners that were told of its neighbours, or of all the rest."""
    by_name: Runs = {run.place.number: run for run in runs if run.place.number is not None}
    ring.order = sorted(by_name, key=lambda name: (len(name), name))
    for joint in ring.open_joints:
        _settle_open(ring, joint, by_name)
    for run in by_name.values():
        for side in SIDES_IN_ORDER:
            _share(ring, run, side, by_name)
    if ring.rest is not None:
        _spread_rest(ring, by_name)
    if ring.naming.in_order:
        for name, side, other in ring.against:
            _doubt_order(name, side, other, by_name)


def _doubt_order(name: str, side: str, other: str, by_name: Runs) -> None:
    """An end that was said to meet a run which by the order meets the other end: one of the two is wrong."""
    for run, end in ((by_name.get(name), side), (by_name.get(other), OPPOSITE[side])):
        reading = run.fields.get(f"{end}_end") if run is not None else None
        if reading is not None and reading.status in CERTAIN:
            reading.status = "doubtful"
            reading.why = f"by their order run {name} would meet run {other} at its other end"


def _share(ring: Ring, run: RunDraft, side: str, by_name: Runs) -> None:
    """A corner said of one of two runs that meet is the other's too."""
    if f"{side}_end" in run.fields:
        return
    found = ring.neighbour(run.place.number or "", side)
    other = by_name.get(found[0]) if found is not None else None
    if found is None or other is None:
        return
    theirs = other.fields.get(f"{OPPOSITE[side]}_end")
    if theirs is None or theirs.value not in CORNERS or theirs.status == "inferred":
        return
    sure = found[1] and theirs.status in CERTAIN
    run.fields[f"{side}_end"] = Reading[Any](
        value=theirs.value,
        status="inferred" if sure else "doubtful",
        source=list(theirs.source),
        why=f"the same corner as the {OPPOSITE[side]} end of the {other.place.name}"
        + ("" if sure else ", if they meet in the order of their names"),
    )
    angle = other.fields.get(f"{OPPOSITE[side]}_angle")
    if angle is not None:
        run.fields.setdefault(f"{side}_angle", angle.model_copy(deep=True))


def _settle_open(ring: Ring, joint: OpenJoint, by_name: Runs) -> None:
    """A corner of two runs that do not follow one another: at the ends that are left, else asked about."""
    first, second = (by_name.get(name) for name in joint.pair)
    if first is None or second is None:
        return
    free = [side for side in SIDES_IN_ORDER if f"{side}_end" not in first.fields]
    fits = [side for side in free if _value(second, OPPOSITE[side]) in (None, joint.value)]
    sure = len(fits) == 1
    if sure:
        ring.meet(joint.pair[0], fits[0], joint.pair[1])
    asks = f"run {joint.pair[0]} and run {joint.pair[1]} meet at an {joint.value}: at which ends?"
    for run, sides in ((first, fits), (second, [OPPOSITE[side] for side in fits])):
        for side in sides:
            if _value(run, side) is not None:
                continue
            run.fields[f"{side}_end"] = Reading[Any](
                value=joint.value if sure else None,
                status="read" if sure else "missing",
                source=[joint.item.source()],
                why="the ends that are left to meet there" if sure else asks,
            )


def _value(run: RunDraft, side: str) -> str | None:
    """What the end of a run is, or None where it is not known."""
    reading = run.fields.get(f"{side}_end")
    return None if reading is None else reading.value


def _spread_rest(ring: Ring, by_name: Runs) -> None:
    """`all the rest outside`: each corner that was not told; not those that were excepted."""
    assert ring.rest is not None
    reading, excepted = ring.rest
    for name, run in by_name.items():
        for side in SIDES_IN_ORDER:
            if f"{side}_end" in run.fields:
                continue
            step = -1 if (side == "left") != ring.clockwise else 1
            other = ring.order[(ring.order.index(name) + step) % len(ring.order)]
            if frozenset((name, other)) not in excepted:
                run.fields[f"{side}_end"] = reading.model_copy(deep=True)

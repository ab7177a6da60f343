"""Ends said without their side: which end each is follows from its order, as the walk goes left to right."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.discourse import OPPOSITE, SIDES_IN_ORDER
from gutterance.sheet.models import Reading
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft, UnsidedEnd


SIDE_WORDS = frozenset({"left", "right", "l", "r", "lh", "rh", "lhs", "rhs", "left-hand", "right-hand"})
"""Words for one side of a run."""
WIDEST_STROKE = len(" / ")
"""Two ends written no farther apart than this [characters] are in order."""


def settle_ends(run: RunDraft) -> None:
    """Ends said without their side, by their order: left end first, as the walk goes left to right."""
    _put_in_order(run)
    _doubt_where_more_was_said(run)


def _doubt_where_more_was_said(run: RunDraft) -> None:
    """`outside to inside, ... then outside to outside`: more ends than a run has are perhaps of two runs."""
    ends = [run.fields.get(f"{side}_end") for side in SIDES_IN_ORDER]
    known = [end for end in ends if end is not None and end.value is not None]
    if len(known) < len(ends):
        return
    over = [one.item.text for one in run.unsided if one.item.value not in {end.value for end in known}]
    for end in known if over else ():
        if end.status in CERTAIN and not _said_by_side(end):
            end.status = "doubtful"
            end.why = f"{over[0]!r} was said of it as well" + (f"; {end.why}" if end.why else "")


def _said_by_side(end: Reading[Any]) -> bool:
    """Whether an end was said with its own side: `cap left`, `stop end on the right hand side`."""
    words = {word for source in end.source for word in source.text.lower().split()}
    return bool(words & SIDE_WORDS)


def _put_in_order(run: RunDraft) -> None:
    """Each end without a side to the side that its place among the words tells."""
    free = [side for side in SIDES_IN_ORDER if f"{side}_end" not in run.fields]
    ends = run.unsided
    if not ends or not free:
        return
    against_house = (
        {"left side": "left", "right side": "right"}.get(run.place.direction or "")
        if run.place.part
        else None
    )
    if against_house is not None and len(free) == 2 and _against_order(ends, against_house):
        for which, end in zip(SIDES_IN_ORDER, ends, strict=True):
            why = f"told in this order, but the {run.place.name} meets the house at its {against_house} end"
            _put_end(run, which, end, why, doubtful=True)
        return
    for end in [end for end in ends if end.item.value == "wall"]:
        if against_house in free and end.joined_by != "from":
            _put_end(
                run, against_house, end, f"the {run.place.name} meets the house at its {against_house} end"
            )
            free.remove(against_house)
            ends = [other for other in ends if other is not end]
    if not ends or not free:
        return
    near, far = run.near, OPPOSITE[run.near]
    if len(ends) >= 2 and len(free) == 2 and (ends[0].joined_by, ends[-1].joined_by) == ("from", "to"):
        _put_end(run, near, ends[0], f"where the run starts: the {near} end, as the walk goes")
        _put_end(run, far, ends[-1], f"where the run ends: the {far} end, as the walk goes")
        return
    if (
        len(ends) >= 2
        and len(free) == 2
        and near == "right"
        and ends[0].item.value != ends[-1].item.value
        and not run.way_told
    ):
        # a clockwise walker: told in the order of the walk, or left end first?
        _put_end(run, "left", ends[0], "two ends said without their sides on a clockwise walk", doubtful=True)
        _put_end(
            run, "right", ends[-1], "two ends said without their sides on a clockwise walk", doubtful=True
        )
        return
    if len(ends) >= 2 and len(free) == 2 and run.way_told:
        _put_end(run, near, ends[0], f"said first of the two: the {near} end, as the walk goes")
        _put_end(run, far, ends[-1], f"said last of the two: the {far} end, as the walk goes")
        return
    if len(ends) >= 2 and len(free) == 2:
        _put_end(run, "left", ends[0], "said first of the two: the left end")
        _put_end(run, "right", ends[-1], "said last of the two: the right end")
        return
    end = ends[0]
    if len(free) == 1:
        _put_end(run, free[0], end, "the end that was left")
    elif end.joined_by == "from" or end.before_length:
        _put_end(run, near, end, f"said before the length: the {near} end, where the walk comes from")
    elif end.joined_by == "to":
        _put_end(run, far, end, f"the run ends there: the {far} end, where the walk goes on")
    else:
        _put_end(run, far, end, f"said without its side; taken as the {far} end", doubtful=True)


def _against_order(ends: list[UnsidedEnd], against_house: str) -> bool:
    """Whether two ends side by side have the wall where the house is not: `porch right 4-2 wall / cap`."""
    if len(ends) != 2 or any(end.joined_by for end in ends) or ends[0].item.line != ends[1].item.line:
        return False
    if not 0 <= ends[1].item.start - ends[0].item.end <= WIDEST_STROKE:
        return False
    walls = [side for side, end in zip(SIDES_IN_ORDER, ends, strict=True) if end.item.value == "wall"]
    return len(walls) == 1 and walls[0] != against_house


def _put_end(run: RunDraft, side: str, end: UnsidedEnd, why: str, *, doubtful: bool = False) -> None:
    reading = Reading[Any](
        value=end.item.value, source=[end.item.source()], why=why, status="doubtful" if doubtful else "read"
    )
    run.fields[f"{side}_end"] = reading
    if end.angle is not None and end.angle.value == 90:
        reading.source.extend(end.angle.source)
    elif end.angle is not None:
        run.fields[f"{side}_angle"] = end.angle.model_copy(deep=True)

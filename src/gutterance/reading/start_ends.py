"""Ends told as where a run starts and finishes, with no word of which of them is the left one.

The order of the rows tells it where they go round a house: whoever tells front, right side and back walks to
the right, so that each run starts at its left end. What the corners between two rows say must agree.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

from gutterance.reading.discourse import OPPOSITE, RECTANGLE

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.sheet.models import Reading

START_TAKEN = "which end the runs start at was not said"
"""Why such an end is in doubt: the reason is one for the whole note, and so is the question."""
IN_ORDER = "the rows go round the house to the {way}, so that runs start at their {side} end"
"""Why such an end is taken for what it is where the order of the rows tells it."""
FEWEST_TURNS = 2
"""So many times one row must go round the corner to the next."""
CORNERS = ("outside corner", "inside corner")
SIDES = ("left", "right")


def doubt_start(reading: Reading[Any], what: str, which: str) -> None:
    """An end told as the start or the finish, taken for the end on that side."""
    reading.status = "doubtful"
    reading.why = f"{START_TAKEN}: the {what} was taken for the {which}; {reading.why or ''}".strip("; ")


def taken_for_start(reading: Reading[Any] | None) -> bool:
    """Whether an end is in doubt for that reason."""
    return (
        reading is not None and reading.status == "doubtful" and (reading.why or "").startswith(START_TAKEN)
    )


def settle_starts(runs: list[RunDraft]) -> None:
    """Settle the ends told as start and finish: by the order of the rows, or where both ends are alike."""
    told = [run for run in runs if any(taken_for_start(_end(run, side)) for side in SIDES)]
    start = _start_by_order(told)
    for run in told:
        if start == "right":
            _turn_round(run)
        for side in SIDES:
            reading = _end(run, side)
            if reading is None or not taken_for_start(reading):
                continue
            if start is not None:
                reading.status = "inferred"
                reading.why = IN_ORDER.format(way=OPPOSITE[start], side=start)
            elif _alike(run):
                reading.status = "read"


def _end(run: RunDraft, side: str) -> Reading[Any] | None:
    return run.fields.get(f"{side}_end")


def _alike(run: RunDraft) -> bool:
    """Whether it makes no difference which of a run's ends is the left one."""
    left, right = _end(run, "left"), _end(run, "right")
    angles = "left_angle" in run.fields or "right_angle" in run.fields
    return left is not None and right is not None and left.value == right.value and not angles


def _turn_round(run: RunDraft) -> None:
    """Let a run's left end be its right one, and the other way round."""
    for what in ("end", "angle"):
        left, right = run.fields.pop(f"left_{what}", None), run.fields.pop(f"right_{what}", None)
        if left is not None:
            run.fields[f"right_{what}"] = left
        if right is not None:
            run.fields[f"left_{what}"] = right


def _start_by_order(told: list[RunDraft]) -> str | None:
    """The end that runs start at as the order of the rows has it; None where it does not tell.

    As told here the start of each run stands as its left end.
    """
    ways: list[str] = []
    for run, after in pairwise(told):
        way = RECTANGLE.get((after.place.name, run.place.name))
        if way is None:
            continue
        ways.append(way)
        finish, start = _end(run, "right"), _end(after, "left")
        if finish is None or start is None:
            continue
        if (finish.value in CORNERS or start.value in CORNERS) and finish.value != start.value:
            return None
    return ways[0] if len(ways) >= FEWEST_TURNS and len(set(ways)) == 1 else None

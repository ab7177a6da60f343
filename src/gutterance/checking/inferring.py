"""Lengths that follow from the others: worked out, put on a copy of the sheet, and marked `inferred`.

A length worked out is shown and can be traced, but its run stays on hold until somebody confirms it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.closure import WORKED_OUT, Closure, Inferred, closure_of
from gutterance.checking.house import House
from gutterance.checking.joints import find_joints
from gutterance.sheet.models import LengthReading

if TYPE_CHECKING:
    from gutterance.sheet.models import Sheet


def inferred_lengths(sheet: Sheet) -> dict[str, Inferred]:
    """The lengths that closure tells of runs that have none, by path: one on a chain, or two not parallel."""
    house = House(sheet)
    return closure_of(house, find_joints(house)).inferred


def closures(sheet: Sheet) -> list[str]:
    """A line on each walk round that closes: to how much, the surveyor's ratio, and what a tape allows."""
    house = House(sheet)
    return closure_of(house, find_joints(house)).closed


def with_inferred_lengths(sheet: Sheet) -> Sheet:
    """A copy of the sheet in which such lengths stand as `inferred`; the sheet itself where there are none.

    What was worked out before is worked out anew, and taken away where it follows no more.
    """
    return inferred_and_closed(sheet)[0]


def inferred_and_closed(sheet: Sheet) -> tuple[Sheet, Closure | None]:
    """The same, with the closure of that sheet where none of its lengths had to be put on it."""
    house = House(sheet)
    closure = closure_of(house, find_joints(house))
    lengths = closure.inferred
    if not lengths and not any(_by_closure(run.length) for run in sheet.runs):
        return sheet, closure
    copy = sheet.model_copy(deep=True)
    for run in copy.runs:
        found = lengths.get(f"runs.{run.id}.length")
        before = run.length
        if before is not None and _by_closure(before):
            before = before.was[0] if before.was else None
        if found is not None:
            run.length = LengthReading(
                value=found.length,
                status="inferred",
                source=[] if before is None else list(before.source),
                was=[] if before is None else [before],
                why=found.why,
            )
        else:
            run.length = before
    return copy, None


def _by_closure(length: LengthReading | None) -> bool:
    """Whether a length was put on the sheet here, and by nobody else."""
    return length is not None and length.status == "inferred" and (length.why or "").startswith(WORKED_OUT)

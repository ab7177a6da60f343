"""Pipes that go straight down though nobody said a wall to fascia: taken as none on a copy of the sheet.

A pipe that is too short to hold two elbows, and ends on a roof or gutter just below, drops straight; so does
one that the note says goes down a post, or has no throw.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.house import House, unsaid
from gutterance.checking.plausibility import plausible
from gutterance.checking.said_beside import SaidBeside
from gutterance.measure.length import Length
from gutterance.sheet.models import LengthReading

if TYPE_CHECKING:
    from gutterance.checking.plausibility import Plausible
    from gutterance.sheet.models import Downpipe, Sheet

STRAIGHT_DOWN = "straight down:"
"""How the reason of a wall to fascia begins that was put on the sheet here."""
_JUST_BELOW = frozenset({"lower roof", "lower gutter"})


def with_straight_pipes(sheet: Sheet) -> Sheet:
    """A copy of the sheet in which such pipes have no throw, `inferred`; the sheet itself where none is.

    What was taken so before is looked at anew.
    """
    limits = plausible()
    if all(pipe.wall_to_fascia is not None and not _taken_so(pipe) for pipe in sheet.downpipes):
        return sheet
    unsaid_so = {"wall_to_fascia": None}
    before = [pipe.model_copy(update=unsaid_so) if _taken_so(pipe) else pipe for pipe in sheet.downpipes]
    house = House(sheet.model_copy(update={"downpipes": before}))
    said = SaidBeside(house)
    # only these pipes are copied: the rest of the sheet is shared, and not changed
    pipes = [
        pipe.model_copy(update={"wall_to_fascia": _none(pipe, reason, house)})
        if pipe.wall_to_fascia is None and (reason := _reason(pipe, house, said, limits)) is not None
        else pipe
        for pipe in before
    ]
    if all(one is other for one, other in zip(pipes, sheet.downpipes, strict=True)):
        return sheet
    return sheet.model_copy(update={"downpipes": pipes})


def _none(pipe: Downpipe, reason: str, house: House) -> LengthReading:
    return LengthReading(
        value=Length(Fraction(0), "metric" if house.metric else "imperial"),
        status="inferred",
        source=list(pipe.height.source) if pipe.height is not None else list(pipe.source),
        why=f"{STRAIGHT_DOWN} {reason}",
    )


def _taken_so(pipe: Downpipe) -> bool:
    reading = pipe.wall_to_fascia
    return (
        reading is not None and reading.status == "inferred" and (reading.why or "").startswith(STRAIGHT_DOWN)
    )


def _reason(pipe: Downpipe, house: House, said: SaidBeside, limits: Plausible) -> str | None:
    """Why a pipe goes straight down, or None where nothing says so."""
    shortest = limits.limit("shortest_return")
    ends = None if pipe.ends_at is None else pipe.ends_at.value
    height = pipe.height
    if (
        ends in _JUST_BELOW
        and height is not None
        and height.settled
        and not unsaid(height)
        and height.value is not None
        and height.value.inches < shortest.inches
    ):
        return f"it ends on the {ends} {height.value.tape_text()} below, and {shortest.why}"
    run = house.run_of_pipe(pipe)
    words = None if run is None else said.words(run, "wall_to_fascia")
    return None if words is None else f"the note says “{words}”"

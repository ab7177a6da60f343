"""Heights held against one another: upper storeys over lower ones, and the ridge as each eave puts it."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.house import House, pipe_path, run_path, sources
from gutterance.checking.places import Position, position
from gutterance.checking.plausibility import storey_of
from gutterance.checking.wording import of_pipe, of_run, start
from gutterance.measure.length import Length
from gutterance.measure.pitches import rise_in_12

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.checking.plausibility import Plausible
    from gutterance.sheet.models import Downpipe, Run

_NOT_TO_GROUND = frozenset({"lower roof", "lower gutter"})


def find_odd_heights(house: House, limits: Plausible) -> Iterator[Finding]:
    """Upper pipes no longer than lower ones, and two eaves of one roof that put its ridge at two heights."""
    yield from _storeys(house, limits)
    yield from _ridges(house, limits)


def _to_ground(pipe: Downpipe) -> Fraction | None:
    """The height of a pipe that goes down to the ground [in], where it is settled."""
    if pipe.height is None or not pipe.height.settled or pipe.height.value is None:
        return None
    if pipe.ends_at is not None and pipe.ends_at.value in _NOT_TO_GROUND:
        return None
    return pipe.height.value.inches


def _storeys(house: House, limits: Plausible) -> Iterator[Finding]:
    upper: list[tuple[Downpipe, Fraction]] = []
    lower: list[tuple[Downpipe, Fraction]] = []
    for pipe in house.sheet.downpipes:
        run, height = house.run_of_pipe(pipe), _to_ground(pipe)
        storey = storey_of(run.storey, limits) if run is not None and run.storey else None
        if storey is None or height is None or (storey.upper and height < storey.low):
            continue  # one lower than any upper eave is asked about as such
        (upper if storey.upper else lower).append((pipe, height))
    if not upper or not lower:
        return
    lowest, low = min(lower, key=lambda row: row[1])
    rise = limits.limit("storey_rise")
    for pipe, height in upper:
        if height >= low + rise.inches or (pipe.height is not None and pipe.height.by is not None):
            continue
        name, other = of_pipe(pipe, house), of_pipe(lowest, house)
        yield finding(
            "heights-against-each-other",
            f"{pipe_path(pipe)}.height",
            f"{start(name)} is {_shown(height)} from an upper eave, {other} {_shown(low)} from a lower one: "
            f"{rise.why}.",
            f"How far down is it from the outlet to the end of {name}, and where does it end?",
            holds=[pipe_path(pipe)],
            source=sources(pipe.height, lowest.height),
        )


def _ridges(house: House, limits: Plausible) -> Iterator[Finding]:
    """Eave height and roof rise, from both sides of one roof, meet at one ridge."""
    sides: defaultdict[tuple[str, str, int], list[tuple[Position, Run, Fraction]]] = defaultdict(list)
    for run in house.sheet.runs:
        at, ridge = position(run), _ridge(run, house)
        if at is not None and ridge is not None:
            key = ((run.storey or "").strip().lower(), at.building, at.turn % 2)
            sides[key].append((at, run, ridge))
    apart = limits.limit("ridge_apart")
    for several in sides.values():
        if len(several) != 2 or several[0][0].turn == several[1][0].turn:
            continue
        (_, one, here), (_, other, there) = several
        if abs(here - there) <= apart.inches:
            continue
        yield finding(
            "ridges-differ",
            f"{run_path(one)}.roof_pitch",
            f"By height, roof run and pitch the ridge stands {_shown(here)} over the ground at "
            f"{of_run(one)}, and {_shown(there)} at {of_run(other)}: {apart.why}.",
            f"Which is wrong: pitch, roof run or height at {of_run(one)} or {of_run(other)}?",
            source=sources(one.roof_pitch, one.roof_run, other.roof_pitch, other.roof_run),
        )


def _ridge(run: Run, house: House) -> Fraction | None:
    """How high over the ground the ridge stands by this run [in]: eave height + roof run x pitch."""
    pitch = run.roof_pitch or house.sheet.defaults.roof_pitch
    if pitch is None or run.roof_run is None or not (pitch.settled and run.roof_run.settled):
        return None
    rise = rise_in_12(pitch.value or "")
    heights = [
        height
        for outlet in house.outlets_on.get(run.id, [])
        for pipe in house.pipes_at.get(outlet.id, [])
        if (height := _to_ground(pipe)) is not None
    ]
    if rise is None or not heights or run.roof_run.value is None:
        return None
    return sum(heights, Fraction(0)) / len(heights) + run.roof_run.value.inches * rise / 12


def _shown(inches: Fraction) -> str:
    return Length(Fraction(round(inches))).tape_text()

"""Things that are each possible but do not go together."""

from __future__ import annotations

from collections import Counter, defaultdict
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.gaps import offered
from gutterance.checking.heights import find_odd_heights
from gutterance.checking.house import House, pipe_path, run_path, sources
from gutterance.checking.odd_one_out import find_odd_ones_out
from gutterance.checking.overall import find_overalls
from gutterance.checking.places import building
from gutterance.checking.plausibility import Plausible, plausible, storey_of
from gutterance.checking.roof_depths import find_roof_runs_against_depth
from gutterance.checking.snow import find_hangers_against_snow
from gutterance.checking.waterways import find_blocked_water
from gutterance.checking.wording import inches_shown, listed, of_outlet, of_pipe, of_run
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding, Suggestion
    from gutterance.sheet.models import Outlet

USUAL_PLACE = Fraction(6)
"""Where an outlet told to be at an end stands from it [in], near enough to tell whether two are close."""
_NOT_TO_GROUND = frozenset({"lower roof", "lower gutter"})


def find_inconsistencies(house: House, limits: Plausible | None = None) -> Iterator[Finding]:
    """Short overhangs, heights against storeys and one another, water that has nowhere to go, outlets in one
    place, sides told overall and in parts, hangers against snow, two downpipe sizes."""
    limits = limits or plausible()
    yield from _short_offsets(house, limits)
    yield from _heights_against_storeys(house, limits)
    yield from find_odd_heights(house, limits)
    yield from find_odd_ones_out(house, limits)
    yield from find_roof_runs_against_depth(house, limits)
    yield from find_blocked_water(house)
    yield from _outlets_in_one_place(house)
    yield from _outlets_close(house, limits)
    yield from find_overalls(house)
    yield from find_hangers_against_snow(house, limits)
    yield from _pipe_sizes(house)


def _short_offsets(house: House, limits: Plausible) -> Iterator[Finding]:
    """Told once for the job: each was measured so, and many eaves are, but no gooseneck fits there."""
    short = [
        pipe
        for pipe in house.sheet.downpipes
        if pipe.wall_to_fascia is not None
        and pipe.wall_to_fascia.settled
        and pipe.wall_to_fascia.value is not None
        and 0 < pipe.wall_to_fascia.value.inches < limits.limit("shortest_offset").inches
    ]
    if not short:
        return
    each = listed(
        [
            f"{of_pipe(pipe, house)} ({inches_shown(pipe.wall_to_fascia.value)})"
            for pipe in short
            if pipe.wall_to_fascia is not None and pipe.wall_to_fascia.value is not None
        ],
        4,
    )
    yield finding(
        "wall-to-fascia-short",
        f"{pipe_path(short[0])}.wall_to_fascia",
        f"Wall to fascia is too short for a gooseneck between two elbows at {each}.",
        "Does the pipe drop straight there, or elbow to elbow?",
        source=sources(*(pipe.wall_to_fascia for pipe in short)),
    )


def _heights_against_storeys(house: House, limits: Plausible) -> Iterator[Finding]:
    for pipe in house.sheet.downpipes:
        run = house.run_of_pipe(pipe)
        height = pipe.height
        storey = "" if run is None else run.storey or building(run)
        if run is None or not storey or height is None or not height.settled or height.value is None:
            continue
        if height.by is not None:
            continue  # somebody has looked already
        limit = storey_of(storey, limits)
        lands = pipe.ends_at.value if pipe.ends_at is not None else None
        if limit is None or limit.low <= height.value.inches <= limit.high:
            continue
        if height.value.inches < limit.low and lands in _NOT_TO_GROUND:
            continue
        name = of_pipe(pipe, house)
        yield finding(
            "height-against-storey",
            f"{pipe_path(pipe)}.height",
            f"The height of {name} is {height.value.tape_text()}, but {of_run(run)} is {storey}: "
            f"{limit.why}.",
            f"Is the height of {name} {height.value.tape_text()}, and where does it end?",
            holds=[pipe_path(pipe)],
            source=sources(height, pipe.ends_at),
        )


def _outlets_in_one_place(house: House) -> Iterator[Finding]:
    for run in house.sheet.runs:
        places: defaultdict[tuple[str, Fraction | None], list[Outlet]] = defaultdict(list)
        for outlet in house.outlets_on.get(run.id, []):
            distance = outlet.distance.value if outlet.distance is not None else None
            if outlet.from_ is not None:
                places[outlet.from_, None if distance is None else distance.inches].append(outlet)
        for (side, _), several in places.items():
            if len(several) < 2:
                continue
            where = "in the middle" if side == "centre" else f"at the {side} end"
            yield finding(
                "outlets-same-place",
                f"outlets.{several[1].id}.place",
                f"{len(several)} outlets are in the same place {where} of {of_run(run)}.",
                f"Are there {len(several)} outlets {where} of {of_run(run)}, or is one somewhere else?",
                holds=[run_path(run)],
                source=sources(
                    *(outlet.place for outlet in several), *(outlet.distance for outlet in several)
                ),
            )


def _outlets_close(house: House, limits: Plausible) -> Iterator[Finding]:
    """Two outlets of one run close beside each other, where a distance was told: inches for feet, or one
    outlet told twice."""
    least = limits.limit("outlets_apart")
    for run in house.sheet.runs:
        length = run.length.value if run.length is not None and run.length.settled else None
        if length is None or length.inches < 2 * least.inches:
            continue
        at = sorted(
            (
                (place, outlet)
                for outlet in house.outlets_on.get(run.id, [])
                if (place := _place(outlet, length))
            ),
            key=lambda row: row[0],
        )
        for (place, one), (beyond, other) in pairwise(at):
            gap = beyond - place
            if not 0 < gap < least.inches or (one.distance is None and other.distance is None):
                continue
            if any(outlet.distance is not None and outlet.distance.by for outlet in (one, other)):
                continue
            told = one if other.distance is None else other
            apart = inches_shown(Length(gap, length.system))
            yield finding(
                "outlets-close",
                f"outlets.{told.id}.distance",
                f"Two outlets of {of_run(run)} stand {apart} apart: {least.why}.",
                f"Are there two there, and is {of_outlet(told, house)} told right?",
                holds=[run_path(run)],
                source=sources(one.place, one.distance, other.place, other.distance),
                suggests=_distances_meant(told, length),
            )


def _distances_meant(outlet: Outlet, run_length: Length) -> list[Suggestion]:
    """The same number in feet, where the run is that long, and as it was told."""
    distance = outlet.distance.value if outlet.distance is not None else None
    if distance is None:
        return []
    path = f"outlets.{outlet.id}.distance"
    as_told = offered(path, distance, "distance", "as told")
    feet = Length(distance.inches * 12, distance.system)
    if distance.system == "metric" or feet.inches >= run_length.inches:
        return [as_told]
    return [offered(path, feet, "distance", "feet said, inches read"), as_told]


def _place(outlet: Outlet, length: Length) -> Fraction | None:
    """How far from the left end of its run an outlet stands [in], where that is plain."""
    distance = outlet.distance.value.inches if outlet.distance is not None and outlet.distance.value else None
    if outlet.from_ == "centre":
        return None if distance else length.inches / 2
    if outlet.from_ == "left":
        return USUAL_PLACE if distance is None else distance
    if outlet.from_ == "right":
        return length.inches - (USUAL_PLACE if distance is None else distance)
    return None


def _pipe_sizes(house: House) -> Iterator[Finding]:
    default = house.sheet.defaults.downpipe_size
    sizes = Counter(
        size.value
        for pipe in house.sheet.downpipes
        if (size := pipe.size or default) is not None and size.value is not None
    )
    if len(sizes) < 2:
        return
    each = listed([f"{count} of {size}" for size, count in sizes.most_common()])
    yield finding(
        "downpipe-sizes-differ",
        "downpipes",
        f"The downpipes are not all one size: {each}. They are listed as said.",
        f"Are both sizes wanted: {each}?" if len(sizes) == 2 else f"Are all these sizes wanted: {each}?",
        source=sources(default, *(pipe.size for pipe in house.sheet.downpipes)),
    )

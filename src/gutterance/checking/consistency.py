"""Things that are each possible but do not go together."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.heights import find_odd_heights
from gutterance.checking.house import House, pipe_path, run_path, sources
from gutterance.checking.overall import find_overalls
from gutterance.checking.plausibility import Plausible, plausible, storey_of
from gutterance.checking.snow import find_hangers_against_snow
from gutterance.checking.waterways import find_blocked_water
from gutterance.checking.wording import inches_shown, listed, of_pipe, of_run

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from gutterance.checking.findings import Finding
    from gutterance.sheet.models import Outlet

_NOT_TO_GROUND = frozenset({"lower roof", "lower gutter"})


def find_inconsistencies(house: House, limits: Plausible | None = None) -> Iterator[Finding]:
    """Short overhangs, heights against storeys and one another, water that has nowhere to go, outlets in one
    place, sides told overall and in parts, hangers against snow, two downpipe sizes."""
    limits = limits or plausible()
    yield from _short_offsets(house, limits)
    yield from _heights_against_storeys(house, limits)
    yield from find_odd_heights(house, limits)
    yield from find_blocked_water(house)
    yield from _outlets_in_one_place(house)
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
        if run is None or not run.storey or height is None or not height.settled or height.value is None:
            continue
        if height.by is not None:
            continue  # somebody has looked already
        limit = storey_of(run.storey, limits)
        lands = pipe.ends_at.value if pipe.ends_at is not None else None
        if limit is None or limit.low <= height.value.inches <= limit.high:
            continue
        if height.value.inches < limit.low and lands in _NOT_TO_GROUND:
            continue
        name = of_pipe(pipe, house)
        yield finding(
            "height-against-storey",
            f"{pipe_path(pipe)}.height",
            f"The height of {name} is {height.value.tape_text()}, but {of_run(run)} is {run.storey}: "
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

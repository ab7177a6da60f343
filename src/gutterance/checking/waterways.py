"""Water that cannot go where it is told to: outlets at a high point, pipes onto gutters nobody told of."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.house import House, pipe_path, run_path, sources
from gutterance.checking.places import building
from gutterance.checking.wording import listed, of_outlet, of_pipe, of_run, start

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding

_PLACES = {"left": "left", "right": "right", "centre": "centre", "center": "centre", "middle": "centre"}


def find_blocked_water(house: House) -> Iterator[Finding]:
    """Outlets where the gutter is highest; pipes that end on a lower gutter that is not on the sheet."""
    yield from _at_high_points(house)
    yield from _onto_no_gutter(house)


def _at_high_points(house: House) -> Iterator[Finding]:
    for run in house.sheet.runs:
        high = run.high_point
        if high is None or not high.settled or high.value is None:
            continue
        said = {_PLACES[word] for word in re.findall(r"[a-z]+", high.value.lower()) if word in _PLACES}
        if re.search(r"\bboth\b|\bends\b", high.value.lower()):
            said |= {"left", "right"}
        for outlet in house.outlets_on.get(run.id, []):
            if outlet.from_ not in said or outlet.distance is not None:
                continue
            name = of_outlet(outlet, house)
            yield finding(
                "outlet-at-high-point",
                f"outlets.{outlet.id}.place",
                f"{start(name)} stands where the gutter is said to be highest ({high.value}): "
                "no water comes to it.",
                f"Where is the high point of {of_run(run)}, and where is its outlet?",
                holds=[run_path(run)],
                source=sources(high, outlet.place),
            )


def _onto_no_gutter(house: House) -> Iterator[Finding]:
    """One storey of one building has no gutter below itself."""
    levels = {((run.storey or "").strip().lower(), building(run)) for run in house.sheet.runs}
    if len(levels) != 1:
        return
    onto = [
        pipe
        for pipe in house.sheet.downpipes
        if pipe.ends_at is not None
        and pipe.ends_at.settled
        and pipe.ends_at.value == "lower gutter"
        and pipe.ends_at.by is None
    ]
    if not onto:
        return
    names = listed([of_pipe(pipe, house) for pipe in onto], 4)
    yield finding(
        "lower-gutter-missing",
        f"{pipe_path(onto[0])}.ends_at",
        f"{start(names)} {'ends' if len(onto) == 1 else 'end'} on a lower gutter, and none is on the sheet.",
        "Which gutter takes that water: is it there already, or is it to be made?",
        source=sources(*(pipe.ends_at for pipe in onto)),
    )

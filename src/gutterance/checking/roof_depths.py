"""Roof runs held against the depth of the house: from both eaves to one ridge they make no more than it.

They may make less: the hips of a roof do not reach its ridge's middle.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.house import House, run_path, sources
from gutterance.checking.places import position
from gutterance.checking.traverse import known_length, tape
from gutterance.checking.wording import of_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.checking.plausibility import Plausible
    from gutterance.sheet.models import Run

_Sides = dict[int, list["Run"]]


def find_roof_runs_against_depth(house: House, limits: Plausible) -> Iterator[Finding]:
    """Opposite eaves of a plain building whose roof runs make more than its depth, or one that does alone.

    Only a building told by its four plain sides is looked at, since others are not as deep all along.
    """
    buildings: defaultdict[tuple[str, str], _Sides] = defaultdict(dict)
    for run in house.sheet.runs:
        at = position(run)
        if at is not None:
            storey = (run.storey or "").strip().lower()
            buildings[storey, at.building].setdefault(at.turn, []).append(run)
    apart = limits.limit("depth_apart")
    for sides in buildings.values():
        if set(sides) != {0, 1, 2, 3} or any(len(runs) > 1 for runs in sides.values()):
            continue
        for turn in (0, 1):
            one, other = sides[turn][0], sides[turn + 2][0]
            beside = [known_length(sides[(turn + 1) % 4][0]), known_length(sides[(turn + 3) % 4][0])]
            depths = [length for length in beside if length is not None]
            told = [
                run.roof_run.value
                for run in (one, other)
                if run.roof_run is not None and run.roof_run.settled and run.roof_run.by is None
            ]
            runs = [length for length in told if length is not None]
            if not runs or not depths:
                continue
            depth = max(depths, key=lambda length: length.inches)
            over = sum(length.inches for length in runs) - depth.inches
            if over <= apart.inches:
                continue
            who = f"{of_run(one)} and {of_run(other)}" if len(runs) == 2 else of_run(one)
            total = tape(depth.inches + over, depth.system)
            yield finding(
                "roof-run-against-depth",
                f"{run_path(one)}.roof_run",
                f"Eave to ridge from {who} makes {total}, and the house is {depth.tape_text()} deep there: "
                f"{apart.why}.",
                f"Is the roof run of {who} right, from eave to ridge on plan?",
                source=sources(one.roof_run, other.roof_run),
            )

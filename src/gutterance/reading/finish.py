"""From the walk to the field sheet: ends said without a side, what was said of all, corners shared, ids."""

from __future__ import annotations

from typing import Any

from gutterance import __version__
from gutterance.reading.builder import OutletDraft, RunDraft, copied_apart
from gutterance.reading.discourse import RECTANGLE, SIDES_IN_ORDER, Walk
from gutterance.reading.ditto import copy_due
from gutterance.reading.ends import settle_ends
from gutterance.reading.lettered.corners import settle_corners
from gutterance.reading.places import THE_HOUSE
from gutterance.reading.said_of_all import ON_ITS_OWN_LINE
from gutterance.sheet.models import Defaults, Downpipe, Outlet, Reading, Run, Sheet


def to_sheet(walk: Walk, note: list[str]) -> Sheet:
    """The field sheet of a finished walk."""
    copy_due(walk)
    runs = [run for run in walk.runs if run.has_data]
    for run in runs:
        settle_ends(run)
    runs = _spread_parts(runs)
    if walk.ring is not None:
        settle_corners(walk.ring, runs)
    _spread_scopes(walk, runs)
    _spread_alone(walk, runs)
    _angles_of_parts(walk, runs)
    _corners_counted(walk, runs)
    _share_corners(runs)
    for run in runs:
        _settle_outlets(run)
    return Sheet(
        title=walk.title,
        defaults=Defaults(
            **walk.defaults, units="mixed" if walk.mixed else "metric" if walk.metric else "imperial"
        ),
        runs=[_run(run) for run in runs],
        outlets=[
            _outlet(run, number, outlet) for run in runs for number, outlet in enumerate(run.outlets, start=1)
        ],
        downpipes=[pipe for run in runs for pipe in _pipes(run)],
        totals=walk.totals,
        remarks=walk.remarks,
        note=note,
        made_by=__version__,
    )


SQUARE = 90
"""The turn [degrees] of a corner of which nothing is said."""
OF_A_PART = frozenset({"gutter_size", "roof_pitch", "colour", "hanger_spacing"})
"""What may be said of a whole porch or garage before its runs are told."""


def _spread_parts(runs: list[RunDraft]) -> list[RunDraft]:
    """`everything 5 inch except the porch, 4 inch`: what was said of a part, to its runs."""
    kept: list[RunDraft] = []
    for run in runs:
        place = run.place
        sides = [
            other
            for other in runs
            if other.place.part == place.part and other.place.direction and other is not run
        ]
        only_general = set(run.fields) <= OF_A_PART and not run.outlets and not run.unsided
        if place.part is None or place.direction is not None or not sides or not only_general:
            kept.append(run)
            continue
        for other in sides:
            other.source.extend(run.source)
            for name, reading in run.fields.items():
                other.fields.setdefault(name, copied_apart(reading))
            for outlet in other.outlets:
                for name, reading in run.pending.items():
                    outlet.pipe.fields.setdefault(name, copied_apart(reading))
    return kept


def _spread_scopes(walk: Walk, runs: list[RunDraft]) -> None:
    """What was said of all goes to each that has none of its own."""
    for scope in sorted(walk.scopes, key=lambda scope: not scope.part):  # what is of a part before the rest
        for run in runs:
            if scope.part and not _in_scope(run, scope.part, runs):
                continue
            if scope.field == "ends":
                for side in SIDES_IN_ORDER:
                    run.fields.setdefault(f"{side}_end", copied_apart(scope.reading))
            elif scope.field in ("roof_run", "gutter_size"):
                run.fields.setdefault(scope.field, copied_apart(scope.reading))
            else:
                for outlet in run.outlets:
                    outlet.pipe.fields.setdefault(scope.field, copied_apart(scope.reading))
                if not run.outlets and run.pending:
                    run.pending.setdefault(scope.field, copied_apart(scope.reading))


def _spread_alone(walk: Walk, runs: list[RunDraft]) -> None:
    """`wf 14` on a line of its own below the last run: offered for every pipe, where none has its own."""
    pipes = [outlet.pipe for run in runs for outlet in run.outlets]
    last = max((source.line for run in runs for source in run.source), default=0)
    for scope in walk.alone:
        lines = {source.line for source in scope.reading.source}
        own = [pipe.fields[scope.field] for pipe in pipes if scope.field in pipe.fields]
        elsewhere = any(source.line not in lines for reading in own for source in reading.source)
        if elsewhere or min(lines, default=0) <= last:
            continue
        offered = copied_apart(scope.reading)
        offered.status = "doubtful"
        offered.why = f"{ON_ITS_OWN_LINE}; {offered.why}" if offered.why else ON_ITS_OWN_LINE
        for pipe in pipes:
            pipe.fields.setdefault(scope.field, copied_apart(offered))


FREE_ENDS = {"front": ("left", "right"), "left side": ("right",), "right side": ("left",)}
"""Which ends of the runs round a bay are its corners: the others meet the house."""


def _angles_of_parts(walk: Walk, runs: list[RunDraft]) -> None:
    """`45s on the bay corners`: to each corner between the bay's front and its sides."""
    for run in runs:
        reading = walk.part_angles.get(run.place.part or "")
        for side in FREE_ENDS.get(run.place.direction or "", ()) if reading is not None else ():
            assert reading is not None
            end = run.fields.get(f"{side}_end")
            if end is None:
                end = Reading[Any](
                    value="outside corner",
                    status="inferred",
                    source=list(reading.source),
                    why=f"a corner of the {run.place.part}, which stands out",
                )
                run.fields[f"{side}_end"] = end
            if end.value in ("outside corner", "inside corner") and reading.value != SQUARE:
                run.fields.setdefault(f"{side}_angle", copied_apart(reading))


SIDES_OF_A_RECTANGLE = (
    frozenset({"front", "right side", "back", "left side"}),
    frozenset({"north", "east", "south", "west"}),
)


def _corners_counted(walk: Walk, runs: list[RunDraft]) -> None:
    """`hip, 4 OSC` of a house with four sides, whose ends nobody told: each of them is such a corner."""
    total = next((total for total in walk.totals if total.what == "outside corners"), None)
    house = [run for run in runs if run.place.part is None]
    if total is None or total.value.value != len(house):
        return
    if frozenset(run.place.name for run in house) not in SIDES_OF_A_RECTANGLE or any(
        f"{side}_end" in run.fields for run in house for side in SIDES_IN_ORDER
    ):
        return
    for run in house:
        for side in SIDES_IN_ORDER:
            run.fields[f"{side}_end"] = Reading[Any](
                value="outside corner",
                status="inferred",
                source=list(total.value.source),
                why="four sides of a house, and four outside corners were counted",
            )


def _in_scope(run: RunDraft, part: str, runs: list[RunDraft]) -> bool:
    """Whether a run is of that part or storey; of the house itself, where it is of no part.

    Where only the upper runs are named so, the others are lower.
    """
    place = run.place
    if part == THE_HOUSE:
        return place.part is None
    if part in (place.part, place.storey, place.level):
        return True
    return part == "lower" and place.storey is None and any(o.place.storey == "upper" for o in runs)


def _share_corners(runs: list[RunDraft]) -> None:
    """A corner said once belongs to both runs that meet there."""
    by_name = {run.place.name: run for run in runs}
    for run in runs:
        for side in SIDES_IN_ORDER:
            neighbour = _neighbour(run, side, by_name)
            if neighbour is None:
                continue
            other, other_side = neighbour
            mine, theirs = run.fields.get(f"{side}_end"), other.fields.get(f"{other_side}_end")
            # two sides of a house meet at an outside corner: at an inside one something stands between
            shared = ("outside corner", "inside corner") if run.place.part else ("outside corner",)
            if mine is None and theirs is not None and theirs.value in shared:
                run.fields[f"{side}_end"] = Reading[Any](
                    value=theirs.value,
                    status="inferred",
                    source=list(theirs.source),
                    why=f"the same corner as the {other_side} end of the {other.place.name}",
                )
                angle = other.fields.get(f"{other_side}_angle")
                if angle is not None:
                    run.fields.setdefault(f"{side}_angle", copied_apart(angle))


def _neighbour(run: RunDraft, side: str, by_name: dict[str, RunDraft]) -> tuple[RunDraft, str] | None:
    """The run that meets this one at that side, and with which of its ends; None where there is none."""
    part = run.place.part
    if part is not None:
        beside = {
            ("left side", "right"): ("front", "left"), ("front", "left"): ("left side", "right"),
            ("front", "right"): ("right side", "left"), ("right side", "left"): ("front", "right"),
        }.get((run.place.direction or "", side))  # fmt: skip
        if beside is not None:
            for other in by_name.values():
                if (
                    other.place.part == part
                    and other.place.direction == beside[0]
                    and other.place.storey == run.place.storey
                ):
                    return other, beside[1]
        return None
    for (here, there), which in RECTANGLE.items():
        if here == run.place.name and which == side and there in by_name:
            other = by_name[there]
            back = RECTANGLE.get((there, here))
            if back is not None:
                return other, back
    return None


def _settle_outlets(run: RunDraft) -> None:
    """Outlets placed by an end's kind (`drop at the cap`), and values said before any outlet was."""
    for outlet in run.outlets:
        if outlet.at_end is None or (outlet.place is not None and outlet.place.value is not None):
            continue
        value, item = outlet.at_end
        sides = [
            side for side in SIDES_IN_ORDER if (run.fields.get(f"{side}_end") or Reading()).value == value
        ]
        if len(sides) == 1:
            outlet.place = Reading[Any](
                value=sides[0],
                source=[item.source()],
                why=f"said to be at the {value}, which is the {sides[0]} end",
            )
        else:
            outlet.place = Reading[Any](
                value=None,
                status="doubtful",
                source=[item.source()],
                why=f"said to be at the {value}: not known which end that is",
            )
    if run.pending and run.outlets:
        for outlet in run.outlets:
            for name, reading in run.pending.items():
                outlet.pipe.fields.setdefault(name, copied_apart(reading))
    elif run.pending:
        run.outlets.append(
            OutletDraft(source=[s for reading in run.pending.values() for s in reading.source[:1]])
        )
        run.outlets[0].pipe.fields.update(run.pending)
        run.outlets[0].pipe.offsets += run.pending_offsets


def _storey(run: RunDraft) -> str | None:
    """The storey of a run, by its name, its heading or its part."""
    place = run.place
    return place.storey or place.level or ("dormer" if place.part == "dormer" else None)


def _run(run: RunDraft) -> Run:
    return Run(id=run.place.id, name=run.place.name, storey=_storey(run), source=run.source, **run.fields)


def _outlet(run: RunDraft, number: int, outlet: OutletDraft) -> Outlet:
    return Outlet(
        id=f"{run.place.id}-{number}",
        run=run.place.id,
        place=outlet.place,
        distance=outlet.distance,
        size=outlet.size,
    )


def _pipes(run: RunDraft) -> list[Downpipe]:
    return [
        Downpipe(
            id=f"{run.place.id}-{number}",
            outlet=f"{run.place.id}-{number}",
            offsets=outlet.pipe.offsets,
            offset_heights=outlet.pipe.offset_heights,
            offset_ways=outlet.pipe.offset_ways,
            source=outlet.source,
            **outlet.pipe.fields,
        )
        for number, outlet in enumerate(run.outlets, start=1)
    ]

"""A side told overall beside its own parts: made as it stands, its gutter would be cut twice."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.findings import Change, Suggestion
from gutterance.checking.house import House, run_path, sources
from gutterance.checking.places import Position, building, facing, position
from gutterance.checking.tape_tolerance import tape_tolerance
from gutterance.checking.traverse import known_length, tape
from gutterance.checking.wording import of_run, of_runs, start

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.measure.length import Length
    from gutterance.sheet.models import Run

ONE_INCH = Fraction(1)
"""By how much an overall and its parts may differ [in] and still be taken for the same wall (common practice,
no source)."""


def find_overalls(house: House) -> Iterator[Finding]:
    """Runs named for a whole side (`front`) that are as long as the parts of that side together."""
    sides: defaultdict[tuple[str, str, int], list[Run]] = defaultdict(list)
    for run in house.sheet.runs:
        at = facing(run)
        if at is not None:
            sides[(run.storey or "").strip().lower(), building(run), at.turn].append(run)
    for several in sides.values():
        whole = [run for run in several if isinstance(position(run), Position)]
        parts = [run for run in several if position(run) is None]
        if len(whole) == 1 and len(parts) > 1:
            yield from _against_parts(whole[0], parts)


def _against_parts(whole: Run, parts: list[Run]) -> Iterator[Finding]:
    overall = known_length(whole)
    lengths = [length for length in map(known_length, parts) if length is not None]
    if overall is None or len(lengths) != len(parts) or (whole.length is not None and whole.length.by):
        return
    total = sum((length.inches for length in lengths), Fraction(0))
    allowed = sum((tape_tolerance(length.inches) for length in lengths), tape_tolerance(overall.inches))
    alike = abs(total - overall.inches) <= max(allowed, ONE_INCH)
    no_ends = whole.left_end is None and whole.right_end is None
    if not alike and not (no_ends and overall.inches > max(length.inches for length in lengths)):
        return
    yield finding(
        "overall-against-parts",
        run_path(whole),
        _says(whole, overall, parts, total, alike),
        f"Is {of_run(whole)} the overall of {of_runs(parts)}, or gutter of its own?",
        holds=[run_path(whole), *([] if alike else [run_path(run) for run in parts])],
        source=sources(whole.length, *(run.length for run in parts)),
        suggests=[
            Suggestion(
                value=f"no {whole.name}",
                why="it is the parts told over again",
                changes=[Change(path=run_path(whole), value="none")],
            )
        ]
        if alike
        else [],
    )


def _says(whole: Run, overall: Length, parts: list[Run], total: Fraction, alike: bool) -> str:
    said = f"{start(of_run(whole))} is {overall.tape_text()}, and {of_runs(parts)} make "
    if alike:
        return f"{said}{tape(total, overall.system)} together: the same wall may have been told twice."
    off = tape(abs(total - overall.inches), overall.system)
    return f"{said}{tape(total, overall.system)} together: as an overall it differs by {off}."

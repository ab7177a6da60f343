"""Doubts: values the reader was not sure of, and numbers that found no place."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.conflicts import said_twice
from gutterance.checking.findings import Suggestion
from gutterance.checking.gaps import other_values
from gutterance.checking.house import House, Placed, pipe_path, run_path
from gutterance.checking.wording import of_path, of_run, shown, start
from gutterance.sheet.models import Downpipe, Outlet, Run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.checking.joints import Joints, Side


def find_doubts(house: House, joints: Joints) -> Iterator[Finding]:
    """Every doubtful reading that no conflict tells of already, and every unread number."""
    for placed in house.placed:
        if (
            placed.reading.status == "doubtful"
            and placed.reading.value is not None
            and not said_twice(placed)
        ):
            yield _doubtful(placed, house, joints)
    yield from _unread(house)


def _doubtful(placed: Placed, house: House, joints: Joints) -> Finding:
    reading = placed.reading
    name = of_path(placed.path, placed.field, placed.part, house)
    value = shown(reading.value, placed.field)
    others = [other for other in other_values(reading, placed.field) if other.value != value]
    choice = " or ".join(dict.fromkeys([value, *(other.value for other in others)]))
    holds = house.rests_on(placed)
    if isinstance(placed.part, Run) and placed.field in ("left_end", "right_end"):
        holds = [*holds, *_neighbour(placed, placed.part, house, joints)]
    return finding(
        "value-doubtful",
        placed.path,
        f"{start(name)} was read as {value}, but it is in doubt{f': {reading.why}' if reading.why else ''}.",
        f"Is {name} {choice}?",
        holds=holds,
        source=reading.source,
        suggests=[Suggestion(value=value, why="as read"), *others] if others else [],
    )


def _neighbour(placed: Placed, run: Run, house: House, joints: Joints) -> list[str]:
    """The run round the same corner, where its own end is no surer."""
    index = house.run_at[run.id]
    side: Side = "left" if placed.field == "left_end" else "right"
    joint = joints.right_of.get(index) if side == "right" else joints.left_of.get(index)
    if joint is None:
        return []
    other = house.sheet.runs[joint.after if side == "right" else joint.before]
    end = other.left_end if side == "right" else other.right_end
    return [] if end is not None and end.settled else [run_path(other)]


def _unread(house: House) -> Iterator[Finding]:
    lines = {unread.source.line for unread in house.sheet.unread}
    runs: defaultdict[int, list[Run]] = defaultdict(list)
    pipes: defaultdict[int, list[Downpipe]] = defaultdict(list)
    for placed in house.placed if lines else ():
        here = {words.line for words in placed.reading.source} & lines
        part = placed.part
        run = house.run(part.run) if isinstance(part, Outlet) else part if isinstance(part, Run) else None
        for line in here:
            if run is not None:
                runs[line].append(run)
            elif isinstance(part, Downpipe):
                pipes[line].append(part)
    for unread in house.sheet.unread:
        line = unread.source.line
        # The number may be anything on its line: a run's, where there is one, else a downpipe's.
        holds = [run_path(run) for run in runs[line]] or [pipe_path(pipe) for pipe in pipes[line]]
        first = runs[line][0] if runs[line] else None
        where = f"line {line}"
        if first is not None and len(set(holds)) == 1:
            where += f", at {of_run(first)}"
        yield finding(
            "unread-number",
            "unread",
            f"“{unread.text}” ({where}) was not understood: {unread.why}.",
            f"What is “{unread.text}” ({where})?",
            holds=holds,
            source=[unread.source],
        )

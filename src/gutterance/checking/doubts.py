"""Doubts: values the reader was not sure of, and numbers that found no place."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.conflicts import said_twice
from gutterance.checking.findings import Change, Suggestion
from gutterance.checking.gaps import offered, other_values
from gutterance.checking.house import House, Placed, pipe_path, run_path
from gutterance.checking.plausibility import dash_lost_offers
from gutterance.checking.set_aside import Aside
from gutterance.checking.wording import (
    FIELD_WORDS,
    either,
    listed,
    of_outlet,
    of_path,
    of_pipe,
    of_run,
    shown,
    start,
)
from gutterance.reading.said_of_all import OF_NO_PIPE, ON_ITS_OWN_LINE
from gutterance.reading.start_ends import taken_for_start
from gutterance.sheet.amendments import file_value
from gutterance.sheet.models import NEW_DOWNPIPE, Downpipe, Outlet, Run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.checking.joints import Joints, Side


MOST_OFFERED = 3


def find_doubts(house: House, joints: Joints) -> Iterator[Finding]:
    """Every doubtful reading that no conflict tells of already, and every unread number."""
    starts = [placed for placed in house.placed if taken_for_start(placed.reading)]
    if starts:
        yield _start_of_runs(starts, house)
    for placed in house.placed:
        if placed in starts:
            continue
        if (
            placed.reading.status == "doubtful"
            and placed.reading.value is not None
            and not said_twice(placed)
        ):
            yield _doubtful(placed, house, joints)
        elif worked_out(placed):
            yield _worked_out(placed, house)
    yield from _unread(house)


def _doubtful(placed: Placed, house: House, joints: Joints) -> Finding:
    if isinstance(placed.part, Outlet) and placed.field == "into":
        return _pipe_or_not(placed, placed.part, house)
    reading = placed.reading
    name = of_path(placed.path, placed.field, placed.part, house)
    value = shown(reading.value, placed.field)
    others = [*dash_lost_offers(placed), *other_values(reading, placed.path, placed.field)]
    others = [other for other in others if other.value != value]
    choice = either(list(dict.fromkeys([value, *(other.value for other in others)]))[:MOST_OFFERED])
    holds = house.rests_on(placed)
    if isinstance(placed.part, Run) and placed.field in ("left_end", "right_end"):
        holds = [*holds, *_neighbour(placed, placed.part, house, joints)]
    return finding(
        "value-doubtful",
        placed.path,
        f"{start(name)} was read as {value}, but it is in doubt{_reason(reading.why)}.",
        _of_every_pipe(placed, value) or _asks(placed, house, name, choice, bool(others)),
        holds=holds,
        source=reading.source,
        suggests=[offered(placed.path, reading.value, placed.field, "as read"), *others] if others else [],
    )


def _pipe_or_not(placed: Placed, outlet: Outlet, house: House) -> Finding:
    """Words that no pipe is made for an outlet: one was measured, or they may be about another."""
    name, into = of_outlet(outlet, house), str(placed.reading.value)
    return finding(
        "value-doubtful",
        placed.path,
        f"{start(name)} is said to empty into: {into}, but it is in doubt{_reason(placed.reading.why)}.",
        f"Does {name} empty into: {into}, or is a downpipe made for it?",
        holds=house.rests_on(placed),
        source=placed.reading.source,
        suggests=[
            offered(placed.path, into, placed.field, "as read: no downpipe is made for it"),
            Suggestion(
                value=NEW_DOWNPIPE,
                why="a downpipe is made for it",
                changes=[Change(path=placed.path, value=NEW_DOWNPIPE)],
            ),
        ],
    )


def _start_of_runs(starts: list[Placed], house: House) -> Finding:
    """The one question about ends that were told as start and finish, and not as left and right."""
    runs = list(dict.fromkeys(placed.part.id for placed in starts if isinstance(placed.part, Run)))
    names = listed([of_run(run) for run in house.sheet.runs if run.id in runs], 4)
    as_read = [Change(path=one.path, value=file_value(one.reading.value)) for one in starts]
    other = {"left_end": "right_end", "right_end": "left_end"}
    turned = [
        Change(path=one.path.replace(one.field, other[one.field]), value=file_value(one.reading.value))
        for one in starts
    ]
    return finding(
        "value-doubtful",
        starts[0].path,
        f"The ends of {names} were told as start and finish, and nothing says which of them is the left: "
        "the start was taken for it.",
        "Facing the wall from outside, do the runs start at their left end or at their right?",
        holds=list(dict.fromkeys(held for one in starts for held in house.rests_on(one))),
        source=[words for one in starts for words in one.reading.source],
        suggests=[
            Suggestion(value="left", why="as read: the walk goes to the right", changes=as_read),
            Suggestion(value="right", why="the walk goes to the left, clockwise", changes=turned),
        ],
    )


def _of_every_pipe(placed: Placed, value: str) -> str | None:
    """The one question about a value that was said once, and of no downpipe in particular."""
    why = placed.reading.why or ""
    if placed.group != "downpipes" or not any(words in why for words in (OF_NO_PIPE, ON_ITS_OWN_LINE)):
        return None
    return (
        f"Is the {FIELD_WORDS.get(placed.field, placed.field)} {value} at each downpipe that was given none?"
    )


def _asks(placed: Placed, house: House, name: str, choice: str, several: bool) -> str:
    """The question for a doubtful value, as one asks it on site."""
    part, field = placed.part, placed.field
    if isinstance(part, Run) and field in ("left_end", "right_end"):
        end = f"the {field.partition('_')[0]} end of {of_run(part)}"
        article = "an" if choice[0] in "aeiou" else "a"
        return f"What is at {end}: {choice}?" if several else f"Is {end} {article} {choice}?"
    if isinstance(part, Outlet) and field == "place" and not several:
        run = house.run(part.run)
        end = "in the middle" if choice == "centre" else f"at the {choice} end"
        return f"Is there an outlet {end} of {repr(part.run) if run is None else of_run(run)}?"
    if isinstance(part, Downpipe) and field == "ends_at":
        return f"Does {of_pipe(part, house)} end at the {choice}?"
    return f"Is {name} {choice}?"


def worked_out(placed: Placed) -> bool:
    """Whether this is a run's length that nobody measured, but that follows from the others."""
    reading = placed.reading
    return (
        placed.group == "runs"
        and placed.field == "length"
        and reading.status == "inferred"
        and reading.value is not None
    )


def _worked_out(placed: Placed, house: House) -> Finding:
    reading = placed.reading
    name = of_path(placed.path, placed.field, placed.part, house)
    value = shown(reading.value, placed.field)
    return finding(
        "length-worked-out",
        placed.path,
        f"{start(name)} was not measured; {value} is {reading.why or 'worked out from the others'}.",
        f"Is {name} {value}?",
        holds=house.rests_on(placed),
        source=reading.source,
        suggests=[
            Suggestion(
                value=value,
                why="then the walls of the house close",
                changes=[Change(path=placed.path, value=file_value(reading.value))],
            )
        ],
    )


def _reason(why: str | None) -> str:
    """The first things a reading says of itself: the doubt comes first, then how the words were read."""
    return f": {'; '.join(why.split('; ')[:2])}" if why else ""


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
    aside = Aside(house.sheet)
    kinds = [aside.what(unread) for unread in house.sheet.unread]
    open_ones = [
        (number, unread)
        for number, (unread, kind) in enumerate(zip(house.sheet.unread, kinds, strict=True), start=1)
        if kind is None
    ]
    spoken = _spoken_of(house, {unread.source.line for _, unread in open_ones})
    for number, unread in open_ones:
        line = unread.source.line
        # The number may be anything said about there: of the run told just before it or just after, where its
        # line tells of runs, else of the downpipes so told.
        holds = spoken["runs", line].around(unread.source.start)
        where = unread.source.where()
        at = ""
        if len(holds) == 1 and (run := house.run(holds[0].removeprefix("runs."))) is not None:
            at = f" at {of_run(run)}"
            where += f",{at}"
        holds = holds or spoken["downpipes", line].around(unread.source.start)
        yield finding(
            "unread-number",
            f"unread.{number}",
            f"“{unread.text}”{at} was not understood: {unread.why}.",
            f"What is “{unread.text}” ({where})?",
            holds=holds,
            source=[unread.source],
        )
    set_aside = [
        (unread, kind) for unread, kind in zip(house.sheet.unread, kinds, strict=True) if kind is not None
    ]
    if set_aside:
        each = listed([f"“{unread.text}” ({kind}, {unread.source.where()})" for unread, kind in set_aside])
        yield finding(
            "number-set-aside",
            "unread",
            f"Not taken as measurements: {each}.",
            source=[unread.source for unread, _ in set_aside],
        )


class _Spoken:
    """What one line tells of, in the order of its words."""

    def __init__(self) -> None:
        self.paths: list[tuple[int, str]] = []

    def around(self, start: int) -> list[str]:
        """The paths told of just before and just after that character; both where they differ."""
        at = bisect_right(self.paths, start, key=lambda told: told[0])
        return list(dict.fromkeys(path for _, path in self.paths[max(at - 1, 0) : at + 1]))


def _spoken_of(house: House, lines: set[int]) -> defaultdict[tuple[str, int], _Spoken]:
    spoken: defaultdict[tuple[str, int], _Spoken] = defaultdict(_Spoken)
    for placed in house.placed if lines else ():
        part = placed.part
        run = house.run(part.run) if isinstance(part, Outlet) else part if isinstance(part, Run) else None
        for words in placed.reading.source:
            if words.line not in lines:
                continue
            if run is not None:
                spoken["runs", words.line].paths.append((words.start, run_path(run)))
            elif isinstance(part, Downpipe):
                spoken["downpipes", words.line].paths.append((words.start, pipe_path(part)))
    for named in house.sheet.runs if lines else ():
        for words in named.source:
            if words.line in lines:
                spoken["runs", words.line].paths.append((words.start, run_path(named)))
    for pipe in house.sheet.downpipes if lines else ():
        for words in pipe.source:
            if words.line in lines:
                spoken["downpipes", words.line].paths.append((words.start, pipe_path(pipe)))
    for told in spoken.values():
        told.paths.sort()
    return spoken

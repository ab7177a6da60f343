"""Ticks: what is made and what is hung, each with the numbers it was made by. What is on hold has none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, get_args

from gutterance.jobs.changing import Change, Given, keep
from gutterance.jobs.decisions import still_done
from gutterance.jobs.errors import Clashes, NotThere, OnHold, Unusable
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.making import made_by, things_to_make

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from typing import Any

    from gutterance.jobs.office import Office, Person

Ticked = Literal["made", "hung"]
TICKED: tuple[Ticked, ...] = get_args(Ticked)
OFF = {"made": "not made", "hung": "not hung"}


@dataclass(frozen=True, slots=True)
class Tick:
    """A tick: by whom, when (ISO 8601), and the numbers the thing was made by then."""

    by: str
    at: str
    numbers: str


def ticks_in(events: Iterable[Mapping[str, Any]]) -> dict[tuple[str, str], Tick]:
    """What is ticked now, by path and what: `("pieces.front-1", "made")`."""
    ticks: dict[tuple[str, str], Tick] = {}
    off = {word: what for what, word in OFF.items()}
    for event in still_done(events):
        path, what = str(event["path"]), event["what"]
        if what in TICKED:
            ticks[path, what] = Tick(event["by"], event["at"], event["after"] or "")
        elif what in off:
            ticks.pop((path, off[what]), None)
    return ticks


def tick(
    office: Office, job_id: str, path: str, what: str, given: Given, person: Person,
    *, on: bool = True, numbers: str | None = None, code: str | None = None,
) -> int:  # fmt: skip
    """Tick a piece or a downpipe as made or hung, or (`on` False) take the tick off; the job's revision.

    `numbers` are those it was made by, as the list showed them; `code` that of the whole sheet, where those
    are not at hand. What is hung counts as made too, and what is not made as not hung. What stands so already
    changes nothing, but that what was made by other numbers is made anew. Raises NotThere; OnHold for what
    may not be made; Clashes where the list shows other numbers by now: it has both; and Stale.
    """
    if what not in TICKED:
        raise Unusable(f"{what!r} is nothing to tick", f"say {' or '.join(TICKED)}")
    lists = lists_of_job(office, job_id)
    thing = dict(things_to_make(lists.lists)).get(path)
    if thing is None:
        raise NotThere(f"the lists have no {path}", "look at the lists as they are now")
    now = made_by(thing)
    if on:
        if thing.hold:
            asks = thing.hold[0].question or thing.hold[0].says
            raise OnHold(f"{path.partition('.')[2]} is on hold", f"the office has to settle first: {asks}")
        if numbers is not None and numbers != now:
            raise Clashes(
                f"the list says other numbers for {path.partition('.')[2]} by now",
                f"look before it is hung: now {now}", yours=numbers, theirs=now,
            )  # fmt: skip
        if numbers is None and code is not None and code != lists.code:
            raise Clashes(
                "the lists have changed since that paper", "look at the lists as they are now",
                yours=code, theirs=lists.code,
            )  # fmt: skip
    ticks = ticks_in(lists.stands.events)
    wanted = ("made", "hung") if (what == "hung") == on else (what,)
    changes = [
        Change(one if on else OFF[one], path=path, after=now if on else None, why=given.why)
        for one in wanted
        if ((path, one) in ticks) != on or (on and ticks[path, one].numbers != now)
    ]
    if not changes:
        return lists.stands.job.revision
    return keep(office, job_id, changes, given, person)

"""Undoing anything that was done to a job, in one step, as a new event. An undoing can be undone itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.jobs.changing import Change, Given, repeat_of, write
from gutterance.jobs.decisions import still_done
from gutterance.jobs.errors import NotThere, Stale, Unusable
from gutterance.jobs.identity import checked_id
from gutterance.jobs.job import row_of
from gutterance.store import events as event_rows
from gutterance.store import jobs as job_rows
from gutterance.store import lines as line_rows

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from sqlalchemy import Connection

    from gutterance.jobs.office import Office, Person

UNDONE = "undone"
LINE_TAKEN_BACK = "line taken back"


def undo(office: Office, job_id: str, event_id: str, given: Given, person: Person) -> int:
    """Undo an event with all that was kept in the same step; the job's revision. A repeat changes nothing.

    Raises NotThere for an event this job has not, Unusable for one that is undone already, and Stale where
    somebody changed the same value after it: that change would have to be undone first.
    """
    checked_id(given.id, "change")
    with office.database.writing() as connection:
        row_of(connection, job_id, to_change=True)
        repeated = repeat_of(connection, job_id, given)
        if repeated is not None:
            return repeated
        every = [dict(event) for event in event_rows.events_of(connection, job_id)]
        step = _step_of(every, event_id)
        standing = {event["id"] for event in still_done(every)}
        if not standing & {event["id"] for event in step}:
            raise Unusable("that is undone already", "look at the history")
        _refuse_if_built_on(every, step, standing)
        changes = [
            Change(UNDONE, path=event["path"], before=event["after"], after=event["before"],
                   said=event["what"], why=given.why, undoes=event["id"])
            for event in step
        ]  # fmt: skip
        revision = write(connection, office, job_id, changes, given, person)
        by_id = {event["id"]: event for event in every}
        for event in step:
            _put_back(connection, job_id, event, by_id)
        return revision


def last_done(events: Sequence[Mapping[str, Any]]) -> Mapping[str, Any] | None:
    """The last event that stands and is no undoing: what `undo` without more would undo."""
    done = [event for event in still_done(events) if not event["undoes"]]
    return done[-1] if done else None


def _step_of(every: Sequence[dict[str, Any]], event_id: str) -> list[dict[str, Any]]:
    """The event and those kept with it, in their order."""
    found = next((event for event in every if event["id"] == event_id), None)
    if found is None:
        raise NotThere("this job has no such event", "look at its history")
    return [event for event in every if event["revision"] == found["revision"]]


def _refuse_if_built_on(
    every: Sequence[dict[str, Any]], step: Sequence[dict[str, Any]], standing: set[str]
) -> None:
    """A value amended again since would stay amended: undoing the first would change nothing one can see."""
    for event in step:
        later = [
            one
            for one in every
            if one["revision"] > event["revision"]
            and one["id"] in standing
            and not one["undoes"]
            and (one["path"], one["what"]) == (event["path"], event["what"])
            and event["path"] is not None
        ]
        if later:
            raise Stale(
                f"{later[-1]['by']} changed the same after that", "undo the later change first",
                theirs=later[-1]["after"], yours=event["before"], by=later[-1]["by"], at=later[-1]["at"],
                path=event["path"], why=later[-1]["why"], revision=every[-1]["revision"], undone=False,
            )  # fmt: skip


def _put_back(
    connection: Connection, job_id: str, event: dict[str, Any], by_id: Mapping[str, dict[str, Any]]
) -> None:
    """Undo what stands in a row and not in the events alone. Undoing an undoing does it again."""
    again = False
    while event["undoes"]:
        event = by_id[event["undoes"]]
        again = not again
    if event["what"] == LINE_TAKEN_BACK:
        line = str(event["path"]).removeprefix("lines.")
        line_rows.take_back_row(connection, line, event["at"] if again else None)
    elif event["what"] in ("archived", "unarchived"):
        archived = (event["what"] == "archived") == again
        job_rows.set_job(connection, job_id, archived_at=event["at"] if archived else None)
    elif event["what"] == "renamed":
        job_rows.set_job(connection, job_id, title=event["after"] if again else event["before"])

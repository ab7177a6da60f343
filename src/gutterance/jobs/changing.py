"""Keeping a change of a job: once under its id, as one revision, and never over somebody else's."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.jobs.decisions import DECIDED, still_done
from gutterance.jobs.errors import Clashes, Stale
from gutterance.jobs.identity import checked_id
from gutterance.jobs.job import row_of
from gutterance.store import events as event_rows
from gutterance.store import jobs as job_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection

    from gutterance.jobs.office import Office, Person


@dataclass(frozen=True, slots=True)
class Given:
    """What comes with every change: its id, made by who asks; the revision it was decided on; the reason.

    A repeat of an id changes nothing.
    """

    id: str
    revision: int
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """An event to be: what was done to which path, from what, to what, in which words, why."""

    what: str
    path: str | None = None
    before: str | None = None
    after: str | None = None
    said: str | None = None
    why: str | None = None
    undoes: str | None = None


def keep(office: Office, job_id: str, changes: Sequence[Change], given: Given, person: Person) -> int:
    """Keep the changes as one revision of the job; that revision. A repeat gets the first one's revision.

    Raises NotThere, and Stale where an event since `given.revision` touched one of the same paths: it has
    both, and nothing is kept.
    """
    checked_id(given.id, "change")
    with office.database.writing() as connection:
        job = row_of(connection, job_id, to_change=True)
        repeated = repeat_of(connection, job_id, given, changes)
        if repeated is not None:
            return repeated
        if given.revision < job["revision"]:
            refuse_stale(connection, job_id, changes, given)
        return write(connection, office, job_id, changes, given, person)


def write(
    connection: Connection,
    office: Office,
    job_id: str,
    changes: Sequence[Change],
    given: Given,
    person: Person,
) -> int:
    """Add the events of one change, in a transaction that holds the job; its new revision."""
    at = office.now()
    revision = job_rows.raise_revision(connection, job_id, at)
    for number, change in enumerate(changes):
        event_rows.add_event(
            connection, id=given.id if not number else f"{given.id}-{number:03}", job_id=job_id,
            revision=revision, at=at, by=person.name, role=person.role, what=change.what, path=change.path,
            before=change.before, after=change.after, said=change.said, why=change.why, undoes=change.undoes,
        )  # fmt: skip
    return revision


def repeat_of(
    connection: Connection, job_id: str, given: Given, changes: Sequence[Change] = ()
) -> int | None:
    """The revision of the change that has this id already, None where none has.

    Raises Clashes where it is another change: a repeat is answered, anything else under its id is not kept.
    """
    there = event_rows.event_row(connection, given.id)
    if there is None:
        return None
    first = changes[0] if changes else None
    same = first is None or (there["what"], there["path"], there["after"]) == (
        first.what,
        first.path,
        first.after,
    )
    if there["job_id"] != job_id or not same:
        raise Clashes("the id of this change was used for another", "nothing was kept: do it again")
    return int(there["revision"])


def refuse_stale(connection: Connection, job_id: str, changes: Sequence[Change], given: Given) -> None:
    """Raise Stale, with both, where an event since `given.revision` touched a path of the changes."""
    every = [dict(event) for event in event_rows.events_of(connection, job_id)]
    done = {event["id"]: event for event in every}
    wanted = {change.path: change for change in changes if change.path is not None}
    for event in reversed(still_done(every)):
        if event["revision"] <= given.revision:
            continue
        path = done[event["undoes"]]["path"] if event["undoes"] in done else event["path"]
        mine = next((one for at, one in wanted.items() if _touches(path, at)), None)
        if mine is None or (event["what"] in DECIDED) != (mine.what in DECIDED):
            continue
        raise Stale(
            f"{event['by']} changed the same since you looked", "look at both, and say which it is to be",
            path=path, yours=mine.said or mine.after, theirs=event["said"] or event["after"], by=event["by"],
            at=event["at"], why=event["why"], undone=event["undoes"] is not None,
            revision=every[-1]["revision"],
        )  # fmt: skip


def _touches(one: str | None, other: str) -> bool:
    """Whether two paths are the same, or one is the whole part that the other belongs to."""
    if one is None:
        return False
    return one == other or one.startswith(f"{other}.") or other.startswith(f"{one}.")

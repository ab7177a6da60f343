"""Carrying a whole job with its history: out as one file, in from one, and copied inside the office."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance import __version__
from gutterance.jobs.amending import AMENDED
from gutterance.jobs.identity import new_id
from gutterance.jobs.job import job_of, row_of
from gutterance.jobs.job_files import (
    ClashPart,
    EventPart,
    JobPart,
    JobRecord,
    LinePart,
    PhotoPart,
    read,
    written,
)
from gutterance.jobs.ticking import OFF, TICKED
from gutterance.store import events as event_rows
from gutterance.store import jobs as job_rows
from gutterance.store import lines as line_rows
from gutterance.store import photos as photo_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sqlalchemy import Connection, RowMapping

    from gutterance.jobs.job import Job
    from gutterance.jobs.office import Office, Person

IMPORTED = "imported"
COPIED = "copied"
_TICKS = frozenset({*TICKED, *OFF.values()})


def export_job(office: Office, job_id: str) -> tuple[str, bytes]:
    """The file of a job: a name for it, and its content. Raises NotThere."""
    with office.database.reading() as connection:
        record, photos = _taken(connection, job_id)
    name = re.sub(r"[^A-Za-z0-9]+", "-", record.job.title).strip("-").lower()[:60] or "job"
    return f"{name}.job.zip", written(record, photos)


def import_job(office: Office, content: bytes, person: Person) -> Job:
    """Take a job in from its file. Where the office has it already, it becomes another job with new ids.

    Raises Unusable and TooLarge as `job_files.read`: nothing is kept then.
    """
    record, photos = read(content)
    with office.database.writing() as connection:
        return _kept(connection, office, record, photos, person, IMPORTED)


def copy_job(office: Office, job_id: str, person: Person) -> Job:
    """A copy of a job to work on by itself: its note, photos and what was settled, but nothing ticked.

    Raises NotThere.
    """
    with office.database.writing() as connection:
        record, photos = _taken(connection, job_id)
        record.job.title = f"{record.job.title[:190]} (copy)"
        record.job.state = "to settle" if record.job.state in ("made", "hung") else record.job.state
        _drop_ticks(record)
        return _kept(connection, office, record, photos, person, COPIED)


def _taken(connection: Connection, job_id: str) -> tuple[JobRecord, dict[str, bytes]]:
    job = row_of(connection, job_id)
    photos = photo_rows.photos_of(connection, job_id)
    record = JobRecord(
        made_by=f"gutterance {__version__}",
        job=JobPart(**_of(job, JobPart)),
        lines=[LinePart(**_of(row, LinePart)) for row in line_rows.lines_of(connection, job_id)],
        clashes=[ClashPart(**_of(row, ClashPart)) for row in line_rows.clashes_of(connection, job_id)],
        events=[EventPart(**_of(row, EventPart)) for row in event_rows.events_of(connection, job_id)],
        photos=[PhotoPart(**_of(row, PhotoPart)) for row in photos],
    )
    return record, {row["id"]: photo_rows.photo_content(connection, row["id"]) for row in photos}


def _of(row: RowMapping, part: type[Any]) -> dict[str, Any]:
    return {name: row[name] for name in part.model_fields}


def _drop_ticks(record: JobRecord) -> None:
    """Leave out the ticks, and whatever undid them: nothing of the copy is made yet."""
    gone = {one.id for one in record.events if one.what in _TICKS}
    while more := {one.id for one in record.events if one.undoes in gone} - gone:
        gone |= more
    record.events = [one for one in record.events if one.id not in gone]


def _kept(
    connection: Connection,
    office: Office,
    record: JobRecord,
    photos: Mapping[str, bytes],
    person: Person,
    how: str,
) -> Job:
    """Write a job's rows, under ids of their own where any of its ids is taken; how it came is an event."""
    ids = _ids(connection, record)
    at = office.now()
    job = ids[record.job.id]
    job_rows.add_job(connection, job, record.job.title, record.job.state, record.job.made_at)
    for line in sorted(record.lines, key=lambda one: one.number):
        data = line.model_dump(exclude={"taken_back_at", "number"})
        data.update(id=ids[line.id], after=ids.get(line.after or ""), device_id=None)
        line_rows.add_line_row(connection, job, **data)
        if line.taken_back_at is not None:
            line_rows.take_back_row(connection, ids[line.id], line.taken_back_at)
    for clash in record.clashes:
        data = clash.model_dump() | {"line_id": ids.get(clash.line_id, clash.line_id), "device_id": None}
        line_rows.add_clash(connection, job_id=job, **data)
    for photo in record.photos:
        data = photo.model_dump() | {"id": ids[photo.id], "line_id": ids.get(photo.line_id or "")}
        photo_rows.add_photo_row(connection, job_id=job, content=photos[photo.id], device_id=None, **data)
    for event in record.events:
        data = event.model_dump() | {"id": ids[event.id], "undoes": ids.get(event.undoes or "")}
        if event.path is not None and event.path.startswith("lines.") and event.what != AMENDED:
            line_id = event.path.removeprefix("lines.")
            data["path"] = f"lines.{ids.get(line_id, line_id)}"
        event_rows.add_event(connection, job_id=job, **data)
    revision = record.job.revision + 1
    event_rows.add_event(
        connection, id=new_id(), job_id=job, revision=revision, at=at, by=person.name, role=person.role,
        what=how, path="job", before=record.job.id if how == COPIED else record.made_by,
    )  # fmt: skip
    job_rows.set_job(connection, job, revision=revision, changed_at=at)
    return job_of(row_of(connection, job))


def _ids(connection: Connection, record: JobRecord) -> dict[str, str]:
    """For each id in the file the one it gets here: the same, unless one of them is taken."""
    lines, events, photos = (
        [one.id for one in record.lines],
        [one.id for one in record.events],
        [one.id for one in record.photos],
    )
    taken = (
        job_rows.job_row(connection, record.job.id) is not None
        or any(line_rows.line_row(connection, one) is not None for one in lines)
        or any(event_rows.event_row(connection, one) is not None for one in events)
        or any(photo_rows.photo_row(connection, one) is not None for one in photos)
    )
    return {one: new_id() if taken else one for one in (*lines, *events, *photos, record.job.id)}

"""Putting a job into the archive and taking it out, and giving it another title: events like any other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.jobs.changing import Change, Given, repeat_of, write
from gutterance.jobs.errors import Unusable
from gutterance.jobs.identity import checked_id
from gutterance.jobs.job import LONGEST_TITLE, row_of
from gutterance.store import jobs as job_rows

if TYPE_CHECKING:
    from gutterance.jobs.office import Office, Person


def archive(office: Office, job_id: str, given: Given, person: Person, *, on: bool = True) -> int:
    """Put a job into the archive, or (`on` False) take it out; its revision. What stands so is left.

    Raises NotThere.
    """
    checked_id(given.id, "change")
    change = Change("archived" if on else "unarchived", path="job", why=given.why)
    with office.database.writing() as connection:
        job = row_of(connection, job_id, to_change=True)
        repeated = repeat_of(connection, job_id, given, [change])
        if repeated is not None or (job["archived_at"] is not None) == on:
            return repeated if repeated is not None else int(job["revision"])
        job_rows.set_job(connection, job_id, archived_at=office.now() if on else None)
        return write(connection, office, job_id, [change], given, person)


def rename(office: Office, job_id: str, title: str, given: Given, person: Person) -> int:
    """Give a job another title; its revision. Raises NotThere, and Unusable for one that is empty or long."""
    checked_id(given.id, "change")
    words = " ".join(title.split())
    if not words or len(words) > LONGEST_TITLE:
        raise Unusable("that is no title", f"give 1 to {LONGEST_TITLE} characters")
    with office.database.writing() as connection:
        job = row_of(connection, job_id, to_change=True)
        change = Change("renamed", path="title", before=job["title"], after=words, why=given.why)
        repeated = repeat_of(connection, job_id, given, [change])
        if repeated is not None or job["title"] == words:
            return repeated if repeated is not None else int(job["revision"])
        job_rows.set_job(connection, job_id, title=words)
        return write(connection, office, job_id, [change], given, person)

"""Starting a job, finding it, and what stands of it in a line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.jobs.errors import NotThere, Unusable
from gutterance.jobs.identity import checked_id, new_id
from gutterance.store import jobs as rows

if TYPE_CHECKING:
    from sqlalchemy import Connection, RowMapping

    from gutterance.jobs.office import Office

LONGEST_TITLE = 200
FIRST_STATE = "measuring"


@dataclass(frozen=True, slots=True)
class Job:
    """A job as the list of jobs shows it."""

    id: str
    title: str
    state: str
    revision: int
    made_at: str
    changed_at: str
    archived_at: str | None


def start_job(office: Office, title: str, job_id: str | None = None) -> Job:
    """Start a job. A job of that id that is there already is given back as it is: a repeat starts nothing.

    Raises Unusable for a title that is empty or longer than LONGEST_TITLE.
    """
    title = " ".join(title.split())
    if not title or len(title) > LONGEST_TITLE:
        raise Unusable(
            "a job needs a title" if not title else f"a title has at most {LONGEST_TITLE} characters",
            "give the address, or what the crew calls the house",
        )
    wanted = new_id() if job_id is None else checked_id(job_id, "job")
    with office.database.writing() as connection:
        found = rows.job_row(connection, wanted)
        if found is None:
            rows.add_job(connection, wanted, title, FIRST_STATE, office.now())
            found = rows.job_row(connection, wanted)
        assert found is not None
        return job_of(found)


def find_jobs(
    office: Office, search: str = "", state: str | None = None, *, archived: bool = False
) -> list[Job]:
    """The jobs whose title or note has every word of `search`, the last changed first."""
    with office.database.reading() as connection:
        return [job_of(row) for row in rows.find_jobs(connection, search, state, archived=archived)]


def the_job(office: Office, job_id: str) -> Job:
    """A job. Raises NotThere."""
    with office.database.reading() as connection:
        return job_of(row_of(connection, job_id))


def row_of(connection: Connection, job_id: str, *, to_change: bool = False) -> RowMapping:
    """A job's row, held where it is to be changed. Raises NotThere."""
    find = rows.locked_job if to_change else rows.job_row
    found = find(connection, job_id)
    if found is None:
        raise NotThere("there is no such job here", "look for it in the list of jobs")
    return found


def job_of(row: RowMapping) -> Job:
    """A job from its row."""
    return Job(**{name: row[name] for name in Job.__slots__})

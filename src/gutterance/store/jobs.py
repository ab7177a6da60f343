"""Rows of jobs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import func, insert, or_, select, update

from gutterance.store.tables import jobs, lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection, RowMapping


def add_job(connection: Connection, job_id: str, title: str, state: str, at: str) -> None:
    """Add a job at revision 0."""
    connection.execute(
        insert(jobs).values(id=job_id, title=title, state=state, made_at=at, changed_at=at, revision=0)
    )


def job_row(connection: Connection, job_id: str) -> RowMapping | None:
    """A job's row, or None."""
    return connection.execute(select(jobs).where(jobs.c.id == job_id)).mappings().one_or_none()


def locked_job(connection: Connection, job_id: str) -> RowMapping | None:
    """A job's row, held for this change alone until it is kept, or None."""
    wanted = select(jobs).where(jobs.c.id == job_id).with_for_update()
    return connection.execute(wanted).mappings().one_or_none()


def raise_revision(connection: Connection, job_id: str, at: str) -> int:
    """Count one more change of a job; its new revision. Call it in the transaction of that change."""
    raised = (
        update(jobs)
        .where(jobs.c.id == job_id)
        .values(revision=jobs.c.revision + 1, changed_at=at)
        .returning(jobs.c.revision)
    )
    return int(connection.execute(raised).scalar_one())


def set_job(connection: Connection, job_id: str, **values: str | int | None) -> None:
    """Change columns of a job: title, state, archived_at; of one taken in, revision and changed_at too."""
    connection.execute(update(jobs).where(jobs.c.id == job_id).values(**values))


def find_jobs(
    connection: Connection, search: str = "", state: str | None = None, *, archived: bool = False
) -> Sequence[RowMapping]:
    """Jobs whose title or one of whose lines has every word of `search`, the last changed first."""
    wanted = select(jobs).order_by(jobs.c.changed_at.desc(), jobs.c.id)
    wanted = wanted.where(jobs.c.archived_at.is_not(None) if archived else jobs.c.archived_at.is_(None))
    if state:
        wanted = wanted.where(jobs.c.state == state)
    for word in search.split():
        in_line = (
            select(lines.c.job_id)
            .where(lines.c.job_id == jobs.c.id, lines.c.taken_back_at.is_(None))
            .where(func.lower(lines.c.text).contains(word.lower(), autoescape=True))
        )
        in_title = func.lower(jobs.c.title).contains(word.lower(), autoescape=True)
        wanted = wanted.where(or_(in_title, in_line.exists()))
    return connection.execute(wanted).mappings().all()

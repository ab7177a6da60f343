"""Rows of lines: added once under the id that the phone gave them, never changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import func, insert, select, update

from gutterance.store.tables import clashes, lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection, RowMapping


def line_row(connection: Connection, line_id: str) -> RowMapping | None:
    """The line of that id, of whatever job, or None."""
    return connection.execute(select(lines).where(lines.c.id == line_id)).mappings().one_or_none()


def lines_of(connection: Connection, job_id: str) -> Sequence[RowMapping]:
    """Every line of a job in its order, those taken back too."""
    wanted = select(lines).where(lines.c.job_id == job_id).order_by(lines.c.number)
    return connection.execute(wanted).mappings().all()


def add_line_row(connection: Connection, job_id: str, **values: Any) -> int:
    """Add a line at the end of a job's note; its number, from 1. The job's row must be held."""
    last = connection.scalar(select(func.max(lines.c.number)).where(lines.c.job_id == job_id))
    number = (last or 0) + 1
    connection.execute(insert(lines).values(job_id=job_id, number=number, **values))
    return number


def take_back_row(connection: Connection, line_id: str, at: str | None) -> None:
    """Mark a line as taken back at a moment, or (None) as standing again."""
    connection.execute(update(lines).where(lines.c.id == line_id).values(taken_back_at=at))


def add_clash(connection: Connection, **values: Any) -> bool:
    """Keep what came under an id that other words have already; False where it is kept already."""
    same = (
        select(clashes.c.number)
        .where(clashes.c.line_id == values["line_id"], clashes.c.job_id == values["job_id"])
        .where(clashes.c.sha256 == values["sha256"])
    )
    if connection.scalar(same) is not None:
        return False
    connection.execute(insert(clashes).values(**values))
    return True


def clashes_of(connection: Connection, job_id: str) -> Sequence[RowMapping]:
    """Everything that came for a job under an id already taken, oldest first."""
    wanted = select(clashes).where(clashes.c.job_id == job_id).order_by(clashes.c.number)
    return connection.execute(wanted).mappings().all()

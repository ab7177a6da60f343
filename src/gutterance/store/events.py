"""Rows of events: what was done to a job after its lines came, each once under its id, never changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import insert, select

from gutterance.store.tables import events

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection, RowMapping


def add_event(connection: Connection, **values: Any) -> None:
    """Add an event."""
    connection.execute(insert(events).values(**values))


def event_row(connection: Connection, event_id: str) -> RowMapping | None:
    """The event of that id, or None."""
    return connection.execute(select(events).where(events.c.id == event_id)).mappings().one_or_none()


def events_of(connection: Connection, job_id: str) -> Sequence[RowMapping]:
    """Every event of a job in its order."""
    wanted = select(events).where(events.c.job_id == job_id).order_by(events.c.revision, events.c.id)
    return connection.execute(wanted).mappings().all()

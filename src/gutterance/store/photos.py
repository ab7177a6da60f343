"""Rows of photos: added once under the id that the phone gave them, never changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import insert, select

from gutterance.store.tables import photos

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection, RowMapping

_TOLD = [column for column in photos.c if column.name != "content"]


def add_photo_row(connection: Connection, **values: Any) -> None:
    """Add a photo."""
    connection.execute(insert(photos).values(**values))


def photo_row(connection: Connection, photo_id: str) -> RowMapping | None:
    """What is known of a photo, without its content, or None."""
    return connection.execute(select(*_TOLD).where(photos.c.id == photo_id)).mappings().one_or_none()


def photo_content(connection: Connection, photo_id: str) -> bytes:
    """The photo itself. The photo must be there."""
    return bytes(connection.execute(select(photos.c.content).where(photos.c.id == photo_id)).scalar_one())


def photos_of(connection: Connection, job_id: str) -> Sequence[RowMapping]:
    """What is known of a job's photos, as they came."""
    wanted = select(*_TOLD).where(photos.c.job_id == job_id).order_by(photos.c.received_at, photos.c.id)
    return connection.execute(wanted).mappings().all()

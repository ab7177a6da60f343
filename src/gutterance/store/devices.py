"""Rows of devices and of the codes that pair them. Keys and codes are kept as hashes alone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import delete, insert, select, update

from gutterance.store.tables import devices, pairing_codes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection, RowMapping


def add_device(connection: Connection, **values: Any) -> None:
    """Add a device."""
    connection.execute(insert(devices).values(**values))


def device_row(connection: Connection, device_id: str) -> RowMapping | None:
    """A device, dropped or not, or None."""
    return connection.execute(select(devices).where(devices.c.id == device_id)).mappings().one_or_none()


def all_devices(connection: Connection) -> Sequence[RowMapping]:
    """Every device there was, those in use first, the last seen first."""
    wanted = select(devices).order_by(devices.c.dropped_at.is_not(None), devices.c.seen_at.desc())
    return connection.execute(wanted).mappings().all()


def set_device(connection: Connection, device_id: str, **values: str) -> None:
    """Change columns of a device: seen_at, dropped_at."""
    connection.execute(update(devices).where(devices.c.id == device_id).values(**values))


def add_code(connection: Connection, code_hash: str, role: str, expires_at: str) -> None:
    """Add a pairing code that was not tried yet."""
    connection.execute(
        insert(pairing_codes).values(hash=code_hash, role=role, expires_at=expires_at, tries=0)
    )


def open_codes(connection: Connection, at: str, most_tries: int) -> Sequence[RowMapping]:
    """The codes that may still be used, held for this change alone until it is kept."""
    wanted = (
        select(pairing_codes)
        .where(pairing_codes.c.expires_at > at, pairing_codes.c.tries < most_tries)
        .with_for_update()
    )
    return connection.execute(wanted).mappings().all()


def count_try(connection: Connection) -> None:
    """Count a wrong try against every code there is: nobody knows which it was meant for."""
    connection.execute(update(pairing_codes).values(tries=pairing_codes.c.tries + 1))


def clear_code(connection: Connection, code_hash: str) -> None:
    """Forget a code, used or given up."""
    connection.execute(delete(pairing_codes).where(pairing_codes.c.hash == code_hash))


def clear_old_codes(connection: Connection, at: str) -> None:
    """Forget the codes whose time is over."""
    connection.execute(delete(pairing_codes).where(pairing_codes.c.expires_at <= at))

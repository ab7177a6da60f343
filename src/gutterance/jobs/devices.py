"""The devices of an office: paired once by a code that the office shows, known by a key, dropped at will."""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from gutterance.jobs.errors import NotThere, Unusable
from gutterance.jobs.identity import SIGNS, new_id, sha256_of
from gutterance.jobs.office import ROLES, Person
from gutterance.store import devices as rows
from gutterance.store import moments

if TYPE_CHECKING:
    from sqlalchemy import RowMapping

    from gutterance.jobs.office import Office, Role

CODE_LENGTH = 8
"""Signs of a code: 40 random bits."""

CODE_LIFE = timedelta(minutes=10)
MOST_TRIES = 10
"""Wrong codes typed anywhere until every code that was open is void: one in 10^11 to guess one."""

LONGEST_NAME = 60
_SEEN_EVERY = timedelta(minutes=5)
_READ_AS = str.maketrans("ilo", "110", " -·\t\n")


@dataclass(frozen=True, slots=True)
class Device:
    """A device as the office sees it. Times are ISO 8601 in UTC."""

    id: str
    name: str
    role: Role
    paired_at: str
    seen_at: str
    dropped_at: str | None


@dataclass(frozen=True, slots=True)
class PairingCode:
    """A code to type on a device: `code` as it is shown, good once until `expires_at`."""

    code: str
    role: Role
    expires_at: str


@dataclass(frozen=True, slots=True)
class Paired:
    """A device just paired. Its `key` is told this once: the office keeps its hash."""

    device: Device
    key: str


class WrongCode(Unusable):
    """No open code is the one that was typed."""


def new_code(office: Office, role: Role) -> PairingCode:
    """Make a code that pairs one device for a role. Raises Unusable for no role."""
    if role not in ROLES:
        raise Unusable("there is no such role", f"choose {', '.join(ROLES)}")
    code = "".join(secrets.choice(SIGNS) for _ in range(CODE_LENGTH))
    now = office.now()
    expires_at = moments.moment(datetime.fromisoformat(now) + CODE_LIFE)
    with office.database.writing() as connection:
        rows.clear_old_codes(connection, now)
        rows.add_code(connection, _hash(code), role, expires_at)
    return PairingCode(f"{code[:4]}-{code[4:]}".upper(), role, expires_at)


def pair(office: Office, code: str, name: str) -> Paired:
    """Pair a device by a code typed on it, under a name for people; the code is forgotten with that.

    Raises Unusable for no name, and WrongCode; a wrong code counts against every open one.
    """
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_NAME:
        raise Unusable(
            "a device needs a name" if not name else f"a name has at most {LONGEST_NAME} characters",
            "give it the name of who carries it",
        )
    tried = _hash(_plain(code))
    key = secrets.token_urlsafe(32)
    with office.database.writing() as connection:
        now = office.now()
        found = None
        # every one is compared, each in constant time: how long it takes tells nothing
        for row in rows.open_codes(connection, now, MOST_TRIES):
            if hmac.compare_digest(row["hash"], tried):
                found = row
        if found is not None:
            rows.clear_code(connection, found["hash"])
            device_id = new_id()
            rows.add_device(
                connection, id=device_id, name=name, role=found["role"], key_hash=_hash(key), paired_at=now,
                seen_at=now,
            )  # fmt: skip
            return Paired(Device(device_id, name, found["role"], now, now, None), key)
        rows.count_try(connection)
    raise WrongCode(
        "that code is not one that is open now", "look at it again, or have the office make a new one"
    )


def person_of(office: Office, device_id: str, key: str) -> Person | None:
    """Who uses the device that shows this key; None where there is no such device, or it was dropped."""
    with office.database.reading() as connection:
        row = rows.device_row(connection, device_id)
    if row is None or row["dropped_at"] is not None or not hmac.compare_digest(row["key_hash"], _hash(key)):
        return None
    now = office.now()
    if datetime.fromisoformat(now) - datetime.fromisoformat(row["seen_at"]) > _SEEN_EVERY:
        with office.database.writing() as connection:
            rows.set_device(connection, device_id, seen_at=now)
    return Person(row["name"], row["role"], row["id"])


def drop(office: Office, device_id: str) -> Device:
    """Drop a device: from now on it is nobody's. What came from it stays. Raises NotThere."""
    with office.database.writing() as connection:
        row = rows.device_row(connection, device_id)
        if row is None:
            raise NotThere("there is no such device", "look at the list of devices")
        if row["dropped_at"] is None:
            rows.set_device(connection, device_id, dropped_at=office.now())
            row = rows.device_row(connection, device_id)
        assert row is not None
        return _device(row)


def devices(office: Office) -> list[Device]:
    """Every device there was, those in use first."""
    with office.database.reading() as connection:
        return [_device(row) for row in rows.all_devices(connection)]


def _device(row: RowMapping) -> Device:
    return Device(**{name: row[name] for name in Device.__slots__})


def _plain(code: str) -> str:
    """A code as it was typed, without what people put between, and with what they mistake put right.

    >>> _plain(" 9F3k-o1lB ")
    '9f3k011b'
    """
    return code[:64].lower().translate(_READ_AS)


def _hash(secret: str) -> str:
    return sha256_of(secret.encode("utf-8", "replace"))

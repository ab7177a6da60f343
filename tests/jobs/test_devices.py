"""Devices: a code pairs one, once, in time; wrong ones run out; a dropped one is nobody's."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import pytest
from sqlalchemy import select

from gutterance.jobs import devices
from gutterance.jobs.devices import CODE_LIFE, MOST_TRIES, WrongCode
from gutterance.jobs.errors import NotThere, Unusable
from gutterance.jobs.office import Office
from gutterance.shop import load_shop
from gutterance.store import moments, open_database
from gutterance.store.tables import devices as device_rows
from gutterance.store.tables import pairing_codes

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


class Clock:
    """A clock that a test turns."""

    def __init__(self) -> None:
        self.at = datetime.fromisoformat("2026-03-09T14:02:00+00:00")

    def __call__(self) -> str:
        return moments.moment(self.at)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def office(tmp_path: Path, clock: Clock, database_url: str | None) -> Iterator[Office]:
    made = Office(open_database(tmp_path, database_url), tmp_path, load_shop(None), now=clock)
    yield made
    made.database.close()


def test_a_code_pairs_one_device_once(office: Office) -> None:
    code = devices.new_code(office, "measure")
    paired = devices.pair(office, code.code, "  Long   ladder ")
    assert (paired.device.name, paired.device.role) == ("Long ladder", "measure")
    with pytest.raises(WrongCode):
        devices.pair(office, code.code, "another")
    who = devices.person_of(office, paired.device.id, paired.key)
    assert who is not None
    assert (who.name, who.role, who.device) == ("Long ladder", "measure", paired.device.id)


@pytest.mark.parametrize("typed", ["{code}", " {lower} ", "{bare}", "{spaced}"])
def test_a_code_is_read_as_people_type_it(office: Office, typed: str) -> None:
    code = devices.new_code(office, "crew").code
    given = {"code": code, "lower": code.lower(), "bare": code.replace("-", ""), "spaced": " ".join(code)}
    assert devices.pair(office, typed.format(**given), "x").device.role == "crew"


def test_signs_that_people_mistake_are_read_as_what_they_stand_for(office: Office) -> None:
    for _ in range(200):
        code = devices.new_code(office, "crew").code
        assert not set(code.lower()) & set("ilou")
        if set(code) & set("01"):
            break
    mistaken = code.replace("0", "O").replace("1", "l")
    assert devices.pair(office, mistaken, "x").device.role == "crew"


def test_a_code_is_good_for_its_time_and_no_longer(office: Office, clock: Clock) -> None:
    early, late = devices.new_code(office, "crew"), devices.new_code(office, "crew")
    clock.at += CODE_LIFE - timedelta(seconds=1)
    assert devices.pair(office, early.code, "x")
    clock.at += timedelta(seconds=1)
    with pytest.raises(WrongCode):
        devices.pair(office, late.code, "x")


def test_wrong_tries_void_every_open_code_and_a_new_one_works(office: Office) -> None:
    code = devices.new_code(office, "office")
    for _ in range(MOST_TRIES):
        with pytest.raises(WrongCode):
            devices.pair(office, "0000-0000" if code.code != "0000-0000" else "1111-1111", "x")
    with pytest.raises(WrongCode):
        devices.pair(office, code.code, "x")
    assert devices.pair(office, devices.new_code(office, "office").code, "x")


def test_neither_code_nor_key_is_kept_as_it_is(office: Office) -> None:
    unused = devices.new_code(office, "crew").code
    paired = devices.pair(office, devices.new_code(office, "crew").code, "x")
    with office.database.reading() as connection:
        kept = repr([list(connection.execute(select(table))) for table in (device_rows, pairing_codes)])
    assert paired.device.id in kept
    for secret in (paired.key, unused, unused.replace("-", ""), unused.replace("-", "").lower()):
        assert secret not in kept


def test_a_dropped_device_is_nobodys_at_once(office: Office) -> None:
    paired = devices.pair(office, devices.new_code(office, "crew").code, "x")
    other = devices.pair(office, devices.new_code(office, "crew").code, "y")
    devices.drop(office, paired.device.id)
    assert devices.person_of(office, paired.device.id, paired.key) is None
    assert devices.person_of(office, other.device.id, other.key) is not None
    assert [one.name for one in devices.devices(office)] == ["y", "x"]
    with pytest.raises(NotThere):
        devices.drop(office, "none-such")


def test_a_key_opens_no_other_device(office: Office) -> None:
    one = devices.pair(office, devices.new_code(office, "office").code, "x")
    other = devices.pair(office, devices.new_code(office, "crew").code, "y")
    assert devices.person_of(office, one.device.id, other.key) is None
    assert devices.person_of(office, one.device.id, "") is None


def test_when_a_device_was_last_seen_is_kept(office: Office, clock: Clock) -> None:
    paired = devices.pair(office, devices.new_code(office, "crew").code, "x")
    clock.at += timedelta(hours=3)
    devices.person_of(office, paired.device.id, paired.key)
    assert devices.devices(office)[0].seen_at == clock()


@pytest.mark.parametrize("name", ["", "   ", "n" * 61])
def test_a_name_there_must_be(office: Office, name: str) -> None:
    code = devices.new_code(office, "crew")
    with pytest.raises(Unusable):
        devices.pair(office, code.code, name)
    assert devices.pair(office, code.code, "n" * 60)

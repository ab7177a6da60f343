"""Copies: made while the database is in use, read back, kept a while, never written over."""

from __future__ import annotations

import os
import sqlite3
import threading
import time
from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest
from sqlalchemy import select

from gutterance.store import DamagedDatabase, open_database
from gutterance.store import jobs as rows
from gutterance.store import photos as photo_rows
from gutterance.store.copies import DAYS_KEPT, back_up, copies_in, copy_of_day, is_whole
from gutterance.store.daily_copies import daily_copies
from gutterance.store.opening import FILE_NAME
from gutterance.store.tables import metadata

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.store import Database

AT = "2026-03-09T14:02:00.000000+00:00"


def filled(folder: Path, url: str | None) -> Database:
    database = open_database(folder, url)
    with database.writing() as connection:
        for number in range(30):
            rows.add_job(connection, f"job-{number:04}", f"{number} Heron Row ½ 雨", "measuring", AT)
        photo_rows.add_photo_row(
            connection, id="photo-1", job_id="job-0001", line_id=None, type="image/jpeg", sha256="0" * 64,
            size=70000, content=os.urandom(70000), received_at=AT, by="x",
        )  # fmt: skip
    return database


def everything(database: Database) -> list[object]:
    with database.reading() as connection:
        return [sorted(map(repr, connection.execute(select(table)))) for table in metadata.sorted_tables]


def test_a_copy_is_the_same_to_the_byte_on_either_database(tmp_path: Path, database_url: str | None) -> None:
    database = filled(tmp_path / "office", database_url)
    other = tmp_path / "other" / FILE_NAME
    back_up(database, other)
    copy = open_database(other.parent)
    assert everything(copy) == everything(database)
    assert [one.name for one in other.parent.iterdir() if "new" in one.name] == []
    copy.close()
    database.close()


def test_a_copy_is_one_moment_while_lines_come_in(tmp_path: Path, database_url: str | None) -> None:
    """Two jobs are always added together: a copy with one of them would be of no moment there was."""
    database = open_database(tmp_path / "office", database_url)
    ended = threading.Event()

    def add() -> None:
        number = 0
        while not ended.is_set():
            number += 1
            with database.writing() as connection:
                rows.add_job(connection, f"left-{number:05}", "x", "measuring", AT)
                rows.add_job(connection, f"right-{number:05}", "x", "measuring", AT)

    worker = threading.Thread(target=add)
    worker.start()
    try:
        time.sleep(0.05)
        for number in range(4):
            back_up(database, tmp_path / f"{number}" / FILE_NAME)
    finally:
        ended.set()
        worker.join()
    counts = []
    for number in range(4):
        copy = open_database(tmp_path / f"{number}")
        with copy.reading() as connection:
            ids = [row["id"] for row in rows.find_jobs(connection)]
        copy.close()
        assert {one.removeprefix("left") for one in ids if one.startswith("left")} == {
            one.removeprefix("right") for one in ids if one.startswith("right")
        }
        counts.append(len(ids))
    assert counts == sorted(counts)
    assert counts[-1] > counts[0] > 0
    database.close()


def test_a_damaged_database_gives_no_copy_and_takes_none_away(tmp_path: Path) -> None:
    database = filled(tmp_path, None)
    copy_of_day(database, tmp_path, "2026-03-08")
    database.close()
    file = tmp_path / FILE_NAME
    data = bytearray(file.read_bytes())
    data[8192:60000] = b"\xa5" * (60000 - 8192)
    file.write_bytes(data)
    with pytest.raises((DamagedDatabase, sqlite3.DatabaseError)):
        copy_of_day(database, tmp_path, "2026-03-09")
    assert [one.name for one in (tmp_path / "copies").iterdir()] == ["jobs-2026-03-08.sqlite3"]
    database.close()


def test_a_copy_a_day_two_weeks_of_them_and_one_of_each_month(tmp_path: Path) -> None:
    database = open_database(tmp_path)
    by_hand = tmp_path / "copies" / "jobs-2025-01-02-101500.sqlite3"
    back_up(database, by_hand)
    day = date(2025, 1, 1)
    while day < date(2026, 3, 9):
        (tmp_path / "copies" / f"jobs-{day}.sqlite3").touch()
        day += timedelta(days=1)
    assert copy_of_day(database, tmp_path, "2026-03-09") is not None
    assert copy_of_day(database, tmp_path, "2026-03-09") is None
    kept = [one.stem for one in copies_in(tmp_path)]
    assert kept[:DAYS_KEPT] == [
        f"jobs-{date(2026, 3, 9) - timedelta(days=back)}" for back in range(DAYS_KEPT)
    ]
    assert kept[DAYS_KEPT:-1] == [
        "jobs-2026-01-31", "jobs-2025-12-31", "jobs-2025-11-30", "jobs-2025-10-31", "jobs-2025-09-30",
        "jobs-2025-08-31", "jobs-2025-07-31", "jobs-2025-06-30", "jobs-2025-05-31", "jobs-2025-04-30",
    ]  # fmt: skip
    assert by_hand.exists()
    database.close()


def test_a_copy_is_made_at_the_start_and_when_a_day_begins(tmp_path: Path) -> None:
    database = filled(tmp_path, None)
    days = ["2026-03-09"]
    told: list[str] = []
    with daily_copies(database, tmp_path, told.append, lambda: days[-1], every=0.01):
        _until(lambda: len(copies_in(tmp_path)) == 1)
        days.append("2026-03-10")
        _until(lambda: len(copies_in(tmp_path)) == 2)
    assert all(is_whole(one) for one in copies_in(tmp_path))
    assert told == []
    database.close()


def test_a_copy_that_cannot_be_made_is_told_and_nothing_stops(tmp_path: Path) -> None:
    database = filled(tmp_path, None)
    (tmp_path / "copies").write_text("in the way")
    told: list[str] = []
    with daily_copies(database, tmp_path, told.append, lambda: "2026-03-09", every=0.01):
        _until(lambda: bool(told))
    assert "copy could not be made" in told[0]
    database.close()


def _until(true: object) -> None:
    for _ in range(1000):
        if true():  # type: ignore[operator]
            return
        time.sleep(0.01)
    raise AssertionError("it did not happen")

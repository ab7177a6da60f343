"""Changes that share a wait for the disk: each whole or undone by itself, and none told before it is down."""

from __future__ import annotations

import contextlib
import sqlite3
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from typing import TYPE_CHECKING

import pytest
from sqlalchemy.exc import OperationalError

from gutterance.store import StoreError, open_database
from gutterance.store import jobs as rows
from gutterance.store.opening import FILE_NAME

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from gutterance.store import Database

AT = "2026-03-09T14:02:00.000000+00:00"


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    opened = open_database(tmp_path)
    yield opened
    opened.close()


def on_disk(folder: Path) -> set[str]:
    """What another process would see."""
    with closing(sqlite3.connect(folder / FILE_NAME)) as other:
        return {row[0] for row in other.execute("SELECT id FROM jobs")}


def together(database: Database, works: list[object]) -> list[BaseException | None]:
    """Do the works in one transaction: all wait for their turn before the first may go on."""
    held, started = threading.Event(), threading.Event()
    ended: list[BaseException | None] = [None] * len(works)

    def hold() -> None:
        with contextlib.suppress(StoreError), database.writing():
            started.set()
            held.wait()

    def do(number: int) -> None:
        try:
            with database.writing() as connection:
                works[number](connection)  # type: ignore[operator]
        except BaseException as error:
            ended[number] = error

    holder = threading.Thread(target=hold)
    holder.start()
    started.wait()
    workers = [threading.Thread(target=do, args=(number,)) for number in range(len(works))]
    for one in workers:
        one.start()
    while database._writers._waiting < len(works):
        time.sleep(0.001)
    held.set()
    for one in (holder, *workers):
        one.join()
    return ended


def adds(job: str) -> object:
    return lambda connection: rows.add_job(connection, job, "x", "measuring", AT)


def test_each_is_on_the_disk_when_it_is_told(database: Database, tmp_path: Path) -> None:
    def add(number: int) -> bool:
        with database.writing() as connection:
            rows.add_job(connection, f"job-{number:04}", "x", "measuring", AT)
        return f"job-{number:04}" in on_disk(tmp_path)

    with ThreadPoolExecutor(16) as pool:
        assert all(pool.map(add, range(200)))


def test_one_that_fails_takes_no_other_with_it(database: Database, tmp_path: Path) -> None:
    def fail(connection: object) -> None:
        adds("job-lost")(connection)  # type: ignore[operator]
        raise ZeroDivisionError

    ended = together(database, [adds("job-0001"), fail, adds("job-0002"), adds("job-0001")])
    assert sum(isinstance(one, ZeroDivisionError) for one in ended) == 1
    # the same id a second time, whichever came second
    assert sum(one is not None for one in ended) == 2
    assert on_disk(tmp_path) == {"job-0001", "job-0002"}


def test_where_the_disk_gives_up_nobody_is_told_that_it_is_kept(database: Database, tmp_path: Path) -> None:
    """SQLite gives the whole transaction up for a full disk: those before in it are lost, and hear so."""

    def fills_the_disk(connection: object) -> None:
        connection.exec_driver_sql("ROLLBACK")  # type: ignore[attr-defined]
        raise OperationalError("", {}, sqlite3.OperationalError("database or disk is full"))

    ended = together(database, [adds("job-0001"), fills_the_disk, adds("job-0002")])
    kept = on_disk(tmp_path)
    for job, error in (("job-0001", ended[0]), ("job-0002", ended[2])):
        assert (error is None) == (job in kept), (job, error)
    assert isinstance(ended[1], StoreError)
    assert sum(isinstance(one, StoreError) for one in ended) > 1
    with database.writing() as connection:
        rows.add_job(connection, "job-0003", "x", "measuring", AT)
    assert "job-0003" in on_disk(tmp_path)


def test_a_disk_that_is_full_is_told_and_loses_nothing_before(database: Database, tmp_path: Path) -> None:
    with database.writing() as connection:
        rows.add_job(connection, "job-0001", "x", "measuring", AT)
    with database.writing() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
    kept = {"job-0001"}
    with ThreadPoolExecutor(8) as pool:

        def add(number: int) -> str | None:
            try:
                with database.writing() as connection:
                    connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
                    rows.add_job(connection, f"big-{number:04}", "x" * 3000, "measuring", AT)
            except StoreError:
                return None
            return f"big-{number:04}"

        results = list(pool.map(add, range(40)))
    kept |= {one for one in results if one is not None}
    assert None in results
    assert on_disk(tmp_path) == kept


def test_a_change_within_a_change_is_a_defect_that_is_told(database: Database) -> None:
    def nested() -> None:
        with database.writing(), database.writing():
            pass

    with pytest.raises(RuntimeError, match="within a change"):
        nested()
    with database.writing() as connection:
        rows.add_job(connection, "job-0001", "x", "measuring", AT)

"""Copies of the database: made while it is in use, checked, kept a while, and found again.

A copy is a SQLite file whatever it was made from: a PostgreSQL's rows are written to one with the same
tables, so that `--folder` opens it anywhere.
"""

from __future__ import annotations

import os
import re
import sqlite3
from contextlib import closing
from typing import TYPE_CHECKING

from sqlalchemy import insert, select, text

from gutterance.store.errors import DamagedDatabase
from gutterance.store.migrating import migrate
from gutterance.store.tables import metadata

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from gutterance.store.database import Database

FOLDER = "copies"
DAYS_KEPT = 14
MONTHS_KEPT = 12
_AT_ONCE = 100
_OF_DAY = re.compile(r"jobs-\d{4}-\d\d-\d\d\.sqlite3\Z")


def back_up(database: Database, file: Path) -> None:
    """Write a copy of the database to `file`: whole and checked, or nothing. The database stays in use.

    Raises DamagedDatabase for a copy that does not read whole, and OSError.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    aside = file.with_name(f".{file.name}.{os.getpid()}.new")
    aside.unlink(missing_ok=True)
    try:
        if database.file is not None:
            _copy_file(database.file, aside)
        else:
            _copy_rows(database, aside)
        if not is_whole(aside):
            where = database.file or "the database"
            raise DamagedDatabase(f"{where} is damaged: its copy does not read whole")
        _sync(aside)
        os.replace(aside, file)
        _sync(file.parent)
    finally:
        aside.unlink(missing_ok=True)


def copy_of_day(database: Database, folder: Path, day: str) -> Path | None:
    """Make the copy of a day (`2026-03-09`) in an office's folder where it is not there yet; its path if so.

    Old ones are let go of only after that: those of DAYS_KEPT days stay, and the last of MONTHS_KEPT months.
    Copies made by hand all stay.
    """
    file = folder / FOLDER / f"jobs-{day}.sqlite3"
    if file.exists():
        return None
    back_up(database, file)
    for old in _no_longer_kept([one for one in copies_in(folder) if _OF_DAY.match(one.name)]):
        old.unlink()
    return file


def copies_in(folder: Path) -> list[Path]:
    """Every copy kept in an office's folder, the newest first."""
    return sorted((folder / FOLDER).glob("jobs-*.sqlite3"), key=lambda copy: copy.stem, reverse=True)


def good_copies(folder: Path) -> Iterator[Path]:
    """Those that read whole, the newest first."""
    return (copy for copy in copies_in(folder) if is_whole(copy))


def is_whole(file: Path) -> bool:
    """Whether a SQLite file of ours reads whole, each page and each index."""
    try:
        with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True)) as opened:
            checked = opened.execute("PRAGMA integrity_check(1)").fetchone() == ("ok",)
            return checked and opened.execute("SELECT count(*) FROM jobs").fetchone() is not None
    except sqlite3.Error:
        return False


def _no_longer_kept(copies: list[Path]) -> list[Path]:
    """Of copies, the newest first, those past their time."""
    months: dict[str, Path] = {}
    for copy in copies:
        months.setdefault(copy.name[:12], copy)
    kept = {*copies[:DAYS_KEPT], *list(months.values())[:MONTHS_KEPT]}
    return [copy for copy in copies if copy not in kept]


def _copy_file(source: Path, target: Path) -> None:
    with closing(sqlite3.connect(source)) as opened, closing(sqlite3.connect(target)) as copy:
        opened.backup(copy)
        # one file alone, that can be carried: no log beside it
        copy.execute("PRAGMA journal_mode=DELETE")


def _copy_rows(database: Database, target: Path) -> None:
    from gutterance.store.database import Database as Written
    from gutterance.store.database import sqlite_engine

    copy = Written(sqlite_engine(target, alone=True), target)
    try:
        with database.reading() as source, copy.writing() as written:
            source.execute(text("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY"))
            migrate(written)
            for table in metadata.sorted_tables:
                # photos are many megabytes each: a few at a time
                at_once = 2 if table.name == "photos" else _AT_ONCE
                for rows in source.execute(select(table)).mappings().partitions(at_once):
                    written.execute(insert(table), [dict(row) for row in rows])
    finally:
        copy.close()


def _sync(path: Path) -> None:
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)

"""Opening a database: made where there is none, brought up to date where it is older, else refused.

Nothing is ever repaired in place: a damaged file is left as it is, and the last good copy is named.
"""

from __future__ import annotations

import re
from contextlib import contextmanager
from typing import TYPE_CHECKING

from sqlalchemy import insert, select, update
from sqlalchemy.exc import ArgumentError, DatabaseError, OperationalError

from gutterance import __version__
from gutterance.store import migrating
from gutterance.store.copies import FOLDER as COPIES
from gutterance.store.copies import copies_in, good_copies
from gutterance.store.database import Database, server_engine, sqlite_engine
from gutterance.store.errors import DamagedDatabase, NewerDatabase, NotOurDatabase, StoreError
from gutterance.store.tables import about

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from sqlalchemy import Connection

FILE_NAME = "jobs.sqlite3"
_ONE_AT_A_TIME = 0x67757474
_SERVER = re.compile(r"postgres(?:ql)?(?:\+psycopg)?://", re.IGNORECASE)


def open_database(folder: Path, url: str | None = None) -> Database:
    """Open the database in `folder`, or the PostgreSQL at `url`; make its tables where it has none.

    Raises StoreError: NewerDatabase, DamagedDatabase (which names the last good copy), NotOurDatabase.
    """
    database = _of_server(url) if url is not None else _of_folder(folder)
    try:
        with _told(database, folder), database.writing() as connection:
            _check_whole(connection, database)
            _bring_up_to_date(connection, database)
    except BaseException:
        database.close()
        raise
    return database


def _of_folder(folder: Path) -> Database:
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / FILE_NAME
    if (not file.exists() or file.stat().st_size == 0) and copies_in(folder):
        # a new and empty one in its place would hide that the jobs are gone
        raise _damaged(file, folder, "it is gone or empty, though there are copies of it")
    return Database(sqlite_engine(file), file)


def _of_server(url: str) -> Database:
    if not _SERVER.match(url):
        raise StoreError("--database wants postgresql://user@host/name: SQLite needs none, only --folder")
    try:
        return Database(server_engine(_SERVER.sub("postgresql+psycopg://", url, count=1)))
    except (ArgumentError, ValueError) as error:
        raise StoreError("--database is no address: write postgresql://user@host/name") from error
    except ModuleNotFoundError as error:
        raise StoreError(
            "PostgreSQL needs psycopg, which is not there: install gutterance[postgresql]"
        ) from error


@contextmanager
def _told(database: Database, folder: Path) -> Iterator[None]:
    try:
        yield
    except DamagedDatabase as error:
        raise _damaged(database.file, folder, str(error)) from error
    except StoreError as error:
        cause = error.__cause__
        if not isinstance(cause, OperationalError):
            raise
        if database.file is None:
            # the driver's words may quote the address with its password: they are left out
            raise StoreError(
                "the database server does not answer: is it running, and is --database right?"
            ) from None
        raise StoreError(
            f"{database.file} cannot be opened ({cause.orig}): check the folder and your rights"
        ) from cause
    except DatabaseError as error:
        if database.file is None:
            raise
        raise _damaged(database.file, folder, str(error.orig)) from error


def _damaged(file: Path | None, folder: Path, what: str) -> DamagedDatabase:
    last = next(good_copies(folder), None)
    mend = (
        f"the last good copy is {last}: move {FILE_NAME} and what begins with its name away, "
        "put the copy there under that name, and start again; phones send again what it lacks"
        if last is not None
        else f"there is no good copy in {folder / COPIES}: keep the file as it is, and ask for help"
    )
    return DamagedDatabase(f"{file} is damaged ({what.partition(chr(10))[0]}): {mend}")


def _check_whole(connection: Connection, database: Database) -> None:
    if database.file is None:
        return
    said = [row[0] for row in connection.exec_driver_sql("PRAGMA quick_check(1)")]
    if said != ["ok"]:
        raise DamagedDatabase(str(said[0]))


def _bring_up_to_date(connection: Connection, database: Database) -> None:
    where = database.file or "the database"
    if database.file is None:
        # two servers may start at once: one of them makes the tables
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_ONE_AT_A_TIME})")
    step = migrating.step_of(connection)
    if step is None and migrating.has_tables(connection):
        raise NotOurDatabase(f"{where} holds something else: give an empty folder or database")
    if step is not None and step not in migrating.known_steps():
        wrote = connection.scalar(select(about.c.value).where(about.c.key == "written_by"))
        raise NewerDatabase(
            f"{where} was written by {wrote or 'a newer gutterance'}, this is {__version__}: "
            "install that version or a newer one; nothing was changed"
        )
    if step != migrating.newest_step():
        migrating.migrate(connection)
    _sign(connection)


def _sign(connection: Connection) -> None:
    says = f"gutterance {__version__}"
    signed = connection.scalar(select(about.c.value).where(about.c.key == "written_by"))
    if signed is None:
        connection.execute(insert(about).values(key="written_by", value=says))
    elif signed != says:
        connection.execute(update(about).where(about.c.key == "written_by").values(value=says))

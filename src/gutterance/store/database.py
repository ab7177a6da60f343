"""One database, and how it is written: whole changes, one writer at a time, on the disk before it is told."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from sqlalchemy import create_engine, event
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.pool import QueuePool

from gutterance.store.errors import DamagedDatabase, StoreError
from gutterance.store.shared_commits import SharedCommits

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from sqlalchemy import Connection, Engine

BUSY_MS = 30_000
"""How long [ms] a change waits for another program's (a backup's) before it gives up."""

_DAMAGE_WORDS = ("malformed", "not a database", "disk image")


@dataclass(slots=True)
class Database:
    """An open database. `file` is None for a PostgreSQL."""

    engine: Engine
    file: Path | None = None
    _writers: SharedCommits = field(init=False)

    def __post_init__(self) -> None:
        self._writers = SharedCommits(self.engine)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection that sees the database as it is at one moment."""
        with _damage_told(self), self.engine.begin() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection whose changes are all kept, and on the disk, when the block ends; or none of them."""
        with _damage_told(self):
            # a server shares its own waits for the disk
            change = self.engine.begin() if self.file is None else self._writers.change()
            with change as connection:
                yield connection

    def close(self) -> None:
        """Close every connection."""
        self.engine.dispose()


@contextmanager
def _damage_told(database: Database) -> Iterator[None]:
    try:
        yield
    except DatabaseError as error:
        if database.file is not None and any(word in str(error.orig) for word in _DAMAGE_WORDS):
            raise DamagedDatabase(
                f"{database.file} is damaged ({error.orig}): start gutterance again, it names a copy"
            ) from error
        if isinstance(error, OperationalError):
            raise StoreError(
                f"the database cannot be used just now ({type(error.orig).__name__}: {error.orig}): "
                "is its disk full, or its server gone? Nothing of this was kept, try again"
            ) from error
        raise


def sqlite_engine(file: Path, *, alone: bool = False) -> Engine:
    """An engine for a SQLite file: each commit synced, foreign keys held; a log beside it unless `alone`."""
    journal = "journal_mode=DELETE" if alone else "journal_mode=WAL"
    engine = create_engine(
        f"sqlite:///{file}",
        poolclass=QueuePool,
        pool_size=8,
        max_overflow=40,
        connect_args={"timeout": BUSY_MS / 1000, "check_same_thread": False},
    )

    # pysqlite would begin late, and not for every statement: begin ourselves, and say at once who writes
    @event.listens_for(engine, "connect")
    def prepare(opened: Any, _record: Any) -> None:
        opened.isolation_level = None
        for setting in (journal, "synchronous=FULL", "foreign_keys=ON"):
            opened.execute(f"PRAGMA {setting}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def server_engine(url: str) -> Engine:
    """An engine for a PostgreSQL server, through psycopg."""
    return create_engine(url, pool_size=8, max_overflow=40, pool_pre_ping=True)

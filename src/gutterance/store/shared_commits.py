"""One writer at a time, and one wait for the disk for all who write at once.

A disk takes milliseconds to say that a change is down, whatever its size. So changes that wait for their
turn are made one after another in one transaction, each by itself whole or undone, and are all told when that
is down. None is told before.
"""

from __future__ import annotations

import threading
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.store.errors import StoreError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sqlalchemy import Connection, Engine

MOST_AT_ONCE = 32
"""Changes in one transaction, so that the first of them does not wait for ever."""


@dataclass(slots=True)
class _Together:
    """Changes of one transaction: when it is `down`, all are; or none, for that `error`."""

    connection: Connection
    count: int = 0
    down: threading.Event = field(default_factory=threading.Event)
    error: BaseException | None = None


class SharedCommits:
    """The writers of one SQLite file in this process."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._turn = threading.Lock()
        self._counting = threading.Lock()
        self._waiting = 0
        self._open: _Together | None = None
        self._writer: int | None = None

    @contextmanager
    def change(self) -> Iterator[Connection]:
        """A connection whose changes are on the disk when the block ends, or none of them. Never nested."""
        if self._writer == threading.get_ident():
            raise RuntimeError("a change within a change would wait for itself")
        with self._counting:
            self._waiting += 1
        with self._turn:
            with self._counting:
                self._waiting -= 1
            self._writer = threading.get_ident()
            try:
                together = self._open = self._open or self._begun()
                together.count += 1
                try:
                    with _whole_or_undone(together.connection) as connection:
                        yield connection
                finally:
                    if together.count >= MOST_AT_ONCE or not self._waiting:
                        self._open = None
                        _put_down(together)
            finally:
                self._writer = None
        together.down.wait()
        if together.error is not None:
            raise together.error

    def _begun(self) -> _Together:
        connection = self._engine.connect().execution_options(writes=True)
        try:
            connection.begin()
        except BaseException:
            connection.close()
            raise
        return _Together(connection)


@contextmanager
def _whole_or_undone(connection: Connection) -> Iterator[Connection]:
    _refuse_if_given_up(connection)
    connection.exec_driver_sql("SAVEPOINT one")
    try:
        yield connection
    except BaseException:
        if _stands(connection):
            connection.exec_driver_sql("ROLLBACK TO one")
            connection.exec_driver_sql("RELEASE one")
        raise
    _refuse_if_given_up(connection)
    connection.exec_driver_sql("RELEASE one")


def _put_down(together: _Together) -> None:
    try:
        _refuse_if_given_up(together.connection)
        together.connection.commit()
    except BaseException as error:
        together.error = error
    finally:
        together.connection.close()
        together.down.set()


def _stands(connection: Connection) -> bool:
    """Whether the transaction is still there: SQLite gives up all of it when a disk is full or fails."""
    opened: Any = connection.connection.dbapi_connection
    return bool(opened.in_transaction)


def _refuse_if_given_up(connection: Connection) -> None:
    # a commit of a transaction that is gone would say that all is well
    if not _stands(connection):
        raise StoreError("the disk did not take it (is it full?): nothing of this was kept, try again")

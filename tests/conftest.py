"""What tests of several packages share."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from postgres_server import PostgresServer


@pytest.fixture(scope="session")
def postgres() -> Iterator[PostgresServer]:
    """A PostgreSQL server, one for all tests; each asks it for a fresh database."""
    from postgres_server import PostgresServer

    started = PostgresServer().start()
    yield started
    started.stop()


@pytest.fixture(params=["SQLite", "PostgreSQL"])
def database_url(request: pytest.FixtureRequest) -> str | None:
    """None for SQLite, then a fresh PostgreSQL's address: what uses it is tested on both."""
    if request.param == "SQLite":
        return None
    server: PostgresServer = request.getfixturevalue("postgres")
    return server.fresh()

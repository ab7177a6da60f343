"""What tests of several packages share: a PostgreSQL server, and a real browser."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser
    from postgres_server import PostgresServer


# No test is timed: the first example of a property pays for loading the reader, perhaps on a busy machine.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


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


_ARGUMENTS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's chromium, one for all tests."""
    from playwright.sync_api import sync_playwright

    found = shutil.which("chromium")
    assert found is not None, "chromium is not there: sh tools/install-test-programs.sh .venv/test-programs"
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=found, args=_ARGUMENTS)
        yield opened
        opened.close()

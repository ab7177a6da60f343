"""What the tests of the pages share: a server of their own, and a real browser that reaches nothing else."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest
from office_server import OfficeServer

from gutterance.web.hosts import own_addresses

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, BrowserContext, Page

ROOT = Path(__file__).parents[2]
AXE = ROOT / ".venv" / "test-programs" / "node_modules" / "axe-core" / "axe.min.js"
PHONE = {"width": 390, "height": 844}
TABLET = {"width": 820, "height": 1180}
DESK = {"width": 1440, "height": 900}
HERE = {"127.0.0.1", "localhost", *own_addresses()}
"""This machine: what a page may ask, and nothing else."""
SIZES = {"phone": PHONE, "tablet": TABLET, "desk": DESK}


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OfficeServer]:
    """A server that the tests of one module share: each starts a job of its own."""
    started = OfficeServer(tmp_path_factory.mktemp("office") / "folder").start()
    yield started
    started.stop()


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[OfficeServer]:
    """A server for one test alone, which may kill it and start it again."""
    started = OfficeServer(tmp_path / "folder").start()
    yield started
    started.stop()


class Watched:
    """What a browser context did that no page of ours may do."""

    def __init__(self) -> None:
        self.elsewhere: list[str] = []
        self.complaints: list[str] = []
        self.expected: list[str] = []

    def expect(self, part: str) -> None:
        """Complaints with these words in them are what this test is about."""
        self.expected.append(part)

    def unexpected(self) -> list[str]:
        return [one for one in self.complaints if not any(part in one for part in self.expected)]


@pytest.fixture
def new_context(browser: Browser) -> Iterator[Callable[..., BrowserContext]]:
    """Makes a browser context: a device of its own, with its own storage.

    After the test: no request to another host, no script error, no word about the content security policy.
    `context.watched.expect("...")` lets complaints pass that a test is about.
    """
    made: list[tuple[BrowserContext, Watched]] = []

    def make(size: str = "desk", **options: Any) -> BrowserContext:
        context = browser.new_context(viewport=SIZES[size], **options)
        watched = Watched()
        context.watched = watched  # type: ignore[attr-defined]

        def here_only(route: Any) -> None:
            host = urlsplit(route.request.url).hostname
            if host in HERE:
                route.fallback()
            else:
                watched.elsewhere.append(route.request.url)
                route.abort()

        context.route("**/*", here_only)
        context.on("weberror", lambda error: watched.complaints.append(f"script: {error.error}"))
        context.on(
            "console",
            lambda message: (
                watched.complaints.append(f"console: {message.text}") if message.type == "error" else None
            ),
        )
        made.append((context, watched))
        return context

    yield make
    for context, watched in made:
        context.close()
        assert watched.elsewhere == []
        assert watched.unexpected() == []


@pytest.fixture
def desk(new_context: Callable[..., BrowserContext]) -> Page:
    """A page on a desk's screen."""
    return new_context("desk").new_page()


@pytest.fixture
def phone(new_context: Callable[..., BrowserContext]) -> Page:
    """A page on a phone."""
    return new_context("phone", has_touch=True, is_mobile=True).new_page()


@pytest.fixture
def tablet(new_context: Callable[..., BrowserContext]) -> Page:
    """A page on a tablet."""
    return new_context("tablet", has_touch=True).new_page()


@pytest.fixture
def axe() -> Callable[[Page], list[str]]:
    """Checks a page against WCAG 2.2 A and AA with axe-core; what it finds, one sentence a fault."""

    def check(page: Page) -> list[str]:
        # the page's own policy lets no script in from outside: the browser is asked to run it instead
        page.evaluate(AXE.read_text(encoding="utf-8"))
        tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"]
        found = page.evaluate("tags => axe.run({runOnly: {type: 'tag', values: tags}})", tags)
        return [
            f"{fault['id']}: {fault['help']}: {[node['target'] for node in fault['nodes']]}"
            for fault in found["violations"]
        ]

    return check


@pytest.fixture
def look() -> Callable[[Page, str], None]:
    """Keeps a picture of the page in the folder that GUTTERANCE_PICTURES names, where it names one."""

    def keep(page: Page, name: str) -> None:
        folder = os.environ.get("GUTTERANCE_PICTURES")
        if folder:
            page.screenshot(path=str(Path(folder) / f"{name}.png"), full_page=True)

    return keep

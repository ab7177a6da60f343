"""The list of jobs, as plain forms in a real browser."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from office_server import OfficeServer
    from playwright.sync_api import BrowserContext, Page


def test_a_job_is_found_by_words_of_its_note(server: OfficeServer, desk: Page) -> None:
    job = server.started_job("9 Sorrel Close", "Front 42-6 OSC both ends, mind the wasps")
    server.started_job("2 Teal Mews", "Back 30 ft")
    desk.goto(f"{server.url}/")
    desk.get_by_label("Find").fill("WASPS sorrel")
    desk.get_by_role("button", name="Find").click()
    links = desk.locator(".jobs .title").all()
    assert [link.get_attribute("href") for link in links] == [f"/jobs/{job}/review"]


def test_a_title_that_is_a_script_is_only_words(server: OfficeServer, desk: Page) -> None:
    hostile = "<script>document.title='run'</script><img src=x onerror=\"document.title='run'\">"
    server.started_job(hostile)
    desk.goto(f"{server.url}/")
    assert hostile in desk.locator(".jobs").inner_text()
    assert desk.title() == "Jobs"


@pytest.mark.parametrize("size", ["phone", "tablet", "desk"])
def test_the_page_is_accessible(
    server: OfficeServer,
    new_context: Callable[..., BrowserContext],
    axe: Callable[[Page], list[str]],
    look: Callable[[Page, str], None],
    size: str,
) -> None:
    server.started_job("14 Quarry Lane")
    page = new_context(size).new_page()
    page.goto(f"{server.url}/")
    look(page, f"jobs-{size}")
    assert axe(page) == []

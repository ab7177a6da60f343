"""The list of jobs: how far each is, the archive, copies, and a job carried out and in by its file."""

from __future__ import annotations

import zipfile
from typing import TYPE_CHECKING

import pytest
from office_server import OfficeServer, line_of
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import BrowserContext, Locator, Page

READY = "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4 to splash block"


@pytest.fixture
def elsewhere(tmp_path: Path) -> Iterator[OfficeServer]:
    """Another office."""
    started = OfficeServer(tmp_path / "elsewhere").start()
    yield started
    started.stop()


def assert_titles(page: Page, street: str, wanted: list[str]) -> None:
    """The jobs shown of a street, once the page is there: each test has one of its own in the office."""
    shown: list[str] = []
    for _ in range(50):
        shown = sorted(one for one in page.locator(".jobs .title").all_text_contents() if street in one)
        if shown == wanted:
            return
        page.wait_for_timeout(100)
    assert shown == wanted


def more(page: Page, title: str) -> Locator:
    """The menu of a job, opened."""
    row = page.locator(".jobs li", has=page.get_by_role("link", name=title, exact=True))
    row.locator("summary").click()
    return row


def test_jobs_are_found_by_how_far_they_are(desk: Page, server: OfficeServer) -> None:
    server.started_job("1 Ash Court", READY)
    settled = server.started_job("2 Ash Court", READY)
    open_still = server.started_job("3 Ash Court", "Front 42-6, drop left")
    for job in (settled, open_still):
        desk.goto(f"{server.url}/jobs/{job}/review")
        desk.get_by_role("button", name="Measuring is done").click()
        expect(desk.locator(".facts .state")).not_to_have_text("measuring")
    desk.goto(server.url)
    for state, title in (("measuring", "1"), ("ready", "2"), ("to settle", "3")):
        desk.get_by_role("link", name=state, exact=True).click()
        assert_titles(desk, "Ash Court", [f"{title} Ash Court"])
    desk.goto(f"{server.url}/?search=Ash+Court&state=made")
    expect(desk.locator("main")).to_contain_text("No job here has that")


def test_a_line_from_the_phone_takes_a_ready_job_back_to_be_settled(desk: Page, server: OfficeServer) -> None:
    job = server.started_job("1 Birch Court", READY)
    desk.goto(f"{server.url}/jobs/{job}/review")
    desk.get_by_role("button", name="Measuring is done").click()
    expect(desk.locator(".facts .state")).to_have_text("ready")
    with server.client() as client:
        client.post(f"/api/jobs/{job}/lines", json=line_of("Garage 20-0")).raise_for_status()
        assert client.get(f"/api/jobs/{job}").json()["state"] in ("ready", "to settle")
    desk.goto(server.url)
    row = desk.locator(".jobs li", has_text="1 Birch Court")
    expect(row.locator(".state")).to_have_text("to settle")


def test_a_job_goes_to_the_archive_and_comes_back(desk: Page, server: OfficeServer) -> None:
    server.started_job("1 Cedar Court", READY)
    desk.goto(server.url)
    more(desk, "1 Cedar Court").get_by_role("button", name="Archive").click()
    expect(desk.get_by_role("status")).to_contain_text("“1 Cedar Court” is in the archive")
    assert_titles(desk, "Cedar Court", [])
    desk.get_by_role("link", name="Archive").click()
    assert_titles(desk, "Cedar Court", ["1 Cedar Court"])
    more(desk, "1 Cedar Court").get_by_role("button", name="Take out of the archive").click()
    assert_titles(desk, "Cedar Court", ["1 Cedar Court"])


def test_a_job_is_copied_and_renamed(desk: Page, server: OfficeServer) -> None:
    server.started_job("1 Dogwood Court", READY)
    desk.goto(server.url)
    more(desk, "1 Dogwood Court").get_by_role("button", name="Copy").click()
    assert_titles(desk, "Dogwood", ["1 Dogwood Court", "1 Dogwood Court (copy)"])
    row = more(desk, "1 Dogwood Court (copy)")
    row.get_by_label("Title").fill("1 Dogwood Court, rear")
    row.get_by_role("button", name="Rename").click()
    assert_titles(desk, "Dogwood", ["1 Dogwood Court", "1 Dogwood Court, rear"])


def test_a_job_is_carried_to_another_office_in_the_browser(
    desk: Page, server: OfficeServer, elsewhere: OfficeServer, tmp_path: Path
) -> None:
    job = server.started_job("1 Elm Court", READY, "ring the bell 🐝")
    desk.goto(server.url)
    more(desk, "1 Elm Court")
    with desk.expect_download() as started:
        desk.locator(".jobs details[open]").get_by_role("link", name="Export as one file").click()
    file = tmp_path / started.value.suggested_filename
    started.value.save_as(file)
    assert file.name == "1-elm-court.job.zip"
    assert zipfile.ZipFile(file).namelist() == ["job.json"]
    desk.goto(elsewhere.url)
    desk.get_by_label("Import a job from its file").set_input_files(file)
    desk.get_by_role("button", name="Import", exact=True).click()
    expect(desk.get_by_role("status")).to_contain_text("is imported")
    desk.goto(f"{elsewhere.url}/jobs/{job}/review")
    expect(desk.locator("#note .words")).to_have_text([READY, "ring the bell 🐝"])


def test_what_is_no_job_is_refused_in_words(desk: Page, server: OfficeServer, tmp_path: Path) -> None:
    desk.context.watched.expect("422")  # type: ignore[attr-defined]
    file = tmp_path / "holiday.zip"
    file.write_bytes(b"PK nothing")
    desk.goto(server.url)
    desk.get_by_label("Import a job from its file").set_input_files(file)
    desk.get_by_role("button", name="Import", exact=True).click()
    expect(desk.get_by_role("alert")).to_contain_text("not the file of a job")


def test_the_same_by_the_api(server: OfficeServer) -> None:
    job = server.started_job("1 Gorse Court", READY)
    with server.client() as client:
        content = client.get(f"/api/jobs/{job}/file").raise_for_status().content
        again = client.post("/api/jobs/file", content=content).raise_for_status().json()
        assert again["id"] != job
        copy = client.post(f"/api/jobs/{job}/copy").raise_for_status().json()
        assert copy["title"] == "1 Gorse Court (copy)"
        client.post(f"/api/jobs/{job}/archive", json={"id": "shelve-0001"}).raise_for_status()
        assert job in {one["id"] for one in client.get("/api/jobs?archived=true").json()["jobs"]}
        client.post(f"/api/jobs/{job}/unarchive", json={"id": "shelve-0002"}).raise_for_status()
        assert job in {one["id"] for one in client.get("/api/jobs").json()["jobs"]}


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_the_list_with_its_menus_open_meets_the_accessibility_rules(
    new_context: Callable[..., BrowserContext], server: OfficeServer, size: str,
    axe: Callable[[Page], list[str]],
) -> None:  # fmt: skip
    server.started_job("1 Ivy Court", READY)
    page = new_context(size).new_page()
    page.goto(f"{server.url}/?told=Done.")
    page.locator(".jobs summary").first.click()
    assert axe(page) == []
    page.set_viewport_size({"width": 320, "height": 400})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320

"""The list of jobs: how far each is, the archive, copies, and a job carried out and in by its file."""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING

import pytest
from office_server import OfficeServer, line_of
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import BrowserContext, Page

READY = "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4 to splash block"


@pytest.fixture
def elsewhere(tmp_path: Path) -> Iterator[OfficeServer]:
    """Another office."""
    started = OfficeServer(tmp_path / "elsewhere").start()
    yield started
    started.stop()


def titles(page: Page) -> list[str]:
    return page.locator(".jobs .title").all_text_contents()


def test_jobs_are_found_by_how_far_they_are(desk: Page, own_server: OfficeServer) -> None:
    own_server.started_job("1 Heron Row", READY)
    settled = own_server.started_job("2 Heron Row", READY)
    open_still = own_server.started_job("3 Heron Row", "Front 42-6, drop left")
    for job in (settled, open_still):
        desk.goto(f"{own_server.url}/jobs/{job}/review")
        desk.get_by_role("button", name="Measuring is done").click()
        expect(desk.locator(".facts .state")).not_to_have_text("measuring")
    desk.goto(own_server.url)
    for state, title in (("measuring", "1"), ("ready", "2"), ("to settle", "3")):
        desk.get_by_role("link", name=state, exact=True).click()
        assert titles(desk) == [f"{title} Heron Row"]
    desk.get_by_role("link", name="made", exact=True).click()
    expect(desk.locator("main")).to_contain_text("No job here has that")


def test_a_line_from_the_phone_takes_a_ready_job_back_to_be_settled(
    desk: Page, own_server: OfficeServer
) -> None:
    job = own_server.started_job("1 Heron Row", READY)
    desk.goto(f"{own_server.url}/jobs/{job}/review")
    desk.get_by_role("button", name="Measuring is done").click()
    expect(desk.locator(".facts .state")).to_have_text("ready")
    with own_server.client() as client:
        client.post(f"/api/jobs/{job}/lines", json=line_of("Garage 20-0")).raise_for_status()
        assert client.get(f"/api/jobs/{job}").json()["state"] in ("ready", "to settle")
    desk.goto(own_server.url)
    expect(desk.locator(".jobs .state")).to_have_text("to settle")


def test_a_job_goes_to_the_archive_and_comes_back(desk: Page, own_server: OfficeServer) -> None:
    own_server.started_job("1 Heron Row", READY)
    desk.goto(own_server.url)
    desk.locator(".jobs summary").click()
    desk.get_by_role("button", name="Archive").click()
    expect(desk.get_by_role("status")).to_contain_text("“1 Heron Row” is in the archive")
    assert titles(desk) == []
    desk.get_by_role("link", name="Archive").click()
    assert titles(desk) == ["1 Heron Row"]
    desk.locator(".jobs summary").click()
    desk.get_by_role("button", name="Take out of the archive").click()
    assert titles(desk) == ["1 Heron Row"]


def test_a_job_is_copied_and_renamed(desk: Page, own_server: OfficeServer) -> None:
    own_server.started_job("1 Heron Row", READY)
    desk.goto(own_server.url)
    desk.locator(".jobs summary").click()
    desk.get_by_role("button", name="Copy").click()
    assert sorted(titles(desk)) == ["1 Heron Row", "1 Heron Row (copy)"]
    row = desk.locator(".jobs li", has_text="(copy)")
    row.locator("summary").click()
    row.get_by_label("Title").fill("1 Heron Row, rear")
    row.get_by_role("button", name="Rename").click()
    assert sorted(titles(desk)) == ["1 Heron Row", "1 Heron Row, rear"]


def test_a_job_is_carried_to_another_office_in_the_browser(
    desk: Page, own_server: OfficeServer, elsewhere: OfficeServer, tmp_path: Path
) -> None:
    job = own_server.started_job("1 Heron Row", READY, "mind the wasps 🐝")
    desk.goto(own_server.url)
    desk.locator(".jobs summary").click()
    with desk.expect_download() as started:
        desk.get_by_role("link", name="Export as one file").click()
    file = tmp_path / started.value.suggested_filename
    started.value.save_as(file)
    assert file.name == "1-heron-row.job.zip"
    assert zipfile.ZipFile(file).namelist() == ["job.json"]
    desk.goto(elsewhere.url)
    desk.get_by_label("Import a job from its file").set_input_files(file)
    desk.get_by_role("button", name="Import").click()
    expect(desk.get_by_role("status")).to_contain_text("is imported")
    desk.goto(f"{elsewhere.url}/jobs/{job}/review")
    expect(desk.locator("#note .words")).to_have_text([READY, "mind the wasps 🐝"])


def test_what_is_no_job_is_refused_in_words(desk: Page, own_server: OfficeServer, tmp_path: Path) -> None:
    desk.context.watched.expect("422")  # type: ignore[attr-defined]
    file = tmp_path / "holiday.zip"
    with zipfile.ZipFile(io.BytesIO(), "w"):
        file.write_bytes(b"PK nothing")
    desk.goto(own_server.url)
    desk.get_by_label("Import a job from its file").set_input_files(file)
    desk.get_by_role("button", name="Import").click()
    expect(desk.get_by_role("alert")).to_contain_text("not the file of a job")


def test_the_same_by_the_api(own_server: OfficeServer) -> None:
    job = own_server.started_job("1 Heron Row", READY)
    with own_server.client() as client:
        content = client.get(f"/api/jobs/{job}/file").raise_for_status().content
        again = client.post("/api/jobs/file", content=content).raise_for_status().json()
        assert again["id"] != job
        copy = client.post(f"/api/jobs/{job}/copy").raise_for_status().json()
        assert copy["title"] == "1 Heron Row (copy)"
        client.post(f"/api/jobs/{job}/archive", json={"id": "shelve-0001"}).raise_for_status()
        assert job in {one["id"] for one in client.get("/api/jobs?archived=true").json()["jobs"]}
        client.post(f"/api/jobs/{job}/unarchive", json={"id": "shelve-0002"}).raise_for_status()
        assert job in {one["id"] for one in client.get("/api/jobs").json()["jobs"]}


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_the_list_with_its_menus_open_meets_the_accessibility_rules(
    new_context: Callable[..., BrowserContext], own_server: OfficeServer, size: str,
    axe: Callable[[Page], list[str]],
) -> None:  # fmt: skip
    own_server.started_job("1 Heron Row", READY)
    page = new_context(size).new_page()
    page.goto(f"{own_server.url}/?told=Done.")
    page.locator(".jobs summary").click()
    assert axe(page) == []
    page.set_viewport_size({"width": 320, "height": 400})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320

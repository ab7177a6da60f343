"""The lists at the machine: ticks that two devices share, no tick for a hold, other numbers noticed."""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from office_server import OfficeServer
    from playwright.sync_api import BrowserContext, Page

NOTE = (
    "5 inch K-style, white, 2x3 downpipes",
    "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4 to splash block",
    "Garage 20-0 end caps both ends, drop right, w/f about 24, height 9-2 to splash block",
    "Power line over the garage",
)


@pytest.fixture
def job(server: OfficeServer) -> str:
    return server.started_job("4 Heron Row", *NOTE)


def lists(server: OfficeServer, job: str) -> dict[str, Any]:
    with server.client() as client:
        return dict(client.get(f"/api/jobs/{job}/lists").raise_for_status().json())


def amend(server: OfficeServer, job: str, path: str, value: str) -> None:
    with server.client() as client:
        seen = lists(server, job)["revision"]
        body = {"id": f"amend-{secrets.token_hex(8)}", "path": path, "value": value, "revision": seen}
        client.post(f"/api/jobs/{job}/amendments", json=body).raise_for_status()


def ticked(server: OfficeServer, job: str) -> set[tuple[str, str]]:
    return {(one["path"], one["what"]) for one in lists(server, job)["ticks"]}


def test_every_number_of_the_list_is_on_the_page_and_a_hold_has_no_tick(
    tablet: Page, server: OfficeServer, job: str
) -> None:
    tablet.goto(f"{server.url}/jobs/{job}/lists")
    front = tablet.locator('[id="m-pieces.front-1"]')
    expect(front.locator(".first")).to_contain_text("42' 6\"")
    expect(front.locator(".tick")).to_have_count(2)
    held = tablet.locator('[id="m-downpipes.garage-1"]')
    expect(held).to_contain_text("in doubt")
    expect(held.locator("button")).to_have_count(0)
    expect(tablet.locator(".warning")).to_contain_text("Power line over the garage")


def test_ticks_are_kept_and_shown_on_the_other_device(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str
) -> None:
    machine, van = new_context("tablet").new_page(), new_context("phone").new_page()
    machine.goto(f"{server.url}/jobs/{job}/lists")
    van.goto(f"{server.url}/jobs/{job}/crew")
    expect(van.locator(".now h2").first).to_contain_text("front-1")
    made = machine.locator('[id="t-pieces.front-1-made"]')
    made.click()
    expect(made).to_have_attribute("aria-pressed", "true")
    expect(made).to_be_focused()
    expect(machine.locator("#told")).to_contain_text("front-1: made")
    expect(van.locator(".now h2").first).to_contain_text("garage-1", timeout=9000)
    van.locator(".hang button", has_text="Hung").click()
    expect(van.locator("#told")).to_contain_text("front-1: hung")
    assert ticked(server, job) == {("pieces.front-1", "made"), ("pieces.front-1", "hung")}


def test_a_tick_can_be_taken_off(tablet: Page, server: OfficeServer, job: str) -> None:
    tablet.goto(f"{server.url}/jobs/{job}/lists")
    hung = tablet.locator('[id="t-pieces.front-1-hung"]')
    hung.press("Enter")
    expect(hung).to_have_attribute("aria-pressed", "true")
    tablet.locator('[id="t-pieces.front-1-made"]').press("Enter")
    expect(hung).to_have_attribute("aria-pressed", "false")
    assert ticked(server, job) == set()


def test_what_was_made_by_other_numbers_is_told_before_it_is_hung(
    tablet: Page, server: OfficeServer, job: str
) -> None:
    tablet.goto(f"{server.url}/jobs/{job}/lists")
    tablet.locator('[id="t-pieces.front-1-made"]').click()
    expect(tablet.locator("#told")).to_contain_text("front-1: made")
    amend(server, job, "runs.front.length", "43-0")
    front = tablet.locator('[id="m-pieces.front-1"]')
    expect(front).to_contain_text("Made by other numbers", timeout=9000)
    expect(front).to_contain_text("back 42' 6\"")
    expect(front).to_contain_text("back 43' 0\"")
    tablet.goto(f"{server.url}/jobs/{job}/crew")
    expect(tablet.locator("main")).to_contain_text("front-1: look before it is hung")
    expect(tablet.locator(".look")).not_to_contain_text("white")  # what is the same is not told
    tablet.get_by_role("button", name="front-1 Made anew").click()
    expect(tablet.locator("main")).not_to_contain_text("look before it is hung")


def test_a_tick_by_numbers_that_have_changed_is_refused_and_says_so(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str
) -> None:
    context = new_context("tablet", java_script_enabled=False)
    context.watched.expect("409")  # type: ignore[attr-defined]
    page = context.new_page()
    page.goto(f"{server.url}/jobs/{job}/lists")
    amend(server, job, "runs.front.length", "43-0")
    page.locator('[id="t-pieces.front-1-made"]').click()
    expect(page.locator("#notice")).to_contain_text("other numbers")
    assert ticked(server, job) == set()


def test_a_hold_is_refused_by_the_api_too(server: OfficeServer, job: str) -> None:
    with server.client() as client:
        answer = client.post(
            f"/api/jobs/{job}/ticks", json={"id": "tick-a-hold-1", "pipe": "garage-1", "what": "made"}
        )
    assert answer.status_code == 409
    assert "hold" in answer.json()["error"]


def test_a_held_number_is_freed_and_comes_to_the_list_by_itself(
    tablet: Page, server: OfficeServer, job: str
) -> None:
    tablet.goto(f"{server.url}/jobs/{job}/lists")
    amend(server, job, "downpipes.garage-1.wall_to_fascia", "24")
    expect(tablet.locator('[id="m-downpipes.garage-1"] .tick')).to_have_count(2, timeout=9000)


@pytest.mark.parametrize(
    ("file", "start", "kind"),
    [
        ("cut-list.pdf", b"%PDF-", "application/pdf"),
        ("install-sheet.pdf", b"%PDF-", "application/pdf"),
        ("plan.svg", b"<svg", "image/svg+xml"),
        ("lists.json", b"{", "application/json"),
    ],
)
def test_papers_are_made_as_the_job_stands(
    server: OfficeServer, job: str, file: str, start: bytes, kind: str
) -> None:
    with server.client() as client:
        answer = client.get(f"/jobs/{job}/papers/{file}").raise_for_status()
    assert answer.headers["content-type"].startswith(kind)
    assert answer.content.startswith(start)


@pytest.mark.parametrize("name", ["../../etc/passwd", "jobs.sqlite3", "%2e%2e%2fjobs.sqlite3", "cut-list"])
def test_a_name_that_is_no_paper_leads_nowhere(server: OfficeServer, job: str, name: str) -> None:
    with server.client() as client:
        assert client.get(f"/jobs/{job}/papers/{name}").status_code == 404


@pytest.mark.parametrize("view", ["lists", "crew", "history"])
@pytest.mark.parametrize("size", ["phone", "tablet"])
def test_lists_crew_and_history_meet_the_accessibility_rules(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str, size: str, view: str,
    axe: Callable[[Page], list[str]], look: Callable[[Page, str], None],
) -> None:  # fmt: skip
    page = new_context(size).new_page()
    amend(server, job, "runs.front.length", "43-0")
    page.goto(f"{server.url}/jobs/{job}/{view}")
    assert axe(page) == []
    look(page, f"{view}-{size}")
    page.set_viewport_size({"width": 320, "height": 400})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_the_history_tells_each_step_and_undoes_it(desk: Page, server: OfficeServer, job: str) -> None:
    amend(server, job, "runs.front.length", "43-0")
    desk.goto(f"{server.url}/jobs/{job}/history")
    step = desk.locator("tbody tr").first
    expect(step).to_contain_text("The length of the front: 43' 0\" (the note says 42' 6\")")
    step.get_by_role("button").click()
    expect(desk.locator("tbody tr").first).to_contain_text("Undone: the length of the front")
    expect(desk.locator("tbody tr").nth(1)).to_contain_text("(undone)")
    desk.locator("tbody tr").first.get_by_role("button").click()
    expect(desk.locator("tbody tr").nth(2)).not_to_contain_text("(undone)")


def test_the_big_numbers_are_read_across_a_yard(tablet: Page, server: OfficeServer, job: str) -> None:
    """3 mm of letter height a metre of distance (DIN 1450, from memory): 64 px on a tablet is some 10 mm."""
    tablet.goto(f"{server.url}/jobs/{job}/crew")
    size = tablet.locator(".huge").first.evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
    assert size >= 64
    box = tablet.locator(".now .tick").first.bounding_box()
    assert box is not None
    assert box["height"] >= 72

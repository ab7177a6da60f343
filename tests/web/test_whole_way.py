"""The whole way of a job in three browsers: paired, walked with and without signal, settled, made, read."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

import pytest
from capture_phone import CapturePhone, assert_office_has
from office_server import OfficeServer
from playwright.sync_api import expect
from pypdf import PdfReader

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import BrowserContext, Page

WITH_SIGNAL = (
    "5 inch K-style, white, 2x3 downpipes",
    "Front 42-6 end caps both ends, drop left, w/f about 24, height 9-4 to splash block",
)
WITHOUT = (
    "Garage twenty foot three and a half, end caps both ends, drop right, w/f 12",
    "Mind the power line over the garage",
)


@pytest.fixture(scope="module")
def lan(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OfficeServer]:
    """An office that is reached over the network, by plain http."""
    started = OfficeServer(tmp_path_factory.mktemp("lan") / "folder", ("--lan",)).start()
    yield started
    started.stop()


def pair(desk: Page, device: Page, lan: OfficeServer, role: str, name: str) -> None:
    """The office makes a code on its screen; it is typed on the device."""
    desk.goto(f"{lan.url}/devices")
    desk.get_by_label("Pair a device for").select_option(role)
    desk.get_by_role("button", name="Make a code").click()
    code = desk.locator(".shown-code").inner_text()
    device.goto(f"{lan.lan_url}/pair")
    device.get_by_label("The code").fill(code)
    device.get_by_label("Who carries").fill(name)
    device.get_by_role("button", name="Pair").click()
    expect(device.locator("footer")).to_contain_text(f"{name} ({role})")


def test_a_job_goes_the_whole_way(
    new_context: Callable[..., BrowserContext], lan: OfficeServer, look: Callable[[Page, str], None]
) -> None:
    desk = new_context("desk").new_page()
    pocket, van = new_context("phone", has_touch=True, is_mobile=True), new_context("tablet", has_touch=True)
    pocket.watched.expect("Failed to load resource")  # type: ignore[attr-defined]
    phone, tablet = pocket.new_page(), van.new_page()
    pair(desk, phone, lan, "measure", "Lee")
    pair(desk, tablet, lan, "crew", "the van")

    walk = CapturePhone(phone, lan.lan_url, lan.started_job("14 Quarry Lane")).open()
    walk.say(*WITH_SIGNAL)
    walk.wait_for_office(2)
    pocket.set_offline(True)
    walk.say(*WITHOUT)
    expect(walk.in_state("phone")).to_have_count(2)
    pocket.set_offline(False)
    walk.wait_for_office(4)
    assert_office_has(lan, walk.job, [*WITH_SIGNAL, *WITHOUT], walk)

    desk.goto(f"{lan.url}/jobs/{walk.job}/review")
    expect(desk.locator("#note .by").first).to_contain_text("Lee")
    expect(desk.locator(".item.now h3")).to_be_visible()
    tablet.goto(f"{lan.lan_url}/jobs/{walk.job}/lists")
    expect(tablet.locator('[id="m-downpipes.garage-1"]')).to_contain_text("has no height")
    expect(tablet.locator('[id="m-downpipes.garage-1"] button')).to_have_count(0)
    settle_by_keys(desk, {"Is the wall to fascia": "y", "How far down": "eight two"})
    desk.keyboard.press("d")
    expect(desk.locator(".facts .state")).to_have_text("ready")
    look(desk, "whole-way-review")

    expect(tablet.locator('[id="m-downpipes.garage-1"] .tick')).to_have_count(2, timeout=15_000)
    for tick in tablet.locator(".tick", has_text="Hung").all():
        tick.click()
        expect(tick).to_have_attribute("aria-pressed", "true")
    look(tablet, "whole-way-lists")
    desk.goto(lan.url)
    expect(desk.locator(".jobs li", has_text="14 Quarry Lane").locator(".state")).to_have_text("hung")

    # fetched and not opened: a browser's own reader of PDF would ask for parts of its own
    paper = van.request.get(
        lan.lan_url + str(tablet.get_by_role("link", name="Cut list").get_attribute("href"))
    )
    words = "".join(page.extract_text() for page in PdfReader(io.BytesIO(paper.body())).pages)
    code = re.search(r"sheet (\w{3}-\w{3})", tablet.locator(".facts").inner_text())
    assert code is not None
    for wanted in ("42' 6\"", "20' 3 1/2\"", code[1]):
        assert wanted in re.sub(r"\s+", " ", words)

    history = [
        done["by"] for done in desk.request.get(f"{lan.url}/api/jobs/{walk.job}/history").json()["events"]
    ]
    assert set(history) == {"the office", "the van"}


def settle_by_keys(desk: Page, answers: dict[str, str]) -> None:
    """Answer each open question by the keyboard: `y`, or words typed."""
    while True:
        left = desk.locator("[data-item]").count()
        if not left:
            return
        asked = desk.locator(".item.now h3").inner_text()
        answer = next(answer for words, answer in answers.items() if words in asked)
        if answer == "y":
            desk.keyboard.press("y")
        else:
            desk.keyboard.press("e")
            desk.keyboard.type(answer)
            desk.keyboard.press("Enter")
        expect(desk.locator("[data-item]")).to_have_count(left - 1)

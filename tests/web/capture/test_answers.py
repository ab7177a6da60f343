"""Questions answered on the walk: by an offer or in words, with or without a signal, and taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from capture_phone import ALL_SENT, PATIENCE, CapturePhone, office_lines
from faulty_wire import Wire, loses_the_answer
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from office_server import OfficeServer

    NewPhone = Callable[[str, str], CapturePhone]

NOTE = (
    "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4 to splash block",
    "Back 30-0, end cap left. Drop right, w/f 24, height 9-2 to splash block",
)
END = "What is at the right end of the back"
RIGHT_END = "runs.back.right_end"


def reading(server: OfficeServer, job: str) -> dict[str, Any] | None:
    """The right end of the back, as the office's sheet has it."""
    with server.client() as client:
        runs = client.get(f"/api/jobs/{job}/sheet").json()["sheet"]["runs"]
    found: dict[str, Any] | None = next(one for one in runs if one["id"] == "back").get("right_end")
    return found


@pytest.fixture
def asked(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> CapturePhone:
    """A phone that is asked for an end."""
    phone = new_phone(wire.url, server.started_job("4 Heron Row"))
    phone.say(*NOTE)
    phone.wait_for_office(2)
    expect(phone.page.locator(".asks").filter(has_text=END)).to_be_attached(timeout=PATIENCE)
    more = phone.page.locator(".more-questions summary")
    if more.count():
        more.click()
    return phone


def question(phone: CapturePhone) -> Any:
    return phone.page.locator(".question").filter(has_text=END)


@pytest.mark.parametrize("offline", [False, True])
def test_an_offer_is_taken(server: OfficeServer, wire: Wire, asked: CapturePhone, *, offline: bool) -> None:
    wire.down = offline
    question(asked).get_by_role("button", name="end cap").click()
    answer = asked.page.locator("[data-answer]")
    expect(answer).to_contain_text("end cap")
    if offline:
        expect(answer).to_contain_text("on this phone only")
        expect(question(asked).locator(".given")).to_contain_text("end cap (on this phone only)")
    wire.down = False
    # the answer of the office is lost once: a repeat settles nothing twice
    wire.on("POST", "/answers", loses_the_answer, 1)
    asked.send_now()
    asked.send_now()
    expect(asked.page.locator("[data-answer]")).to_contain_text("in the office", timeout=15_000)
    expect(question(asked)).to_have_count(0)
    kept = reading(server, asked.job)
    assert kept is not None
    assert kept["value"] == "end cap"
    assert kept["why"].endswith("answered on the walk")
    with server.client() as client:
        events = client.get(f"/api/jobs/{asked.job}/history").json()["events"]
    assert len(events) == 1


def test_an_answer_in_words_is_read_in_the_questions_context(
    server: OfficeServer, asked: CapturePhone
) -> None:
    question(asked).get_by_role("button", name="Say the answer").click()
    expect(asked.page.locator("#answering")).to_contain_text(END)
    asked.page.locator("#words").fill("inside corner")
    asked.page.locator("#keep").click()
    expect(asked.page.locator("[data-answer]")).to_contain_text("in the office", timeout=15_000)
    expect(asked.page.locator("#answering")).to_be_empty()
    kept = reading(server, asked.job)
    assert kept is not None
    assert kept["value"] == "inside corner"
    assert len(office_lines(server, asked.job)) == 2


def test_an_answer_is_taken_back(server: OfficeServer, wire: Wire, asked: CapturePhone) -> None:
    question(asked).get_by_role("button", name="end cap").click()
    expect(asked.page.locator("[data-answer]")).to_contain_text("in the office", timeout=15_000)
    wire.down = True
    asked.page.locator("[data-answer]").get_by_role("button", name="Take back").click()
    expect(asked.page.locator("[data-answer] .taken-back")).to_contain_text("on this phone only")
    wire.down = False
    asked.send_now()
    expect(asked.page.locator("[data-answer] .taken-back")).to_have_text("Taken back.", timeout=15_000)
    expect(question(asked)).to_have_count(1)
    assert reading(server, asked.job) is None


def test_an_answer_that_leaves_it_open_stays_and_says_why(server: OfficeServer, asked: CapturePhone) -> None:
    question(asked).get_by_role("button", name="Say the answer").click()
    asked.page.locator("#words").fill("purple")
    asked.page.locator("#keep").click()
    expect(asked.page.locator(".refused")).to_contain_text("does not answer that")
    asked.page.get_by_role("button", name="Put it in the box").click()
    expect(asked.page.locator("#words")).to_have_value("purple")
    # nothing behind it is held up
    asked.page.locator("#words").fill("")
    asked.page.locator("#words").fill("Power line over the back")
    asked.page.locator("#keep").click()
    expect(asked.in_state("office")).to_have_count(3)
    assert len(office_lines(server, asked.job)) == 3


def test_an_answer_to_what_somebody_settled_meanwhile_is_kept_and_shown(
    server: OfficeServer, wire: Wire, asked: CapturePhone
) -> None:
    wire.down = True
    question(asked).get_by_role("button", name="end cap").click()
    with server.client() as client:
        told = client.get(f"/api/jobs/{asked.job}/read-back").json()
        given = {"id": "office-change", "revision": told["revision"], "path": RIGHT_END, "value": "wall"}
        client.post(f"/api/jobs/{asked.job}/amendments", json=given).raise_for_status()
    wire.down = False
    asked.send_now()
    expect(asked.page.locator(".refused")).to_contain_text("changed the same since you looked")
    kept = reading(server, asked.job)
    assert kept is not None
    assert kept["value"] == "wall"
    assert [one["says"] for one in asked.kept() if one["kind"] == "answer"] == ["end cap"]


def test_answers_lost_by_the_office_are_sent_once_more(
    own_server: OfficeServer, own_wire: Wire, new_phone: NewPhone
) -> None:
    job = own_server.started_job("4 Heron Row")
    phone = new_phone(own_wire.url, job)
    phone.say(*NOTE)
    phone.wait_for_office(2)
    own_server.stop()
    kept = {file: file.read_bytes() for file in own_server.folder.glob("jobs.sqlite3*")}
    own_server.start()
    phone.page.reload()
    phone.wait_until_ready()
    more = phone.page.locator(".more-questions summary")
    if more.count():
        more.click()
    question(phone).get_by_role("button", name="end cap").click()
    expect(phone.page.locator("[data-answer]")).to_contain_text("in the office", timeout=15_000)
    own_server.stop()
    for file in own_server.folder.glob("jobs.sqlite3*"):
        file.unlink()
    for file, content in kept.items():
        file.write_bytes(content)
    own_server.start()
    phone.page.reload()
    phone.wait_until_ready()
    phone.say("Power line over the back")
    expect(phone.page.locator("#standing")).to_have_text(ALL_SENT, timeout=15_000)
    found = reading(own_server, job)
    assert found is not None
    assert found["value"] == "end cap"

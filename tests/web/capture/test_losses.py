"""Whatever fails on the way, the office ends with every line captured: once, in order, bytes identical."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest
from capture_phone import PATIENCE, CapturePhone, assert_office_has, office_lines
from faulty_wire import (
    LOGIN_PAGE,
    Asked,
    Does,
    Handler,
    Wire,
    answers,
    cuts,
    kills_the_office,
    loses_the_answer,
    stalls,
    stalls_after_writing,
)
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from office_server import OfficeServer
    from playwright.sync_api import BrowserContext

    NewPhone = Callable[[str, str], CapturePhone]

WALK = [
    "5 inch K-style, white, .032 aluminium, 2x3 downpipes",
    "Front 42-6, outside corner both ends. Drop left, w/f 24, height 9-4 to splash block",
    "Right side twenty eight foot three and a quarter, OSC both ends – “mind the dog” 🐕",
    "Back 42' 6\"  outside corner both ends ",
]

FAULTS: dict[str, Does] = {
    "500 in the office's words": answers(500, '{"error": "That is a defect.", "next": "Try again."}'),
    "500 of a proxy": answers(500, "<h1>oops</h1>", "text/html"),
    "502 of a proxy": answers(502, "bad gateway", "text/plain"),
    "503, come later": answers(503, '{"error": "Busy.", "next": "Wait."}', Retry_After="1"),
    "429": answers(429, '{"error": "Too many.", "next": "Wait."}', Retry_After="1"),
    "401": answers(401, '{"error": "This device is not paired.", "next": "Pair it."}'),
    "403": answers(403, '{"error": "Not for this device.", "next": "Ask."}'),
    "a 200 that is a login page": LOGIN_PAGE,
    "a redirect to a login page": answers(302, "", "text/html", Location="/pair"),
    "a 404 of something else": answers(404, "not found", "text/plain"),
    "a 200 that is another's JSON": answers(200, '{"status": "ok"}'),
    "a receipt for another line": answers(200, '{"id": "another-line-1", "sha256": "00", "number": 1}'),
    "an answer cut short": answers(201, '{"id": "cut'),
    "the wire cut": cuts,
    "the answer lost after the office wrote": loses_the_answer,
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_on_the_way(server: OfficeServer, wire: Wire, new_phone: NewPhone, fault: str) -> None:
    """Once for one line, then twice running for the next."""
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.say(WALK[0])
    phone.wait_for_office(1)
    wire.lines(FAULTS[fault])
    phone.say(WALK[1])
    phone.send_now()
    phone.wait_for_office(2)
    wire.lines(FAULTS[fault], 2)
    phone.say(*WALK[2:])
    phone.send_now()
    phone.send_now()
    phone.wait_for_office(4)
    assert all(rule.times == 0 for rule in wire.rules)
    assert_office_has(server, job, WALK, phone)


def test_too_large_for_something_on_the_way(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    """A 413 sets that line aside, said so; it goes with the next try by hand."""
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.lines(answers(413, "too large", "text/plain"))
    phone.say(WALK[0])
    expect(phone.page.locator(".refused")).to_contain_text("too large")
    expect(phone.in_state("phone")).to_have_count(1)
    phone.send_now()
    phone.wait_for_office(1)
    assert_office_has(server, job, WALK[:1], phone)


def test_a_line_the_office_stumbles_over_lets_those_behind_it_pass(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    """A defect of the office that one line brings out: after four tries the others go, and it is tried on."""
    job = server.started_job()
    phone = new_phone(wire.url, job)

    def stumbles(_: Wire, handler: Handler, asked: Asked) -> None:
        if b"Front" not in asked.body:
            handler.passes(asked)
        else:
            FAULTS["500 in the office's words"](wire, handler, asked)

    wire.lines(stumbles, 1000)
    phone.say(*WALK)
    for _ in range(6):
        phone.send_now()
        phone.page.wait_for_timeout(100)
    expect(phone.in_state("office")).to_have_count(3, timeout=PATIENCE)
    expect(phone.in_state("phone")).to_contain_text("Front 42-6")
    wire.rules.clear()
    phone.send_now()
    phone.wait_for_office(4)
    there = [text for _, text, _ in office_lines(server, job)]
    assert there == [WALK[0], *WALK[2:], WALK[1]]


def test_an_office_that_stays_silent(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    """A request never answered is given up in time, and made again. The phone's clock is run ahead."""
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.page.clock.install()
    wire.lines(stalls)
    phone.say(*WALK)
    expect(phone.in_state("sending")).to_have_count(1)
    phone.page.clock.run_for(21_000)
    expect(phone.page.locator("#standing")).to_contain_text("on this phone only")
    phone.page.clock.run_for(3_000)
    phone.wait_for_office(4)
    assert_office_has(server, job, WALK, phone)


@pytest.mark.parametrize("held", [stalls, stalls_after_writing])
def test_a_tab_killed_while_it_sends(
    server: OfficeServer, wire: Wire, new_phone: NewPhone, held: Does
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.lines(held)
    phone.say(*WALK)
    expect(phone.in_state("sending")).to_have_count(1)
    phone.page.close(run_before_unload=False)
    again = new_phone(wire.url, job)
    again.wait_for_office(4)
    assert_office_has(server, job, WALK, again)


def test_a_crashed_tab(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.down = True
    phone.say(*WALK)
    crashed: list[bool] = []
    phone.page.on("crash", lambda _: crashed.append(True))
    with pytest.raises(Exception, match="crash"):
        phone.page.goto("chrome://crash")
    wire.down = False
    again = new_phone(wire.url, job)
    again.wait_for_office(4)
    assert crashed
    assert_office_has(server, job, WALK, again)


def test_the_office_dies_after_it_wrote(
    own_server: OfficeServer, own_wire: Wire, new_phone: NewPhone
) -> None:
    job = own_server.started_job()
    phone = new_phone(own_wire.url, job)
    phone.say(WALK[0])
    phone.wait_for_office(1)
    own_wire.lines(kills_the_office)
    phone.say(*WALK[1:])
    expect(phone.page.locator("#standing")).to_contain_text("No signal")
    assert len(office_lines(own_server, job)) == 2
    own_server.start()
    phone.send_now()
    phone.wait_for_office(4)
    assert len({one.body for one in own_wire.sent()}) == 4
    assert_office_has(own_server, job, WALK, phone)


def test_the_network_flips_while_lines_are_said(
    server: OfficeServer, wire: Wire, new_phone: NewPhone, pocket: BrowserContext
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    for turn, text in enumerate(WALK * 3):
        pocket.set_offline(turn % 2 == 0)
        phone.say(f"{text} {turn}")
    pocket.set_offline(False)
    phone.wait_for_office(12)
    assert_office_has(server, job, [f"{text} {turn}" for turn, text in enumerate(WALK * 3)], phone)


def test_two_tabs_of_one_phone(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    job = server.started_job()
    one, other = new_phone(wire.url, job), new_phone(wire.url, job)
    wire.down = True
    said = []
    for turn, text in enumerate(WALK * 2):
        tab = (one, other)[turn % 2]
        expect(tab.lines).to_have_count(turn)
        tab.say(f"{text} {turn}")
        said.append(f"{text} {turn}")
    wire.down = False
    one.send_now()
    other.send_now()
    one.wait_for_office(8)
    other.wait_for_office(8)
    assert_office_has(server, job, said, one)


@pytest.mark.parametrize("year", [1999, 2099])
def test_a_wrong_clock(server: OfficeServer, wire: Wire, new_phone: NewPhone, year: int) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.page.clock.set_fixed_time(f"{year}-02-03T04:05:06")
    wire.down = True
    phone.say(*WALK[:2])
    wire.down = False
    # and a clock that is put right, backwards or forwards, between two lines
    phone.page.clock.set_fixed_time("2026-03-09T08:00:00")
    phone.say(*WALK[2:])
    phone.send_now()
    phone.wait_for_office(4)
    assert_office_has(server, job, WALK, phone)


def test_five_hundred_waiting_lines(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.down = True
    said = [f"Front {number}-6, outside corner both ends" for number in range(500)]
    phone.page.locator("#words").fill("\n".join(said))
    expect(phone.page.locator("#keep")).to_have_text("Keep 500 lines")
    phone.page.locator("#keep").click()
    expect(phone.in_state("phone")).to_have_count(500, timeout=30_000)
    phone.page.close()
    wire.down = False
    again = new_phone(wire.url, job)
    again.wait_for_office(500, patience=90_000)
    assert_office_has(server, job, said, again)


def test_an_office_put_back_from_yesterdays_copy(
    own_server: OfficeServer, own_wire: Wire, new_phone: NewPhone
) -> None:
    job = own_server.started_job()
    phone = new_phone(own_wire.url, job)
    phone.say(*WALK[:2])
    phone.wait_for_office(2)
    own_server.stop()
    kept = {file: file.read_bytes() for file in own_server.folder.glob("jobs.sqlite3*")}
    own_server.start()
    phone.say(WALK[2])
    phone.wait_for_office(3)
    own_server.stop()
    for file in own_server.folder.glob("jobs.sqlite3*"):
        file.unlink()
    for file, content in kept.items():
        file.write_bytes(content)
    own_server.start()
    assert len(office_lines(own_server, job)) == 2
    phone.page.reload()
    phone.wait_until_ready()
    phone.say(WALK[3])
    phone.wait_for_office(4)
    expect(phone.page.locator("#warnings")).to_contain_text("no longer had 1")
    assert_office_has(own_server, job, WALK, phone)


def test_an_office_put_back_from_before_the_job(
    own_server: OfficeServer, own_wire: Wire, new_phone: NewPhone
) -> None:
    job = own_server.started_job("9 Sorrel Close")
    phone = new_phone(own_wire.url, job)
    phone.say(*WALK[:3])
    phone.wait_for_office(3)
    own_server.stop()
    shutil.rmtree(own_server.folder)
    own_server.start()
    phone.say(WALK[3])
    phone.wait_for_office(4)
    assert_office_has(own_server, job, WALK, phone)
    with own_server.client() as client:
        assert client.get(f"/api/jobs/{job}").json()["title"] == "9 Sorrel Close"

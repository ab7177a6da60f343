"""The fifteen rules by which capture never loses a line, each with its test, in a real browser."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from typing import TYPE_CHECKING, Any

import pytest
from capture_phone import ALL_SENT, CapturePhone, assert_office_has, body_of, office_lines
from faulty_wire import Asked, Handler, Wire, answers, loses_the_answer, stalls
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from office_server import OfficeServer
    from playwright.sync_api import BrowserContext, CDPSession

    FullPhone = tuple[CapturePhone, list[str], CDPSession]
    NewPhone = Callable[[str, str], CapturePhone]

FRONT = "Front 42-6, outside corner both ends"
BACK = "Back 42-6, outside corner both ends"


def test_1_a_line_goes_only_after_the_receipt_for_its_id_and_hash(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)

    def other_hash(_: Wire, handler: Handler, asked: Asked) -> None:
        content = json.dumps({"id": body_of(asked.body)["id"], "sha256": "0" * 64, "number": 1})
        handler.says(asked, 201, content.encode(), [("Content-Type", "application/json")])

    wire.lines(other_hash, 3)
    phone.say(FRONT)
    expect(phone.page.locator("#standing")).to_contain_text("no receipt")
    phone.page.locator("#this-phone summary").click()
    clear = phone.page.get_by_role("button", name="Clear this walk")
    expect(clear).to_be_disabled()
    assert "receipt" not in phone.kept()[0]
    wire.rules.clear()
    phone.send_now()
    phone.wait_for_office(1)
    assert_office_has(server, job, [FRONT], phone)
    # and a line that has its receipt goes only when asked, and when the office shows that it has it still
    phone.page.reload()
    phone.wait_for_office(1)
    wire.on("GET", "/receipts", answers(200, '{"receipts": []}'), 1)
    phone.page.locator("#this-phone summary").click()
    clear.click()
    expect(phone.page.locator(".said-here")).to_contain_text("nothing was cleared")
    assert phone.text_of_lines() == [FRONT]
    phone.send_now()
    phone.wait_for_office(1)
    expect(phone.page.locator("#standing")).to_have_text(ALL_SENT)
    phone.page.locator("#this-phone summary").click()
    phone.page.locator("#this-phone summary").click()
    clear.click()
    expect(phone.page.locator(".said-here")).to_contain_text("Cleared")
    assert phone.kept() == []
    assert [text for _, text, _ in office_lines(server, job)] == [FRONT]


def test_2_nothing_expires(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.down = True
    phone.page.clock.set_fixed_time("2026-03-09T08:00:00")
    phone.say(FRONT)
    phone.page.locator("#words").fill(BACK)
    wire.down = False
    wire.lines(answers(500, "down", "text/plain"), 1)
    phone.page.clock.set_fixed_time("2046-03-09T08:00:00")
    phone.page.reload()
    expect(phone.lines).to_have_count(1)
    expect(phone.page.locator("#words")).to_have_value(BACK)
    phone.page.locator("#keep").click()
    phone.wait_for_office(2)
    assert_office_has(server, job, [FRONT, BACK], phone)


REASONS = {
    "focus": lambda phone: phone.page.evaluate("dispatchEvent(new Event('focus'))"),
    "online": lambda phone: phone.page.evaluate("dispatchEvent(new Event('online'))"),
    "in sight": lambda phone: phone.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))"),
    "timer": lambda phone: phone.page.clock.run_for(40_000),
    "button": lambda phone: phone.send_now(),
    "load": lambda phone: phone.page.reload(),
}


@pytest.mark.parametrize("reason", REASONS)
def test_3_it_tries_again(server: OfficeServer, wire: Wire, new_phone: NewPhone, reason: str) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.page.clock.install()
    phone.page.clock.pause_at("2030-01-01T00:00:00")  # so that no timer comes before the reason that is tried
    phone.page.wait_for_timeout(500)
    wire.lines(answers(500, "down", "text/plain"))
    phone.say(FRONT)
    expect(phone.page.locator("#standing")).to_contain_text("The office failed (500)")
    assert office_lines(server, job) == []
    REASONS[reason](phone)
    phone.wait_for_office(1)
    assert_office_has(server, job, [FRONT], phone)


def test_4_ids_are_the_phones_and_a_repeat_gets_the_first_receipt(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.lines(loses_the_answer, 2)
    phone.say(FRONT)
    phone.send_now()
    phone.send_now()
    phone.wait_for_office(1)
    bodies = {one.body for one in wire.sent()}
    (entry,) = phone.kept()
    assert len(wire.sent()) == 3
    assert {body_of(body)["id"] for body in bodies} == {entry["id"]}
    with server.client() as client:
        (first,) = client.get(f"/api/jobs/{job}/receipts").json()["receipts"]
    assert entry["receipt"]["received_at"] == first["received_at"]
    assert not entry["receipt"]["first"]
    assert_office_has(server, job, [FRONT], phone)


def test_5_and_15_other_words_under_the_same_id_are_kept_beside_and_shown(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.down = True
    phone.say(FRONT)
    (entry,) = phone.kept()
    with server.client() as client:
        from office_server import line_of

        client.post(f"/api/jobs/{job}/lines", json=line_of(BACK, id=entry["id"])).raise_for_status()
    wire.down = False
    phone.send_now()
    expect(phone.page.locator(".refused")).to_contain_text("with other words")
    expect(phone.in_state("phone")).to_have_count(1)
    with closing(sqlite3.connect(server.folder / "jobs.sqlite3")) as opened:
        assert opened.execute("select text from clashes where line_id = ?", (entry["id"],)).fetchall() == [
            (FRONT,)
        ]
    phone.page.get_by_role("button", name="Send as a new line").click()
    expect(phone.in_state("office")).to_have_count(1)
    assert [text for _, text, _ in office_lines(server, job)] == [BACK, FRONT]


def test_6_a_line_changed_on_its_way_is_not_taken(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    """The other half, that the worker keeps the shell alone, is in test_shell.py."""
    job = server.started_job()
    phone = new_phone(wire.url, job)

    def garbles(_: Wire, handler: Handler, asked: Asked) -> None:
        asked.body = asked.body.replace(b"42-6", b"46-2")
        handler.passes(asked)

    wire.lines(garbles)
    phone.say(FRONT)
    expect(phone.page.locator(".refused")).to_contain_text("did not arrive as it was sent")
    assert office_lines(server, job) == []
    phone.send_now()
    phone.wait_for_office(1)
    assert_office_has(server, job, [FRONT], phone)


WATCH_CONNECTIONS = """
    window.connections = [];
    const open = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (...given) {
        const request = open.apply(this, given);
        request.addEventListener("success", () => window.connections.push(request.result));
        return request;
    };
"""


def test_7_a_closed_database_is_opened_again(
    server: OfficeServer, wire: Wire, pocket: BrowserContext, new_phone: NewPhone
) -> None:
    job = server.started_job()
    pocket.add_init_script(WATCH_CONNECTIONS)
    phone = new_phone(wire.url, job)
    wire.down = True
    phone.say(FRONT)
    phone.page.evaluate("window.connections.forEach((one) => one.close())")
    phone.say(BACK)
    assert phone.text_of_lines() == [FRONT, BACK]
    wire.down = False
    phone.page.evaluate("window.connections.forEach((one) => one.close())")
    phone.send_now()
    phone.wait_for_office(2)
    assert_office_has(server, job, [FRONT, BACK], phone)


LONG = "Front 42-6 " + "outside corner both ends " * 300


@pytest.fixture
def full_phone(server: OfficeServer, wire: Wire, pocket: BrowserContext) -> FullPhone:
    """A phone whose room ran out at the last line: it stands in the box, not kept."""
    page = pocket.new_page()
    debugger = pocket.new_cdp_session(page)
    debugger.send("Storage.overrideQuotaForOrigin", {"origin": wire.url, "quotaSize": 40_000})
    phone = CapturePhone(page, wire.url, server.started_job()).open()
    wire.down = True
    said: list[str] = []
    while phone.page.locator("#not-kept p").count() == 0:
        said.append(f"{LONG} {len(said)}")
        assert len(said) < 20, "the phone never ran full"
        phone.page.locator("#words").fill(said[-1])
        phone.page.locator("#keep").click()
        expect(phone.lines.nth(len(said) - 1).or_(phone.page.locator("#not-kept p"))).to_be_attached()
    return phone, said, debugger


def test_7_kept_is_said_only_once_it_is_on_the_disk(
    server: OfficeServer, wire: Wire, full_phone: FullPhone
) -> None:
    """With the disk full: not kept, said so, the words stay in the box; with room again, kept."""
    phone, said, debugger = full_phone
    expect(phone.page.locator("#not-kept")).to_contain_text("Not kept. This phone is full.")
    expect(phone.page.locator("#words")).to_have_value(said[-1])
    assert phone.text_of_lines() == said[:-1]
    assert len(said) > 1
    expect(phone.lines).to_have_count(len(said) - 1)
    debugger.send("Storage.overrideQuotaForOrigin", {"origin": wire.url})
    wire.down = False
    phone.page.get_by_role("button", name="Try again").click()
    phone.wait_for_office(len(said))
    expect(phone.page.locator("#words")).to_have_value("")
    expect(phone.page.locator("#not-kept")).to_be_empty()
    assert_office_has(server, phone.job, said, phone)


def test_7_a_full_phone_sends_straight_to_the_office(
    server: OfficeServer, wire: Wire, full_phone: FullPhone
) -> None:
    phone, said, _ = full_phone
    straight = phone.page.get_by_role("button", name="Send straight")
    straight.click()
    expect(phone.page.locator("#not-kept")).to_contain_text("cannot be reached")
    expect(phone.page.locator("#words")).to_have_value(said[-1])
    wire.down = False
    phone.send_now()
    expect(phone.in_state("office")).to_have_count(len(said) - 1)
    wire.lines(loses_the_answer)
    straight.click()
    expect(phone.page.locator("#not-kept")).to_contain_text("cannot be reached")
    straight.click()
    expect(phone.page.locator("#words")).to_have_value("")
    expect(phone.in_state("office")).to_have_count(len(said))
    assert [text for _, text, _ in office_lines(server, phone.job)] == said


@pytest.mark.parametrize(
    ("answer", "words"), [("true", None), ("false", "may clear what is kept")], ids=["granted", "refused"]
)
def test_8_the_browser_is_asked_to_hold_on_to_what_is_kept(
    server: OfficeServer,
    wire: Wire,
    pocket: BrowserContext,
    new_phone: NewPhone,
    answer: str,
    words: str | None,
) -> None:
    job = server.started_job()
    pocket.add_init_script(
        """if (window.StorageManager) {
            window.askedFor = 0;
            StorageManager.prototype.persisted = async () => false;
            StorageManager.prototype.persist = async () => { window.askedFor += 1; return ANSWER; };
        }""".replace("ANSWER", answer)
    )
    phone = new_phone(wire.url, job)
    assert phone.page.evaluate("window.askedFor") == 1
    expect(phone.page.locator("#warnings")).to_contain_text(words or "")
    assert (words is None) == (phone.page.locator("#warnings p").count() == 0)


def test_8_a_phone_that_keeps_nothing_says_so_at_once(
    server: OfficeServer, wire: Wire, pocket: BrowserContext, new_phone: NewPhone
) -> None:
    job = server.started_job()
    pocket.add_init_script("IDBFactory.prototype.open = () => { throw new Error('no database here'); };")
    phone = new_phone(wire.url, job)
    expect(phone.page.locator("#warnings")).to_contain_text("cannot keep lines")
    phone.page.locator("#words").fill(FRONT)
    phone.page.locator("#keep").click()
    phone.page.get_by_role("button", name="Send straight").click()
    expect(phone.in_state("office")).to_have_count(1)
    assert [text for _, text, _ in office_lines(server, job)] == [FRONT]


def test_9_only_the_id_is_unique(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    server.started_job("9 Sorrel Close")
    job = server.started_job("9 Sorrel Close")
    phone = new_phone(wire.url, job)
    wire.down = True
    phone.say(FRONT, FRONT)
    for _ in range(2):
        phone.start("9 Sorrel Close").say(FRONT)
    wire.down = False
    phone.send_now()
    expect(phone.page.locator("#standing")).to_have_text(ALL_SENT)
    with server.client() as client:
        found = client.get("/api/jobs", params={"search": "sorrel"}).json()["jobs"]
    assert len(found) == 4
    assert sorted(len(office_lines(server, one["id"])) for one in found) == [0, 1, 1, 2]


def test_10_a_lost_login_pauses_and_drops_nothing(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    refusal = answers(401, '{"error": "This device is not paired with the office.", "next": "Open /pair."}')
    wire.lines(refusal, 1000)
    phone.say(FRONT, BACK)
    expect(phone.page.locator("#standing")).to_contain_text("paired again")
    expect(phone.page.get_by_role("link", name="Pair this phone")).to_have_attribute("href", "/pair")
    phone.page.reload()
    expect(phone.in_state("phone")).to_have_count(2)
    wire.rules.clear()
    phone.send_now()
    phone.wait_for_office(2)
    assert_office_has(server, job, [FRONT, BACK], phone)


def test_11_what_was_being_typed_comes_back(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.page.locator("#words").press_sequentially("Front 42", delay=20)
    expect_draft(phone, "Front 42")
    phone.page.reload()
    expect(phone.page.locator("#words")).to_have_value("Front 42")
    # another open page neither takes it nor offers it, and writes its own
    other = new_phone(wire.url, job)
    expect(other.page.locator(".draft")).to_have_count(0)
    other.page.locator("#words").press_sequentially("Back 30", delay=20)
    expect_draft(other, "Back 30")
    # a page that dies leaves its words to the next, which offers them
    phone.page.close()
    third = new_phone(wire.url, job)
    expect(third.page.locator(".draft")).to_have_count(1)
    expect(third.page.locator(".draft q")).to_have_text("Front 42")
    third.page.get_by_role("button", name="Put it in the box").click()
    expect(third.page.locator("#words")).to_have_value("Front 42")
    third.page.locator("#words").press_sequentially("-6", delay=20)
    third.page.locator("#keep").click()
    third.wait_for_office(1)
    assert_office_has(server, job, ["Front 42-6"], third)
    assert [draft["text"] for draft in third.kept("drafts")] == ["Back 30"]


def expect_draft(phone: CapturePhone, text: str) -> None:
    for _ in range(50):
        if text in [draft["text"] for draft in phone.kept("drafts")]:
            return
        phone.page.wait_for_timeout(50)
    raise AssertionError(f"no draft {text!r}: {phone.kept('drafts')}")


def test_12_three_plain_states_that_look_different(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.say(FRONT)
    phone.wait_for_office(1)
    wire.lines(stalls)
    phone.say(BACK, "Left side 24")
    expect(phone.in_state("sending")).to_have_count(1)
    looks = [look_of(phone, name) for name in ("office", "sending", "phone")]
    words = [look.pop("words") for look in looks]
    assert words[0].startswith("in the office (")
    assert words[0].endswith(", line 1)")
    assert words[1:] == ["sending", "on this phone only"]
    for part in ("symbol", "style"):
        assert len({look[part] for look in looks}) == 3, part


def look_of(phone: CapturePhone, name: str) -> dict[str, Any]:
    found: dict[str, Any] = (
        phone.in_state(name)
        .locator(".state")
        .evaluate(
            """state => ({
            words: state.textContent,
            symbol: state.querySelector("svg").innerHTML,
            style: ["fontWeight", "fontStyle", "color"].map((key) => getComputedStyle(state)[key]).join(),
        })"""
        )
    )
    return found


def test_13_everything_is_copied_as_a_file_and_put_back_on_another_phone(
    server: OfficeServer,
    wire: Wire,
    new_phone: NewPhone,
    new_context: Callable[..., BrowserContext],
    tmp_path: Path,
) -> None:
    job = server.started_job("22 Fennel Row")
    phone = new_phone(wire.url, job)
    phone.say(FRONT)
    phone.wait_for_office(1)
    expect(phone.page.locator("#job-title")).to_have_text("22 Fennel Row")
    wire.down = True
    phone.say(BACK, "Left 24' 3½\" – “wall” 🐕")
    phone.page.locator("#lines > li").last.locator("input[type=file]").set_input_files(
        files=[{"name": "wall.png", "mimeType": "image/png", "buffer": PNG}]
    )
    expect(phone.page.locator("[data-photo]")).to_have_count(1)
    phone.page.locator("#this-phone summary").click()
    with phone.page.expect_download() as saved:
        phone.page.get_by_role("button", name="Save everything").click()
    file = tmp_path / "everything.json"
    saved.value.save_as(file)
    before = phone.kept()
    phone.page.close()
    wire.down = False

    other = new_context("phone")
    second = CapturePhone(other.new_page(), wire.url, job).open()
    wire.down = True
    for words in ("Failed to load resource", "An unknown error occurred when fetching the script."):
        other.watched.expect(words)  # type: ignore[attr-defined]
    second.page.locator("#this-phone summary").click()
    second.page.locator("#this-phone input[type=file]").set_input_files(file)
    expect(second.page.locator(".said-here")).to_contain_text("4 entries put back")
    after = second.kept()
    assert [{**one, "seq": 0} for one in after] == [{**one, "seq": 0} for one in before]
    second.page.locator("#this-phone input[type=file]").set_input_files(file)
    expect(second.page.locator(".said-here")).to_contain_text("0 entries put back")
    wire.down = False
    second.send_now()
    second.wait_for_office(3)
    expect(second.page.locator("#standing")).to_have_text(ALL_SENT)
    assert_office_has(server, job, [FRONT, BACK, "Left 24' 3½\" – “wall” 🐕"], second)
    with server.client() as client:
        (photo,) = client.get(f"/api/jobs/{job}/photos").json()["photos"]
        assert client.get(f"/api/jobs/{job}/photos/{photo['id']}").content == PNG


def test_13_the_note_is_copied_as_text_and_read_in_again(
    server: OfficeServer, wire: Wire, new_phone: NewPhone, pocket: BrowserContext
) -> None:
    job, fresh = server.started_job(), server.started_job()
    said = [FRONT, BACK, "Left 24' 3½\" – “wall” 🐕  ", "  Right 24"]
    phone = new_phone(wire.url, job)
    phone.say(*said)
    pocket.grant_permissions(["clipboard-read", "clipboard-write"], origin=wire.url)
    phone.page.locator("#this-phone summary").click()
    phone.page.get_by_role("button", name="Copy the note").click()
    expect(phone.page.locator(".said-here")).to_have_text("Copied.")
    text = phone.page.evaluate("navigator.clipboard.readText()")
    again = new_phone(wire.url, fresh)
    again.page.locator("#words").fill(text)
    again.page.locator("#keep").click()
    again.wait_for_office(4)
    assert [one for _, one, _ in office_lines(server, fresh)] == said


def test_14_the_phones_receipts_are_the_offices_list(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.say(FRONT, BACK)
    phone.wait_for_office(2)
    wire.down = True
    phone.say("Left side 24")
    phone.page.locator("#this-phone summary").click()
    rows = phone.page.locator("[data-receipt]")
    expect(rows).to_have_count(3)
    expect(rows.last).to_contain_text("not in the office yet")
    shown = [(one.get_attribute("data-receipt"), one.get_attribute("data-hash")) for one in rows.all()[:2]]
    with server.client() as client:
        there = client.get(f"/api/jobs/{job}/receipts").json()["receipts"]
    assert shown == [(one["id"], one["sha256"]) for one in there]
    for number, row in enumerate(rows.all()[:2], start=1):
        expect(row).to_contain_text(f"Line {number}:")


PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de"
    "0000000c49444154789c63f8cfc0000003010100c9fe92ef0000000049454e44ae426082"
)
"""A picture of one red dot."""

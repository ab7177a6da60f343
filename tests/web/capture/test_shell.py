"""The page with no signal: what https gives (or the office's own machine), and what plain http lacks."""

from __future__ import annotations

import os
import re
import shutil
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from capture_phone import ALL_SENT, CapturePhone, assert_office_has, office_lines
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from faulty_wire import Asked, Handler, Wire
    from office_server import OfficeServer
    from playwright.sync_api import Browser, BrowserContext, BrowserType

    NewPhone = Callable[[str, str], CapturePhone]

FRONT = "Front 42-6, outside corner both ends"
BACK = "Back 42-6, outside corner both ends"
ARGUMENTS = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"]
ELSEWHERE = "office.invalid"
"""A name that no browser takes for this machine, so that plain http to it is plain http."""


def test_the_page_opens_with_no_signal_and_starts_a_walk(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.say(FRONT)
    phone.wait_for_office(1)
    wait_for_shell(phone)
    wire.down = True
    phone.page.close()
    again = new_phone(wire.url, job)
    expect(again.lines).to_have_count(1)
    again.say(BACK)
    other = again.start("7 Teal Mews")
    other.say("Porch 12-8, wall both ends")
    again.page.reload()
    expect(again.in_state("phone")).to_have_count(1)
    wire.down = False
    again.send_now()
    again.wait_for_office(1)
    assert [text for _, text, _ in office_lines(server, other.job)] == ["Porch 12-8, wall both ends"]
    assert [text for _, text, _ in office_lines(server, job)] == [FRONT, BACK]


def test_the_worker_keeps_the_shell_alone(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wait_for_shell(phone)
    phone.say(FRONT)
    phone.wait_for_office(1)
    kept = phone.page.evaluate(
        """async () => {
            const found = [];
            for (const name of await caches.keys()) {
                const kept = await (await caches.open(name)).keys();
                found.push(...kept.map((one) => new URL(one.url).pathname));
            }
            return found;
        }"""
    )
    assert "/capture" in kept
    assert all(
        re.fullmatch(r"/capture|/static/(base\.css|capture/[a-z_0-9]+\.(js|css))", one) for one in kept
    )
    # the write went past it: it came over the wire from the page itself
    assert len(wire.sent()) == 1
    with phone.page.expect_response("**/lines") as answered:
        phone.say(BACK)
    assert not answered.value.from_service_worker
    with phone.page.expect_response("**/jobs") as asked:
        phone.page.evaluate("fetch('/api/jobs').then(() => null)")
    assert not asked.value.from_service_worker


def test_other_pages_get_their_files_from_the_network(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    """The office's pages share the style sheet, and must have it as new as they are."""
    phone = new_phone(wire.url, server.started_job())
    wait_for_shell(phone)
    phone.page.reload()
    phone.wait_until_ready()
    with phone.page.expect_response("**/static/base.css") as styled:
        phone.page.goto(f"{wire.url}/")
    assert not styled.value.from_service_worker
    # and where there is no worker, files are held against the server's before they are used again
    with server.client() as client:
        assert client.get("/static/base.css").headers["cache-control"] == "no-cache"


def test_everything_the_page_loads_is_in_the_shell(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    loaded = {one.path for one in wire.seen if one.path.startswith("/static/")}
    with server.client() as client:
        worker = client.get("/capture-worker.js")
    assert worker.headers["content-type"].startswith("text/javascript")
    assert all(f"'{path}'" in worker.text for path in loaded), loaded
    weight = phone.page.evaluate(
        "performance.getEntriesByType('resource').reduce((sum, one) => sum + one.encodedBodySize, 0)"
    )
    assert weight < 150_000


def test_an_upgraded_page_sends_what_the_old_one_kept(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    """The new version has another store in its database, and a new shell; lines wait from the old one."""
    job = server.started_job()
    old = new_phone(wire.url, job)
    wait_for_shell(old)
    wire.down = True
    old.say(FRONT)
    old.page.locator("#words").fill("half a li")
    wire.down = False
    upgrade(wire)
    wire.on("POST", "/lines", lambda _, handler, __: handler.cut(), 1000)
    new = new_phone(wire.url, job)
    new.page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update())")
    expect(new.page.locator("#warnings")).to_contain_text("newer", timeout=15_000)
    new.page.reload()
    new.wait_until_ready()
    assert database_version(new) == 2
    assert new.text_of_lines() == [FRONT]
    # the old page, still open, keeps lines in the same store
    old.say(BACK)
    new.say("Left side 24")
    wire.rules.clear()
    new.send_now()
    new.wait_for_office(3)
    assert_office_has(server, job, [FRONT, BACK, "Left side 24"], new)


def upgrade(wire: Wire) -> None:
    """From now on the wire brings the next version of the page."""

    def newer(_: Wire, handler: Handler, asked: Asked) -> None:
        answer, content = handler.fetch(asked, plain=True)
        text = content.decode()
        if asked.path.endswith("worker.js"):
            text = re.sub("VERSION = '[0-9a-f]+'", "VERSION = 'the-next'", text)
        else:
            added = '  (database) => database.createObjectStore("of_the_next_version"),\n];\n\n/** A write'
            assert "];\n\n/** A write" in text
            text = text.replace("];\n\n/** A write", added)
        handler.says(asked, answer.status, text.encode(), [("Content-Type", "text/javascript")])

    wire.on("GET", "/capture-worker.js", newer, 1000)
    wire.on("GET", "/static/capture/keeping.js", newer, 1000)


def database_version(phone: CapturePhone) -> int:
    found: int = phone.page.evaluate(
        """new Promise((give) => {
            const opening = indexedDB.open("gutterance-capture");
            opening.onsuccess = () => { give(opening.result.version); opening.result.close(); };
        })"""
    )
    return found


def wait_for_shell(phone: CapturePhone) -> None:
    """Until the page would open with no signal."""
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => null)")
    phone.page.wait_for_function("navigator.serviceWorker.controller !== null")


@pytest.fixture
def plain_phone(
    browser: Browser, server: OfficeServer, wire: Wire
) -> Iterator[tuple[CapturePhone, BrowserContext]]:
    """A phone that reaches its office by plain http over the network, as browsers see it."""
    chromium = browser.browser_type
    opened = chromium.launch(
        executable_path=shutil.which("chromium"),
        args=[*ARGUMENTS, f"--host-resolver-rules=MAP {ELSEWHERE} 127.0.0.1"],
    )
    context = opened.new_context(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True)
    phone = CapturePhone(context.new_page(), f"http://{ELSEWHERE}:{wire.port}", server.started_job())
    yield phone.open(), context
    opened.close()


def test_over_plain_http_the_open_page_keeps_and_sends(
    server: OfficeServer, plain_phone: tuple[CapturePhone, BrowserContext]
) -> None:
    phone, context = plain_phone
    lacking = phone.page.evaluate(
        """[isSecureContext, "serviceWorker" in navigator, "randomUUID" in crypto, "subtle" in crypto,
            "storage" in navigator, "clipboard" in navigator]"""
    )
    assert lacking == [False] * 6
    phone.say(FRONT)
    phone.wait_for_office(1)
    context.set_offline(True)
    phone.say(BACK)
    phone.page.locator("#words").fill("Left si")
    other = phone.start("7 Teal Mews")
    other.say("Porch 12-8, wall both ends")
    phone.page.go_back()
    phone.page.go_back()
    expect(phone.page.locator("#standing")).to_contain_text("2 of other walks on this phone only")
    expect(phone.lines).to_have_count(2)
    expect(phone.page.locator("#words")).to_have_value("Left si")
    phone.page.locator("#this-phone summary").click()
    expect(phone.page.locator("#this-phone-inside")).to_contain_text("cannot be opened with no signal")
    phone.page.get_by_role("button", name="Copy the note").click()
    expect(phone.page.locator(".said-here")).to_have_text("Copied.")
    context.set_offline(False)
    phone.send_now()
    phone.wait_for_office(2)
    expect(phone.page.locator("#standing")).to_have_text(ALL_SENT)
    there = [text for _, text, _ in office_lines(server, phone.job)]
    assert there == [FRONT, BACK]
    assert [text for _, text, _ in office_lines(server, other.job)] == ["Porch 12-8, wall both ends"]


@pytest.mark.skipif(sys.platform != "linux", reason="finds the browser's process by /proc")
def test_a_browser_killed_with_lines_waiting(
    browser: Browser, server: OfficeServer, wire: Wire, tmp_path: Path
) -> None:
    """kill -9 of the whole browser right after a line is shown as kept: it is on the disk."""
    chromium = browser.browser_type
    job = server.started_job()
    said: list[str] = []
    wire.down = False
    for turn in range(3):
        context = started(chromium, tmp_path / "profile")
        phone = CapturePhone(context.pages[0], wire.url, job).open()
        expect(phone.lines).to_have_count(len(said))
        wire.down = True
        for text in (f"{FRONT} {turn}", f"{BACK} {turn}"):
            phone.say(text)
            said.append(text)
        with context.expect_event("close"):
            kill_browser(tmp_path / "profile")
        wire.down = False
    context = started(chromium, tmp_path / "profile")
    phone = CapturePhone(context.pages[0], wire.url, job).open()
    phone.wait_for_office(len(said))
    assert_office_has(server, job, said, phone)
    context.close()


def started(chromium: BrowserType, profile: Path) -> BrowserContext:
    return chromium.launch_persistent_context(
        str(profile), executable_path=shutil.which("chromium"), args=ARGUMENTS
    )


def kill_browser(profile: Path) -> None:
    """Ends every process of the browser that was started on that profile, and no other."""
    killed = 0
    for entry in Path("/proc").iterdir():
        if not entry.name.isdigit():
            continue
        try:
            words = (entry / "cmdline").read_bytes().split(b"\0")
        except OSError:
            continue
        if f"--user-data-dir={profile}".encode() in words:
            os.kill(int(entry.name), signal.SIGKILL)
            killed += 1
    assert killed

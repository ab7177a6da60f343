"""A phone at work on its capture page, and what the office has of it."""

from __future__ import annotations

import hashlib
import json
import re
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from playwright.sync_api import expect

if TYPE_CHECKING:
    from office_server import OfficeServer
    from playwright.sync_api import Locator, Page

ALL_SENT = re.compile(r"^All in the office\.\s*$")
"""What the page says once nothing of any walk waits on the phone."""
PATIENCE = 15_000
"""How long a state may take to come [ms]."""


@dataclass
class CapturePhone:
    """One open page. `url` is where its office is reached."""

    page: Page
    url: str
    job: str

    def open(self) -> CapturePhone:
        """Open the page of its job and wait until it can be typed into."""
        self.page.goto(f"{self.url}/jobs/{self.job}/capture")
        self.wait_until_ready()
        return self

    def wait_until_ready(self) -> None:
        """Until the page has shown what it has, and made its first try to send what waits."""
        expect(self.page.locator("body[data-ready]")).to_be_attached(timeout=PATIENCE)

    def start(self, title: str) -> CapturePhone:
        """Start another walk from the list of walks, in this very page."""
        before = self.page.url
        self.page.locator("#to-jobs").click()
        self.page.get_by_label("Start a walk").fill(title)
        self.page.get_by_role("button", name="Start").click()
        self.page.wait_for_url(lambda url: "/jobs/" in url and url != before)
        expect(self.page.locator("#job-title")).to_have_text(title)
        expect(self.lines).to_have_count(0)
        return CapturePhone(self.page, self.url, self.page.url.split("/")[-2])

    def say(self, *texts: str) -> None:
        """Type each line and keep it; returns once the page shows it as kept."""
        for text in texts:
            before = self.lines.count()
            self.page.locator("#words").fill(text)
            self.page.locator("#keep").click()
            expect(self.lines).to_have_count(before + 1, timeout=PATIENCE)

    @property
    def lines(self) -> Locator:
        return self.page.locator("#lines > li")

    def in_state(self, name: str) -> Locator:
        """The lines in that state: phone, sending or office."""
        return self.page.locator(f"#lines > li[data-state={name}]")

    def wait_for_office(self, count: int, patience: int = PATIENCE) -> None:
        """Wait until that many lines are shown as being in the office, and none elsewhere."""
        expect(self.in_state("office")).to_have_count(count, timeout=patience)
        expect(self.lines).to_have_count(count, timeout=PATIENCE)

    def send_now(self) -> None:
        """Press the button, be it that the timer was quicker and the button is gone again."""
        self.page.locator("#send-now").evaluate("button => button.click()")

    def kept(self, store: str = "entries") -> list[dict[str, Any]]:
        """Everything in a store of the phone's database, as it is on the disk."""
        found: list[dict[str, Any]] = self.page.evaluate(
            """store => new Promise((give, fail) => {
                const opening = indexedDB.open("gutterance-capture");
                opening.onerror = () => fail(opening.error);
                opening.onsuccess = () => {
                    const all = opening.result.transaction(store).objectStore(store).getAll();
                    all.onsuccess = () => { opening.result.close(); give(all.result); };
                };
            })""",
            store,
        )
        return found

    def text_of_lines(self) -> list[str]:
        return [one["text"] for one in self.kept() if one["kind"] == "line"]


def office_lines(office: OfficeServer, job: str) -> list[tuple[str, str, str]]:
    """Id, text and hash of every line in the office's database, in its order."""
    file = office.folder / "jobs.sqlite3"
    with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as opened:
        rows = opened.execute("select id, text, sha256 from lines where job_id = ? order by number", (job,))
        return [(str(one), str(text), str(sha)) for one, text, sha in rows]


def assert_office_has(office: OfficeServer, job: str, captured: list[str], phone: CapturePhone) -> None:
    """Count in the office = count captured, in that order, bytes identical, under the phone's own ids."""
    there = office_lines(office, job)
    assert [text.encode() for _, text, _ in there] == [text.encode() for text in captured]
    assert [sha for _, _, sha in there] == [hashlib.sha256(text.encode()).hexdigest() for text in captured]
    mine = {one["id"]: one["sha256"] for one in phone.kept() if one["kind"] == "line"}
    assert {one: sha for one, _, sha in there} == mine


def body_of(content: bytes) -> dict[str, Any]:
    """A request's body."""
    read: dict[str, Any] = json.loads(content)
    return read

"""The pages: one more line read back, 32 phones at once, and what a first page weighs. In one run.

A line is read back on a note of 40 lines and on a note of that line alone (aim: under 30 ms; the ratio says
how much of the note is read anew): processor time of the whole answer, so that other programs do not count.
Then 32 phones send lines at once to one server, each waiting for its receipt, and every receipt is held
against what the server has: by the clock, so on an idle machine. Last, a browser opens the pages for the
first time (aim: under 150 kB each, and nothing from another host).
"""

from __future__ import annotations

import asyncio
import http.client
import json
import math
import multiprocessing
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import httpx

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "support"))

from office_server import OURS, OfficeServer, line_of

from gutterance.jobs.office import Office
from gutterance.shop import load_shop
from gutterance.store import open_database
from gutterance.web.app import build_app

if TYPE_CHECKING:
    from playwright.sync_api import Browser

PHONES, LINES_EACH, CLIENTS = 32, 25, 2
ROUNDS = 25
SIDES = ["front", "right side", "back", "left side", "garage front", "garage right", "garage back", "porch"]


def note_of(count: int) -> list[str]:
    """A note of so many lines as a measurer gives them, no two the same."""
    lines = []
    for number in range(math.ceil(count / 2)):
        side = f"{('', 'upper ', 'lower ')[number // 8]}{SIDES[number % 8]}"
        lines.append(f"{side} {20 + number}-{number % 12} OSC both ends")
        lines.append(f"drop left, w/f 24, height {8 + number % 3}-{number % 12} to splash block")
    return lines[:count]


class Caller:
    """One connection to the server, kept open, as a phone keeps it."""

    def __init__(self, port: int) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.host = f"127.0.0.1:{port}"

    def ask(self, method: str, path: str, body: Any = None) -> tuple[int, Any]:
        """Its status and its JSON."""
        headers = {**OURS, "Content-Type": "application/json", "Host": self.host}
        self.connection.request(method, path, None if body is None else json.dumps(body), headers)
        answer = self.connection.getresponse()
        return answer.status, json.loads(answer.read())

    def add(self, job: str, text: str) -> str:
        """Add a line; its id."""
        line = line_of(text)
        status, said = self.ask("POST", f"/api/jobs/{job}/lines", line)
        assert status == 201, said
        return str(line["id"])

    def job(self, title: str) -> str:
        """Start a job; its id."""
        return str(self.ask("POST", "/api/jobs", {"title": title})[1]["id"])


async def reading_back(folder: Path) -> None:
    """Time one more line read back, on a long note and alone, turn about."""
    office = Office(open_database(folder), folder, load_shop(None))
    times: dict[int, list[float]] = {40: [], 1: []}
    there = httpx.ASGITransport(build_app(office))
    async with httpx.AsyncClient(transport=there, base_url="http://127.0.0.1", headers=OURS) as client:
        for number in range(ROUNDS + 3):
            last = f"shed {number} {12 + number % 30}-{number % 12} end caps both ends, drop right, w/f 18"
            for length, taken in times.items():
                job = (await client.post("/api/jobs", json={"title": "read back"})).json()["id"]
                for text in [*note_of(length - 1), last]:
                    if text == last:
                        await client.get(f"/api/jobs/{job}/read-back")
                    line = line_of(text)
                    (await client.post(f"/api/jobs/{job}/lines", json=line)).raise_for_status()
                start = time.process_time()
                said = await client.get(f"/api/jobs/{job}/read-back?line={line['id']}")
                taken.append((time.process_time() - start) * 1000)
                assert said.json()["lines"][0]["says"], said.text
    office.database.close()
    long, alone = (statistics.median(taken[3:]) for taken in times.values())
    print(f"one more line read back, 40 lines {long:9.2f} ms   (aim: under 30)")
    print(f"that line alone                   {alone:9.2f} ms   ratio {long / alone:7.2f}")


def send_lines(port: int, jobs: list[str], first: int, count: int, results: Any) -> None:
    """Several phones of one process, in turns of threads: each line's time, and the receipts."""
    import threading

    taken: list[float] = []
    receipts: list[tuple[str, str, str]] = []

    def phone(number: int) -> None:
        caller, job = Caller(port), jobs[number % len(jobs)]
        for text in note_of(LINES_EACH):
            line = line_of(f"{text} ({number})")
            start = time.perf_counter()
            status, said = caller.ask("POST", f"/api/jobs/{job}/lines", line)
            taken.append((time.perf_counter() - start) * 1000)
            assert (status, said["sha256"]) == (201, line["sha256"]), said
            receipts.append((job, line["id"], line["sha256"]))

    phones = [threading.Thread(target=phone, args=(number,)) for number in range(first, first + count)]
    for one in phones:
        one.start()
    for one in phones:
        one.join()
    results.put((taken, receipts))


def many_phones(port: int) -> None:
    """32 phones send at once; how many lines a second, how long the slowest waited, and none lost."""
    caller = Caller(port)
    jobs = [caller.job(f"job {number}") for number in range(8)]
    results: Any = multiprocessing.Queue()
    each = PHONES // CLIENTS
    clients = [
        multiprocessing.Process(target=send_lines, args=(port, jobs, number * each, each, results))
        for number in range(CLIENTS)
    ]
    start = time.perf_counter()
    for one in clients:
        one.start()
    parts = [results.get() for _ in clients]
    for one in clients:
        one.join()
    whole = time.perf_counter() - start
    taken = sorted(one for part, _ in parts for one in part)
    sent = {receipt for _, part in parts for receipt in part}
    kept = {
        (job, one["id"], one["sha256"])
        for job in jobs
        for one in caller.ask("GET", f"/api/jobs/{job}/receipts")[1]["receipts"]
    }
    assert len(sent) == PHONES * LINES_EACH
    print(f"{PHONES} phones at once, lines a second {len(sent) / whole:9.0f}")
    last = taken[int(len(taken) * 0.99)]
    print(f"median, 99th percentile           {statistics.median(taken):9.2f} ms, {last:.2f} ms")
    print(f"lost, doubled                     {len(sent - kept):9} {len(kept - sent)}")
    assert sent == kept


def page_weights(server: OfficeServer) -> None:
    """What a browser that never saw us fetches to show each page, and from where."""
    import shutil

    from playwright.sync_api import sync_playwright

    job = server.started_job("14 Quarry Lane", *note_of(40))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--headless=new", "--no-sandbox", "--disable-gpu"]
        )
        of_job = [f"jobs/{job}/{part}" for part in ("capture", "review", "lists", "crew")]
        for name in ("", "capture", "devices", *of_job):
            weigh(browser, server, name, f"/{name}".replace(job, "JOB"))
        browser.close()


def weigh(browser: Browser, server: OfficeServer, path: str, shown: str) -> None:
    """Print what a browser that never saw us fetches for one page."""
    page = browser.new_context().new_page()
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    sizes: list[float] = []
    hosts: set[str] = set()
    session.on("Network.loadingFinished", lambda told: sizes.append(told["encodedDataLength"]))
    session.on("Network.requestWillBeSent", lambda told: hosts.add(urlsplit(told["request"]["url"]).netloc))
    answer = page.goto(f"{server.url}/{path}", wait_until="networkidle")
    if answer is None or not answer.ok:
        print(f"{shown:<33} {'none':>9}")
    else:
        others = hosts - {urlsplit(server.url).netloc, ""}
        asked = f"in {len(sizes)} requests, {len(others)} other hosts"
        print(f"{shown:<33} {sum(sizes) / 1000:9.1f} kB   {asked}")
    page.context.close()


def main() -> None:
    """Serve a fresh folder and time it."""
    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(reading_back(Path(folder) / "read"))
        server = OfficeServer(Path(folder) / "office").start()
        try:
            many_phones(server.port)
            page_weights(server)
        finally:
            server.stop()


if __name__ == "__main__":
    main()

"""A server that dies at any moment: what it acknowledged is there, once, when it is started again."""

from __future__ import annotations

import random
import threading
import time
from typing import TYPE_CHECKING, Any

import httpx
from office_server import line_of

if TYPE_CHECKING:
    from office_server import OfficeServer

KILLS = 200
PHONES = 3


class SendingPhone(threading.Thread):
    """Sends lines one after another, each until it is acknowledged, as a phone does."""

    def __init__(self, server: OfficeServer, job: str, number: int, ended: threading.Event) -> None:
        super().__init__(daemon=True)
        self.server, self.job, self.number, self.ended = server, job, number, ended
        self.acknowledged: list[tuple[dict[str, Any], dict[str, Any]]] = []
        self.unsure = 0
        self.wrong: list[str] = []

    def run(self) -> None:
        before = None
        with self.server.client() as client:
            while not self.ended.is_set():
                count = len(self.acknowledged)
                text = f"phone {self.number} says {count}: run {count} is {count % 90 + 1} ft ½ é 雨"
                line = line_of(text, after=before)
                receipt = self._given(client, line)
                if receipt is not None:
                    self.acknowledged.append((line, receipt))
                    before = line["id"]

    def _given(self, client: httpx.Client, line: dict[str, Any]) -> dict[str, Any] | None:
        while not self.ended.is_set():
            try:
                answer = client.post(f"/api/jobs/{self.job}/lines", json=line)
            except httpx.TransportError:
                self.unsure += 1
                time.sleep(0.01)
                continue
            if answer.status_code not in (200, 201):
                self.wrong.append(answer.text)
                return None
            receipt: dict[str, Any] = answer.json()
            return receipt
        return None


def test_two_hundred_kills_lose_no_acknowledged_line_and_double_none(own_server: OfficeServer) -> None:
    """Killed after a random while of work, 200 times, while three phones send; then every receipt is held
    against what is there: id, hash and number, and each phone's lines in the order it sent them."""
    server = own_server
    job = server.started_job()
    ended = threading.Event()
    phones = [SendingPhone(server, job, number, ended) for number in range(PHONES)]
    for phone in phones:
        phone.start()
    dice = random.Random(8417)
    for _ in range(KILLS):
        # after none to two more receipts, and then at any moment of the work on the next
        enough = sum(len(phone.acknowledged) for phone in phones) + dice.choice((0, 0, 1, 2))
        while sum(len(phone.acknowledged) for phone in phones) < enough:
            time.sleep(0.001)
        time.sleep(dice.uniform(0.0, 0.012))
        server.kill()
        server.start()
    time.sleep(0.2)
    ended.set()
    for phone in phones:
        phone.join(timeout=30)
    with server.client() as client:
        kept = client.get(f"/api/jobs/{job}/receipts").json()["receipts"]
        history = client.get(f"/api/jobs/{job}").json()
    by_id = {one["id"]: one for one in kept}
    sent = [pair for phone in phones for pair in phone.acknowledged]
    assert [phone.wrong for phone in phones] == [[]] * PHONES
    assert len(kept) == len(by_id)
    # the last line of a phone may have been stopped between its sending and its receipt
    assert len(sent) <= len(kept) <= len(sent) + PHONES
    for line, receipt in sent:
        held = by_id[line["id"]]
        assert (held["sha256"], held["number"]) == (line["sha256"], receipt["number"])
    for phone in phones:
        numbers = [by_id[line["id"]]["number"] for line, _ in phone.acknowledged]
        assert numbers == sorted(numbers)
    assert [one["number"] for one in kept] == list(range(1, len(kept) + 1))
    assert history["revision"] == len(kept)
    # the kills were in the midst of work, not beside it
    assert sum(phone.unsure for phone in phones) > KILLS / 4
    assert len(sent) > KILLS / 2

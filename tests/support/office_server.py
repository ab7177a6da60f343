"""A server of the pages in a process of its own, on a free port: tests stop, kill and start it again."""

from __future__ import annotations

import hashlib
import json
import re
import secrets
import signal
import socket
import subprocess
import time
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any

import httpx
from server_nursery import Forked, Nursery

if TYPE_CHECKING:
    from pathlib import Path

OURS = {"X-Gutterance": "1"}


@cache
def nursery() -> Nursery:
    """What all servers of a run are forked from."""
    return Nursery()


def free_port() -> int:
    """A port that nothing listens on just now."""
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        return int(sock.getsockname()[1])


@dataclass
class OfficeServer:
    """`gutterance serve` on `folder`. `more` are further arguments of the command."""

    folder: Path
    more: tuple[str, ...] = ()
    port: int = field(default_factory=free_port)
    scheme: str = "http"
    verify: Any = True
    environment: dict[str, str] = field(default_factory=dict)
    process: Forked | None = None

    @property
    def url(self) -> str:
        return f"{self.scheme}://127.0.0.1:{self.port}"

    @property
    def log(self) -> Path:
        return self.folder.with_name(f"{self.folder.name}.log")

    def start(self) -> OfficeServer:
        """Start it and wait until it answers."""
        arguments = ["serve", "--folder", str(self.folder), "--port", str(self.port), *self.more]
        self.process = nursery().start(arguments, self.environment, self.log)
        for _ in range(6000):
            if self.process.poll() is not None:
                raise RuntimeError(f"the server stopped at once: {self.log.read_text()}")
            with socket.socket() as sock:
                if sock.connect_ex(("127.0.0.1", self.port)) == 0:
                    return self
            time.sleep(0.01)
        raise RuntimeError(f"the server does not answer: {self.log.read_text()}")

    def kill(self) -> None:
        """End it as a power cut would."""
        assert self.process is not None
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def stop(self) -> None:
        """End it as Ctrl-C would."""
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            try:
                self.process.wait(timeout=20)
            except subprocess.TimeoutExpired:
                self.kill()

    def client(self, **options: Any) -> httpx.Client:
        """A client that says our header."""
        options = {"base_url": self.url, "headers": OURS, "verify": self.verify, **options}
        return httpx.Client(timeout=30, trust_env=False, **options)

    @property
    def lan_url(self) -> str:
        """The address by which other machines reach it: what asks there has to be paired."""
        for _ in range(200):
            # it listens a moment before it tells where
            far = [url for url in self.addresses_told() if "127.0.0.1" not in url]
            if far:
                return far[0].rsplit("/", 1)[0]
            time.sleep(0.05)
        raise RuntimeError(f"it told of no address: {self.log.read_text()}")

    def paired(self, role: str = "measure", name: str = "a phone") -> httpx.Client:
        """A client that came over the network and was paired for a role."""
        with self.client() as here:
            code = here.post("/api/devices/codes", json={"role": role}).raise_for_status().json()["code"]
        with self.client(base_url=self.lan_url) as there:
            there.post("/api/pair", json={"code": code, "name": name}).raise_for_status()
            cookies = dict(there.cookies)
        return self.client(base_url=self.lan_url, cookies=cookies)

    def started_job(self, title: str = "4 Heron Row", *lines: str) -> str:
        """A job with those lines; its id."""
        with self.client() as client:
            job = client.post("/api/jobs", json={"title": title}).raise_for_status().json()["id"]
            for line in lines:
                client.post(f"/api/jobs/{job}/lines", json=line_of(line)).raise_for_status()
        return str(job)

    def addresses_told(self) -> list[str]:
        """The addresses it told at its start."""
        return re.findall(r"https?://\S+", self.log.read_text())


def line_of(text: str, **more: Any) -> dict[str, Any]:
    """A line as a phone sends it."""
    sha256 = hashlib.sha256(text.encode()).hexdigest()
    return {"id": f"line-{secrets.token_hex(8)}", "text": text, "sha256": sha256, **more}


def error_of(answer: httpx.Response) -> dict[str, Any]:
    """A refusal's words."""
    said: dict[str, Any] = json.loads(answer.content)
    assert said["error"].endswith((".", "?", "!")), said
    assert said["next"].endswith((".", "?", "!")), said
    return said

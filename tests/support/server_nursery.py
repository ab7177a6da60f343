"""Servers that start in no time: a process that has loaded all there is to load, and forks one when asked.

What is forked is `gutterance serve` from its arguments on; only the loading of modules and the making of the
reader, which take seconds of a processor, are done once for all tests of a run.
"""

from __future__ import annotations

import asyncio
import atexit
import gc
import importlib
import json
import os
import signal
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any


@dataclass
class Forked:
    """A forked server, as `subprocess.Popen` would have it."""

    nursery: Nursery
    pid: int

    def poll(self) -> int | None:
        """Its exit status, None while it runs."""
        status: int | None = self.nursery.ask(poll=self.pid)
        return status

    def wait(self, timeout: float = 60) -> int:
        """Wait until it has ended; its exit status. Raises TimeoutExpired."""
        end = time.monotonic() + timeout
        while (status := self.poll()) is None:
            if time.monotonic() > end:
                raise subprocess.TimeoutExpired("the forked server", timeout)
            time.sleep(0.002)
        return status

    def send_signal(self, what: int) -> None:
        """Send it a signal."""
        os.kill(self.pid, what)


class Nursery:
    """The process that forks, asked by lines of JSON."""

    def __init__(self) -> None:
        command = [sys.executable, str(Path(__file__))]
        self._process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, start_new_session=True
        )
        self._turn = threading.Lock()
        atexit.register(self.end)

    def start(self, arguments: list[str], environment: dict[str, str], log: Path) -> Forked:
        """Start `gutterance` with those arguments; what it prints goes to the end of `log`."""
        pid = self.ask(start={"arguments": arguments, "environment": environment, "log": str(log)})
        return Forked(self, pid)

    def ask(self, **what: Any) -> Any:
        """One question, one answer."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        with self._turn:
            self._process.stdin.write(json.dumps(what) + "\n")
            self._process.stdin.flush()
            return json.loads(self._process.stdout.readline())

    def end(self) -> None:
        """End it. The servers that it forked are ended by who started them."""
        self._process.kill()
        self._process.communicate()


def main() -> None:
    load_everything()
    for line in sys.stdin:
        asked = json.loads(line)
        if "poll" in asked:
            answer = ended(asked["poll"])
        else:
            answer = os.fork()
            if answer == 0:
                serve(**asked["start"])
        print(json.dumps(answer), flush=True)


def ended(pid: int) -> int | None:
    """The exit status of a child, None while it runs. One that was asked about before has ended."""
    try:
        there, status = os.waitpid(pid, os.WNOHANG)
    except ChildProcessError:
        return 0
    return None if there == 0 else os.waitstatus_to_exitcode(status)


def serve(arguments: list[str], environment: dict[str, str], log: str) -> None:
    """Be the server, in the child."""
    from gutterance.cli.boundary import run

    signal.signal(signal.SIGINT, signal.default_int_handler)
    os.environ.update(environment)
    opened = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o644)
    nothing = os.open(os.devnull, os.O_RDONLY)
    for mine, stream in ((nothing, 0), (opened, 1), (opened, 2)):
        os.dup2(mine, stream)
    status = run(arguments)
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(status)


def load_everything() -> None:
    """Take one line in and read it back here, so that no fork has to load what that takes."""
    import httpx
    from office_server import OURS, line_of

    from gutterance.cli import app, serving
    from gutterance.jobs.office import Office
    from gutterance.shop import load_shop
    from gutterance.store import open_database
    from gutterance.web.app import build_app

    for name in ("uvicorn.loops.auto", "uvicorn.protocols.http.auto", "uvicorn.lifespan.off"):
        importlib.import_module(name)
    assert app, serving
    with tempfile.TemporaryDirectory() as folder:
        office = Office(open_database(Path(folder)), Path(folder), load_shop(None))

        async def ask() -> None:
            there = httpx.ASGITransport(build_app(office))
            async with httpx.AsyncClient(
                transport=there, base_url="http://127.0.0.1", headers=OURS
            ) as client:
                job = (await client.post("/api/jobs", json={"title": "warm"})).json()["id"]
                line = line_of("Front 42-6 OSC both ends, drop left, w/f 24, height 9-4")
                await client.post(f"/api/jobs/{job}/lines", json=line)
                for what in ("read-back", "lists", "findings"):
                    (await client.get(f"/api/jobs/{job}/{what}")).raise_for_status()
                for what in ("review", "lists", "crew", "history"):
                    (await client.get(f"/jobs/{job}/{what}")).raise_for_status()

        asyncio.run(ask())
        office.database.close()
    while threading.active_count() > 1:
        time.sleep(0.01)
    gc.collect()
    gc.freeze()


if __name__ == "__main__":
    main()

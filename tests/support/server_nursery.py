"""Servers that start in no time: a process that has loaded all there is to load, and forks one when told.

What is forked is `gutterance serve` from its first line on; only the loading of modules, which takes a
second, is done once. It is told `FOLDER PORT` on a line, and answers with the server's process id.
"""

from __future__ import annotations

import asyncio
import importlib
import os
import sys
import tempfile
from pathlib import Path


def main() -> None:
    from gutterance.cli.serving import reached_by, run_server

    load_everything()
    child = 0
    for line in sys.stdin:
        folder, port = line.split()
        if child:
            # whoever connects next reaches the new one
            os.waitpid(child, 0)
        child = os.fork()
        if child == 0:
            sys.stdin.close()
            run_server(
                folder, None, reached_by(int(port), [], None, None, lan=False, https=False), None, None
            )
            os._exit(0)
        print(child, flush=True)


def load_everything() -> None:
    """Answer one line here, so that no fork has to load what answering takes."""
    import httpx
    from office_server import OURS, line_of

    from gutterance.jobs.office import Office
    from gutterance.shop import load_shop
    from gutterance.store import open_database
    from gutterance.web.app import build_app

    for name in ("uvicorn.loops.auto", "uvicorn.protocols.http.auto", "uvicorn.lifespan.off"):
        importlib.import_module(name)
    with tempfile.TemporaryDirectory() as folder:
        office = Office(open_database(Path(folder)), Path(folder), load_shop(None))

        async def ask() -> None:
            there = httpx.ASGITransport(build_app(office))
            async with httpx.AsyncClient(
                transport=there, base_url="http://127.0.0.1", headers=OURS
            ) as client:
                job = (await client.post("/api/jobs", json={"title": "warm"})).json()["id"]
                await client.post(f"/api/jobs/{job}/lines", json=line_of("Front 42-6"))

        asyncio.run(ask())
        office.database.close()


if __name__ == "__main__":
    main()

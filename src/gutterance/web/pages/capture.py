"""The phone's page: one shell for every walk, so that a phone which has it needs no signal to open any."""

from __future__ import annotations

import hashlib
from pathlib import Path

from fastapi import APIRouter
from starlette.responses import HTMLResponse, Response

from gutterance.web.rendering import page

router = APIRouter(include_in_schema=False)

_STATIC = Path(__file__).parents[1] / "static"
_WORKER = _STATIC / "capture" / "worker.js"


@router.get("/capture")
@router.get("/jobs/{job_id}/capture")
def capture(job_id: str = "") -> HTMLResponse:  # noqa: ARG001 - the page's script reads it from the address
    """The shell. It holds nothing of any job or person: those come from the phone and from the API."""
    return page("capture.html", None)


@router.get("/capture-worker.js")
def worker() -> Response:
    """The service worker, told which files the shell is made of and what they hash to.

    A browser takes a new worker when its bytes differ: they do as soon as one file of the shell does.
    """
    head = f"const VERSION = {_version()!r};\nconst FILES = {_files()!r};\n"
    return Response(head + _WORKER.read_text(encoding="utf-8"), media_type="text/javascript")


def _files() -> list[str]:
    ours = sorted(path for path in (_STATIC / "capture").iterdir() if path != _WORKER)
    return ["/static/base.css", *(f"/static/capture/{path.name}" for path in ours)]


def _version() -> str:
    """A hash of the shell's page and files."""
    digest = hashlib.sha256(page("capture.html", None).body)
    for name in [*_files(), "/static/capture/worker.js"]:
        digest.update((_STATIC.parent / name.lstrip("/")).read_bytes())
    return digest.hexdigest()[:16]

"""The list of jobs."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form
from starlette.responses import HTMLResponse, RedirectResponse, Response

from gutterance.jobs import job
from gutterance.web.people import Anyone, Measurer, TheOffice
from gutterance.web.rendering import page

router = APIRouter(include_in_schema=False)


@router.get("/")
def jobs(
    office: TheOffice, who: Anyone, search: str = "", state: str | None = None, archived: bool = False
) -> HTMLResponse:
    """The jobs, with a search and a form to start one."""
    found = job.find_jobs(office, search, state or None, archived=archived)
    return page("jobs.html", who, jobs=found, search=search, state=state, archived=archived)


@router.post("/jobs")
def start(office: TheOffice, _who: Measurer, title: Annotated[str, Form()]) -> Response:
    """Start a job from the form and go to its note."""
    made = job.start_job(office, title)
    return RedirectResponse(f"/jobs/{made.id}/capture", status_code=303)

"""The history of a job: every step with who, when and why, and the note as it came."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import HTMLResponse

from gutterance.jobs.identity import new_id
from gutterance.jobs.listing import lists_of_job
from gutterance.store import lines as line_rows
from gutterance.web.people import Measurer, TheOffice
from gutterance.web.rendering import page
from gutterance.web.views.history import done_steps

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@router.get("/history")
def history(office: TheOffice, who: Measurer, job_id: str) -> HTMLResponse:
    """The history, the latest step first."""
    stands = lists_of_job(office, job_id).stands
    with office.database.reading() as connection:
        lines = [dict(row) for row in line_rows.lines_of(connection, job_id)]
        clashes = [dict(row) for row in line_rows.clashes_of(connection, job_id)]
    return page(
        "history.html", who, job_id=job_id, title=stands.sheet.title or stands.job.title, lines=lines,
        steps=done_steps(stands.events, stands.sheet), revision=stands.job.revision, clashes=clashes,
        new_id=new_id,
    )  # fmt: skip

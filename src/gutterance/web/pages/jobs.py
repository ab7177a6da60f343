"""The list of jobs: found, started, copied, archived, renamed, carried out and in."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Form, UploadFile
from starlette.responses import HTMLResponse, RedirectResponse, Response

from gutterance.jobs import carrying, job, job_files, shelving
from gutterance.jobs.changing import Given
from gutterance.jobs.errors import JobError, NotThere
from gutterance.jobs.identity import new_id
from gutterance.jobs.office import Office, Person
from gutterance.jobs.states import STATES
from gutterance.web.answers import sentence, status_of
from gutterance.web.notices import Notice
from gutterance.web.people import Anyone, Measurer, OfficeOnly, TheOffice
from gutterance.web.rendering import page

router = APIRouter(include_in_schema=False)

Text = Annotated[str, Form(max_length=1_000)]
Revision = Annotated[int, Form()]


@router.get("/")
def jobs(
    office: TheOffice,
    who: Anyone,
    search: str = "",
    state: str | None = None,
    archived: str = "",
    told: str = "",
) -> HTMLResponse:
    """The jobs, with a search, how far each is, and what can be done with it."""
    return _page(office, who, search, state or None, bool(archived), told=told)


@router.post("/jobs")
def start(office: TheOffice, _who: Measurer, title: Annotated[str, Form()]) -> Response:
    """Start a job from the form and go to its note."""
    made = job.start_job(office, title)
    return RedirectResponse(f"/jobs/{made.id}/capture", status_code=303)


@router.post("/jobs/file")
def take_in(office: TheOffice, who: OfficeOnly, file: UploadFile) -> Response:
    """Import a job from its file."""
    try:
        made = carrying.import_job(office, file.file.read(), who)
    except JobError as error:
        return _page(office, who, notice=_notice(error), status=status_of(error))
    return _back(f"“{made.title}” is imported.")


@router.post("/jobs/{job_id}/copy")
def copy(office: TheOffice, who: OfficeOnly, job_id: str) -> Response:
    """Copy a job."""
    made = carrying.copy_job(office, job_id, who)
    return _back(f"“{made.title}” is there: nothing of it is ticked.")


@router.get("/jobs/{job_id}/file")
def export(office: TheOffice, _who: OfficeOnly, job_id: str) -> Response:
    """A whole job as one file."""
    name, content = carrying.export_job(office, job_id)
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
    return Response(content, media_type=job_files.MEDIA_TYPE, headers=headers)


@router.post("/jobs/{job_id}/archive")
def archive(
    office: TheOffice, who: OfficeOnly, job_id: str, id: Text, revision: Revision, on: Text = ""
) -> Response:
    """Put a job into the archive, or take it out."""
    title = job.the_job(office, job_id).title
    shelving.archive(office, job_id, Given(id, revision), who, on=bool(on))
    return _back(f"“{title}” is in the archive." if on else f"“{title}” is out of the archive.")


@router.post("/jobs/{job_id}/rename")
def rename(
    office: TheOffice, who: OfficeOnly, job_id: str, id: Text, revision: Revision, title: Text = ""
) -> Response:
    """Give a job another title."""
    try:
        shelving.rename(office, job_id, title, Given(id, revision), who)
    except NotThere:
        raise
    except JobError as error:
        return _page(office, who, notice=_notice(error), status=status_of(error))
    return _back(f"It is called “{job.the_job(office, job_id).title}” now.")


def _page(
    office: Office, who: Person, search: str = "", state: str | None = None, archived: bool = False, *,
    told: str = "", notice: Notice | None = None, status: int = 200,
) -> HTMLResponse:  # fmt: skip
    found = job.find_jobs(office, search, state, archived=archived)
    return page(
        "jobs.html", who, status, jobs=found, search=search, state=state, archived=archived,
        states=("", *STATES), told=told[:300], notice=notice, new_id=new_id,
    )  # fmt: skip


def _back(told: str) -> Response:
    return RedirectResponse(f"/?{urlencode({'told': told})}", status_code=303)


def _notice(error: JobError) -> Notice:
    return Notice(sentence(error.what), sentence(error.next))

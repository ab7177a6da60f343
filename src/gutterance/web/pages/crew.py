"""The crew's view: what to run, cut and hang now, in type that is read from the machine and the ladder."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import HTMLResponse

from gutterance.web.pages.lists import lists_page
from gutterance.web.people import Anyone, TheOffice

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@router.get("/crew")
def crew(office: TheOffice, who: Anyone, job_id: str, told: str = "") -> HTMLResponse:
    """The next piece to make in the biggest type, then what to hang."""
    return lists_page(office, who, job_id, "crew", told=told)

"""The lists of a job: the live cut list to tick off, and the papers."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Form
from starlette.responses import HTMLResponse, RedirectResponse, Response

from gutterance.jobs import papers, states, ticking
from gutterance.jobs.changing import Given
from gutterance.jobs.errors import JobError, NotThere
from gutterance.jobs.identity import new_id
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.office import Office, Person
from gutterance.web.answers import sentence, status_of
from gutterance.web.notices import Notice
from gutterance.web.people import Anyone, Crew, TheOffice
from gutterance.web.rendering import page
from gutterance.web.views.lists import lists_shown

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)

PAPERS = (
    ("cut-list.pdf", "Cut list"),
    ("install-sheet.pdf", "Install sheet"),
    ("load-list.pdf", "Load list"),
    ("office.pdf", "Office summary"),
    ("plan.svg", "Plan"),
    ("lists.json", "As data"),
)
Text = Annotated[str, Form(max_length=2_000)]


@router.get("/lists")
def lists(office: TheOffice, who: Anyone, job_id: str, told: str = "") -> HTMLResponse:
    """The lists, with a tick for what is made and what is hung."""
    return lists_page(office, who, job_id, "lists", told=told)


@router.post("/tick")
def tick(
    office: TheOffice, who: Crew, job_id: str, path: Text, what: Text, id: Text,
    revision: Annotated[int, Form()], numbers: Text = "", on: Text = "", back: Text = "lists",
) -> Response:  # fmt: skip
    """Tick something as made or hung, or take the tick off."""
    here = "crew" if back == "crew" else "lists"
    try:
        ticking.tick(
            office, job_id, path, what, Given(id, revision), who, on=bool(on), numbers=numbers or None
        )
    except NotThere:
        raise
    except JobError as error:
        notice = Notice(sentence(error.what), sentence(error.next))
        return lists_page(office, who, job_id, here, notice=notice, status=status_of(error))
    states.keep_state(office, job_id)
    told = f"{path.partition('.')[2]}: {what if on else ticking.OFF.get(what, what)}"
    return RedirectResponse(f"/jobs/{job_id}/{here}?{urlencode({'told': told})}", status_code=303)


@router.get("/papers/{file}")
def paper(office: TheOffice, _who: Anyone, job_id: str, file: str) -> Response:
    """A paper as it stands now."""
    content, media_type = papers.paper_of(office, job_id, file)
    return Response(
        content, media_type=media_type, headers={"Content-Disposition": f'inline; filename="{file}"'}
    )


def lists_page(
    office: Office, who: Person, job_id: str, here: str, *, told: str = "", notice: Notice | None = None,
    status: int = 200,
) -> HTMLResponse:  # fmt: skip
    """The lists page or the crew's view of it."""
    return page(
        f"{here}.html", who, status, shown=lists_shown(lists_of_job(office, job_id)), papers=PAPERS,
        told=told[:200], notice=notice, new_id=new_id, here=here,
    )  # fmt: skip

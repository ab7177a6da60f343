"""The office's review of a job: note beside sheet, what is to settle, and every change as a plain form."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Form
from starlette.responses import HTMLResponse, RedirectResponse, Response

from gutterance.jobs import settling, states, undoing
from gutterance.jobs.changing import Given
from gutterance.jobs.errors import JobError, NotThere
from gutterance.jobs.identity import new_id, sha256_of
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.note_lines import GivenLine, add_line
from gutterance.jobs.office import Office, Person
from gutterance.jobs.photos import photos_of
from gutterance.jobs.questions import choices
from gutterance.web.answers import sentence, status_of
from gutterance.web.notices import Notice
from gutterance.web.people import Measurer, OfficeOnly, TheOffice
from gutterance.web.rendering import page
from gutterance.web.views.marks import KEY
from gutterance.web.views.review import review_of
from gutterance.web.views.wanted import example

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)

Text = Annotated[str, Form(max_length=10_000)]
Revision = Annotated[int, Form()]


@dataclass(frozen=True, slots=True)
class Kept:
    """What somebody typed into a form that was refused: it stands there again."""

    typed: str = ""
    why: str = ""


@dataclass(slots=True)
class Refused:
    """A form that was refused: which, and what was in it."""

    error: JobError
    kept: dict[str, Kept] = field(default_factory=dict)
    edit: str = ""
    line: str = ""
    typed: str = ""
    why: str = ""


@router.get("/review")
def review(
    office: TheOffice, who: OfficeOnly, job_id: str, show: str = "", edit: str = "", told: str = ""
) -> HTMLResponse:
    """The page. `show` is a value to lead to, `edit` one to change, `told` what was just done."""
    return _page(office, who, job_id, show, edit, told)


@router.post("/amend")
def amend(
    office: TheOffice, who: OfficeOnly, job_id: str, path: Text, id: Text, revision: Revision,
    value: Text = "", choice: Text = "", why: Text = "",
) -> Response:  # fmt: skip
    """Put a value right."""
    said = choice or value
    try:
        settling.amend(office, job_id, path, said, Given(id, revision, why or None), who)
    except JobError as error:
        refused = Refused(error, {"edit": Kept(said, why)}, path, "", said, why)
        return _refused(office, who, job_id, refused)
    return _back(job_id, show=path)


@router.post("/settle")
def settle(
    office: TheOffice, who: OfficeOnly, job_id: str, question: Text, id: Text, revision: Revision,
    about: Annotated[list[str], Form()], offer: Annotated[int | None, Form()] = None, yes: Text = "",
    typed: Text = "", decided: Text = "", why: Text = "",
) -> Response:  # fmt: skip
    """Settle a question by an offer, by `yes`, by words typed, or by a decision."""
    # what was typed counts where that was put, not where an offer beside it was pressed
    words = yes or ("" if offer is not None or decided else typed)
    answer = settling.Answer(offer, words or None, _decided(decided), tuple(about))
    try:
        settling.settle(office, job_id, question, answer, Given(id, revision, why or None), who)
    except JobError as error:
        refused = Refused(error, {question: Kept(typed, why)}, "", "", words, why)
        return _refused(office, who, job_id, refused)
    states.keep_state(office, job_id)
    return _back(job_id, anchor="settle")


@router.post("/see")
def see(
    office: TheOffice, who: OfficeOnly, job_id: str, finding: Text, id: Text, revision: Revision
) -> Response:
    """Say that something to know was seen."""
    try:
        settling.see(office, job_id, finding, Given(id, revision), who)
    except JobError as error:
        return _refused(office, who, job_id, Refused(error))
    return _back(job_id, anchor="settle")


@router.post("/undo")
def undo(
    office: TheOffice, who: OfficeOnly, job_id: str, event: Text, id: Text, revision: Revision,
    why: Text = "", back: Text = "",
) -> Response:  # fmt: skip
    """Undo a step."""
    try:
        undoing.undo(office, job_id, event, Given(id, revision, why or None), who)
    except JobError as error:
        return _refused(office, who, job_id, Refused(error))
    states.keep_state(office, job_id)
    return _back(job_id, to="history" if back == "history" else "review", told="Undone.")


@router.post("/say")
def say(office: TheOffice, who: Measurer, job_id: str, text: Text, id: Text) -> Response:
    """Add a line to the note from the office. The form's id is the line's: sent twice, it is one line."""
    words = text.strip()
    try:
        if words:
            line = GivenLine(id, words, sha256_of(words.encode("utf-8", "surrogatepass")))
            add_line(office, job_id, line, who)
            states.keep_state(office, job_id)
    except JobError as error:
        return _refused(office, who, job_id, Refused(error, line=text))
    return _back(job_id, anchor="say")


@router.post("/measured")
def measured(
    office: TheOffice, who: Measurer, job_id: str, id: Text, revision: Revision, done: Text = ""
) -> Response:
    """Say that measuring is done, or that it goes on."""
    states.say_measured(office, job_id, Given(id, revision), who, done=bool(done))
    states.keep_state(office, job_id)
    return _back(job_id)


@router.get("/plan.svg")
def plan(office: TheOffice, _who: Measurer, job_id: str) -> Response:
    """The plan as it stands."""
    from gutterance.render.drawing.plan import draw_plan
    from gutterance.render.drawing.svg import svg_text

    lists = lists_of_job(office, job_id)
    return Response(svg_text(draw_plan(lists.lists, lists.stands.sheet)), media_type="image/svg+xml")


def _decided(word: str) -> Any:
    return word or None


def _back(job_id: str, to: str = "review", anchor: str = "", show: str = "", told: str = "") -> Response:
    """To the page again after a change, so that a reload repeats nothing."""
    wanted = {name: value for name, value in (("show", show), ("told", told)) if value}
    query = f"?{urlencode(wanted)}" if wanted else ""
    where = f"#v-{show}" if show else f"#{anchor}" if anchor else ""
    return RedirectResponse(f"/jobs/{job_id}/{to}{query}{where}", status_code=303)


def _refused(office: Office, who: Person, job_id: str, refused: Refused) -> Response:
    """The page again with what was refused at its top and what was typed where it was."""
    error = refused.error
    if isinstance(error, NotThere) and not _is_there(office, job_id):
        raise error
    data = error.data
    notice = Notice(sentence(error.what), sentence(error.next))
    if data.get("by"):
        path = str(data.get("path") or "")
        notice = Notice(
            notice.what, notice.next, str(data.get("theirs") or ""), str(data.get("yours") or ""),
            str(data["by"]), str(data.get("at") or ""), str(data.get("why") or ""), path, refused.typed,
            refused.why,
        )  # fmt: skip
    return _page(
        office, who, job_id, edit=refused.edit if notice.theirs is None else "", kept=refused.kept,
        line=refused.line, notice=notice, status=status_of(error),
    )  # fmt: skip


def _is_there(office: Office, job_id: str) -> bool:
    try:
        lists_of_job(office, job_id)
    except NotThere:
        return False
    return True


def _page(
    office: Office, who: Person, job_id: str, show: str = "", edit: str = "", told: str = "", *,
    kept: dict[str, Kept] | None = None, line: str = "", notice: Notice | None = None, status: int = 200,
) -> HTMLResponse:  # fmt: skip
    lists = lists_of_job(office, job_id)
    metric = lists.stands.sheet.defaults.units == "metric"
    standing = {str(one["id"]) for one in lists.stands.lines}
    photos: dict[str, list[str]] = {}
    for photo in photos_of(office, job_id):
        # a photo may come before its line, or stay when its line is taken back
        photos.setdefault(photo.line if photo.line in standing else "", []).append(photo.id)
    return page(
        "review.html", who, status, review=review_of(lists, photos), shown=show, edit=edit,
        loose_photos=photos.get("", []), told=told[:200],
        notice=notice, kept=kept or {}, kept_line=line, key_of_marks=KEY, new_id=new_id, choices=choices,
        example=lambda path: example(path, metric=metric),
    )  # fmt: skip

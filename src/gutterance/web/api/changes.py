"""Changes of a job: values read as they are typed, amended, settled, undone, ticked; its sheet and lists."""

from __future__ import annotations

from typing import Any, Literal

from fastapi import APIRouter
from pydantic import BaseModel, Field

from gutterance.checking.answering import settle_answer
from gutterance.checking.house import House
from gutterance.jobs import settling, states, ticking, undoing
from gutterance.jobs.changing import Given
from gutterance.jobs.errors import JobError
from gutterance.jobs.given_values import given_value
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.questions import finding_id, offers_of, question_id
from gutterance.jobs.standing import standing_of_job
from gutterance.jobs.telling import told_path, value_told
from gutterance.web.answers import sentence
from gutterance.web.people import Anyone, Crew, Measurer, OfficeOnly, TheOffice
from gutterance.web.views.history import done_steps

router = APIRouter(prefix="/api", tags=["review and lists"])


class Decided(BaseModel):
    """What every change carries: an id made by the device, the revision it was decided on, the reason."""

    id: str
    revision: int
    why: str | None = Field(default=None, max_length=500)

    def given(self) -> Given:
        """The same, for the jobs."""
        return Given(self.id, self.revision, self.why)


class AmendmentIn(Decided):
    """A value for a path of the sheet, in the words of the trade."""

    path: str
    value: str = Field(max_length=10_000)


class SettlementIn(Decided):
    """An answer to a question: the number of one of its offers, a value, or a decision without one."""

    finding: str
    offer: int | None = None
    value: str | None = Field(default=None, max_length=10_000)
    leave: Literal["stands", "asked"] | None = None
    about: list[str] = Field(default_factory=list)


class UndoIn(Decided):
    """The event to undo, with all that was kept in the same step."""

    event: str


class TickIn(BaseModel):
    """A piece or a downpipe as made or hung. `numbers` are those it was made by, as the lists told them."""

    id: str
    piece: str | None = None
    pipe: str | None = None
    what: Literal["made", "hung"]
    on: bool = True
    sheet_code: str | None = None
    numbers: str | None = None
    revision: int | None = None


class ValueIn(BaseModel):
    """Words typed for one path of the sheet, or for several that a question is about."""

    job: str
    path: str | list[str]
    text: str = Field(max_length=1_000)


class ValueOut(BaseModel):
    """How the words are read: `ok` with the value, or what is wrong and what to do."""

    ok: bool
    reads: str
    why: str = ""


class RevisionOut(BaseModel):
    """The job's revision."""

    revision: int


@router.post("/read-value")
def read_value(office: TheOffice, _who: OfficeOnly, given: ValueIn) -> ValueOut:
    """The reading of words as somebody types them. Nothing is kept."""
    lists = lists_of_job(office, given.job)
    if not given.text.strip():
        return ValueOut(ok=False, reads="")
    paths = [given.path] if isinstance(given.path, str) else given.path
    asked = next((one for one in lists.questions if one.about == paths), None)
    if asked is not None:
        settled = settle_answer(asked, given.text, lists.stands.sheet)
        if settled is not None and settled.changes:
            reads = [value_told(one.value, one.path) for one in settled.changes]
            return ValueOut(ok=True, reads=", ".join(dict.fromkeys(reads)))
        if settled is not None and settled.say is not None:
            return ValueOut(ok=True, reads=f"a line for the note: {settled.say}")
        if settled is not None:
            return ValueOut(ok=False, reads=sentence(settled.not_enough or ""), why="Say it exactly.")
        if settling.adds_to_house(asked):
            return ValueOut(ok=True, reads="a line for the note, as typed")
    try:
        told = told_path(paths[0], House(lists.stands.sheet))
        value = given_value(lists.stands.sheet, paths[0], given.text, told)
    except JobError as error:
        return ValueOut(ok=False, reads=sentence(error.what), why=sentence(error.next))
    return ValueOut(ok=True, reads=value.shown, why=value.how)


@router.get("/jobs/{job_id}/sheet")
def sheet(office: TheOffice, _who: Anyone, job_id: str) -> dict[str, Any]:
    """The field sheet as it stands (`gutterance-sheet-1`), with the job's revision."""
    stands = lists_of_job(office, job_id).stands
    data = stands.sheet.model_dump(mode="json", by_alias=True, exclude_none=True)
    return {"revision": stands.job.revision, "sheet": data}


@router.get("/jobs/{job_id}/lists")
def lists(office: TheOffice, _who: Anyone, job_id: str) -> dict[str, Any]:
    """The crew's lists as they stand (`gutterance-lists-1`), their code, and what is ticked."""
    found = lists_of_job(office, job_id)
    ticks = ticking.ticks_in(found.stands.events)
    return {
        "revision": found.stands.job.revision,
        "code": found.code,
        "lists": found.lists.model_dump(mode="json", by_alias=True, exclude_none=True),
        "ticks": [
            {"path": path, "what": what, "by": one.by, "at": one.at, "numbers": one.numbers}
            for (path, what), one in ticks.items()
        ],
    }


@router.get("/jobs/{job_id}/findings")
def findings(office: TheOffice, _who: Measurer, job_id: str) -> dict[str, Any]:
    """Everything found on the sheet, and the questions with the ids and offers they are settled by."""
    found = lists_of_job(office, job_id)
    return {
        "revision": found.stands.job.revision,
        "findings": [
            {"id": finding_id(one), **one.model_dump(mode="json", exclude_none=True)}
            for one in found.findings
        ],
        "questions": [
            {
                "id": question_id(one),
                **one.model_dump(mode="json", exclude_none=True, exclude={"suggests"}),
                "offers": [offer.model_dump(mode="json") for offer in offers_of(one, found.stands.sheet)],
            }
            for one in found.questions
        ],
    }


@router.get("/jobs/{job_id}/history")
def history(office: TheOffice, _who: Anyone, job_id: str) -> dict[str, Any]:
    """Everything that was done after the lines came, oldest first: as kept, and in words."""
    stands = lists_of_job(office, job_id).stands
    told = {one.id: one.says for one in done_steps(stands.events, stands.sheet)}
    return {
        "revision": stands.job.revision,
        "events": [{**event, "says": list(told.get(str(event["id"]), ()))} for event in stands.events],
    }


@router.get("/jobs/{job_id}/changes")
def changes(office: TheOffice, _who: Anyone, job_id: str, since: int = 0) -> dict[str, Any]:
    """The job's revision, and in a few words what was done after the revision `since`."""
    stands = standing_of_job(office, job_id)
    if stands.job.revision == since:
        return {"revision": since, "says": []}
    steps = done_steps(stands.events, stands.sheet)
    return {
        "revision": stands.job.revision,
        "says": [f"{one.by}: {'; '.join(one.says)}" for one in steps if one.revision > since],
    }


@router.post("/jobs/{job_id}/amendments")
def amend(office: TheOffice, who: OfficeOnly, job_id: str, given: AmendmentIn) -> RevisionOut:
    """Put a value right. 409 with both where somebody changed it since."""
    return _kept(office, job_id, settling.amend(office, job_id, given.path, given.value, given.given(), who))


@router.post("/jobs/{job_id}/settlements")
def settle(office: TheOffice, who: OfficeOnly, job_id: str, given: SettlementIn) -> RevisionOut:
    """Settle a question. 409 with both where somebody settled it since."""
    answer = settling.Answer(given.offer, given.value, given.leave, tuple(given.about))
    return _kept(office, job_id, settling.settle(office, job_id, given.finding, answer, given.given(), who))


@router.post("/jobs/{job_id}/undo")
def undo(office: TheOffice, who: OfficeOnly, job_id: str, given: UndoIn) -> RevisionOut:
    """Undo a step, as a new event."""
    return _kept(office, job_id, undoing.undo(office, job_id, given.event, given.given(), who))


@router.post("/jobs/{job_id}/ticks")
def tick(office: TheOffice, who: Crew, job_id: str, given: TickIn) -> RevisionOut:
    """Tick a piece or a downpipe, or take a tick off. 409 for what is on hold or has other numbers by now."""
    path = f"pieces.{given.piece}" if given.piece is not None else f"downpipes.{given.pipe}"
    revision = given.revision
    if revision is None:
        revision = lists_of_job(office, job_id).stands.job.revision
    kept = ticking.tick(
        office, job_id, path, given.what, Given(given.id, revision), who,
        on=given.on, numbers=given.numbers, code=given.sheet_code,
    )  # fmt: skip
    return _kept(office, job_id, kept)


def _kept(office: Any, job_id: str, revision: int) -> RevisionOut:
    states.keep_state(office, job_id)
    return RevisionOut(revision=revision)

"""Lines of a note: taken in with a receipt, taken back, read back."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fastapi import APIRouter, BackgroundTasks, Response
from pydantic import BaseModel, Field

from gutterance.jobs import note_lines, reading_back, states
from gutterance.web.people import Anyone, Measurer, TheOffice

router = APIRouter(prefix="/api/jobs/{job_id}", tags=["lines"])


class LineIn(BaseModel):
    """A line. `sha256` is of its UTF-8, hexadecimal; `after` is the id of the line before on that phone."""

    id: str
    text: str
    sha256: str = Field(min_length=64, max_length=64)
    captured_at: str | None = Field(default=None, max_length=64)
    after: str | None = Field(default=None, max_length=64)


class ReceiptOut(BaseModel):
    """The line is on the office's disk. `first` is false for a repeat, which gets the first receipt again."""

    id: str
    sha256: str
    number: int
    received_at: str
    revision: int
    taken_back_at: str | None = None
    first: bool = True


class ReceiptsOut(BaseModel):
    """Every line's receipt, in order."""

    receipts: list[ReceiptOut]


class ChangeIn(BaseModel):
    """The id of a change, made on the device, so that a repeat changes nothing."""

    id: str


class RevisionOut(BaseModel):
    """The job's revision."""

    revision: int


@router.post("/lines", status_code=201)
def add_line(
    office: TheOffice, who: Measurer, job_id: str, given: LineIn, response: Response, later: BackgroundTasks
) -> ReceiptOut:
    """Take a line in. 201 for the first time, 200 for a repeat; 409 where the id has other words already."""
    receipt = note_lines.add_line(office, job_id, note_lines.GivenLine(**given.model_dump()), who)
    if not receipt.first:
        response.status_code = 200
    # the receipt is not kept waiting for what else may follow from the line
    later.add_task(states.keep_state_unless_measuring, office, job_id)
    return ReceiptOut(**asdict(receipt))


@router.post("/lines/{line_id}/take-back")
def take_back(
    office: TheOffice, who: Measurer, job_id: str, line_id: str, given: ChangeIn, later: BackgroundTasks
) -> RevisionOut:
    """Take a line back: kept as evidence, read no more."""
    later.add_task(states.keep_state_unless_measuring, office, job_id)
    return RevisionOut(revision=note_lines.take_back(office, job_id, line_id, given.id, who))


@router.get("/receipts")
def receipts(office: TheOffice, _who: Anyone, job_id: str) -> ReceiptsOut:
    """What the office has: every line's receipt."""
    return ReceiptsOut(receipts=[ReceiptOut(**asdict(one)) for one in note_lines.receipts(office, job_id)])


@router.get("/read-back")
def read_back(office: TheOffice, _who: Anyone, job_id: str, line: str | None = None) -> dict[str, Any]:
    """What was understood, line by line (or of one line), what is asked next, and what is complete."""
    return reading_back.read_back(office, job_id, line)

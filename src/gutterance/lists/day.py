"""A day's work as data: one row for each job of a folder, the file contract `gutterance-jobs-1`."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from pydantic import Field

from gutterance.checking.findings import HOLDING
from gutterance.measure.length import Length
from gutterance.sheet.models import Model
from gutterance.sheet.values import LengthValue

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.findings import Finding
    from gutterance.lists.models import Lists
    from gutterance.sheet.models import Sheet

JobStatus = Literal["done", "on hold", "not done"]


class DayJob(Model):
    """One job of a day: where its lists are, how much gutter it is, and what is still open."""

    folder: str = Field(description="the job's folder, inside the day's")
    note: str = Field(description="the note it was read from, as a path from the day's folder")
    status: JobStatus
    title: str | None = None
    runs: int = 0
    measured: int = Field(default=0, description="runs whose length is known: what `gutter` adds up")
    gutter: LengthValue | None = None
    pieces_on_hold: int = 0
    pipes_on_hold: int = 0
    questions: int = Field(default=0, description="findings that wait for an answer")
    code: str | None = Field(default=None, description="the code that its papers bear")
    wrong: str | None = Field(default=None, description="why it is not done, and what to do")
    said: list[str] = Field(default_factory=list, description="what the reader remarked about the note")


class Day(Model):
    """All jobs of a day's folder, in the order of their notes."""

    format: Literal["gutterance-jobs-1"] = "gutterance-jobs-1"
    jobs: list[DayJob] = Field(default_factory=list)


def day_job(
    folder: str, note: str, sheet: Sheet, lists: Lists, findings: Sequence[Finding], code: str
) -> DayJob:
    """The row of a job whose lists are made. `findings` are all there are, the layout's too."""
    known = [
        run.length.value for run in sheet.runs if run.length is not None and run.length.value is not None
    ]
    questions = sum(one.kind in HOLDING for one in findings)
    return DayJob(
        folder=folder,
        note=note,
        status="on hold" if lists.on_hold or questions else "done",
        title=lists.title or sheet.title,
        runs=len(sheet.runs),
        measured=len(known),
        gutter=Length(sum((one.inches for one in known), Fraction(0)), known[0].system) if known else None,
        pieces_on_hold=sum(bool(one.hold) for one in lists.pieces),
        pipes_on_hold=sum(bool(one.hold) for one in lists.downpipes),
        questions=questions,
        code=code,
    )

"""A job's sheet as it stands, kept by its revision: read once, however many look at it."""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.checking import as_it_stands, open_questions
from gutterance.jobs.amending import amendments_in
from gutterance.jobs.decisions import decisions_in, let_stand
from gutterance.jobs.job import Job, job_of, row_of
from gutterance.reading import read_note
from gutterance.store import events as event_rows
from gutterance.store import lines as line_rows

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.checking import Finding, Question
    from gutterance.jobs.office import Office
    from gutterance.sheet.models import Sheet

MOST_KEPT = 64
_reading = threading.Lock()
"""The reader's pipeline is one, and is not made for two threads at once."""


@dataclass(frozen=True, slots=True)
class JobStanding:
    """A job at one revision: its lines that stand, the sheet as read, the sheet as amended, what is open.

    `lines` are the database's rows, in order; line n of the sheet's sources is `lines[n - 1]`.
    """

    job: Job
    lines: tuple[Mapping[str, object], ...]
    events: tuple[Mapping[str, object], ...]
    read: Sheet
    sheet: Sheet
    findings: Sequence[Finding]
    questions: Sequence[Question]


@dataclass(slots=True)
class _Kept:
    at: OrderedDict[tuple[str, str, int], JobStanding] = field(default_factory=OrderedDict)
    lock: threading.Lock = field(default_factory=threading.Lock)


_kept = _Kept()


def standing_of_job(office: Office, job_id: str) -> JobStanding:
    """The job as it stands now. Raises NotThere."""
    with office.database.reading() as connection:
        job = job_of(row_of(connection, job_id))
        key = (str(office.folder), job_id, job.revision)
        with _kept.lock:
            if key in _kept.at:
                _kept.at.move_to_end(key)
                return _kept.at[key]
        lines = tuple(
            dict(row) for row in line_rows.lines_of(connection, job_id) if row["taken_back_at"] is None
        )
        events = tuple(dict(row) for row in event_rows.events_of(connection, job_id))
    made = _work_out(office, job, lines, events)
    with _kept.lock:
        _kept.at[key] = made
        while len(_kept.at) > MOST_KEPT:
            _kept.at.popitem(last=False)
    return made


def _work_out(
    office: Office,
    job: Job,
    lines: tuple[Mapping[str, object], ...],
    events: tuple[Mapping[str, object], ...],
) -> JobStanding:
    texts = [str(line["text"]) for line in lines]
    with _reading:
        read = read_note(texts, own=office.own)
        read.note = texts
        stands = as_it_stands(read, amendments_in(events))
        findings = let_stand(stands.findings, decisions_in(events))
        questions = open_questions(stands.sheet, findings)
    return JobStanding(job, lines, events, read, stands.sheet, findings, questions)

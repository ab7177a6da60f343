"""Answers that the measurer gives on the walk: settled as in the office, and taken back from the phone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.jobs.changing import Given
from gutterance.jobs.errors import NotThere
from gutterance.jobs.identity import checked_id
from gutterance.jobs.job import row_of
from gutterance.jobs.note_lines import take_back
from gutterance.jobs.settling import Answer, settle
from gutterance.jobs.undoing import undo
from gutterance.store import events as event_rows
from gutterance.store import lines as line_rows

if TYPE_CHECKING:
    from gutterance.jobs.office import Office, Person

ON_THE_WALK = "answered on the walk"


def answer_question(
    office: Office, job_id: str, question: str, answer: Answer, given: Given, person: Person
) -> int:
    """Settle a question by an offer or in words; the job's revision. Raises as `settling.settle` does."""
    return settle(office, job_id, question, answer, Given(given.id, given.revision, ON_THE_WALK), person)


def take_back_answer(office: Office, job_id: str, answer_id: str, change_id: str, person: Person) -> int:
    """Undo what an answer settled, or take back the line it said; the job's revision.

    A repeat changes nothing. Raises NotThere for an answer this job has not, and as `undoing.undo` does.
    """
    checked_id(answer_id, "answer")
    with office.database.reading() as connection:
        revision = int(row_of(connection, job_id)["revision"])
        events = [str(row["id"]) for row in event_rows.events_of(connection, job_id)]
        lines = [str(row["id"]) for row in line_rows.lines_of(connection, job_id)]
    event = next((one for one in events if one.startswith(f"{answer_id}-")), None)
    if event is not None:
        return undo(office, job_id, event, Given(change_id, revision, "taken back on the walk"), person)
    line = next((one for one in lines if one.startswith(f"{answer_id}-")), None)
    if line is None:
        raise NotThere("this job has no such answer", "look at its history")
    return take_back(office, job_id, line, change_id, person)

"""What one more line was understood as, the questions it leaves, and how much of the job is complete."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.jobs.questions import offers_of, question_id
from gutterance.jobs.standing import standing_of_job
from gutterance.render.saidback import statements

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.jobs.office import Office
    from gutterance.jobs.standing import JobStanding

_PARTS = ("runs", "outlets", "downpipes")


def read_back(office: Office, job_id: str, line_id: str | None = None) -> dict[str, Any]:
    """Each line with what it says on the sheet, or that line alone; the open questions; the counts.

    Raises NotThere.
    """
    stands = standing_of_job(office, job_id)
    wanted = [
        (at, line)
        for at, line in enumerate(stands.lines, start=1)
        if line_id is None or line["id"] == line_id
    ]
    said = statements(stands.sheet, wanted[0][0] if len(wanted) == 1 else None)
    return {
        "revision": stands.job.revision,
        "lines": [
            {
                "id": line["id"],
                "number": line["number"],
                "text": line["text"],
                "says": [text for text, _ in said.get(at, [])],
                "status": _worst(status for _, status in said.get(at, [])),
            }
            for at, line in wanted
        ],
        "questions": questions_data(stands),
        "counts": counts(stands),
    }


def questions_data(stands: JobStanding) -> list[dict[str, Any]]:
    """The open questions, first what frees the most, each with its id and the answers offered."""
    return [
        {
            "id": question_id(question),
            "code": question.codes[0] if question.codes else "",
            "asks": question.text,
            "about": question.about,
            "holds": question.holds,
            "answers": [
                {"value": offer.value, "why": offer.why} for offer in offers_of(question, stands.sheet)
            ],
        }
        for question in stands.questions
    ]


def counts(stands: JobStanding) -> dict[str, int]:
    """How many parts of the house have nothing open, how many questions there are, how many held."""
    parts = [f"{kind}.{part.id}" for kind in _PARTS for part in getattr(stands.sheet, kind)]
    held = {path for question in stands.questions for path in question.holds}
    return {
        "done": sum(part not in held for part in parts),
        "open": len(stands.questions),
        "held": len(held),
    }


def _worst(statuses: Iterable[str]) -> str:
    order = ("unread", "missing", "doubtful", "inferred", "assumed", "corrected", "read")
    found = set(statuses)
    return next((status for status in order if status in found), "nothing measured")

"""The lines of a job's note: each taken in once, under the phone's id, and acknowledged by a receipt.

A receipt is given only when the line is on the disk. A repeat gets the first receipt. Other words under an id
that is taken are kept beside the first, and said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.jobs.errors import Clashes, NotThere, TooLarge, Unusable
from gutterance.jobs.identity import checked_id, sha256_of
from gutterance.jobs.job import row_of
from gutterance.store import events as event_rows
from gutterance.store import jobs as job_rows
from gutterance.store import lines as rows

if TYPE_CHECKING:
    from sqlalchemy import Connection, RowMapping

    from gutterance.jobs.office import Office, Person

LONGEST_LINE = 10_000


@dataclass(frozen=True, slots=True)
class GivenLine:
    """A line as a phone sends it. `after` is the id of the line before it on that phone."""

    id: str
    text: str
    sha256: str
    captured_at: str | None = None
    after: str | None = None


@dataclass(frozen=True, slots=True)
class Receipt:
    """What says that a line is on the office's disk. `first` is False for a repeat."""

    id: str
    sha256: str
    number: int
    received_at: str
    revision: int
    taken_back_at: str | None = None
    first: bool = True


def add_line(office: Office, job_id: str, given: GivenLine, person: Person) -> Receipt:
    """Take a line in at the end of the note.

    Raises NotThere; TooLarge; Unusable for a hash that is not the text's (nothing is kept then); and Clashes
    for an id that other words have already: both are kept.
    """
    data = _checked(given)
    with office.database.writing() as connection:
        job = row_of(connection, job_id, to_change=True)
        there = rows.line_row(connection, given.id)
        if there is None:
            at = office.now()
            number = rows.add_line_row(
                connection, job_id, id=given.id, text=given.text, sha256=data, after=given.after,
                captured_at=given.captured_at, received_at=at, device_id=person.device, by=person.name,
            )  # fmt: skip
            revision = job_rows.raise_revision(connection, job_id, at)
            return Receipt(given.id, data, number, at, revision)
        if (there["sha256"], there["job_id"]) == (data, job_id):
            return _receipt(there, int(job["revision"]))
        at = office.now()
        kept_now = rows.add_clash(
            connection, line_id=given.id, job_id=job_id, text=given.text, sha256=data, at=at,
            device_id=person.device, by=person.name,
        )  # fmt: skip
        if kept_now:
            job_rows.raise_revision(connection, job_id, at)
    raise Clashes(
        f"line {there['number']} has this id already, with other words",
        "both are kept: send the line again under a new id, or look at both in the office",
        ours=there["text"], yours=given.text,
    )  # fmt: skip


def take_back(office: Office, job_id: str, line_id: str, event_id: str, person: Person) -> int:
    """Take a line back: it stays as evidence and is read no more. A repeat changes nothing. The revision.

    Raises NotThere.
    """
    checked_id(event_id, "change")
    with office.database.writing() as connection:
        job = row_of(connection, job_id, to_change=True)
        line = _line_of(connection, job_id, line_id)
        if event_rows.event_row(connection, event_id) is not None or line["taken_back_at"] is not None:
            return int(job["revision"])
        at = office.now()
        rows.take_back_row(connection, line_id, at)
        revision = job_rows.raise_revision(connection, job_id, at)
        event_rows.add_event(
            connection, id=event_id, job_id=job_id, revision=revision, at=at, by=person.name,
            role=person.role, what="line taken back", path=f"lines.{line_id}", before=line["text"],
        )  # fmt: skip
        return revision


def receipts(office: Office, job_id: str) -> list[Receipt]:
    """The receipt of every line of a job, in order. Raises NotThere."""
    with office.database.reading() as connection:
        job = row_of(connection, job_id)
        return [_receipt(line, int(job["revision"])) for line in rows.lines_of(connection, job_id)]


def _receipt(line: RowMapping, revision: int) -> Receipt:
    return Receipt(
        line["id"],
        line["sha256"],
        line["number"],
        line["received_at"],
        revision,
        line["taken_back_at"],
        False,
    )


def _line_of(connection: Connection, job_id: str, line_id: str) -> RowMapping:
    line = rows.line_row(connection, line_id)
    if line is None or line["job_id"] != job_id:
        raise NotThere("this job has no such line", "look at its receipts")
    return line


def _checked(given: GivenLine) -> str:
    """The hash of a line's text, once it is known to be the one it came with."""
    checked_id(given.id, "line")
    if len(given.text) > LONGEST_LINE:
        raise TooLarge(f"a line has at most {LONGEST_LINE} characters", "part it in two, and send both")
    if "\0" in given.text:
        raise Unusable("the line has a character (NUL) that no database keeps", "take it out and send again")
    try:
        data = sha256_of(given.text.encode("utf-8"))
    except UnicodeEncodeError as error:
        raise Unusable("the line has half a character", "mend it on the phone and send again") from error
    if data != given.sha256.lower():
        raise Unusable(
            "the line did not arrive as it was sent (its hash differs)", "send it again; nothing was kept"
        )
    return data

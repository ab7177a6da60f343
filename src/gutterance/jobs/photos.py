"""Photos of the wall, each attached to a line: taken in once, under the phone's id, with a receipt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.jobs.errors import Clashes, NotThere, TooLarge, Unusable
from gutterance.jobs.identity import checked_id, sha256_of
from gutterance.jobs.job import row_of
from gutterance.jobs.photo_types import photo_type
from gutterance.store import jobs as job_rows
from gutterance.store import photos as rows

if TYPE_CHECKING:
    from sqlalchemy import RowMapping

    from gutterance.jobs.office import Office, Person

LARGEST_PHOTO = 15 * 1024 * 1024
"""How large a photo may be [bytes]."""


@dataclass(frozen=True, slots=True)
class GivenPhoto:
    """A photo as a phone sends it. `line` is the id of its line, which may still be on its way."""

    id: str
    sha256: str
    content: bytes
    line: str | None = None


@dataclass(frozen=True, slots=True)
class PhotoReceipt:
    """What says that a photo is on the office's disk. `first` is False for a repeat."""

    id: str
    sha256: str
    line: str | None
    type: str
    size: int
    received_at: str
    revision: int
    first: bool = True


def add_photo(office: Office, job_id: str, given: GivenPhoto, person: Person) -> PhotoReceipt:
    """Take a photo in.

    Raises NotThere; TooLarge; Unusable for what is no photo and for a hash that is not the content's (nothing
    is kept then); and Clashes for an id that another photo has already: both are kept.
    """
    kind, sha256 = _checked(given)
    with office.database.writing() as connection:
        job = row_of(connection, job_id, to_change=True)
        there = rows.photo_row(connection, given.id)
        if there is not None and (there["sha256"], there["job_id"]) == (sha256, job_id):
            return _receipt(there, int(job["revision"]))
        photo_id = given.id if there is None else f"{given.id[:40]}-{job_id[:6]}-{sha256[:16]}"
        if there is None or rows.photo_row(connection, photo_id) is None:
            at = office.now()
            rows.add_photo_row(
                connection, id=photo_id, job_id=job_id, line_id=given.line, type=kind, sha256=sha256,
                size=len(given.content), content=given.content, received_at=at, device_id=person.device,
                by=person.name,
            )  # fmt: skip
            revision = job_rows.raise_revision(connection, job_id, at)
            if there is None:
                return PhotoReceipt(given.id, sha256, given.line, kind, len(given.content), at, revision)
    raise Clashes(
        "another photo has this id already", "both are kept: look at them in the office", kept_as=photo_id
    )


def photos_of(office: Office, job_id: str) -> list[PhotoReceipt]:
    """The receipts of a job's photos, as they came. Raises NotThere."""
    with office.database.reading() as connection:
        revision = int(row_of(connection, job_id)["revision"])
        return [_receipt(row, revision) for row in rows.photos_of(connection, job_id)]


def photo(office: Office, job_id: str, photo_id: str) -> tuple[str, bytes]:
    """A photo of a job: its type and its content. Raises NotThere."""
    with office.database.reading() as connection:
        row_of(connection, job_id)
        found = rows.photo_row(connection, photo_id)
        if found is None or found["job_id"] != job_id:
            raise NotThere("this job has no such photo", "look at its lines")
        return found["type"], rows.photo_content(connection, photo_id)


def _receipt(row: RowMapping, revision: int) -> PhotoReceipt:
    return PhotoReceipt(
        row["id"],
        row["sha256"],
        row["line_id"],
        row["type"],
        row["size"],
        row["received_at"],
        revision,
        False,
    )


def _checked(given: GivenPhoto) -> tuple[str, str]:
    """The type and the hash of a photo, once both are known to be right."""
    checked_id(given.id, "photo")
    if given.line is not None:
        checked_id(given.line, "line")
    if len(given.content) > LARGEST_PHOTO:
        raise TooLarge(
            f"a photo has at most {LARGEST_PHOTO // 2**20} MB", "take it again with the camera set smaller"
        )
    sha256 = sha256_of(given.content)
    if sha256 != given.sha256.lower():
        raise Unusable(
            "the photo did not arrive as it was sent (its hash differs)", "send it again; nothing was kept"
        )
    kind = photo_type(given.content)
    if kind is None:
        raise Unusable("that is no photo", "send a JPEG, PNG, WebP or HEIC picture")
    return kind, sha256

"""A whole job as one file: its note as it came, what was done to it, its photos. The file is not trusted.

A ZIP with `job.json` (format `gutterance-job-1`) and a file for each photo. Every line and photo has its hash
in it, so that a damaged file is known for one.
"""

from __future__ import annotations

import io
import json
import zipfile
from typing import TYPE_CHECKING, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from gutterance.jobs.errors import TooLarge, Unusable
from gutterance.jobs.identity import sha256_of
from gutterance.jobs.photo_types import photo_type
from gutterance.jobs.photos import LARGEST_PHOTO

if TYPE_CHECKING:
    from collections.abc import Iterator

JOB_FORMAT = "gutterance-job-1"
MEDIA_TYPE = "application/zip"
_RECORD = "job.json"
_LARGEST_RECORD = 64 * 1024 * 1024
_MOST_PHOTOS = 2_000
_Id = Field(pattern=r"^[A-Za-z0-9_-]{1,80}$")
_Hash = Field(pattern=r"^[0-9a-f]{64}$")
_Text = Field(max_length=200_000)
_Words = Field(default=None, max_length=200_000)


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid")


class JobPart(_Part):
    """The job itself."""

    id: str = _Id
    title: str = Field(max_length=1_000)
    state: str = Field(max_length=40)
    made_at: str = Field(max_length=64)
    changed_at: str = Field(max_length=64)
    revision: int = Field(ge=0, le=2**31 - 1)


class LinePart(_Part):
    """A line, as it came."""

    id: str = _Id
    number: int = Field(ge=1)
    text: str = _Text
    sha256: str = _Hash
    after: str | None = Field(default=None, max_length=80)
    captured_at: str | None = Field(default=None, max_length=64)
    received_at: str = Field(max_length=64)
    by: str = Field(max_length=200)
    taken_back_at: str | None = Field(default=None, max_length=64)


class ClashPart(_Part):
    """Other words that came under a line's id."""

    line_id: str = _Id
    text: str = _Text
    sha256: str = _Hash
    at: str = Field(max_length=64)
    by: str = Field(max_length=200)


class EventPart(_Part):
    """Something done to the job."""

    id: str = _Id
    revision: int = Field(ge=0, le=2**31 - 1)
    at: str = Field(max_length=64)
    by: str = Field(max_length=200)
    role: str = Field(max_length=40)
    what: str = Field(max_length=40)
    path: str | None = Field(default=None, max_length=1_000)
    before: str | None = _Words
    after: str | None = _Words
    said: str | None = _Words
    why: str | None = _Words
    undoes: str | None = Field(default=None, max_length=80)


class PhotoPart(_Part):
    """A photo; its content is the file `photos/ID` beside the record."""

    id: str = _Id
    line_id: str | None = Field(default=None, max_length=80)
    type: str = Field(max_length=40)
    sha256: str = _Hash
    size: int = Field(ge=0, le=LARGEST_PHOTO)
    received_at: str = Field(max_length=64)
    by: str = Field(max_length=200)


class JobRecord(_Part):
    """All of a job but the content of its photos."""

    format: Literal["gutterance-job-1"] = "gutterance-job-1"
    made_by: str = Field(max_length=100)
    job: JobPart
    lines: list[LinePart] = Field(default_factory=list, max_length=100_000)
    clashes: list[ClashPart] = Field(default_factory=list, max_length=100_000)
    events: list[EventPart] = Field(default_factory=list, max_length=500_000)
    photos: list[PhotoPart] = Field(default_factory=list, max_length=_MOST_PHOTOS)


def written(record: JobRecord, photos: dict[str, bytes]) -> bytes:
    """The file of a job. The same job gives the same bytes."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        data = record.model_dump(mode="json", exclude_none=True)
        _put(archive, _RECORD, (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode())
        for photo in record.photos:
            _put(archive, f"photos/{photo.id}", photos[photo.id])
    return held.getvalue()


def read(content: bytes) -> tuple[JobRecord, dict[str, bytes]]:
    """The job in a file, and its photos by id.

    Raises Unusable for what is no such file, is of a newer gutterance or damaged, with what to do; TooLarge
    for one that would unpack to more than a job can be.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            record = _record(_taken(archive, _RECORD, _LARGEST_RECORD))
            photos = {one.id: _taken(archive, f"photos/{one.id}", LARGEST_PHOTO) for one in record.photos}
    except (zipfile.BadZipFile, EOFError, NotImplementedError, RuntimeError, OSError) as error:
        raise Unusable("this is not the file of a job, or it is damaged", "export the job again") from error
    _check_whole(record, photos)
    return record, photos


def _put(archive: zipfile.ZipFile, name: str, content: bytes) -> None:
    # a time of its own for each member would make two files of one job differ
    archive.writestr(zipfile.ZipInfo(name, (2000, 1, 1, 0, 0, 0)), content, zipfile.ZIP_DEFLATED)


def _taken(archive: zipfile.ZipFile, name: str, most: int) -> bytes:
    """A member's content, of which no more is unpacked than there may be, whatever it says of its size."""
    try:
        with archive.open(name) as member:
            content = member.read(most + 1)
    except KeyError as error:
        raise Unusable(f"the file has no {name} in it", "export the job again") from error
    if len(content) > most:
        raise TooLarge(f"{name} in the file is too large", "export the job again")
    return content


def _record(content: bytes) -> JobRecord:
    try:
        data = json.loads(content)
        kind = data.get("format") if isinstance(data, dict) else None
        if isinstance(kind, str) and kind.startswith("gutterance-job-") and kind != JOB_FORMAT:
            raise Unusable(
                f"the file is of a newer gutterance ({kind})", "bring this office up to date first"
            )
        return JobRecord.model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise Unusable(
            f"the file's record is wrong at {where}: {first['msg']}", "export the job again"
        ) from error
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError) as error:
        raise Unusable("the file's record cannot be read", "export the job again") from error


def _check_whole(record: JobRecord, photos: dict[str, bytes]) -> None:
    """That every line and photo is as it was exported, and no id or number stands twice."""
    said: list[LinePart | ClashPart] = [*record.lines, *record.clashes]
    for line in said:
        if sha256_of(line.text.encode("utf-8", "surrogatepass")) != line.sha256:
            raise Unusable(
                f"the words “{line.text[:40]}” are not as they were exported", "export the job again"
            )
    for photo in record.photos:
        if sha256_of(photos[photo.id]) != photo.sha256 or photo_type(photos[photo.id]) != photo.type:
            raise Unusable(f"the photo {photo.id} is not as it was exported", "export the job again")
    for kind, ids in (
        ("lines", [one.id for one in record.lines]),
        ("numbers of lines", [str(one.number) for one in record.lines]),
        ("events", [one.id for one in record.events]),
        ("photos", [one.id for one in record.photos]),
    ):
        if len(set(ids)) != len(ids):
            raise Unusable(f"two {kind} in the file are the same", "export the job again")
    if any("\0" in text for text in _texts(record.model_dump())):
        raise Unusable("the file has a character (NUL) that no database keeps", "export the job again")


def _texts(held: Any) -> Iterator[str]:
    """Every text in plain data."""
    if isinstance(held, str):
        yield held
    elif isinstance(held, dict | list):
        for one in held.values() if isinstance(held, dict) else held:
            yield from _texts(one)

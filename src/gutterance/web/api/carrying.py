"""Jobs carried and shelved: copied, archived, out as one file and in from one."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Depends, Response
from pydantic import BaseModel

from gutterance.jobs import carrying, job_files, shelving
from gutterance.jobs.changing import Given
from gutterance.web.api.changes import RevisionOut
from gutterance.web.api.jobs import JobOut
from gutterance.web.api.photos import raw_body
from gutterance.web.people import OfficeOnly, TheOffice

router = APIRouter(prefix="/api/jobs", tags=["carrying"])
_FILE = {"content": {job_files.MEDIA_TYPE: {"schema": {"type": "string", "format": "binary"}}}}


class ShelveIn(BaseModel):
    """The id of the change, made by who asks, and the reason."""

    id: str
    why: str | None = None


@router.post("/file", status_code=201, openapi_extra={"requestBody": {"required": True, **_FILE}})
def take_in(office: TheOffice, who: OfficeOnly, content: Annotated[bytes, Depends(raw_body)]) -> JobOut:
    """Take a job in from its file. Where it is here already it becomes another job."""
    return JobOut(**asdict(carrying.import_job(office, content, who)))


@router.get("/{job_id}/file", response_class=Response, responses={200: _FILE})
def export(office: TheOffice, _who: OfficeOnly, job_id: str) -> Response:
    """A whole job with its history and photos as one file."""
    name, content = carrying.export_job(office, job_id)
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
    return Response(content, media_type=job_files.MEDIA_TYPE, headers=headers)


@router.post("/{job_id}/copy", status_code=201)
def copy(office: TheOffice, who: OfficeOnly, job_id: str) -> JobOut:
    """A copy of a job: note, photos and what was settled; nothing ticked."""
    return JobOut(**asdict(carrying.copy_job(office, job_id, who)))


@router.post("/{job_id}/archive")
def archive(office: TheOffice, who: OfficeOnly, job_id: str, given: ShelveIn) -> RevisionOut:
    """Put a job into the archive."""
    kept = shelving.archive(office, job_id, Given(given.id, 0, given.why), who)
    return RevisionOut(revision=kept)


@router.post("/{job_id}/unarchive")
def unarchive(office: TheOffice, who: OfficeOnly, job_id: str, given: ShelveIn) -> RevisionOut:
    """Take a job out of the archive."""
    kept = shelving.archive(office, job_id, Given(given.id, 0, given.why), who, on=False)
    return RevisionOut(revision=kept)

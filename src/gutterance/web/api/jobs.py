"""Jobs: found, started, looked at."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel, Field

from gutterance.jobs import job
from gutterance.jobs.reading_back import counts
from gutterance.jobs.standing import standing_of_job
from gutterance.web.people import Anyone, Measurer, TheOffice

router = APIRouter(prefix="/api/jobs", tags=["jobs"])


class JobOut(BaseModel):
    """A job."""

    id: str
    title: str
    state: str
    revision: int
    made_at: str
    changed_at: str
    archived_at: str | None


class JobsOut(BaseModel):
    """Jobs, the last changed first."""

    jobs: list[JobOut]


class JobIn(BaseModel):
    """A job to start. With an `id` made on the device, a repeat starts nothing new."""

    id: str | None = None
    title: str = Field(max_length=2 * job.LONGEST_TITLE)


@router.get("")
def list_jobs(
    office: TheOffice, _who: Anyone, search: str = "", state: str | None = None, archived: bool = False
) -> JobsOut:
    """The jobs whose title or note has every word of `search`."""
    found = job.find_jobs(office, search, state, archived=archived)
    return JobsOut(jobs=[JobOut(**asdict(one)) for one in found])


@router.post("", status_code=201)
def start_job(office: TheOffice, _who: Measurer, given: JobIn) -> JobOut:
    """Start a job."""
    return JobOut(**asdict(job.start_job(office, given.title, given.id)))


@router.get("/{job_id}")
def one_job(office: TheOffice, _who: Anyone, job_id: str) -> dict[str, Any]:
    """A job with its counts: what is complete, what is open."""
    stands = standing_of_job(office, job_id)
    return {**asdict(stands.job), "counts": counts(stands)}

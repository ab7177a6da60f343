"""The operations as JSON, one module a subject."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.web.api import carrying, changes, devices, jobs, lines, photos, walk_answers

if TYPE_CHECKING:
    from fastapi import APIRouter


def routers() -> list[APIRouter]:
    """Every router of the API."""
    return [
        jobs.router, lines.router, photos.router, walk_answers.router, devices.router, changes.router,
        carrying.router,
    ]  # fmt: skip

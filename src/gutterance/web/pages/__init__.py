"""The pages, one module a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.web.pages import capture, devices, jobs, pairing

if TYPE_CHECKING:
    from fastapi import APIRouter


def routers() -> list[APIRouter]:
    """Every router of the pages."""
    return [jobs.router, devices.router, pairing.router, capture.router]

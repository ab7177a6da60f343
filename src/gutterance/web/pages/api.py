"""The page of the API."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from gutterance.web.api_page import operations
from gutterance.web.people import Anyone
from gutterance.web.rendering import page

router = APIRouter(include_in_schema=False)


@router.get("/api")
def api(request: Request, who: Anyone) -> Response:
    """What may be asked of this server, and how."""
    return page("api.html", who, groups=operations(request.app.openapi()))

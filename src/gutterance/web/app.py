"""The app: its routes, its guard, and how refusals are told."""

from __future__ import annotations

import contextlib
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.responses import RedirectResponse
from starlette.staticfiles import StaticFiles

from gutterance import __version__
from gutterance.jobs.errors import JobError
from gutterance.store import StoreError
from gutterance.web.answers import refusal, status_of
from gutterance.web.api import routers as api_routers
from gutterance.web.compressing import Compressed
from gutterance.web.pages import routers as page_routers
from gutterance.web.pairing import Tries
from gutterance.web.people import Turned
from gutterance.web.security import Guard
from gutterance.web.settings import Settings

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from gutterance.jobs.office import Office

STATIC = Path(__file__).with_name("static")
_OF_HTTP = {
    404: ("there is nothing at this address", "go back to the list of jobs"),
    405: ("that cannot be done at this address", "the page /api says what can"),
    413: ("that is more than is taken at once", "send less at a time"),
}


def build_app(office: Office, settings: Settings | None = None) -> FastAPI:
    """The whole app of an office."""
    settings = settings or Settings()
    app = FastAPI(
        title="gutterance",
        version=__version__,
        summary="The operations on jobs that the pages use, as JSON.",
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
        middleware=[Middleware(Guard, settings=settings), Middleware(Compressed)],
    )
    app.state.office = office
    app.state.settings = settings
    app.state.tries = Tries()
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    for router in (*api_routers(), *page_routers()):
        app.include_router(router)
    _tell_refusals(app)
    return app


def _tell_refusals(app: FastAPI) -> None:
    @app.exception_handler(JobError)
    async def of_job(request: Request, error: JobError) -> Response:
        return refusal(status_of(error), error.what, error.next, plain=_is_page(request), data=error.data)

    @app.exception_handler(Turned)
    async def turned(request: Request, error: Turned) -> Response:
        if error.status == 401 and _is_page(request) and request.method == "GET":
            return RedirectResponse("/pair", status_code=303)
        answer = refusal(error.status, error.what, error.mend, plain=_is_page(request))
        if error.later is not None:
            answer.headers["Retry-After"] = str(error.later)
        return answer

    @app.exception_handler(StoreError)
    async def of_store(request: Request, error: StoreError) -> Response:
        # where it is and what its driver says is the office's business, not a phone's
        print(f"gutterance: {error}", file=sys.stderr)
        answer = refusal(
            503, "the office's database cannot be used just now; nothing of this was kept",
            "keep it where it is and try again", plain=_is_page(request),
        )  # fmt: skip
        answer.headers["Retry-After"] = "30"
        return answer

    @app.exception_handler(RequestValidationError)
    async def not_as_described(request: Request, error: RequestValidationError) -> Response:
        first = error.errors()[0]
        where = " ".join(str(part) for part in first["loc"][1:]) or "the request"
        return refusal(
            422, f"{where}: {first['msg']}", "the page /api says what is wanted", plain=_is_page(request)
        )

    @app.exception_handler(HTTPException)
    async def of_http(request: Request, error: HTTPException) -> Response:
        what, mend = _OF_HTTP.get(error.status_code, (str(error.detail), "go back to the list of jobs"))
        answer = refusal(error.status_code, what, mend, plain=_is_page(request))
        with contextlib.suppress(AttributeError):
            answer.headers.update(error.headers or {})
        return answer

    @app.exception_handler(Exception)
    async def defect(request: Request, error: Exception) -> Response:  # noqa: ARG001 - the server's log has it
        return refusal(
            500, "that is a defect of ours; nothing that was acknowledged is lost",
            "try again, and report what the server printed", plain=_is_page(request),
        )  # fmt: skip


def _is_page(request: Request) -> bool:
    return not request.url.path.startswith("/api/")

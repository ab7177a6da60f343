"""Refusals as people and programs read them: `{"error": ..., "next": ...}`, or a plain page."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from starlette.responses import HTMLResponse, JSONResponse

from gutterance.jobs import errors

if TYPE_CHECKING:
    from starlette.responses import Response

_STATUS: tuple[tuple[type[errors.JobError], int], ...] = (
    (errors.NotThere, 404),
    (errors.TooLarge, 413),
    (errors.Unusable, 422),
    (errors.Clashes, 409),
)


def status_of(error: errors.JobError) -> int:
    """The HTTP status of a refusal."""
    return next((status for kind, status in _STATUS if isinstance(error, kind)), 400)


def sentence(text: str) -> str:
    """A refusal's words as a sentence.

    >>> sentence("there is no such job here")
    'There is no such job here.'
    """
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '?', '!')) else '.'}"


def refusal(
    status: int, what: str, mend: str, *, plain: bool = False, data: dict[str, Any] | None = None
) -> Response:
    """A refusal as JSON, or `plain` as a page that needs no style."""
    if not plain:
        return JSONResponse(
            {"error": sentence(what), "next": sentence(mend), **(data or {})}, status_code=status
        )
    return HTMLResponse(
        '<!doctype html><html lang="en"><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{escape(sentence(what))}</title><link rel=stylesheet href=/static/base.css>"
        f"<main><h1>{escape(sentence(what))}</h1><p>{escape(sentence(mend))}</p>"
        "<p><a href=/>The list of jobs</a></p></main>",
        status_code=status,
    )

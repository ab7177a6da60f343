"""Words go out compressed: a page of notes is a tenth as long, which a phone at the edge of a signal feels.

No answer holds a secret beside words that another site could choose, which is how compression told secrets
elsewhere: the cookie is never in a page, and forms bear no token (Origin is checked instead).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.middleware.gzip import GZipMiddleware

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Receive, Scope, Send

_SHORTEST = 1000
_LEVEL = 5
_SHORT_ALREADY = ("/photos/", "/papers/", "/file")


class Compressed:
    """Compresses what is words; photos, papers and a job's file are short already."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app
        self._compressing = GZipMiddleware(app, minimum_size=_SHORTEST, compresslevel=_LEVEL)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, and its answer back."""
        words = scope["type"] == "http" and not any(part in scope["path"] for part in _SHORT_ALREADY)
        await (self._compressing if words else self._app)(scope, receive, send)

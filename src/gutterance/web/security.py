"""What every request passes: the Host allow-list, the Origin check on what changes anything, the headers.

Plain http gives no Sec-Fetch-Site, so it is not relied on: Origin against Host is, and a header that no form
of another site can send.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders

from gutterance.web.answers import refusal
from gutterance.web.bodies import bounded, told_too_much
from gutterance.web.hosts import is_ours

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

    from gutterance.web.settings import Settings

OUR_HEADER = "x-gutterance"
_SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    # not no-referrer: with that a browser says `Origin: null` of our own forms
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(), camera=(self), microphone=(self)",
}


class Guard:
    """The outermost layer of the app."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self._app = app
        self._settings = settings
        # on plain http over a network browsers ignore it, and complain of it
        heeded = settings.secure or not settings.lan
        self._headers = _HEADERS | ({"Cross-Origin-Opener-Policy": "same-origin"} if heeded else {})

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse what may not pass, and put our headers on every answer."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in self._headers.items():
                    headers.setdefault(name, value)
                if message["status"] == 413:
                    # what is still on its way is not waited for
                    headers["Connection"] = "close"
                # a page's modules are asked for anew each time: those of two versions do not go together
                ours = scope["path"].startswith("/static/")
                headers.setdefault("Cache-Control", "no-cache" if ours else "no-store")
            await send(message)

        refused = self._refused(scope)
        if refused is None:
            await self._app(scope, bounded(receive, scope), send_with_headers)
            return
        status, what, mend = refused
        await refusal(status, what, mend, plain=not scope["path"].startswith("/api/"))(
            scope, receive, send_with_headers
        )

    def _refused(self, scope: Scope) -> tuple[int, str, str] | None:
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        host = hosts[0].lower() if len(hosts) == 1 else ""
        if not is_ours(host, self._settings):
            return (
                421, "this server does not go by that name",
                "open it by the address it showed at its start, or start it with --name",
            )  # fmt: skip
        if scope["method"] in _SAFE:
            return None
        if not _own_origin(headers, host, "https" if self._settings.secure else "http"):
            return 403, "this came from another site", "open the page itself and do it there"
        if scope["path"].startswith("/api/") and headers.get(OUR_HEADER) != "1":
            return 403, "this was not sent by a page of ours", "send the header X-Gutterance: 1"
        if told_too_much(scope):
            return 413, "that is more than is taken at once", "send less at a time"
        return None


def _own_origin(headers: Headers, host: str, scheme: str) -> bool:
    """Whether a change was asked for by a page of this very server, or by a program that says our header."""
    origin = headers.get("origin")
    if origin is None:
        # every browser says Origin with a POST: without it this is a program, or a very old browser's form
        referer = headers.get("referer")
        if referer is None:
            return headers.get(OUR_HEADER) == "1"
        parts = urlsplit(referer)
        origin = f"{parts.scheme}://{parts.netloc}"
    return origin.lower() == f"{scheme}://{host}"

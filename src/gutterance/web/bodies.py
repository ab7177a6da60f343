"""How much a request may bring: bounded before it is read, and while it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException

from gutterance.jobs.photos import LARGEST_PHOTO

if TYPE_CHECKING:
    from starlette.types import Message, Receive, Scope

WORDS = 256 * 1024
"""The most [bytes] of words: 10,000 signs, each a pair of JSON's six-sign escapes, twice over."""

LARGEST_FILE = 512 * 1024 * 1024
"""The most [bytes] of a job's file, with its photos."""


def most_of(scope: Scope) -> int:
    """How much a request to that path may bring [bytes]."""
    path: str = scope["path"]
    if path.startswith("/api/jobs/") and path.endswith("/photos"):
        return LARGEST_PHOTO
    if path in ("/api/jobs/file", "/jobs/file"):
        return LARGEST_FILE
    return WORDS


def told_too_much(scope: Scope) -> bool:
    """Whether a request says itself that it brings too much, or says a length that is none."""
    told = Headers(scope=scope).get("content-length")
    return told is not None and (not told.isdecimal() or int(told) > most_of(scope))


def bounded(receive: Receive, scope: Scope) -> Receive:
    """A `receive` that ends with 413 when more comes than may."""
    left = most_of(scope)

    async def receive_bounded() -> Message:
        nonlocal left
        message = await receive()
        left -= len(message.get("body", b""))
        if left < 0:
            raise HTTPException(413, "that is more than is taken at once")
        return message

    return receive_bounded

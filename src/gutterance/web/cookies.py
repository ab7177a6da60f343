"""The cookie that a paired device shows: its id and its key, signed, so that a made-up one costs no look."""

from __future__ import annotations

import base64
import hashlib
import hmac
import os
import secrets
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from starlette.responses import Response

    from gutterance.web.settings import Settings

SECRET_FILE = "cookie.key"
_DAYS = 400
"""As long as browsers keep a cookie at most (RFC 6265bis, 5.5); every visit makes it new."""


def secret_of(folder: Path) -> bytes:
    """The secret that signs this office's cookies, made at first, readable by its owner alone."""
    file = folder / SECRET_FILE
    try:
        opened = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        kept = file.read_bytes()
        if len(kept) >= 32:
            return kept
        file.unlink()
        return secret_of(folder)
    with os.fdopen(opened, "wb") as made:
        made.write(secrets.token_bytes(32))
        made.flush()
        os.fsync(made.fileno())
    return file.read_bytes()


def cookie_name(settings: Settings) -> str:
    """The cookie's name; over https one that browsers take from this host alone (RFC 6265bis, 4.1.3.2)."""
    return "__Host-gutterance" if settings.secure else "gutterance"


def cookie_value(settings: Settings, device_id: str, key: str) -> str:
    """What the cookie of a device says."""
    said = f"{device_id}.{key}"
    return f"{said}.{_signature(settings, said)}"


def read_cookie(settings: Settings, value: str) -> tuple[str, str] | None:
    """The device's id and its key; None where we never signed that."""
    said, _, signature = value[:300].rpartition(".")
    if not hmac.compare_digest(signature.encode(), _signature(settings, said).encode()):
        return None
    device_id, _, key = said.partition(".")
    return device_id, key


def set_cookie(answer: Response, settings: Settings, value: str) -> None:
    """Have the browser keep the cookie: out of reach of scripts, not sent along by other sites."""
    answer.set_cookie(
        cookie_name(settings), value, max_age=_DAYS * 86400, path="/", secure=settings.secure, httponly=True,
        samesite="lax",
    )  # fmt: skip


def _signature(settings: Settings, said: str) -> str:
    digest = hmac.digest(settings.secret, said.encode("utf-8", "replace"), hashlib.sha256)
    return base64.urlsafe_b64encode(digest).decode("ascii").rstrip("=")

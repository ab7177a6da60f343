"""Ids and checks of what comes from outside: made on the phone, held to a shape here."""

from __future__ import annotations

import hashlib
import re
import secrets

from gutterance.jobs.errors import Unusable

_ID = re.compile(r"[A-Za-z0-9_-]{8,64}\Z")
SIGNS = "0123456789abcdefghjkmnpqrstvwxyz"
"""Crockford's base 32: no i, l, o or u to mistake."""


def new_id() -> str:
    """An id of 26 signs, 130 random bits.

    >>> len(new_id())
    26
    """
    return "".join(secrets.choice(SIGNS) for _ in range(26))


def checked_id(given: str, what: str) -> str:
    """An id as given. Raises Unusable where it has not the shape of one."""
    if not _ID.match(given):
        raise Unusable(
            f"the id of this {what} is not one", "give 8 to 64 letters, digits, - or _, made at random"
        )
    return given


def sha256_of(data: bytes) -> str:
    """The SHA-256 of some bytes, hexadecimal.

    >>> sha256_of(b"abc")  # FIPS 180-2, appendix B.1
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'
    """
    return hashlib.sha256(data).hexdigest()

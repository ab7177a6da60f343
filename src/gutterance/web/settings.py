"""How the server is reached and what it allows."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field
from pathlib import Path

LOOPBACK = frozenset({"127.0.0.1", "localhost", "[::1]"})


@dataclass(frozen=True, slots=True)
class Settings:
    """`hosts` are the names and addresses (without port) that this server answers to.

    `lan` says that other machines reach it: each is paired first, and may call it by any address in figures
    (a name could be another site's, made to lead here; an address cannot). Without it, whoever reaches the
    server, on this machine alone, is the office. `secure` says that it is reached by https. `secret` signs
    cookies. `authority` is the certificate that phones are asked to trust, where the office made its own.
    `addresses` are those to open from elsewhere, the usual one first.
    """

    hosts: frozenset[str] = LOOPBACK
    lan: bool = False
    secure: bool = False
    secret: bytes = field(default_factory=lambda: secrets.token_bytes(32), repr=False)
    authority: Path | None = None
    addresses: tuple[str, ...] = ()

"""How the server is reached and what it allows."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Settings:
    """`hosts` are the names and addresses (without port) that this server answers to.

    `paired` says that every device needs to be paired first; else whoever reaches the server, on this machine
    alone, is the office. `secure` says that it is reached by https.
    """

    hosts: frozenset[str] = field(default=frozenset({"127.0.0.1", "localhost", "[::1]"}))
    paired: bool = False
    secure: bool = False

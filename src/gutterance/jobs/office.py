"""An office: its database, its folder, its shop's rules and words; and who does something there."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from gutterance.store import moments

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from gutterance.reading.own_words import OwnWords
    from gutterance.shop import Shop
    from gutterance.store import Database

Role = Literal["measure", "office", "crew"]
ROLES: tuple[Role, ...] = ("measure", "office", "crew")


@dataclass(frozen=True, slots=True)
class Person:
    """Who does something: the name to keep with it, the role, and the device it was done on."""

    name: str
    role: Role = "office"
    device: str | None = None


@dataclass(slots=True)
class Office:
    """What every operation needs. `now` tells the time, ISO 8601 in UTC."""

    database: Database
    folder: Path
    shop: Shop
    own: OwnWords | None = None
    now: Callable[[], str] = field(default=moments.now)

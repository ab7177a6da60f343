"""How long a search may still go on."""

from __future__ import annotations

import time
from dataclasses import dataclass


@dataclass(slots=True)
class Clock:
    """How long may still be searched, and whether that ever ran out. `solver` False leaves CBC out."""

    ends: float
    solver: bool = True
    ran_out: bool = False

    @classmethod
    def of(cls, seconds: float, *, solver: bool = True) -> Clock:
        """A clock that runs from now."""
        return cls(time.monotonic() + seconds, solver)

    @property
    def left(self) -> float:
        """Seconds left, never below nothing."""
        return max(0.0, self.ends - time.monotonic())

"""What a page says at its top when something was refused."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Notice:
    """What was refused and what to do next; where two people disagree, both values, and mine to put again."""

    what: str
    next: str
    theirs: str | None = None
    yours: str = ""
    by: str = ""
    at: str = ""
    why: str = ""
    path: str = ""
    value: str = ""
    my_why: str = ""

"""What a job's operations refuse: each says what was wrong, and what to do next."""

from __future__ import annotations

from typing import Any


class JobError(ValueError):
    """An operation that cannot be done: `what` was wrong, `next` is what to do, `data` what belongs to it."""

    def __init__(self, what: str, next: str, **data: Any) -> None:
        super().__init__(f"{what}: {next}")
        self.what = what
        self.next = next
        self.data = data


class NotThere(JobError):
    """There is no such job, line, photo or event."""


class Unusable(JobError):
    """What was given cannot be used: nothing of it was kept."""


class Clashes(JobError):
    """What was given contradicts what is there. Where it was evidence, both are kept."""


class Stale(Clashes):
    """Somebody else changed the same thing since: `data` has both."""


class OnHold(Clashes):
    """It rests on an open question."""


class TooLarge(Unusable):
    """More than is taken at once."""

"""The amendments among a job's events."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.jobs.decisions import still_done
from gutterance.sheet.amendments import Amendment

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from typing import Any

AMENDED = "amended"


def amendments_in(events: Iterable[Mapping[str, Any]]) -> list[Amendment]:
    """The amendments that stand, in their order: an event undone is left out."""
    return [
        Amendment(
            path=event["path"], value=event["after"], by=event["by"], when=event["at"],
            why=event["why"] or "", was=event["before"], said=event["said"],
        )
        for event in still_done(events)
        if event["what"] == AMENDED
    ]  # fmt: skip

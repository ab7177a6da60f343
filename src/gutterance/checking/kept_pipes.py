"""Pipes that are not made, since the outlet is said to empty into something else."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.sheet.models import Sheet


def without_kept_pipes(sheet: Sheet) -> Sheet:
    """The sheet without the downpipes of outlets that, as is settled, empty into something else."""
    kept = {outlet.id for outlet in sheet.outlets if outlet.without_pipe}
    pipes = [pipe for pipe in sheet.downpipes if pipe.outlet not in kept]
    return sheet if len(pipes) == len(sheet.downpipes) else sheet.model_copy(update={"downpipes": pipes})

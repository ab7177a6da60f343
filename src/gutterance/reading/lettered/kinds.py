"""Kinds of items that the modules of this package ask for."""

from __future__ import annotations

PLACES = frozenset(
    {"direction", "part", "storey", "initial", "quarter", "landmark", "other side", "next run", "run noun"}
)
"""Kinds of items that, beside a letter, are only another name for the run or say where it is."""

THINGS = frozenset({"outlet", "downpipe"})

"""Words for an outlet, or for the pipe below it."""

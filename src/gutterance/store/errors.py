"""What the database refuses, each with what to do next."""

from __future__ import annotations


class StoreError(ValueError):
    """A database that cannot be used: says what is wrong, where, and what to do next."""


class NewerDatabase(StoreError):
    """A database that a newer gutterance wrote: this one would not understand all of it."""


class DamagedDatabase(StoreError):
    """A database that no longer reads whole."""


class NotOurDatabase(StoreError):
    """A database that holds something else."""

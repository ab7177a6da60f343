"""What the commands refuse."""

from __future__ import annotations


class Refusal(ValueError):
    """An input or a call that cannot be used: says what was wrong, where, and what to do next."""

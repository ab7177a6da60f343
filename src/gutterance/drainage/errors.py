"""What the drainage check refuses."""

from __future__ import annotations


class RainError(ValueError):
    """Rainfall, a method or a file that cannot be worked with: says what was wrong and what to do."""


class OutOfRangeError(ValueError):
    """A formula or table asked beyond what it was published for. The check then gives no capacity."""


def within(value: float, low: float, high: float, what: str, where: str) -> None:
    """Raise OutOfRangeError where `value` is not within `low` to `high`, both allowed."""
    if not low <= value <= high:
        raise OutOfRangeError(f"{what} is {value:.4g}, and {where} goes from {low:g} to {high:g}")

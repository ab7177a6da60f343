"""What the tests of this package share."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.fixture
def inches() -> Callable[[str], Fraction]:
    """A reader of corpus values that owes nothing to the package."""
    return corpus_inches


def corpus_inches(text: str) -> Fraction:
    """The inches of a corpus value such as `58' 6 1/4"` or `3200 mm`, worked out here, not by the package."""
    if text.endswith(" mm"):
        return Fraction(text[:-3]) / Fraction("25.4")
    feet, mark, rest = text.rpartition("' ")
    return 12 * Fraction(feet if mark else 0) + sum(Fraction(part) for part in rest.rstrip('"').split())

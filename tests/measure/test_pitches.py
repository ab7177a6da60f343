"""A roof's pitch as the sheet writes it."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from gutterance.measure.pitches import rise_in_12


@pytest.mark.parametrize(
    ("text", "rise"),
    [
        ("6/12", 6),
        ("4.5/12", Fraction(9, 2)),
        ("1/40", Fraction(3, 10)),
        ("12:12", 12),
        ("0/12", 0),
        ("45 degrees", 12),
    ],
)
def test_a_pitch(text: str, rise: Fraction) -> None:
    assert rise_in_12(text) == rise


def test_degrees_are_a_tangent_to_the_millionth() -> None:
    for degrees in (1, 26, 26.5, 30, 60, 89):
        found = rise_in_12(f"{degrees} degrees")
        assert found is not None
        assert float(found) == pytest.approx(12 * math.tan(math.radians(degrees)), abs=1e-6)


@pytest.mark.parametrize("text", ["", "steep", "6", "6/0", "90 degrees", "-6/12", "6/12 or so", "six twelve"])
def test_what_is_no_pitch(text: str) -> None:
    assert rise_in_12(text) is None

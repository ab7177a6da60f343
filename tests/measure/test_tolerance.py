"""Tape tolerance and rounding, by NIST Handbook 44."""

from __future__ import annotations

from fractions import Fraction

import pytest

from gutterance.measure.length import Length
from gutterance.measure.tolerance import BeyondTape, load_steps, tape_tolerance
from gutterance.measure.vocabulary import WordsError


@pytest.mark.parametrize(
    ("feet", "tolerance"),
    [
        (0, "1/32"),
        (6, "1/32"),
        (7, "1/16"),
        (30, "1/16"),
        (31, "1/8"),
        (55, "1/8"),
        (56, "3/16"),
        (80, "3/16"),
        (81, "1/4"),
        (100, "1/4"),
    ],
)
def test_the_published_steps(feet: int, tolerance: str) -> None:
    """Source: NIST Handbook 44, section 5.52, metal tapes: at both ends of every step."""
    assert tape_tolerance(Length.from_feet(feet)) == Fraction(tolerance)


def test_just_past_a_step_the_longer_one_counts() -> None:
    assert tape_tolerance(Length.from_feet(6, Fraction(1, 16))) == Fraction(1, 16)


@pytest.mark.parametrize("feet", [Fraction(-1), Fraction(1601, 16)])
def test_outside_the_table_is_refused(feet: Fraction) -> None:
    with pytest.raises(BeyondTape):
        tape_tolerance(Length.from_feet(feet))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no .*step"),
        ('[[step]]\nup_to = 6\ntolerance = "x"', "step 1: tolerance"),
        ('[[step]]\nup_to = 6\ntolerance = "1/0"', "step 1: tolerance"),
        ('[[step]]\nup_to = "6"\ntolerance = "1/32"', "step 1: up_to"),
        ('[[step]]\nup_to = 6\ntolerance = "1/32"\n[[step]]\nup_to = 5\ntolerance = "1/16"', "step 2"),
        ("[[step]", "tolerance.toml"),
    ],
)
def test_a_bad_row_is_named(text: str, says: str) -> None:
    with pytest.raises(WordsError, match=says):
        load_steps(text)


@pytest.mark.parametrize(
    ("length", "rounded"),
    [
        ("3 5/32", "3 1/8"),
        ("3 7/32", "3 1/4"),
        ("10 1/32", "10"),
        ("10 3/32", "10 1/8"),
        ("10 5/64", "10 1/16"),
        ("10 7/64", "10 1/8"),
    ],
)
def test_midway_readings_round_to_the_even_mark(length: str, rounded: str) -> None:
    """Source: NIST Handbook 44, 10.3, odd-and-even rule, on sixteenths; the last two are not midway."""
    exact = sum((Fraction(part) for part in length.split()), Fraction(0))
    expected = sum((Fraction(part) for part in rounded.split()), Fraction(0))
    assert Length(exact).rounded(Fraction(1, 16)).inches == expected


def test_36_inches_is_914_4_millimetres() -> None:
    """Source: NIST SP 811, appendix B: 1 in is 25.4 mm, so 36 in is 914.4 mm."""
    assert Length(Fraction(36)).mm == Fraction("914.4")

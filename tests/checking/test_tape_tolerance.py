"""The tape's own tolerance, against NIST Handbook 44, section 5.52, table of metal tapes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from gutterance.checking.tape_tolerance import tape_tolerance


@pytest.mark.parametrize(
    ("feet", "tolerance"),
    [
        (1, "1/32"), (6, "1/32"),
        (7, "1/16"), (30, "1/16"),
        (31, "1/8"), (55, "1/8"),
        (56, "3/16"), (80, "3/16"),
        (81, "1/4"), (100, "1/4"),
    ],
)  # fmt: skip
def test_the_table_at_both_edges_of_each_row(feet: int, tolerance: str) -> None:
    assert tape_tolerance(Fraction(feet * 12)) == Fraction(tolerance)


def test_between_two_rows_the_wider_serves() -> None:
    assert tape_tolerance(Fraction(6 * 12) + Fraction(1, 16)) == Fraction(1, 16)
    assert tape_tolerance(Fraction(30 * 12) + Fraction(1, 16)) == Fraction(1, 8)


def test_beyond_the_table_the_tape_is_laid_again() -> None:
    assert tape_tolerance(Fraction(200 * 12)) == Fraction(1, 2)
    assert tape_tolerance(Fraction(106 * 12)) == Fraction(1, 4) + Fraction(1, 32)


def test_nothing_and_less_have_none() -> None:
    assert tape_tolerance(Fraction(0)) == 0
    assert tape_tolerance(Fraction(-5)) == 0

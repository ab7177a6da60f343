"""Slips of ear, eye and tape. The kinds are common practice, no source; each is checked both ways."""

from __future__ import annotations

from fractions import Fraction

import pytest
from num2words import num2words

from gutterance.checking.slips import likely_slips, slip_to
from gutterance.measure.length import Length
from gutterance.sheet.models import Alternative

EIGHTH = Fraction(1, 8)


@pytest.mark.parametrize(
    ("said", "meant", "why"),
    [
        ((50, 3), (15, 3), "fifty heard for fifteen"),
        ((14, 0), (40, 0), "fourteen heard for forty"),
        ((24, 6), (42, 6), "digits swapped: 24 for 42"),
        ((12, 10), (12, 1), None),
        ((9, 6), (6, 9), "feet and inches swapped"),
        ((28, 6), (29, 6), "one foot off"),
        ((28, 6), (27, 6), "one foot off"),
        ((38, 6), (28, 6), "ten feet off"),
        ((28, 6), (28, 9), None),
    ],
)
def test_one_slip(said: tuple[int, int], meant: tuple[int, int], why: str | None) -> None:
    found = slip_to(Length.from_feet(*said), Length.from_feet(*meant).inches, EIGHTH)
    assert (found.why if found else None) == why
    assert found is None or found.meant == Length.from_feet(*meant)


@pytest.mark.parametrize("teen", range(13, 20))
def test_every_teen_and_its_ty_as_an_outside_speller_says_them(teen: int) -> None:
    ty = 10 * (teen - 10)
    # num2words spells both: they differ by -teen against -ty, which is what is misheard.
    assert (num2words(teen)[-4:], num2words(ty)[-2:]) == ("teen", "ty")
    for said, meant in ((teen, ty), (ty, teen)):
        found = slip_to(Length.from_feet(said), Fraction(meant * 12), EIGHTH)
        assert found is not None
        assert found.meant == Length.from_feet(meant)
        assert found.why == f"{num2words(said)} heard for {num2words(meant)}"


def test_what_the_reader_remembered_comes_first() -> None:
    other = Alternative[Length](value=Length.from_feet(30, 6), why="thirty six may be 30' 6\"")
    first = next(likely_slips(Length.from_feet(36), [other]))
    assert (first.meant, first.why, first.rank) == (other.value, other.why, 0)


def test_metric_slips() -> None:
    swapped = slip_to(Length.from_mm(12360), Length.from_mm(12630).inches, EIGHTH)
    assert swapped is not None
    assert (swapped.meant, swapped.why) == (Length.from_mm(12630), "digits swapped: 12360 for 12630")
    metre = slip_to(Length.from_mm(9400), Length.from_mm(8400).inches, EIGHTH)
    assert metre is not None
    assert metre.why == "one metre off"


@pytest.mark.parametrize("inches", [0, -30, 10**7])
def test_absurd_lengths_have_no_slip(inches: int) -> None:
    assert slip_to(Length(Fraction(inches)), Fraction(120), EIGHTH) is None

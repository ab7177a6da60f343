"""Hanger places: count against a published spacing, and what must hold for any run."""

from __future__ import annotations

import itertools
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from gutterance.layout.hangers import hanger_places

STEP = Fraction(1, 16)
SIXTEENTHS = st.integers(16, 16 * 1200).map(lambda number: Fraction(number, 16))


def test_60_ft_at_3_ft_hung_at_both_ends_takes_21() -> None:
    # spacing of 3 ft on centre: NAVEDTRA 14044 (US Navy, public domain); the count is arithmetic
    assert len(hanger_places(Fraction(720), Fraction(0), Fraction(0), Fraction(36), [], STEP) or []) == 21


def test_24_and_18_in() -> None:
    # 24 in, and 18 in where strength is wanted: common practice, no source
    for spacing, count in ((24, 22), (18, 29)):
        places = hanger_places(Fraction(510), Fraction(6), Fraction(6), Fraction(spacing), [], STEP)
        assert places is not None
        assert len(places) == count
        assert (places[0], places[-1]) == (6, 504)


def test_marks_on_whole_millimetres_bring_no_more_hangers_than_needed() -> None:
    # 6400 mm hung 152.4 mm from each end at no more than 609.6 mm: 6095.2 / 609 is 10.01, so 11 gaps
    mm = 1 / Fraction(254, 10)
    places = hanger_places(6400 * mm, Fraction(6), Fraction(6), Fraction(24), [], mm)
    assert places is not None
    assert len(places) == 12


def test_one_in_the_middle_of_a_very_short_run() -> None:
    assert hanger_places(Fraction(10), Fraction(6), Fraction(6), Fraction(24), [], STEP) == [5]


def test_one_in_the_middle_of_a_short_return_rather_than_two_side_by_side() -> None:
    # 14 in from an outside to an inside corner: 6 in from one, 7 in from the other, are an inch apart
    assert hanger_places(Fraction(14), Fraction(6), Fraction(7), Fraction(24), [], STEP) == [7]
    assert hanger_places(Fraction(20), Fraction(6), Fraction(6), Fraction(24), [], STEP) == [6, 14]


def test_what_cannot_be_met_is_none() -> None:
    assert hanger_places(Fraction(0), Fraction(6), Fraction(6), Fraction(24), [], STEP) is None
    assert hanger_places(Fraction(100), Fraction(6), Fraction(6), Fraction(0), [], STEP) is None
    assert hanger_places(Fraction(100), Fraction(6), Fraction(6), Fraction(-3), [], STEP) is None
    wide = [(Fraction(20), Fraction(70))]
    assert hanger_places(Fraction(100), Fraction(6), Fraction(6), Fraction(24), wide, STEP) is None
    assert hanger_places(Fraction(10**9), Fraction(6), Fraction(6), Fraction(24), [], STEP) is None


@given(SIXTEENTHS, st.integers(12, 48), st.lists(st.integers(0, 1200), max_size=6))
def test_never_wider_than_allowed_and_never_through_an_outlet(
    length: Fraction, spacing: int, middles: list[int]
) -> None:
    outlets = sorted({Fraction(middle) for middle in middles if 8 <= middle <= length - 8})
    blocked: list[tuple[Fraction, Fraction]] = []
    for middle in outlets:
        low, high = middle - Fraction(5, 2), middle + Fraction(5, 2)
        if blocked and low < blocked[-1][1] + 1:
            continue
        blocked.append((low, high))
    places = hanger_places(length, Fraction(6), Fraction(6), Fraction(spacing), blocked, STEP)
    assert places is not None
    assert all(0 <= place <= length for place in places)
    assert all(place % STEP == 0 for place in places)
    assert all(not low < place < high for place in places for low, high in blocked)
    assert all(right - left <= spacing for left, right in itertools.pairwise(places))
    assert all(right > left for left, right in itertools.pairwise(places))
    assert places[0] <= 11
    assert length - places[-1] <= 11

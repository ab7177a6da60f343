"""Cuts onto stock: nothing lost, nothing too long, and never fewer than the bound; published instances."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.lists.pipe_stock import cut_stock, fewest_lengths

NONE = Fraction(0)


def cuts(*wanted: tuple[int, int]) -> list[tuple[Fraction, str]]:
    return [(Fraction(length), f"{length}") for length, count in wanted for _ in range(count)]


def test_boards_of_17_ft() -> None:
    # Winston, Operations Research: 15 of 9 ft, 20 of 5 ft, 25 of 3 ft from 17 ft boards; the optimum is 19
    wanted = cuts((9, 15), (5, 20), (3, 25))
    assert len(cut_stock(wanted, Fraction(17), NONE)) == 19
    assert fewest_lengths([cut for cut, _ in wanted], Fraction(17), NONE) == 19


@pytest.mark.parametrize(
    ("stock", "wanted", "optimum"),
    [
        # GAMS model library CUTSTOCK (Gilmore and Gomory), optimum 453
        (100, ((45, 97), (36, 610), (31, 395), (14, 211)), 453),
        # the OR-Tools sample, optimum 73
        (5600, ((1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
                (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20)), 73),
    ],
)  # fmt: skip
def test_the_optimum_lies_between_the_bound_and_the_plan(
    stock: int, wanted: tuple[tuple[int, int], ...], optimum: int
) -> None:
    rows = cuts(*wanted)
    plan = cut_stock(rows, Fraction(stock), NONE)
    assert fewest_lengths([cut for cut, _ in rows], Fraction(stock), NONE) <= optimum <= len(plan)


def test_the_saw_cut_counts() -> None:
    assert len(cut_stock(cuts((60, 2)), Fraction(120), NONE)) == 1
    assert len(cut_stock(cuts((60, 2)), Fraction(120), Fraction(1, 8))) == 2


def test_a_cut_longer_than_the_stock_is_refused() -> None:
    with pytest.raises(ValueError, match="longer than the stock"):
        cut_stock(cuts((121, 1)), Fraction(120), NONE)


@given(st.lists(st.integers(1, 1920).map(lambda number: Fraction(number, 16)), max_size=40))
def test_every_cut_stands_on_one_length_and_fits_it(wanted: list[Fraction]) -> None:
    stock, saw = Fraction(120), Fraction(1, 8)
    plan = cut_stock([(cut, str(number)) for number, cut in enumerate(wanted)], stock, saw)
    assert sorted(cut for one in plan for cut in one.cuts) == sorted(wanted)
    assert len({of for one in plan for of in one.of}) == len(wanted)
    for one in plan:
        assert sum(one.cuts) + saw * (len(one.cuts) - 1) <= stock
    assert len(plan) >= fewest_lengths(wanted, stock, saw)

"""Laps: no piece too long, none near an outlet or an end, as few as will do."""

from __future__ import annotations

import itertools
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from gutterance.layout.splitting import lap_places
from gutterance.shop import load_shop

SHOP = load_shop()
LAP = SHOP.pieces.lap.inches
ONE = Fraction(1)


def lengths(reach: tuple[Fraction, Fraction], laps: list[Fraction]) -> list[Fraction]:
    edges = [reach[0], *laps, reach[1]]
    ends = len(edges) - 2
    return [
        (right + (LAP / 2 if number < ends else 0)) - (left - (LAP / 2 if number else 0))
        for number, (left, right) in enumerate(itertools.pairwise(edges))
    ]


def test_one_piece_where_it_will_do() -> None:
    reach = (Fraction(0), Fraction(720))
    assert lap_places(reach, reach, [], SHOP, ONE) == []


def test_two_even_pieces_just_over() -> None:
    reach = (Fraction(0), Fraction(721))
    laps = lap_places(reach, reach, [], SHOP, ONE)
    assert laps is not None
    assert len(laps) == 1
    assert abs(laps[0] - Fraction(721, 2)) <= 1


def test_a_lap_moves_clear_of_an_outlet_in_the_middle() -> None:
    reach = (Fraction(0), Fraction(1000))
    laps = lap_places(reach, reach, [(Fraction(498), Fraction(502))], SHOP, ONE)
    assert laps is not None
    clear = SHOP.pieces.lap_clear_of_outlets.inches + LAP / 2
    assert laps[0] <= 498 - clear or laps[0] >= 502 + clear


def test_none_where_outlets_leave_no_room() -> None:
    reach = (Fraction(0), Fraction(1000))
    crowd = [(Fraction(at), Fraction(at + 4)) for at in range(20, 980, 20)]
    assert lap_places(reach, reach, crowd, SHOP, ONE) is None


@given(
    st.integers(721 * 16, 6000 * 16).map(lambda number: Fraction(number, 16)),
    st.lists(st.integers(10, 5990), max_size=8),
    st.sampled_from([Fraction(0), Fraction(5)]),
)
def test_pieces_cover_the_run_and_none_is_too_long(
    length: Fraction, middles: list[int], beyond: Fraction
) -> None:
    reach, ends = (-beyond, length + beyond), (Fraction(0), length)
    outlets = [(Fraction(at - 2), Fraction(at + 2)) for at in sorted(middles) if at < length - 2]
    laps = lap_places(reach, ends, outlets, SHOP, ONE)
    if laps is None:
        assert outlets
        return
    made = lengths(reach, laps)
    assert max(made) <= SHOP.pieces.longest.inches
    assert sum(made) - LAP * len(laps) == reach[1] - reach[0]
    clear = SHOP.pieces.lap_clear_of_outlets.inches + LAP / 2
    assert all(not low - clear < lap < high + clear for lap in laps for low, high in outlets)

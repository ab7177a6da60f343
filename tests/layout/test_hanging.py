"""Which spacing a run gets, and what its hangers keep clear of."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from houses import outlet, run, sheet
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.layout import lay_out
from gutterance.layout.hanging import close_words
from gutterance.layout.pieces import lap_middles
from gutterance.shop import load_shop
from gutterance.shop.amounts import read_amount

SHOP = load_shop()


@pytest.mark.parametrize(
    ("note", "close"),
    [
        ("lots of snow slides off here", {"": "snow"}),
        ("Icicles every winter", {"": "icicles"}),
        ("no snow here to speak of", {}),
        ("never any ice", {}),
        ("31 Snow Street", {}),
        ("price was nice", {}),
    ],
)
def test_the_note_speaks_of_snow_or_it_does_not(note: str, close: dict[str, str]) -> None:
    house = sheet([run("eave", "300 in")], note=[note])
    house.title = "31 Snow Street"
    assert close_words(house, SHOP) == close


def test_snow_on_one_run_is_for_that_run_alone() -> None:
    text = "snow slides off the back"
    source = {"line": 1, "start": 0, "end": len(text), "text": text}
    house = sheet(
        [run("front", "300 in"), run("back", "300 in")],
        [outlet("front-1", "front"), outlet("back-1", "back")],
        note=[text],
        remarks=[{"kind": "other", "about": "back", "text": text, "source": source}],
    )
    layout = lay_out(house, [], SHOP)
    widest = [max(b - a for a, b in itertools.pairwise(one.at)) for one in layout.hangers]
    assert widest[0] > 18 >= widest[1]
    assert any("on back" in one for one in layout.assumed)


def test_a_hanger_moved_clear_of_an_outlet_brings_no_more_than_needed() -> None:
    # 252 in between at 24 in is 10.5, so 11 gaps and 12 hangers, though the first stands clear of an outlet
    layout = lay_out(sheet([run("eave", "264 in")], [outlet("eave-1", "eave", "left", "6 in")]), [], SHOP)
    assert len(layout.hangers[0].at) == 12


@settings(max_examples=80, deadline=None)
@given(
    st.integers(30, 1600),
    st.lists(st.integers(10, 1590), max_size=3, unique=True),
    st.sampled_from(["cap cap", "in out", "in in", "out wall"]),
    st.integers(120, 720),
)
def test_clear_of_outlets_laps_and_the_other_gutter_never_too_wide(
    length: int, places: list[int], ends: str, longest: int
) -> None:
    shop = SHOP.model_copy(
        update={"pieces": SHOP.pieces.model_copy(update={"longest": read_amount(f"{longest} in")})}
    )
    outlets = [outlet(f"o{at}", "eave", "left", f"{at} in") for at in places if at < length - 10]
    layout = lay_out(sheet([run("eave", f"{length} in", ends)], outlets), [], shop)
    one = layout.hangers[0]
    if not one.known:
        return
    assert all(b - a <= 24 for a, b in itertools.pairwise(one.at))
    laps = lap_middles(layout.pieces, shop)
    for mark in one.at:
        assert all(abs(mark - at) >= Fraction(3, 2) + 1 for at in places if at < length - 10)
        assert all(abs(mark - lap) >= 3 for lap in laps)
        if length > 20:
            left, right = ends.split()
            assert left != "in" or mark >= 5
            assert right != "in" or mark <= length - 5

"""Falls: the published arithmetic, chains, loops, and what must hold on any stretch."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from houses import outlet, reading, run, sheet
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.layout import Layout, lay_out
from gutterance.layout.falls import fall_over
from gutterance.shop import Shop, load_shop
from gutterance.shop.amounts import read_amount
from gutterance.shop.models import FallRule

SHOP = load_shop()


def with_fall(drop: str, over: str) -> Shop:
    rule = FallRule(drop=read_amount(drop), over=read_amount(over), most=read_amount("100 in"), boards={})
    return SHOP.model_copy(update={"fall": rule})


def below(layout: Layout) -> dict[str, Fraction | None]:
    return {f"{layout.runs[one.run].id} {one.what}": one.below for one in layout.falls}


@pytest.mark.parametrize(
    ("drop", "over", "fall"),
    [
        # fall over 40 ft at each rate: arithmetic; 1 in per 16 ft is 1/16 in per ft (NAVEDTRA 14044)
        ("1/16 in", "1 ft", Fraction(5, 2)),
        ("1 in", "16 ft", Fraction(5, 2)),
        ("1/8 in", "1 ft", Fraction(5)),
        ("1/4 in", "10 ft", Fraction(1)),  # the rate itself: common practice, no source
        ("1/2 in", "10 ft", Fraction(2)),
        ("1 in", "500 in", Fraction(24, 25)),
        ("3 mm", "1000 mm", Fraction(36, 25)),
    ],
)
def test_fall_over_40_ft(drop: str, over: str, fall: Fraction) -> None:
    assert fall_over(Fraction(480), with_fall(drop, over)) == fall


@pytest.mark.parametrize(
    ("drop", "over", "mm_per_m"),
    [
        # slope arithmetic; 2 mm/m is 1:500
        ("1/16 in", "1 ft", 5.2083),
        ("1/8 in", "1 ft", 10.4167),
        ("1/4 in", "10 ft", 2.0833),
        ("1/2 in", "10 ft", 4.1667),
        ("1 mm", "500 mm", 2.0),
    ],
)
def test_the_rates_in_millimetres_a_metre_as_pint_has_them(drop: str, over: str, mm_per_m: float) -> None:
    import pint

    units: pint.UnitRegistry[float] = pint.UnitRegistry()
    fall = float(fall_over(read_amount("1000 mm").inches, with_fall(drop, over)))
    assert units.Quantity(fall, "inch").to("millimetre").magnitude == pytest.approx(mm_per_m, abs=5e-5)


def test_one_outlet_at_the_end_of_a_40_ft_run() -> None:
    # outlet 12 in from the right of 41 ft: its long leg is 40 ft, so 1 in; the short end beyond rises again
    house = sheet([run("eave", "492 in")], [outlet("eave-1", "eave", "right", "12 in")])
    falls = below(lay_out(house, [], SHOP))
    assert falls == {
        "eave left end": 0,
        "eave outlet eave-1": 1,
        "eave right end": 1 - Fraction(1, 40),
    }


def test_two_outlets_meet_in_the_middle() -> None:
    ends = [outlet("eave-1", "eave", "left", "6 in"), outlet("eave-2", "eave", "right", "6 in")]
    layout = lay_out(sheet([run("eave", "492 in")], ends), [], SHOP)
    falls = below(layout)
    assert falls["eave high point"] == 0
    assert falls["eave outlet eave-1"] == falls["eave outlet eave-2"] == Fraction(1, 2)
    assert [one.at for one in layout.falls if one.what == "high point"] == [246]


def test_water_crosses_a_corner_and_both_runs_say_the_same_there() -> None:
    house = sheet(
        [run("front", "240 in", "cap out", next_run="side"), run("side", "240 in", "out cap")],
        [outlet("side-1", "side", "right", "6 in")],
    )
    falls = below(lay_out(house, [], SHOP))
    assert falls["front right end"] == falls["side left end"] == Fraction(1, 2)
    assert falls["front left end"] == 0


def test_a_loop_with_one_outlet_is_highest_across_the_house() -> None:
    runs = [
        run("front", "240 in", "out out"),
        run("right side", "120 in", "out out"),
        run("back", "240 in", "out out"),
        run("left side", "120 in", "out out"),
    ]
    house = sheet(runs, [outlet("front-1", "front", "left", "120 in")])
    layout = lay_out(house, [], SHOP)
    assert [channel.loop for channel in layout.channels] == [True]
    falls = below(layout)
    assert falls["front outlet front-1"] == fall_over(Fraction(360), SHOP)
    assert falls["back high point"] == 0
    assert falls["front left end"] == falls["front right end"]


def test_a_stretch_without_an_outlet_gets_no_falls_and_says_why() -> None:
    layout = lay_out(sheet([run("eave", "240 in")]), [], SHOP)
    assert layout.falls == []
    assert "no outlet" in " ".join(layout.channels[0].says)
    assert layout.pieces[0].hold


def test_a_length_not_known_leaves_the_legs_over_it_open_and_no_others() -> None:
    house = sheet(
        [run("a", "240 in", "cap out", next_run="b"), run("b", None, "out cap")],
        [outlet("a-1", "a", "left", "100 in"), outlet("a-2", "a", "left", "40 in")],
    )
    layout = lay_out(house, [], SHOP)
    falls = below(layout)
    assert falls["a outlet a-2"] == fall_over(Fraction(40), SHOP)
    assert falls["a outlet a-1"] is None
    assert all(one.hold for one in layout.falls if one.below is None)


def test_falls_over_a_doubtful_length_say_so() -> None:
    house = sheet([run("eave", "492 in")], [outlet("eave-1", "eave")])
    house.runs[0].length.status = "doubtful"  # type: ignore[union-attr]
    assert all(one.hold for one in lay_out(house, [], SHOP).falls)


def test_a_high_point_as_said_is_kept_and_one_that_traps_water_is_asked_about() -> None:
    ends = [outlet("eave-1", "eave", "left", "6 in"), outlet("eave-2", "eave", "right", "6 in")]
    said = run("eave", "492 in", high_point=reading("centre"))
    assert not lay_out(sheet([said], ends), [], SHOP).findings
    trapped = lay_out(sheet([said], ends[:1]), [], SHOP)
    assert [one.code for one in trapped.findings] == ["water-to-an-end"]
    assert all(one.hold for one in trapped.falls)


def test_high_beside_the_only_outlet_would_leave_the_far_end_low() -> None:
    one = [outlet("eave-1", "eave", "left", "6 in")]
    wrong = lay_out(sheet([run("eave", "492 in", high_point=reading("left"))], one), [], SHOP)
    assert [one.code for one in wrong.findings] == ["water-to-an-end"]
    right = lay_out(sheet([run("eave", "492 in", high_point=reading("right"))], one), [], SHOP)
    assert not right.findings


def test_two_high_points_without_an_outlet_between_them_are_a_low_spot() -> None:
    runs = [
        run("a", "300 in", "cap out", next_run="b", high_point=reading("centre")),
        run("b", "300 in", "out cap", high_point=reading("middle")),
    ]
    layout = lay_out(sheet(runs, [outlet("a-1", "a"), outlet("b-1", "b", "right")]), [], SHOP)
    assert [one.code for one in layout.findings] == ["low-spot"]
    # said at the corner by both runs it is one high point, and no low spot
    runs[0]["high_point"], runs[1]["high_point"] = reading("right"), reading("left")
    layout = lay_out(sheet(runs, [outlet("a-1", "a"), outlet("b-1", "b", "right")]), [], SHOP)
    assert not layout.findings
    assert below(layout)["a right end"] == below(layout)["b left end"] == 0


def test_a_high_point_in_words_nobody_knows_is_asked_about() -> None:
    house = sheet([run("eave", "492 in", high_point=reading("by the oak"))], [outlet("eave-1", "eave")])
    assert [one.code for one in lay_out(house, [], SHOP).findings] == ["high-point-unclear"]


def test_every_hanger_has_its_fall() -> None:
    layout = lay_out(sheet([run("eave", "492 in")], [outlet("eave-1", "eave", "right", "12 in")]), [], SHOP)
    hangers = layout.hangers[0]
    # the outlet's fall of 480 / 480 = 1 in, less what lies between a hanger and the outlet, at 1 in 480
    assert hangers.below == [1 - Fraction(abs(480 - at)) / 480 for at in hangers.at]


def chain(lengths: list[int], places: list[tuple[int, int]]) -> Any:
    runs = []
    for number, length in enumerate(lengths):
        left = "cap" if number == 0 else "out"
        right = "cap" if number == len(lengths) - 1 else "out"
        following = {} if number == len(lengths) - 1 else {"next_run": f"r{number + 1}"}
        runs.append(run(f"r{number}", f"{length} in", f"{left} {right}", **following))
    outlets = {(i % len(lengths), at % (lengths[i % len(lengths)] - 8) + 4) for i, at in places}
    return sheet(runs, [outlet(f"o{i}-{at}", f"r{i}", "left", f"{at} in") for i, at in sorted(outlets)])


def along(layout: Layout, lengths: list[int]) -> list[tuple[Fraction, str, Fraction]]:
    """Every fall point with its place along the stretch, in order."""
    starts = [sum(lengths[:number]) for number in range(len(lengths))]
    points = []
    for one in layout.falls:
        assert one.at is not None
        assert one.below is not None
        points.append((starts[one.run] + one.at, one.what, one.below))
    return sorted(points)


def assert_falls_enough(points: list[tuple[Fraction, str, Fraction]]) -> None:
    assert min(depth for _, _, depth in points) >= 0
    for left, right in pairwise(points):
        assert abs(right[2] - left[2]) >= fall_over(right[0] - left[0], SHOP)
    deepest = max(depth for _, what, depth in points if what.startswith("outlet"))
    assert all(depth <= deepest for _, _, depth in points)


@settings(max_examples=60)
@given(
    st.lists(st.integers(60, 700), min_size=1, max_size=5),
    st.lists(st.tuples(st.integers(0, 4), st.integers(0, 700)), min_size=1, max_size=5),
)
def test_every_leg_of_a_chain_falls_to_its_outlets_at_least_at_the_shop_rate(
    lengths: list[int], places: list[tuple[int, int]]
) -> None:
    assert_falls_enough(along(lay_out(chain(lengths, places), [], SHOP), lengths))


@settings(max_examples=60)
@given(
    st.integers(60, 700),
    st.integers(60, 700),
    st.lists(st.tuples(st.integers(0, 3), st.integers(0, 700)), min_size=1, max_size=5),
)
def test_every_leg_of_a_loop_does_too_and_it_closes(
    wide: int, deep: int, places: list[tuple[int, int]]
) -> None:
    lengths = [wide, deep, wide, deep]
    names = ["front", "right side", "back", "left side"]
    runs = [run(name, f"{length} in", "out out") for name, length in zip(names, lengths, strict=True)]
    where = {(i, at % (lengths[i] - 8) + 4) for i, at in places}
    outlets = [outlet(f"o{i}-{at}", runs[i]["id"], "left", f"{at} in") for i, at in sorted(where)]
    layout = lay_out(sheet(runs, outlets), [], SHOP)
    assert [channel.loop for channel in layout.channels] == [True]
    points = along(layout, lengths)
    assert_falls_enough(points)
    assert points[0][2] == points[-1][2]

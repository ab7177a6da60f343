"""One outlet's share before each method: its own area, flow and capacity, and what would mend it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from gutterance.drainage.check import Outcome, judge, percent
from gutterance.drainage.mending import Offers
from gutterance.drainage.method import RainRules
from gutterance.drainage.methods import method_named
from gutterance.drainage.rainfall import Rainfall
from gutterance.drainage.sections import GutterSection, PipeSection
from gutterance.drainage.share import Share, Side, Strip
from gutterance.drainage.units import gallons_per_minute, square_feet

F = Fraction
LEVEL = F(1, 480)


def half_round(size: int) -> GutterSection:
    return GutterSection(f"{size} in half round", "half round", F(size), F(0), F(size, 2))


K_STYLE = GutterSection("5 in K-style", "trapezoid", F(5), F(13, 4), F(7, 2))
SIX_K = GutterSection("6 in K-style", "trapezoid", F(6), F(4), F(17, 4))
BOX = GutterSection("5 in box", "trapezoid", F(5), F(5), F(5))
TWO_BY_THREE = PipeSection("2x3", False, F(3), F(2))
THREE_BY_FOUR = PipeSection("3x4", False, F(4), F(3))
THREE_ROUND = PipeSection("3 in round", True, F(3), F(3))


def strip(
    feet: int, roof_feet: int, rise: int | None = 6, gutter: GutterSection = K_STYLE, **more: Any
) -> Strip:
    return Strip(
        "front", F(feet * 12), F(roof_feet * 12), F(rise) if rise is not None else None, gutter, **more
    )


def share(
    *sides: Side, gutter: GutterSection = K_STYLE, pipe: PipeSection | None = TWO_BY_THREE, slope: F = LEVEL
) -> Share:
    return Share(sides, gutter, pipe, slope)


def check(one: Share, rate: str, method: str, offers: Offers | None = None, **rules: Any) -> Outcome:
    rain = Rainfall(F(rate) * F(254, 10), f"{rate} in/h", "as given")
    return judge(one, rain, method_named(method, RainRules(**rules)), offers or Offers(), 0.013)


RIGHT = Side("right", (strip(40, 15),))


@pytest.mark.parametrize(
    ("method", "factor", "gpm"),
    [
        ("EN 12056-3", 1.25, 600 * 1.25 * 6 / 96.25),
        ("IPC 2015", 1.0, 600 * 6 * 0.0104),
        ("IPC 2012", 1.0, 600 * 6 / 96.25),
        ("NSPC 2006", 1.0, 600 * 6 / 96.25),
        ("metal trade", 1.10, 600 * 1.10 * 6 / 96.25),
        ("AS/NZS 3500.3", 1.25, 600 * 1.25 * 6 / 96.25),
    ],
)
def test_each_method_counts_the_roof_and_the_flow_its_own_way(method: str, factor: float, gpm: float) -> None:
    outcome = check(share(RIGHT), "6", method)
    assert square_feet(outcome.area) == pytest.approx(600 * factor, rel=1e-9)
    assert gallons_per_minute(outcome.flow) == pytest.approx(gpm, rel=1e-9)


@pytest.mark.parametrize(
    ("wind", "factor"), [("none", 1.0), ("26 degrees", 1.25), ("square to the roof", 1.1180)]
)
def test_en_12056_3_counts_wind_as_the_shop_says(wind: str, factor: float) -> None:
    outcome = check(share(RIGHT), "6", "EN 12056-3", wind=wind)
    assert square_feet(outcome.area) == pytest.approx(600 * factor, rel=1e-4)


def test_a_gutter_side_carries_its_own_flow_and_the_pipe_both() -> None:
    left = Side("left", (strip(10, 15),))
    outcome = check(share(left, RIGHT), "6", "EN 12056-3")
    parts = {(one.part, one.side.toward if one.side else None): one.flow for one in outcome.judged}
    assert parts["gutter", "right"] == pytest.approx(4 * parts["gutter", "left"])
    assert parts["downpipe", None] == pytest.approx(parts["gutter", "left"] + parts["gutter", "right"])
    assert parts["downpipe", None] == parts["outlet", None] == outcome.flow


def test_en_12056_3_on_a_half_round_by_hand() -> None:
    """EN-09, EN-10: D 125 mm, 12 m, level: 1.100 l/s, 0.935 with an angle; 5.3.2, Table 8."""
    gutter = GutterSection("125 mm half round", "half round", F(1250, 254), F(0), F(625, 254))
    straight = Strip("front", F(120000, 254), F(1), F(0), gutter)
    half = straight.cut(F(60000, 254))
    bent = Strip("side", F(60000, 254), F(1), F(0), gutter, after_bend=True)
    pipe = PipeSection("75 mm round", True, F(750, 254), F(750, 254))
    for strips, flow in (((straight,), 1.100), ((half, bent), 0.935)):
        outcome = check(share(Side("left", strips), gutter=gutter, pipe=pipe), "6", "EN 12056-3")
        capacity = {one.part: one.capacity for one in outcome.judged}
        assert capacity["gutter"].flow == pytest.approx(flow, rel=2e-3)
        assert capacity["downpipe"].flow == pytest.approx(5.0, abs=0.05)
        # half the hole's area is a 53.0 mm pipe: 2.5e-4 k_b^-0.167 53.03^2.667 0.33^1.667 = 1.975
        assert capacity["outlet"].flow == pytest.approx(1.974, abs=0.002)
        assert capacity["gutter"].clause.startswith("5.1.2, 5.1.6, Table 6")
        assert ("5.1.8" in capacity["gutter"].clause) == (len(strips) == 2)


def test_en_12056_3_outlet_in_a_flat_sole_and_a_strainer() -> None:
    outcome = check(share(Side("left", (strip(1, 1, gutter=BOX),)), gutter=BOX), "6", "EN 12056-3")
    hole = next(one.capacity for one in outcome.judged if one.part == "outlet")
    # h = 0.4701 x 127 = 59.7 mm, over 2 A/L = 30.48: A h^0.5 / 12000
    assert hole.flow == pytest.approx(50.8 * 76.2 * 59.7027**0.5 / 12000, rel=1e-4)
    strained = check(
        share(Side("left", (strip(1, 1, gutter=BOX),)), gutter=BOX), "6", "EN 12056-3", strainers=True
    )
    assert next(one.capacity.flow for one in strained.judged if one.part == "outlet") == pytest.approx(
        hole.flow / 2
    )


def test_code_rows_are_those_the_section_contains() -> None:
    slope = F(1, 96)
    for gutter, method, gpm in (
        (half_round(5), "IPC 2015", 74.0),
        (half_round(6), "IPC 2015", 110.0),
        (half_round(5), "IPC 2012", 3520 / 96.25),
        (K_STYLE, "IPC 2012", 2040 / 96.25),  # the largest half round in it is 4.85 in: the 4 in row
        (SIX_K, "IPC 2015", 74.0),
    ):
        outcome = check(
            share(Side("left", (strip(10, 10, gutter=gutter),)), gutter=gutter, slope=slope), "3", method
        )
        flow = outcome.judged[0].capacity.flow
        assert flow is not None
        assert gallons_per_minute(flow) == pytest.approx(gpm, rel=1e-9)
    for pipe, method, gpm in (
        (TWO_BY_THREE, "IPC 2015", 30.0),
        (THREE_BY_FOUR, "IPC 2015", 92.0),
        (THREE_ROUND, "IPC 2015", 92.0),
        (TWO_BY_THREE, "NSPC 2006", 2180 / 96.25),
        (THREE_ROUND, "IPC 2012", 8800 / 96.25),
    ):
        outcome = check(share(RIGHT, pipe=pipe), "3", method)
        flow = outcome.judged[-1].capacity.flow
        assert flow is not None
        assert gallons_per_minute(flow) == pytest.approx(gpm, rel=1e-9)


def test_a_gutter_flatter_than_its_table_has_no_capacity_but_the_fall_that_would_do() -> None:
    outcome = check(
        share(Side("left", (strip(20, 15, gutter=half_round(5)),)), gutter=half_round(5)), "3", "IPC 2012"
    )
    gutter = outcome.judged[0]
    assert gutter.full is None
    assert "under 1/16 in to the foot" in gutter.capacity.why
    mend = next(one for one in outcome.mends if one.kind == "more fall")
    assert mend.what == "1/16 in to the foot"
    assert mend.full == pytest.approx(300 * 3 / 2500)


def test_methods_without_tables_at_hand_give_the_flow_and_no_capacity() -> None:
    outcome = check(share(RIGHT), "6", "AS/NZS 3500.3")
    assert outcome.flow > 0
    assert [one.full for one in outcome.judged] == [None, None]
    assert all("not at hand" in one.capacity.why for one in outcome.judged)
    assert not outcome.mends
    nspc = check(share(RIGHT), "3", "NSPC 2006")
    assert [one.full is None for one in nspc.judged] == [True, False]


def test_the_metal_trades_downspout_by_hand() -> None:
    """1,000 ft² x 1.10 (6 in 12) at 6.8 in/h asks for 1,100 / (1200 / 6.8) = 6.23 in² of leader."""
    one = Side("left", (strip(50, 20),))
    outcome = check(share(one), "6.8", "metal trade")
    pipe = outcome.judged[-1]
    assert pipe.full == pytest.approx(6.2333 / 6, rel=1e-4)


def test_a_roof_too_steep_for_the_method_is_told_and_not_worked_out() -> None:
    outcome = check(share(Side("left", (strip(10, 10, rise=14),))), "6", "metal trade")
    assert outcome.lacks is not None
    assert "12 in 12, where Table 1-1 ends" in outcome.lacks
    assert not outcome.judged


def test_a_gutter_too_long_for_table_6_gets_no_capacity() -> None:
    low = GutterSection("low box", "trapezoid", F(5), F(5), F(1))
    outcome = check(share(Side("left", (strip(45, 1, gutter=low),)), gutter=low), "6", "EN 12056-3")
    assert outcome.judged[0].full is None
    assert "Table 6 goes from 50 to 500" in outcome.judged[0].capacity.why


def test_the_worst_gutter_of_a_side_decides() -> None:
    mixed = Side("left", (strip(10, 15, gutter=SIX_K), strip(10, 15)))
    alone = Side("left", (strip(20, 15),))
    flows = [check(share(one), "6", "EN 12056-3").judged[0] for one in (mixed, alone)]
    assert flows[0].of == "5 in K-style"
    assert flows[0].capacity.flow == pytest.approx(flows[1].capacity.flow)


OFFERS = Offers((K_STYLE, SIX_K), (TWO_BY_THREE, THREE_BY_FOUR))


def test_what_would_mend_it_is_worked_by_the_same_method() -> None:
    long = Side("left", (strip(50, 20),))
    outcome = check(share(long), "8", "EN 12056-3", OFFERS)
    gutter = outcome.judged[0]
    assert gutter.full is not None
    assert gutter.full > 1
    mends = {(one.part, one.kind): one for one in outcome.mends}
    bigger = mends["gutter", "bigger gutter"]
    again = check(share(Side("left", (strip(50, 20, gutter=SIX_K),)), gutter=SIX_K), "8", "EN 12056-3")
    if bigger.what == SIX_K.name:
        assert bigger.full == pytest.approx(again.judged[0].full)
    else:
        assert again.judged[0].full is not None
        assert again.judged[0].full > 1
        assert "across, in the same proportions" in bigger.what
    half = check(share(Side("left", (strip(25, 20),))), "8", "EN 12056-3")
    assert mends["gutter", "one more outlet"].full == pytest.approx(half.judged[0].full)
    assert mends["downpipe", "one more outlet"].full == pytest.approx(half.judged[-1].full)
    assert "on its wide side" in mends["downpipe", "bigger pipe"].what
    less = check(share(long), "4", "EN 12056-3", OFFERS)
    pipe = next(one for one in less.mends if one.part == "downpipe" and one.kind == "bigger pipe")
    with_it = check(share(long, pipe=THREE_BY_FOUR), "4", "EN 12056-3")
    assert pipe.what == "3x4"
    assert pipe.full == pytest.approx(max(one.full or 9 for one in with_it.judged[1:]))
    assert pipe.full <= 1


def test_the_enlarged_shape_really_would_do() -> None:
    long = Side("left", (strip(60, 30),))
    outcome = check(share(long), "8", "EN 12056-3", Offers((K_STYLE,), ()))
    mend = next(one for one in outcome.mends if one.kind == "bigger gutter")
    wide = F(mend.what.split(" in ")[0])
    scaled = K_STYLE.scaled(wide / 5)
    again = check(share(Side("left", (strip(60, 30, gutter=scaled),)), gutter=scaled), "8", "EN 12056-3")
    assert again.judged[0].full is not None
    assert again.judged[0].full <= 1


def test_half_of_a_side_is_the_half_next_to_the_outlet() -> None:
    side = Side("left", (strip(10, 5), strip(30, 20, after_bend=True), strip(20, 1, after_bend=True)))
    half = side.near_half()
    assert half.length == side.length / 2
    assert [(one.length, one.roof_run) for one in half.strips] == [(120, 60), (240, 240)]
    assert half.bends == 1


def test_nothing_over_full_reads_a_hundred() -> None:
    assert [percent(full) for full in (0.0, 0.994, 1.0, 1.0000001)] == [0, 100, 100, 101]


def test_more_rain_never_fills_less_and_a_bigger_gutter_never_more() -> None:
    for method in ("EN 12056-3", "metal trade"):
        fulls = [check(share(RIGHT), rate, method).judged[0].full or 0 for rate in ("2", "4", "8")]
        assert fulls == sorted(fulls)
        six = Side("right", (strip(40, 15, gutter=SIX_K),))
        assert (check(share(six, gutter=SIX_K), "4", method).judged[0].full or 9) < fulls[1]

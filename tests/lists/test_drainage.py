"""The drainage check of whole jobs: whose water, what is missing or in doubt, and the arithmetic by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gutterance.drainage.asked import RainAsked
from gutterance.drainage.errors import RainError
from gutterance.drainage.methods import method_names
from gutterance.drainage.units import gallons_per_minute, square_feet
from gutterance.layout import lay_out
from gutterance.lists import Lists, explanations, make_lists
from gutterance.lists.drainage import FINDING_CODES, drain
from gutterance.measure.length import Length
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from gutterance.lists.drainage_models import DrainedOutlet
    from gutterance.sheet.models import Sheet

SHOP = load_shop()
TRADE = RainAsked("metal trade", "6 in/h")


def shop_with(**rain: Any) -> Any:
    return SHOP.model_copy(update={"rain": SHOP.rain.model_copy(update=rain)})


def roofed(house: Sheet, run_in: str = "180 in", pitch: str = "6/12") -> Sheet:
    data = house.model_dump(mode="json", by_alias=True, exclude_none=True)
    for one in data["runs"]:
        one.setdefault("roof_run", reading(run_in))
        one.setdefault("roof_pitch", reading(pitch))
    return type(house).model_validate(data)


def drained(house: Sheet, asked: RainAsked | None = TRADE, shop: Any = SHOP) -> dict[str, DrainedOutlet]:
    return {one.id: one for one in make_lists(house, [], shop, asked).drainage.outlets}


def runs_of(one: DrainedOutlet) -> list[tuple[str, str, str]]:
    return [(strip.toward, strip.run, strip.length.tape_text()) for strip in one.strips]


ONE_EAVE = roofed(
    sheet([run("eave", "480 in")], [outlet("eave-1", "eave", "right", "120 in")], [pipe("eave-1")])
)


def test_an_eave_worked_by_hand() -> None:
    """40 ft with an outlet 30 ft from its left end, roof run 15 ft, 6 in 12, 6 in/h.

    Left 30 x 15 x 1.10 = 495 ft², right 165 ft²: 660 ft² x 6 / 96.25 = 41.14 gpm. Leader 6 in² at
    1200/6 = 200 ft² to the square inch drains 1,200 ft²: 55 % full.
    """
    one = drained(ONE_EAVE)["eave-1"]
    assert runs_of(one) == [("left", "eave", "30' 0\""), ("right", "eave", "10' 0\"")]
    assert one.area_m2 is not None
    assert one.flow_l_s is not None
    assert square_feet(one.area_m2) == pytest.approx(660, abs=0.01)
    assert gallons_per_minute(one.flow_l_s) == pytest.approx(41.143, abs=0.001)
    assert [(check.part, check.toward) for check in one.checks] == [
        ("gutter", "left"), ("gutter", "right"), ("downpipe", None)]  # fmt: skip
    assert one.checks[-1].full_percent == 55
    # Beij, W 5, M 0.5775, L 30: W = 12 x 0.0106 x M^(-4/7) x 30^(3/28) x IA^(5/14)
    area = (5 / (12 * 0.0106 * 0.5775 ** (-4 / 7) * 30 ** (3 / 28))) ** 2.8
    capacity = one.checks[0].capacity_l_s
    assert capacity is not None
    assert gallons_per_minute(capacity) == pytest.approx(area / 96.25, rel=1e-4)
    assert one.enough is True


def test_the_high_point_of_the_layout_parts_the_water() -> None:
    house = roofed(
        sheet(
            [run("eave", "720 in")],
            [outlet("a", "eave", "left", "60 in"), outlet("b", "eave", "right", "120 in")],
        )
    )
    found = drained(house)
    assert runs_of(found["a"]) == [("left", "eave", "5' 0\""), ("right", "eave", "22' 6\"")]
    assert runs_of(found["b"]) == [("left", "eave", "22' 6\""), ("right", "eave", "10' 0\"")]
    assert not any(one.rests_on for one in found.values())


def test_a_high_point_on_a_corner_parts_the_water_there() -> None:
    house = roofed(
        sheet(
            [run("a", "240 in", "cap out", next_run="b"), run("b", "240 in", "out cap")],
            [outlet("a-1", "a", "left", "60 in"), outlet("b-1", "b", "right", "60 in")],
        )
    )
    found = drained(house)
    assert [strip.run for strip in found["a-1"].strips] == ["a", "a"]
    assert [strip.run for strip in found["b-1"].strips] == ["b", "b"]
    assert not found["a-1"].rests_on


def test_without_a_high_point_the_water_parts_half_way_and_the_paper_says_so() -> None:
    house = roofed(
        sheet(
            [run("eave", "720 in")],
            [outlet("a", "eave", "left", "60 in"), outlet("b", "eave", "right", "120 in")],
        )
    )
    layout = lay_out(house, [], SHOP)
    layout.falls = []
    found = {one.id: one for one in drain(house, layout, SHOP, TRADE).outlets}
    assert runs_of(found["a"])[1] == ("right", "eave", "22' 6\"")
    assert found["a"].rests_on == ["the high point is not known: the water is taken to part half way"]


def test_round_a_loop_every_foot_of_gutter_drains_to_one_outlet() -> None:
    house = roofed(four_sides())
    found = drained(house)
    total = sum(strip.length.inches for one in found.values() for strip in one.strips)
    assert total == 2 * 510 + 2 * Fraction(627, 2)
    assert [strip.run for strip in found["front-1"].strips] == ["front", "left-side", "front"]


def test_one_outlet_of_a_loop_takes_it_all() -> None:
    corners = [run(name, "240 in", "out out") for name in ("front", "right side", "back", "left side")]
    found = drained(roofed(sheet(corners, [outlet("only", "front", "centre")])))["only"]
    assert sum(strip.length.inches for strip in found.strips) == 960
    left, right = (
        sum(s.length.inches for s in found.strips if s.toward == toward) for toward in ("left", "right")
    )
    assert left == right == 480


def test_angles_on_the_way_count_by_en_12056_3() -> None:
    house = roofed(
        sheet(
            [run("a", "240 in", "cap out", next_run="b"), run("b", "240 in", "out cap")],
            [outlet("b-1", "b", "right", "60 in")],
        )
    )
    bent = drained(house, RainAsked("EN 12056-3", "3 in/h"))["b-1"].checks[0]
    assert "5.1.8" in bent.clause
    data = house.model_dump(mode="json", by_alias=True, exclude_none=True)
    for one, side in zip(data["runs"], ("right", "left"), strict=True):
        one[f"{side}_angle"] = reading(8)
    slight = drained(type(house).model_validate(data), RainAsked("EN 12056-3", "3 in/h"))["b-1"].checks[0]
    assert "5.1.8" not in slight.clause
    assert slight.capacity_l_s is not None
    assert bent.capacity_l_s == pytest.approx(0.85 * slight.capacity_l_s, rel=1e-4)


def test_no_rainfall_says_what_is_missing_and_nothing_else() -> None:
    for asked in (None, RainAsked("IPC 2015")):
        drainage = make_lists(ONE_EAVE, [], SHOP, asked).drainage
        assert drainage.missing[0].startswith("rainfall: ")
        assert drainage.outlets == []
        assert drainage.rainfall is None
    assert "60-minute, 100-year" in drainage.missing[0]


def test_no_method_is_chosen_for_the_user() -> None:
    drainage = make_lists(ONE_EAVE, [], SHOP, RainAsked(rainfall="6 in/h")).drainage
    assert [one.split(":")[0] for one in drainage.missing] == ["a method"]
    assert all(name in drainage.missing[0] for name in method_names())
    assert drainage.outlets == []


def test_rainfall_now_goes_before_the_sheets_and_that_before_the_shops() -> None:
    said = roofed(
        sheet([run("eave", "480 in")], [outlet("eave-1", "eave")], defaults={"rainfall": reading("5 in/h")})
    )
    shop = shop_with(method="metal trade", rainfall="4 in/h")
    for house, asked, rate, by in (
        (said, TRADE, 152.4, "as given"),
        (said, None, 127.0, "from the sheet"),
        (ONE_EAVE, None, 101.6, "from the shop file"),
    ):
        drainage = make_lists(house, [], shop, asked).drainage
        assert (drainage.rainfall_mm_h, drainage.rainfall_by) == (rate, by)
        passed_over = [one for one in drainage.says if "the sheet says 5 in/h: not used" in one]
        assert bool(passed_over) == (house is said and asked is TRADE)


def test_a_doubtful_rainfall_is_told_of() -> None:
    house = roofed(
        sheet(
            [run("eave", "480 in")],
            [outlet("eave-1", "eave")],
            defaults={"rainfall": reading("5 in/h", "doubtful", why="heard twice")},
        )
    )
    drainage = make_lists(house, [], SHOP, RainAsked("metal trade")).drainage
    assert "rests on the rainfall, and it is in doubt on the sheet: heard twice" in drainage.says[0]


@pytest.mark.parametrize("words", ["plenty", "0 in/h", "5000 in/h", "5 in/h, 60 min"])
def test_rainfall_of_the_sheet_that_cannot_be_used_is_missing_and_raises_nothing(words: str) -> None:
    house = roofed(
        sheet([run("eave", "480 in")], [outlet("a", "eave")], defaults={"rainfall": reading(words)})
    )
    drainage = make_lists(house, [], SHOP, RainAsked("metal trade")).drainage
    assert drainage.missing[0].startswith("a rainfall that can be used: the sheet's")
    assert drainage.outlets == []


def test_rainfall_given_now_that_cannot_be_used_is_an_error() -> None:
    with pytest.raises(RainError, match="too much"):
        make_lists(ONE_EAVE, [], SHOP, RainAsked("metal trade", "600 in/h"))


def test_rain_without_its_storm_is_asked_about() -> None:
    drainage = make_lists(ONE_EAVE, [], SHOP, TRADE).drainage
    assert "make sure that 6 in/h is 5-minute, 10-year or 100-year rain" in drainage.says[0]
    told = make_lists(ONE_EAVE, [], SHOP, RainAsked("metal trade", "6 in/h, 5 min, 10 yr")).drainage
    assert told.says == []


def test_a_missing_roof_run_is_told_and_nothing_is_guessed() -> None:
    house = sheet([run("eave", "480 in")], [outlet("eave-1", "eave")])
    one = drained(house)["eave-1"]
    assert one.missing == ["the roof run (eave to ridge, on plan) of eave", "the roof pitch of eave"]
    assert (one.area_m2, one.flow_l_s, one.enough, one.checks) == (None, None, None, [])
    plain = drained(house, RainAsked("IPC 2015", "3 in/h"))["eave-1"]
    assert plain.missing == ["the roof run (eave to ridge, on plan) of eave"]


def test_a_roof_run_of_the_shop_or_of_this_check_is_told_to_be_one() -> None:
    house = sheet([run("eave", "480 in")], [outlet("eave-1", "eave")])
    by_shop = drained(house, RainAsked("IPC 2015", "3 in/h"), shop_with(roof_run=Length(Fraction(168))))[
        "eave-1"
    ]
    assert by_shop.rests_on == ["roof run 14' 0\" not said, shop rule: eave"]
    asked = RainAsked("metal trade", "6 in/h", roof_run=Length(Fraction(180)), roof_pitch="6/12")
    now = drained(house, asked)["eave-1"]
    assert sorted(now.rests_on) == [
        "roof pitch 6/12 not said, given for this check: eave",
        "roof run 15' 0\" not said, given for this check: eave",
    ]
    assert now.enough is not None


@pytest.mark.parametrize("value", ["-3 in", "7000 in"])
def test_a_roof_run_that_cannot_be_right_is_not_worked_with(value: str) -> None:
    house = roofed(sheet([run("eave", "480 in", roof_run=reading(value))], [outlet("a", "eave")]))
    assert drained(house)["a"].missing == ["a roof run that can be right of eave"]


def test_a_run_with_no_roof_behind_it_is_said_to_have_none() -> None:
    house = roofed(sheet([run("eave", "480 in", roof_run=reading("0 in"))], [outlet("a", "eave")]))
    one = drained(house)["a"]
    assert one.flow_l_s == 0
    assert any("no roof drains to eave" in says for says in one.says)


def test_what_is_in_doubt_is_told_beside_what_rests_on_it() -> None:
    house = roofed(
        sheet(
            [run("eave", "480 in", roof_run=reading("180 in", "doubtful", why="said twice"))],
            [outlet("eave-1", "eave")],
        )
    )
    one = drained(house)["eave-1"]
    assert "the roof run of eave is in doubt: said twice" in one.rests_on
    assert one.flow_l_s is not None


def test_only_what_lies_beyond_an_unknown_length_is_missing() -> None:
    house = roofed(
        sheet(
            [run("a", "480 in", "cap out", next_run="b"), run("b", None, "out cap")],
            [outlet("a-1", "a", "left", "120 in"), outlet("a-2", "a", "right", "60 in")],
        )
    )
    found = drained(house)
    assert found["a-1"].flow_l_s is not None
    assert found["a-2"].missing == ["the length of b"]


def test_an_outlet_without_a_place_leaves_its_run_open() -> None:
    house = roofed(sheet([run("eave", "480 in")], [outlet("a", "eave", None), outlet("b", "eave", "right")]))
    found = drained(house)
    assert found["a"].missing[0] == "the place of outlet a"
    assert "the place of outlet a" in found["b"].missing


def test_a_valley_and_a_lower_roof_are_told_of_and_not_counted() -> None:
    house = roofed(
        sheet(
            [run("a", "240 in", "cap in", next_run="b"), run("b", "240 in", "in cap")],
            [outlet("b-1", "b", "right", "60 in")],
            [pipe("b-1", ends_at="lower roof")],
        )
    )
    says = drained(house)["b-1"].says
    # 15 ft x 15 ft / 2 = 112.5 ft²
    assert sum("112 ft² of plan more" in one for one in says) == 2
    assert any("ends at a lower roof: add this water" in one for one in says)


def test_a_valley_that_would_make_a_part_too_full_leaves_the_verdict_open() -> None:
    house = roofed(
        sheet(
            [run("a", "240 in", "cap in", next_run="b"), run("b", "240 in", "in cap")],
            [outlet("b-1", "b", "right", "60 in")],
            defaults={"gutter_size": reading("6 in")},
        )
    )
    # 40 ft x 15 ft x 1.10 = 660 ft² against 6 in² x 1200/I: 100 % at 10.9 in/h; the two valleys add 37.5 %
    for rate, enough in (("7 in/h", True), ("9 in/h", None), ("11 in/h", False)):
        one = drained(house, RainAsked("metal trade", rate))["b-1"]
        pipe_check = one.checks[-1]
        assert pipe_check.full_percent is not None
        assert (pipe_check.full_percent <= 100) == (rate != "11 in/h")
        told = any("all a valley may bring the downpipe would be" in says for says in one.says)
        assert told == (rate == "9 in/h")
        assert one.enough is enough


def test_a_gutter_or_pipe_the_shop_does_not_have_is_missing() -> None:
    house = roofed(
        sheet(
            [run("eave", "480 in", gutter_size=reading("7 in"))], [outlet("a", "eave", size=reading("9x9"))]
        )
    )
    missing = " ".join(drained(house)["a"].missing)
    assert "the shape of the gutter of eave" in missing
    assert "none called 9x9" in missing


def test_too_much_rain_is_a_finding_with_its_mend_and_holds_no_piece() -> None:
    house = roofed(
        sheet([run("eave", "960 in")], [outlet("eave-1", "eave", "left")], [pipe("eave-1")]), "360 in"
    )
    lists = make_lists(house, [], SHOP, TRADE)
    codes = {one.code for one in lists.findings}
    assert {"gutter-overfull", "downpipe-overfull"} <= codes
    assert codes & set(FINDING_CODES) == codes - {"fall-too-great"}
    gutter = next(one for one in lists.findings if one.code == "gutter-overfull")
    assert gutter.about == "outlets.eave-1"
    assert "by metal trade at 6 in/h. Would mend it: " in gutter.says
    assert not lists.on_hold
    assert lists.drainage.outlets[0].enough is False


def test_every_capacity_names_method_and_clause() -> None:
    for name in method_names():
        asked = RainAsked(name, "3 in/h")
        for one in make_lists(ONE_EAVE, [], SHOP, asked).drainage.outlets:
            assert all(check.method == name and check.clause for check in one.checks)
            assert one.checks


def test_each_figure_can_be_traced() -> None:
    lists = make_lists(ONE_EAVE, [], SHOP, TRADE)
    found = {one.path: one for one in explanations(lists) if one.path.startswith("drainage.")}
    assert list(found) == [
        "drainage.rainfall", "drainage.eave-1.area", "drainage.eave-1.flow", "drainage.eave-1.gutter.left",
        "drainage.eave-1.gutter.right", "drainage.eave-1.downpipe"]  # fmt: skip
    assert found["drainage.eave-1.flow"].shown == "41.1 gpm"
    assert "runs.eave.roof_run" in found["drainage.eave-1.area"].sheet
    assert any("1200/I" in says for says in found["drainage.eave-1.downpipe"].says)


@settings(max_examples=120, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet(), st.sampled_from(method_names()), st.sampled_from(["2 in/h", "300 mm/h"]))
def test_no_sheet_makes_the_check_fail_and_each_foot_drains_once_at_most(
    house: Sheet, method: str, rate: str
) -> None:
    lists = make_lists(roofed(house), [], SHOP, RainAsked(method, rate))
    assert Lists.model_validate_json(lists.model_dump_json()) == lists
    lengths = [one.length.value if one.length is not None else None for one in house.runs]
    if None not in lengths:
        total = sum(strip.length.inches for one in lists.drainage.outlets for strip in one.strips)
        assert total <= sum(length.inches for length in lengths if length is not None and length.inches > 0)
    ids = {one.id for one in house.runs}
    assert sorted(one.id for one in lists.drainage.outlets) == sorted(
        one.id for one in house.outlets if one.run in ids
    )
    for one in lists.drainage.outlets:
        assert one.missing or one.says or one.checks
        assert one.enough is None or not one.missing

"""Downpipes: cuts, straps, and what is said where a pipe cannot be made."""

from __future__ import annotations

import itertools
import math
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from houses import outlet, pipe, reading, run, sheet
from hypothesis import given
from hypothesis import strategies as st

from gutterance.layout import lay_out
from gutterance.layout.pipe_lengths import strap_places
from gutterance.shop import Shop, load_shop

if TYPE_CHECKING:
    from gutterance.layout.values import LaidPipe

SHOP = load_shop()


def laid(shop: Shop = SHOP, **more: object) -> LaidPipe:
    house = sheet([run("eave", "240 in")], [outlet("eave-1", "eave")], [pipe("eave-1", **more)])  # type: ignore[arg-type]
    return lay_out(house, [], shop).pipes[0]


def test_field_rule_on_the_usual_pipe() -> None:
    # wall to fascia 24: gooseneck 24 - 4, drop 12 (common practice, no source); 112 - 12 - 6 for the ending
    one = laid()
    assert (one.rule, one.gooseneck, one.drop, one.wall_pipe) == ("field rule", 20, 12, 94)
    assert ("elbow 2x3, front (A)", 3) in one.parts
    assert not one.rules_differ
    assert not one.hold


def test_where_the_rules_differ_it_is_said() -> None:
    one = laid(reach="12 in")
    assert one.rules_differ
    assert any("try the elbows" in words for words in one.says)


def test_the_shop_may_cut_by_geometry() -> None:
    shop = SHOP.model_copy(update={"downpipes": SHOP.downpipes.model_copy(update={"rule": "elbow geometry"})})
    one = laid(shop, reach="12 in")
    assert one.rule == "elbow geometry"
    assert one.other_gooseneck == 8
    assert float(one.gooseneck or 0) == pytest.approx(7.58, abs=0.01)


def test_two_elbows_pushed_together_where_that_is_the_throw() -> None:
    # by hand: (2 x 3 59/64 - 1 1/2) sin 75 = 6.129 in, so a wall to fascia of 6 in is within half an inch
    one = laid(reach="6 in", ends_at="drain")
    assert (one.rule, one.gooseneck) == ("elbow to elbow", None)
    assert float(one.drop or 0) == pytest.approx(2 * 2.78125 + 6.129 / math.tan(math.radians(75)), abs=1e-3)
    assert one.wall_pipe == 112 - (one.drop or 0)
    assert not one.hold
    assert laid(reach="7 in").gooseneck == 3
    assert laid(reach="6 3/4 in").hold


def test_nearer_the_wall_than_two_elbows_throw_their_legs_are_cut_shorter() -> None:
    # by hand: 4 / sin 75 = 4.1411; (4.1411 + 1 1/2) / 2 = 2.8205, so 3.9219 - 2.8205 = 1.1014 in off each leg
    one = laid(reach="4 in", ends_at="drain")
    assert (one.rule, one.gooseneck) == ("elbows trimmed", None)
    assert float(one.trim or 0) == pytest.approx(1.1014, abs=1e-3)
    assert float(one.drop or 0) == pytest.approx(2 * 2.78125 + 4 / math.tan(math.radians(75)), abs=1e-3)
    assert not one.hold
    assert any("cut" in words for words in one.says)


def test_an_offset_whose_height_nobody_said_is_cut_on_site_and_told_of() -> None:
    # by hand, 10 in over: 10 / sin 75 - 4.84375 = 5.5090 in of pipe; 5.5625 + 10 cot 75 = 8.2420 in of height
    house = sheet(
        [run("eave", "240 in")], [outlet("eave-1", "eave")], [pipe("eave-1", offsets=[reading("10 in")])]
    )
    layout = lay_out(house, [], SHOP)
    (one,) = layout.pipes
    assert not one.hold
    (bend,) = one.bends
    assert float(bend.cuts[0]) == pytest.approx(5.5090, abs=1e-3)
    assert float(bend.drop) == pytest.approx(8.2420, abs=1e-3)
    assert one.wall_pipe == 112 - 12 - 6 - bend.drop
    assert ("elbow 2x3, front (A)", 5) in one.parts
    assert not one.straps
    assert [found.code for found in layout.findings] == ["offset-height-not-said"]
    assert layout.findings[0].kind == "assumption"
    assert any("taken to step out over a ledge" in words for words in one.says)


def test_an_offset_at_a_known_height_parts_the_wall_pipe_above_and_below_it() -> None:
    one = laid(offsets=[reading("10 in")], offset_heights=[reading("36 in")])
    # below it 36 in less the 6 in that the splash block takes
    assert one.wall_cuts[-1] == 30
    assert sum(one.wall_cuts) == one.wall_pipe
    assert len(one.straps) == dict(one.parts)["pipe strap"]
    bend = one.bends[0]
    assert all(not 30 < strap < 30 + bend.drop for strap in one.straps)


@pytest.mark.parametrize(
    ("note", "way", "elbows"),
    [
        ('4" offset @ brick ledge', "out", {"front (A)": 5}),
        ("round the band course 10 inches", "out and back", {"front (A)": 7}),
        ("goes sideways 10 inches past the meter", "sideways", {"front (A)": 3, "side (B)": 2}),
    ],
)
def test_the_note_says_which_way_an_offset_goes(note: str, way: str, elbows: dict[str, int]) -> None:
    source = {"line": 1, "start": 0, "end": 3, "text": note[:3]}
    house = sheet(
        [run("eave", "240 in")],
        [outlet("eave-1", "eave")],
        [pipe("eave-1", height="160 in", offsets=[reading("10 in", source=[source])])],
        note=[note],
    )
    (one,) = lay_out(house, [], SHOP).pipes
    assert one.bends[0].way == way
    assert not any("taken to step out" in words for words in one.says)
    parts = dict(one.parts)
    for kind, count in elbows.items():
        assert parts[f"elbow 2x3, {kind}"] == count
    if way == "out and back":
        first, straight, last = one.bends[0].cuts
        assert (first, straight) == (last, SHOP.downpipes.band_height.inches)


def test_round_elbows_turn_any_way() -> None:
    one = laid(size=reading("3 in round"), offsets=[reading("10 in")], offset_ways=[reading("sideways")])
    assert dict(one.parts)["elbow 3 in round"] == 5


def test_two_outlets_share_a_pipe_by_an_arm_and_a_branch() -> None:
    house = sheet(
        [run("eave", "240 in")],
        [outlet("eave-1", "eave"), outlet("eave-2", "eave", "left", "54 in")],
        [pipe("eave-1", also_takes=["eave-2"])],
    )
    (one,) = lay_out(house, [], SHOP).pipes
    assert not one.hold
    (arm,) = one.bends
    # 48 in along: 48 / sin 75 - 4.84375 = 44.8494 in of pipe, 5.5625 + 48 cot 75 = 18.4241 in of height
    assert float(arm.cuts[0]) == pytest.approx(44.8494, abs=1e-3)
    assert float(arm.drop) == pytest.approx(18.4241, abs=1e-3)
    assert one.wall_pipe == 112 - 12 - 6 - SHOP.downpipes.branch_take.inches
    assert one.wall_cuts[0] == arm.drop
    assert dict(one.parts) == {
        "elbow 2x3, front (A)": 5,
        "elbow 2x3, side (B)": 1,
        "Y branch": 1,
        "splash block": 1,
        "pipe strap": len(one.straps),
    }


@pytest.mark.parametrize(
    ("ends_at", "take", "elbows", "extra"),
    [
        # take-offs are shapes of our own, no source: what is tested is that each ending takes its own
        ("splash block", 6, 3, "splash block"),
        ("ground", 6, 3, None),
        ("drain", 0, 2, "drain adaptor"),
        ("drain box", 0, 2, None),
        ("barrel", 0, 2, None),
        ("lower roof", 6, 3, "spreader"),
        ("lower gutter", 2, 2, None),
    ],
)
def test_each_ending_takes_its_own_off_the_height(
    ends_at: str, take: int, elbows: int, extra: str | None
) -> None:
    one = laid(ends_at=ends_at)
    assert one.wall_pipe == 112 - 12 - take
    parts = dict(one.parts)
    assert parts["elbow 2x3, front (A)"] == elbows
    assert extra is None or parts[extra] == 1
    if ends_at.startswith("lower"):
        assert any("this" in words and "water" in words for words in one.says)


def test_joints_count_every_part_into_the_next() -> None:
    # outlet into elbow, elbow into gooseneck, into elbow, into wall pipe, into the turned-out elbow
    assert laid().joints == 5


def test_no_distance_to_go_back_means_straight_down() -> None:
    one = laid(reach="0 in", ends_at="drain")
    assert (one.rule, one.gooseneck, one.wall_pipe) == ("straight", None, 112)
    assert not any(what.startswith("elbow") for what, _ in one.parts)


@pytest.mark.parametrize(
    ("more", "about"),
    [
        ({"reach": None}, "wall_to_fascia"),
        ({"height": None}, "height"),
        ({"reach": "1 in"}, "wall_to_fascia"),
        ({"height": "15 in"}, "height"),
        ({"height": "-4 in"}, "height"),
        ({"height": "0 in"}, "height"),
        ({"height": "9000 in"}, "height"),
        ({"reach": "900 in"}, "wall_to_fascia"),
        ({"size": reading("7x9")}, "size"),
        ({"size": reading("3x4", "doubtful")}, "size"),
        ({"offsets": [reading("7 in")]}, "offsets.1"),
        ({"offsets": [reading("-2 in")]}, "offsets.1"),
        ({"offsets": [reading("4 in", "doubtful")]}, "offsets.1"),
        ({"offsets": [reading("4 in")], "offset_heights": [reading("2 in")]}, "offset_heights.1"),
        ({"also_takes": ["attic-9"]}, "also_takes"),
        ({"outlet": "attic-1"}, "outlet"),
        ({"outlet": None}, "outlet"),
    ],
)
def test_what_cannot_be_made_is_held_and_asked_about(more: dict[str, object], about: str) -> None:
    one = laid(**more)
    assert f"downpipes.eave-1.{about}" in [hold.about for hold in one.hold]


def test_a_height_too_small_for_its_elbows_gives_no_wall_pipe() -> None:
    one = laid(height="15 in")
    assert one.wall_pipe is None
    assert "too small for its elbows" in one.hold[0].says
    # 12 of elbows and gooseneck, 6 of ending, 3 of the shortest cut
    assert "1' 9\"" in one.hold[0].says


def test_an_ending_not_said_is_the_shops_and_said_to_be() -> None:
    one = laid(ends_at=None)
    assert one.ends_at == "splash block"
    assert any("not said" in words for words in one.says)
    assert not one.hold


def test_a_long_wall_pipe_is_cut_in_lengths_that_add_up() -> None:
    one = laid(height="400 in")
    assert len(one.wall_cuts) > 1
    laps = SHOP.downpipes.joint_lap.inches * (len(one.wall_cuts) - 1)
    assert sum(one.wall_cuts) - laps == one.wall_pipe
    assert max(one.wall_cuts) <= SHOP.downpipes.stock.inches


def test_a_strap_stands_at_each_joint() -> None:
    # 132 in in two: 120 above, 13 1/2 below with the 1 1/2 lap, whose middle is 12 3/4 up
    one = laid(height="150 in")
    assert one.wall_cuts == [120, Fraction(27, 2)]
    assert Fraction(51, 4) in one.straps


def test_a_joint_beside_the_bottom_strap_has_that_one() -> None:
    # 12 ft to the ground at w/f 12: a 126 in wall pipe, 120 + 7 1/2, the joint's middle 6 3/4 up
    one = laid(reach="12 in", height="144 in", ends_at="ground")
    assert one.wall_cuts == [120, Fraction(15, 2)]
    assert one.straps == [Fraction(27, 4), Fraction(507, 8), 120]
    assert dict(one.parts)["pipe strap"] == 3


@given(st.integers(3, 1200), st.integers(0, 3))
def test_straps_never_wider_than_allowed_and_all_on_the_pipe(wall: int, joints: int) -> None:
    spacing, end = Fraction(60), Fraction(6)
    at = [Fraction(wall * (number + 1), joints + 2) for number in range(joints)]
    straps = strap_places(Fraction(wall), end, spacing, at)
    assert straps == sorted(straps)
    assert all(0 < strap < wall for strap in straps)
    assert all(right - left <= spacing for left, right in itertools.pairwise(straps))
    if wall > 12:
        # 6 in from each end, or at a joint within 3 in of that
        assert abs(straps[0] - 6) < 3
        assert abs(straps[-1] - (wall - 6)) < 3
        # one at each joint between: NAVEDTRA 14044
        assert all(joint in straps for joint in at if 6 < joint < wall - 6)

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
from gutterance.layout.downpipes import strap_places
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
    assert ("elbow 2x3", 3) in one.parts
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
    assert laid(reach="5 1/2 in").hold


def test_no_distance_to_go_back_means_straight_down() -> None:
    one = laid(reach="0 in", ends_at="drain")
    assert (one.rule, one.gooseneck, one.wall_pipe) == ("straight", None, 112)
    assert ("elbow 2x3", 2) not in one.parts


@pytest.mark.parametrize(
    ("more", "about"),
    [
        ({"reach": None}, "wall_to_fascia"),
        ({"height": None}, "height"),
        ({"reach": "3 in"}, "wall_to_fascia"),
        ({"height": "15 in"}, "height"),
        ({"height": "-4 in"}, "height"),
        ({"height": "0 in"}, "height"),
        ({"height": "9000 in"}, "height"),
        ({"reach": "900 in"}, "wall_to_fascia"),
        ({"size": reading("7x9")}, "size"),
        ({"size": reading("3x4", "doubtful")}, "size"),
        ({"ends_at": "drain", "offsets": [reading("6 in")]}, "offsets.1.place"),
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

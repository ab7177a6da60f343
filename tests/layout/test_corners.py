"""Fit and mitre at an end, against common practice and against plane geometry worked another way."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.layout.corners import degrees, end_take_up, half_turn_tangent, mitre
from gutterance.shop import load_shop

SHOP = load_shop()
SQUARE = Fraction(90)


@pytest.mark.parametrize(
    ("end", "fit"),
    [
        ("outside corner", Fraction(1, 16)),
        ("inside corner", Fraction(-1, 16)),
        ("end cap", Fraction(0)),
        ("wall", Fraction(-1, 4)),
    ],
)
def test_fit_at_each_kind_of_end(end: str, fit: Fraction) -> None:
    # common practice, no source
    took = end_take_up("left", end, SQUARE, Fraction(5), SHOP, "imperial", "runs.front")  # type: ignore[arg-type]
    assert took.back == fit


def test_mitre_of_a_square_corner_is_the_top_width_and_of_a_45_bay_root_two_less_one() -> None:
    # tan 45 = 1 and tan 22.5 = sqrt 2 - 1: plane trigonometry
    assert mitre(Fraction(5), SQUARE) == 5
    assert abs(float(mitre(Fraction(1), Fraction(45))) - (math.sqrt(2) - 1)) < 1e-6


def test_front_is_longer_outside_and_shorter_inside() -> None:
    outside = end_take_up("left", "outside corner", SQUARE, Fraction(5), SHOP, "imperial", "runs.front")
    inside = end_take_up("right", "inside corner", SQUARE, Fraction(5), SHOP, "imperial", "runs.front")
    assert (outside.front, inside.front) == (5, -5)


def test_an_end_not_known_gives_no_length() -> None:
    took = end_take_up("left", None, SQUARE, Fraction(5), SHOP, "imperial", "runs.front")
    assert (took.back, took.front, took.piece_end) == (None, None, "unknown")


def test_box_mitre_takes_up_its_leg_and_is_cut_square() -> None:
    # by hand: a leg of 5 in with 2 in of the piece inside it leaves the piece 3 in short; inside, 9 less 2
    shop = SHOP.model_copy(update={"corners": SHOP.corners.model_copy(update={"method": "box mitre"})})
    for end, less in (("outside corner", 3), ("inside corner", 7)):
        took = end_take_up("left", end, SQUARE, Fraction(5), shop, "imperial", "runs.front")  # type: ignore[arg-type]
        assert (took.back, took.front) == (-less, 0)
        assert took.piece_end == end.replace("corner", "box")


def test_a_turn_no_box_comes_in_is_made_as_the_shop_says() -> None:
    shop = SHOP.model_copy(update={"corners": SHOP.corners.model_copy(update={"method": "box mitre"})})
    took = end_take_up("left", "outside corner", Fraction(45), Fraction(5), shop, "imperial", "runs.front")
    assert took.piece_end == "outside mitre"
    assert took.back == Fraction(1, 16)
    bays = shop.corners.model_copy(update={"box_turns": [90, 45]})
    shop = shop.model_copy(update={"corners": bays})
    took = end_take_up("left", "outside corner", Fraction(45), Fraction(5), shop, "imperial", "runs.front")
    assert took.piece_end == "outside box"


@pytest.mark.parametrize(("upstream", "tabs"), [(True, (1, 1)), (False, (0, 0)), (None, (0, 1))])
def test_a_hand_mitre_may_have_its_tab_on_the_piece_the_water_comes_from(
    upstream: bool | None, tabs: tuple[int, int]
) -> None:
    corners = SHOP.corners.model_copy(update={"method": "hand mitre", "tab_on": "upstream piece"})
    shop = SHOP.model_copy(update={"corners": corners})
    took = tuple(
        end_take_up(side, "outside corner", SQUARE, Fraction(5), shop, "imperial", "r", upstream).tab
        for side in ("left", "right")  # type: ignore[arg-type]
    )
    assert took == tabs


def test_hand_mitre_puts_its_tab_on_one_end_only() -> None:
    shop = SHOP.model_copy(update={"corners": SHOP.corners.model_copy(update={"method": "hand mitre"})})
    tabs = [
        end_take_up(side, "outside corner", SQUARE, Fraction(5), shop, "imperial", "runs.front").tab
        for side in ("left", "right")  # type: ignore[arg-type]
    ]
    assert tabs == [0, shop.corners.tab.inches]


@given(st.integers(1, 179))
def test_tangent_is_within_a_1024th_of_an_inch_on_the_widest_gutter(turn: int) -> None:
    error = abs(float(half_turn_tangent(Fraction(turn))) - math.tan(math.radians(turn) / 2))
    assert error * 24 < 1 / 1024


@pytest.mark.parametrize("turn", [0, 180, -5, 200])
def test_a_corner_that_does_not_turn_is_refused(turn: int) -> None:
    with pytest.raises(ValueError, match="less than 180"):
        half_turn_tangent(Fraction(turn))


def _offset_corner(walk_in: float, walk_out: float, width: float) -> tuple[float, float]:
    """Where two lines parallel to the walls, `width` outside them, cross; the corner lies at the origin.

    Worked from the two lines' equations, not from tan(t/2): an independent witness.
    """
    # walking anticlockwise the outside is to the right of the walk
    in_x, in_y = math.cos(walk_in), math.sin(walk_in)
    out_x, out_y = math.cos(walk_out), math.sin(walk_out)
    p = (in_y * width, -in_x * width)
    q = (out_y * width, -out_x * width)
    cross = in_x * out_y - in_y * out_x
    along = ((q[0] - p[0]) * out_y - (q[1] - p[1]) * out_x) / cross
    return p[0] + along * in_x, p[1] + along * in_y


@given(st.floats(0, 6), st.integers(-150, 150).filter(lambda turn: abs(turn) >= 5), st.integers(3, 8))
def test_mitre_agrees_with_crossing_the_lips_lines(heading: float, turn: int, width: int) -> None:
    x, y = _offset_corner(heading, heading + math.radians(turn), width)
    beyond = x * math.cos(heading) + y * math.sin(heading)
    expected = float(mitre(Fraction(width), Fraction(abs(turn)))) * (1 if turn > 0 else -1)
    assert beyond == pytest.approx(expected, abs=1e-4)


def test_degrees_are_written_plainly() -> None:
    assert [degrees(Fraction(45)), degrees(Fraction(45, 2))] == ["45°", "22.5°"]

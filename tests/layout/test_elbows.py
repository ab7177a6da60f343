"""Gooseneck and drop: the field rule, the elbow's geometry, and where the two meet."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.layout.elbows import by_field_rule, by_geometry
from gutterance.shop import load_shop

SHOP = load_shop()


@pytest.mark.parametrize("size", [pipe.size for pipe in SHOP.pipes])
def test_geometry_and_field_rule_agree_at_24_in_for_a_75_degree_elbow(size: str) -> None:
    # field rule, gooseneck = wall to fascia - 4 in and drop 12 in: common practice, no source
    shape = SHOP.pipe(size)
    assert shape is not None
    assert shape.elbow_turn == 75
    way, rule = by_geometry(Fraction(24), shape), by_field_rule(Fraction(24), SHOP)
    assert (rule.gooseneck, rule.drop) == (20, 12)
    assert abs(way.gooseneck - rule.gooseneck) < Fraction(1, 64)
    assert abs(way.drop - rule.drop) < Fraction(1, 64)


def test_they_part_away_from_24_in() -> None:
    # by hand: 12 / sin 75 - 4.84375 = 7.5796 in; 5.5625 + 12 cot 75 = 8.7779 in
    shape = SHOP.pipe("2x3")
    assert shape is not None
    way = by_geometry(Fraction(12), shape)
    assert float(way.gooseneck) == pytest.approx(7.5796, abs=1e-3)
    assert float(way.drop) == pytest.approx(8.7779, abs=1e-3)
    assert by_field_rule(Fraction(12), SHOP).gooseneck == 8


@given(st.integers(1, 120), st.floats(30, 85))
def test_the_middle_line_closes(throw: int, turn: float) -> None:
    """Walk the pipe's middle line leg by leg: it must end `throw` across and `drop` down."""
    shape = SHOP.pipes[0].model_copy(update={"elbow_turn": turn})
    way = by_geometry(Fraction(throw), shape)
    angle = math.radians(turn)
    slanted = float(way.gooseneck) + 2 * float(shape.leg_b.inches - shape.slip.inches)
    across = slanted * math.sin(angle)
    down = 2 * float(shape.leg_a.inches) + slanted * math.cos(angle)
    assert across == pytest.approx(throw, abs=1e-3)
    assert down == pytest.approx(float(way.drop), abs=1e-3)

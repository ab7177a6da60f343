"""Coils: feet left by geometry and by weight, and pieces onto coils against every way there is."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import product

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.stock.coil_left import (
    LARGEST,
    PI,
    POUND_IN_KG,
    THICKEST,
    CoilError,
    length_by_diameters,
    length_by_weight,
    to_count_on,
    weight_of,
    wraps,
)
from gutterance.stock.coils import Coil, CoilPiece, CoilUse, onto_coils
from gutterance.stock.metals import MetalError, metal_of, metals, read_metals

ALUMINIUM = Fraction("0.098")
NONE = Fraction(0)


# geometry (end area over thickness), worked apart from this program: feet, wraps, pounds of aluminium 3105
@pytest.mark.parametrize(
    ("outer", "inner", "thickness", "width", "feet", "turns", "pounds"),
    [
        ("30", "16", "0.027", "11.75", 1561.10, 259.26, 582.42),
        ("30", "16", "0.032", "11.875", 1317.18, 218.75, 588.62),
        ("24", "16", "0.032", "11.875", 654.50, 125.00, 292.48),
        ("36", "20", "0.027", "12", 2171.97, 296.30, 827.57),
        ("40", "16", "0.032", "15", 2748.89, 375.00, 1551.70),
    ],
)
def test_length_wraps_and_weight_of_a_coil(
    outer: str, inner: str, thickness: str, width: str, feet: float, turns: float, pounds: float
) -> None:
    across, hole, thick, wide = map(Fraction, (outer, inner, thickness, width))
    length = length_by_diameters(across, hole, thick)
    assert float(length) / 12 == pytest.approx(feet, rel=1e-4)
    assert float(wraps(across, hole, thick)) == pytest.approx(turns, rel=1e-4)
    assert float(weight_of(length, wide, thick, ALUMINIUM)) == pytest.approx(pounds, rel=1e-4)


def test_a_metric_coil() -> None:
    # 1000 mm over a hole of 508 mm, 0.7 mm thick: 832.450 m (geometry)
    inch = Fraction(254, 10)
    length = length_by_diameters(1000 / inch, 508 / inch, Fraction("0.7") / inch)
    assert float(length * inch) == pytest.approx(832_450, rel=1e-6)


@pytest.mark.parametrize(
    ("thickness", "width", "pounds"), [("0.032", "11.875", 0.4469), ("0.027", "11.75", 0.3731)]
)
def test_weight_of_a_foot_of_aluminium(thickness: str, width: str, pounds: float) -> None:
    # w x t x 12 x 0.098 lb/in3 (density of alloy 3105, Aluminum Association, as reprinted in a handbook)
    got = weight_of(Fraction(12), Fraction(width), Fraction(thickness), metal_of("3105").density)
    assert float(got) == pytest.approx(pounds, rel=1e-3)


@given(
    inner=st.integers(1, 40), build=st.integers(1, 40), thickness=st.integers(1, 60), width=st.integers(1, 40)
)
def test_both_ways_agree_and_wraps_times_mean_turn_is_the_length(
    inner: int, build: int, thickness: int, width: int
) -> None:
    across, hole, thick = Fraction(inner + build), Fraction(inner), Fraction(thickness, 1000)
    length = length_by_diameters(across, hole, thick)
    # each wrap is pi times its own diameter, on average that of the middle one
    assert length == wraps(across, hole, thick) * PI * (across + hole) / 2
    # the metal's weight is that of the ring: pi / 4 (D^2 - d^2) x width x density
    ring = PI / 4 * (across**2 - hole**2) * width * ALUMINIUM
    assert weight_of(length, Fraction(width), thick, ALUMINIUM) == ring
    if ring <= 50_000:
        assert length_by_weight(ring, Fraction(width), thick, ALUMINIUM) == length


def test_pi_and_the_pound() -> None:
    assert float(PI) == math.pi
    assert pint.UnitRegistry(non_int_type=Fraction).Quantity(Fraction(1), "pound").to("kg").m == POUND_IN_KG


def test_limits_are_held_to_at_just_inside_and_just_outside() -> None:
    hair = Fraction(1, 1000)
    assert length_by_diameters(LARGEST, Fraction(16), THICKEST)
    assert length_by_diameters(16 + 2 * hair, Fraction(16), hair) > 0
    for outer, inner, thickness in (
        (LARGEST + hair, Fraction(16), THICKEST),
        (Fraction(30), Fraction(16), THICKEST + hair),
        (Fraction(30), Fraction(16), NONE),
        (Fraction(30), NONE, hair),
        (Fraction(30), -hair, hair),
        (16 + hair, Fraction(16), hair),
        (Fraction(16), Fraction(30), hair),
    ):
        with pytest.raises(CoilError):
            length_by_diameters(outer, inner, thickness)
    for weight, width in (
        (NONE, Fraction(12)),
        (Fraction(50_001), Fraction(12)),
        (Fraction(9), LARGEST + hair),
    ):
        with pytest.raises(CoilError):
            length_by_weight(weight, width, hair, ALUMINIUM)


def test_the_allowance_is_taken_off() -> None:
    assert to_count_on(Fraction(100), Fraction(3)) == 97


def test_every_metal_has_its_source_and_the_unconfirmed_say_so() -> None:
    assert {one.name for one in metals() if one.source == "from memory"} == {"copper", "zinc"}
    assert metal_of("Galvanised  Steel").name == "steel"
    with pytest.raises(MetalError, match="'copper'"):
        metal_of("coper")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[[metals]]\nname = "tin"\nwords = []\nsource = "x"\n', "row 1.*density"),
        ('[[metals]]\nname = "tin"\nwords = []\ndensity = "7.3"\nsource = "x"\n', "row 1.*7"),
        ('[[metals]]\nname = "tin"\nwords = []\ndensity = "0.26"\nsource = ""\n', "no source"),
        ("[[metals]\n", "TOML"),
    ],
)
def test_a_bad_row_of_metals_is_named(text: str, words: str) -> None:
    with pytest.raises(MetalError, match=words):
        read_metals(text)


def pieces(*lengths: int) -> list[CoilPiece]:
    return [CoilPiece(f"p{number}", Fraction(length)) for number, length in enumerate(lengths)]


def check(uses: list[CoilUse], wanted: list[CoilPiece], coils: list[Coil], lost: Fraction) -> None:
    """Every piece once; no piece runs short; no coil twice; what is to be ordered comes last."""
    assert sorted(one.id for use in uses for one in use.pieces) == sorted(one.id for one in wanted)
    named = [use.coil for use in uses if use.coil is not None]
    assert len({one.name for one in named}) == len(named)
    assert all(use.left_over is None or use.left_over >= 0 for use in uses)
    assert all(use.pieces for use in uses)
    assert all(use.lost == lost for use in uses)
    assert [use.coil is None for use in uses] == sorted(use.coil is None for use in uses)
    assert set(named) <= set(coils)


def test_a_remnant_is_used_where_it_serves_and_a_coil_is_not_changed_for_a_trifle() -> None:
    wanted = pieces(480, 300, 90)
    coils = [Coil("full", Fraction(3000)), Coil("remnant", Fraction(500)), Coil("stub", Fraction(100))]
    uses = onto_coils(wanted, coils, change_worth=Fraction(240))
    assert {use.coil.name: [one.id for one in use.pieces] for use in uses if use.coil} == {
        "remnant": ["p0"],
        "full": ["p1", "p2"],
    }


def test_what_no_coil_can_give_is_to_be_ordered_and_none_runs_short() -> None:
    wanted = pieces(700, 500, 400)
    coils = [Coil("a", Fraction(650)), Coil("b", Fraction(420))]
    uses = onto_coils(wanted, coils, Fraction(10))
    check(uses, wanted, coils, Fraction(10))
    assert [(use.coil.name if use.coil else None, use.total) for use in uses] == [
        ("a", 500),
        ("b", 400),
        (None, 700),
    ]
    assert [use.coil for use in onto_coils(wanted, [])] == [None]
    assert onto_coils([], coils) == []


def fits_at_all(wanted: list[CoilPiece], coils: list[Coil], lost: Fraction) -> bool:
    for places in product(range(len(coils)), repeat=len(wanted)):
        left = [coil.left for coil in coils]
        for piece, place in zip(wanted, places, strict=True):
            left[place] -= piece.length
        if all(one >= (lost if place in places else 0) for place, one in enumerate(left)):
            return True
    return False


@settings(max_examples=150, deadline=None)
@given(
    lengths=st.lists(st.integers(1, 30), min_size=1, max_size=5),
    left=st.lists(st.integers(0, 60), max_size=3),
    lost=st.integers(0, 3),
    worth=st.integers(0, 20),
)
def test_nothing_is_ordered_where_any_way_of_doing_without_there_is(
    lengths: list[int], left: list[int], lost: int, worth: int
) -> None:
    wanted = pieces(*lengths)
    coils = [Coil(f"c{number}", Fraction(one)) for number, one in enumerate(left)]
    uses = onto_coils(wanted, coils, Fraction(lost), Fraction(worth))
    check(uses, wanted, coils, Fraction(lost))
    assert (uses[-1].coil is not None) == fits_at_all(wanted, coils, Fraction(lost))


def test_many_coils_and_many_pieces_take_no_long() -> None:
    wanted = pieces(*(100 + 7 * number % 400 for number in range(400)))
    coils = [Coil(f"c{number}", Fraction(900 + 37 * number % 800)) for number in range(60)]
    check(onto_coils(wanted, coils, Fraction(24), Fraction(240)), wanted, coils, Fraction(24))

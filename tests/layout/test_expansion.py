"""How far metal moves, against published values and pint, and the joints that let it."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from houses import outlet, reading, run, sheet

from gutterance.layout import lay_out
from gutterance.layout.expansion import movement
from gutterance.shop import load_shop
from gutterance.shop.amounts import read_amount

if TYPE_CHECKING:
    from gutterance.shop import Shop

SHOP = load_shop()
MILLION = 1_000_000


@pytest.mark.parametrize(
    ("feet", "millionths", "inches"),
    [
        # 13 millionths per degree F: Aluminum Association average of 68 to 212 F; the product is arithmetic
        (60, "13", "0.936"),
        (40, "13", "0.624"),
    ],
)
def test_aluminium_over_100_degrees_f(feet: int, millionths: str, inches: str) -> None:
    moved = movement(Fraction(feet * 12), Fraction(millionths) / MILLION, Fraction(100))
    assert moved == Fraction(inches)
    # a widely copied drawing note says an eighth in 40 ft: about five times too little
    assert moved > 4 * Fraction(1, 8)


@pytest.mark.parametrize(
    ("metres", "millionths", "millimetres"),
    [
        # worked example in public print: 24 and 12 millionths per K over 40 K
        ("10", "24", "9.6"),
        ("10", "12", "4.8"),
        ("13.9", "24", "13.344"),
        ("13.9", "12", "6.672"),
    ],
)
def test_worked_example_in_metres(metres: str, millionths: str, millimetres: str) -> None:
    assert movement(Fraction(metres) * 1000, Fraction(millionths) / MILLION, Fraction(40)) == Fraction(
        millimetres
    )


def test_the_same_in_pints_units() -> None:
    import pint

    units = pint.UnitRegistry()
    length, swing = 60 * units.foot, units.Quantity(100, "delta_degF")
    moved = (length * units.Quantity(13e-6, "1/delta_degF") * swing).to(units.inch)
    growth = SHOP.material("aluminium").growth  # type: ignore[union-attr]
    assert moved.magnitude == pytest.approx(float(movement(Fraction(720), growth, Fraction(100))))
    # 13 millionths a degree F are 23.4 a degree C, near the 24 that metric tables round to
    assert units.Quantity(13, "1/delta_degF").to("1/delta_degC").magnitude == pytest.approx(23.4)


def test_a_figure_from_memory_says_so() -> None:
    for one in SHOP.materials:
        assert one.name == "aluminium" or "from memory, not checked" in one.source


def shop_with(**pieces: object) -> Shop:
    return SHOP.model_copy(update={"pieces": SHOP.pieces.model_copy(update=pieces)})


def test_a_run_over_the_materials_most_gets_a_joint_at_its_high_point() -> None:
    ends = [outlet("eave-1", "eave"), outlet("eave-2", "eave", "right")]
    layout = lay_out(sheet([run("eave", "1000 in")], ends), [], SHOP)
    (moved,) = layout.movements
    assert moved.joints == [500]
    assert [one.at for one in layout.falls if one.what == "high point"] == [500]
    assert [(one.left, one.right) for one in layout.pieces] == [
        ("end cap", "expansion joint"),
        ("expansion joint", "end cap"),
    ]
    # each piece stops half of the joint's 1 in gap short of its middle
    assert [one.back for one in layout.pieces] == [500 - Fraction(1, 2)] * 2
    assert moved.moves == 500 * Fraction(13, MILLION) * 100


@pytest.mark.parametrize(("material", "joints"), [("aluminium", 0), ("zinc", 1), ("copper", 1)])
def test_each_material_has_its_own_most(material: str, joints: int) -> None:
    house = sheet(
        [run("eave", "600 in")], [outlet("eave-1", "eave")], defaults={"material": reading(material)}
    )
    layout = lay_out(house, [], SHOP)
    assert [len(one.joints) for one in layout.movements] == [joints]
    assert layout.movements[0].material == material


def test_no_stretch_between_joints_is_over_the_most_and_laps_do_for_the_rest() -> None:
    house = sheet([run("eave", "4000 in")], [outlet("eave-1", "eave")])
    layout = lay_out(house, [], shop_with(longest=read_amount("20 ft")))
    posts = [Fraction(0), *layout.movements[0].joints, Fraction(4000)]
    assert all(after - before <= 720 for before, after in pairwise(posts))
    assert len(layout.pieces) > len(posts)
    assert {one.right for one in layout.pieces} == {"lap", "expansion joint", "end cap"}


def test_short_runs_are_not_told_of_and_an_unknown_metal_is_said_to_be_unknown() -> None:
    assert not lay_out(sheet([run("eave", "400 in")], [outlet("eave-1", "eave")]), [], SHOP).movements
    house = sheet([run("eave", "600 in")], [outlet("eave-1", "eave")], defaults={"material": reading("tin")})
    layout = lay_out(house, [], SHOP)
    assert not layout.movements
    assert any("how far tin moves is not known" in one for one in layout.assumed)


def test_what_the_crew_can_carry_limits_a_piece_too() -> None:
    # two hands of 20 ft each carry 40 ft, so 45 ft is lapped though the machine would run it
    layout = lay_out(sheet([run("eave", "540 in")], [outlet("eave-1", "eave")]), [], shop_with(crew=2))
    assert len(layout.pieces) == 2
    assert all(one.carriers is not None and one.carriers <= 2 for one in layout.pieces)

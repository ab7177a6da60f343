"""Every unit and factor of the drainage check, held against pint."""

from __future__ import annotations

import math
from fractions import Fraction

import pint
import pytest

from gutterance.drainage import units
from gutterance.drainage.sections import GutterSection, PipeSection
from gutterance.measure.rates import MM_PER_HOUR

PINT: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)


def size(of: str, into: str) -> Fraction:
    return PINT.Quantity(Fraction(1), of).to(into).magnitude


def test_the_gallon_and_the_square_foot_are_pints() -> None:
    assert size("gallon", "inch ** 3") == units.CUBIC_INCHES_PER_GALLON
    assert size("gallon", "litre") == units.LITRES_PER_GALLON
    assert size("foot ** 2", "metre ** 2") == units.SQUARE_METRES_PER_SQUARE_FOOT


def test_a_gallon_a_minute_is_96_25_square_feet_at_an_inch_an_hour() -> None:
    assert size("gallon / minute", "foot ** 2 * inch / hour") == units.SQUARE_FEET_PER_GPM == Fraction(385, 4)


@pytest.mark.parametrize(
    ("ours", "pints"),
    [("in/h", "inch / hour"), ("mm/h", "millimetre / hour"), ("l/(s·m²)", "litre / second / metre ** 2")],
)
def test_rates(ours: str, pints: str) -> None:
    assert MM_PER_HOUR[ours] == size(pints, "millimetre / hour")


def test_flows_and_areas_go_over_and_back() -> None:
    assert units.litres_per_second(1) == pytest.approx(
        float(size("gallon / minute", "litre / second")), rel=1e-12
    )
    assert units.gallons_per_minute(1) == pytest.approx(
        float(size("litre / second", "gallon / minute")), rel=1e-12
    )
    assert units.square_metres(units.square_feet(37.0)) == pytest.approx(37.0, rel=1e-12)
    assert units.square_feet(1) == pytest.approx(float(size("metre ** 2", "foot ** 2")), rel=1e-12)


def test_rain_on_a_roof_is_the_same_in_both_systems() -> None:
    area, rate = PINT.Quantity(Fraction(100), "metre ** 2"), PINT.Quantity(Fraction(75), "millimetre / hour")
    flow = (area * rate).to("litre / second").magnitude
    assert units.roof_flow(100, 75) == pytest.approx(float(flow), rel=1e-12)
    gpm = units.roof_flow_gpm(units.square_feet(100), 75 / 25.4)
    assert units.litres_per_second(gpm) == pytest.approx(float(flow), rel=1e-12)


def test_a_sections_areas_are_in_square_millimetres_and_inches() -> None:
    box = GutterSection("box", "trapezoid", Fraction(5), Fraction(5), Fraction(7, 2))
    area = PINT.Quantity(Fraction(5), "inch") * PINT.Quantity(Fraction(7, 2), "inch")
    assert box.area_mm2 == pytest.approx(float(area.to("millimetre ** 2").magnitude), rel=1e-12)
    pipe = PipeSection("2x3", False, Fraction(3), Fraction(2))
    assert pipe.area_in2 == 6
    assert pipe.area_mm2 == pytest.approx(
        float((6 * PINT.Quantity("inch ** 2")).to("millimetre ** 2").magnitude)
    )
    assert pipe.perimeter_mm == pytest.approx(254)


def test_a_half_rounds_section_is_half_a_circles() -> None:
    half = GutterSection("5 in half round", "half round", Fraction(5), Fraction(0), Fraction(5, 2))
    assert half.area_mm2 == pytest.approx(math.pi * 127**2 / 8)
    assert half.wet_mm == pytest.approx(math.pi * 127 / 2)
    assert half.half_round_within() == 5


def test_the_half_round_within_a_trapezoid_touches_its_sides_and_stays_inside() -> None:
    k_style = GutterSection("5 in K-style", "trapezoid", Fraction(5), Fraction(13, 4), Fraction(7, 2))
    radius = k_style.half_round_within() / 2
    slack = []
    for step in range(1000):
        down = radius * step / 1000
        side = 2.5 - (5 - 3.25) / 2 * down / 3.5
        slack.append(side - math.sqrt(radius**2 - down**2))
    assert min(slack) == pytest.approx(0, abs=1e-5)

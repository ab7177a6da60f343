"""Quantities that are no lengths: unit from quantulum3, number exact from our own numerals."""

from __future__ import annotations

import logging
from fractions import Fraction

import pytest

from gutterance.measure import quantities
from gutterance.measure.quantities import read_quantity
from gutterance.measure.tape import find_lengths


@pytest.mark.parametrize(
    ("text", "value", "unit", "kind"),
    [
        ("1200 sq ft", 1200, "square foot", "area"),
        ("twelve hundred and five square feet", 1205, "square foot", "area"),
        ("1,200 sqft", 1200, "square foot", "area"),
        ("110 m²", 110, "square metre", "area"),
        ("110.1 m2", Fraction("110.1"), "square metre", "area"),
        ("four inches per hour", 4, "inch per hour", "speed"),
        ("4 1/3 in/h", Fraction(13, 3), "inch per hour", "speed"),
        ("4 inches an hour", 4, "inch per hour", "speed"),
        ("75 mm/h", 75, "millimetre per hour", "speed"),
        ("30 kg", 30, "kilogram", "mass"),
        ("20 degrees C", 20, "degree Celsius", "temperature"),
        ("20 °C", 20, "degree Celsius", "temperature"),
        ("five and a half gallons", Fraction(11, 2), "gallon", "volume"),
        ("20 lbs", 20, "pound-mass", "mass"),
    ],
)
def test_a_quantity_is_read(text: str, value: Fraction, unit: str, kind: str) -> None:
    (found,) = find_lengths(text)
    quantity = read_quantity(found)
    assert quantity is not None
    assert (quantity.value, quantity.unit, quantity.kind) == (value, unit, kind)
    assert isinstance(quantity.value, Fraction)
    assert (quantity.text, quantity.start, quantity.end) == (text, 0, len(text))


def test_an_unknown_unit_is_kept_as_not_understood() -> None:
    (found,) = find_lengths("30 squares")
    quantity = read_quantity(found)
    assert quantity is not None
    assert quantity.value == 30
    assert not quantity.understood


def test_a_length_is_no_quantity() -> None:
    assert read_quantity(find_lengths("58' 6")[0]) is None


def test_a_failing_parser_leaves_the_quantity_unread(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(text: str) -> list[object]:
        raise KeyError(text)

    monkeypatch.setattr(quantities, "_parse", fail)
    quantities._unit_of.cache_clear()
    quantity = read_quantity(find_lengths("31 kg")[0])
    quantities._unit_of.cache_clear()
    assert quantity is not None
    assert (quantity.value, quantity.unit) == (31, None)


def test_the_root_logger_is_left_as_it_was() -> None:
    before = list(logging.getLogger().handlers)
    quantities._unit_of.cache_clear()
    read_quantity(find_lengths("32 kg")[0])
    assert logging.getLogger().handlers == before

"""Every length of a shop file has a range, and what is out of it is told with the unit that would fit."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pint
import pytest

from gutterance.measure.length import Length
from gutterance.shop import ShopError, load_shop
from gutterance.shop.amounts import read_amount
from gutterance.shop.sensible import lengths_of, odd_lengths, sensible_ranges

if TYPE_CHECKING:
    from pathlib import Path

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


def test_every_length_has_a_range_and_every_range_a_length() -> None:
    # no default: the rain, and what is at hand, are the user's to give
    given = {"rain.roof_run", "downpipes.also_bought", "leftovers.length", "coils.width", "coils.left"}
    assert {key for _, key, _ in lengths_of(load_shop())} | given == set(sensible_ranges())
    assert not odd_lengths(load_shop())
    assert all(low.inches < high.inches for low, high in sensible_ranges().values())


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ('[hangers]\nspacing = "24 ft"\n', "Is it '24 in'?"),
        ('[pieces]\nlongest = "60 in"\n', "OK"),
        ('[pieces]\nlongest = "60 mm"\n', "Is it '60 in' or '60 ft'?"),
        ('[downpipes]\nstock = "10 in"\n', "Is it '10 ft'?"),
        ('[rounding]\nstep = "16 in"\n', "Is it '16 mm'?"),
        ('[[profiles]]\nname = "K-style"\nsize = "5 in"\ntop_width = "5 ft"\nsole = "3 in"\n'
         'depth = "3 in"\ncoil_width = "12 in"\n', "line 4: profiles.1.top_width"),
    ],
)  # fmt: skip
def test_a_wrong_unit_is_named_with_the_one_that_fits(tmp_path: Path, text: str, mend: str) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    if mend == "OK":
        load_shop(path)
        return
    with pytest.raises(ShopError) as error:
        load_shop(path)
    assert mend in str(error.value)
    assert "line " in str(error.value)


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("1/16 in", (0.0625, "inch")),
        ("10 ft", (10, "foot")),
        ("2.5 ft", (2.5, "foot")),
        ("600 mm", (600, "millimetre")),
        ("12.5 mm", (12.5, "millimetre")),
        ("-3 1/2 in", (-3.5, "inch")),
    ],
)
def test_lengths_are_what_pint_makes_of_them(text: str, quantity: tuple[float, str]) -> None:
    inches = UNITS.Quantity(*quantity).to("inch").magnitude
    assert float(read_amount(text).inches) == pytest.approx(inches, rel=1e-12)


def test_every_shipped_length_reads_back_as_pint_does() -> None:
    for _, key, length in lengths_of(load_shop()):
        number, unit = Length(length.inches, length.system).file_text().rsplit(" ", 1)
        whole, _, part = number.rpartition(" ")
        top, _, bottom = part.partition("/")
        value = float(whole or 0) + float(top) / float(bottom or 1) * (-1 if whole.startswith("-") else 1)
        name = {"in": "inch", "mm": "millimetre"}[unit]
        assert UNITS.Quantity(value, name).to("inch").magnitude == pytest.approx(float(length.inches)), key

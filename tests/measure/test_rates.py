"""Rates of rain in words: every unit exact, storms where said, and one clear error for anything else."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pint
import pytest

from gutterance.measure.rates import RateError, read_rate

PINT: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("6 in/h", 6, "inch / hour"),
        ("6 in/hr", 6, "inch / hour"),
        ("6.5in/h", Fraction(13, 2), "inch / hour"),
        ("6 inches an hour", 6, "inch / hour"),
        ("eight and a quarter inches per hour", Fraction(33, 4), "inch / hour"),
        ("6 1/2 in per hour", Fraction(13, 2), "inch / hour"),
        ('6"/hr', 6, "inch / hour"),
        ("6″ per hour", 6, "inch / hour"),
        ("150 mm/h", 150, "millimetre / hour"),
        ("150mm/hr", 150, "millimetre / hour"),
        ("75 mm an hour", 75, "millimetre / hour"),
        ("7,5 cm/h", Fraction(75, 10), "centimetre / hour"),
        ("2.5 mm/min", Fraction(5, 2), "millimetre / minute"),
        ("0.021 l/s/m2", Fraction(21, 1000), "litre / second / metre ** 2"),
        ("0.021 l/(s·m²)", Fraction(21, 1000), "litre / second / metre ** 2"),
        ("0.021 l/s m2", Fraction(21, 1000), "litre / second / metre ** 2"),
        ("0.022 litres per second per square metre", Fraction(22, 1000), "litre / second / metre ** 2"),
        ("300 l/(s·ha)", 300, "litre / second / hectare"),
        ("300 l/s/ha", 300, "litre / second / hectare"),
    ],
)
def test_every_unit_is_the_size_pint_gives_it(text: str, amount: Fraction, unit: str) -> None:
    rate = read_rate(text)
    assert rate.mm_per_hour == PINT.Quantity(Fraction(amount), unit).to("millimetre / hour").magnitude
    assert isinstance(rate.mm_per_hour, Fraction)
    assert (rate.minutes, rate.years) == (None, None)
    assert rate.text == " ".join(text.split())


@pytest.mark.parametrize(
    ("text", "minutes", "years"),
    [
        ("3.63 in/h, 60 min, 100 yr", 60, 100),
        ("8.32 in/h 5-min 10-yr", 5, 10),
        ("6 in/h 1 hour 100 year storm", 60, 100),
        ("4 inches per hour for a 5 minute storm once in 10 years", 5, 10),
        ("75 mm/h, 2 min", 2, None),
        ("0.021 l/(s·m²), 50 years", None, 50),
    ],
)
def test_a_storm_that_is_said_with_it(text: str, minutes: int | None, years: int | None) -> None:
    rate = read_rate(text)
    assert (rate.minutes, rate.years) == (minutes, years)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is no depth over time"),
        ("6", "is no depth over time"),
        ("6 inches", "is no depth over time"),
        ("lots", "is no depth over time"),
        ("6 kg", "is in kilogram, which is no depth over time"),
        ("-6 in/h", "is below nothing"),
        ("minus 0.02 l/(s·m²)", "is below nothing"),
        ("l/(s·m²)", "has no number before its unit"),
        ("6 in/h maybe", "'maybe' cannot be read here"),
        ("6 to 7 in/h", "cannot be read here"),
        ("6 in/h or 7 in/h", "cannot be read here"),
        ("6 in/h, 5 min, 10 min", "cannot be read here"),
    ],
)
def test_anything_else_is_one_clear_error(text: str, says: str) -> None:
    with pytest.raises(RateError, match="write it like '6 in/h'") as error:
        read_rate(text)
    assert says in str(error.value)


def test_the_spellings_of_files_load_neither_pint_nor_quantulum3() -> None:
    code = (
        "import sys; from gutterance.measure.rates import read_rate;"
        "[read_rate(one) for one in ('6 in/h', '75 mm/h', '0.021 l/(s·m²)')];"
        "print([name for name in ('pint', 'quantulum3') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

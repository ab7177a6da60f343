"""Units: exact, from pint, and held against the published definitions."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pint
import pytest

from gutterance.measure.length import INCHES_PER_FOOT, MM_PER_INCH
from gutterance.measure.units import inches_in, length_of, load_units, registry
from gutterance.measure.vocabulary import WordsError, spellings, vocabulary


def test_an_inch_is_25_4_millimetres_exactly() -> None:
    """Source: NIST SP 811, appendix B (international inch of 1959)."""
    assert Fraction(254, 10) == MM_PER_INCH
    assert registry().convert(Fraction(1), "inch", "millimetre") == Fraction(127, 5)
    assert isinstance(registry().convert(Fraction(1, 3), "foot", "metre"), Fraction)
    assert registry().convert(Fraction(1), "foot", "metre") == Fraction(3048, 10000)
    assert registry().convert(Fraction(1), "yard", "metre") == Fraction(9144, 10000)


@pytest.mark.parametrize("unit", ["inch", "foot", "yard", "millimetre", "centimetre", "decimetre", "metre"])
def test_every_unit_agrees_with_pints_own_registry(unit: str) -> None:
    """Source: pint's default definitions (float there, exact here)."""
    theirs = pint.UnitRegistry(non_int_type=Fraction).Quantity(Fraction(1), unit).to("inch").magnitude
    assert inches_in(unit) == theirs


def test_the_factors_kept_at_hand_are_pints() -> None:
    assert registry().convert(Fraction(1), "foot", "inch") == INCHES_PER_FOOT == inches_in("foot")
    assert registry().convert(Fraction(1), "millimetre", "inch") == inches_in("millimetre")


def test_every_spelling_means_the_same_to_pint() -> None:
    for word, unit in vocabulary().units.items():
        assert registry().convert(Fraction(1), word, "inch") == inches_in(unit)


def test_a_length_keeps_the_unit_it_was_given_in() -> None:
    assert length_of(Fraction(32, 10), "metre").tape_text() == "3200 mm"
    assert length_of(Fraction(3), "yard").tape_text() == "9' 0\""


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("foot = 12 * inch = ft\nyard", "row 2"),
        ("inch = [length] = in\nfoot = 12 * inch = in", "already means inch"),
        ("inch = [length] = in.", "more than letters"),
        ("inch = [length] = = in", "row 1"),
    ],
)
def test_a_bad_unit_row_is_named(text: str, says: str) -> None:
    with pytest.raises(WordsError, match=says):
        spellings(text)


def test_a_unit_that_pint_cannot_define_is_named() -> None:
    with pytest.raises(WordsError, match=r"units\.txt, row 2"):
        load_units("inch = [length] = in\nfoot = 12 ** ** inch = ft")


def test_reading_feet_and_inches_loads_neither_pint_nor_quantulum3() -> None:
    code = (
        "import sys; from gutterance.measure.tape import read_lengths;"
        'read_lengths("58\' 6, 3200 mm, 4 in/h");'
        "print([name for name in ('pint', 'quantulum3', 'spacy', 'numpy') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

"""Lengths said aloud, in the words of the num2words library, read back over the whole range of a house."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from num2words import num2words

from gutterance.measure.tape import find_lengths, settle

NAMES = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty-second"}


def part(fraction: Fraction) -> str:
    """A fraction of an inch in words: `a quarter`, `five eighths`."""
    name = NAMES[fraction.denominator]
    return f"a {name}" if fraction.numerator == 1 else f"{num2words(fraction.numerator)} {name}s"


def sample(count: int) -> list[tuple[int, int, Fraction]]:
    chance = random.Random(20)
    found = []
    for _ in range(count):
        bottom = chance.choice([2, 4, 8, 16, 32])
        found.append(
            (chance.randrange(2, 140), chance.randrange(1, 12), Fraction(chance.randrange(bottom), bottom))
        )
    return found


@pytest.mark.parametrize("hyphens", [True, False])
def test_feet_inches_and_a_fraction_said_in_full(hyphens: bool) -> None:
    for feet, inches, fraction in sample(1500):
        tail = f" and {part(fraction)}" if fraction else ""
        feet_words, inch_words = num2words(feet), num2words(inches)
        for said in (
            f"{feet_words} foot {inch_words}{tail}",
            f"{feet_words} feet, {inch_words}{tail} inches",
            f"{feet_words} feet and {inch_words}{tail} inches",
            f"{feet} foot {inches}{tail}",
            f"{feet}' {inches}{' ' + str(fraction) if fraction else ''}\"",
        ):
            text = said if hyphens else said.replace("-", " ")
            found = find_lengths(text)
            assert [one.text for one in found] == [text]
            reading = settle(found[0])
            assert reading is not None
            assert reading.length.inches == 12 * feet + inches + fraction, text
            assert reading.doubts == (), text


def test_two_bare_numbers_on_a_run() -> None:
    """Without a unit: right, and certain from three feet up; below that it may be asked."""
    for feet, inches, fraction in sample(1500):
        tail = f" and {part(fraction)}" if fraction else ""
        text = f"{num2words(feet)} {num2words(inches)}{tail}".replace("-", " ")
        if feet % 100 in range(20, 100, 10) or (feet % 100 == 0 and inches):
            continue  # "thirty six" is 36: remembered as 30' 6", tested apart
        found = find_lengths(text)
        assert [one.text for one in found] == [text]
        reading = settle(found[0], "run")
        assert reading is not None
        assert reading.length.inches == 12 * feet + inches + fraction, text
        assert reading.doubts == () or feet < 3, text


def test_a_run_together_with_its_inches_is_remembered() -> None:
    for tens in range(20, 100, 10):
        for inches in range(1, 10):
            (found,) = find_lengths(f"{num2words(tens)} {num2words(inches)}")
            reading = settle(found, "run")
            assert reading is not None
            assert reading.length.inches == 12 * (tens + inches)
            assert reading.doubts == ()
            assert 12 * tens + inches in [length.inches for length, _ in reading.could_be]


def test_millimetres_as_metric_crews_say_them() -> None:
    """`three two hundred`, `fourteen six fifty`: thousands, then hundreds, in the words of num2words."""
    for thousands in range(1, 30):
        for hundreds in range(100, 1000, 50):
            whole = num2words(hundreds).replace(" and ", " ").replace("-", " ")
            if hundreds % 100:
                whole = whole.replace(" hundred", "")
            text = f"{num2words(thousands).replace('-', ' ')} {whole}"
            if thousands == 20:
                continue  # "twenty one hundred" is 2100 in English, "twenty four fifty" 24 50
            found = find_lengths(text)
            assert [one.text for one in found] == [text]
            reading = settle(found[0], "run", metric=True)
            assert reading is not None
            assert reading.length.mm == thousands * 1000 + hundreds, text
            assert reading.doubts == ()


def test_thousand_said_and_hundred_not() -> None:
    """`eight thousand four fifty`, in the words of num2words: 8450, not 8004 and 50."""
    for thousands in range(2, 30):
        for hundreds in range(150, 1000, 50):
            if hundreds % 100 == 0:
                continue
            rest = f"{num2words(hundreds // 100)} {num2words(hundreds % 100)}"
            (found,) = find_lengths(f"{num2words(thousands)} thousand {rest}")
            reading = settle(found, "run", metric=True)
            assert reading is not None
            assert reading.length.mm == thousands * 1000 + hundreds
            assert reading.doubts == ()


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("ate foot six", "ate", 102),
        ("forty to six", "to", 510),
        ("nine for", "for", 112),
        ("too foot won", "too won", 25),
    ],
)
def test_homophones_are_numbers_only_where_allowed(text: str, word: str, expected: int) -> None:
    readings = [settle(found, "run") for found in find_lengths(text, frozenset(word.split()))]
    assert [reading.length.inches for reading in readings if reading] == [expected]
    plain = [settle(found, "run") for found in find_lengths(text)]
    assert not any(reading and not reading.doubts and reading.length.inches == expected for reading in plain)

"""Numerals: against num2words over a large range, and the scanner that proves none is lost."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from gutterance.measure.amounts import read_amount
from gutterance.measure.numerals import every_numeral, read_numbers
from gutterance.measure.tape import find_lengths
from gutterance.measure.tokens import tokens_of

SAMPLED = sorted(
    {*range(2001), *random.Random(12).sample(range(2001, 1_000_000), 4000), 999_999, 100_000, 10_000}
)
FRACTION_NAMES = {
    2: "half",
    4: "quarter",
    8: "eighth",
    16: "sixteenth",
    32: "thirty-second",
    64: "sixty-fourth",
}


def whole(text: str) -> Fraction | None:
    """The value of a text that is one numeral from end to end."""
    tokens = tokens_of(text)
    read = read_amount(tokens, 0)
    return read[0].value if read is not None and read[1] == len(tokens) else None


def test_every_number_that_num2words_says_is_read_back() -> None:
    """Source of the words: the num2words library, English, cardinal."""
    for number in SAMPLED:
        said = num2words(number)
        for text in (
            said,
            said.replace("-", " ").replace(",", ""),
            said.replace(" and ", " ").replace(",", "").upper(),
        ):
            plain = text.replace(",", "")
            assert whole(plain) == number, text


def test_american_english_is_read_back() -> None:
    """American speech leaves out `and`; num2words writes it the British way, so it is taken out here."""
    for number in SAMPLED[::7]:
        assert whole(num2words(number).replace(" and ", " ").replace(",", "")) == number


def test_digits_and_scale_words_mix() -> None:
    assert whole("3 hundred") == 300
    assert whole("4 thousand 3 hundred") == 4300
    assert whole("3 hundred and 21") == 321
    assert whole("twelve hundred") == 1200
    assert whole("a hundred and five") == 105
    assert whole("hundred and five") == 105


@pytest.mark.parametrize("parts", [2, 4, 8, 16, 32, 64])
def test_every_fraction_of_a_tape_is_read_spoken(parts: int) -> None:
    """Numerators as num2words says them; the names of the parts are plain English."""
    for top in range(1, parts, 2):
        name = FRACTION_NAMES[parts] + ("s" if top > 1 else "")
        for text in (f"{num2words(top)} {name}", f"six and {num2words(top)} {name}"):
            expected = Fraction(top, parts) + (6 if text.startswith("six and") else 0)
            assert whole(text) == expected, text
            assert whole(text.replace("-", " ")) == expected, text


def test_decimals_that_num2words_says_are_read_back() -> None:
    """Source of the words: num2words, decimal places said one by one."""
    for hundredths in range(0, 3000, 7):
        assert whole(num2words(hundredths / 100)) == Fraction(hundredths, 100)


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("fifty eight six", [58, 6]),
        ("twenty one eleven", [21, 11]),
        ("nine point oh four", [Fraction("9.04")]),
        ("one two three four", [1, 2, 3, 4]),
        ("seven eighths", [Fraction(7, 8)]),
        ("58 6 1/4", [58, Fraction(25, 4)]),
        ("twenty thirty fifty", [20, 30, 50]),
        ("22,24,26,31", [22, 24, 26, 31]),
        ("a dog and the left one", []),
    ],
)
def test_numbers_in_a_row_stay_apart(text: str, values: list[Fraction]) -> None:
    assert [number.value for number in read_numbers(text)] == values


WORDS = """58 6 1/4 ½ ¼ 7/8 ' " ft in and a an half quarter eighths one two fifty eight hundred thousand point
oh to or x 2x3 12/5 . , - – ′ ″ ’ ” ² ① 3.5 12,400 m mm cm metres foot feet inch about ish strong K 5K $ % °
555-0142 10:30 am May 5th the left no pitch in/h sq ft2 code # ( ) ? ! ５８ ٣ R2D2 second thirty twenty-fifths
downpipes outside corners by of them point zero wall run plus uh between per ten longer"""
PIECES = st.sampled_from([*WORDS.split(), "\n", "\t", "\u00a0", "\u2009"])
NOTES = st.lists(st.tuples(PIECES, st.sampled_from(["", " ", " ", "  "])), max_size=25).map(
    lambda some: "".join(piece + gap for piece, gap in some)
)


@settings(max_examples=400, deadline=None)
@given(st.one_of(NOTES, st.text(max_size=60)))
def test_no_numeral_is_lost_and_spans_are_exact(text: str) -> None:
    found = find_lengths(text)
    read_numbers(text, ordinals=True)
    last = 0
    for one in found:
        assert one.text == text[one.start : one.end]
        assert last <= one.start < one.end
        assert one.start <= one.core[0] <= one.core[1] <= one.end
        last = one.end
    for start, end in every_numeral(text):
        assert any(one.start <= start and end <= one.end for one in found), text[start:end]

"""What the program prints it reads back, and reading time grows in proportion to the text."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from work_counting import calls_made

from gutterance.measure.length import Length
from gutterance.measure.numerals import every_numeral, read_numbers
from gutterance.measure.tape import find_lengths, forget_texts, settle

FRACTIONS = st.fractions(min_value=0, max_value=5000, max_denominator=1000)
TAPE = st.integers(min_value=0, max_value=64 * 3000).map(lambda n: Fraction(n, 64))
MILLIMETRES = st.integers(min_value=0, max_value=10**8).map(lambda n: Fraction(n, 1000))
LENGTHS = st.one_of(
    st.builds(Length, FRACTIONS),
    st.builds(Length, TAPE),
    MILLIMETRES.map(Length.from_mm),
    FRACTIONS.map(Length.from_mm),
)


@settings(max_examples=400, deadline=None)
@given(LENGTHS, st.sampled_from(["run", "height", "wall to fascia", "offset", "none"]), st.booleans())
def test_a_printed_length_reads_back_the_same(length: Length, field: str, metric: bool) -> None:
    for text in (length.tape_text(), length.file_text(), length.inch_text()):
        found = find_lengths(text)
        assert [one.text for one in found] == [text]
        reading = settle(found[0], field, metric=metric)  # type: ignore[arg-type]
        assert reading is not None
        assert reading.length == length


@settings(max_examples=200, deadline=None)
@given(TAPE)
def test_a_tapes_own_lengths_read_back_without_a_doubt(inches: Fraction) -> None:
    length = Length(inches)
    for text in (length.tape_text(), length.file_text(), length.inch_text()):
        reading = settle(find_lengths(text)[0])
        assert reading is not None
        assert reading.length == length
        assert reading.doubts == ()


def work(text: str) -> int:
    def read() -> None:
        forget_texts()
        find_lengths(text)
        every_numeral(text)

    return calls_made(read)


@pytest.mark.parametrize(
    "unit",
    [
        "1",
        "and a half ",
        "fifty ",
        "58' 6 ",
        "1,111,",
        "one ",
        "1-",
        "1/",
        "1.",
        "½",
        "'",
        "to 4 ",
        "six hundred and ",
        "40 to ",
        "6 uh ",
        "a ",
        "1:",
        "thousand ",
        "call 1 ",
        "2 outside ",
        "one point two ",
        "oh ",
        "zero ",
        "uh ",
        "billion ",
        "¼/",
        "\u00a0",
        "a foot and ",
    ],
)
def test_work_grows_in_proportion(unit: str) -> None:
    """Eight times the text may take at most ten times the calls, counting at least one a character.

    Squared growth would take 64 times.
    """
    short, long = unit * (1000 // len(unit)), unit * (8000 // len(unit))
    find_lengths("warm 1")
    assert work(long) < 10 * max(work(short), len(short))


def test_a_megabyte_of_digits_is_one_code() -> None:
    (found,) = find_lengths("7" * 1_000_000)
    assert (found.kind, found.what) == ("other", "code")


@pytest.mark.parametrize(
    "text",
    [
        "one point " + "two " * 6000,
        "one point " + "oh " * 6000 + "twelve",
        "9" * 5000 + "." + "9" * 5000,
        "1/" + "0" * 5000,
        "six " * 3000 + "feet",
        "billion " * 3000,
        "1." + "3" * 39,
        "¼/",
        "0:",
        "58point12,400",
        "(" * 5000 + "5" + "(" * 5000,
        "\ufeff5\u200f'\u202e 6\U0001f600",
    ],
    ids=lambda text: text[:12],
)
def test_strange_texts_are_accounted_for(text: str) -> None:
    found = find_lengths(text)
    assert all(number.start < number.end for number in read_numbers(text))
    for field in ("run", "offset", "none"):
        for one in found:
            settle(one, field)  # type: ignore[arg-type]
            settle(one, field, metric=True)  # type: ignore[arg-type]
    for start, end in every_numeral(text):
        assert any(one.start <= start and end <= one.end for one in found)

"""The data files: complete, and errors that name file and entry."""

from __future__ import annotations

from importlib.resources import files

import pytest

from gutterance.measure.vocabulary import WORDS_FILE, WordsError, load, vocabulary

HERE = files("gutterance.measure")
WORDS = HERE.joinpath(WORDS_FILE).read_text(encoding="utf-8")
UNITS = "inch = [length] = in\nfoot = 12 * inch = ft"


@pytest.mark.parametrize(
    ("good", "bad", "says"),
    [
        ("six = 6", 'six = "6"', r"\[cardinals\] six"),
        ("six = 6", "Six = 6", "lower case"),
        ('kind = "over"', 'kind = "above"', r"\[\[qualifier\]\] 1: kind is 'above'"),
        ("[13, 30]", "[13, 30, 31]", r"pairs: \[13, 30, 31\]"),
        ('months = ["january"', "months = [1", r"\[other\] months: 1 is not a word"),
        ('months = ["january"', 'months = ["January"', "lower case"),
        ("[scales]", "[scale]", r"\[scales\] is missing"),
        ("six = 6", "six = ", r"words\.toml"),
        ('sqft = "square feet"', "sqft = 2", r"\[quantity\] sqft"),
    ],
)
def test_a_bad_entry_is_named(good: str, bad: str, says: str) -> None:
    assert good in WORDS
    with pytest.raises(WordsError, match=says):
        load(WORDS.replace(good, bad, 1), UNITS)


def test_mishearings_go_both_ways() -> None:
    kin = vocabulary().kin
    assert kin[15] == 50
    assert all(kin[other] == number for number, other in kin.items())


def test_a_new_word_needs_no_code() -> None:
    words = load(WORDS.replace("six = 6", "six = 6\nsax = 6", 1), UNITS)
    assert words.cardinals["sax"] == 6

"""Numbers heard as other words: where they are put right, where not, and what a bad repairs file says."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.reading.repairs import RepairsError, repair_numbers, rules_from_toml

ROW = "[[repair]]\nheard = [\"tree\"]\nmeans = \"3\"\nbefore = '\\b'\nafter = '(?=\\s+foot\\b)'\n"


@pytest.mark.parametrize(
    ("text", "repaired"),
    [
        ("28 foot for outside corners", "28 foot 4   outside corners"),
        ("twenty feet to, caps", "twenty feet 2 , caps"),
        ("ate foot two", "8   foot two"),
        ("front has to drops", "front has 2  drops"),
        ("Won foot six", "1   foot six"),
    ],
)
def test_put_right_with_every_other_character_in_its_place(text: str, repaired: str) -> None:
    after, done = repair_numbers(text)
    assert after == repaired
    (one,) = done
    assert text[one.start : one.end] == one.heard
    assert after[one.start : one.end].strip() == one.means


@pytest.mark.parametrize(
    "text",
    [
        "go to the back",
        "for the porch",
        "we ate lunch",
        "she won the raffle",
        "twenty feet to the corner",
        "too high",
        "8 foot four",
    ],
)
def test_ordinary_words_stay(text: str) -> None:
    assert repair_numbers(text) == (text, [])


@given(st.text(max_size=80))
@settings(max_examples=100, deadline=None)
def test_no_text_changes_its_length(text: str) -> None:
    after, done = repair_numbers(text)
    assert len(after) == len(text)
    assert done or after == text


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (ROW.replace('means = "3"\n', ""), ["repair 1", "means"]),
        (ROW + ROW.replace("after", "behind"), ["repair 2", "after"]),
        (ROW.replace("'\\b'", "'(?:'"), ["repair 1"]),
        (ROW.replace('["tree"]', "3"), ["repair 1"]),
        (ROW.replace('"3"', '"thirty"'), ["repair 1"]),
    ],
)
def test_a_bad_row_names_the_file_and_itself(text: str, says: list[str]) -> None:
    with pytest.raises(RepairsError) as error:
        rules_from_toml(text, "own.toml")
    assert all(words in str(error.value) for words in ["own.toml", *says]), str(error.value)


def test_a_file_that_is_no_toml_is_named() -> None:
    with pytest.raises(RepairsError, match=r"own\.toml"):
        rules_from_toml("[[repair]\n", "own.toml")

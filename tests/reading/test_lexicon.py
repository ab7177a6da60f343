"""The trade's words as a data file: what is wrong in one is named."""

from __future__ import annotations

import pytest

from gutterance.reading.lexicon import (
    CONCEPTS,
    LexiconError,
    built_in_terms,
    kinds,
    terms_from_toml,
)

GOOD = '[[term]]\nconcept = "outlet"\nvalue = "outlet"\nwords = ["snout"]\n'


def test_every_built_in_term_is_of_a_known_concept_and_stands_once() -> None:
    terms = built_in_terms()
    assert {term.concept for term in terms} <= CONCEPTS
    phrases = [term.phrase.lower() for term in terms]
    assert len(phrases) == len(set(phrases))


def test_every_concept_has_a_name_for_the_list_of_words() -> None:
    assert set(kinds()) == CONCEPTS
    assert len(set(kinds().values())) == len(CONCEPTS)


def test_a_good_term() -> None:
    (term,) = terms_from_toml(GOOD, "shop.toml")
    assert (term.phrase, term.concept, term.value) == ("snout", "outlet", "outlet")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[[term]\n", ["not a TOML file"]),
        ("", ["no [[term]]"]),
        ("term = 3\n", ["no [[term]]"]),
        ("term = [3]\n", ["term 1", "not a table"]),
        (GOOD + GOOD.replace("outlet", "hole", 1), ["term 2", "'hole'", "not one of"]),
        (GOOD.replace("outlet", "spigot", 1), ["term 1", "'spigot'"]),
        (GOOD + 'colour = "red"\n', ["term 1", "'colour'"]),
        (GOOD + 'way = "sideways"\n', ["term 1", "'sideways'"]),
        (GOOD.replace('["snout"]', '"snout"'), ["term 1", "words"]),
        (GOOD.replace('"snout"', '" "'), ["term 1", "words"]),
        (GOOD.replace('value = "outlet"', "value = 3"), ["term 1", "value"]),
        (GOOD + GOOD, ["term 2", "'snout'", "term 1"]),
    ],
)
def test_a_bad_file_names_itself_and_the_term(text: str, says: list[str]) -> None:
    with pytest.raises(LexiconError) as error:
        terms_from_toml(text, "shop.toml")
    assert all(words in str(error.value) for words in ["shop.toml", *says]), str(error.value)


@pytest.mark.parametrize(
    ("phrase", "plural"),
    [("drops", True), ("outside corners", True), ("cross", False), ("o/s", False), ("drop", False)],
)
def test_words_for_more_than_one(phrase: str, plural: bool) -> None:
    (term,) = terms_from_toml(GOOD.replace("snout", phrase), "shop.toml")
    assert term.plural is plural

"""The trade's words as a data file: what is wrong in one is named, and a shop's own words add to them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from gutterance.reading.lexicon import (
    CONCEPTS,
    LexiconError,
    built_in_terms,
    load_terms,
    terms_from_toml,
)

if TYPE_CHECKING:
    from pathlib import Path

GOOD = '[[term]]\nconcept = "outlet"\nvalue = "outlet"\nwords = ["snout"]\n'


def test_every_built_in_term_is_of_a_known_concept_and_stands_once() -> None:
    terms = built_in_terms()
    assert {term.concept for term in terms} <= CONCEPTS
    phrases = [term.phrase.lower() for term in terms]
    assert len(phrases) == len(set(phrases))


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


def test_a_shops_words_are_added(tmp_path: Path) -> None:
    own = tmp_path / "words.toml"
    own.write_text(GOOD, encoding="utf-8")
    terms = load_terms(own)
    assert len(terms) == len(built_in_terms()) + 1
    assert terms[-1].phrase == "snout"


def test_a_clash_with_a_built_in_word_names_both(tmp_path: Path) -> None:
    own = tmp_path / "words.toml"
    own.write_text('[[term]]\nconcept = "end"\nvalue = "wall"\nwords = ["Downspout"]\n', encoding="utf-8")
    with pytest.raises(LexiconError) as error:
        load_terms(own)
    for words in ("words.toml", "'Downspout'", "end 'wall'", "downpipe"):
        assert words in str(error.value)


def test_the_same_meaning_again_is_no_clash(tmp_path: Path) -> None:
    downspout = next(term for term in built_in_terms() if term.phrase == "downspout")
    own = tmp_path / "words.toml"
    own.write_text(
        f'[[term]]\nconcept = "{downspout.concept}"\nvalue = "{downspout.value}"\nwords = ["downspout"]\n',
        encoding="utf-8",
    )
    assert len(load_terms(own)) == len(built_in_terms())


@pytest.mark.parametrize(
    ("phrase", "plural"),
    [("drops", True), ("outside corners", True), ("cross", False), ("o/s", False), ("drop", False)],
)
def test_words_for_more_than_one(phrase: str, plural: bool) -> None:
    (term,) = terms_from_toml(GOOD.replace("snout", phrase), "shop.toml")
    assert term.plural is plural

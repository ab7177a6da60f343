"""Abbreviations that nobody listed: `drps`, `crnr`, `soff`, `ovhg`, taken for the one trade word they can be.

Crews drop vowels, and break words off. A word that is in no list is held against the trade's words: its
consonants in order, or its first letters. Where two words of different meaning fit, it stays unknown.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.reading.lexicon import Term

SHORTENED = frozenset(
    {"all", "colour", "corner", "cue", "direction", "downpipe", "end", "end word", "ends at", "except", "lr",
     "material", "outlet", "profile", "run noun", "same", "side"}
)  # fmt: skip
"""Concepts whose words are shortened: what stands in every note. Parts of a house are too many: `crt`."""
BROKEN_OFF = frozenset({"cue", "material", "outlet", "corner", "run noun"})
"""Concepts whose words are broken off: the beginnings of others are English words (`under`, `square`)."""
VOWELS = frozenset("aeiou")
SHORTEST_WORD = 4
"""Words of fewer letters are written out."""
SHORTEST_BEGINNING = 4
"""So many first letters are enough for a word: `soff`, `alum`. Three begin too many English words."""
SHORTEST, LONGEST = 3, 7
"""How many letters an abbreviation has."""
MOST_LEFT_OUT = 1
"""How many consonants may be left out besides the vowels: `ctr` for centre."""


class Abbreviations:
    """The trade's words as their abbreviations may be."""

    def __init__(self, terms: Iterable[Term]) -> None:
        self._by_letter: dict[str, list[tuple[str, str, Term]]] = {}
        for term in terms:
            word = term.phrase.lower()
            if term.concept in SHORTENED and not term.cased and len(word) >= SHORTEST_WORD and word.isalpha():
                self._by_letter.setdefault(word[0], []).append((word, consonants(word), term))
        self.term_of = lru_cache(maxsize=2048)(self._term_of)

    def _term_of(self, word: str) -> Term | None:
        """The one trade word that this can be short for, or None."""
        if not (SHORTEST <= len(word) <= LONGEST and word.isascii() and word.isalpha()):
            return None
        near = self._by_letter.get(word[0], [])
        bare = not VOWELS & set(word[1:])
        same = [term for _, bones, term in near if bare and bones == _single(word)]
        begun = [
            term
            for full, _, term in near
            if len(word) >= SHORTEST_BEGINNING
            and word[-1] not in VOWELS
            and term.concept in BROKEN_OFF
            and full.startswith(word)
            and len(full) - len(word) > 1
        ]
        loose = [term for _, bones, term in near if bare and _is_within(_single(word), bones)]
        for fitting in (same, begun, loose):
            if fitting:
                return fitting[0] if len({(term.concept, term.value) for term in fitting}) == 1 else None
        return None


def consonants(word: str) -> str:
    """A word's first letter and its consonants, none doubled.

    >>> consonants("corner"), consonants("overhang"), consonants("copper")
    ('crnr', 'ovrhng', 'cpr')
    """
    return _single(word[0] + "".join(letter for letter in word[1:] if letter not in VOWELS))


def _single(word: str) -> str:
    return "".join(letter for place, letter in enumerate(word) if not place or word[place - 1] != letter)


def _is_within(short: str, bones: str) -> bool:
    """Whether the letters of one stand in the other in order, from its first to its last."""
    if len(short) < 3 or short[0] != bones[0] or short[-1] != bones[-1]:
        return False
    letters = iter(bones)
    return all(letter in letters for letter in short) and len(bones) - len(short) <= MOST_LEFT_OUT

"""What words do in a sentence, as data: loaded from `words.toml`, the longest phrase first."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

from gutterance.reading.lexicon import built_in_terms

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

KINDS = frozenset(
    {
        "direction", "flank", "flanks", "flank of part", "face of part", "hand", "side", "run noun",
        "the house", "near", "it", "its", "which", "each", "of all", "in order", "former", "latter", "is",
        "measures", "length", "length behind", "drops", "height behind", "stands out", "out behind", "board",
        "distance behind", "wide", "end", "boundary", "corner", "turns", "pipe", "pipes", "goes to", "dest",
        "has", "no", "join", "same", "about other things", "doubt", "taken back", "next door",
        "one of a pair", "as seen", "landmark", "det", "prep", "one", "count", "part", "storey",
    }
)  # fmt: skip
"""What words may do in a sentence. A file that names another is refused."""
TAKEN_OVER = {"part": "part", "direction": "direction", "storey": "storey", "ends at": "dest"}
"""The concepts of the trade's lexicon whose words hold in sentences too, and the kind they are there."""
SHORTEST_TAKEN_OVER = 4
"""Shorter words of the lexicon are abbreviations, which no sentence has."""
WORD = re.compile(r"['’]s\b|[^\W_]+(?:['’](?!s\b)[^\W_]+)?|[.,;:()!?—–]")
"""A word of a sentence, or a mark."""


class WordsError(ValueError):
    """A file of words that cannot be used; the message names the row."""


@dataclass(slots=True)
class Node:
    """A place in the tree of phrases: what may follow, and what the phrase that ends here does."""

    next: dict[str, Node] = field(default_factory=dict)
    says: tuple[str, str] | None = None


def spelled(text: str) -> list[str]:
    """The words of a phrase as they are compared: small, with hyphens as blanks.

    >>> spelled("next door's left-hand end")
    ['next', 'door', "'s", 'left', 'hand', 'end']
    """
    return [word.replace("’", "'").lower() for word in WORD.findall(text)]


@cache
def phrases() -> Node:
    """All phrases as a tree by their words: those of the lexicon, and over them those of `words.toml`."""
    root = Node()
    for term in built_in_terms():
        kind = TAKEN_OVER.get(term.concept)
        plain = len(term.phrase) >= SHORTEST_TAKEN_OVER and re.fullmatch(r"[A-Za-z' -]+", term.phrase)
        if kind is not None and plain and not term.cased:
            _add(root, spelled(term.phrase), (kind, term.value))
    text = resources.files("gutterance.reading.prose").joinpath("words.toml").read_text("utf-8")
    for phrase, kind, value in rows(text, "words.toml"):
        for words in _spellings(phrase.split()):
            _add(root, spelled(" ".join(words)), (kind, value))
    return root


def rows(text: str, name: str) -> Iterator[tuple[str, str, str]]:
    """Each phrase of a file with its kind and value. Raises WordsError naming the row that is wrong."""
    for number, row in enumerate(tomllib.loads(text).get("says", []), start=1):
        kind, words = row.get("kind"), row.get("words")
        if kind not in KINDS:
            raise WordsError(f"{name}, row {number}: kind {kind!r} is not one of: {', '.join(sorted(KINDS))}")
        if not isinstance(words, list) or not all(isinstance(word, str) and word.strip() for word in words):
            raise WordsError(f"{name}, row {number}: words must be a list of texts")
        for phrase in words:
            yield phrase, kind, row.get("value", "")


def longest(words: Sequence[str], start: int) -> tuple[int, tuple[str, str]] | None:
    """The longest phrase that begins at a word: the word behind it, and what it does; or None."""
    node, best = phrases(), None
    for place in range(start, len(words)):
        following = node.next.get(words[place])
        if following is None:
            break
        node = following
        if node.says is not None:
            best = (place + 1, node.says)
    return best


def _spellings(words: list[str]) -> Iterator[list[str]]:
    """A phrase with and without each word that may be left out."""
    if not words:
        yield []
        return
    for rest in _spellings(words[1:]):
        yield [words[0].removesuffix("?"), *rest]
        if words[0].endswith("?"):
            yield rest


def _add(root: Node, words: list[str], says: tuple[str, str]) -> None:
    node = root
    for word in words:
        node = node.next.setdefault(word, Node())
    node.says = says

"""The trade's words as data: loaded from `lexicon.toml`, checked, and looked up by phrase."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

CONCEPTS = frozenset(
    {
        "all", "angle word", "clockwise", "colour word", "colour", "compass corner", "corner",
        "count of", "cue", "direction", "downpipe", "elbow", "end pair", "end word", "end", "ends at",
        "except", "falls to", "far end", "fascia", "filler", "fix", "heading", "hedge", "high point",
        "initial", "landmark", "lr", "material", "mirror", "near end", "next run", "no cap", "no",
        "north mark", "other side", "outlet", "part", "pipe size", "profile", "quarter", "remark", "rest",
        "run noun", "same", "side", "storey", "total", "unknown", "walk", "was", "withdraw",
    }
)  # fmt: skip
"""What a term may be. A lexicon file that names another concept is refused."""

WAYS = frozenset({"before", "after", "both"})
"""Where the number of a cue may stand: the cue before it, after it, or either."""

END_VALUES = ("outside corner", "inside corner", "end cap", "wall", "splice")
"""How a run may end."""


class LexiconError(ValueError):
    """A lexicon file that cannot be used; the message names the file and the term."""


@dataclass(frozen=True, slots=True)
class Term:
    """One phrase of the trade: the kind of thing it says, the value the sheet writes, and its spelling.

    `own` is the shop's file it comes from, empty for a built-in one; `heard_for` the words that a recogniser
    should have written in its place.
    """

    phrase: str
    concept: str
    value: str
    way: str = "both"
    cased: bool = False
    own: str = ""
    heard_for: str = ""

    @property
    def plural(self) -> bool:
        """Whether the words speak of more than one (`outside corners`, `drops`)."""
        last = self.phrase.lower().rsplit(" ", 1)[-1]
        return (
            last.endswith("s")
            and not last.endswith("ss")
            and last not in {"o/s", "i/s", "os", "is", "ds", "d/s"}
        )


@cache
def built_in_terms() -> tuple[Term, ...]:
    """The terms that come with the program."""
    return terms_from_toml(_built_in_text(), "lexicon.toml")


@cache
def short_ends() -> dict[str, str]:
    """The letters that say an end in a pair of ends (`w-w`, `se/ex`), and the end each says."""
    return short_ends_from_toml(_built_in_text(), "lexicon.toml")


def short_ends_from_toml(text: str, name: str) -> dict[str, str]:
    """Read the [[short_end]] tables of a lexicon's text. Raises LexiconError naming the one that is wrong."""
    found: dict[str, str] = {}
    for number, row in enumerate(tomllib.loads(text).get("short_end", []), start=1):
        words, value = row.get("words"), row.get("value")
        if value not in END_VALUES:
            raise LexiconError(
                f"{name}, short_end {number}: {value!r} is no end; one of: {', '.join(END_VALUES)}"
            )
        if not isinstance(words, list) or not all(isinstance(word, str) and word.strip() for word in words):
            raise LexiconError(f"{name}, short_end {number}: words must be a list of texts")
        for word in words:
            if found.setdefault(word.lower(), value) != value:
                raise LexiconError(f"{name}, short_end {number}: {word!r} already says {found[word.lower()]}")
    return found


@cache
def kinds() -> dict[str, str]:
    """What each concept is called in a list of the words, in the order of that list."""
    names: dict[str, str] = tomllib.loads(_built_in_text())["kinds"]
    return names


def _built_in_text() -> str:
    return resources.files("gutterance.reading").joinpath("lexicon.toml").read_text("utf-8")


def terms_from_toml(text: str, name: str) -> tuple[Term, ...]:
    """Read a lexicon's text. Raises LexiconError naming the file and the term that is wrong."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LexiconError(f"{name}: not a TOML file: {error}") from error
    rows = data.get("term")
    if not isinstance(rows, list):
        raise LexiconError(f"{name}: has no [[term]]: each trade word stands in one")
    terms: list[Term] = []
    seen: dict[str, int] = {}
    for number, row in enumerate(rows, start=1):
        for term in _row_terms(row, f"{name}, term {number}"):
            key = term.phrase.lower()
            if key in seen:
                raise LexiconError(
                    f"{name}, term {number}: {term.phrase!r} stands already in term {seen[key]}"
                )
            seen[key] = number
            terms.append(term)
    return tuple(terms)


def _row_terms(row: Any, where: str) -> list[Term]:
    if not isinstance(row, dict):
        raise LexiconError(f"{where}: is not a table")
    unknown = set(row) - {"concept", "value", "words", "way", "cased"}
    if unknown:
        raise LexiconError(
            f"{where}: unknown key {sorted(unknown)[0]!r}; a term has concept, value, words, way"
        )
    concept, value, words, way = (
        row.get("concept"),
        row.get("value", ""),
        row.get("words"),
        row.get("way", "both"),
    )
    if concept not in CONCEPTS:
        raise LexiconError(f"{where}: concept {concept!r} is not one of: {', '.join(sorted(CONCEPTS))}")
    if way not in WAYS:
        raise LexiconError(f"{where}: way {way!r} is not one of: before, after, both")
    if not isinstance(words, list) or not all(isinstance(word, str) and word.strip() for word in words):
        raise LexiconError(f"{where}: words must be a list of texts")
    if not isinstance(value, str):
        raise LexiconError(f"{where}: value must be a text")
    cased = row.get("cased", False) is True
    return [Term(word, concept, value or word.lower(), way, cased) for word in words]

"""What a remark is about: a hazard, a repair, access, the customer, materials, or something else.

Each word that makes words a remark says a kind; phrases outweigh single words, and words that stand in
remarks of every kind weigh least. What weighs most is the kind (`remark_kinds.toml`).
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, get_args

from gutterance.reading.lexicon import LexiconError
from gutterance.sheet.values import RemarkKind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.reading.items import Item

KINDS: tuple[RemarkKind, ...] = get_args(RemarkKind)
"""The kinds there are, of two that weigh the same the first: who may be hurt is told before all else."""
BETWEEN = re.compile(r"[,;.!]\s+|\s+-\s+|\s+(?:and|so|but)\s+", re.IGNORECASE)
"""What may stand between things of two kinds in one remark."""
FEWEST_WORDS = 2
"""A part of a remark that stands for itself has so many words at least."""
PHRASE, WORD, WEAK = 6, 4, 1
"""What a phrase, a trade word and a weak word weigh."""


@dataclass(frozen=True, slots=True, eq=False)
class KindWords:
    """The phrases of each kind, and the words that weigh least."""

    phrases: dict[RemarkKind, re.Pattern[str]]
    weak: frozenset[str]


@cache
def built_in_kinds() -> KindWords:
    """The words that come with the program."""
    text = resources.files("gutterance.reading").joinpath("remark_kinds.toml").read_text("utf-8")
    return kinds_from_toml(text, "remark_kinds.toml")


def kinds_from_toml(text: str, name: str) -> KindWords:
    """Read a file of phrases and weak words. Raises LexiconError naming the file and the wrong row."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LexiconError(f"{name}: not a TOML file: {error}") from error
    phrases: dict[RemarkKind, re.Pattern[str]] = {}
    for number, row in enumerate(data.get("phrase", []), start=1):
        words, kind = row.get("words"), row.get("kind")
        if kind not in KINDS or kind in phrases:
            raise LexiconError(
                f"{name}, phrase {number}: {kind!r} is not one of {', '.join(KINDS)}, each once"
            )
        if not isinstance(words, list) or not words or not all(isinstance(one, str) and one for one in words):
            raise LexiconError(f"{name}, phrase {number}: words must be a list of texts")
        spelt = "|".join(re.escape(one.lower()) for one in sorted(words, key=len, reverse=True))
        phrases[kind] = re.compile(rf"(?<!\w)(?:{spelt})(?!\w)")
    weak = data.get("weak", {}).get("words", [])
    if not isinstance(weak, list) or not all(isinstance(one, str) for one in weak):
        raise LexiconError(f"{name}, weak: words must be a list of texts")
    return KindWords(phrases, frozenset(weak))


def remark_kind(items: Iterable[Item], words: str, otherwise: RemarkKind = "other") -> RemarkKind:
    """The kind of a remark in those words, whose items are these; `otherwise` where nothing in it says one.

    >>> from gutterance.reading.pipeline import pipeline
    >>> said = "trampoline in the way, someone has to shift it"
    >>> remark_kind(pipeline().line(1, said).items, said)
    'access'
    """
    weights = _weights(items, words)
    if not weights:
        return otherwise
    return max(KINDS, key=lambda kind: (weights.get(kind, 0), -KINDS.index(kind)))


def parts_by_kind(items: list[Item], words: str) -> list[tuple[int, int]]:
    """The parts of a remark that are about things of different kinds, as places in its words.

    >>> from gutterance.reading.pipeline import pipeline
    >>> said = "dog in back yd, call ahead first"
    >>> [said[start:end] for start, end in parts_by_kind(pipeline().line(1, said).items, said)]
    ['dog in back yd', 'call ahead first']
    """
    cuts = [match.span() for match in BETWEEN.finditer(words)]
    pieces = list(
        zip([0, *(after for _, after in cuts)], [*(start for start, _ in cuts), len(words)], strict=True)
    )
    parts: list[tuple[int, int]] = []
    kind: RemarkKind | None = None
    for start, end in pieces:
        inside = [item for item in items if start <= item.start < end]
        weights = _weights(inside, words[start:end])
        here = remark_kind(inside, words[start:end]) if max(weights.values(), default=0) >= WORD else None
        long = len(words[start:end].split()) >= FEWEST_WORDS
        if parts and (here is None or here == kind or kind is None or not long):
            parts[-1] = (parts[-1][0], end)
            kind = kind or here
        else:
            parts.append((start, end))
            kind = here
    return parts


def _weights(items: Iterable[Item], words: str) -> dict[RemarkKind, int]:
    """How much the words of a remark weigh for each kind."""
    known = built_in_kinds()
    weights: dict[RemarkKind, int] = {}
    for item in items:
        if item.kind == "remark" and item.value in KINDS:
            weight = WEAK if item.text.lower() in known.weak else WORD
            weights[item.value] = weights.get(item.value, 0) + weight
    plain = words.lower().replace("’", "'")
    for kind, phrases in known.phrases.items():
        for _ in phrases.finditer(plain):
            weights[kind] = weights.get(kind, 0) + PHRASE
    return weights

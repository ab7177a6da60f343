"""Which lines of a note are told in long grammatical sentences, and where those begin and end."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.items import Line

WORDS = re.compile(r"[A-Za-z'’]+")
FEWEST_WORDS = 60
"""A paragraph of a long message has so many words at least ..."""
LONGEST_MEAN = 15
"""... and so many words to a sentence on average."""
SHORTEST_MEAN = 10
"""In a note with such paragraphs, others with so many words to a sentence are told the same way."""
FEWEST_VERBS = 0.06
"""At least this share of its words are verbs and little words that only a grammatical sentence has."""
GRAMMAR = frozenset(
    {"is", "are", "has", "have", "was", "runs", "which", "measures", "goes", "it", "comes", "that", "where",
     "whereas", "while", "being", "and", "but"}
)  # fmt: skip
"""Words that a grammatical sentence has and shorthand leaves out."""
CHATTER = re.compile(
    r"\b(?:um|uh|erm|okay|ok|wait|scratch that|hang on|gonna|yeah|no no|let me see)\b", re.IGNORECASE
)
"""Words of someone talking, who does not speak in sentences."""
STOP = re.compile(r"(?:(?<=[a-z)'’\d])[.!?](?=\s+[A-Z\"“(]|\s*\Z))")
"""The end of a sentence: a full stop behind a word, before a capital."""
NO_STOP = re.compile(r"\b(?:mr|mrs|ms|dr|st|no|nr|approx|incl|e\.g|i\.e)\Z", re.IGNORECASE)
"""What a full stop stands behind without ending a sentence."""


def prose_lines(lines: list[Line]) -> frozenset[int]:
    """The numbers of the lines told in long sentences: none unless a whole paragraph of the note is."""
    if any(CHATTER.search(line.text) for line in lines):
        return frozenset()
    long = [line for line in lines if _is_long(line.text)]
    words = sum(len(WORDS.findall(line.text)) for line in long)
    sentences = sum(len(sentences_of(line.text)) for line in long)
    if not long or words < LONGEST_MEAN * sentences:
        return frozenset()
    return frozenset(line.number for line in lines if _is_told(line.text))


def _is_long(text: str) -> bool:
    words = WORDS.findall(text)
    grammar = sum(word.lower() in GRAMMAR for word in words)
    return len(words) >= FEWEST_WORDS and grammar >= FEWEST_VERBS * len(words) and _is_told(text)


def _is_told(text: str) -> bool:
    """Whether a line is made of long sentences."""
    words = WORDS.findall(text)
    sentences = sentences_of(text)
    return bool(words) and len(words) >= SHORTEST_MEAN * len(sentences) and text.rstrip()[-1:] in ".!?)"


def sentences_of(text: str) -> list[tuple[int, int]]:
    """Where each sentence of a line begins and ends."""
    spans: list[tuple[int, int]] = []
    start = 0
    for stop in STOP.finditer(text):
        if NO_STOP.search(text, start, stop.start()):
            continue
        spans.append((start, stop.end()))
        start = stop.end()
    if text[start:].strip():
        spans.append((start, len(text)))
    return spans

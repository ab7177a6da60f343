"""Where on a line of a form its labels and their answers stand, told by its marks, gaps and known labels."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.reading.labels import known_label

if TYPE_CHECKING:
    from gutterance.reading.labels import Label

PARTED = re.compile(
    r"(?P<sep>\s*(?:\.{3,}|…+|(?:\.\s){2,}\.?|(?<!\d)\s*:(?!\d|//|\S)|=(?![=>])"
    r"|(?<=\w)\s*\[\s*(?=[^\[\]]{2,}\]|[^xX✓✔*vV_\s\]]\s*\])(?![^\[\]]*\]\s*\[))\s*)"
    r"|(?P<gap> {2,}|\s*\t\s*|\s+\|\s+)"
)
"""What parts the stretches of a line: a mark behind a label, or a gap."""
NAMES_THE_CHOICE = frozenset({"circle", "circled", "ringed", "chosen", "ticked", "ans", "answer"})
"""What is no label, but says which of the choices before it was taken."""
OPTIONS = re.compile(r"(?P<label>[A-Za-z][A-Za-z ./]*?)\s*\[(?=[^\[\]]+\]\s*\[)")
"""`STYLE [K] [HR] [BOX]`: a label with choices in brackets."""
LONGEST_PREFIX = 4
"""A label right before its answer, with one blank between, has no more words than this."""


@dataclass(frozen=True, slots=True)
class Field:
    """A label and its answer on one line: where each begins and ends. `marked`: a mark stands between."""

    start: int
    end: int
    answer: int
    answer_end: int
    label: Label | None
    marked: bool
    parted: bool = True
    """Whether more than one blank, or a mark, stands between."""

    def asks(self) -> frozenset[str]:
        """What the label may ask of a run."""
        if self.label is None:
            return frozenset()
        return frozenset(meaning.field for meaning in self.label.meanings if meaning.of == "run")


def fields_of(text: str, start: int = 0, end: int | None = None) -> list[Field]:
    """The labels of a stretch of a line, each with its answer up to the next.

    >>> line = "Left end: cap      Right end   stop end"
    >>> [(line[f.start : f.end], line[f.answer : f.answer_end]) for f in fields_of(line)]
    [('Left end', 'cap'), ('Right end', 'stop end')]
    """
    end = len(text.rstrip()) if end is None else end
    chunks = _chunks(text, start, end)
    found: list[tuple[int, int, int, Label | None, bool]] = []
    for number, (first, last, after) in enumerate(chunks):
        words = text[first:last]
        if not words.strip():
            continue
        label = known_label(words) if "[" not in words else None
        if after == "sep" and found and words.strip().lower() in NAMES_THE_CHOICE:
            continue  # `SIZE 5 / 6   circle: 6`
        options = OPTIONS.match(words) if label is None else None
        if options is not None and known_label(options["label"]) is not None:
            end_of_label = first + options.end("label")
            start_of_answer = first + options.end() - 1
            found.append((first, end_of_label, start_of_answer, known_label(options["label"]), False))
        elif after == "sep":
            found.append((first, last, _next_start(chunks, number, end), label, True))
        elif (
            label is not None and label.side is None and number + 1 < len(chunks) and not _waits(found, first)
        ):
            found.append((first, last, _next_start(chunks, number, end), label, False))
        elif not _waits(found, first):
            prefix = _prefix(text, first, last)
            if prefix is not None:
                found.append((first, prefix[0], prefix[1], prefix[2], False))
    fields = []
    for number, (first, last, answer, label, marked) in enumerate(found):
        stop = found[number + 1][0] if number + 1 < len(found) else end
        answer = min(answer, stop)
        fields.append(
            Field(
                first,
                last,
                answer,
                answer + len(text[answer:stop].rstrip()),
                label,
                marked,
                text[last:answer] != " ",
            )
        )
    return fields


def _waits(found: list[tuple[int, int, int, Label | None, bool]], here: int) -> bool:
    """Whether the label before still waits for its answer, which begins here."""
    return bool(found) and found[-1][2] == here


def _next_start(chunks: list[tuple[int, int, str]], number: int, end: int) -> int:
    return chunks[number + 1][0] if number + 1 < len(chunks) else end


def _chunks(text: str, start: int, end: int) -> list[tuple[int, int, str]]:
    """The stretches between the marks, each with the kind of mark behind it."""
    chunks: list[tuple[int, int, str]] = []
    here = start + len(text[start:end]) - len(text[start:end].lstrip())
    for mark in PARTED.finditer(text, here, end):
        if mark.start() < here:
            continue
        chunks.append((here, mark.start(), mark.lastgroup or ""))
        here = mark.end()
    if here < end:
        chunks.append((here, end, ""))
    return chunks


def _prefix(text: str, first: int, last: int) -> tuple[int, int, Label] | None:
    """`length 11 850`: a label that one blank parts from its answer."""
    ends = [match.end() for match in re.finditer(r"\S+", text[first:last])]
    for cut in reversed(ends[:-1][:LONGEST_PREFIX]):
        label = known_label(text[first : first + cut])
        if label is None or label.side is not None or cut <= 1 or not label.of_run():
            continue
        if any(meaning.field in ("run", "mark", "pipe", "note") for meaning in label.meanings):
            continue
        rest = text[first + cut : last]
        return first + cut, first + cut + len(rest) - len(rest.lstrip()), label
    return None

"""The lines of a form's page in the order in which they are read: its two halves one after the other."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.reading.form_fields import fields_of
from gutterance.reading.form_marks import LONGEST_LINE
from gutterance.reading.labels import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

FEWEST_TWICE = 3
"""So many lines with the same label twice make two halves."""
ASKEW = 3
"""How far [characters] a column on paper may stray."""


@dataclass(slots=True)
class Strip:
    """A stretch of a given line that belongs together: a line, or its part in one half of the page."""

    number: int
    start: int
    end: int


def strips_of(texts: Sequence[str]) -> list[Strip]:
    """The lines of the page in the order in which they are to be read, halves one after the other."""
    strips: list[Strip] = []
    paragraph: list[int] = []
    for number, text in enumerate([*texts, ""], start=1):
        if text.strip() and number <= len(texts):
            paragraph.append(number)
            continue
        column = _second_half(texts, paragraph)
        if column is None:
            strips += [Strip(one, 0, len(texts[one - 1])) for one in paragraph]
        else:
            strips += _halves(texts, paragraph, column)
        paragraph = []
        if number <= len(texts):
            strips.append(Strip(number, 0, len(text)))
    return strips


def _second_half(texts: Sequence[str], paragraph: list[int]) -> int | None:
    """The column at which the second half begins, where lines have one label twice."""
    columns: list[int] = []
    for number in paragraph:
        text = texts[number - 1]
        fields = fields_of(text) if len(text) <= LONGEST_LINE else []
        words = [plain(text[field.start : field.end]) for field in fields if field.label is not None]
        if len(words) == len(fields) == 2 and words[0] == words[1]:
            columns.append(fields[1].start)
    if len(columns) < FEWEST_TWICE or max(columns) - min(columns) > ASKEW:
        return None
    return min(columns)


def _halves(texts: Sequence[str], paragraph: list[int], column: int) -> list[Strip]:
    """The strips of a page's left half, then those of its right half."""
    left: list[Strip] = []
    right: list[Strip] = []
    for number in paragraph:
        text = texts[number - 1]
        cut = next(
            (gap.end() for gap in re.finditer(r"\s{2,}|\|\s*", text) if abs(gap.end() - column) <= ASKEW),
            None,
        )
        if cut is None:
            (left if not right or len(text.rstrip()) <= column else right).append(Strip(number, 0, len(text)))
            continue
        left.append(Strip(number, 0, cut))
        right.append(Strip(number, cut, len(text)))
    return left + right

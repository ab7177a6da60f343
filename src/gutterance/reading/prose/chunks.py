"""A sentence as chunks: phrases that do something in it, numbers, marks, and other words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.prose.words import WORD, longest

if TYPE_CHECKING:
    from gutterance.reading.items import Line
    from gutterance.sheet.models import Source

LARGEST_COUNT = 12
"""A number in letters up to this, with no unit, counts."""
FULL_STOPS = frozenset({".", "!", "?"})
"""Marks at the end of a sentence, behind which it says nothing."""
ROOF_DOES = frozenset({"stands out", "is", "measures"})
"""Kinds of chunks behind `the porch roof` where it is told of, and no pipe runs out on to it."""
MARKS = {",": "comma", ";": "semi", ":": "semi", "(": "comma", ")": "comma", "—": "comma", "–": "comma"}
"""Marks within a sentence, by how they part it."""


@dataclass(slots=True)
class Chunk:
    """A phrase of a sentence: what it does there, its place in the line, and its number where it is one."""

    kind: str
    value: str
    start: int
    end: int
    text: str
    measure: Item | None = None

    def item(self, line: Line) -> Item:
        """The chunk as an item of its line, to be the source of a value."""
        return Item(
            line.number,
            self.start,
            self.end,
            line.text[self.start : self.end],
            self.kind,
            self.value or self.text,
        )


def chunks_of(line: Line, start: int, end: int, title: Source | None = None) -> list[Chunk]:
    """The chunks of the part of a line between two places, without the words of the job's title."""
    measures = [item for item in line.items if item.kind == "measure" and start <= item.start < end]
    words: list[tuple[int, int, str, Item | None]] = []
    place = start
    for item in measures:
        if item.start < place:
            continue
        words.extend(_words(line.text, place, item.start))
        if item.found is not None and line.text[: item.start].lower().endswith("which is to "):
            item.found = replace(item.found, doubts=())  # `which is to say 18.6`
        if item.found is not None and item.found.what == "count" and item.text.isdigit():
            words.append((item.start, item.end, "\0" + item.text, item))
        elif counts(item):
            words.extend(_words(line.text, item.start, item.end))
        else:
            words.append((item.start, item.end, "\0", item))
        place = item.end
    words.extend(_words(line.text, place, end))
    if title is not None and title.line == line.number:
        words = [word for word in words if not title.start <= word[0] < title.end]
    chunks: list[Chunk] = []
    number = 0
    texts = [word[2] for word in words]
    while number < len(words):
        first, last, text, item_here = words[number]
        if item_here is not None:
            found = item_here.found
            if text != "\0":
                chunks.append(Chunk("count", text[1:], first, last, text[1:]))
                number += 1
                continue
            kind = "number" if found is not None and found.kind != "other" else "other number"
            chunks.append(Chunk(kind, "", first, last, line.text[first:last].lower(), item_here))
            number += 1
            continue
        phrase = longest(texts, number)
        if phrase is not None:
            behind, (kind, value) = phrase
            last = words[behind - 1][1]
            chunks.append(Chunk(kind, value, first, last, " ".join(texts[number:behind])))
            number = behind
            continue
        chunks.append(Chunk(MARKS.get(text, "word"), "", first, last, text))
        number += 1
    while chunks and chunks[-1].text in FULL_STOPS:
        chunks.pop()
    for roof, does in pairwise(chunks):
        if roof.value == "lower roof" and roof.text.endswith(" roof") and does.kind in ROOF_DOES:
            roof.kind, roof.value = "part", roof.text.split()[-2]
    return chunks


def _words(text: str, start: int, end: int) -> list[tuple[int, int, str, Item | None]]:
    return [
        (match.start(), match.end(), match.group().replace("’", "'").lower(), None)
        for match in WORD.finditer(text, start, end)
    ]


def counts(item: Item) -> bool:
    """Whether a number counts: `two` goes, `one` pipe, `one straight` gutter."""
    found = item.found
    if found is None or any(sign.isdigit() for sign in item.text):
        return False
    if found.what == "count":
        return True
    small = found.value is not None and found.value <= LARGEST_COUNT and found.value.denominator == 1
    return found.kind == "bare" and small and len(found.amounts) == 1

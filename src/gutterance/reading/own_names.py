"""Parts of a house that the note names in its own words: `bunkie front`, `hay shed east`, said twice or more.

A word that the reader does not know, again and again before a side of the house or a known part, names
something that has runs of its own. Said only once it is left as it is: it may be any word.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from gutterance.reading.items import Item

if TYPE_CHECKING:
    from gutterance.reading.items import Line

FEWEST = 2
"""A word must stand so often before a side or a part to be a name."""
SHORTEST = 3
"""A shorter word is no name."""
NOT_NAMES = ("ing", "ed", "ly")
"""Endings of words that are rather what somebody does, or how."""
BEGINS = frozenset(
    {"break", "walk", "colon", "mark", "filler", "outlet", "downpipe", "except", "same", "all"}
)
"""What may stand before a name."""


def name_own_parts(lines: list[Line]) -> None:
    """Make a part of each word that the note uses as the name of one."""
    before_side: Counter[str] = Counter()
    before_part: Counter[tuple[str, str]] = Counter()
    measured: set[str] = set()
    for line in lines:
        for place, item in enumerate(line.items[:-1]):
            if not _may_name(line.items, place):
                continue
            word, behind = item.text.lower(), line.items[place + 1]
            if behind.kind == "direction":
                before_side[word] += 1
                if any(
                    other.kind in ("measure", "end", "end word")
                    for other in line.items[place + 2 : place + 5]
                ):
                    measured.add(word)
            elif behind.kind == "part":
                before_part[word, behind.text.lower()] += 1
    names = {word for word, count in before_side.items() if count >= FEWEST and word in measured}
    pairs = {pair for pair, count in before_part.items() if count >= FEWEST}
    if names or pairs:
        for line in lines:
            line.items = _renamed(line, names, pairs)


def _may_name(items: list[Item], place: int) -> bool:
    """Whether an unknown word stands where a name may stand."""
    item = items[place]
    word = item.text.lower()
    if item.kind != "word" or not word.isalpha() or len(word) < SHORTEST or word.endswith(NOT_NAMES):
        return False
    return place == 0 or items[place - 1].kind in BEGINS


def _renamed(line: Line, names: set[str], pairs: set[tuple[str, str]]) -> list[Item]:
    """The items of a line with the note's own names as parts."""
    out: list[Item] = []
    place = 0
    while place < len(line.items):
        item = line.items[place]
        behind = line.items[place + 1] if place + 1 < len(line.items) else None
        word = item.text.lower()
        if item.kind == "word" and behind is not None and (word, behind.text.lower()) in pairs:
            text = line.text[item.start : behind.end]
            out.append(Item(line.number, item.start, behind.end, text, "part", f"{word} {behind.value}"))
            place += 2
            continue
        if item.kind == "word" and word in names:
            item.kind, item.value = "part", word
        out.append(item)
        place += 1
    return out

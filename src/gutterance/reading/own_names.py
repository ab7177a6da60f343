"""Parts of a house that the note names in its own words: `bunkie front`, `hay shed east`, said twice or more.

A word that the reader does not know, again and again before a side of the house or a known part, names
something that has runs of its own. Said only once it is left as it is: it may be any word.
"""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.items import Item

if TYPE_CHECKING:
    from gutterance.reading.items import Line

FEWEST = 2
"""A word must stand so often before a side or a part to be a name."""
SHORTEST = 3
"""A shorter word is no name."""
FROM_CORNER = re.compile(
    r"\s*(?P<of>[A-Z]\d?)\s?(?:[-–>]|->|→|to)\s?(?P<to>[A-Z]\d?)(?=\s*[:=]?\s+\d)", re.IGNORECASE
)
"""`A-B 32-4`: two letters and a length open a line."""
SIDES = frozenset({"F", "B", "R", "L"})
"""Letters that may be sides of the house."""
NOT_NAMES = ("ing", "ed", "ly")
"""Endings of words that are rather what somebody does, or how."""
NO_SIDES = frozenset(
    {"other", "same", "each", "either", "both", "any", "this", "that", "near", "far", "one", "wrong",
     "every", "long", "short", "high", "low", "top", "bottom", "inside", "outside", "which", "another",
     "opposite", "whole"}
)  # fmt: skip
"""Words before `side` that name none."""
BEGINS = frozenset(
    {"break", "walk", "colon", "mark", "filler", "outlet", "downpipe", "except", "same", "all"}
)
"""What may stand before a name."""


def name_own_parts(lines: list[Line]) -> None:
    """Make a part of each word that the note uses as the name of one."""
    if not any(item.marks.get("lettered") for line in lines for item in line.items):
        _name_by_corners(lines)
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
    sides = _sides_by_what_they_face(lines)
    if len(sides) >= FEWEST:
        for line in lines:
            line.items = _with_sides(line, sides)
    names = {word for word, count in before_side.items() if count >= FEWEST and word in measured}
    pairs = {pair for pair, count in before_part.items() if count >= FEWEST}
    if names or pairs:
        for line in lines:
            line.items = _renamed(line, names, pairs)


def _name_by_corners(lines: list[Line]) -> None:
    """`A-B 32-4`, `B-C 26-0`: runs told by the letters of the two corners that they go between."""
    opened = [(line, match) for line in lines if (match := FROM_CORNER.match(line.text))]
    joined = sum(first[1]["to"] == then[1]["of"] for first, then in pairwise(opened))
    if joined < FEWEST or {match["of"] for _, match in opened} <= SIDES:
        return
    for line, match in opened:
        start, end = match.start("of"), match.end("to")
        words = line.text[start:end]
        kept = [item for item in line.items if item.end <= start or item.start >= end]
        _outlets_at_corners(kept, {match["of"]: "left", match["to"]: "right"})
        named = Item(line.number, start, end, words, "part", words.upper())
        line.items = sorted([*kept, named], key=lambda item: item.start)


def _outlets_at_corners(items: list[Item], sides: dict[str, str]) -> None:
    """`A-B 32-4 osc osc o A`: an outlet at one of the two corners, left then right if none says otherwise."""
    for item, corner in pairwise(items):
        side = sides.get(corner.text)
        if side is None or not (item.kind in ("outlet", "downpipe") or item.text.lower() in ("o", "@", "at")):
            continue
        if item.text.lower() == "o" and item.kind not in ("outlet", "downpipe"):
            item.kind, item.value = "outlet", "outlet"
        corner.kind, corner.value, corner.term = "side", side, None
        item.doubts.append(f"{corner.text} was taken for the {side} end, as the run goes from left to right")


def _sides_by_what_they_face(lines: list[Line]) -> set[str]:
    """`lake side is 24 foot 1`, `road side is the same`: the words of such names with a length behind."""
    found: set[str] = set()
    for line in lines:
        for place, item in enumerate(line.items[:-2]):
            behind = line.items[place + 1]
            if not place:
                continue  # at the start of a line it is heard as any name nobody knows
            if behind.text.lower() != "side" or item.kind not in ("word", "landmark"):
                continue
            if not item.text.isalpha() or item.text.lower() in NO_SIDES:
                continue
            after = [o for o in line.items[place + 2 : place + 5] if o.kind not in ("filler", "colon")]
            length = after[0].found if after and after[0].kind == "measure" else None
            if length is None or length.kind == "other":
                continue
            if len(length.amounts) > 1 or length.kind == "length":
                found.add(item.text.lower())
    return found


def _with_sides(line: Line, names: set[str]) -> list[Item]:
    """The items of a line with each such side as a part of its own."""
    out: list[Item] = []
    for item in line.items:
        before = out[-1] if out else None
        if item.text.lower() == "side" and before is not None and before.text.lower() in names:
            text = line.text[before.start : item.end]
            out[-1] = Item(line.number, before.start, item.end, text, "part", text.lower())
        else:
            out.append(item)
    return out


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

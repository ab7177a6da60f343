"""Both ends of a run as one word of shorthand, left then right: `w-w`, `se/ex`, `om/im`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.lexicon import short_ends

if TYPE_CHECKING:
    from gutterance.reading.items import Line

LETTERS = frozenset({"o", "c", "O", "C", "e", "E"})
"""Letters that say an end where two of them stand behind a run's length."""
SHORT_WORDS = frozenset({"se", "ec", "cp", "wl", "wll", "om", "im", "em", "xm", "gbl"})
"""Short words for an end that are no other word, where two stand behind a run's length: `wl ec`, `se se`."""
BOTH = frozenset({"both", "bth", "ea", "each", "x2", "both ends", "ea end", "each end"})
"""Words by which a short word for an end is of both."""
JOINTS = frozenset({"/", "-", "–", "—", "+", "&"})
"""Marks that join the two ends of a pair."""
ENDS = frozenset({"end", "end word"})
"""Kinds of items that are an end in any company."""


def fold_end_pairs(line: Line) -> None:
    """Each pair of ends in a line as one item of kind 'end pair', its value both ends in order."""
    items = line.items
    out: list[Item] = []
    number = 0
    while number < len(items):
        pair = _pair_at(items, number)
        if pair is None:
            out.append(items[number])
            number += 1
            continue
        last, values = pair
        first, end = items[number], items[last]
        folded = Item(line.number, first.start, end.end, line.text[first.start : end.end], "end pair")
        folded.value = ", ".join(values)
        folded.marks.update(first.marks)
        out.append(folded)
        number = last + 1
    line.items = out


def _pair_at(items: list[Item], number: int) -> tuple[int, tuple[str, str]] | None:
    """Where the pair of ends that begins at a place ends, and its two ends; None where there is none."""
    if _two_letters(items, number):
        left, right = (short_ends()[item.text.lower()] for item in items[number : number + 2])
        return number + 1, (left, right)
    two = _two_short_words(items, number)
    if two is not None:
        return number + 1, two
    if number + 2 >= len(items) or items[number + 1].text not in JOINTS:
        return None
    first, joint, second = items[number : number + 3]
    glued = first.end == joint.start and joint.end == second.start
    values = _end_of(first), _end_of(second)
    if values[0] is None or values[1] is None:
        return None
    short = [item for item in (first, second) if item.kind not in ENDS]
    if joint.text == "-" and not short and glued:
        return number + 2, (values[0], values[1])
    if not short or not glued:
        return None  # `OSC 45 / wall`: whole words for ends are told one by one
    if all(item.kind not in ENDS for item in (first, second)) and not _beside_a_length(items, number):
        return None
    behind = items[number + 3] if number + 3 < len(items) else None
    if behind is not None and behind.text == "/" and behind.start == second.end:
        return None  # `w/e/s`: a list of sides
    return number + 2, (values[0], values[1])


def _two_letters(items: list[Item], number: int) -> bool:
    """`F 20-0 c c dp R`: two letters for ends behind a length, with nothing but a blank between."""
    pair = items[number : number + 2]
    before = items[number - 1] if number else None
    behind = items[number + 2] if number + 2 < len(items) else None
    return (
        len(pair) == 2
        and before is not None
        and before.kind == "measure"
        and before.found is not None
        and before.found.kind != "other"
        and all(_is_letter(item) for item in pair)
        and any(item.text in LETTERS for item in pair)
        and pair[1].start - pair[0].end == 1
        and (behind is None or behind.kind != "measure" or behind.start - pair[1].end > 1)
    )


def _is_letter(item: Item) -> bool:
    """Whether an item is a letter for an end; a W only beside another, as alone it is the west."""
    return (item.text in LETTERS and item.kind in ("word", "filler")) or item.text in ("w", "W")


def _two_short_words(items: list[Item], number: int) -> tuple[str, str] | None:
    """`Front 9.2 se se`, `low frt 22 wl ec`, `bk 9.2 se both`: the ends of a run right behind its length."""
    pair = items[number : number + 2]
    before = items[number - 1] if number else None
    if (
        len(pair) < 2
        or before is None
        or before.kind != "measure"
        or before.found is None
        or before.found.kind == "other"
        or pair[1].start - pair[0].end != 1
    ):
        return None
    if _is_short(pair[0]) and pair[1].text.lower() in BOTH:
        end = _end_of(pair[0])
        return (end, end) if end is not None else None
    if not any(_is_short(item) for item in pair):
        return None
    if not all(_is_short(item) or (item.kind == "end" and len(item.text) <= 3) for item in pair):
        return None
    left, right = _end_of(pair[0]), _end_of(pair[1])
    return (left, right) if left is not None and right is not None else None


def _is_short(item: Item) -> bool:
    """Whether an item is a short word for an end that nothing else was made of."""
    return item.kind in ("word", "filler") and item.text.lower() in SHORT_WORDS


def _end_of(item: Item) -> str | None:
    """The end that an item says, or that its letters say in such company; None where it says none."""
    if item.kind in ENDS and not item.plural:
        value: str = item.value
        return value
    if item.kind in ("word", "filler", "initial", "remark", "landmark"):
        return short_ends().get(item.text.lower())
    return None


def _beside_a_length(items: list[Item], number: int) -> bool:
    """Whether letters that alone mean little stand with a run's length: no compass, no `c/c` of hangers."""
    for other in reversed(items[:number]):
        if other.kind in ("cue", "outlet", "downpipe", "ends at", "word"):
            return False
        if other.kind == "measure":
            return other.found is not None and other.found.kind != "other"
    behind = items[number + 3] if number + 3 < len(items) else None
    return behind is not None and behind.kind == "measure" and number > 0

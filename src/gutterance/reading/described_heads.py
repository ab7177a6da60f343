"""A part of the house named first in its line and then described, before anything of it is measured.

`Verandah is on its own out the front, 8.15`, `Laundry, the little lean-to = 2415`: what stands between the
name and the number says where the part is, or what it is like, and names no run. A side of the part does:
`Wing, left-hand side, 3.64 m`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.neighbours import is_length_like
from gutterance.reading.places import LR_SIDE, PlaceName

if TYPE_CHECKING:
    from gutterance.reading.items import Item

STANDS = frozenset(
    {"on", "out", "at", "along", "across", "behind", "off", "mid", "over", "above", "toward", "towards",
     "facing", "beside", "by", "near", "under", "below", "round", "around", "to", "against"}
)  # fmt: skip
"""Words before another place that say where the part stands."""
ARTICLES = frozenset({"the", "a", "an", "my", "their", "his", "her", "that", "our"})
ALIKE = frozenset({"little", "small", "old", "new", "low", "flat", "tiny", "big", "just", "single", "tin"})
"""Words between an article and another word for the part."""
TELLS = frozenset(
    {"end", "end pair", "outlet", "downpipe", "same", "mirror", "unknown", "no", "except", "rest"}
)
"""Kinds of items with which something is told: no description reaches beyond them."""
SPOILS = frozenset(
    {"same", "mirror", "unknown", "no", "except", "rest", "all", "fix", "withdraw", "next run"}
)
BEFORE = frozenset({"the", "so", "and", "then", "now", "next", "ok", "okay", "this"})
"""Words before the name that open a line."""
POINTED = frozenset({"one", "ones", "one's"})
"""Words for an outlet told of before: `the porch one is on the left side`."""
LONGEST = 16
"""No description is longer [items]."""


def settle_described_heads(items: list[Item]) -> list[Item]:
    """The items of a line with the places that only describe the part at its head made references."""
    head = next((at for at, item in enumerate(items) if item.kind not in ("mark", "filler", "walk")), None)
    if head is None or items[head].kind != "place" or items[head].marks.get("settled"):
        return items
    if any(item.text.lower() not in BEFORE for item in items[:head] if item.kind != "mark"):
        return items  # `That's the porch, the garage is ...`
    name: PlaceName = items[head].value
    if name.part is None and name.direction is None:
        return items
    end = _told_from(items, head + 1)
    if end is None or any(item.kind in SPOILS for item in items[head + 1 : end]):
        return items
    if name.part is not None and name.direction is None:
        side = _side_of_it(items, head, end)
        if side is not None:
            return [side, *items[end:]] if head == 0 else [*items[:head], side, *items[end:]]
    described = [at for at in range(head + 1, end) if _only_describes(items, at, head, name)]
    places = [at for at in range(head + 1, end) if items[at].kind in ("place", "lr", "initial")]
    pointed = any(item.text.lower() in POINTED for item in items[head + 1 : end])
    if not described or described != places or pointed:
        return items
    for at in described:
        items[at].kind = "ref"
    parted = end < len(items) and (items[end - 1].kind == "break" or items[end].kind in ("colon", "break"))
    for item in items[head + 1 : end] if parted else ():
        if item.kind in ("word", "cue", "side", "landmark", "storey", "ends at", "remark") or (
            item.kind == "ref" and item.value.part is None and item.value.direction is None
        ):
            item.kind, item.value = "filler", ""
    return items


def _told_from(items: list[Item], start: int) -> int | None:
    """Where what is told of the part begins: a length, or a colon before one; None where nothing is."""
    for at in range(start, min(len(items), start + LONGEST)):
        item = items[at]
        behind = items[at + 1] if at + 1 < len(items) else None
        if item.kind == "colon" or (item.kind == "break" and item.strength >= 3):
            return (
                at
                if behind is not None and (behind.kind in ("end", "end pair") or _is_length(behind))
                else None
            )
        if _is_length(item):
            return at
        if item.kind in TELLS and item.kind not in SPOILS:
            return None
        if item.kind == "measure" and not _counts(item):
            return None
    return None


def _is_length(item: Item) -> bool:
    return is_length_like(item) and not _counts(item)


def _counts(item: Item) -> bool:
    """`one edge`, `3 panes`: a number that counts."""
    return item.kind == "measure" and (item.text.lower() in ("one", "two", "three") or _small(item.text))


def _small(text: str) -> bool:
    return text.isdecimal() and int(text) <= 4


def _side_of_it(items: list[Item], head: int, end: int) -> Item | None:
    """`Wing, left-hand side, 3.64 m`: the part and its side as one place."""
    between = items[head + 1 : end]
    sides = [item for item in between if item.kind == "place"]
    rest = [item for item in between if item.kind not in ("place", "break", "mark")]
    if len(sides) != 1 or rest or not between or between[0].text not in (",", "-", "–"):
        return None
    side: PlaceName = sides[0].value
    if (
        side.part
        or side.storey
        or side.direction not in LR_SIDE.values()
        or "side" not in sides[0].text.lower()
    ):
        return None
    whole = items[head]
    whole.value = replace(whole.value, direction=side.direction)
    whole.marks["words"] = [*whole.marks.get("words", []), *sides[0].marks.get("words", [])]
    whole.marks.setdefault("with", []).append(sides[0])
    return whole


def _only_describes(items: list[Item], at: int, head: int, name: PlaceName) -> bool:
    """Whether a place within the description says where the part stands, or is another word for it."""
    item = items[at]
    if item.kind != "place":
        return False  # `The dormer one's at the left`: an outlet, no description
    here = at - 1
    while here > head and items[here].text.lower() in (*ARTICLES, *ALIKE):
        here -= 1
    before = items[here]
    if here > head and before.text.lower() in STANDS:
        return True
    other: PlaceName = item.value
    if other.direction is not None or other.part is None or name.part is None:
        return other.part is None and other.direction is None and before.kind == "break"
    behind = items[at + 1] if at + 1 < len(items) else None
    closed = behind is not None and behind.kind in ("break", "colon", "landmark")
    return closed and before.kind == "break" and (before.text == "(" or here < at - 1)

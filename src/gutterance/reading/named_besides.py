"""Places named only to say more of the run that was named right before: `Laundry, the little lean-to = 2415`.

Such a place is referred to, and what follows is still said of the run before it. Here too: a part and its
side with a mark between (`Wing, left-hand side, 3.64m`), which are one name.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.focus import SAYS_SOMETHING
from gutterance.reading.items import Item
from gutterance.reading.neighbours import is_length_like
from gutterance.reading.places import LR_SIDE, THE_HOUSE, significant

if TYPE_CHECKING:
    from gutterance.reading.places import PlaceName

LOOKS = frozenset({"faces", "facing", "looks", "looking", "overlooks"})
"""Words behind a part by which a side of the house only says which way the part looks."""
OUT_THERE = frozenset({"out", "out at", "round", "around", "over", "down"})
"""Words before `the front` by which it only says where a part stands: `the verandah is out the front`."""
STUCK = frozenset(
    {"stuck", "tacked", "built", "hangs", "hanging", "sits", "sitting", "tucked", "leans", "added", "stands"}
)
"""Words for how a part stands against the house."""
GOES_ON = frozenset({"it", "this", "that", "which", "there", "gil", "he", "she", "they", "because", "since"})
"""Words that open a sentence, or a part of one, that goes on about the run named before."""
LONGEST_NAME = 5
"""Within so many items behind a place its name ends: `Front of the house (`."""
BECAUSE = frozenset({"because", "since", "cause", "cos", "coz"})
"""Words behind which a sentence gives a reason."""
TELLS = SAYS_SOMETHING - {"place", "lr", "side", "part", "direction", "cue"}
"""Kinds of items that tell something of the place before them."""


def join_part_and_side(items: list[Item], text: str) -> list[Item]:
    """`Wing, left-hand side, 3.64m`: a part that opens the line, and its side behind a mark, as one name."""
    first = significant(items, 0, 1, frozenset({"filler", "mark", "walk"}))
    if first is None or first + 3 >= len(items):
        return items
    part, mark, side, behind = items[first : first + 4]
    if part.kind != "place" or mark.text not in (",", "-", "–", "—") or not _only_part(part.value):
        return items
    if side.kind != "place" or side.value.part or side.value.storey:
        return items
    if side.value.direction not in LR_SIDE.values():
        return items  # `Garage, front ...` may be the garage's, or the house's
    if behind.kind == "break" and behind.strength <= 1 and first + 4 < len(items):
        behind = items[first + 4]
    if not (is_length_like(behind) or behind.kind == "colon"):
        return items
    joined = Item(part.line, part.start, side.end, text[part.start : side.end], "place")
    joined.value = replace(part.value, direction=side.value.direction)
    joined.marks["words"] = [*part.marks.get("words", ()), *side.marks.get("words", (side.text.lower(),))]
    return [*items[:first], joined, *items[first + 3 :]]


def refer_besides(items: list[Item]) -> None:
    """Make each place that only says more of the one before it a reference."""
    for number, item in enumerate(items):
        if item.kind != "place" or item.marks.get("settled"):
            continue
        if _the_house_as_a_whole(items, number):
            item.kind = "ref"
            continue
        before = next((at for at in range(number - 1, -1, -1) if items[at].kind == "place"), None)
        if before is None:
            if _in_a_remark_on_it(items, number):
                item.kind = "ref"
            continue
        between = items[before + 1 : number]
        if (
            _in_brackets_behind(items, number)
            or _called_also(items, number, items[before].value, between)
            or _looks_that_way(items[before].value, item.value, between)
            or _stands_there(items, number, items[before].value, between)
            or _in_a_remark_on_it(items, number)
        ):
            item.kind = "ref"


def _the_house_as_a_whole(items: list[Item], number: int) -> bool:
    """`hip roof main house, external corners the whole way round`: said of the house, and measures no run."""
    this: PlaceName = items[number].value
    others = [item for item in items if item is not items[number]]
    return (
        this.part == THE_HOUSE
        and this.direction is None
        and any(item.kind == "all" for item in others)
        and any(item.kind in ("end", "end word") for item in others)
        and not any(item.kind in ("measure", "place") for item in others)
    )


def _only_part(name: PlaceName) -> bool:
    return name.part is not None and name.direction is None and name.number is None


def _in_brackets_behind(items: list[Item], number: int) -> bool:
    """`Extension (kitchen, flat roof): ...`, `Front (the main part, not the wing). ...`: nothing measured."""
    opened = next((at for at in range(number - 1, -1, -1) if items[at].text in ("(", ")")), None)
    if opened is None or items[opened].text == ")" or not opened:
        return False
    named = significant(items, opened - 1, -1)
    if named is None or items[named].kind not in ("place", "ref") or opened - named > LONGEST_NAME:
        return False
    closed = next((at for at in range(number + 1, len(items)) if items[at].text == ")"), None)
    if closed is None:
        return False
    return not any(other.kind in TELLS for other in items[opened + 1 : closed])


def _called_also(items: list[Item], number: int, name: PlaceName, between: list[Item]) -> bool:
    """`Laundry, the little lean-to = 2415`, `Front, main part: ...`: another name for what was named."""
    if not between or between[0].text != "," or any(i.kind not in ("filler", "word") for i in between[1:]):
        return False
    this: PlaceName = items[number].value
    behind = significant(items, number + 1, 1, frozenset({"filler", "word"}))
    told = behind is not None and (
        items[behind].kind == "colon" or items[behind].text in (",", ".") or is_length_like(items[behind])
    )
    if this.part == THE_HOUSE:
        return told and this.direction is None
    if behind is not None and any(other.text.lower() == "is" for other in items[number + 1 : behind]):
        return False  # `that's the porch, the garage is 22-4`: a run of its own
    said_the = any(other.text.lower() in ("the", "a", "which is the", "that's the") for other in between[1:])
    opens = all(
        i.kind in ("filler", "walk", "mark") or i.kind == "place" for i in items[: number - len(between)]
    )
    return (
        told and said_the and opens and _only_part(this) and name.part is not None and name.part != this.part
    )


def _looks_that_way(name: PlaceName, this: PlaceName, between: list[Item]) -> bool:
    """`mudroom, faces the back: 10 3`: which way the part looks that was named."""
    return (
        name.part is not None
        and this.part is None
        and any(other.text.lower() in LOOKS for other in between)
        and not any(other.kind in TELLS for other in between)
        and not any(other.kind == "break" and other.strength > 1 for other in between)
    )


def _stands_there(items: list[Item], number: int, name: PlaceName, between: list[Item]) -> bool:
    """`The verandah is on its own out the front, 8.15`: where the part stands that was named."""
    this: PlaceName = items[number].value
    words = [other.text.lower() for other in between]
    if (
        any(word in STUCK for word in words)
        and words[-1:] == ["the"]
        and not any(i.kind == "walk" for i in between)
    ):
        words[-2:-1] = ["out"]  # `Carport, stuck on the right side, ...`
        between = [other for other in between if other.text != ","]
    if words[-1:] != ["the"] or words[-2:-1] == [] or words[-2] not in OUT_THERE:
        return False
    return (
        _only_part(name)
        and this.part is None
        and this.direction is not None
        and not any(other.kind in TELLS or other.kind == "break" for other in between)
    )


def _in_a_remark_on_it(items: list[Item], number: int) -> bool:
    """`Right side: This is the long one because it takes in the wing and the house together. It is ...`

    A sentence that goes on about the run named before, and measures nothing behind a place of another name.
    """
    start = next(
        (
            at + 1
            for at in range(number - 1, -1, -1)
            if items[at].kind == "colon" or _ends_sentence(items[at])
        ),
        0,
    )
    sentence = items[start:number]
    if not sentence:
        return False
    reason = any(other.text.lower() in BECAUSE for other in sentence)
    about_it = start > 0 and sentence[0].text.lower().split()[0] in GOES_ON
    if not (reason or about_it) or any(other.kind == "place" for other in sentence):
        return False
    if any(other.kind == "walk" for other in sentence):
        return False
    end = next((at for at in range(number + 1, len(items)) if _ends_sentence(items[at])), len(items))
    clause = items[number + 1 : end]
    if reason:
        comma = next((at for at, other in enumerate(clause) if other.kind == "break"), len(clause))
        clause = clause[:comma]
    words = [other for other in clause if other.kind not in ("filler", "break")]
    return bool(words) and not any(
        other.kind in TELLS and not (reason and other.kind in ("end", "end word")) for other in clause
    )


def _ends_sentence(item: Item) -> bool:
    return item.kind == "break" and item.strength >= 4

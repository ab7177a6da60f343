"""A bay told side by side without saying `bay` again: `left cheek 3-2, face 6-10, right cheek 3-2, all 45s`.

Behind the word `bay`, short sides are the bay's and not the house's, until something else is named, or a
length comes that no bay has. Its corners turn by 45 degrees only where that was said.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.measure.tape import settle
from gutterance.reading.items import Item
from gutterance.reading.places import LR_SIDE, PlaceName
from gutterance.reading.sides_of_parts import Names, sided, told_behind

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

BAY = "bay"
LONGEST_SIDE, LONGEST_FRONT = 96, 180
"""A longer length than this [in] is no side, or no front, of a bay. Common practice, no source."""
SIDE_NOUNS = frozenset(
    {"cheek", "return", "side", "leg", "wing", "splay", "flank", "one", "piece", "bit", "section", "part",
     "wall", "return wall", "angle", "panel", "light"}
)  # fmt: skip
"""What the left and the right of a bay are called."""
FRONTS = frozenset({"face", "middle", "centre", "center", "front", "front face", "long bit", "middle one"})
"""What the front of a bay is called."""
BOTH_SIDES = frozenset({"sides", "cheeks", "returns", "splays", "flanks"})
"""What the left and the right of a bay are called together."""
EACH_SIDE = frozenset(
    {"each side", "both sides", "either side", "each cheek", "per side", "a side", "one each side"}
)
"""Words behind a length that the left and the right of a bay both have."""
BETWEEN = frozenset({"filler", "colon", "run noun", "walk", "cue", "mark"})
"""Kinds of items that may stand between the name of a side and its length."""
BETWEEN_LENGTHS = frozenset({"filler", "colon", "mark", "walk", "count", "run noun"})
"""Kinds of items that may stand between the three lengths of a bay."""
FARTHEST = 6
"""The length stands within so many items behind the name of a side."""
FARTHEST_LENGTHS = 16
"""The three lengths stand within so many items behind the word for the bay."""
CORNER = 45
"""The turn [degrees] of a bay's corners, where they are called by their angle."""
THREE = ("left side", "front", "right side")
"""The runs of a bay, in the order of the walk."""


def name_sides_of_bays(line: Line, items: list[Item], walk: Walk) -> list[Item]:
    """The line's items with the sides of a bay named as such, and its corners of 45 degrees."""
    if walk.bay is None and not any(_is_bay(item) for item in items):
        return items
    told = {run.place.direction for run in walk.runs if _bay_called(run.place)}
    lengths: dict[object, str] = {}
    three_here = False
    out: list[Item] = []
    number = 0
    while number < len(items):
        item = items[number]
        if _is_bay(item):
            walk.bay = item.value.part
            told.add(item.value.direction)
            three = _three_lengths(items, number + 1) if item.value.direction in (None, "front") else []
            if three:
                lengths = {_inches(items[at]): side for side, at in zip(THREE, three, strict=True)}
                number = _tell_three(items, number, three, out)
                told.update(THREE)
                continue
        elif walk.bay is not None and _where_it_stands(items, number):
            item.kind = "ref"
        elif walk.bay is not None:
            three_here = any(_is_bay(other) for other in items) and told >= set(THREE)
            side, last = _side_at(items, number)
            own_words = last > number or item.kind != "place"
            if side is not None and (
                ((side not in told or own_words) and _measured(items, last + 1, side))
                or (side in told and own_words and _referred_to(items, number))
                or (side in LR_SIDE.values() and three_here and _referred_to(items, number))
            ):
                out.append(_as_place(line, items[number], items[last], walk.bay, side))
                told.add(side)
                number = last + 1
                continue
            if item.text.lower() in BOTH_SIDES and _measured(items, number + 1, "side"):
                out.extend(_both_sides(line, item, walk.bay))
                told.update(LR_SIDE.values())
                number += 1
                continue
            called = _called_by_length(items, number, lengths)
            if called is not None:
                out.append(_as_place(line, item, items[number + 1], walk.bay, called))
                number += 2
                continue
            before = _sides_behind_length(items, number, told)
            if before is not None:
                sides, last = before
                for each in sides:
                    out += [
                        _as_place(line, items[last], items[last], walk.bay, each),
                        _again(item, each, sides),
                    ]
                told.update(sides)
                number = last + 1
                continue
            if lengths and item.kind in ("end", "end word") and not sided(items, number):
                out.extend(told_behind([item], Names(walk.bay), item))
                number += 1
                continue
            if item.kind == "place" and not _bay_called(item.value):
                walk.bay, lengths = None, {}
            elif _is_forty_five(items, number):
                _turn_corner(items, number)
        out.append(item)
        number += 1
    return out


def _where_it_stands(items: list[Item], number: int) -> bool:
    """`bay at the front, three foot each side`: the side of the house that it stands out from."""
    if items[number].kind != "place" or number < 2:
        return False
    words = [item.text.lower() for item in items[max(0, number - 2) : number]]
    joined = words[1] == "the" and words[0] in ("at", "on", "to", "along", "off")
    return joined and number > 2 and _is_bay(items[number - 3])


def _both_sides(line: Line, item: Item, bay: str) -> list[Item]:
    """`its sides are 2-8 each`: the left and the right side of the bay."""
    joint = Item(item.line, item.end, item.end, "and", "filler", "and")
    return [
        _as_place(line, item, item, bay, "left side"),
        joint,
        _as_place(line, item, item, bay, "right side"),
    ]


def _sides_behind_length(
    items: list[Item], number: int, told: set[str | None]
) -> tuple[list[str], int] | None:
    """`three foot each side and five foot across the face`: sides of a bay named behind their length."""
    if items[number].kind != "measure":
        return None
    at = number + 1
    while at < len(items) and (items[at].kind == "filler" or items[at].text.lower() == "across"):
        at += 1
    if at >= len(items):
        return None
    words = items[at].text.lower()
    if items[at].kind == "all" and at + 1 < len(items):
        words = f"{words} {items[at + 1].text.lower()}"
        at += 1
    if words in EACH_SIDE and not told & set(LR_SIDE.values()) and _short_enough(items[number], LONGEST_SIDE):
        return list(LR_SIDE.values()), at
    between = [item.text.lower() for item in items[number + 1 : at]]
    across = bool({"across", "along"} & set(between))
    if across and words in FRONTS and "front" not in told and _short_enough(items[number], LONGEST_FRONT):
        return ["front"], at
    return None


def _again(item: Item, side: str, sides: list[str]) -> Item:
    """The length of a side: the item itself, and a copy of it for each side but the last."""
    return item if side == sides[-1] else item.on_line(item.line)


def _called_by_length(items: list[Item], number: int, lengths: dict[object, str]) -> str | None:
    """`in the middle of the six foot bit`: a run of the bay, called by the length that only it has."""
    item = items[number]
    behind = items[number + 1].text.lower() if number + 1 < len(items) else ""
    before = items[number - 1].text.lower() if number else ""
    if item.kind != "measure" or before != "the" or behind not in SIDE_NOUNS:
        return None
    side = lengths.get(_inches(item))
    return side if side == "front" else None


def _referred_to(items: list[Item], number: int) -> bool:
    """`one outlet on the face`: a run of the bay, of which more is said."""
    words = [item.text.lower() for item in items[max(0, number - 2) : number]]
    return bool({"on", "along", "at", "of"} & set(words))


def _is_bay(item: Item) -> bool:
    return item.kind == "place" and isinstance(item.value, PlaceName) and _bay_called(item.value)


def _bay_called(name: PlaceName) -> bool:
    """Whether a place is a bay, or a run of one: `bay`, `kitchen bay`."""
    return name.part is not None and name.part.split()[-1] == BAY


def _side_at(items: list[Item], number: int) -> tuple[str | None, int]:
    """Which run of a bay is named there, and where its words end."""
    item = items[number]
    behind = items[number + 1 : number + 4]
    words = [other.text.lower() for other in behind]
    if item.kind == "place":
        name: PlaceName = item.value
        of_the_house = words[:1] == ["of"] and "house" in words
        if name.part is None and name.storey is None and name.direction in THREE and not of_the_house:
            return name.direction, number
        return None, number
    if item.kind in ("lr", "side") and item.value in LR_SIDE:
        if item.text.lower().split()[-1] in SIDE_NOUNS:
            return LR_SIDE[item.value], number  # `left one`, as one word
        if words[:1] and words[0] in SIDE_NOUNS:
            return LR_SIDE[item.value], number + 1
    before = items[number - 1].kind if number else ""
    if item.text.lower() in FRONTS and item.kind != "lr" and before not in ("outlet", "downpipe"):
        follows = words[:1] and (words[0] in SIDE_NOUNS or words[0] == "of it")
        return "front", number + 1 if follows else number
    return None, number


def _measured(items: list[Item], start: int, side: str) -> bool:
    """Whether a length that a bay may have stands behind the name of one of its runs."""
    for item in items[start : start + FARTHEST]:
        if item.kind == "measure":
            return _short_enough(item, LONGEST_FRONT if side == "front" else LONGEST_SIDE)
        if item.kind not in BETWEEN and not (item.kind == "break" and item.strength <= 1):
            return False
    return False


def _short_enough(item: Item, longest: int) -> bool:
    found = item.found
    read = settle(found, "run") if found is not None and found.kind != "other" else None
    metric = settle(found, "run", metric=True) if found is not None and found.kind != "other" else None
    return any(one is not None and 0 < one.length.inches <= longest for one in (read, metric))


def _as_place(line: Line, first: Item, last: Item, bay: str, side: str) -> Item:
    """The name of a run of the bay, as a place of its own."""
    words = line.text[first.start : last.end]
    place = Item(line.number, first.start, last.end, words, "place", PlaceName(part=bay, direction=side))
    place.marks.update(words=[words.lower()], settled=True)
    return place


def _three_lengths(items: list[Item], start: int) -> list[int]:
    """`bay window: 2-10, 6-4, 2-10`: where three lengths stand in a row, the last the same as the first."""
    places = []
    for place in range(start, min(start + FARTHEST_LENGTHS, len(items))):
        item = items[place]
        if item.kind == "measure" and _counts_pieces(items, place):
            continue
        if item.kind == "measure" and not _is_forty_five(items, place):
            places.append(place)
            if len(places) == len(THREE):
                break
        elif item.kind not in BETWEEN_LENGTHS and not (item.kind == "break" and item.strength <= 1):
            break
    if len(places) != len(THREE) or _goes_on(items, places[-1]):
        return []
    lengths = [_inches(items[place]) for place in places]
    same = lengths[0] is not None and lengths[0] == lengths[2] != lengths[1]
    return places if same and _short_enough(items[places[0]], LONGEST_SIDE) else []


def _counts_pieces(items: list[Item], place: int) -> bool:
    """`its three pieces, 2-8, 6-0, 2-8`: how many, and no length."""
    follower = items[place + 1] if place + 1 < len(items) else None
    found = items[place].found
    return (
        found is not None
        and (found.value == len(THREE) or found.what == "count")
        and follower is not None
        and follower.text.lower() in ("pieces", "bits", "sides", "sections", "runs", "parts", "lengths")
    )


def _goes_on(items: list[Item], last: int) -> bool:
    """Whether a fourth length follows, so that the three are no bay."""
    follower = items[last + 1] if last + 1 < len(items) else None
    beyond = items[last + 2] if last + 2 < len(items) else None
    if follower is None:
        return False
    if follower.kind == "measure":
        return _is_length(items, last + 1)
    parted = follower.kind == "break" and follower.strength <= 1
    return parted and beyond is not None and beyond.kind == "measure" and _is_length(items, last + 2)


def _is_length(items: list[Item], number: int) -> bool:
    """Whether a number is a length, and no angle."""
    found = items[number].found
    return found is not None and found.kind != "other" and not _is_forty_five(items, number)


def _inches(item: Item) -> object:
    if item.found is None or item.found.kind == "other":
        return None
    read = settle(item.found, "run") or settle(item.found, "run", metric=True)
    return None if read is None else read.length.inches


def _tell_three(items: list[Item], number: int, places: list[int], out: list[Item]) -> int:
    """Put the three lengths behind the three runs; what the order tells is in doubt."""
    bay = items[number]
    for side, place in zip(THREE, places, strict=True):
        name = PlaceName(part=bay.value.part, direction=side)
        named = Item(bay.line, bay.start, bay.end, bay.text, "place", name)
        named.marks.update(words=[bay.text.lower()], settled=True)
        items[place].doubts.append(
            "three lengths of a bay in a row: taken as its left side, front and right side"
        )
        out.extend([named, items[place]])
    return places[-1] + 1


def _is_forty_five(items: list[Item], number: int) -> bool:
    """Whether a 45 stands there that no corner beside it takes."""
    item = items[number]
    found = item.found
    bare = item.kind == "measure" and found is not None and found.value == CORNER and len(found.amounts) <= 1
    if not (item.kind == "angle word" or (bare and found is not None and found.kind in ("bare", "other"))):
        return False
    near = [*items[max(0, number - 2) : number], *items[number + 1 : number + 3]]
    return not any(
        other.kind in ("corner", "end word") or (other.kind == "end" and other.value != "wall")
        for other in near
    )


def _turn_corner(items: list[Item], number: int) -> None:
    """`45 on the left`: an outside corner there; `all 45s`: each corner of the bay."""
    item = items[number]
    for other in items[number + 1 : number + 5]:
        if other.kind in ("lr", "side"):
            item.kind, item.value = "end", "outside corner"
            item.marks.update({"angle": float(CORNER), "angle item": item})
            return
        if other.kind != "filler":
            break
    item.kind, item.value = "part angle", float(CORNER)

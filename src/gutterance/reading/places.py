"""Where on the house the words are: runs that come into focus, runs only referred to, and sides of a run."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from gutterance.reading.items import Item

PLACE_KINDS = frozenset({"direction", "part", "storey"})
"""Kinds of items that name a place, or a part of a name."""
DESCRIBING_STOREYS = frozenset({"single storey", "single story", "one storey", "one story"})
"""Words that, before a part, say what it is like: `a single storey lean-to`."""
BEFORE_COMPARED = frozenset(
    {
        "is",
        "'s",
        "’s",
        "it's",
        "its",
        "are",
        "bit",
        "little",
        "much",
        "slightly",
        "inch",
        "inches",
        "foot",
        "lot",
    }
)
"""Words before a `lower` that is no storey."""
THE_HOUSE = "main house"
"""The house itself, as against its garage or its porch: its runs have plain names."""
UP_OR_DOWN = {"up": "upper", "upr": "upper", "lwr": "lower", "lo": "lower"}
"""Short words for a storey before a direction."""
DASHES = frozenset({"-", "–", "—"})
"""Marks that may stand between a name and its number."""
SHORTEST_LIST = 3
"""So many words at least stand before the last place of a list: two places and an `and`."""
PIECES = frozenset({"piece", "bit", "part", "section", "cheek", "return", "wall", "leg"})
"""Words for one run of a bay or a porch, between its side and `of the bay`."""
COMPASS = frozenset({"north", "south", "east", "west"})
"""Directions of the compass."""
LR_SIDE = {"left": "left side", "right": "right side"}
"""A left or right as the name of a side of the house."""


@dataclass(frozen=True, slots=True)
class PlaceName:
    """The name of a run in its parts, in the words the sheet writes.

    `storey` is part of the name as said (`upper front`); `level` is the storey known from a heading. `own`
    marks a name that the reader does not know as a place. `house` is which of several houses it is of.
    """

    storey: str | None = None
    part: str | None = None
    direction: str | None = None
    number: str | None = None
    level: str | None = None
    own: bool = False
    house: str | None = None

    @property
    def name(self) -> str:
        """As people say it: `upper front`, `garage left side`, `run 2`, `number 4 front`."""
        name = _name(self.storey, self.part, self.direction, self.number)
        return f"{self.house} {name}".rstrip() if self.house else name

    @property
    def id(self) -> str:
        """The name as an id: `garage-left-side`."""
        return _id(self.name)


@lru_cache(maxsize=1024)
def _name(storey: str | None, part: str | None, direction: str | None, number: str | None) -> str:
    if number is not None:
        return f"{part} run {number}" if part else f"run {number}"
    return " ".join(word for word in (storey, part, direction) if word)


@lru_cache(maxsize=1024)
def _id(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def significant(
    items: list[Item], start: int, step: int, skip: frozenset[str] = frozenset({"filler"})
) -> int | None:
    """The nearest item from `start` on, walking by `step`, that is not of a skipped kind."""
    place = start
    while 0 <= place < len(items):
        if items[place].kind not in skip:
            return place
        place += step
    return None


def fold_places(
    items: list[Item],
    text: str,
    known: frozenset[tuple[str | None, str | None]] = frozenset(),
    own_names: dict[str, PlaceName] | None = None,
) -> list[Item]:
    """Neighbouring place words as one item of kind 'place' (`upper front`, `left side of the porch`).

    `known` are the (part, direction) of runs named before, so that `DP bay R` is known for the bay's right.
    """
    out: list[Item] = []
    number = 0
    while number < len(items):
        items = _halves_parted(items, number, known)
        item = items[number]
        if item.marks.get("settled"):
            out.append(item)
            number += 1
            continue
        if item.kind in ("word", "landmark") and own_names and item.text.lower() in own_names:
            last = number
            while last + 1 < len(items) and (
                items[last + 1].text.lower() in own_names[item.text.lower()].name.split()
            ):
                last += 1
            named = Item(
                item.line,
                item.start,
                items[last].end,
                text[item.start : items[last].end],
                "place",
                own_names[item.text.lower()],
            )
            named.marks.update(words=[item.text.lower()])
            _keep_company(named, items[number : last + 1])
            out.append(named)
            number = last + 1
            continue
        if item.kind == "storey" and _only_compared(items, number):
            item.kind, item.value = "filler", ""
            out.append(item)
            number += 1
            continue
        if item.kind == "numbered":
            item.kind, item.value = "place", PlaceName(number=item.value)
            item.marks.update(words=[item.text.lower()])
            out.append(item)
            number += 1
            continue
        if _name_before_place(items, number):
            last, name = _fold(items, number + 1, known)
            if items[number + 1].kind == "initial":
                last, name = number + 1, PlaceName(direction=items[number + 1].value)
            folded = Item(item.line, item.start, items[last].end, text[item.start : items[last].end], "place")
            folded.value = PlaceName(storey=name.storey, part=item.text.lower(), direction=name.direction)
            folded.marks.update(words=[i.text.lower() for i in items[number : last + 1]], unknown_name=True)
            _keep_company(folded, items[number : last + 1])
            out.append(folded)
            number = last + 1
            continue
        if (
            item.kind in PLACE_KINDS
            or (item.kind == "lr" and _lr_begins_place(items, number))
            or _up_front(items, number)
        ):
            last, name = _fold(items, number, known)
            folded = Item(
                item.line, item.start, items[last].end, text[item.start : items[last].end], "place", name
            )
            folded.marks["words"] = [i.text.lower() for i in items[number : last + 1]]
            _keep_company(folded, items[number : last + 1])
            if name.direction and (name.part is not None or " " in name.direction):
                known |= {(name.part, name.direction)}  # `front left piece`, `bay right`: known from here on
            out.append(folded)
            number = last + 1
            continue
        out.append(item)
        number += 1
    return out


def _only_compared(items: list[Item], number: int) -> bool:
    """`the right's lower, ten three`: how high the ground is there, and no storey."""
    before = items[number - 1].text.lower().split()[-1] if number else ""
    behind = items[number + 1] if number + 1 < len(items) else None
    if items[number].text.lower() not in ("lower", "low", "upper") or before not in BEFORE_COMPARED:
        return False
    return (
        behind is None or behind.kind == "break" or behind.text.lower() in ("than", "there", "so", "at", "by")
    )


def _halves_parted(
    items: list[Item], number: int, known: frozenset[tuple[str | None, str | None]]
) -> list[Item]:
    """`the front left and right end of the front right`: no left and right of a front told in halves."""
    both = items[number + 1] if number + 1 < len(items) else None
    words = both.text.split() if both is not None else []
    if (
        both is None
        or items[number].kind != "direction"
        or both.kind != "side"
        or both.value != "both"
        or [word.lower() for word in (words[0], words[-1])] != ["left", "right"]
        or (None, f"{items[number].value} left") not in known
    ):
        return items
    left = Item(both.line, both.start, both.start + len("left"), words[0], "lr", "left")
    joint = Item(both.line, left.end + 1, both.end - len("right") - 1, "and", "filler", "and")
    right = Item(both.line, both.end - len("right"), both.end, words[-1], "lr", "right")
    return [*items[: number + 1], left, joint, right, *items[number + 2 :]]


def _up_front(items: list[Item], number: int) -> bool:
    """`up F`, `up back`: the upper run of that side."""
    return (
        items[number].text.lower() in UP_OR_DOWN
        and items[number].kind in ("word", "filler")
        and number + 1 < len(items)
        and items[number + 1].kind in ("initial", "direction")
        and (number == 0 or items[number - 1].kind in ("break", "word", "filler", "mark"))
    )


def _name_before_place(items: list[Item], number: int) -> bool:
    """`dairy front 4330`: a word nobody knows that opens the line, right before a direction and a number."""
    item = items[number]
    if item.kind != "word" or not item.text.isalpha() or len(item.text) < 3 or number + 2 >= len(items):
        return False
    if number and items[number - 1].text.lower() != "the":
        return False
    if number > 1 and items[number - 2].kind != "break":
        return False  # `... on to the drive right side 44-6`
    letter = items[number + 1].kind == "initial" and number == 0  # `bzwy F 11'4 wall-wall`
    named = items[number + 1].kind == "direction" and (not number or "side" in items[number + 1].text.lower())
    if not (letter or named):
        return False
    after = significant(items, number + 2, 1)
    return after is not None and items[after].kind == "measure"


def _keep_company(folded: Item, parts: list[Item]) -> None:
    """What came with a part of a folded place comes with the whole."""
    company = [other for part in parts for other in part.marks.get("with", ())]
    if company:
        folded.marks["with"] = company


def _lr_begins_place(items: list[Item], number: int) -> bool:
    """`left garage run`, `right of the porch`, `left gutter`: a left or right that belongs to a place."""
    nxt = number + 1
    if nxt >= len(items):
        return False
    if items[nxt].kind == "run noun" and items[nxt].text.lower() not in ("runs", "run"):
        return True
    if items[nxt].kind == "part":
        # `drop right porch ...`: a side said before the porch comes into focus
        before = significant(items, number - 1, -1)
        return before is None or items[before].kind in ("break", "walk")
    if items[nxt].text.lower() in PIECES and nxt + 1 < len(items):
        nxt += 1  # `left piece of the bay`
    words = [item.text.lower() for item in items[nxt : nxt + 2]]
    return bool(words) and words[0] == "of" and any(item.kind == "part" for item in items[nxt + 1 : nxt + 3])


def _fold(
    items: list[Item], first: int, known: frozenset[tuple[str | None, str | None]]
) -> tuple[int, PlaceName]:
    """The place whose words begin at `first`: where its last word stands, and its name."""
    storey = part = direction = None
    last = first
    number = first
    while number < len(items):
        item = items[number]
        beyond = _left_of_part(items, number) if direction in ("front", "back") and part is None else None
        if beyond is not None:
            side, last = beyond
            direction = f"{direction} {side}"
            break
        if item.kind == "storey" and storey is None:
            described = item.text.lower() in DESCRIBING_STOREYS and items[number + 1 : number + 2]
            if not (described and items[number + 1].kind == "part"):
                storey = item.value
        elif item.kind == "part" and part is None:
            part = item.value
        elif item.kind == "part" and items[number - 1].kind == "part" and part != item.value:
            part = f"{part} {item.value}"
        elif item.kind == "direction" and direction is None:
            if part is not None and _last_of_a_list(items, first):
                break
            if part is not None and _stands_on(items, first, number):
                last = number  # `the boiler house on the back`: where it stands, not which side of it
                break
            direction = item.value
        elif (
            item.kind == "lr"
            and direction in ("front", "back")
            and part is None
            and (_half_of_front(items, number, direction, known) or _part_behind(items, number))
        ) or (item.kind == "initial" and direction in ("front", "back") and _compass_half(items, number)):
            direction = f"{direction} {item.value}"
        elif (
            item.kind == "lr"
            and direction is None
            and (number == first or _lr_joins(items, number, part, storey, known))
        ):
            direction = LR_SIDE[item.value]
        elif item.kind == "word" and item.text.lower() in UP_OR_DOWN and number == first:
            storey = UP_OR_DOWN[item.text.lower()]
        elif item.kind == "initial" and direction is None and (part is not None or storey is not None):
            direction = item.value
        elif _side_of_storey(items, number, first):
            part, last = "side", number
            break
        elif item.kind == "run noun":
            last = number
            break
        elif (
            item.kind == "filler"
            and item.text.lower() in ("of", "the", "of the", "on", "side", "'s")
            and number > first
            and (item.text.lower() != "the" or items[number - 1].text.lower() in ("of", "on"))
        ):
            number += 1
            if number - last > 3:
                break
            if item.text.lower() == "side":
                last = number - 1
            continue
        elif _piece_of_part(items, number, first):
            last = number
            number += 1
            continue
        else:
            break
        last = number
        number += 1
    # `front of the ...` with nothing behind it must not swallow the little words
    while last > first and items[last].kind == "filler" and items[last].text.lower() != "side":
        last -= 1
    return last, PlaceName(storey, None if part == THE_HOUSE and direction else part, direction)


def _piece_of_part(items: list[Item], number: int, first: int) -> bool:
    """`left piece of the bay`: a word between a side and the part that it is of."""
    behind = items[number + 1] if number + 1 < len(items) else None
    return (
        number == first + 1
        and items[first].kind == "lr"
        and items[number].text.lower() in PIECES
        and behind is not None
        and behind.text.lower() in ("of", "of the")
    )


def _side_of_storey(items: list[Item], number: int, first: int) -> bool:
    """`lwr side 18-6`: of a storey, the side that has only one."""
    after = items[number + 1] if number + 1 < len(items) else None
    return (
        number == first + 1
        and items[first].kind == "storey"
        and items[number].text.lower() == "side"
        and after is not None
        and after.kind == "measure"
    )


def _last_of_a_list(items: list[Item], first: int) -> bool:
    """`front back and porch front is 28-4`: the porch closes the list, and the front begins what follows."""
    if first < SHORTEST_LIST or items[first - 1].text.lower() not in ("and", "&"):
        return False
    return all(items[place].kind in ("direction", "place") for place in (first - 2, first - 3))


def _stands_on(items: list[Item], first: int, number: int) -> bool:
    """Whether `on the` or `at the` stands between a part and a direction, and the part opens what is said."""
    between = [item.text.lower() for item in items[first + 1 : number] if item.kind == "filler"]
    opens = (
        first == 0
        or items[first - 1].text.lower() in ("the", "a", "an", "another")
        or items[first - 1].kind in ("break", "walk")
    )
    return opens and between[-2:] in (["on", "the"], ["at", "the"])


def _compass_half(items: list[Item], number: int) -> bool:
    """`back E 4.6`: of a back in two pieces, the one to the east."""
    after = items[number + 1] if number + 1 < len(items) else None
    return items[number].value in COMPASS and after is not None and after.kind == "measure"


def _left_of_part(items: list[Item], number: int) -> tuple[str, int] | None:
    """`front, left of the bay`: the piece of the front on that side of it, and where its words end."""
    here = number
    if items[here].kind == "break" and items[here].strength <= 1:
        here += 1
    if here + 2 >= len(items) or items[here].kind != "lr" or items[here + 1].text.lower() != "of":
        return None
    part = here + 3 if items[here + 2].text.lower() == "the" else here + 2
    if part < len(items) and items[part].kind in ("part", "landmark"):
        return items[here].value, part
    return None


def _half_of_front(
    items: list[Item], number: int, direction: str, known: frozenset[tuple[str | None, str | None]]
) -> bool:
    """`back left: 20-0 OSC ...`, `front right piece`: a run that is half of that side, no outlet's place."""
    if (None, f"{direction} {items[number].value}") in known:
        return True
    after = items[number + 1] if number + 1 < len(items) else None
    if after is None:
        return False
    if after.kind == "run noun" or after.text.lower() in ("piece", "section", "half", "part"):
        return True
    place = significant(items, number + 1, 1, frozenset({"filler", "colon"}))
    if place is None or items[place].kind != "measure":
        return False
    found = items[place].found
    said_is = any(item.text.lower() in ("is", "'s") for item in items[number + 1 : place])
    if found is None or found.kind == "other":
        return False
    if not said_is and (len(found.amounts) < 2 and found.kind == "bare" and (found.value or 0) < 1000):
        return False
    return any(item.kind in ("end", "end word") for item in items[place + 1 : place + 8])


def _part_behind(items: list[Item], number: int) -> bool:
    """`front left dormer`: the left one of two of them on the front."""
    return number + 1 < len(items) and items[number + 1].kind == "part"


def _lr_joins(
    items: list[Item],
    number: int,
    part: str | None,
    storey: str | None,
    known: frozenset[tuple[str | None, str | None]],
) -> bool:
    """Whether `left` behind a part or a storey is its side as a run: `bay left 3-8`, `upper right 24-0`."""
    if part is None and (storey is None or items[number - 1].kind != "storey"):
        return False
    if part is not None and (part, LR_SIDE[items[number].value]) in known:
        return True
    if _same_part_follows(items, number):
        return True
    nxt = significant(items, number + 1, 1)
    if nxt is not None and items[nxt].text in ("'s", "’s"):
        nxt = significant(items, nxt + 1, 1)  # `bay right's 780`
    mark = items[nxt].text if nxt is not None else ""
    if nxt is not None and (mark in DASHES or (mark == "," and _says_it_is(items, nxt + 1))):
        nxt = significant(items, nxt + 1, 1)
    elif nxt is None and part is not None:
        return all(item.kind in ("filler", "walk", "part", "storey") for item in items[:number])
    return nxt is not None and (items[nxt].kind in ("measure", "run noun", "colon", "same", "mirror"))


def _says_it_is(items: list[Item], number: int) -> bool:
    """`the porch left, that's six foot one`."""
    return number < len(items) and items[number].text.lower() in ("that's", "thats", "it's", "its", "is")


def _same_part_follows(items: list[Item], number: int) -> bool:
    """`dorm L, dorm R 6-10 each`: another side of the same part closes the list."""
    behind = items[number + 1 : number + 4]
    return (
        len(behind) == len((",", "dorm", "R"))
        and (behind[0].text in (",", "+", "&", "/") or behind[0].text.lower() == "and")
        and behind[1].kind == "part"
        and behind[1].value == items[number - 1].value
        and behind[2].kind == "lr"
    )

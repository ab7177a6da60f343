"""How a line opens: list numbers, headings of a storey, names nobody knows, words that correct the line."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.items import Item, Line
from gutterance.reading.lexicon import Term
from gutterance.reading.places import PLACE_KINDS, PlaceName
from gutterance.reading.roles import has_feet

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk

LIST_MARKER = re.compile(
    r"\A\s*(?:[-*•>]+\s*)?(?:#(?P<row>\d{1,2})|#?(?P<number>\d{1,2})\s?[.):](?:,?\s*(?:and|&)\s*\d{1,2}\s?[.):])?)(?=\s|\Z)"
)
"""A row's number at the start of a line: `1. Front`, `- 2) Back`."""
CORRECTIONS_HEADING = re.compile(
    r"\A[\W_]*(?:corrections?|changes|fixes|amendments|revisions)[\W_]*\Z", re.IGNORECASE
)
"""A line alone that says that all below it puts right what stands above."""
QUARTERS_BESIDE = (
    ("FR", frozenset({"FL", "BL", "BR"}), "front right"),
    ("RR", frozenset({"RL", "FL"}), "back right"),
)
"""Short words that alone mean a whole side, but a quarter beside the other quarters."""
LONGEST_HEADING_NAME = 3
"""The words before a direction in a heading are no more than this."""
DROP = Term("drop", "cue", "height", "both")
"""`drop` as how far a downpipe goes down."""
PIPE_JOG = Term("jog", "cue", "offset", "before")
"""`jog` as what a downpipe does."""
ONTO = frozenset({"on", "onto", "on to", "to", "over", "into", "in", "across"})
"""Words before the roof or the gutter that a pipe empties on."""
SHORTEST_IN_MM = 1000
"""A bare number from this on is a length in millimetres."""
SHORTEST_IN_FEET = 3
"""A bare number from this on may be a length in feet, where the ends of a run stand behind it."""
SHORT_SIDES = frozenset({"sds", "sdes"})
"""Short words for both sides of the house, where they open a line."""
NAMES_IN_COMPANY = frozenset({"in", "end", "mid", "inner", "outer", "out", "long", "short"})
"""Words of other meaning that open a line as a run's name, with a length and its ends behind."""
BETWEEN_PART_AND_SIDE = frozenset({"only", "just", "the", "on", "one", "eave", ","})
"""Words between a part of the house and the side of it that has the run."""
LONGEST_NAME = 2
"""A name nobody knows has no more words than this."""
FEWEST_LETTERS = 2
"""From so many runs named by a letter on, a capital alone is one of them."""
STOREY_HEADING = re.compile(
    r"\A[\W_]*(?:(?P<up>up|upper|uppers|upstairs|upper (?:level|storey|story|floor|runs)|top|top floor"
    r"|second (?:storey|story|floor))"
    r"|(?P<low>low|lower|lowers|downstairs|lower (?:level|storey|story|floor|runs)|ground floor"
    r"|first storey))[\W_]*\Z",
    re.IGNORECASE,
)
"""A line alone that names the storey of the runs below it."""


def name_lettered_lines(lines: list[Line]) -> None:
    """`A 42-0 ...`, `B 28-6 ...`: lines that open with letters from A on name their runs so, B no back."""
    opened: list[Item] = []
    for line in lines:
        said = [item for item in line.items if item.kind not in ("mark", "colon")]
        if (
            len(said) >= 2
            and len(said[0].text) == 1
            and said[0].text.isupper()
            and said[0].kind in ("word", "filler", "initial", "lr")
            and said[1].kind == "measure"
            and said[1].found is not None
            and said[1].found.kind != "other"
        ):
            opened.append(said[0])
    letters = {item.text for item in opened}
    if len(letters) >= FEWEST_LETTERS and "A" in letters and letters & {"B", "C"}:
        for item in opened:
            item.kind, item.value = "numbered", item.text.lower()


def name_quarters(lines: list[Line]) -> None:
    """`FL 24 / 9-4`, `FR 22 / 9-6`: FR beside FL is the right of the front, RR beside RL of the back."""
    items = [item for line in lines for item in line.items]
    said = {item.text.upper() for item in items if item.kind == "quarter"}
    for short, beside, means in QUARTERS_BESIDE:
        for item in items:
            if item.text == short and item.kind == "direction" and said & beside:
                item.kind, item.value = "quarter", means


def name_letters(line: Line, letters: dict[str, PlaceName]) -> None:
    """`A on the left, C on the right`: where runs have letters, a capital letter alone is one of them."""
    for item in line.items:
        if (
            len(item.text) == 1
            and item.text.isupper()
            and item.text.lower() in letters
            and item.kind in ("word", "filler", "initial")
        ):
            item.kind, item.value = "numbered", letters[item.text.lower()].number


def left_for_lf(line: Line) -> None:
    """`lf 28 11 oc/oc`, `ds lf 10 0`: the left, where `148 lf` is feet along the eave."""
    for number, item in enumerate(line.items):
        if item.kind != "cue" or item.text.lower() != "lf":
            continue
        before = line.items[number - 1] if number else None
        ends = any(other.kind in ("end", "end word", "end pair") for other in line.items[number + 1 :])
        if (before is None and ends) or (
            before is not None and before.kind in ("direction", "outlet", "downpipe", "part")
        ):
            item.kind, item.value = "lr", "left"


def named_heading(line: Line) -> None:
    """`4. Cart house, east`: a line of words nobody knows, a comma and a direction names a run."""
    items = [item for item in line.items if item.kind != "mark"]
    names = items[:-2]
    if (
        len(items) < 3
        or len(names) > LONGEST_HEADING_NAME
        or items[-1].kind != "direction"
        or items[-2].text != ","
        or not any(item.kind == "word" for item in names)
        or any(item.kind not in ("word", "filler", "landmark") or not item.text.isalpha() for item in names)
    ):
        return
    words = line.text[names[0].start : names[-1].end]
    place = Item(
        line.number, names[0].start, items[-1].end, line.text[names[0].start : items[-1].end], "place"
    )
    place.value = PlaceName(part=words.lower(), direction=items[-1].value)
    place.marks.update(names[0].marks, words=[words.lower()], settled=True)
    line.items = [place]


def part_and_its_side(line: Line) -> None:
    """`Barn, only the west side, 48 ft`, `Woodshed, the east side, 16 ft 4`: one run, named in two parts."""
    said = [item for item in line.items if item.kind != "mark"]
    comma = len(said) > 2 and said[0].kind == "part" and said[1].text in (",", ":")
    at = next((n for n, item in enumerate(said[2:7], start=2) if item.kind == "direction"), None)
    if not comma or at is None or "side" not in said[at].text.lower():
        return
    between = {word for item in said[2:at] for word in item.text.lower().split()}
    behind = said[at + 1 : at + 3]
    if not between or not between <= BETWEEN_PART_AND_SIDE or (behind and behind[0].text != ","):
        return
    if not any(item.kind == "measure" for item in behind):
        return
    words = line.text[said[0].start : said[at].end]
    place = Item(line.number, said[0].start, said[at].end, words, "place")
    place.value = PlaceName(part=str(said[0].value), direction=str(said[at].value))
    place.marks.update(said[0].marks, words=[words.lower()], settled=True)
    line.items = [place, *(item for item in line.items if item.start >= said[at].end)]


def drops_of_pipes(line: Line, walk: Walk) -> None:
    """`outlet at L. DROP 8 FT 4`, `9' 1" drop to splash`: how far down it is, where an outlet was told."""
    told = walk.run is not None and bool(walk.run.outlets)
    for number, item in enumerate(line.items):
        if item.kind in ("outlet", "downpipe"):
            if item.text.lower() == "drop" and told and _goes_down(line.items, number):
                item.kind, item.value, item.term = "cue", "height", DROP
            told = True
        elif item.kind in PLACE_KINDS or item.kind in ("initial", "numbered", "next run"):
            told = False


def _goes_down(items: list[Item], number: int) -> bool:
    """Whether a number in feet, or in metres, stands right beside the word, and no place for an outlet."""
    behind = [item for item in items[number + 1 : number + 6] if item.kind != "colon"]
    if behind and behind[0].kind == "measure" and has_feet(behind[0]):
        words = [item.text.lower() for item in behind[1:4]]
        return not any(item.kind in ("side", "lr") for item in behind[1:2]) and not {"from", "off"} & set(
            words
        )
    behind = [item for item in behind if item.kind != "filler"]
    onward = not behind or behind[0].kind in ("break", "ends at")
    before = items[number - 1] if number else None
    return onward and before is not None and before.kind == "measure" and has_feet(before)


def correcting_mark(items: list[Item], walk: Walk) -> None:
    """`*24-6`: a line that opens with a star and a number puts the number before it right."""
    said = [item for item in items if item.kind != "mark"]
    if len(said) >= 2 and said[0].text == "*" and said[1].kind in ("measure", "cue"):
        walk.fixing = Item(said[0].line, said[0].start, said[0].end, "*", "fix")


def both_house_sides(line: Line) -> None:
    """`sides 34 2 osc both`: the left and the right side of the house, each."""
    first = next((item for number, item in enumerate(line.items) if _says_sides(line.items, number)), None)
    if first is None or any(item.value == "bay" and item.start < first.start for item in line.items):
        return
    before = [item for item in line.items if item.end <= first.start]
    if before and before[-1].text.lower() == "left and right":
        before.pop()
    places = []
    for direction in ("left side", "right side"):
        place = Item(first.line, first.start, first.end, first.text, "place", PlaceName(direction=direction))
        place.marks.update(words=[direction], settled=True)
        places.append(place)
    joint = Item(first.line, first.end, first.end, "and", "filler")
    behind = [item for item in line.items if item.start >= first.end]
    line.items = [*before, places[0], joint, places[1], *behind]


def two_initials(line: Line) -> None:
    """`E/W: 28-0 ea`: two letters at the opening of a line, each a side of that length."""
    items = [item for item in line.items if item.kind not in ("mark", "colon", "filler")][:4]
    if (
        [item.kind for item in items[:2]] == ["initial", "break"]
        and items[1].text in ("/", "&", "+")
        and [item.kind for item in items[2:]] == ["initial", "measure"]
    ):
        joint = items[1]
        joint.kind, joint.text, joint.strength = "filler", "and", 0
        for item in (items[0], items[2]):
            item.kind = "direction"
        line.items = [item for item in line.items if item.kind != "colon"]


def all_but(line: Line) -> None:
    """`24 everywhere but the bay`: the `but` makes an exception."""
    for before, item in pairwise(line.items):
        if item.text.lower() == "but" and before.kind == "all":
            item.kind, item.value = "except", "except"


def jogs_of_pipes(line: Line) -> None:
    """`it has to jog 6" around the meter box`: what a pipe does, not a jog in the wall."""
    for number, item in enumerate(line.items):
        if item.kind != "part" or item.text.lower() not in ("jog", "step out", "step back"):
            continue
        before = line.items[number - 1].text.lower() if number else ""
        behind = [
            other
            for other in line.items[number + 1 : number + 4]
            if other.kind != "filler" or other.text.lower() in ("around", "round", "over")
        ]
        measured = bool(behind) and behind[0].kind == "measure"
        round_it = any(other.text.lower() in ("around", "round", "over", "out") for other in behind[1:2])
        if measured and (round_it or before in ("to", "must", "needs to")):
            item.kind, item.value, item.term = "cue", "offset", PIPE_JOG


def lower_roofs(line: Line) -> None:
    """`dropping on to the extension roof`, `into the porch gutter`: where a pipe ends, not a run."""
    items: list[Item] = []
    number = 0
    while number < len(line.items):
        last = _roof_of_part(line.items, number)
        if last is None:
            items.append(line.items[number])
            number += 1
            continue
        first, end = line.items[number], line.items[last]
        value = "lower roof" if end.text.lower().endswith("roof") else "lower gutter"
        items.append(
            Item(line.number, first.start, end.end, line.text[first.start : end.end], "ends at", value)
        )
        number = last + 1
    line.items = items


def _roof_of_part(items: list[Item], first: int) -> int | None:
    """Where `on to the extension roof` ends that begins there, or None."""
    if items[first].text.lower() not in ONTO:
        return None
    here = first + 1
    while here < len(items) and items[here].text.lower() in (*ONTO, "the"):
        here += 1
    if here < len(items) and items[here].kind == "part" and items[here].text.lower().endswith("roof"):
        return here  # `on to the main roof`
    if here + 1 >= len(items) or items[here].kind not in ("part", "storey"):
        return None
    after = items[here + 1]
    if after.text.lower() == "roof":
        return here + 1
    into = items[first].text.lower() in ("into", "in")
    return here + 1 if into and after.text.lower() in ("gutter", "gutters", "guttering") else None


def wall_at_a_side(line: Line) -> None:
    """`OSC left wall right`: where each end has its side, `left wall` is no side of the house."""
    items: list[Item] = []
    for number, item in enumerate(line.items):
        words = item.text.lower().split()
        behind = next(
            (o for o in line.items[number + 1 :] if o.text.lower() not in ("on", "at", "the")), None
        )
        if (
            item.kind == "direction"
            and len(words) == 2
            and words[0] in ("left", "right")
            and words[1] == "wall"
            and (
                (
                    behind is not None
                    and behind.kind in ("lr", "side")
                    and number
                    and line.items[number - 1].kind not in ("break", "walk")
                )
                or _wall_in_a_row(line.items, number)
            )
        ):
            middle = item.start + len(words[0])
            items.append(Item(item.line, item.start, middle, words[0], "lr", words[0]))
            items.append(Item(item.line, item.end - len("wall"), item.end, "wall", "end", "wall"))
        else:
            items.append(item)
    line.items = items


def _wall_in_a_row(items: list[Item], number: int) -> bool:
    """`Run E | length 18' 0" | left wall | right end cap`: one of the cells that tell a run's ends."""
    if not 0 < number < len(items) - 1 or {items[number - 1].kind, items[number + 1].kind} != {"break"}:
        return False
    measured = any(item.kind == "measure" for item in items[:number])
    ends = [
        at
        for at, item in enumerate(items[:-1])
        if (item.kind in ("lr", "side") and items[at + 1].kind == "end")
        or (item.kind == "end" and items[at + 1].kind in ("lr", "side"))
    ]
    return measured and bool(ends) and items[number + 1].text == items[number - 1].text


def _says_sides(items: list[Item], number: int) -> bool:
    """Whether `sides` here is the subject of a number: not the sides of a porch, nor `both sides`."""
    word = items[number].text.lower()
    if word != "sides" and not (word in SHORT_SIDES and number == 0):
        return False  # `porch F 14-8. sds 5-2 ea`: the porch's
    before = items[number - 1] if number else None
    if before is not None and any(item.kind == "same" for item in items[max(0, number - 3) : number]):
        before = None  # `back same as front sides are 22-3`: the front ends what went before
    said_are = number + 1 < len(items) and items[number + 1].text.lower() in ("are", "both", "each")
    if before is not None and not (
        before.kind in ("break", "same", "mark", "walk")
        or before.text.lower() in ("the", "both", "and", "left and right")
        or (said_are and before.kind in ("lr", "side", "end", "end word", "ends at", "measure"))
    ):
        return False
    behind = [item for item in items[number + 1 :] if item.kind not in ("mark", "break")][:3]
    while behind and (behind[0].kind == "colon" or behind[0].text.lower() in ("are", "both", "each", "is")):
        behind = behind[1:]
    return bool(behind) and behind[0].kind == "measure"


def correcting_line(line: Line, walk: Walk) -> None:
    """`Correction: the front is ...`: the whole line corrects.

    A correcting word left over from the line before needs its number first.
    """
    said = [item for item in line.items if item.kind not in ("filler", "mark", "break")]
    if not said:
        return
    if said[0].kind == "fix" and said[0].text.lower().startswith(("correct", "amend", "revis", "change")):
        walk.correct_line = line.number
    if (
        walk.fixing is not None
        and walk.fixing.line < line.number
        and said[0].kind not in ("measure", "side", "lr", "cue")
    ):
        walk.fixing = None


def storey_heading(line: Line, walk: Walk) -> bool:
    """`UP`, `Lower:`, `DORMERS`: the runs that follow are of that storey."""
    match = STOREY_HEADING.match(line.text)
    if match is None:
        return False
    storey = "lower" if match["low"] else "upper"
    walk.context = PlaceName(storey=storey)
    walk.pipe_list = False
    for item in line.items:
        walk.use(item)
    return True


def unknown_name(line: Line) -> None:
    """`playhouse 12-4 caps both`: a name nobody knows and a length open the line: a run of that name."""
    before = next((place for place, item in enumerate(line.items) if item.kind == "measure"), len(line.items))
    if any(
        item.kind in ("place", "direction", "part", "storey", "initial", "quarter", "remark", "next run")
        for item in line.items[: before + 1]
    ):
        return  # `P 12'2" wall/cap <- porch off back` names no other place before its length
    items = [item for item in line.items if item.kind not in ("mark", "break")]
    if items and items[0].text.lower() == "the":
        items = items[1:]
    names = 1 if items and items[0].text.lower() in NAMES_IN_COMPANY and _length_follows(items) else 0
    while names < len(items) and (
        (items[names].kind == "word" and items[names].text.isalpha())
        or (
            items[names].kind == "landmark"
            and items[names + 1 : names + 2]
            and items[names + 1].text.lower() == "side"
        )
    ):
        names += 1
    if not 1 <= names <= LONGEST_NAME:
        return
    after = names
    while after < len(items) and (
        items[after].kind in ("colon", "run noun") or items[after].text.lower() in ("side", "is")
    ):
        of_name = items[after].text.lower() == "side" or (
            names == 1 and items[0].text.lower() in NAMES_IN_COMPANY and items[after].kind == "run noun"
        )
        names = after + 1 if of_name else names
        after += 1
    if after >= len(items) or items[after].kind != "measure":
        return
    found = items[after].found
    if found is None or found.kind == "other":
        return
    plainly = len(found.amounts) > 1 or found.kind == "length" or (found.value or 0) >= SHORTEST_IN_MM
    ends_behind = after + 1 < len(items) and items[after + 1].kind in ("end", "end pair")
    if not (plainly or (ends_behind and (found.value or 0) >= SHORTEST_IN_FEET)):
        return
    if not any(item.kind in ("end", "end pair", "end word", "outlet", "downpipe") for item in items[after:]):
        return
    words = line.text[items[0].start : items[names - 1].end]
    place = Item(
        line.number, items[0].start, items[names - 1].end, words, "place", PlaceName(part=words.lower())
    )
    place.marks.update(words=[words.lower()], settled=True)
    place.value = PlaceName(part=words.lower(), own=True)
    if not words.lower().endswith(" side"):
        items[after].doubts.append(f"{words!r} is not a place that the reader knows: taken as the run's name")
    line.items = [place, *[item for item in line.items if item.start >= place.end]]


def _length_follows(items: list[Item]) -> bool:
    """Whether a number and an end stand right behind the first word, or behind it and a word for a run."""
    behind = [item for item in items[1:5] if item.kind not in ("run noun", "colon")][:2]
    return (
        len(behind) == 2 and behind[0].kind == "measure" and behind[1].kind in ("end", "end pair", "end word")
    )


def list_marker(line: Line, walk: Walk) -> None:
    """`1. Front: ...`: the number of the list's row, not of the house; `1) 42-6 ...`: the name of the run."""
    match = LIST_MARKER.match(line.text)
    if match is None or not line.items:
        return
    inside = [item for item in line.items if item.start < match.end()]
    rest = [item for item in line.items if item.start >= match.end()]
    if any(item.end > match.end() or item.kind == "place" for item in inside):
        return  # a number within a longer word, or a run called by its number
    first = next((item for item in rest if item.kind not in ("filler", "break", "mark")), None)
    if first is None:
        return
    start, end = match.span("row" if match["row"] else "number")
    number = Item(line.number, start, end, line.text[start:end], "mark")
    first.marks.setdefault("with", []).append(number)
    walk.use(number)
    line.items = rest
    if first.kind == "measure" and first.found is not None and first.found.kind != "other":
        marker = Item(
            line.number,
            start,
            end,
            line.text[start:end],
            "place",
            PlaceName(number=line.text[start:end]),
        )
        marker.marks.update(words=[line.text[start:end]], settled=True)
        line.items = [marker, *rest]


def part_of_line(line: Line) -> PlaceName | None:
    """`Garage: front 22-1 ..., left 12-0 ...`: the part whose runs the line tells, taken out of its items."""
    said = [item for item in line.items if item.kind not in ("mark", "filler") or item.marks.get("with")]
    words = [item.text.lower() for item in said[1:3]]
    if said[:1] and said[0].kind == "part" and set(words) & {"detached", "attached"}:
        del said[1 : 3 if words[0] == "," else 2]
    if len(said) < 3 or said[0].kind != "part" or said[1].kind != "colon":
        return None
    behind = said[2]
    if behind.kind not in ("direction", "lr", "initial"):
        return None
    line.items = [item for item in line.items if item.start >= said[1].end]
    return PlaceName(part=said[0].value)

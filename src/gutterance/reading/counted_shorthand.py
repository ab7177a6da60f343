"""Counts as old hands write them in a run's line: `d2`, `2 ds ends`, `33 2OC`, `ec ec 1 l`, `oc/oc LR`.

Where a count or a side stands with no word for an outlet, it is taken for one and asked about: an outlet that
left no trace would be a leak.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.lexicon import Term
from gutterance.reading.roles import LISTED_BOTH

if TYPE_CHECKING:
    from gutterance.reading.items import Line

CODED_COUNT = re.compile(
    r"(?:(?P<letters>d|dp|ds|dn|do|s|sp|p|rwp)(?P<count>[1-4])|(?P<first>[1-4])d)\Z", re.IGNORECASE
)
"""`d2`: a letter for the downpipe against how many there are."""
COUNTED_SIDE = re.compile(r"1(?P<side>[lrc])\Z", re.IGNORECASE)
"""`1L`: one, against a letter for its side."""
SIDE_LETTERS = {"l": "left", "r": "right", "c": "centre"}
SURE_LETTERS = frozenset({"d", "dp", "ds", "dn", "do", "rwp"})
"""Letters that begin no other word of a run's line."""
ENDS = frozenset(
    {"ends", "end's", "corners", "crnrs", "cnrs", "cors", "crns", "cor", "cnr", "corner", "crnr"}
)
"""Words for the ends of a run, behind outlets that are counted or more than one."""
MOST_ON_A_RUN = 4
"""A run has no more downpipes than this, where only a digit tells of them."""
OUTLET = Term("drop", "outlet", "outlet")
OUTLETS = Term("drops", "outlet", "outlet")
LONGEST_OPENING = 3
"""A run's name has no more words than this."""
LONGEST_ABBREVIATION = 3
THINGS = frozenset({"outlet", "downpipe"})
NAMES = frozenset({"direction", "part", "storey", "initial", "lr", "numbered", "quarter", "landmark"})
NO_WORD = "a side with no word of what is there; taken for an outlet"


def spell_counts(lines: list[Line]) -> None:
    """Give each such count in the note its meaning, in place."""
    for line in lines:
        _join_possessives(line)
        _drop_dashes(line)
        if _is_of_a_run(line):
            _coded_counts(line)
            _counts_behind(line)
            _downs_at_both(line)
            _letters_for_outlets(line)
            _counts_against_sides(line)
        _outlets_at_ends(line)
        if _is_of_a_run(line):
            _sides_alone(line)


def _is_of_a_run(line: Line) -> bool:
    """Whether a line opens with a name or a number of a row, and a length behind it."""
    said = [item for item in line.items if item.kind not in ("mark", "colon", "break", "filler")]
    before = 0
    while before < len(said) and (
        said[before].kind in (*NAMES, "word") or (not before and _is_row_number(said[0]))
    ):
        before += 1
    return 0 < before <= LONGEST_OPENING and before < len(said) and _is_length(said[before])


def _is_row_number(item: Item) -> bool:
    """`1)`: the number of a row, before its length."""
    return item.kind == "measure" and item.found is not None and item.found.kind == "other"


def _is_length(item: Item) -> bool:
    return item.kind == "measure" and item.found is not None and item.found.kind != "other"


def _join_possessives(line: Line) -> None:
    """`26 6 osc's 1 lf`: more than one, though with an apostrophe; `the osc's on the left` is one."""
    items: list[Item] = []
    for number, item in enumerate(line.items):
        before = items[-1] if items else None
        behind = line.items[number + 1] if number + 1 < len(line.items) else None
        if (
            item.text.lower() in ("'s", "’s")
            and before is not None
            and before.end == item.start
            and before.term is not None
            and before.kind == "end"
            and len(before.text) <= LONGEST_ABBREVIATION
            and (behind is None or behind.kind in ("measure", "break", *THINGS))
        ):
            before.end, before.text = item.end, before.text + item.text
            before.term = replace(before.term, phrase=f"{before.term.phrase}s")
            continue
        items.append(item)
    line.items = items


def _coded_counts(line: Line) -> None:
    """`fr 38 oc oc d2`, `rear 40 s1 L`: how many downpipes there are, behind a letter for them."""
    told = any(item.kind in THINGS for item in line.items)
    for number, item in enumerate(line.items):
        found = item.found
        match = CODED_COUNT.match(item.text)
        if match is None or item.kind != "measure" or found is None or found.kind != "other" or not number:
            continue
        letters, count = (match["letters"] or "d").lower(), int(match["count"] or match["first"])
        behind = line.items[number + 1] if number + 1 < len(line.items) else None
        if letters not in SURE_LETTERS:
            if told or (behind is not None and behind.kind not in ("lr", "side", "break")):
                continue
            item.doubts.append(f"{letters!r} was taken for an outlet")
        item.kind, item.value, item.found = "outlet", "outlet", None
        item.term = OUTLETS if count > 1 else OUTLET
        item.marks["count"] = count


def _counts_behind(line: Line) -> None:
    """`dp2 ends`: the digit against the word counts it, and measures nothing."""
    items: list[Item] = []
    for item in line.items:
        before = items[-1] if items else None
        if before is not None and before.kind in THINGS and before.end == item.start:
            count = _small_count([item], 0)
            if count:
                before.end, before.text = item.end, before.text + item.text
                before.term = OUTLETS if count > 1 else OUTLET
                before.marks["count"] = count
                continue
        items.append(item)
    line.items = items


def _drop_dashes(line: Line) -> None:
    """`2-DS`, `1-drop`: the dash between a count and what it counts."""
    items = line.items
    line.items = [
        item
        for number, item in enumerate(items)
        if not (
            item.text == "-"
            and 0 < number < len(items) - 1
            and items[number + 1].kind in THINGS
            and _small_count(items, number - 1)
            and items[number - 1].end == item.start
            and item.end == items[number + 1].start
        )
    ]


def _letters_for_outlets(line: Line) -> None:
    """`f 44 c/c do l r`, `N 40-2 om/om o L`: behind a run's length, letters for an outlet before its side.

    The ends may be in letters that nobody knows: `40-2 m/m o L` has an outlet all the same.
    """
    measured = False
    for number, item in enumerate(line.items[:-1]):
        letters = item.text.lower()
        measured = measured or _is_length(item)
        if not measured or letters not in ("do", "o") or item.kind not in ("word", "filler"):
            continue
        if line.items[number + 1].kind not in ("lr", "side"):
            continue
        item.kind, item.value, item.term = "outlet", "outlet", OUTLET
        if letters == "o":
            item.doubts.append(f"{item.text!r} was taken for an outlet")


def _counts_against_sides(line: Line) -> None:
    """`osc/osc 1L 1R`: behind both ends, a count against its side is of outlets."""
    items: list[Item] = []
    for number, item in enumerate(line.items):
        match = COUNTED_SIDE.match(item.text) if item.kind == "measure" else None
        if match is None or _behind_both_ends(line.items[:number]) is None:
            items.append(item)
            continue
        value = SIDE_LETTERS[match["side"].lower()]
        side = Item(item.line, item.end - 1, item.end, item.text[-1], "side", value)
        outlet = Item(item.line, item.start, item.end - 1, item.text[:-1], "outlet", "outlet", term=OUTLET)
        outlet.marks.update({"side": side, "count": 1, "used": True})
        side.marks.update(used=True, settled=True)
        outlet.doubts.append(NO_WORD)
        items += [outlet, side]
    line.items = items


def _downs_at_both(line: Line) -> None:
    """`rear 62 cap/oc. dn both 9`: behind the ends of a run, a downpipe at each of them."""
    for number, item in enumerate(line.items[:-1]):
        behind = line.items[number + 1]
        told = any(other.kind in ("end", "end pair") for other in line.items[:number])
        if told and item.text.lower() in ("dn", "dns") and behind.text.lower() in ("both", "bth"):
            item.kind, item.value, item.term = "downpipe", "downpipe", OUTLETS
            behind.kind, behind.value, behind.term = "side", "both", None


def _outlets_at_ends(line: Line) -> None:
    """`2 ds ends`, `drops corners`, `2dn @ cnr`: one at each end."""
    for number, item in enumerate(line.items):
        if item.text.lower() not in ENDS or item.kind not in ("word", "filler", "corner", "run noun"):
            continue
        place = number - 1
        while place >= 0 and (line.items[place].kind in ("filler", "all") or line.items[place].text == "@"):
            place -= 1
        if place < 0 or line.items[place].kind not in THINGS:
            continue
        behind = line.items[number + 1] if number + 1 < len(line.items) else None
        if behind is not None and behind.kind in ("lr", "side", "end", "end word"):
            continue
        each = line.items[number - 1]
        if each.text.lower() in ("ea", "ea.", "each") and number - 1 > 0:
            place = number - 2
            if line.items[place].kind in THINGS and line.items[place].kind != "filler":
                item.kind, item.value, item.term, each.kind = "side", "both", None, "filler"
            continue
        thing = line.items[place]
        if _counted(line.items, place) == 2 or (thing.plural and _counted(line.items, place) == 0):
            item.kind, item.value, item.term = "side", "both", None


def _counted(items: list[Item], place: int) -> int:
    """How many outlets the item there speaks of, by its own count or the one before; 0 if not said."""
    own = items[place].marks.get("count")
    if own is not None:
        return int(own)
    before = items[place - 1] if place else None
    if before is None or before.found is None or before.kind not in ("measure", "count"):
        return 0
    value = before.found.value
    few = value is not None and value.denominator == 1 and value <= MOST_ON_A_RUN
    return int(value) if few and value is not None and len(before.found.amounts) < 2 else 0


def _sides_alone(line: Line) -> None:
    """`up frt 40 ec ec 1 l`, `S 44-0 om/om LR`: behind both ends of a run, a side alone is an outlet's."""
    if any(item.kind in THINGS or item.kind == "no" for item in line.items):
        return
    told = _behind_both_ends(line.items)
    unknown = told is None
    told = _behind_a_pair(line.items) if told is None else told
    if told is None:
        return
    items = line.items
    count = _small_count(items, told)
    if not count and not unknown and not _plainly_both(items, told):
        return  # `cap, inside corner right`
    at = told + 1 if count else told
    side = items[at] if at < len(items) else None
    if side is None or (side.text.lower() == "lf" and not count):
        return
    if side.kind == "cue" and side.text.lower() == "lf":
        side.kind, side.value = "lr", "left"
    listed_ends = side.text.lower() in ENDS and count == 2
    if listed_ends:
        side.kind, side.value, side.term = "side", "both", None
    by_letters = side.value != "both" or side.text.upper() in LISTED_BOTH
    if not count and items[told - 1].kind == "end" and (items[told - 1].plural or not by_letters):
        return  # `outside corners both ends`
    if side.kind not in ("lr", "side") or side.value not in ("left", "right", "centre", "both"):
        return
    behind = items[at + 1 :]
    if not count and any(item.kind not in ("measure", "break", "ends at", "colour") for item in behind):
        return
    outlet = Item(side.line, side.start, side.end, side.text, "outlet", "outlet", term=OUTLET)
    if count:
        digit = items[told]
        outlet = Item(digit.line, digit.start, digit.end, digit.text, "outlet", "outlet", term=OUTLET)
        outlet.marks["count"] = count
    outlet.marks["side"] = side
    outlet.marks["used"] = side.marks["used"] = True
    side.marks["settled"] = True
    outlet.doubts.append(NO_WORD)
    line.items = [*items[:told], outlet, side, *behind]


def _behind_both_ends(items: list[Item]) -> int | None:
    """The place right behind the two ends of a run, told side by side or as one word, or None."""
    ends = [place for place, item in enumerate(items) if item.kind in ("end", "end pair")]
    if not ends:
        return None
    last = ends[-1]
    first = items[ends[0]]
    if len(ends) == 1:
        both = first.kind == "end pair" or first.plural
        return last + 1 if both else None
    between = items[ends[0] + 1 : last]
    joined = all(item.kind == "break" and item.strength <= 1 for item in between)
    return last + 1 if len(ends) == 2 and joined and first.kind == "end" else None


def _behind_a_pair(items: list[Item]) -> int | None:
    """The place right behind two words that nobody knows, joined behind a length: `40-2 m/m R`."""
    for place, item in enumerate(items[:-3], start=1):
        first, joint, second = items[place : place + 3]
        if (
            _is_length(item)
            and joint.text == "/"
            and first.end == joint.start
            and joint.end == second.start
            and all(one.kind in ("word", "filler") and one.text.isalpha() for one in (first, second))
            and max(len(first.text), len(second.text)) <= LONGEST_ABBREVIATION
        ):
            return place + 3
    return None


def _plainly_both(items: list[Item], told: int) -> bool:
    """Whether a side behind these ends can be the side of neither: `oc/ec L`, `osc osc L`."""
    ends = [item for item in items[:told] if item.kind in ("end", "end pair")]
    marks = [item.text for item in items[:told] if item.kind == "break"]
    return ends[-1].kind == "end pair" or marks == ["/"] or ends[0].value == ends[-1].value


def _small_count(items: list[Item], place: int) -> int:
    """The digit at a place that may count outlets, or 0."""
    found = items[place].found if place < len(items) else None
    if found is None or items[place].kind != "measure" or found.kind != "bare" or len(found.amounts) != 1:
        return 0
    value = found.value
    whole = value is not None and value.denominator == 1 and 1 <= value <= MOST_ON_A_RUN
    return int(value) if whole and value is not None else 0

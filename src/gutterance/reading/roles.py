"""What each item of a stretch of words is for: counts, offsets from an end, sides of things, cues of numbers.

Works on the items between one place coming into focus and the next. Marks items; changes no sheet.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.eaves_told import eaves_told
from gutterance.reading.endings import endings_by_side
from gutterance.reading.items import Item
from gutterance.reading.lexicon import Term
from gutterance.reading.matching import distance, pair_neighbours

if TYPE_CHECKING:
    from gutterance.measure.found import Found

LISTED_BOTH = frozenset({"L&R", "L & R", "L+R", "L + R", "L/R", "L / R", "LR", "L AND R", "LEFT AND RIGHT"})
"""Words for both ends that name them in order."""
THINGS = frozenset({"end", "end word", "corner", "outlet", "downpipe"})
"""Kinds of items that are at one side of a run."""
OUTLETS = frozenset({"outlet", "downpipe"})
"""Words for an outlet, or for the pipe below it."""
SIDES = frozenset({"side", "lr", "far end", "near end"})
"""Words for a side or an end of a run."""
COUNTED = frozenset(
    {"outlet", "downpipe", "end", "end word", "corner", "elbow", "count of", "run noun", "angle word"}
)
"""What a small whole number may count."""
GABLES = Term("gables", "end", "end cap", "both")
"""Gables at both ends of a run, which are capped."""
LARGEST_COUNT = 12
"""A larger number than this counts nothing."""
MOST_PIECES = 4
"""A run is told in no more pieces than this."""
FARTHEST_FASCIA_IN_FEET = 6
TWO_NUMBERS, INCHES_A_FOOT = 2, 12
STEEPEST = 60
"""A bare number larger than this is no roof pitch, neither as rise in twelve nor in degrees."""
LOWEST_EAVE_MM = 1000
"""A smaller number than this [mm] is no height of an eave."""
SHORTEST_HEIGHT = 24
"""Fewer inches than this, said as inches, are no height."""
FLATTEST_ROOF, STEEPEST_ROOF = 15, 60
"""Bare numbers from the one to the other are a pitch in degrees. Common practice, no source."""
FARTHEST_SIDE = 4.0
"""A side that stands farther off than this (as `matching.distance` counts) belongs to something else."""
FARTHEST_CUE = 3.5
"""A side or a cue that stands farther off than this belongs to something else."""
STOPPING = frozenset({"stop", "stops", "stopped"})
"""Words for an end that are also what somebody does ..."""
PERSONS = frozenset({"i", "we", "he", "she", "they", "you", "i'd", "we'd"})
"""... behind these."""
WALL_JOINERS = frozenset(["into", "to", "at", "against", "/", "by"])
"""Words beside `wall` by which it is an end."""


def assign_roles(items: list[Item]) -> None:
    """Mark the items of one stretch in place: see each rule below."""
    _weak_ends(items)
    _ends_denied(items)
    _weak_cues(items)
    eaves_told(items)
    _blocks(items)
    _walls_of_caps(items)
    _stopped_walking(items)
    _hedges(items)
    _numbers_run_together(items)
    _counts(items)
    _offsets(items)
    _so_far_in(items)
    _angles(items)
    _sides_in_brackets(items)
    _distributed(items)
    _corners_told_behind(items)
    endings_by_side(items)
    _near_sides(items)
    _sides(items)
    _cues(items)
    _in_order_of_list(items)
    _inherit_cues(items)
    _values_in_a_row(items)


def _next(items: list[Item], place: int, *, over: frozenset[str] = frozenset({"filler"})) -> int | None:
    """The next item's place, over the little words, or None."""
    place += 1
    while place < len(items):
        if items[place].kind not in over:
            return place
        place += 1
    return None


def _weak_ends(items: list[Item]) -> None:
    """`wall`, `outside` and `grade` mean an end or an ending only in company; alone they are plain words."""
    for place, item in enumerate(items):
        if item.kind == "end" and item.text.lower() == "wall":
            before = items[place - 1] if place else None
            after = items[place + 1] if place + 1 < len(items) else None
            near = [i for i in (before, after) if i is not None]
            side = next((i for i in items[place + 1 : place + 8] if i.kind != "filler"), None)
            if (
                after is not None
                and after.text.lower() in ("on", "at", "to", "its", "the", "of", "of the")
                and side is not None
                and side.kind in SIDES
            ):
                near.append(side)
            in_company = any(
                i.kind in SIDES
                or i.kind in ("end", "end word", "colon")
                or i.text.lower() in WALL_JOINERS
                or i.text in ("/", "-")
                for i in near
            )
            back = [
                i.text.lower()
                for i in items[max(0, place - 5) : place]
                if i.kind in ("filler", "ref", "word", "end")
            ]
            if {"into", "against", "dies", "butts", "meets"} & set(back):
                in_company = True
            if _behind_another_end(items, place) or _where_an_outlet_is(items, place):
                in_company = True
            if not in_company or (
                before is not None
                and before.text.lower() in ("the", "a")
                and place >= 2
                and items[place - 2].text.lower() in ("on", "off", "from", "off of")
            ):
                item.kind, item.value = "word", "wall"


def _ends_denied(items: list[Item]) -> None:
    """`a joint and not a stop end`: what the run does not end with."""
    for place, item in enumerate(items):
        if item.kind != "end" or place < 2 or items[place - 1].text.lower() not in ("a", "an"):
            continue
        denies = items[place - 2].text.lower() in ("not", "isn't", "isnt", "never")
        if denies and not any(other.kind == "end" for other in items[place + 1 :]):
            item.kind, item.value = "word", ""


def _corners_told_behind(items: list[Item]) -> None:
    """`corners both ends outside`, `corner each end, both inside`: the word behind says which corners."""
    for place, item in enumerate(items):
        if item.kind != "corner":
            continue
        behind = [
            other.kind
            for other in items[place + 1 :]
            if other.kind not in ("filler", "all") and not (other.kind == "break" and other.strength <= 1)
        ]
        if (
            len(behind) >= 2
            and behind[0] in SIDES
            and next((k for k in behind if k not in SIDES), "") == "end word"
        ):
            item.kind = "filler"


def _behind_another_end(items: list[Item], place: int) -> bool:
    """`a cap and then a wall`: the other end of the run."""
    before = items[place - 1] if place else None
    if before is None or before.text.lower() not in ("a", "and"):
        return False
    for item in reversed(items[max(0, place - 5) : place]):
        if item.kind in ("end", "end word"):
            return True
        if item.kind not in ("filler", "walk", "break"):
            return False
    return False


def _where_an_outlet_is(items: list[Item], place: int) -> bool:
    """`one pipe on the right piece, at the wall`: the end of the run that the outlet is at."""
    words = [item.text.lower() for item in items[max(0, place - 2) : place]]
    if words not in (["at", "the"], ["by", "the"], ["near", "the"], ["to", "the"]):
        return False
    for item in reversed(items[: place - 2]):
        if item.kind in OUTLETS:
            return True
        if item.kind not in ("filler", "place", "word") and not (item.kind == "break" and item.strength <= 1):
            return False
    return False


def _stopped_walking(items: list[Item]) -> None:
    """`I stopped at the chimney`: what somebody did, no end of a run."""
    for before, item in pairwise(items):
        if item.kind == "end" and item.text.lower() in STOPPING and before.text.lower() in PERSONS:
            item.kind, item.value = "word", ""


def _blocks(items: list[Item]) -> None:
    """`Ten two. Block.`: said alone, where the pipe ends."""
    said = [item for item in items if item.kind not in ("filler", "break", "mark")]
    if len(said) == 1 and said[0].kind == "word" and said[0].text.lower() in ("block", "blocks"):
        said[0].kind, said[0].value = "ends at", "splash block"


def _walls_of_caps(items: list[Item]) -> None:
    """`stop end on the left at the party wall`: the wall only says where the cap is."""
    for place, item in enumerate(items):
        if item.kind != "end" or item.value != "wall":
            continue
        here = place - 1
        words: set[str] = set()
        while here >= 0 and items[here].kind in ("filler", "ref", "side", "lr"):
            words.add(items[here].text.lower())
            here -= 1
        before = items[here] if here >= 0 else None
        if before is not None and before.kind == "end" and before.value == "end cap" and words & {"at", "by"}:
            item.kind, item.value = "landmark", ""


def _weak_cues(items: list[Item]) -> None:
    """`oh and watch out` is no overhang, and `the ground falls away` no end of a pipe."""
    for place, item in enumerate(items):
        before = items[place - 1] if place else None
        after = items[place + 1] if place + 1 < len(items) else None
        if item.kind == "cue" and item.text.lower() in ("high", "hi", "low") and _in_brackets(before, after):
            item.kind, item.value = "filler", ""  # `main rear (high)`
        elif item.kind == "landmark" and item.text.lower() == "gables" and _closes_a_length(before, after):
            item.kind, item.value, item.term = "end", "end cap", GABLES
        elif item.kind == "no" and _number_of(before, item, after):
            item.kind, item.value = "filler", ""
        elif item.kind == "word" and item.text == "d" and after is not None and after.kind in SIDES:
            item.kind, item.value = "downpipe", "downpipe"  # `d L 9-0`
        elif item.kind == "cue" and item.text.lower() == "hi" and (after is None or after.kind == "break"):
            item.kind, item.value = "filler", ""  # `Hi, the figures are ...`
        elif item.kind == "cue" and item.text.lower() == "dn" and _told_where(items, place):
            item.kind, item.value = "downpipe", "downpipe"  # `dn both ends`, `dn @ oc`
        elif item.kind == "cue" and item.text == "oh":
            figures = [
                other
                for other in (before, after)
                if other is not None and other.kind == "measure" and any(c.isdigit() for c in other.text)
            ]
            if not figures or (after is not None and after.kind == "filler"):
                item.kind, item.value = "filler", ""
        elif (
            item.kind == "ends at"
            and item.text.lower() == "ground"
            and before is not None
            and before.text.lower() == "the"
        ):
            item.kind, item.value = "word", ""


def _in_brackets(before: Item | None, after: Item | None) -> bool:
    return before is not None and after is not None and (before.text, after.text) == ("(", ")")


def _closes_a_length(before: Item | None, after: Item | None) -> bool:
    """`Upper front  36-0  gables  ds L`: how a run ends, right behind its length."""
    return (
        before is not None
        and before.kind == "measure"
        and before.found is not None
        and before.found.kind != "other"
        and (after is None or after.kind in (*OUTLETS, "break", "all", "no"))
    )


def _number_of(before: Item | None, item: Item, after: Item | None) -> bool:
    """`2no outlets`: how many there are. Makes the number a count."""
    if before is None or after is None or before.found is None or after.kind not in OUTLETS:
        return False
    value = before.found.value
    if before.end != item.start or value is None or value.denominator != 1 or value > LARGEST_COUNT:
        return False
    before.kind, before.value = "count", int(value)
    after.marks["count"] = int(value)
    after.marks.setdefault("with", []).append(before)
    return True


def _told_where(items: list[Item], place: int) -> bool:
    """Whether a side or an end stands right behind, and no number before: the word is for the pipe."""
    before = items[place - 1] if place else None
    if before is not None and before.kind == "measure" and "angle" not in before.marks:
        return False
    behind = next((item for item in items[place + 1 :] if item.kind != "filler"), None)
    sized = any(
        other.found is not None and other.found.what in ("material size", "pipe size")
        for other in items[max(0, place - 3) : place]
    )
    return sized or (behind is not None and behind.kind in (*SIDES, "end", "corner", "compass corner"))


def _hedges(items: list[Item]) -> None:
    """`30-6 x 2`, `30-6 minimum`, `not 30-6`, `2 runs of 14-6`: words by which a number is not itself."""
    for place, item in enumerate(items):
        found = item.found
        if item.kind != "measure" or found is None or found.kind == "other":
            continue
        behind = items[place + 1 : place + 4]
        for other in behind:
            if other.kind == "break":
                break
            if other.kind == "hedge" or (
                other.found is not None and other.found.what == "count" and "x" in other.text
            ):
                item.doubts.append(f"{other.text!r} was said with it")
                break
            if other.kind in ("measure", "cue", "place", "end", "outlet", "downpipe"):
                break
        if (
            len(behind) > 1
            and behind[0].text.lower() == "to"
            and any(other.kind in ("outlet", "downpipe", "landmark") for other in behind[1:3])
        ):
            item.doubts.append("measured to something on the run: part of it?")
        if _of_some_part(behind, items[place + 4 : place + 5]):
            item.doubts.append("said of a part of the house, and not known which runs that is")
        ahead = items[max(0, place - 3) : place]
        if any(other.kind == "hedge" for other in ahead) or (
            ahead and ahead[-1].text.lower() in ("not", "isn't")
        ):
            item.doubts.append("said with a word that takes it back or bounds it")
        if (
            len(ahead) >= 2
            and ahead[-1].text.lower() == "of"
            and ahead[-2].kind == "run noun"
            and ahead[-2].plural
        ):
            item.doubts.append("said of several runs at once")


def _numbers_run_together(items: list[Item]) -> None:
    """`drop right 22 9 8`: three numbers in a row may be parted in two ways."""
    for item, other in pairwise(items):
        if item.kind != "measure" or other.kind != "measure" or item.found is None or other.found is None:
            continue
        plain = all(one.found is not None and one.found.kind == "bare" for one in (item, other))
        together = other.start - item.end == 1 and not any(mark in item.text for mark in "-'\"/.")
        single = len(other.found.amounts) == 1 and len(item.found.amounts) == TWO_NUMBERS
        if plain and together and single and other.found.amounts[0].value < INCHES_A_FOOT:
            for one in (item, other):
                one.doubts.append("three numbers in a row: where does the one end?")


def _of_some_part(behind: list[Item], more: list[Item]) -> bool:
    """`a foot and a half on the tall part`: behind a number, words for some of the house."""
    words = [other.text.lower() for other in [*behind, *more]]
    return words[:2] == ["on", "the"] and words[3:4] in (["part"], ["bit"], ["half"], ["section"])


def _counts(items: list[Item]) -> None:
    """`two drops`, `4 OSC`, `2 guys`: a small whole number before something that is counted."""
    for place, item in enumerate(items):
        found = item.found
        if item.kind == "downpipe name":
            _keep_with_follower(items, place)
        if item.kind != "measure" or found is None or item.marks.get("count"):
            continue
        if found.kind == "other":
            if found.what == "count" and found.value is not None:
                item.kind, item.value = "count", int(found.value)
                _keep_with_follower(items, place)
            continue
        if (
            found.kind != "bare"
            or found.value is None
            or found.value.denominator != 1
            or found.value > LARGEST_COUNT
        ):
            continue
        if found.value == 0:
            item.kind, item.value = "count", 0
            continue
        if _behind_its_thing(items, place):
            item.kind, item.value = "count", int(found.value)
            items[place - 2].marks["count"] = int(found.value)
            items[place - 2].marks.setdefault("with", []).append(item)
            continue
        if not _single(found.text):
            if found.value == 1 and found.text.lower().startswith("one "):
                item.kind, item.value = "count", 1
            continue
        if found.value <= MOST_PIECES and place and items[place - 1].text.lower() == "in":
            item.kind, item.value = "count", int(found.value)  # `that's in two`
            continue
        if _counts_something_else(items, place) or _counts_little_ones(items, place):
            item.kind, item.value = "count", int(found.value)
            continue
        if _those_at_a_place(items, place):
            item.kind, item.value = "count", int(found.value)
            items[place - 1].marks.setdefault("with", []).append(item)
            continue
        nxt = _next(items, place)
        if nxt is None:
            if found.text.lower() == "one":
                item.kind, item.value = "count", 1
            continue
        follower = items[nxt]
        adjacent = all(
            i.kind == "filler" and i.text.lower() in ("of", "more", "new", "other", "straight")
            for i in items[place + 1 : nxt]
        )
        counted = (
            follower.kind in COUNTED
            and adjacent
            and (
                follower.plural
                or found.value == 1
                or follower.kind in ("end", "outlet", "downpipe", "angle word")
            )
        )
        if counted and follower.kind in ("end", "end word") and not (follower.plural or found.value <= 2):
            counted = False
        if counted and _length_wanted(items, place) and found.value > 2:
            counted = False
        if counted or found.text.lower() == "one":
            item.kind, item.value = "count", int(found.value)
            follower.marks.setdefault("with", []).append(item)
            if counted:
                follower.marks["count"] = int(found.value)


def _behind_its_thing(items: list[Item], place: int) -> bool:
    """`Downspouts: one, at the left end`: how many there are, behind the word for them."""
    if place < 2 or items[place - 1].kind != "colon" or items[place - 2].kind not in OUTLETS:
        return False
    behind = items[place + 1] if place + 1 < len(items) else None
    alone = behind is None or (behind.kind == "break" and behind.text in (",", ".", ";", "(", "-", "–", "—"))
    return alone and items[place].text.isalpha()


def _counts_something_else(items: list[Item], place: int) -> bool:
    """`3 kids`: a small number right before a plural that is no word of the trade."""
    follower = items[place + 1] if place + 1 < len(items) else None
    return (
        follower is not None
        and follower.kind == "word"
        and follower.text.isalpha()
        and len(follower.text) > 3
        and follower.text.lower().endswith("s")
        and not follower.text.lower().endswith("ss")
    )


def _counts_little_ones(items: list[Item], place: int) -> bool:
    """`the bay, which is three little ones`: a number of runs, with a word between."""
    behind = [item.text.lower() for item in items[place + 1 : place + 4]]
    return any(
        word in ("ones", "runs", "pieces", "bits", "sections", "lengths", "sides") for word in behind[1:2]
    ) and behind[0] in ("little", "short", "small", "wee", "more", "separate", "different", "long", "tiny")


def _those_at_a_place(items: list[Item], place: int) -> bool:
    """`the back two are 9-4`, `the two at the front`: how many stand there."""
    before = items[place - 1] if place else None
    behind = items[place + 1].text.lower() if place + 1 < len(items) else ""
    if before is not None and before.text.lower() == "the" and behind in ("at", "on", "round"):
        named = [item for item in items[place + 2 : place + 5] if item.kind != "filler"]
        return bool(named) and named[0].kind in ("place", "ref") and items[place].text.isalpha()
    return (
        before is not None
        and before.kind in ("place", "ref")
        and behind in ("are", "were", "both", "have", "get", "go")
        and items[place].text.isalpha()
    )


def _keep_with_follower(items: list[Item], place: int) -> None:
    """A count stays with what it counts: `Two drops`, so that its words stand with theirs."""
    follower = _next(items, place)
    if follower is None:
        return
    items[follower].marks.setdefault("with", []).append(items[place])
    if items[follower].kind in ("outlet", "downpipe", "end", "end word"):
        items[follower].marks["count"] = items[place].value


def _single(text: str) -> bool:
    """Whether the words of a number are one word."""
    return len(text.replace("-", " ").split()) == 1


def _length_wanted(items: list[Item], place: int) -> bool:
    """Whether a place has just come into focus, so that the number may be its length."""
    return all(
        item.kind in ("place", "filler", "colon", "run noun") or (item.kind == "break" and item.strength <= 1)
        for item in items[:place]
    ) and any(item.kind == "place" for item in items[:place])


def _offsets(items: list[Item]) -> None:
    """`12 in from the right end`, `6 off the left corner`, `10 6 in from left`: how far from an end."""
    for place, item in enumerate(items):
        if item.kind != "measure" or item.found is None or item.found.kind == "other":
            continue
        said_from = False
        for ahead in range(place + 1, min(place + 8, len(items))):
            other = items[ahead]
            word = other.text.lower()
            if other.kind == "filler":
                said_from = said_from or word in ("from", "off", "off of", "frm")
                continue
            if other.kind == "word" and word in ("back", "in", "inches", '"', "'", "hand"):
                continue
            if other.kind == "walk" and word in ("from there",):
                break
            if not said_from:
                break
            if other.kind in SIDES:
                item.marks["offset"] = other
                other.marks["used"] = True
            elif other.kind in ("corner", "end", "end word"):
                if _runs_to_another_end(items, ahead):
                    break  # `14 foot 1 from the internal to the external`: the run's length
                item.marks["offset"] = other
                if other.kind == "corner" or other.kind == "end word":
                    other.marks["used"] = True
                else:
                    other.marks["end ref"] = True
            break


def _runs_to_another_end(items: list[Item], place: int) -> bool:
    """Whether `to` and another end stand behind an end."""
    said_to = False
    for other in items[place + 1 : place + 10]:
        if other.kind == "break" and other.strength >= 3:
            return False
        said_to = said_to or other.text.lower() in ("to", "into", "through to", "over to")
        if said_to and other.kind in ("end", "end word", "place", "ref"):
            return True
        if other.kind in ("measure", "outlet", "downpipe"):
            return False
    return False


def _so_far_in(items: list[Item]) -> None:
    """`drop on the right, 14 inches in`: how far from the end that the outlet, or an end, was told at."""
    for place, item in enumerate(items):
        found = item.found
        if item.kind != "measure" or found is None or found.kind != "length" or "offset" in item.marks:
            continue
        behind = [other.text.lower() for other in items[place + 1 : place + 3]]
        if behind[:1] != ["in"] or (len(behind) > 1 and behind[1] in ("from", "the", "a", "off")):
            continue
        side = thing = None
        for other in reversed(items[max(0, place - 10) : place]):
            if other.kind in SIDES and side is None:
                side = other
            elif other.kind in OUTLETS:
                thing = other
                break
            elif other.kind in ("cue", "place", "ends at", "end", "end word"):
                break
        if thing is not None:
            item.marks["offset"] = side or Item(item.line, item.start, item.end, item.text, "end told last")


def _angles(items: list[Item]) -> None:
    """`45 OSC`, `outside 45`, `45° bay corner`: the angle that a corner turns."""
    for place, item in enumerate(items):
        found = item.found
        angle: float | None = None
        if item.kind == "angle word":
            angle = 45.0
        elif item.kind == "measure" and found is not None and found.value is not None:
            if (found.kind == "other" and found.what == "angle") or (
                found.kind == "bare"
                and found.value in (45, 135)
                and _single(found.text.replace("forty five", "45").replace("forty-five", "45"))
            ):
                angle = float(found.value)
            elif found.kind == "bare" and found.value == 45:
                angle = 45.0
            elif found.kind == "bare" and found.value == 90 and _beside_a_corner(items, place):
                angle = 90.0
        if angle is None:
            continue
        for other_place in (place + 1, place - 1, place + 2, place - 2, place - 3):
            if not 0 <= other_place < len(items):
                continue
            other = items[other_place]
            between = items[min(place, other_place) + 1 : max(place, other_place)]
            if not all(
                i.kind in ("filler", "mark") or (i.kind == "break" and i.strength <= 1) for i in between
            ):
                continue
            turns = other.kind == "corner" or (
                other.kind in ("end", "end word") and other.value in ("outside corner", "inside corner")
            )
            if turns and "angle" not in other.marks and not (other.kind == "corner" and other.plural):
                turn = angle if angle <= 90 else 180 - angle
                other.marks["angle"] = turn
                other.marks["angle item"] = item
                item.kind = "angle"
                break
        else:
            _angle_of_part(items, place, angle)


def _beside_a_corner(items: list[Item], place: int) -> bool:
    """`8450 - ext 90 rh`: a bare 90 right beside a corner, where another number tells how long the run is."""
    beside = [*items[max(0, place - 1) : place], *items[place + 1 : place + 2]]
    corner = any(
        other.kind == "corner"
        or (other.kind in ("end", "end word") and other.value in ("outside corner", "inside corner"))
        for other in beside
    )
    measured = [
        other
        for other in items
        if other.kind == "measure" and other.found is not None and other.found.kind != "other"
    ]
    return corner and any(other.found is not None and other.found.value != 90 for other in measured)


def _angle_of_part(items: list[Item], place: int, angle: float) -> None:
    """`45s on the bay corners`, `the corners of it are 45s`: the angle of all corners of what stands out."""
    near = items[max(0, place - 5) : place + 6]
    said_of_bay = any("bay" in item.text.lower() and item.kind == "angle word" for item in near)
    corners = any(item.kind == "corner" and item.plural for item in near)
    if said_of_bay or corners:
        items[place].kind, items[place].value = "part angle", angle if angle <= 90 else 180 - angle


def _distributed(items: list[Item]) -> None:
    """`h 9-3 L 9-5 R`, `heights left nine three right nine five`: side and number by turns."""
    turns = [
        (place, item)
        for place, item in enumerate(items)
        if (item.kind in SIDES and item.value in ("left", "right", "centre"))
        or (
            item.kind == "measure"
            and item.found is not None
            and item.found.kind != "other"
            and "offset" not in item.marks
        )
        or item.kind in ("end", "outlet", "downpipe", "place")
    ]
    fours: list[tuple[int, list[tuple[int, Item]]]] = []
    for here in range(len(turns) - 3):
        four = _by_turns(items, turns[here : here + 4])
        if four:
            fours.append((here, four))
    for four in _in_step(items, fours):
        sides = [item for _, item in four if item.kind in SIDES]
        for (_, a), (_, b) in ((four[0], four[1]), (four[2], four[3])):
            measure, side = (a, b) if a.kind == "measure" else (b, a)
            measure.marks["at side"] = side
            side.marks["used"] = True
        _endings_by_side(items, four[0][0], four[2][0], sides)


def _in_step(
    items: list[Item], fours: list[tuple[int, list[tuple[int, Item]]]]
) -> list[list[tuple[int, Item]]]:
    """Of fours that overlap, those that pair their numbers and sides in the same order.

    `8-6 L, 9-0 R, 16 both`: the R stands nearer to the 9-0 than to the 16, so that no pair crosses. More
    pairs in one order outweigh how near they stand.
    """
    groups: list[list[tuple[int, list[tuple[int, Item]]]]] = []
    for here, four in fours:
        if groups and here - groups[-1][-1][0] < len(four):
            groups[-1].append((here, four))
        else:
            groups.append([(here, four)])

    def apart(four: list[tuple[int, Item]]) -> float:
        return sum(distance(items, four[at][0], four[at + 1][0]) for at in (0, 2))

    kept: list[list[tuple[int, Item]]] = []
    for group in groups:
        orders = [[four for here, four in group if here % 2 == step] for step in (0, 1)]
        ranked = [
            (-len(order), sum(apart(four) for four in order), step) for step, order in enumerate(orders)
        ]
        kept += orders[min(rank for rank in ranked if orders[rank[2]])[2]]
    return kept


def _by_turns(items: list[Item], four: list[tuple[int, Item]]) -> list[tuple[int, Item]]:
    """The four where they are two sides and two numbers by turns, close to one another; else nothing."""
    kinds = ["S" if item.kind in SIDES else "M" if item.kind == "measure" else "-" for _, item in four]
    if kinds not in (["M", "S", "M", "S"], ["S", "M", "S", "M"]):
        return []
    far = any(distance(items, four[at][0], four[at + 1][0]) > 2.0 for at in (0, 2))
    if far or distance(items, four[1][0], four[2][0]) > 3.0:
        return []
    sides = [item for _, item in four if item.kind in SIDES]
    return four if sides[0].value != sides[1].value else []


def _sides_in_brackets(items: list[Item]) -> None:
    """`10-2 high (left), 10-0 (middle), 9-10 (right)`: each number with its side in brackets behind it."""
    pairs: list[tuple[Item, Item]] = []
    for place, item in enumerate(items):
        if (
            item.kind != "measure"
            or "offset" in item.marks
            or item.found is None
            or item.found.kind == "other"
        ):
            continue
        behind = [other for other in items[place + 1 : place + 5] if other.kind not in ("filler", "cue")]
        texts = [other.text for other in behind[:3]]
        if len(behind) >= 3 and (texts[0], texts[2]) == ("(", ")") and behind[1].kind in SIDES:
            pairs.append((item, behind[1]))
    sides = [side.value for _, side in pairs]
    if len(pairs) < 2 or len(set(sides)) < len(sides) or not set(sides) <= {"left", "right", "centre"}:
        return
    for measure, side in pairs:
        measure.marks["at side"] = side
        side.marks["used"] = True


def _near_sides(items: list[Item]) -> None:
    """`nine seven at the left`: a number with a side right behind it, said with `at` or `on`."""
    for place, item in enumerate(items):
        if item.kind != "measure" or "at side" in item.marks or "offset" in item.marks:
            continue
        nxt = place + 1
        words = []
        while nxt < len(items) and items[nxt].kind == "filler":
            words.append(items[nxt].text.lower())
            nxt += 1
        if (
            nxt < len(items)
            and items[nxt].kind in SIDES
            and items[nxt].value in ("left", "right", "centre")
            and {"at", "on"} & set(words)
        ):
            item.marks["near side"] = items[nxt]


def _endings_by_side(items: list[Item], first: int, second: int, sides: list[Item]) -> None:
    """Two endings among numbers given by side go one to each; a single one is for both."""
    endings = [(place, item) for place, item in enumerate(items) if item.kind == "ends at" and place > first]
    if len(endings) != 2:
        return
    for place, item in endings:
        item.marks["at side"] = sides[0] if place < second else sides[1]


def _values_in_a_row(items: list[Item]) -> None:
    """`ht 9-4 9-4 10-2`: numbers in a row behind one cue are of several pipes, not said which."""
    for place, item in enumerate(items):
        if item.kind != "measure" or item.marks.get("cue") is None or "at side" in item.marks:
            continue
        cue: Item = item.marks["cue"]
        if cue.kind != "cue" or cue.start > item.start:
            continue
        nxt = place + 1
        while nxt < len(items) and (items[nxt].kind == "filler" or items[nxt].text in (",", "/", "&")):
            nxt += 1
        if (
            nxt < len(items)
            and items[nxt].kind == "measure"
            and "cue" not in items[nxt].marks
            and nxt <= place + 2
        ):
            other = items[nxt].found
            if cue.value == "wall_to_fascia" and _feet_and_inches(items[nxt]) and not _feet_and_inches(item):
                continue  # `w/f 18, 9-2`: the height behind it
            if other is not None and other.kind != "other" and "offset" not in items[nxt].marks:
                item.doubts.append("several numbers stand behind one word: which is which?")


def _in_order_of_list(items: list[Item]) -> None:
    """`dp L+R  w/f 14  8-3 shore, 8-6 shore`: as many heights in a row as sides were listed, one to each."""
    for place, listed in enumerate(items):
        sides = listed.marks.get("sides") if listed.kind == "side" else None
        if listed.kind == "side" and listed.value == "both" and listed.text.upper() in LISTED_BOTH:
            sides = ["left", "right"]
        if not sides or any(item.kind in SIDES for item in items[place + 1 :]):
            continue
        behind = [
            item for item in items[place + 1 :] if item.kind == "measure" and "offset" not in item.marks
        ]
        heights = [item for item in behind if _answers_height(item)]
        tall = [item for item in behind if "cue" not in item.marks or _answers_height(item)]
        tall = [item for item in tall if _feet_and_inches(item) and not item.doubts]
        if len(heights) < len(sides) == len(tall):
            heights = tall  # `DS at L and R, 9'8" and 9'11"`
            for item in heights:
                item.marks.setdefault(
                    "cue", Item(listed.line, listed.start, listed.end, listed.text, "cue", "height")
                )
        if len(heights) != len(sides) or any("at side" in item.marks for item in behind):
            continue
        first = items.index(heights[0])
        between = items[first + 1 : items.index(heights[-1])]
        if any(
            item.kind not in ("break", "ends at", "measure", "filler", "arrow", "mark") for item in between
        ):
            continue
        endings = [item for item in items[first:] if item.kind == "ends at"]
        for number, side in enumerate(sides):
            at = Item(listed.line, listed.start, listed.end, listed.text, "side", side)
            heights[number].marks["at side"] = at
            if len(endings) == len(sides):
                endings[number].marks["at side"] = at


def _answers_height(item: Item) -> bool:
    """Whether a number answers to a height, by its cue or by what the pipe ends at behind it."""
    cue = item.marks.get("cue")
    return cue is not None and (cue.kind == "ends at" or cue.value in ("height", "down"))


def _inherit_cues(items: list[Item]) -> None:
    """The second of two numbers given side by side answers the same field as the first."""
    last: Item | None = None
    for item in items:
        if item.kind != "measure" or "at side" not in item.marks:
            continue
        if "cue" in item.marks and (item.marks["cue"].kind == "cue" or last is None):
            last = item.marks["cue"]
        elif last is not None and ("cue" not in item.marks or item.marks["cue"].kind != "cue"):
            item.marks["cue"] = last
    pair = [item for item in items if item.kind == "measure" and "at side" in item.marks]
    for item, other in pairwise(pair):
        cue = other.marks.get("cue")
        if (
            "cue" not in item.marks
            and cue is not None
            and cue.kind == "ends at"
            and fits_field("height", item)
        ):
            item.marks["cue"] = cue  # `left nine right nine four splash`


def _sides(items: list[Item]) -> None:
    """Which side each corner, cap, outlet and pipe is on."""
    at = [
        place
        for place, item in enumerate(items)
        if (item.kind in THINGS and not item.marks.get("used") and not item.marks.get("end ref"))
        or (item.kind in SIDES and not item.marks.get("used"))
        or "offset" in item.marks
    ]

    def cost(first: int, second: int) -> float | None:
        a, b = items[first], items[second]
        a_thing, b_thing = a.kind in THINGS, b.kind in THINGS
        if a_thing == b_thing:
            return None
        thing, side = (a, b) if a_thing else (b, a)
        if thing.kind not in OUTLETS and ("offset" in side.marks or side.value == "centre"):
            return None
        price = distance(items, first, second)
        if not a_thing:
            price += 0.25
        between = [item.kind for item in items[first + 1 : second]]
        if not a_thing and "colon" in between:
            price -= 0.2
        if a_thing and any(item.text.lower() in ("on", "at") for item in items[first + 1 : second]):
            price -= 0.2
        if any(kind == "measure" for kind in between) and "offset" not in side.marks:
            price += 3.0
        return price if price <= FARTHEST_SIDE else None

    for first, second in pair_neighbours(at, cost):
        a, b = items[first], items[second]
        thing, side = (a, b) if a.kind in THINGS else (b, a)
        thing.marks["side"] = side
        side.marks["used"] = True


def _cues(items: list[Item]) -> None:
    """Which field each number answers, where a word beside it, or the note's legend, says so."""
    for item in items:
        if item.kind == "measure" and "defined cue" in item.marks and "offset" not in item.marks:
            item.marks["cue"] = item.marks["defined cue"]
    at = [
        place
        for place, item in enumerate(items)
        if (
            item.kind == "measure"
            and "cue" not in item.marks
            and "offset" not in item.marks
            and not item.marks.get("named field")
            and item.found is not None
            and _wants_cue(item)
        )
        or item.kind == "cue"
        or item.kind in ("ends at", "downpipe")
    ]

    def cost(first: int, second: int) -> float | None:
        a, b = items[first], items[second]
        if (a.kind == "measure") == (b.kind == "measure"):
            return None
        measure, cue = (a, b) if a.kind == "measure" else (b, a)
        cue_first = a.kind != "measure"
        price = distance(items, first, second)
        if cue.kind == "downpipe":
            # `downpipe 9 4`: its height, where the number has feet in it
            return price + 4.0 if cue_first and price <= 2.0 and has_feet(measure) else None
        if cue.kind == "ends at":
            # `9-4 splash`, `ten five down to the drain`: a height, though no word says so
            if not cue_first and _behind_feet_and_inches(items, first):
                return None
            return None if cue_first or price > 1.0 or _in_inches(measure) else price + 4.0
        assert cue.term is not None
        if cue.term.way == "before" and not cue_first:
            return None
        if cue.term.way == "after" and cue_first:
            return None
        if not fits_field(cue.value, measure):
            return None
        if not cue_first and any(i.kind == "unknown" for i in items[first + 1 : second]):
            # `w/f 20, didn't get the height`
            return None
        before_cue = items[max(first, second) - 1] if not cue_first else None
        if before_cue is not None and before_cue.kind == "same":
            # `nine foot one, same overhang`: the cue answers to what was said before
            return None
        if cue_first and _told_to_be_the_same(items, first, second):
            return None
        if not cue_first and _asked_for_next(items, first, second):
            return None
        if not cue_first and cue.value != "length" and _names_a_run(items, first):
            if any(
                item.kind in ("end", "end pair", "outlet", "downpipe") for item in items[first + 1 : second]
            ):
                return None  # `Frt 5.24 w-w o/l L proj 280`: the run's length, told before its ends
            price += 1.5
        if not cue_first and cue.value in ("height", "down") and _of_a_fascia(measure):
            return None
        if cue.term.phrase.lower() in ("high", "tall", "long", "across", "down") and cue_first:
            price += 1.0
        if cue_first and any(item.kind == "colon" for item in items[first + 1 : second]):
            price -= 0.5
        return price if price <= FARTHEST_CUE else None

    for first, second in pair_neighbours(at, cost):
        a, b = items[first], items[second]
        measure, cue = (a, b) if a.kind == "measure" else (b, a)
        measure.marks["cue"] = cue
        cue.marks["used"] = True
        measure.marks["strange"] = [item.text for item in items[first + 1 : second] if item.kind == "word"]


def _told_to_be_the_same(items: list[Item], cue: int, measure: int) -> bool:
    """`same height same 12`: the height is told, and the number is of something else."""
    return (
        cue > 0
        and items[cue - 1].kind == "same"
        and any(item.kind == "same" for item in items[cue + 1 : measure])
    )


def _asked_for_next(items: list[Item], measure: int, cue: int) -> bool:
    """`Eight nine, and out from the wall?`: one number said back, and the next one asked for."""
    if not any(item.kind == "break" or item.text.lower() == "and" for item in items[measure + 1 : cue]):
        return False
    for item in items[cue + 1 : cue + 4]:
        if item.kind == "unknown":
            return item.text.startswith("?")
        if item.kind not in ("filler", "word"):
            return False
    return False


def _behind_feet_and_inches(items: list[Item], place: int) -> bool:
    """`9-0/18/sb`: a bare number behind one in feet and inches is how far the wall stands back, no height."""
    found = items[place].found
    before = next((item for item in reversed(items[:place]) if item.kind not in ("break", "filler")), None)
    bare = found is not None and found.kind == "bare" and len(found.amounts) == 1
    told = before is not None and before.kind == "measure" and "cue" not in before.marks
    return bare and told and before is not None and _feet_and_inches(before) and items[place - 1].text == "/"


def _names_a_run(items: list[Item], place: int) -> bool:
    """Whether a run was named right before a number, which is then likely its length."""
    back = place - 1
    while back >= 0 and items[back].kind in ("filler", "colon", "run noun", "mark"):
        back -= 1
    return back >= 0 and items[back].kind == "place"


def _in_inches(measure: Item) -> bool:
    """Whether a number is said in inches alone, so that it is no height."""
    found = measure.found
    assert found is not None
    return found.kind == "length" and all(amount.unit == "inch" for amount in found.amounts)


def _of_a_fascia(measure: Item) -> bool:
    """`280 dn 4.9`: a bare number of some hundreds is no height in feet and none in millimetres."""
    found = measure.found
    return (
        found is not None
        and found.kind == "bare"
        and found.value is not None
        and found.value.denominator == 1
        and 100 <= found.value < LOWEST_EAVE_MM
    )


def has_feet(measure: Item) -> bool:
    """Whether a number has feet in it, or is metric and large enough for a height."""
    found = measure.found
    assert found is not None
    units = {amount.unit for amount in found.amounts}
    return (
        len(found.amounts) >= 2
        or bool(units & {"foot", "metre", "yard"})
        or (found.value is not None and found.value >= 1500)
    )


def _feet_and_inches(measure: Item) -> bool:
    """Whether a number is in feet, said or plain from its form: `9 ft`, `8-10`."""
    assert measure.found is not None
    amounts = measure.found.amounts
    if measure.found.kind == "length" and amounts[0].unit == "foot":
        return True
    return (
        len(amounts) == TWO_NUMBERS
        and all(amount.unit is None and amount.is_whole for amount in amounts)
        and (amounts[1].joint == "-" or not amounts[0].spoken)
        and amounts[1].value < INCHES_A_FOOT
    )


def _wants_cue(item: Item) -> bool:
    """Whether a number may answer a cue: a length, or a pitch, a thickness, a rainfall."""
    assert item.found is not None
    return item.found.kind != "other" or item.found.what in ("pitch", "thickness", "quantity", "angle")


def _angle_of_a_roof(measure: Item) -> bool:
    """`pitch 35`: a bare number of degrees that a roof may have."""
    found = measure.found
    return (
        found is not None
        and found.kind == "bare"
        and found.value is not None
        and found.value.denominator == 1
        and FLATTEST_ROOF <= found.value <= STEEPEST_ROOF
    )


FARTHEST_FASCIA_MM = 1800
"""No eave stands so far out [mm]: `drop 5100  w-f 320`. Common practice, no source."""


def _farther_than_any_eave(found: Found) -> bool:
    """Whether a number that can only be in millimetres is too large for a wall to fascia."""
    return (
        found.kind in ("bare", "length")
        and len(found.amounts) == 1
        and found.amounts[0].unit in (None, "millimetre")
        and found.amounts[0].value >= FARTHEST_FASCIA_MM
    )


def fits_field(field: str, measure: Item) -> bool:
    """Whether a number of that form can answer the field at all."""
    found = measure.found
    assert found is not None
    if found.kind == "other":
        return {
            "roof_pitch": found.what in ("pitch", "angle"),
            "thickness": found.what == "thickness",
            "rainfall": found.what == "quantity",
        }.get(field, False)
    if (
        field in ("height", "down")
        and found.kind == "length"
        and len(found.amounts) == 1
        and '"' not in found.text
        and found.amounts[0].unit == "inch"
        and found.amounts[0].value < SHORTEST_HEIGHT
    ):
        return False
    if field == "offset" and _feet_and_inches(measure):
        return False  # `9-2 jogs 4 in over a ledge`: no pipe goes feet to the side of itself
    if field == "wall_to_fascia" and _feet_and_inches(measure):
        # no eave stands so many feet out
        return found.amounts[0].value < FARTHEST_FASCIA_IN_FEET
    if field == "wall_to_fascia" and _farther_than_any_eave(found):
        return False
    if field == "roof_pitch":
        return found.kind == "bare" and all(amount.value <= STEEPEST for amount in found.amounts)
    if field == "roof_pitch":
        return _angle_of_a_roof(measure)
    return field not in ("thickness", "rainfall")

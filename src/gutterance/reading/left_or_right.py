"""Left and right said alone: a run of the house, a side of the run in focus, or no side (`right, so ...`)."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.neighbours import after_it, before_it, bring_into_focus, is_length_like, past_colon
from gutterance.reading.pipe_sides import of_the_pipe_there
from gutterance.reading.places import (
    DASHES,
    LR_SIDE,
    PlaceName,
    significant,
)

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item

RIGHT_AS_ADVERB_BEFORE = frozenset(
    [
        "there",
        "here",
        "now",
        "over",
        "away",
        "about",
        "behind",
        "through",
        "next",
        "beside",
        "under",
        "above",
        "up",
        "down",
        "after",
        "before",
        "where",
    ]
)
"""Words behind `right` that make it no side: `right there`, `right over the porch`."""
SHORTEST_SIDE = 3
"""A shorter number [ft or m] than this behind `right` is no length of a side of the house."""
OUTLET_LIKE = frozenset({"outlet", "downpipe", "end", "end word", "corner", "offset"})
"""Kinds of items that stand at a side of a run."""


def settle_lr(items: list[Item], number: int, walk: Walk) -> None:
    """Give a left or right its part: a run of the house, a side of the run in focus, or no side at all."""
    item = items[number]
    before, after = before_it(items, number), after_it(items, number)
    word = item.text.lower()
    little = items[number - 1].text.lower() if number else ""
    if after is not None and after.text in DASHES and before is None:
        # `RIGHT - 25'7"`
        beyond = significant(items, _place_of(items, after, number) + 1, 1)
        after = items[beyond] if beyond is not None else after
    if after is not None and after.text.startswith("?"):
        item.kind = "side"
        return
    if _sentence_of_its_own(items, number, walk):
        bring_into_focus(item, replace(walk.context or PlaceName(), direction=LR_SIDE[item.value]))
        return
    if word == "right" and (_discourse_right(items, number) or _right_as_adverb(items, number)):
        item.kind = "filler"
        return
    if after is not None and after.kind == "cue" and after.value == "length":
        # `RIGHT   length 31-9`
        after = after_it(items, _place_of(items, after, number))
    previous_kind = before.kind if before else None
    if (
        _of_what_was_measured(items, number)
        or of_the_pipe_there(items, number, walk)
        or _of_pipes_at_both_ends(items, number)
        or _where_the_pipe_is(items, number)
        or _of_what_stands_there(items, number)
    ):
        item.kind = "side"
        return
    if after is not None and after.kind == "colon":
        behind = past_colon(items, number)
        after = behind
        told = walk.run is not None and walk.run.has_data
        told = told or any(other.kind == "place" for other in items[:number])
        if behind is not None and behind.kind in OUTLET_LIKE and told:
            item.kind = "side"
            return
    if _of_both_pipes(items, number, after):
        item.kind = "side"
        return
    if _run_in_one_breath(items, number, walk):
        bring_into_focus(item, replace(walk.context or PlaceName(), direction=LR_SIDE[item.value]))
        return
    comma_start = previous_kind == "break"
    if (
        previous_kind is None
        or comma_start
        or previous_kind == "walk"
        or (walk.context is not None and previous_kind == "place")
    ):
        joined_to = before if not comma_start else None
        if (
            is_length_like(after)
            and not _offset_follows(items, number)
            and little not in ("on", "at")
            and (previous_kind in (None, "walk") or _feet_like(after))
        ):
            _doubt_label(items, number, after, walk)
            bring_into_focus(item, replace(walk.context or PlaceName(), direction=LR_SIDE[item.value]))
            return
        if (
            previous_kind == "walk"
            and joined_to is not None
            and joined_to.text.lower() not in ("now", "then", "next", "start", "starting")
        ):
            bring_into_focus(item, PlaceName(direction=LR_SIDE[item.value]))
            return
        if previous_kind is None and after is not None and after.kind in ("same", "mirror", "unknown"):
            bring_into_focus(item, PlaceName(direction=LR_SIDE[item.value]))
            return
        if (
            previous_kind is None
            and (walk.run is None or not walk.run.has_data)
            and after is not None
            and after.kind in OUTLET_LIKE
        ):
            bring_into_focus(item, PlaceName(direction=LR_SIDE[item.value]))
            return
    item.kind = "side"


def _sentence_of_its_own(items: list[Item], number: int, walk: Walk) -> bool:
    """`... Block. Right. Nineteen eleven. Outside outside.`: the next side of the house, and its length."""
    before = items[number - 1] if number else None
    if before is not None and not (before.kind == "break" and before.strength >= 4):
        return False
    if number > 1 and items[number - 2].kind in (*OUTLET_LIKE, "lr", "side"):
        return False
    behind = items[number + 1 : number + 5]
    kinds = [item.kind for item in behind]
    if kinds[:3] != ["break", "measure", "break"] or behind[0].strength < 4:
        return False
    told = any(
        run.place.direction == LR_SIDE[items[number].value] and "length" in run.fields for run in walk.runs
    )
    ends = len(behind) > 3 and behind[3].kind in ("end", "end word", "end pair")
    begun = walk.run is not None or any(item.kind == "place" for item in items[:number])
    return not told and _feet_like(behind[1]) and ends and begun


def _run_in_one_breath(items: list[Item], number: int, walk: Walk) -> bool:
    """`... splash right nineteen foot five outside outside back ...`: a length and its ends make it a run."""
    direction = LR_SIDE[items[number].value]
    if any(run.place.direction == direction and "length" in run.fields for run in walk.runs):
        return False
    before = items[number - 1] if number else None
    if before is not None and (
        before.kind in OUTLET_LIKE or before.text.lower() in ("the", "on", "at", "to", "from")
    ):
        return False
    measure = items[number + 1] if number + 1 < len(items) else None
    found = measure.found if measure is not None and measure.kind == "measure" else None
    if found is None or found.kind != "length" or found.amounts[0].unit not in ("foot", "metre"):
        return False
    behind = items[number + 2] if number + 2 < len(items) else None
    return (
        found.amounts[0].value >= SHORTEST_SIDE
        and behind is not None
        and behind.kind in ("end", "end word", "end pair")
    )


def _of_both_pipes(items: list[Item], number: int, after: Item | None) -> bool:
    """`drops ea end. L 8-10 to splash, R 9-1`: of the pipes at both ends, told right before in the line."""
    if after is None or not is_length_like(after):
        return False
    sides: set[str] = set()
    for item in reversed(items[:number]):
        if item.kind == "place":
            return False
        if item.kind in ("outlet", "downpipe"):
            return "both" in sides or {"left", "right"} <= sides
        if item.kind in ("side", "lr") and isinstance(item.value, str):
            sides.add(item.value)
    return False


def _doubt_label(items: list[Item], number: int, measure: Item | None, walk: Walk) -> None:
    """`L: 9-4` behind a run with outlets, and nothing more: of the left side, or of the pipe at the left?"""
    said = [item for item in items if item.kind not in ("filler", "mark", "colon", "break")]
    alone = all(item.kind in ("measure", "lr") for item in said)
    here = walk.run.outlets if walk.run is not None and not walk.pipe_order else []
    waiting = any("height" not in outlet.pipe.fields for outlet in here)
    if measure is not None and alone and waiting and len(items[number].text) == 1:
        measure.doubts.append(f"of the {LR_SIDE[items[number].value]}, or of a downpipe there?")


def _of_what_was_measured(items: list[Item], number: int) -> bool:
    """`Height: left 10-2, right 11-6`, `42-6 (L 18-0 to porch, R 24-6)`: no sides of the house."""
    kinds = [item.kind for item in items[:number] if item.kind not in ("filler", "mark", "colon")]
    if kinds[-1:] == ["cue"] and number and items[number - 1].kind == "colon":
        return True
    if kinds[-1:] == ["break"] and kinds[-4:-1] in (["cue", "side", "measure"], ["cue", "lr", "measure"]):
        return True
    opened = next((place for place in range(number - 1, -1, -1) if items[place].text in ("(", ")")), None)
    return (
        opened is not None
        and items[opened].text == "("
        and opened > 0
        and items[opened - 1].kind == "measure"
    )


def _of_pipes_at_both_ends(items: list[Item], number: int) -> bool:
    """`Back 36-4, caps. Downspouts each end. Left 17-9, right 18-1.`: of the run's own two pipes.

    The run is named and measured in this line, and behind the number no end is told.
    """
    named = next((at for at in range(number - 1, -1, -1) if items[at].kind == "place"), None)
    if named is None or not any(is_length_like(item) for item in items[named:number]):
        return False
    pipes = next((at for at in range(number - 1, named, -1) if _pipes_of(items[at])), None)
    if pipes is None or not any(
        item.kind == "side" and item.value == "both" for item in items[pipes + 1 : pipes + 4]
    ):
        return False
    measure = significant(items, number + 1, 1, frozenset({"filler", "mark", "colon"}))
    if measure is None or not is_length_like(items[measure]):
        return False
    behind = significant(items, measure + 1, 1)
    if behind is not None and items[behind].text == ",":
        behind = significant(items, behind + 1, 1)
    return behind is None or items[behind].kind not in ("end", "end word", "end pair")


def _pipes_of(item: Item) -> bool:
    return item.kind in ("outlet", "downpipe") and (item.plural or item.marks.get("count", 1) > 1)


def _where_the_pipe_is(items: list[Item], number: int) -> bool:
    """`downpipe hard over to the left, 2310 ...`: nobody walks on to the left here."""
    here = number - 1
    while here >= 0 and items[here].kind in ("filler", "walk", "word"):
        here -= 1
    walked = any(item.kind == "walk" for item in items[here + 1 : number])
    return walked and here >= 0 and items[here].kind in ("outlet", "downpipe")


def _of_what_stands_there(items: list[Item], number: int) -> bool:
    """`The front gutter is 6,240 long. On the left there is a stop end`: the side of the run named before."""
    if not any(item.kind == "place" for item in items[:number]):
        return False
    words = [item.text.lower() for item in items[max(0, number - 2) : number]]
    opens = " ".join(words).endswith(("on the", "at the")) or words[-1:] == ["on"]
    behind = significant(items, number + 1, 1)
    return opens and behind is not None and items[behind].kind in OUTLET_LIKE


def _place_of(items: list[Item], item: Item, start: int) -> int:
    """Where an item stands, looked for from `start` on."""
    return next(place for place in range(start, len(items)) if items[place] is item)


def _right_as_adverb(items: list[Item], number: int) -> bool:
    """`right there`, `right over the porch`, `right in the middle`."""
    words = [item.text.lower() for item in items[number + 1 : number + 3]]
    before = items[number - 1].text.lower() if number else ""
    if words == ["at", "the"] and before not in ("the", "on", "at", "far", "hand") and before:
        return True  # `downpipe right at the stop end`
    follower = items[number + 1] if number + 1 < len(items) else None
    if follower is not None and follower.kind == "side" and follower.value == "centre":
        return True  # `downpipe right in the middle`
    return bool(words) and (
        words[0] in RIGHT_AS_ADVERB_BEFORE or (words[0] == "in" and len(words) > 1 and words[1] != "from")
    )


def _discourse_right(items: list[Item], number: int) -> bool:
    """`right, so`, `Right this is`: no side at all."""
    if (
        number
        and items[number - 1].kind not in ("break", "mark")
        and items[number - 1].text.lower() not in ("all", "ok", "okay")
    ):
        return False
    if number + 1 >= len(items):
        return number == 0
    nxt = items[number + 1]
    word = nxt.text.lower()
    if nxt.kind == "break" and nxt.strength == 1 and nxt.text == ",":
        behind = items[number + 2] if number + 2 < len(items) else None
        return (
            behind is None
            or behind.kind in ("filler", "place", "walk", "title", "word")
            or (behind.kind == "measure" and number == 0)
        )
    return word in {
        "so",
        "then",
        "this",
        "we",
        "we're",
        "that's",
        "thats",
        "okay",
        "ok",
        "let's",
        "lets",
        "here",
        "i",
        "i'm",
        "i've",
        "now",
        "that",
        "it",
        "job",
        "first",
        "starting",
        "start",
        "the",
    } or (nxt.kind == "place")


def _feet_like(item: Item | None) -> bool:
    """Whether a number looks like a run's length rather than a few inches."""
    if item is None or item.found is None:
        return False
    return (
        len(item.found.amounts) >= 2
        or item.found.kind == "length"
        or (item.found.value is not None and item.found.value >= 8)
    )


def _offset_follows(items: list[Item], number: int) -> bool:
    """`left, 12 in from the end`: the number is an offset, so the word before it is a side."""
    words = [item.text.lower() for item in items[number + 1 : number + 6]]
    return "from" in words or "off" in words

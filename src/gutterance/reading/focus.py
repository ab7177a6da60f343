"""Which run the words are about: each place said comes into focus, is only referred to, or is a side."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.discourse import RECTANGLE, Walk
from gutterance.reading.left_or_right import settle_lr
from gutterance.reading.met_places import goes_over_to, only_described_as, only_met, walked_to
from gutterance.reading.neighbours import (
    after_it,
    before_it,
    bring_into_focus,
    in_context,
    is_length_like,
    past_colon,
)
from gutterance.reading.places import (
    COMPASS,
    LR_SIDE,
    PlaceName,
)

if TYPE_CHECKING:
    from gutterance.reading.items import Item

REFERRING = frozenset(
    [
        "with",
        "by",
        "near",
        "hits",
        "hit",
        "meets",
        "meeting",
        "behind",
        "beside",
        "toward",
        "towards",
        "opposite",
        "past",
        "joins",
        "join",
        "meet",
        "against",
        "like",
        "past",
        "under",
        "below",
        "above",
    ]
)
"""Words before a place that only refer to it: `the corner with the right side`."""
BACK_AS_ADVERB_AFTER = frozenset(
    [
        "to",
        "along",
        "again",
        "over",
        "round",
        "around",
        "off",
        "toward",
        "towards",
        "into",
        "where",
        "here",
        "there",
    ]
)
"""Words behind `back` that make it no place: `back to the corner`."""
BACK_AS_ADVERB_BEFORE = frozenset(
    [
        "go",
        "come",
        "going",
        "coming",
        "set",
        "stands",
        "goes",
        "comes",
        "head",
        "heading",
        "step",
        "steps",
        "run",
        "call",
        "called",
        "get",
        "stand",
    ]
)
"""Words before `back` that make it no place: `going back`."""
SAYS_SOMETHING = frozenset(
    {"measure", "end", "end word", "end pair", "outlet", "downpipe", "cue", "ends at", "count", "same",
     "mirror", "unknown", "no", "place", "lr", "side", "profile", "colour", "material", "direction", "part"}
)  # fmt: skip
"""Kinds of items that tell something that belongs on the sheet."""
DESCRIBING = frozenset({"is", "was", "'s", "looks", "has", "are", "were"})
"""Words behind a place with which something is told of it."""
AT_AN_END = frozenset({"outlet", "downpipe", "end", "end word", "corner"})
"""Kinds of items that stand at an end of a run."""
SAID_OF_A_PLACE = frozenset({"measure", "cue", "end", "outlet", "downpipe", "colon", "same"})
"""Kinds of items that, behind a place, say something of it."""


def settle_places(items: list[Item], walk: Walk) -> None:
    """Give each 'place' and 'lr' item its part: kind 'place' (focus), 'ref', 'side', or 'filler'."""
    for number, item in enumerate(items):
        if item.marks.get("settled"):
            continue
        if item.kind == "lr":
            settle_lr(items, number, walk)
        elif item.kind == "place":
            _settle_place(items, number, walk)
        elif item.kind == "next run":
            named = _side_named_behind(items, number)
            if named is not None:
                bring_into_focus(named, in_context(PlaceName(direction=LR_SIDE[named.value]), walk))
                named.marks.update(words=[named.text.lower()], settled=True)
                item.kind = "walk"
            elif _named_behind(items, number):
                item.kind = "walk"
            else:
                item.kind, item.value = "place", PlaceName(number=walk.next_number())
        elif item.kind == "initial":
            _settle_initial(items, number, walk)
        elif item.kind == "compass corner":
            _settle_compass_corner(items, number, walk)
        elif item.kind == "quarter":
            _settle_quarter(items, number, walk)
        elif item.kind == "other side":
            _settle_other_side(items, number, walk)


def _side_named_behind(items: list[Item], number: int) -> Item | None:
    """`next side's the right, eleven metres`: the side that the next run is."""
    words = [item.text.lower() for item in items[number + 1 : number + 3]]
    side = items[number + 3] if number + 3 < len(items) else None
    if len(words) < 2 or words[0] not in ("'s", "’s", "is") or words[1] != "the" or side is None:
        return None
    behind = items[number + 4] if number + 4 < len(items) else None
    measured = behind is not None and (behind.kind == "measure" or behind.text == ",")
    return side if side.kind == "lr" and measured else None


def _named_behind(items: list[Item], number: int) -> bool:
    """`Next one, south.`: the run is named right behind the words that move on to it."""
    for item in items[number + 1 : number + 6]:
        if item.kind in ("place", "numbered"):
            return True
        if item.kind not in ("filler", "colon", "walk") and not (item.kind == "break" and item.strength <= 1):
            return False
    return False


def _settle_initial(items: list[Item], number: int, walk: Walk) -> None:
    """`F 46-8`, `B: 38-4`: a letter for a run, where it stands first and a number or a side follows."""
    item = items[number]
    before, after = before_it(items, number), after_it(items, number)
    if after is not None and after.kind == "colon":
        after = past_colon(items, number)
    if before is not None and before.kind in ("same", "mirror"):
        item.kind, item.value = "ref", PlaceName(direction=item.value)
        return
    follower = items[number + 1] if number + 1 < len(items) else None
    if follower is not None and follower.text.lower() in ("end", "corner", "cnr"):
        # `W end`, said of the south
        earlier = _run_named_behind(items, number + 2) or next(
            (other.value for other in reversed(items[:number]) if other.kind == "place"), None
        )
        here = earlier if earlier is not None else walk.run.place if walk.run is not None else None
        side = RECTANGLE.get((here.name, item.value)) if here is not None else None
        if side is not None:
            item.kind, item.value, follower.kind = "side", side, "filler"
            return
    said_at = number > 1 and items[number - 1].text.lower() == "at" and items[number - 2] is before
    closes = after is None or after.kind == "break" or after.text == "("
    beside = number > 0 and items[number - 1] is before and item.value in COMPASS and closes
    if (said_at or beside) and before is not None and before.kind in AT_AN_END:
        # `p @W`, `cap @ W`, said of the north
        earlier = next((other.value for other in reversed(items[:number]) if other.kind == "place"), None)
        here = earlier if earlier is not None else walk.run.place if walk.run is not None else None
        side = RECTANGLE.get((_side_of_house(here), item.value)) if here is not None else None
        if side is not None:
            item.kind, item.value = "side", side
            return
    if (
        before is not None
        and before.kind in ("outlet", "downpipe")
        and after is not None
        and after.kind in ("lr", "side", "cue")
    ):
        bring_into_focus(item, in_context(PlaceName(direction=item.value), walk))
        return
    starts = before is None or before.kind in ("break", "walk", "except", "all", "colon")
    if after is not None and after.kind == "word" and number + 2 < len(items):
        after = items[number + 2]
    if (
        starts
        and after is not None
        and (
            is_length_like(after)
            or after.kind in ("same", "mirror", "lr", "outlet", "downpipe", "end", "unknown", "cue")
        )
    ):
        bring_into_focus(item, in_context(PlaceName(direction=item.value), walk))
    else:
        item.kind = "word"


def _settle_other_side(items: list[Item], number: int, walk: Walk) -> None:
    """`other side 31 4`: the side of the house across from the one that was told."""
    item = items[number]
    told = {run.place.direction for run in walk.runs if run.has_data and run.place.part is None}
    across = {"left side": "right side", "right side": "left side"}
    open_sides = [across[side] for side in across if side in told and across[side] not in told]
    before = before_it(items, number)
    if len(open_sides) == 1 and (before is None or before.kind in ("break", "walk")):
        bring_into_focus(item, PlaceName(direction=open_sides[0]))
    else:
        item.kind, item.value = "ref", None


def _settle_compass_corner(items: list[Item], number: int, walk: Walk) -> None:
    """`the NE corner` of the north run is its left end: the side follows from the other direction."""
    item = items[number]
    directions: list[str] = item.value.split()
    here: str | None = next(
        (other.value.direction for other in items[number + 1 : number + 6] if other.kind == "place"), None
    )
    if here is None:
        here = next(
            (other.value.direction for other in reversed(items[:number]) if other.kind == "place"), None
        )
    if here is None and walk.run is not None:
        here = walk.run.place.direction
    if here is None or here not in directions:
        item.kind = "word"
        return
    other_direction: str = next(direction for direction in directions if direction != here)
    item.kind, item.value = "side", RECTANGLE[(here, other_direction)]


def _settle_quarter(items: list[Item], number: int, walk: Walk) -> None:
    """`FL 9-2`: the downpipe at the left of the front."""
    item = items[number]
    direction, side = item.value.split()
    item.marks["quarter side"] = side
    bring_into_focus(item, in_context(PlaceName(direction=direction), walk))


def _settle_place(items: list[Item], number: int, walk: Walk) -> None:
    """A place word: a run in focus, a reference, a side of the run in focus, or an adverb."""
    item = items[number]
    name: PlaceName = item.value
    words = item.marks.get("words") or item.text.lower().split()
    before, after = before_it(items, number), after_it(items, number)
    little = _little_words(items, number)
    last_word = items[number - 1].text.lower() if number else ""
    if little & {"along", "across", "on"} and _introduced_before(items, number):
        item.kind = "ref"
        return
    if only_described_as(items, number):
        item.kind = "filler"
        return
    part = _part_meant(items, number, name, walk)
    if part is not None:
        item.value = in_context(replace(name, part=part), walk)
        return
    if _answers_where(items, number, name, after, walk):
        item.kind, item.value = "side", (name.direction or "").split()[0]
        return
    if words == ["back"] and _back_is_adverb(items, number):
        item.kind = "filler"
        return
    if _names_an_end(items, number, walk):
        return
    if _end_by_neighbour(items, number, before, after, little, walk):
        return
    if _side_of_outlet(items, number, before, after):
        item.kind, item.value = "side", (name.direction or "").split()[0]
        return
    if before is not None and before.kind in ("outlet", "downpipe") and items[number - 1] is before:
        item.value = in_context(name, walk)
        return
    follower = items[number + 1] if number + 1 < len(items) else None
    if follower is not None and (
        follower.kind == "landmark" or (follower.kind == "end" and follower.text.lower() == "wall")
    ):
        item.kind = "ref"
        return
    if (
        before is not None
        and before.kind == "end"
        and before.value == "wall"
        and items[number - 1] is before
        and not is_length_like(after)
    ):
        item.kind = "ref"
        return
    if (
        _one_of_a_list(items, number)
        or only_met(items, number)
        or goes_over_to(items, number)
        or _part_of_another_name(items, number)
        or _only_described(items, number)
    ):
        item.kind = "ref"
        return
    if (
        (before is not None and before.kind in ("same", "mirror"))
        or (last_word in REFERRING and not _begun_with(items, number))
        or (little & {"same", "as"} and before is not None and before.kind == "same")
    ):
        item.kind = "ref"
        return
    if (little & REFERRING and not _begun_with(items, number)) or "where" in little:
        item.kind = "ref"
        return
    if last_word == "the" and number > 1 and items[number - 2].text.lower() == "across":
        # `garage is 24 foot across the front`: the garage's own
        earlier = next((other.value for other in reversed(items[:number]) if other.kind == "place"), None)
        if earlier is not None and earlier.part is not None and earlier.direction is None:
            item.kind = "ref"
            return
        if earlier is not None and number > 2 and items[number - 3].kind in ("measure", "total"):
            item.kind = "ref"  # `back is 11.75 across the laundry`
            return
    if last_word == "a" and _introduced_and_measured(items, number):
        item.value = in_context(name, walk)
        item.marks["introduced"] = True
        return
    if last_word in ("a", "an", "another", "some", "no", "any"):
        item.kind = "ref"
        return
    if _side_of_part_measured(items, number, name):
        item.kind = "ref"
        return
    if words == ["back"] and _stands_back(items, number):
        item.kind, item.value = "filler", ""
        return
    if (
        name.direction is not None
        and name.direction in LR_SIDE.values()
        and not name.part
        and not name.storey
        and _is_side_of_run(before, after, little)
    ):
        item.kind, item.value = "side", name.direction.split()[0]
        return
    if before is not None and before.kind == "except":
        item.marks["except"] = True
    starts = (
        before is None
        or before.kind in ("walk", "except")
        or (before.kind == "break" and before.strength >= 1)
    )
    if not starts and _on_the_end_of(items, number):
        item.kind = "ref"
        return
    if not starts and "to" in little and _from_before(items, number):
        item.kind = "ref"
        return
    if not starts and "from" in little and _run_named_waits(items, number):
        item.kind = "ref"
        return
    if not starts and "to" in little and _end_of_it_waits(items, number):
        item.kind = "ref"
        return
    if not starts and _where_it_starts(items, number) and not is_length_like(after):
        item.kind = "ref"
        return
    walked = walked_to(items, number)
    if (
        not starts
        and not walked
        and little & {"to", "into", "from", "the same as", "toward"}
        and not (little & {"on"})
    ):
        follows_value = after is not None and (is_length_like(after) or after.kind == "colon")
        if (
            not follows_value
            or before is None
            or (before.kind in ("end", "end word", "corner") and not is_length_like(after))
        ):
            item.kind = "ref"
            return
    if (
        not starts
        and "of" in little
        and before is not None
        and before.kind in ("side", "outlet", "downpipe", "corner", "end")
    ):
        earlier = next((other.value for other in reversed(items[:number]) if other.kind == "place"), None)
        here = earlier if earlier is not None else walk.run.place if walk.run is not None else None
        of_it = here is not None and here.name == name.name
        against = before.value == "wall" and before.text.lower().endswith("wall")  # `wall of the return`
        item.kind = "ref" if of_it or against else "place"
    item.value = in_context(name, walk)


def _begun_with(items: list[Item], number: int) -> bool:
    """`I started with the front`: the run that is told first, and no reference."""
    words = " ".join(item.text.lower() for item in items[max(0, number - 3) : number]).split()
    if words[-1:] == ["the"]:
        words.pop()
    return words[-1:] == ["with"] and bool(
        {"start", "started", "starting", "begin", "began", "beginning", "begun"} & set(words[-3:-1])
    )


def _side_of_outlet(items: list[Item], number: int, before: Item | None, after: Item | None) -> bool:
    """`downspout right side sixteen inches wall to fascia`: where on the run it is."""
    name: PlaceName = items[number].value
    if before is None or before.kind not in ("outlet", "downpipe") or items[number - 1] is not before:
        return False
    if name.direction not in LR_SIDE.values() or name.part is not None or name.storey is not None:
        return False
    if not any(item.kind == "place" for item in items[:number]) and before.plural:
        return False
    if after is None or after.kind in ("cue", "ends at"):
        return True
    found = after.found
    return found is not None and found.kind == "length" and found.amounts[0].unit == "inch"


def _answers_where(items: list[Item], number: int, name: PlaceName, after: Item | None, walk: Walk) -> bool:
    """`drop` / `yeah left side`: the answer to where the outlet is, no side of the house."""
    asked = walk.asked_outlet
    return (
        asked is not None
        and walk.labelled
        and items[number].line - asked.line == 1
        and walk.run is not None
        and "length" in walk.run.fields
        and name.part is None
        and name.storey is None
        and name.direction in LR_SIDE.values()
        and (after is None or after.kind == "break")
        and not any(item.kind in ("place", "outlet", "downpipe", "walk") for item in items[:number])
    )


def _part_meant(items: list[Item], number: int, name: PlaceName, walk: Walk) -> str | None:
    """`left side of it`, `garage drains off the back edge`: a side of the part that was just spoken of."""
    if name.part is not None or name.direction is None or name.storey is not None:
        return None
    behind = [item.text.lower() for item in items[number + 1 : number + 3]]
    before = [item.text.lower() for item in items[max(0, number - 2) : number]]
    said = ("place", "ref") if behind[:1] == ["of"] else ("place",)
    earlier = next((o.value for o in reversed(items[:number]) if o.kind in said and o.value), None)
    if behind[:2] in (["of", "it"], ["of", "that"]) or before[-1:] == ["its"]:
        here = earlier if earlier is not None else walk.run.place if walk.run is not None else None
        return here.part if here is not None else None
    along = (
        len(before) == len(("off", "the"))
        and before[1] in ("the", "its")
        and before[0].split()[-1] in ("off", "along")
    )
    edge = behind[:1] in (["edge"], ["eave"], ["eaves"])
    if (
        along
        and (edge or items[number].text.lower().endswith((" edge", " eave", " eaves")))
        and earlier is not None
        and earlier.direction is None
    ):
        part: str | None = earlier.part
        return part
    return None


def _side_of_part_measured(items: list[Item], number: int, name: PlaceName) -> bool:
    """`Porch 12-0 front, ...`: behind the number of a part, its own front, not the front of the house."""
    if number < 2 or name.part is not None or name.direction is None or items[number - 1].kind != "measure":
        return False
    before = next((item for item in reversed(items[: number - 1]) if item.kind != "colon"), None)
    follower = items[number + 1] if number + 1 < len(items) else None
    return (
        before is not None
        and before.kind == "place"
        and before.value.part is not None
        and before.value.direction is None
        and (follower is None or follower.kind == "break" or follower.text.lower() == "only")
    )


def _stands_back(items: list[Item], number: int) -> bool:
    """`dp L, 12 back, 8-0 down`: how far the wall stands back, said of a pipe."""
    found = items[number - 1].found if number >= 2 else None
    if found is None or items[number - 1].kind != "measure":
        return False
    follower = items[number + 1] if number + 1 < len(items) else None
    return (
        len(found.amounts) == 1
        and (follower is None or follower.kind == "break")
        and any(item.kind in ("outlet", "downpipe") for item in items[: number - 1])
    )


def _one_of_a_list(items: list[Item], number: int) -> bool:
    """`gutter on the front and the back only`: runs only listed, with nothing measured of them."""
    follows = [item for item in items[number + 1 : number + 5] if item.text.lower() not in ("the",)]
    words = {item.text.lower() for item in items[max(0, number - 3) : number]}
    if len(follows) >= 2 and words & {"just", "only"} and follows[1].kind == "place":
        return follows[0].text.lower() in ("and", "&")
    if len(follows) >= 2 and follows[0].text.lower() == "plus" and follows[1].kind == "place":
        return True
    if len(follows) >= 2 and follows[0].text.lower() in ("and", "&", "or") and follows[1].kind == "place":
        behind = [item for item in items[number + 1 : number + 9] if item.start > follows[1].start][:3]
        return not any(item.kind in SAID_OF_A_PLACE for item in behind)
    before = [item for item in items[max(0, number - 3) : number] if item.text.lower() not in ("the",)]
    if len(before) >= 2 and before[-1].text.lower() == "plus" and before[-2].kind in ("place", "ref"):
        return True
    if (
        len(before) >= 2
        and before[-1].text.lower() in ("and", "&", "or")
        and before[-2].kind in ("place", "ref")
    ):
        return before[-2].kind == "ref"
    return False


def _end_by_neighbour(
    items: list[Item],
    number: int,
    before: Item | None,
    after: Item | None,
    little: frozenset[str],
    walk: Walk,
) -> bool:
    """`outside corner at the back`, `DP rear`, said of the left side: the end that is nearer to it."""
    item = items[number]
    name: PlaceName = item.value
    if before is None or before.kind not in ("end", "end word", "outlet", "downpipe", "corner"):
        return False
    if name.part or name.storey or name.direction is None:
        return False
    if is_length_like(after) and not _pipe_told_there(items, number, before):
        return False
    if _begins_to_tell(items, number):
        return False
    if after is not None and after.kind in ("colon", "place", "lr"):
        return False
    if not ("at" in little or items[number - 1] is before):
        return False
    earlier = next((other.value for other in reversed(items[:number]) if other.kind == "place"), None)
    here = earlier if earlier is not None else walk.run.place if walk.run is not None else None
    side = RECTANGLE.get((_side_of_house(here), name.direction)) if here is not None else None
    if side is None and here is not None and here.part and not here.direction and "at" in little:
        item.kind, item.value = "side", "named"  # `porch ..., both outlets at front`
        item.marks["named"] = name
        return True
    if side is None:
        return False
    item.kind, item.value = "side", side
    return True


def _pipe_told_there(items: list[Item], number: int, before: Item) -> bool:
    """`Rhs 14.2 ext ext, dp rear 2.7 (450)`: behind the pipe's place stands the pipe's number, no run's.

    A run's number would have ends behind it.
    """
    if before.kind not in ("outlet", "downpipe") or items[number - 1] is not before:
        return False
    earlier = next((at for at in range(number - 1, -1, -1) if items[at].kind == "place"), None)
    if earlier is None or not any(is_length_like(item) for item in items[earlier:number]):
        return False
    if any(item.kind == "no" for item in items[max(0, number - 3) : number]):
        return False
    for item in items[number + 1 :]:
        if item.kind in ("place", "initial", "direction") or (item.kind == "break" and item.strength >= 3):
            break
        if item.kind in ("end", "end word", "end pair"):
            return False
    return True


def _part_of_another_name(items: list[Item], number: int) -> bool:
    """`at the kitchen table`, `the porch swing`: a thing called after a room, with nothing measured."""
    name: PlaceName = items[number].value
    follower = items[number + 1] if number + 1 < len(items) else None
    if name.direction or name.storey or not name.part or follower is None or follower.kind != "word":
        return False
    behind = items[number + 2 : number + 5]
    return not any(other.kind in SAID_OF_A_PLACE for other in behind)


def _on_the_end_of(items: list[Item], number: int) -> bool:
    """`the lean-to on the end of the dairy: 9-9`: where the place named before it stands."""
    words = [item.text.lower() for item in items[max(0, number - 6) : number] if item.text.lower() != "the"]
    if words[-2:] not in (["end", "of"], ["side", "of"], ["back", "of"], ["top", "of"]):
        return False
    for item in reversed(items[max(0, number - 8) : number]):
        if item.kind == "place":
            return True
        if item.kind in ("measure", "break", "outlet", "downpipe", "cue", "end"):
            return False
    return False


def _from_before(items: list[Item], number: int) -> bool:
    """`From the corner to the jog is 22-10`: the place is where the run told ends."""
    place = number - 1
    while place >= 0 and not (items[place].kind == "break" and items[place].strength >= 1):
        if items[place].text.lower() == "from":
            between = items[place + 1 : number]
            return any(item.kind in ("corner", "end", "end word", "side", "ref", "place") for item in between)
        place -= 1
    return False


def _end_of_it_waits(items: list[Item], number: int) -> bool:
    """`front left corner to the garage is 28 foot`: where the run named before it ends."""
    sides = 0
    for item in reversed(items[:number]):
        if item.kind == "place":
            return sides > 0
        if item.kind not in ("filler", "side", "lr", "corner"):
            return False
        sides += item.kind != "filler"
    return False


def _where_it_starts(items: list[Item], number: int) -> bool:
    """`the right side is 30-2, starts at the garage front corner`: where the run named before begins."""
    words = " ".join(
        item.text.lower() for item in items[max(0, number - 3) : number] if item.text.lower() != "the"
    )
    if not words.endswith(("starts at", "start at", "begins at", "starts from", "starts off")):
        return False
    for item in reversed(items[:number]):
        if item.kind == "place":
            return True
        if item.kind == "break" and item.strength >= 4:
            return False
    return False


def _run_named_waits(items: list[Item], number: int) -> bool:
    """`garage left side back from the garage front 9 foot 11`: the number is of the run named first."""
    for item in reversed(items[:number]):
        if item.kind == "place":
            return True
        if item.kind not in ("filler", "word", "walk", "cue", "landmark") and not (
            item.kind == "break" and item.strength <= 1
        ):
            return False
    return False


def _introduced_before(items: list[Item], number: int) -> bool:
    """`there's a lean-to along the back that's 14-3`: the back only says where it is."""
    for item in reversed(items[:number]):
        if item.kind == "place":
            return bool(item.marks.get("introduced"))
        if item.kind == "measure":
            return False
    return False


def _introduced_and_measured(items: list[Item], number: int) -> bool:
    """`there's a lean to across the back too that's three metres sixty`: a run, told as it is introduced."""
    if number < 2 or items[number - 2].text.lower() not in ("there's", "theres", "and there's"):
        return False
    if items[number].value.part is None or items[number].value.direction is not None:
        return False
    for place in range(number + 1, min(number + 10, len(items) - 1)):
        item = items[place]
        told = item.kind in ("measure", "end", "outlet", "downpipe", "cue") and item.text.lower() != "across"
        if told or (item.kind == "break" and item.strength >= 3):
            return False
        if item.text.lower() in ("that's", "thats", "it's", "its"):
            return is_length_like(items[place + 1])
    return False


def _only_described(items: list[Item], number: int) -> bool:
    """`No, outside, the porch is separate.`: something is told of a place that measures nothing of it."""
    if number + 1 >= len(items) or items[number + 1].text.lower() not in DESCRIBING:
        return False
    words = 0
    for item in items[number + 2 :]:
        if item.kind == "break" and item.strength >= 3:
            break
        if item.kind in SAYS_SOMETHING:
            return False
        words += item.kind == "word"
    return words > 0


def _begins_to_tell(items: list[Item], number: int) -> bool:
    """`no pipe, back has the pipe on the left`: the place is what the next words are about."""
    follower = items[number + 1].text.lower() if number + 1 < len(items) else ""
    return follower in ("has", "gets", "have", "is", "was", "takes")


def _side_of_house(name: PlaceName) -> str:
    """The side of its building that a run is on: the garage's left side has its back where the house has."""
    return name.direction if name.part is not None and name.direction is not None else name.name


def _is_side_of_run(before: Item | None, after: Item | None, little: frozenset[str]) -> bool:
    """`stop end on the right hand side`: the side of the run in focus, not the house's right side."""
    if before is None or before.kind not in ("end", "end word", "outlet", "downpipe", "corner"):
        return False
    return (
        bool(little & {"on", "at"}) and not is_length_like(after) and (after is None or after.kind != "colon")
    )


def _little_words(items: list[Item], number: int) -> frozenset[str]:
    """The little words right before a place, three at most."""
    words: set[str] = set()
    place = number - 1
    while place >= 0 and items[place].kind in ("filler", "word") and number - place <= 3:
        words.add(items[place].text.lower())
        place -= 1
    return frozenset(words)


def _back_is_adverb(items: list[Item], number: int) -> bool:
    """Whether `back` is no place: `going back`, `back to the corner`."""
    after = items[number + 1].text.lower() if number + 1 < len(items) else ""
    before = items[number - 1].text.lower() if number else ""
    if before == "the":
        return False
    if after == "up" and (number == 0 or items[number - 1].kind == "break"):
        return True  # `Back up, right side: I said thirty`
    return after in BACK_AS_ADVERB_AFTER or before.split(" ")[-1] in BACK_AS_ADVERB_BEFORE


def _run_named_behind(items: list[Item], number: int) -> PlaceName | None:
    """`the west end of the south eave`: the run that an end is said of, named right behind it."""
    words = items[number : number + 3]
    if not words or words[0].text.lower() not in ("of", "of the", "on"):
        return None
    place: PlaceName | None = next((item.value for item in words[1:] if item.kind == "place"), None)
    return place


def _names_an_end(items: list[Item], number: int, walk: Walk) -> bool:
    """`rear corner`, `back end`, `the garage end`: an end of the run in focus, named by what it is near."""
    item = items[number]
    name: PlaceName = item.value
    follower = items[number + 1] if number + 1 < len(items) else None
    run = walk.run
    if follower is None or follower.text.lower() not in ("end", "corner", "cnr"):
        return False
    here = _run_named_behind(items, number + 2)
    for earlier in reversed(items[:number]) if here is None else ():
        if earlier.kind == "place":
            here = earlier.value
            break
    else:
        here = here or (run.place if run is not None else None)
    if here is None:
        return False
    side = (
        RECTANGLE.get((here.direction or here.name, name.direction or name.name))
        if not here.part or here.direction in LR_SIDE.values() or here.direction in COMPASS
        else None
    )
    item.kind = "side"
    item.value = side or "named"
    item.marks["named"] = name
    follower.kind = "filler"
    return True

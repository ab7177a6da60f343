"""Same as, ditto, mirror of: values copied from what was said before, each saying that it came so."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from gutterance.reading.builder import OutletDraft, PipeDraft, RunDraft, by_ditto
from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.ends import settle_ends
from gutterance.reading.items import Item
from gutterance.reading.places import LR_SIDE
from gutterance.sheet.models import Reading
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.places import PlaceName
    from gutterance.reading.stretch import Stretch

COPIED = (
    "length",
    "left_end",
    "right_end",
    "left_angle",
    "right_angle",
    "roof_run",
    "roof_pitch",
    "gutter_size",
)
"""Fields of a run that `same as` copies."""
ALL_BUT = re.compile(
    r"\b(?P<but>only|except|but|just|bar)\b(?:\s+(?:for|it'?s|that'?s|is|are|the|length|it|was))*\W*\Z",
    re.IGNORECASE,
)
"""Words at the end of a line that make an exception of what is to come."""
NEAR_ENOUGH = 60
"""How far [characters] behind `same` the word stands that says what is the same."""
WORDS_FOR_ENDS = frozenset({"ends", "end", "corners", "cnrs", "mitres", "miters", "ends as", "both ends"})
"""Words behind `same` by which the ends of a run are meant."""
WORDS_FOR_PLACES = frozenset(
    {"posns", "posn", "positions", "position", "places", "place", "spots", "spot", "locations", "locs"}
)
"""Words behind `same` by which only where outlets stand is meant."""
AGREES = frozenset({"matches", "equals", "identical", "identical to"})
"""Words for two runs that come out alike."""
SWAPPED = {
    "left_end": "right_end",
    "right_end": "left_end",
    "left_angle": "right_angle",
    "right_angle": "left_angle",
}
"""Fields that change places in a mirror."""


def copy_same(stretch: Stretch, same: Item) -> None:
    """Act on a `same` of a stretch: some named fields, or the whole run."""
    walk = stretch.walk
    run = walk.run
    if run is None:
        return
    mirror = same.kind == "mirror"
    if _copy_places(stretch, same):
        return
    if _only_agrees(stretch, same) or _copy_pipe_beside(stretch, same):
        return
    if _of_something_else(stretch, same) or _copy_listed_pipe(stretch, same) or _copy_ends(stretch, same):
        return
    source_run, words, named = _like_what(stretch, same)
    if source_run is None and words:
        walk.copies_due.append((run, same, words, mirror))
        return
    if source_run is None:
        source_run, words = run, "the other one"
    if source_run is run and len(run.outlets) <= 1:
        return
    fields = [
        "height" if item.value == "down" else item.value
        for item in stretch.items
        if item.kind == "cue" and not item.marks.get("used") and abs(item.start - same.start) < NEAR_ENOUGH
    ]
    things = {
        item.kind
        for item in stretch.items
        if item.kind in ("end", "outlet", "downpipe") and "side" not in item.marks
    }
    pipe_fields = [name for name in fields if name in ("wall_to_fascia", "height")]
    if pipe_fields:
        for name in pipe_fields:
            _copy_pipe_field(stretch, source_run, name, same, words)
        if set(pipe_fields) == set(fields):
            return
    if (fields and "length" not in fields) or source_run is run:
        return
    if named and not fields and "length" in run.fields and _pipe_placed_before(stretch, same):
        _copy_pipe(stretch, source_run, same, words)
        return
    names = ("length",) if "length" in fields else COPIED
    if things and things <= {"outlet", "downpipe"}:
        # `with drops the same as the south`
        run.outlets[:] = [outlet for outlet in run.outlets if outlet.side is not None]
        copy_run(run, source_run, same, words, names=(), outlets=True)
        return
    if "length" in fields:
        copy_run(run, source_run, same, words, names=("length",), outlets=False)
        return
    if things == {"end"}:
        _copy_length_beside_ends(stretch, source_run, same, words)
        return
    if not named and _only_last_field(stretch, same):
        return
    if things or not (named or _whole_run(stretch, same)):
        return
    copy_run(run, source_run, same, words, names=names, mirror=mirror, outlets="length" not in fields)


def _only_agrees(stretch: Stretch, same: Item) -> bool:
    """`38 feet, caps both ends, so it matches the front`: two runs came out alike."""
    run = stretch.walk.run
    if run is None or same.text.lower() not in AGREES:
        return False
    told = run.fields.get("length")
    return told is not None and not by_ditto(told) and any(s.line == same.line for s in told.source)


def _copy_pipe_beside(stretch: Stretch, same: Item) -> bool:
    """`Downpipe left, 2.74 down, ground. Downpipe right the same.`: what the one has, the other has."""
    walk = stretch.walk
    run = walk.run
    if run is None or len(walk.outlets) != 1 or walk.outlets[0].pipe.fields or same.kind == "mirror":
        return False
    mine = walk.outlets[0]
    before = [item for item in stretch.items if item.start < same.start]
    behind = [
        item for item in stretch.items if item.start > same.start and item.kind not in ("filler", "break")
    ]
    others = [outlet for outlet in run.outlets if outlet is not mine and outlet.pipe.fields]
    if (
        behind
        or len(others) != 1
        or not any(item.kind in ("outlet", "downpipe", "side") for item in before)
        or any(item.kind in ("place", "measure", "end", "cue") for item in before)
    ):
        return False
    words = f"the one at the {others[0].side}" if others[0].side else "the other one"
    for name in ("wall_to_fascia", "height", "ends_at"):
        if name in others[0].pipe.fields:
            mine.pipe.fields[name] = copied(others[0].pipe.fields[name], "same as", words, same)
    return True


def _of_something_else(stretch: Stretch, same: Item) -> bool:
    """`2x3 downspouts, same as the neighbour's`: the same as something that is no run of this note."""
    at = stretch.items.index(same)
    if at and stretch.items[at - 1].text.lower() == "far":
        return True  # `the gutter runs only as far as the outshot`
    if not same.text.lower().endswith((" as", " like")):
        return False
    behind = [
        item for item in stretch.items if item.start > same.start and item.kind not in ("filler", "mark")
    ]
    return bool(behind) and behind[0].kind in ("word", "remark", "landmark")


def _copy_places(stretch: Stretch, same: Item) -> bool:
    """`2 rwps same posns, 8.9 dn`: the outlets stand where the other run's do, and no more is the same."""
    run = stretch.walk.run
    behind = [item for item in stretch.items if item.start > same.start]
    if run is None or not behind or behind[0].text.lower() not in WORDS_FOR_PLACES:
        return False
    like, words, _ = _like_what(stretch, same)
    placed = [outlet for outlet in run.outlets if outlet.side is not None]
    if like is None or like is run or placed or len(run.outlets) > len(like.outlets):
        return False
    while len(run.outlets) < len(like.outlets):
        run.outlets.append(OutletDraft(source=[same.source()], pipe=_like_pipe(run)))
    for mine, theirs in zip(run.outlets, like.outlets, strict=True):
        mine.place = copied(theirs.place, "same as", words, same) if theirs.place is not None else None
        mine.distance = (
            copied(theirs.distance, "same as", words, same) if theirs.distance is not None else None
        )
    return True


def _like_pipe(run: RunDraft) -> PipeDraft:
    """A pipe with the values of the run's others: they were said once for all of them."""
    known = run.outlets[-1].pipe.fields if run.outlets else run.pending
    return PipeDraft(fields={name: reading.model_copy(deep=True) for name, reading in known.items()})


def _copy_ends(stretch: Stretch, same: Item) -> bool:
    """`same ends`, `same corners as the front`: how the run ends, and no more of it."""
    walk = stretch.walk
    behind = [item for item in stretch.items if item.start > same.start]
    while behind and behind[0].text.lower() in ("two", "both", "the", "at", "each"):
        behind = behind[1:]
    if walk.run is None or not behind or behind[0].text.lower() not in WORDS_FOR_ENDS:
        return False
    like, words, _ = _like_what(stretch, same)
    if like is None or like is walk.run:
        return False
    settle_ends(like)
    names = ("left_end", "right_end", "left_angle", "right_angle")
    for name in names:
        if name in like.fields and name not in walk.run.fields:
            origin = SWAPPED[name] if same.kind == "mirror" else name
            walk.run.fields[name] = copied(like.fields[origin], "same as", words, same)
    _doubt_ends_across(walk.run, like)
    return True


GUESSES = frozenset(
    {"guess", "guessing", "guessed", "probably", "assume", "assuming", "presumably", "should be"}
)
"""Words by which a likeness is no measure."""


def doubt_guessed(stretch: Stretch, same: Item) -> None:
    """`couldn't measure it, I'm guessing it's the same as the front`: a copy that nobody measured."""
    run = stretch.walk.run
    before = [item for item in stretch.items if item.start < same.start]
    guess = next((o for o in before if o.text.lower() in GUESSES or o.kind in ("hedge", "unknown")), None)
    if run is None or guess is None:
        return
    copies = [*run.fields.values(), *(o.place for o in run.outlets if o.place is not None)]
    copies += [reading for o in run.outlets for reading in o.pipe.fields.values()]
    for copy in copies:
        if by_ditto(copy) and copy.status in CERTAIN:
            copy.status = "doubtful"
            copy.why = f"the note says {guess.text!r}; {copy.why}"


def leave_open(stretch: Stretch, same: Item) -> None:
    """`the back is the same only its`, and no more on the line: what differs is to come, or is asked."""
    walk = stretch.walk
    run = walk.run
    length = run.fields.get("length") if run is not None else None
    if run is None or length is None or not by_ditto(length):
        return
    opening = ALL_BUT.search(stretch.line.text, same.end)
    if opening is None:
        return
    word = Item(same.line, opening.start("but"), opening.end("but"), opening["but"], "fix")
    walk.last = walk.last_length = walk.fixed_last = (run.fields, "length", same)
    walk.fixing, walk.fixed_outlets = word, []
    length.status = "doubtful"
    length.why = f"{word.text!r} was said behind it, and nothing that differs; {length.why or ''}".strip("; ")


def copy_length_now(stretch: Stretch, same: Item) -> None:
    """`same as the front length wise, ... eighteen inches`: the length is known before that number."""
    run = stretch.walk.run
    named = any(
        item.kind == "cue" and item.value == "length" and 0 < item.start - same.start < NEAR_ENOUGH
        for item in stretch.items
    )
    like, words, by_name = _like_what(stretch, same)
    whole = _whole_run(stretch, same) and not any(
        item.kind in ("cue", "outlet", "downpipe", "end") and 0 < item.start - same.start < NEAR_ENOUGH // 4
        for item in stretch.items
    )
    if run is None or like is None or not by_name or "length" in run.fields or like is run:
        return
    if (named or whole) and same.kind == "same":
        copy_run(run, like, same, words, names=("length",), outlets=False)


def _copy_listed_pipe(stretch: Stretch, same: Item) -> bool:
    """`Back right: 9-6, same, drain`, `Front right: as front left`: in a list, the rest of the pipe."""
    walk = stretch.walk
    listed = any(item.kind == "place" and "quarter side" in item.marks for item in stretch.items)
    if not listed or not walk.outlets:
        return False
    behind = [item for item in stretch.items if item.start > same.start and item.kind != "filler"]
    if behind and behind[0].kind in ("cue", "measure", "end"):
        return False
    likened = next((item for item in behind[:1] if item.kind == "ref" and item.value is not None), None)
    origins = walk.pipes_before
    words = "the one before"
    if likened is not None:
        like = next((run for run in walk.runs if run.place == likened.value and run.outlets), None)
        if like is None:
            return False
        side = likened.marks.get("quarter side")
        origins = [outlet for outlet in like.outlets if side in (None, outlet.side)]
        words = f"the {side or ''} of the {like.place.name}".replace("the  of ", "")
        walk.use(likened)
    if not origins:
        return False
    for name in ("wall_to_fascia", "height", "ends_at"):
        known = [outlet.pipe.fields[name] for outlet in origins if name in outlet.pipe.fields]
        for outlet in walk.outlets if known else ():
            copy = copied(known[0], "same as", words, same)
            if any(other.value != known[0].value for other in known):
                copy.status, copy.why = "doubtful", f"{words} has pipes that differ: which is meant?"
            outlet.pipe.fields.setdefault(name, copy)
    return True


def _pipe_placed_before(stretch: Stretch, same: Item) -> bool:
    """`drop right, same as the front`: with the run's length known, what is the same is the pipe."""
    before = [
        item for item in stretch.items if item.start < same.start and item.kind not in ("filler", "break")
    ]
    return any(item.kind in ("outlet", "downpipe") and "side" in item.marks for item in before[-5:])


def _copy_pipe(stretch: Stretch, like: RunDraft, same: Item, words: str) -> None:
    """What is known of the other run's pipe, to the outlets in focus, where they have none of their own.

    Where the other run has several pipes that differ, the copy is doubtful.
    """
    if not like.outlets:
        return
    for name in ("wall_to_fascia", "height", "ends_at"):
        origins = [outlet.pipe.fields[name] for outlet in like.outlets if name in outlet.pipe.fields]
        if not origins:
            continue
        for outlet in stretch.walk.outlets:
            copy = copied(origins[0], "same as", words, same)
            if any(origin.value != origins[0].value for origin in origins):
                copy.status, copy.why = "doubtful", f"{words} has pipes that differ: which is meant?"
            outlet.pipe.fields.setdefault(name, copy)


def _like_what(stretch: Stretch, same: Item) -> tuple[RunDraft | None, str, bool]:
    """The run that is copied from, the words for it, and whether it was named."""
    walk = stretch.walk
    for item in stretch.items:
        if item.kind == "ref" and item.value is not None and item.start > same.start:
            if _told_between(stretch, same, item):
                break
            meant = side_behind(stretch, item)
            if meant is not None:
                walk.use(item)
                return meant, f"the {meant.place.name}", True
            for run in walk.runs:
                if run.place.name == item.value.name or set(run.place.name.split()) >= set(
                    item.value.name.split()
                ):
                    walk.use(item)
                    return run, f"the {run.place.name}", True
            if not item.value.own and not item.marks.get("named") and item.value != _place_of(walk.run):
                return None, item.value.name, True
    side = side_of_the_house(stretch, same)
    if side is not None:
        part = walk.run.place.part if walk.run is not None else None
        for run in walk.runs:
            if run.has_data and (run.place.part, run.place.direction) == (part, LR_SIDE[side.value]):
                walk.use(side)
                return run, f"the {run.place.name}", True
        return None, LR_SIDE[side.value], True
    earlier = [run for run in walk.runs if run is not walk.run and run.has_data]
    if not earlier:
        return None, "", False
    return earlier[-1], f"the {earlier[-1].place.name}", False


def _copy_length_beside_ends(stretch: Stretch, like: RunDraft, same: Item, words: str) -> None:
    """`shop north same, caps`: its length is the same as well, or only its ends are."""
    run = stretch.walk.run
    at = stretch.items.index(same)
    if run is None or "length" in run.fields or not at or stretch.items[at - 1].kind != "place":
        return
    if "length" in like.fields:
        copy_run(run, like, same, words, names=("length",), outlets=False)
        copy = run.fields["length"]
        if copy.status in CERTAIN:
            copy.status = "doubtful"
            copy.why = f"the same length, or only the same ends?; {copy.why}"


def _told_between(stretch: Stretch, same: Item, ref: Item) -> bool:
    """`north the same, pipe left, ten down, by the shop`: more was told between, so it is no likeness."""
    between = [item for item in stretch.items if same.end <= item.start < ref.start]
    breaks = sum(item.kind == "break" and item.strength >= 1 for item in between)
    return breaks > 1 or any(
        item.kind in ("measure", "ends at") or (item.kind == "break" and item.strength >= 3)
        for item in between
    )


def side_behind(stretch: Stretch, ref: Item) -> RunDraft | None:
    """`same as the upper right`: the run of that part or storey and that side; None where no side follows."""
    if ref.value.direction:
        return None
    behind = [item for item in stretch.items if item.start >= ref.end and item.kind != "filler"][:1]
    if not behind or behind[0].kind not in ("lr", "side") or behind[0].value not in LR_SIDE:
        return None
    wanted = replace(ref.value, direction=LR_SIDE[behind[0].value])
    for run in stretch.walk.runs:
        if run.place == wanted and run.has_data:
            stretch.walk.use(behind[0])
            behind[0].marks["used"] = True
            return run
    return None


def _place_of(run: RunDraft | None) -> PlaceName | None:
    return run.place if run is not None else None


def copy_due(walk: Walk) -> None:
    """Copies from runs that were told later in the note: `left same as right`, and then the right side.

    A run that was never told is asked for: the copy's length is missing, with the words that promised it.
    """
    for run, same, name, mirror in walk.copies_due:
        wanted = set(name.split())
        like = next(
            (
                other
                for other in walk.runs
                if other is not run and other.has_data and set(other.place.name.split()) >= wanted
            ),
            None,
        )
        if like is not None:
            copy_run(run, like, same, f"the {like.place.name}", mirror=mirror)
        elif "length" not in run.fields:
            run.fields["length"] = Reading[Any](
                value=None, status="missing", source=[same.source()], why=f"the {name} was never told"
            )


def side_of_the_house(stretch: Stretch, same: Item) -> Item | None:
    """`left side same as the right`: the right of the house, where a whole run is the same."""
    behind = [item for item in stretch.items if item.start > same.start and item.kind != "filler"][:1]
    if not behind or behind[0].kind not in ("lr", "side") or behind[0].value not in ("left", "right"):
        return None
    return behind[0] if _whole_run(stretch, same) else None


def _only_last_field(stretch: Stretch, same: Item) -> bool:
    """`run one is eight foot eight, run three the same`: with its length known, what was said last."""
    walk = stretch.walk
    run = walk.run
    before = [item for item in stretch.items if item.start < same.start and item.kind != "filler"]
    if before and before[-1].kind == "measure":
        return False  # `back 19-8 same, dp L`
    if run is None or "length" not in run.fields or not run.outlets or walk.last is None:
        return False
    fields, name, _ = walk.last
    if name not in ("height", "wall_to_fascia", "ends_at") or name not in fields:
        return False
    walk.pipe_value(name, copied(fields[name], "same as", "the one before", same), same)
    return True


def _whole_run(stretch: Stretch, same: Item) -> bool:
    """Whether a bare `same` is of the run just named: `back same`, `right side: ditto`, `bk 38-4 same`."""
    for item in reversed(stretch.items[: stretch.items.index(same)]):
        if item.kind == "place":
            return True
        if item.kind not in ("filler", "colon", "measure", "break", "mark", "walk", "run noun", "same"):
            return False
    return stretch.walk.run is not None and not stretch.walk.run.has_data


def copy_run(
    run: RunDraft,
    like: RunDraft,
    same: Item,
    words: str,
    *,
    names: tuple[str, ...] = COPIED,
    mirror: bool = False,
    outlets: bool = True,
) -> None:
    """Copy one run's fields to another that has none of its own; mirrored, left and right change places."""
    said = "mirror of" if mirror else "same as"
    for name in names:
        origin = SWAPPED.get(name, name) if mirror else name
        if origin in like.fields and name not in run.fields:
            run.fields[name] = copied(like.fields[origin], said, words, same)
    if "length" in names:
        run.like = like
    if len(names) > 1 and not mirror:
        settle_ends(like)
        for name in ("left_end", "right_end", "left_angle", "right_angle"):
            if name in like.fields and name not in run.fields and not run.unsided:
                run.fields[name] = copied(like.fields[name], said, words, same)
    if not mirror and len(names) > 1:
        _doubt_ends_across(run, like)
    if outlets and run.outlets and len(run.outlets) == len(like.outlets):
        # the places are its own, the rest of its pipes is the same
        for mine, theirs in zip(run.outlets, like.outlets, strict=True):
            for name, reading in theirs.pipe.fields.items():
                mine.pipe.fields.setdefault(name, copied(reading, said, words, same))
    elif outlets and run.outlets and like.outlets:
        _copy_what_all_pipes_share(run, like, said, words, same)
    if outlets and not run.outlets:
        if like.no_outlet is not None and not like.outlets:
            run.no_outlet = run.no_outlet or like.no_outlet
        for outlet in like.outlets:
            run.outlets.append(_copied_outlet(outlet, said, words, same, mirror=mirror))
        if run.pending and run.outlets:
            for outlet in run.outlets:
                outlet.pipe.fields.update(
                    {name: reading.model_copy(deep=True) for name, reading in run.pending.items()}
                )
            run.pending = {}


def _copy_what_all_pipes_share(run: RunDraft, like: RunDraft, said: str, words: str, same: Item) -> None:
    """`same as the front except the outlet is only on the left`: what the other run's pipes have alike."""
    for name in ("wall_to_fascia", "height", "ends_at"):
        theirs = [outlet.pipe.fields.get(name) for outlet in like.outlets]
        first = theirs[0]
        if first is None or any(other is None or other.value != first.value for other in theirs):
            continue
        for outlet in run.outlets:
            outlet.pipe.fields.setdefault(name, copied(first, said, words, same))


def _doubt_ends_across(run: RunDraft, like: RunDraft) -> None:
    """Ends that differ, copied between the left and the right of a house: as one faces them, or mirrored?

    A corner at the street is the left end of the one side and the right end of the other.
    """
    if {run.place.direction, like.place.direction} != set(LR_SIDE.values()):
        return
    ends = [run.fields.get(name) for name in ("left_end", "right_end")]
    theirs = [like.fields.get(name) for name in ("left_end", "right_end")]
    if None in theirs or len({end.value for end in theirs if end is not None}) == 1:
        return
    for end in ends:
        if end is not None and (end.why or "").startswith("same as") and end.status == "read":
            end.status = "doubtful"
            end.why = f"the same as one faces it, or mirrored?; {end.why}"


def _copied_outlet(outlet: OutletDraft, said: str, words: str, same: Item, *, mirror: bool) -> OutletDraft:
    """A copy of an outlet with its pipe, on the other side where it is mirrored."""
    place = outlet.place
    if place is not None:
        place = copied(place, said, words, same)
        if mirror and place.value in OPPOSITE:
            place.value = OPPOSITE[place.value]
    pipe = PipeDraft(
        fields={name: copied(reading, said, words, same) for name, reading in outlet.pipe.fields.items()},
        offsets=[copied(reading, said, words, same) for reading in outlet.pipe.offsets],
    )
    return OutletDraft(
        place=place,
        distance=copied(outlet.distance, said, words, same) if outlet.distance is not None else None,
        size=outlet.size,
        at_end=outlet.at_end,
        pipe=pipe,
        source=[same.source()],
        ditto=True,
    )


def _copy_pipe_field(stretch: Stretch, like: RunDraft, name: str, same: Item, words: str) -> None:
    """Copy one field of a pipe from the outlet said before, or from another of the same run."""
    run = stretch.walk.run
    own = (
        [o for o in run.outlets if name in o.pipe.fields and not any(o is f for f in stretch.walk.outlets)]
        if run
        else []
    )
    if own and not any(item.kind == "ref" for item in stretch.items):
        # `a second one, same height as the other`
        like, words = run or like, "the other one"
        origin: Reading[Any] | None = own[-1].pipe.fields[name]
    else:
        origin = next((o.pipe.fields[name] for o in reversed(like.outlets) if name in o.pipe.fields), None)
    if origin is None:
        return
    stretch.walk.pipe_value(name, copied(origin, "same as", words, same), same)


def copied(reading: Reading[Any], said: str, words: str, same: Item) -> Reading[Any]:
    """A reading copied by a word that says so, with that word as its first source."""
    copy = reading.model_copy(deep=True)
    copy.source = [same.source(), *copy.source]
    copy.was = []
    if copy.status == "corrected":
        copy.status = "read"
    copy.why = f"{said} {words}" + (f"; {reading.why}" if reading.why else "")
    return copy

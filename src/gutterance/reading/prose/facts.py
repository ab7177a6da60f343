"""What a sentence tells, before it is put on the sheet: so that a sentence half understood tells nothing."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.reading.builder import UnsidedEnd, copied_apart
from gutterance.reading.discourse import OPPOSITE, Scope

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.reading.places import PlaceName
    from gutterance.sheet.models import Reading


@dataclass(slots=True)
class Pipes:
    """Pipes that a sentence speaks of: of which runs, at which sides, and whether they are told first here.

    With no sides they are all that the runs have. `distance` is that of all, or only of the side with the
    number `distance_of`.
    """

    runs: list[PlaceName]
    count: int = 1
    new: bool = False
    item: Item | None = None
    sides: list[tuple[str, Item]] = field(default_factory=list)
    distance: Item | None = None
    distance_of: int | None = None
    open: bool = True
    guessed: str = ""


@dataclass(slots=True)
class Fact:
    """One thing told: a `length` or an `end` of runs, a value of pipes, or that runs have `none`."""

    name: str
    runs: list[PlaceName]
    item: Item
    value: str = ""
    side: str = ""
    pipes: Pipes | None = None
    doubts: list[str] = field(default_factory=list)
    everywhere: bool = False
    plural: bool = False


def put_down(facts: list[Fact], pipes: list[Pipes], walk: Walk) -> None:
    """Put the facts of a sentence on the sheet: runs first, then their pipes, then what is told of these."""
    for fact in facts:
        if fact.name == "length":
            _length(fact, walk)
        elif fact.name == "end":
            _end(fact, walk)
        elif fact.name == "none":
            for place in fact.runs:
                walk.focus(place, fact.item).no_outlet = fact.item.source()
                walk.use(fact.item)
    for one in pipes:
        if one.new:
            _new_pipes(one, walk)
    for fact in facts:
        if fact.name in ("height", "wall_to_fascia", "ends_at"):
            _pipe_value(fact, walk)


def _doubted(reading: Reading[Any], doubts: list[str]) -> Reading[Any]:
    if doubts:
        reading.status = "doubtful"
        reading.why = "; ".join([*doubts, *([reading.why] if reading.why else [])])
    return reading


def _length(fact: Fact, walk: Walk) -> None:
    for place in fact.runs:
        run = walk.focus(place, None)
        reading = walk.length(fact.item, "length")
        if reading is not None:
            walk.put(run.fields, "length", _doubted(reading, fact.doubts), fact.item)


def _end(fact: Fact, walk: Walk) -> None:
    for place in fact.runs:
        run = walk.focus(place, None)
        side = fact.side
        if side in ("inner", "outer"):
            outer = {"left side": "right", "right side": "left"}.get(place.direction or "", "")
            side = outer if side == "outer" else OPPOSITE.get(outer, "")
        sides = ["left", "right"] if side == "both" else [side] if side in OPPOSITE else []
        for one in sides:
            if one and f"{one}_end" in run.fields and run.fields[f"{one}_end"].value == fact.value:
                continue
            reading = _doubted(walk.text(fact.value, fact.item), fact.doubts)
            walk.put(run.fields, f"{one}_end", reading, fact.item)
        if not sides:
            walk.use(fact.item)
            run.unsided.append(UnsidedEnd(fact.item, before_length=False, joined_by=""))


def _new_pipes(pipes: Pipes, walk: Walk) -> None:
    assert pipes.item is not None
    for place in pipes.runs:
        run = walk.focus(place, None)
        walk.use(pipes.item)
        known = [(side if side != "?" else "", item) for side, item in pipes.sides]
        known = [
            one
            for side, item in known
            for one in ([("left", item), ("right", item)] if side == "both" else [(side, item)])
        ]
        sides = known or [("", pipes.item)] * pipes.count
        for number, (side, item) in enumerate(sides):
            here = len(sides) == 1 or pipes.distance_of in (None, number)
            distance = (
                walk.length(pipes.distance, "distance") if pipes.distance is not None and here else None
            )
            reading = walk.text(side, item) if side else None
            if reading is not None and pipes.guessed:
                reading = _doubted(reading, [pipes.guessed])
            outlet = walk.outlet_at(side or None, item, reading, distance, new=not side and pipes.count > 1)
            outlet.source = [*pipes.item.sources(), *outlet.source]
        run.no_outlet = None


def _pipe_value(fact: Fact, walk: Walk) -> None:
    name, pipes = fact.name, fact.pipes
    reading = walk.text(fact.value, fact.item) if name == "ends_at" else walk.length(fact.item, name)
    if reading is None:
        return
    reading = _doubted(reading, fact.doubts)
    if fact.everywhere:
        reading.why = f"said of all; {reading.why}" if reading.why else "said of all"
        walk.scopes.append(Scope(name, reading))
        return
    assert pipes is not None
    for place in _told_runs(pipes.runs, walk):
        run = walk.focus(place, None)
        wanted = [side for side, _ in pipes.sides if side not in ("?", "both")]
        walk.outlets = [
            outlet
            for outlet in run.outlets
            if not wanted or outlet.side in wanted or (outlet.side is None and len(run.outlets) == 1)
        ]
        copy = copied_apart(reading)
        if walk.outlets:
            for outlet in walk.outlets:
                walk.put(outlet.pipe.fields, name, copied_apart(copy), fact.item)
        else:
            walk.put(run.pending, name, copy, fact.item)


def _told_runs(places: list[PlaceName], walk: Walk) -> list[PlaceName]:
    """The runs a value is of: of a part named alone its one run, and none of a part that has none.

    `The porch roof overhangs by 200`: no run is made for what is said of a roof.
    """
    told: list[PlaceName] = []
    for place in places:
        known = place.direction is not None or any(run.place == place for run in walk.runs)
        of_part = [run.place for run in walk.runs if run.place.part == place.part]
        if known:
            told.append(place)
        elif len(of_part) == 1:
            told.append(of_part[0])
    return told

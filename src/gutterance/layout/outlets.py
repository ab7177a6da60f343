"""Where each outlet lies on its run, measured from the run's left end to the middle of the outlet."""

from __future__ import annotations

import itertools
from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.holding import guessed, said, unsettled
from gutterance.layout.values import Hold, LaidRun, PlacedOutlet, Reason
from gutterance.layout.wording import note_once, shown

if TYPE_CHECKING:
    from gutterance.sheet.models import Outlet, Sheet, TextReading
    from gutterance.shop import Shop


def pipe_size_of(
    sheet: Sheet, outlet: Outlet, pipe_sizes: dict[str, tuple[str, TextReading]]
) -> tuple[str | None, list[Hold]]:
    """The pipe size an outlet is for: its own, else its downpipe's, else the job's; and any doubt of it."""
    candidates: list[tuple[str, TextReading | None]] = [(f"outlets.{outlet.id}.size", outlet.size)]
    if outlet.id in pipe_sizes:
        candidates.append(pipe_sizes[outlet.id])
    candidates.append(("defaults.downpipe_size", sheet.defaults.downpipe_size))
    for path, reading in candidates:
        if reading is not None:
            return reading.value, unsettled(path, reading, f"the pipe size of {outlet.id}")
    return None, []


def place_outlets(
    sheet: Sheet, runs: list[LaidRun], shop: Shop, assumed: list[str]
) -> tuple[list[list[PlacedOutlet]], list[Hold]]:
    """The outlets of each run, left to right, those without a place last; and holds for outlets on no run.

    An outlet said to be simply at an end is put the shop's distance from it. One that does not fit on its
    run, or lies over another, has a hold; nothing is moved in silence.
    """
    index: dict[str, int] = {}
    for i, run in enumerate(runs):
        index.setdefault(run.id, i)
    sizes: dict[str, tuple[str, TextReading]] = {}
    for pipe in sheet.downpipes:
        if pipe.outlet is not None and pipe.size is not None:
            sizes.setdefault(pipe.outlet, (f"downpipes.{pipe.id}.size", pipe.size))
    placed: list[list[PlacedOutlet]] = [[] for _ in runs]
    stray: list[Hold] = []
    for outlet in sheet.outlets:
        on = index.get(outlet.run)
        if on is None:
            says = f"outlet {outlet.id} is on {outlet.run!r}, which is no run of this sheet"
            stray.append(Hold(f"outlets.{outlet.id}.run", says, f"Which run is outlet {outlet.id} on?"))
            continue
        size, hold = pipe_size_of(sheet, outlet, sizes)
        placed[on].append(_placed(outlet, on, runs[on], size, hold, shop, assumed))
    for row in placed:
        row.sort(key=lambda one: (one.at is None, one.at or 0))
        _hold_overlaps(row)
    return placed, stray


def _placed(
    outlet: Outlet, i: int, run: LaidRun, size: str | None, hold: list[Hold], shop: Shop, assumed: list[str]
) -> PlacedOutlet:
    if size is None:
        size = shop.usual.downpipe_size
        note_once(assumed, f"pipe {size}: not said, shop rule")
    shape = shop.pipe(size)
    half = shape.along.inches / 2 if shape is not None else Fraction(0)
    if shape is None:
        says = f"the shop file has no pipe {size!r}: add a [[pipes]] table for it"
        hold = [*hold, Hold(f"outlets.{outlet.id}.size", says, f"Is {size} the right pipe?")]
    one = PlacedOutlet(outlet.id, i, None, half, size, hold=list(hold))
    at = f"outlets.{outlet.id}"
    for name, reading in (("place", outlet.place), ("distance", outlet.distance)):
        one.hold += unsettled(f"{at}.{name}", reading, f"the {name} of outlet {outlet.id}")
        one.guesses += guessed(reading, f"{name} of outlet {outlet.id}")
    distance = outlet.distance.value.inches if outlet.distance and outlet.distance.value else None
    number = f"outlets.{outlet.id}"
    if outlet.from_ is None:
        if not one.hold:
            says = f"nobody said where outlet {outlet.id} is on {run.name}"
            one.hold.append(Hold(f"{at}.place", says, f"Which end of {run.name} is outlet {outlet.id} at?"))
        return one
    if outlet.from_ == "centre" and distance:
        says = f"outlet {outlet.id} is said to be off the centre, but not to which side"
        one.hold.append(Hold(f"{at}.distance", says, f"Is outlet {outlet.id} left or right of the centre?"))
        return one
    if outlet.from_ != "left" and run.length is None:
        return one
    length = run.length or Fraction(0)
    if outlet.from_ == "centre":
        one.at = length / 2
        says = f"outlet {outlet.id} in the centre of {shown(length, run.system)}"
        one.why.append(Reason(number, says, one.at, f"{at}.place"))
    else:
        missing = distance is None and outlet.distance is not None
        if missing:
            return one
        off = shop.outlets.from_end.inches if distance is None else distance
        rule = ": shop rule" if outlet.distance is None else f" {said(outlet.distance)}"
        says = f"outlet {outlet.id} {shown(off, run.system, feet=False)} from the {outlet.from_} end{rule}"
        path = f"{at}.place" if distance is None else f"{at}.distance"
        one.why.append(Reason(number, says, off, path))
        if distance is None:
            short = shown(off, run.system, feet=False)
            note_once(assumed, f"outlets said to be at an end: middle {short} from it, shop rule")
        one.at = off if outlet.from_ == "left" else length - off
    _hold_if_off(one, run, at)
    return one


def _hold_if_off(one: PlacedOutlet, run: LaidRun, at: str) -> None:
    if one.at is None or run.length is None:
        return
    if one.at - one.half_width < 0 or one.at + one.half_width > run.length:
        where = shown(one.at, run.system)
        long = shown(run.length, run.system)
        says = f"outlet {one.id} at {where} from the left does not fit on {run.name}, which is {long} long"
        one.hold.append(Hold(f"{at}.distance", says, f"Where on {run.name} is outlet {one.id}?"))
        one.at = None


def _hold_overlaps(row: list[PlacedOutlet]) -> None:
    known = [one for one in row if one.at is not None]
    for left, right in itertools.pairwise(known):
        assert left.at is not None
        assert right.at is not None
        if right.at - left.at < left.half_width + right.half_width or right.at == left.at:
            says = f"outlets {left.id} and {right.id} lie over each other"
            question = f"Where is outlet {right.id}?"
            for one in (left, right):
                one.hold.append(Hold(f"outlets.{one.id}.distance", says, question))


def blocked_zones(outlets: list[PlacedOutlet], clear: Fraction) -> list[tuple[Fraction, Fraction]]:
    """Stretches of a run [in] that outlets take up, `clear` [in] to each side, merged, left to right."""
    zones = [
        (one.at - one.half_width - clear, one.at + one.half_width + clear)
        for one in outlets
        if one.at is not None
    ]
    return merged_zones(zones)


def merged_zones(zones: list[tuple[Fraction, Fraction]]) -> list[tuple[Fraction, Fraction]]:
    """Stretches [in] that lie over each other made one, left to right."""
    out: list[tuple[Fraction, Fraction]] = []
    for low, high in sorted(zones):
        if out and low < out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], high))
        else:
            out.append((low, high))
    return out


def outlets_by_id(placed: list[list[PlacedOutlet]]) -> dict[str, list[PlacedOutlet]]:
    """Placed outlets by id (more than one where a sheet uses an id twice)."""
    out: dict[str, list[PlacedOutlet]] = defaultdict(list)
    for row in placed:
        for one in row:
            out[one.id].append(one)
    return out

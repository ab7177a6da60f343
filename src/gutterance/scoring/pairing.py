"""Which run, outlet and downpipe of a sheet stands for which of its gold."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from gutterance.scoring.gold import Gold, GoldDownpipe, GoldOutlet, gold_length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from gutterance.sheet.models import Downpipe, Outlet, Sheet

Given = TypeVar("Given")


def run_key(run_id: str) -> tuple[str, ...]:
    """A run's id without `side` and without order of words.

    >>> run_key("garage-left-side") == run_key("left garage")
    True
    """
    return tuple(sorted(word for word in re.split(r"[-_\s]+", run_id.lower()) if word and word != "side"))


@dataclass(slots=True)
class Pairs:
    """For each gold run id, and each gold outlet and downpipe by index, the sheet's own, or None."""

    runs: dict[str, str | None] = field(default_factory=dict)
    outlets: list[Outlet | None] = field(default_factory=list)
    downpipes: list[Downpipe | None] = field(default_factory=list)


def pair(gold: Gold, sheet: Sheet) -> Pairs:
    """Pair runs by id, outlets by run and place, downpipes by their outlet."""
    pairs = Pairs()
    by_key: dict[tuple[str, ...], str] = {}
    for run in sheet.runs:
        by_key.setdefault(run_key(run.id), run.id)
    pairs.runs = {name: by_key.get(run_key(name)) for name in gold.runs}

    pairs.outlets = [None] * len(gold.outlets)
    for key in dict.fromkeys(run_key(outlet.run) for outlet in gold.outlets):
        wanted = [number for number, outlet in enumerate(gold.outlets) if run_key(outlet.run) == key]
        given = [outlet for outlet in sheet.outlets if run_key(outlet.run) == key]
        for number, outlet in _pair_in_turn(
            wanted,
            given,
            [
                lambda number, outlet: _place(gold.outlets[number]) == _sheet_place(outlet),
                lambda number, outlet: gold.outlets[number].from_ == outlet.from_,
                lambda _number, _outlet: True,
            ],
        ):
            pairs.outlets[number] = outlet

    pairs.downpipes = [None] * len(gold.downpipes)
    for key in dict.fromkeys(run_key(pipe.run) for pipe in gold.downpipes):
        wanted = [number for number, pipe in enumerate(gold.downpipes) if run_key(pipe.run) == key]
        given_pipes = [pipe for pipe in sheet.downpipes if run_key(run_of(pipe, sheet) or "") == key]

        def same_outlet(number: int, pipe: Downpipe) -> bool:
            outlet = _gold_outlet(gold.downpipes[number], gold)
            found = pairs.outlets[outlet] if outlet is not None else None
            return found is not None and found.id == pipe.outlet

        def same_end(number: int, pipe: Downpipe) -> bool:
            outlet = sheet.outlet(pipe.outlet)
            return outlet is not None and gold.downpipes[number].from_ == outlet.from_

        for number, pipe in _pair_in_turn(wanted, given_pipes, [same_outlet, same_end, lambda _n, _p: True]):
            pairs.downpipes[number] = pipe
    return pairs


def run_of(pipe: Downpipe, sheet: Sheet) -> str | None:
    """The run whose water a downpipe takes; by the pipe's id (`front-1`) where its outlet is unknown."""
    outlet = sheet.outlet(pipe.outlet)
    if outlet is not None:
        return outlet.run
    stem = re.sub(r"-\d+$", "", pipe.id)
    return stem if sheet.run(stem) else None


def _pair_in_turn(
    wanted: Sequence[int], given: Sequence[Given], rules: Sequence[Callable[[int, Given], bool]]
) -> list[tuple[int, Given]]:
    left_wanted, left_given, found = list(wanted), list(given), []
    for rule in rules:
        for number in list(left_wanted):
            match = next((item for item in left_given if rule(number, item)), None)
            if match is not None:
                found.append((number, match))
                left_wanted.remove(number)
                left_given = [item for item in left_given if item is not match]
    return found


def _place(outlet: GoldOutlet | GoldDownpipe) -> tuple[object, ...]:
    return outlet.from_, gold_length(outlet.distance).inches if outlet.distance else None


def _sheet_place(outlet: Outlet) -> tuple[object, ...]:
    distance = outlet.distance.value if outlet.distance else None
    return outlet.from_, distance.inches if distance else None


def _gold_outlet(pipe: GoldDownpipe, gold: Gold) -> int | None:
    same_run = [
        number for number, outlet in enumerate(gold.outlets) if run_key(outlet.run) == run_key(pipe.run)
    ]
    same_end = [number for number in same_run if gold.outlets[number].from_ == pipe.from_]
    exact = [number for number in same_end if _place(gold.outlets[number]) == _place(pipe)]
    if exact:
        return exact[0]
    if len(same_end) == 1:
        return same_end[0]
    return same_run[0] if len(same_run) == 1 else None

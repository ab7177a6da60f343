"""The order pieces are run in: as the installer can hang them, each coil loaded once."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


@dataclass(frozen=True, slots=True)
class Place:
    """A piece where it will hang: whether it has an outlet, and whether it may be made."""

    id: str
    outlet: bool = False
    ready: bool = True


@dataclass(frozen=True, slots=True)
class Stretch:
    """Pieces that hang end to end, left to right; in a loop the last meets the first."""

    places: Sequence[Place]
    loop: bool = False


@dataclass(slots=True)
class Step:
    """One piece to run, off which coil, why now, and what can be hung while it is run."""

    piece: str
    coil: str | None
    why: str
    hang: list[str] = field(default_factory=list)


def machine_order(stretches: Sequence[Stretch], coil_of: Mapping[str, str]) -> list[Step]:
    """All pieces that may be made, in order.

    Each coil is loaded once: its pieces follow one another, the coil that is needed first being first.
    Among them a stretch starts at a piece with an outlet, its low point, which fixes how high the rest
    hangs; then each piece meets one before it. Starting at an end spares going back, so an outlet at an
    end is preferred, and else the one with the least beyond it, which is run first (common practice, no
    source).

    A piece can be hung once it is made, if it has an outlet, is the first of its stretch, or meets one that
    hangs. `hang` is what can newly go up while this piece is run.

    >>> front = Stretch([Place("front"), Place("side"), Place("back", outlet=True)])
    >>> for step in machine_order([front], {}):
    ...     print(step.piece, "|", step.why, "|", *step.hang)
    back | starts at an outlet |
    side | meets back | back
    front | meets side | side
    """
    wanted: list[tuple[str, str]] = []
    meets: dict[str, list[str]] = {}
    first: set[str] = set()
    for stretch in stretches:
        for row in _rows(stretch):
            walk = _walk(row)
            first.add(walk[0].id)
            wanted += _with_why(walk, row, meets, loop=stretch.loop and len(row) == len(stretch.places))
    first |= {place.id for stretch in stretches for place in stretch.places if place.outlet}
    ranks: dict[str, int] = {}
    for rank, (piece, _) in enumerate(wanted):
        ranks.setdefault(coil_of.get(piece, ""), rank)
    ordered = sorted(wanted, key=lambda one: ranks[coil_of.get(one[0], "")])
    steps: list[Step] = []
    made: set[str] = set()
    hung: set[str] = set()
    for piece, why in ordered:
        hang = _hang(steps[-1].piece, made, hung, first, meets) if steps else []
        steps.append(Step(piece, coil_of.get(piece), _why_now(piece, why, meets, made), hang))
        made.add(piece)
    return steps


def hung_last(steps: Sequence[Step]) -> list[str]:
    """What is left to hang when the machine has stopped."""
    hung = {piece for step in steps for piece in step.hang}
    return [step.piece for step in steps if step.piece not in hung]


def coil_changes(steps: Sequence[Step]) -> int:
    """How often the coil in the machine is changed."""
    coils = [step.coil for step in steps]
    return sum(one != other for one, other in itertools.pairwise(coils))


def _rows(stretch: Stretch) -> list[list[Place]]:
    """The stretch without what may not be made: rows of pieces that meet."""
    places = list(stretch.places)
    gaps = [at for at, one in enumerate(places) if not one.ready]
    if stretch.loop and gaps:
        # begin behind a gap, so that a row over the loop's seam stays one
        places = places[gaps[0] :] + places[: gaps[0]]
    elif stretch.loop:
        start = next((at for at, one in enumerate(places) if one.outlet), 0)
        places = places[start:] + places[:start]
    rows: list[list[Place]] = [[]]
    for place in places:
        if place.ready:
            rows[-1].append(place)
        elif rows[-1]:
            rows.append([])
    return [row for row in rows if row]


def _walk(row: list[Place]) -> list[Place]:
    outlets = [at for at, place in enumerate(row) if place.outlet]
    if not outlets or outlets[0] == 0:
        return row
    last = len(row) - 1
    if outlets[-1] == last:
        return row[::-1]
    start = min(outlets, key=lambda at: (min(at, last - at), at))
    left, right = row[:start][::-1], row[start + 1 :]
    return [row[start], *left, *right] if len(left) <= len(right) else [row[start], *right, *left]


def _with_why(
    walk: list[Place], row: list[Place], meets: dict[str, list[str]], *, loop: bool
) -> list[tuple[str, str]]:
    for at, place in enumerate(row):
        sides = [row[other].id for other in (at - 1, at + 1) if 0 <= other < len(row)]
        if loop and len(row) > 2 and at in (0, len(row) - 1):
            sides.append(row[-1 - at].id)
        meets[place.id] = sides
    start = "starts at an outlet" if walk[0].outlet else "starts its row: none of these has an outlet"
    return [(walk[0].id, start), *((place.id, "") for place in walk[1:])]


def _why_now(piece: str, why: str, meets: Mapping[str, list[str]], made: set[str]) -> str:
    if why:
        return why
    met = [one for one in meets[piece] if one in made]
    return f"meets {' and '.join(met)}" if met else "on the coil that is loaded; what it meets comes later"


def _hang(
    piece: str, made: set[str], hung: set[str], first: set[str], meets: Mapping[str, list[str]]
) -> list[str]:
    """What can go up now that a piece is made, in that order; marks it as hung."""
    if piece not in first and not any(other in hung for other in meets[piece]):
        return []
    out = [piece]
    hung.add(piece)
    for one in out:
        for other in meets[one]:
            if other in made and other not in hung:
                hung.add(other)
                out.append(other)
    return out

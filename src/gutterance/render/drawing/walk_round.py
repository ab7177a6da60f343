"""The runs as walked: where each begins and ends on the ground, in inches, x to the right and y away.

Which runs meet is the layout's finding (`lists.channels`), and the corners' turns are those the pieces were
made with. A length nobody knows is drawn as closure tells it, or at a middling length, and marked so.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field
from statistics import median
from typing import TYPE_CHECKING, Literal

from gutterance.checking.places import building, facing, position
from gutterance.checking.rings import turn_of

if TYPE_CHECKING:
    from gutterance.lists.models import Lists, Piece
    from gutterance.measure.length import Length
    from gutterance.render.drawing.scene import Point
    from gutterance.sheet.models import Reading, Run, Sheet
    from gutterance.sheet.values import End

MIDDLING = 240.0
"""How long a run is drawn where no length of the job is known [in]."""
_LONGEST = 1e7
Turned = Literal["outside", "inside", "free", "wall", "splice", "unknown"]


@dataclass(slots=True)
class DrawnRun:
    """A run on the ground. `length` is None where there is none to draw; `drawn` is what is drawn [in]."""

    run: Run
    length: Length | None
    doubtful: bool
    drawn: float
    left: Turned
    right: Turned
    left_turn: float
    right_turn: float
    heading: float = 0.0
    start: Point = (0.0, 0.0)
    held: bool = False

    @property
    def known(self) -> bool:
        return self.length is not None

    @property
    def along(self) -> Point:
        """The step of one inch along it, as the walk goes."""
        return math.cos(math.radians(self.heading)), math.sin(math.radians(self.heading))

    @property
    def end(self) -> Point:
        return self.at(self.drawn)

    def at(self, inches: float) -> Point:
        """The place so far from its left end."""
        x, y = self.along
        return self.start[0] + x * inches, self.start[1] + y * inches


@dataclass(slots=True)
class Chain:
    """Runs that meet, in walking order. `gap` is how far the end of a loop is from its start [in]."""

    runs: list[DrawnRun]
    loop: bool
    gap: float | None = None
    by_name: bool = field(default=False)
    """Whether it is turned by what its runs are called."""

    @property
    def storey(self) -> str:
        return (self.runs[0].run.storey or "").strip()

    @property
    def building(self) -> str:
        return building(self.runs[0].run)

    @property
    def side(self) -> int | None:
        """Which side of its building a lone run stands on: 0 front, 1 right, 2 back, 3 left."""
        at = position(self.runs[0].run) if len(self.runs) == 1 else None
        return None if at is None else at.turn


def walk_round(sheet: Sheet, lists: Lists) -> list[Chain]:
    """Every chain and loop of the house, each from its own start, turned so that the front faces down."""
    runs: defaultdict[str, list[Run]] = defaultdict(list)
    for run in sheet.runs:
        runs[run.id].append(run)
    pieces: defaultdict[str, list[Piece]] = defaultdict(list)
    for piece in lists.pieces:
        pieces[piece.run].append(piece)
    known = [_inches(run) for run in sheet.runs]
    usual = median([one for one in known if one is not None] or [MIDDLING])
    chains = []
    for channel in lists.channels:
        drawn = [_drawn(runs[one].pop(0), pieces[one], usual) for one in channel.runs if runs[one]]
        if drawn:
            chains.append(_chain(drawn, channel.loop))
    return chains


def _inches(run: Run) -> float | None:
    if run.length is None or run.length.value is None:
        return None
    inches = float(run.length.value.inches)
    return inches if 0 < inches < _LONGEST else None


def _drawn(run: Run, pieces: list[Piece], usual: float) -> DrawnRun:
    inches = _inches(run)
    reading = run.length
    left, left_turn = _end(run.left_end, run.left_angle, pieces[0] if pieces else None, "left")
    right, right_turn = _end(run.right_end, run.right_angle, pieces[-1] if pieces else None, "right")
    return DrawnRun(
        run=run,
        length=reading.value if reading is not None and inches is not None else None,
        doubtful=reading is not None and not reading.settled,
        drawn=usual if inches is None else inches,
        left=left,
        right=right,
        left_turn=left_turn,
        right_turn=right_turn,
        held=any(piece.hold for piece in pieces),
    )


def _end(
    said: Reading[End] | None, angle: Reading[float] | None, piece: Piece | None, side: str
) -> tuple[Turned, float]:
    """What an end is, and by how much the walk turns there [degrees, left positive]."""
    if piece is not None:
        made = piece.left if side == "left" else piece.right
        degrees = float((piece.left_angle if side == "left" else piece.right_angle) or 90)
        if made.startswith("outside"):
            return "outside", degrees
        if made.startswith("inside"):
            return "inside", -degrees
    if said is None or said.value is None:
        return "unknown", 0.0
    if said.value in ("end cap", "wall", "splice"):
        return {"end cap": "free", "wall": "wall", "splice": "splice"}[said.value], 0.0  # type: ignore[return-value]
    turn = turn_of(said.value, angle.value if angle is not None else None)
    kind: Turned = "outside" if said.value == "outside corner" else "inside"
    return kind, float(turn) if turn is not None else (90.0 if kind == "outside" else -90.0)


def _chain(runs: list[DrawnRun], loop: bool) -> Chain:
    chain = Chain(runs, loop)
    heading = 0.0
    for one in runs:
        one.heading = heading
        heading += one.right_turn
    off = _turned_by_names(runs)
    chain.by_name = off is not None
    for one in runs:
        one.heading = (one.heading + (off or 0.0)) % 360.0
    if loop:
        _infer_lengths(runs)
    here = (0.0, 0.0)
    for one in runs:
        one.start = here
        here = one.end
    if loop:
        chain.gap = math.hypot(here[0] - runs[0].start[0], here[1] - runs[0].start[1])
    return chain


def _turned_by_names(runs: list[DrawnRun]) -> float | None:
    """By how much to turn the walk so that its runs face as they are named [degrees]; None if none is named.

    The most feet of gutter decide: the slanted sides of a bay are called left and right too. `front left`,
    a part of a side, counts half.
    """
    feet: defaultdict[float, float] = defaultdict(float)
    for one in runs:
        plain = position(one.run)
        at = plain or facing(one.run)
        if at is not None:
            feet[round(at.turn * 90.0 - one.heading, 1) % 360.0] += one.drawn * (1.0 if plain else 0.5)
    return max(feet, key=lambda off: feet[off]) if feet else None


def _infer_lengths(runs: list[DrawnRun]) -> None:
    """Draw one unknown run of a loop, or two that are not parallel, as long as closes the walk."""
    unknown = [one for one in runs if not one.known]
    x = sum(one.along[0] * one.drawn for one in runs if one.known)
    y = sum(one.along[1] * one.drawn for one in runs if one.known)
    if len(unknown) == 1:
        part = -(x * unknown[0].along[0] + y * unknown[0].along[1])
        if part > 0:
            unknown[0].drawn = part
    elif len(unknown) == 2:
        (ax, ay), (bx, by) = unknown[0].along, unknown[1].along
        cross = ax * by - ay * bx
        if abs(cross) > 0.01:
            first, second = (-x * by + y * bx) / cross, (-y * ax + x * ay) / cross
            if first > 0 and second > 0:
                unknown[0].drawn, unknown[1].drawn = first, second

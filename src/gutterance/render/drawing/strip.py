"""An elevation strip for each run, as the installer faces it: fascia, gutter with its fall, hangers, outlets.

Marks count from the run's left end as measured. Along the run it is to scale; the fall is drawn steeper
than it is, or it could not be seen.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.render.drawing import symbols
from gutterance.render.drawing.scene import EM, Line, Point, Scene, Shape, Text, folded, shown, text_width
from gutterance.render.plain import short, tape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.lists.models import Fall, Hangers, Lists, Piece
    from gutterance.measure.length import Length

SIZE, _HEAD = 9.0, 13.0
_FEW = 4
"""Hangers of a run that is short."""
_TURNED = 8.5
_PITCH = 11.0
"""The least room between two marks whose numbers stand upright [pt]."""
_SIDE = 26.0
_DEPTH = 9.0
_STEEP = 16.0
_TICK, _LINE = 14.0, 16.0
"""From the fascia's line up to its numbers; from the numbers below the gutter to the lines of words [pt]."""


@dataclass(slots=True)
class _Run:
    """What one strip tells."""

    run: str
    name: str
    length: Length | None
    pieces: list[Piece]
    falls: list[Fall] = field(default_factory=list)
    hangers: Hangers | None = None

    @property
    def inches(self) -> float:
        """How long it is drawn [in]: as measured, else as far as any mark reaches."""
        places = [float(fall.at.inches) for fall in self.falls if fall.at is not None]
        if self.hangers is not None:
            places += [float(at.inches) for at in self.hangers.at]
        if self.length is not None and self.length.inches > 0:
            places.append(float(self.length.inches))
        return max(places, default=0.0)


def strips(
    lists: Lists, lengths: dict[str, Length | None], width: float = 720.0, narrow: float | None = None
) -> list[tuple[str, Scene]]:
    """Each run's id with its strip, in the order of the stretches. `lengths`: as measured, by run.

    Where `narrow` [pt] is given, a short run's strip is no wider than that.
    """
    out = []
    done: set[str] = set()
    for channel in lists.channels:
        for run in channel.runs:
            if run in done:
                continue
            done.add(run)
            pieces = [one for one in lists.pieces if one.run == run]
            falls = [one for one in lists.falls if one.run == run]
            hangers = next((one for one in lists.hangers if one.run == run), None)
            name = pieces[0].run_name if pieces and pieces[0].run_name else run
            one = _Run(run, name, lengths.get(run), pieces, falls, hangers)
            fits = narrow is not None and _fits(one, narrow)
            out.append((run, _strip(one, narrow if narrow is not None and fits else width)))
    return out


def _fits(run: _Run, width: float) -> bool:
    """Whether a run is short enough for a narrow strip: few hangers, and no words wider than it."""
    few = run.hangers is None or len(run.hangers.at) <= _FEW
    places = [text_width(f"{fall.what}: {tape(fall.at)}, low 00 00/00", SIZE) for fall in run.falls]
    held = any(piece.hold for piece in run.pieces)
    return few and not held and max([text_width(_head(run), _HEAD), *places]) <= width


def _head(run: _Run) -> str:
    head = folded(run.name, 44, 1)
    long = tape(run.length) if run.length is not None else "length ?"
    return f"{head[0] if head else run.run}   {long}"


def _strip(run: _Run, width: float) -> Scene:
    """One strip; a run with many hangers is cut into rows, so that every number stays readable."""
    scene = Scene(width, 0.0, title=shown(run.name))
    held = any(piece.hold for piece in run.pieces)
    scene.add(Text((0, 13), _head(run), _HEAD, True))
    if held:
        scene.add(Text((width, 13), "ON HOLD", 13, True, "end"))
    total = run.inches
    if total <= 0:
        scene.add(Text((0, 30), "Nothing to mark: its length is not known.", SIZE))
        scene.height = 40.0
        return scene
    count = len(run.hangers.at) if run.hangers is not None else 0
    rows = max(1, -(-count * int(_PITCH) // int(width - 2 * _SIDE)))
    top = 20.0
    for row in range(rows):
        top = _Row(run, scene, total * row / rows, total * (row + 1) / rows, top).draw(row, rows)
    spacing = run.hangers.spacing if run.hangers is not None else None
    if run.hangers is not None and run.hangers.count is not None:
        gap = f", none wider apart than {short(spacing)}" if spacing is not None else ""
        words = f"{run.hangers.count} hangers{gap}. Above: from the left end. Below: how low."
    else:
        words = "Hangers: not known yet."
    for line in folded(words, int(width / (SIZE * EM)), 3):
        scene.add(Text((0, top + 9), line, SIZE))
        top += SIZE * 1.3
    scene.height = top + 3
    return scene


@dataclass(slots=True)
class _Row:
    """A part of a run on one line of the paper, from `first` to `last` [in] of the run."""

    run: _Run
    scene: Scene
    first: float
    last: float
    top: float

    def draw(self, row: int, rows: int) -> float:
        """Draw it; where the next one may begin [pt]."""
        marks = self._marks()
        base = self.top + _TICK + max((text_width(tape(at), _TURNED) for at, _ in marks), default=0.0)
        left, right = self._x(self.first), self._x(self.last)
        self.scene.add(Line(((left, base), (right, base)), 0.8, 3.0))  # the fascia's line
        lip = [(x, base + 4 + low) for x, low in self._profile()]
        foot = [(x, y + _DEPTH) for x, y in reversed(lip)]
        self.scene.add(Shape((*lip, *foot), "white", 1.4, "black"))
        deepest = max(y for _, y in foot)
        self._hangers(base, deepest)
        below = max((text_width(short(low), _TURNED) for _, low in marks if low is not None), default=0.0)
        bottom = self._places(deepest, deepest + below + _LINE)
        if row == 0:
            self._end(self.run.pieces[0].left if self.run.pieces else "unknown", left, lip[0][1], -1)
        if row + 1 == rows:
            self._end(self.run.pieces[-1].right if self.run.pieces else "unknown", right, lip[-1][1], 1)
        return bottom

    def _x(self, inches: float) -> float:
        part = (inches - self.first) / (self.last - self.first)
        return _SIDE + (self.scene.width - 2 * _SIDE) * part

    def _within(self, at: Length | None) -> bool:
        if at is None:
            return False
        return self.first <= float(at.inches) < self.last or (
            self.last >= self.run.inches and at.inches >= self.last
        )

    def _profile(self) -> list[Point]:
        """The gutter's lip: how far down at each place where its fall changes."""
        known = sorted(
            (float(fall.at.inches), float(fall.below_high_point.inches))
            for fall in self.run.falls
            if fall.at is not None and fall.below_high_point is not None
        )
        most = max((low for _, low in known), default=0.0)
        steep = _STEEP / most if most > 0 else 0.0
        if not known:
            return [(self._x(self.first), 0.0), (self._x(self.last), 0.0)]
        inner = [(at, low) for at, low in known if self.first < at < self.last]
        ends = [(self.first, _between(known, self.first)), (self.last, _between(known, self.last))]
        return [(self._x(at), low * steep) for at, low in sorted([*inner, *ends])]

    def _marks(self) -> list[tuple[Length, Length | None]]:
        """Its hangers: where, and how low."""
        hangers = self.run.hangers
        if hangers is None:
            return []
        return [mark for mark in zip(hangers.at, hangers.below, strict=True) if self._within(mark[0])]

    def _hangers(self, base: float, deepest: float) -> None:
        last = -1e9
        for at, below in self._marks():
            x = self._x(float(at.inches))
            words = max(x, last + _PITCH * 0.86)  # two marks close together: the number steps aside
            last = words
            self.scene.add(Line(((words, base - 8), (x, base - 2), (x, base + 5)), 0.9))
            self.scene.add(Text((words + 3, base - 10), tape(at), _TURNED, False, "start", True))
            if below is not None:
                self.scene.add(Text((words + 3, deepest + 4), short(below), _TURNED, False, "end", True))

    def _places(self, deepest: float, top: float) -> float:
        """Outlets, high points, ends and laps below the strip, in as many lines as keep them apart."""
        ends: list[float] = []
        for fall in sorted(self.run.falls, key=lambda one: one.at.inches if one.at is not None else 0):
            if fall.at is None or not self._within(fall.at):
                continue
            x = self._x(float(fall.at.inches))
            low = "" if fall.below_high_point is None else f", low {short(fall.below_high_point)}"
            words = shown(f"{fall.what}: {tape(fall.at)}{low}") + (" ?" if fall.hold else "")
            words = folded(words, int((self.scene.width - 8) / (SIZE * 0.602)), 1)[0]
            long = text_width(words, SIZE)
            start = min(max(x - long / 2, 0.0), self.scene.width - long)
            line = next((n for n, end in enumerate(ends) if end + 8 < start), len(ends))
            ends[line : line + 1] = [start + long]
            bold = fall.what.startswith("outlet")
            self.scene.add(Text((start, top + line * SIZE * 1.3), words, SIZE, bold))
            if bold:
                self.scene.add(*symbols.outlet((x, deepest - _DEPTH / 2 - 1), (0, 1), known=True, pipe=False))
            elif fall.what == "high point":
                self.scene.add(*symbols.high_point((x, deepest - _STEEP - _DEPTH), (0, -1)))
        return top + max(len(ends) - 1, 0) * SIZE * 1.3 + 5

    def _end(self, end: str, x: float, lip: float, way: int) -> None:
        """A word beside each end, short enough for the paper's margin."""
        words = {"end cap": "cap", "wall": "wall", "lap": "lap", "unknown": "?"}.get(end)
        words = words or (
            "out" if end.startswith("outside") else "in" if end.startswith("inside") else "joint"
        )
        self.scene.add(Line(((x, lip - 3), (x, lip + _DEPTH + 3)), 2.2))
        self.scene.add(Text((x + way * 4, lip + 9), words, SIZE, True, "start" if way > 0 else "end"))


def _between(known: Sequence[tuple[float, float]], at: float) -> float:
    """How low it is at a place, on the straight line between the two known places round it."""
    for (one, low), (other, lower) in pairwise(known):
        if one <= at <= other:
            return low if other == one else low + (lower - low) * (at - one) / (other - one)
    return known[0][1] if at < known[0][0] else known[-1][1]

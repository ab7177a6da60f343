"""The plan as a DXF: fascia lines where they were walked, at true scale, with all that stands on the plan.

Chains that do not meet, and storeys, stand apart; how far apart they are was not measured.
"""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.render.drawing.arranging import blocks_of
from gutterance.render.drawing.plan import outlet_place
from gutterance.render.drawing.scene import folded
from gutterance.render.drawing.walk_round import walk_round
from gutterance.render.dxf.paper import DrawingFile
from gutterance.render.plain import short, tape
from gutterance.render.sheet_code import sheet_code

if TYPE_CHECKING:
    from gutterance.lists.models import Fall, Lists, Piece
    from gutterance.render.drawing.arranging import Block
    from gutterance.render.drawing.scene import Point
    from gutterance.render.drawing.walk_round import Chain, DrawnRun
    from gutterance.render.dxf.paper import LayerName
    from gutterance.sheet.models import Outlet, Sheet

_BETWEEN = 240.0
"""What is left between two parts that do not meet [in]."""
_OUTLET = 3.0
_PIPE = 3.0
_CORNER = 2.5
_CLOSED = 0.5


def plan_dxf(lists: Lists, sheet: Sheet) -> bytes:
    """The plan as a DXF file (R2010, UTF-8), in inches, or in millimetres on a metric job."""
    file = DrawingFile(metric=lists.units == "metric")
    plan = _Plan(lists, sheet, file)
    floor = 0.0
    storeys = blocks_of(walk_round(sheet, lists))
    for name, blocks in storeys:
        floor = plan.storey(name if name or len(storeys) == 1 else "storey not said", blocks, floor)
    plan.notes(floor - _BETWEEN / 2)
    return file.content()


class _Plan:
    def __init__(self, lists: Lists, sheet: Sheet, file: DrawingFile) -> None:
        self.lists = lists
        self.sheet = sheet
        self.file = file
        self.apart = False
        self.falls: defaultdict[str, list[Fall]] = defaultdict(list)
        self.pieces: defaultdict[str, list[Piece]] = defaultdict(list)
        for fall in lists.falls:
            self.falls[fall.run].append(fall)
        for piece in lists.pieces:
            self.pieces[piece.run].append(piece)
        longest = max((run.drawn for chain in walk_round(sheet, lists) for run in chain.runs), default=0.0)
        self.high = min(max(longest / 80, 4.0), 24.0)
        """How high text is drawn [in]."""

    def storey(self, name: str, blocks: list[Block], top: float) -> float:
        """Its parts side by side below `top`; how far down it goes."""
        self.apart = self.apart or len(blocks) > 1 or any(block.apart for block in blocks)
        left, low = 0.0, top
        if name:
            self.file.line_of_words("Notes", name.upper(), (0.0, top - 2 * self.high), self.high * 1.5)
            top -= 4 * self.high
        for block in blocks:
            room = block.bounds()
            down = top - 10 * self.high - (room.bottom - room.top)
            for chain, (dx, dy) in zip(block.chains, block.offsets, strict=True):
                self._chain(chain, (left - room.left + dx, down - room.top + dy))
            low = min(low, down)
            left += room.width + _BETWEEN
        return low - 10 * self.high

    def _chain(self, chain: Chain, by: Point) -> None:
        runs = [_Standing(run, by) for run in chain.runs]
        for number, run in enumerate(runs):
            self._run(run)
            if chain.loop or number + 1 < len(runs):
                self._corner(run.at(run.run.drawn), run.run.right)
            else:
                self._end(run, "right")
        if not chain.loop:
            self._end(runs[0], "left")
        elif chain.gap is not None and chain.gap > _CLOSED:
            self.file.line("Walls do not meet", runs[-1].at(runs[-1].run.drawn), runs[0].at(0.0))

    def _corner(self, at: Point, kind: str) -> None:
        layers: dict[str, LayerName] = {"outside": "Outside corners", "inside": "Inside corners"}
        if kind in layers:
            x, y = at
            half = _CORNER
            self.file.outline(
                layers[kind],
                [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)],
            )

    def _end(self, run: _Standing, side: str) -> None:
        kind = run.run.left if side == "left" else run.run.right
        place = 0.0 if side == "left" else run.run.drawn
        if kind in ("outside", "inside"):
            self._corner(run.at(place), kind)
        elif kind == "unknown":
            self.file.circle("Ends not known", run.at(place), _CORNER)
        elif kind != "splice":
            layer: LayerName = "End caps" if kind == "free" else "Ends at walls"
            self.file.line(layer, run.at(place, -_CORNER), run.at(place, 2 * _CORNER))

    def _run(self, run: _Standing) -> None:
        one, high = run.run, self.high
        self.file.line("Gutter" if one.known else "Gutter length not known", run.at(0.0), run.at(one.drawn))
        middle = one.drawn / 2
        self._words("Names", one.run.name or one.run.id, run, middle, -3.4 * high)
        length = tape(one.length) if one.length is not None else "length ?"
        doubt = " ?" if one.doubtful and one.known else ""
        self._words("Lengths", length + doubt, run, middle, -1.8 * high, 1.2)
        if one.held:
            self._words("On hold", "ON HOLD", run, middle, -5.0 * high)
        for outlet in self.sheet.outlets_of(one.run.id):
            self._outlet(run, outlet)
        self._fall(run)
        self._laps(run)
        for number, caution in enumerate(self.lists.cautions, start=1):
            if caution.about == one.run.id and (caution.source or "").startswith("the note"):
                at = -(5.0 + 1.6 * number) * high
                self._words("Hazards", f"! {caution.says}", run, middle, at)

    def _words(
        self, layer: LayerName, words: str, run: _Standing, along: float, off: float, size: float = 1.0
    ) -> None:
        self.file.text(layer, words, run.at(along, off), self.high * size, run.run.heading)

    def _outlet(self, run: _Standing, outlet: Outlet) -> None:
        place = outlet_place(outlet.id, self.falls[run.run.run.id], self.pieces[run.run.run.id])
        known = place is not None
        at = place if place is not None else run.run.drawn / 2
        self.file.circle("Outlets" if known else "Outlets place not known", run.at(at), _OUTLET)
        says = outlet.id if known else f"{outlet.id} place ?"
        self._words("Names", says, run, _within(run, at, 3 * self.high), 1.4 * self.high, 0.7)
        for pipe in self.sheet.downpipes:
            if pipe.outlet != outlet.id or not known:
                continue
            reach = pipe.wall_to_fascia.value if pipe.wall_to_fascia is not None else None
            if reach is None:
                self._words("Notes", "downpipe: wall to fascia ?", run, at, 2.4 * self.high, 0.7)
                continue
            back = float(reach.inches)
            self.file.line("Downpipes", run.at(at), run.at(at, back))
            corners = ((-_PIPE / 2, 0.0), (_PIPE / 2, 0.0), (_PIPE / 2, -_PIPE), (-_PIPE / 2, -_PIPE))
            self.file.outline("Downpipes", [run.at(at + along, back + off) for along, off in corners])

    def _fall(self, run: _Standing) -> None:
        """An arrow for each leg, where the water goes, and how low it is at its ends."""
        points = [
            (float(one.at.inches), one.below_high_point, one.what)
            for one in self.falls[run.run.run.id]
            if one.at is not None and one.below_high_point is not None
        ]
        points.sort(key=lambda one: one[0])
        # an outlet tells for the end beside it, so that no words lie over others
        outlets = [at for at, _, what in points if what.startswith("outlet ")]
        for at, low, what in points:
            if what == "high point":
                self.file.outline("High points", [run.at(at - 3), run.at(at + 3), run.at(at, 6)])
            if what.startswith("outlet ") or not any(abs(at - other) < 6 * self.high for other in outlets):
                says = f"low {short(low)}" if low.inches else "high"
                self._words("Falls", says, run, _within(run, at, 3 * self.high), 3.4 * self.high, 0.7)
        turning = [one for one in points if one[2] not in ("lap", "expansion joint")]
        for (a, high, _), (b, low, _) in pairwise(turning):
            if low.inches != high.inches:
                self._arrow(run, *((a, b) if low.inches > high.inches else (b, a)))

    def _arrow(self, run: _Standing, start: float, end: float) -> None:
        span = end - start
        start, end = start + 0.3 * span, end - 0.3 * span
        off, head = 2.2 * self.high, math.copysign(min(self.high, abs(span) / 8), span)
        self.file.line("Falls", run.at(start, off), run.at(end, off))
        tip = [
            run.at(end, off),
            run.at(end - head, off + abs(head) / 3),
            run.at(end - head, off - abs(head) / 3),
        ]
        self.file.outline("Falls", tip)

    def _laps(self, run: _Standing) -> None:
        for piece, after in pairwise(self.pieces[run.run.run.id]):
            if piece.right not in ("lap", "expansion joint") or after.starts_at is None:
                continue
            layer: LayerName = "Laps" if piece.right == "lap" else "Expansion joints"
            at = float(after.starts_at.inches)
            for place in (at - 1, at + 1):
                self.file.line(layer, run.at(place, -4), run.at(place, 4))
            says = f"{piece.right} {tape(after.starts_at)} from left"
            self._words(layer, says, run, at, -1.8 * self.high, 0.7)

    def notes(self, top: float) -> None:
        """Job, code and what the drawing does not know, below it."""
        metric = self.lists.units == "metric"
        lines = [
            *folded(self.lists.title or "", 100, 4),
            f"sheet {sheet_code(self.sheet, self.lists)}, {self.lists.made_by or ''}",
            f"True scale in {'millimetres' if metric else 'inches'}, along the fascia as measured.",
            "Left and right as seen from the ground, facing the wall.",
        ]
        if self.apart:
            lines.append("Parts that do not meet stand apart: how far apart they are was not measured.")
        if not self.sheet.runs:
            lines.append("No run on the sheet, so no plan.")
        for number, words in enumerate(lines):
            self.file.line_of_words("Notes", words, (0.0, top - number * 1.8 * self.high), self.high)


def _within(run: _Standing, along: float, clear: float) -> float:
    """A place for words, so far clear of the run's ends."""
    return min(max(along, clear), max(run.run.drawn - clear, run.run.drawn / 2))


class _Standing:
    """A run where it stands in the drawing."""

    def __init__(self, run: DrawnRun, by: Point) -> None:
        self.run = run
        self._by = by

    def at(self, along: float, inward: float = 0.0) -> Point:
        """A place so far from its left end, and so far towards the house [in]."""
        x, y = self.run.along
        here = self.run.at(along)
        return here[0] + self._by[0] - y * inward, here[1] + self._by[1] + x * inward

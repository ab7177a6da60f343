"""The plan of the house from above: runs to scale, corners, outlets, downpipes, falls, laps and dangers."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.checking.places import position
from gutterance.render.drawing import symbols
from gutterance.render.drawing.arranging import StandingRun, Storey, arrange, blocks_of
from gutterance.render.drawing.labels import Placed, Placer, Wanted
from gutterance.render.drawing.plan_key import key_marks
from gutterance.render.drawing.scene import LEADING, Box, Line, Mark, Point, Scene, Text, folded, moved, shown
from gutterance.render.drawing.symbols import moved_by
from gutterance.render.drawing.walk_round import DrawnRun, walk_round
from gutterance.render.plain import short, tape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.lists.models import Caution, Fall, Lists, Piece
    from gutterance.sheet.models import Sheet

BIG, SMALL = 11.0, 9.5
_NAME_CELLS = 22
_ARROW_OFF = 9.0
_LEAST_ARROW = 26.0
_MARGIN = 8.0
_SAME_SPOT = 1.0
_BY_OUTLET, _SHORT = 18.0, 48.0
_TRIES = 3
_GROW = 1.3
_TOO_FAR = 105.0
"""A leader longer than this [pt] says that the walls are drawn too small for what is to be told of them."""


def draw_plan(lists: Lists, sheet: Sheet, width: float = 720.0, height: float = 520.0) -> Scene:
    """The whole plan [pt]: storey below storey, each with its own key."""
    scenes = plan_by_storey(lists, sheet, width, height)
    whole = stacked(scenes)
    whole.title = f"Plan {shown(lists.title or '')}".strip()
    return whole


def plan_by_storey(
    lists: Lists, sheet: Sheet, width: float = 720.0, height: float = 520.0, tries: int = _TRIES
) -> list[Scene]:
    """A drawing for each storey, about `width` by `height` [pt], larger where its labels need that.

    `tries` bounds how often it is drawn larger: on a page it is made smaller again, its words too.
    """
    storeys = blocks_of(walk_round(sheet, lists))
    if not storeys:
        scene = Scene(width, 40.0)
        scene.add(Text((_MARGIN, 24), "No run on the sheet, so no plan.", BIG))
        return [scene]
    scenes = []
    for name, blocks in storeys:
        title = shown(name).upper() if name else "STOREY NOT SAID" if len(storeys) > 1 else ""
        wide, tall = width - 2 * _MARGIN, height
        for _ in range(tries):
            plan = _Plan(lists, sheet)
            plan.storey(arrange(name, blocks, wide, tall))
            scene, crowded = plan.scene(title, width)
            if not crowded:
                break
            wide, tall = wide * _GROW, tall * _GROW
        scenes.append(scene)
    return scenes


def stacked(scenes: Sequence[Scene], gap: float = 10.0) -> Scene:
    """Drawings one below the other on one sheet."""
    whole = Scene(max((one.width for one in scenes), default=1.0), 0.0)
    for one in scenes:
        whole.add(*(moved(mark, (0.0, whole.height)) for mark in one.marks))
        whole.labels += [
            Box(box.left, box.top + whole.height, box.right, box.bottom + whole.height) for box in one.labels
        ]
        whole.height += one.height + gap
    return whole


@dataclass(slots=True)
class _Plan:
    """The marks of all runs, then their labels, then the key."""

    lists: Lists
    sheet: Sheet
    walls: list[tuple[Point, Point]] = field(default_factory=list)
    under: list[Mark] = field(default_factory=list)
    over: list[Mark] = field(default_factory=list)
    rooms: list[Box] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)
    falls: defaultdict[str, list[Fall]] = field(default_factory=lambda: defaultdict(list))
    pieces: defaultdict[str, list[Piece]] = field(default_factory=lambda: defaultdict(list))
    dangers: list[Caution] = field(default_factory=list)
    used: set[str] = field(default_factory=set)
    storeys_apart: bool = False
    drawn: set[str] = field(default_factory=set)
    told: list[Point] = field(default_factory=list)
    lows: list[tuple[Point, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        for fall in self.lists.falls:
            self.falls[fall.run].append(fall)
        for piece in self.lists.pieces:
            self.pieces[piece.run].append(piece)
        self.dangers = [one for one in self.lists.cautions if (one.source or "").startswith("the note")]

    def storey(self, storey: Storey) -> None:
        self.storeys_apart = self.storeys_apart or storey.apart
        for chain in storey.chains:
            for number, run in enumerate(chain.runs):
                self._wall(run)
                joined = chain.chain.loop or number + 1 < len(chain.runs)
                self._ends(run, first=number == 0 and not chain.chain.loop, joined=joined)
            if chain.chain.loop:
                self._gap(chain.runs[-1].end, chain.runs[0].start)
        runs = [run for chain in storey.chains for run in chain.runs]
        self.told += [at for run in runs if _is_short(run) for at in (run.start, run.end)]
        for run in runs:
            self._outlets(run, (-run.inward[0], -run.inward[1]))
        for run in runs:
            self._run(run)

    def _symbol(self, marks: list[Mark]) -> None:
        if marks:
            self.over += marks
            self.rooms.append(symbols.room_of(marks))

    def _wall(self, run: StandingRun) -> None:
        self.walls.append((run.start, run.end))
        known = run.run.known
        self.under.append(Line((run.start, run.end), 3.0 if known else 2.0, 0.0 if known else 7.0))
        if not known:
            self.used.add("unknown")

    def _ends(self, run: StandingRun, *, first: bool, joined: bool) -> None:
        one = run.run
        if first:
            self._end(run, run.start, "left")
        if joined:
            self._symbol(symbols.corner(run.end, one.right))
            self.used.add(one.right)
        else:
            self._end(run, run.end, "right")

    def _end(self, run: StandingRun, at: Point, side: str) -> None:
        """A free end, or a corner beyond which nothing is known to follow."""
        one = run.run
        kind = one.left if side == "left" else one.right
        x, y = one.along
        along = (-x, y) if side == "left" else (x, -y)
        self.used.add("unknown end" if kind in ("unknown", "splice") else kind)
        if kind in ("outside", "inside"):
            self._symbol(symbols.corner(at, kind))
        else:
            self._symbol(symbols.free_end(at, run.inward, along, "unknown" if kind == "splice" else kind))

    def _gap(self, end: Point, start: Point) -> None:
        """The walls as measured do not meet: a dotted line across what is left open."""
        if abs(end[0] - start[0]) + abs(end[1] - start[1]) > 4.0:
            self.under.append(Line((end, start), 1.2, 2.0, "red"))
            self.walls.append((end, start))
            self.used.add("gap")
            middle = (end[0] + start[0]) / 2, (end[1] + start[1]) / 2
            self.wanted.append(Wanted([("does not close", SMALL, True)], [middle], weight=4))

    def _run(self, run: StandingRun) -> None:
        one = run.run
        self.drawn.add(one.run.id)
        outward = -run.inward[0], -run.inward[1]
        fall = sorted(
            (f for f in self.falls[one.run.id] if f.at is not None), key=lambda f: f.at.inches if f.at else 0
        )
        self._danger(run, outward)
        self._name(run, outward)
        for point in fall:
            at = run.at(float(point.at.inches)) if point.at is not None else run.start
            if point.what == "high point":
                self._symbol(symbols.high_point(at, run.inward))
                self.used.add("high point")
                below = point.below_high_point
                low = "" if below is None or not below.inches else f" low {short(below)}"
                self.wanted.append(
                    Wanted([(f"HIGH{low}", SMALL, True)], [moved_by(at, run.inward, 9)], run.inward, 2)
                )
            elif point.what in ("left end", "right end"):
                self._low(at, point, run)
        self._arrows(run, fall)
        self._laps(run)

    def _low(self, at: Point, point: Fall, run: StandingRun) -> None:
        """How low the gutter is at an end; once for the two runs that meet there."""
        if point.below_high_point is None:
            return
        says = f"low {short(point.below_high_point)}" if point.below_high_point.inches else "high end"
        angle = run.run.left_turn if point.what == "left end" else run.run.right_turn
        if abs(angle) not in (0.0, 90.0):
            says = f"{abs(angle):g}° {says}"
        if any(abs(at[0] - x) + abs(at[1] - y) < _BY_OUTLET for x, y in self.told):
            return  # the outlet beside it tells how low the gutter is there
        if any(was == says and abs(at[0] - x) + abs(at[1] - y) < _SAME_SPOT for (x, y), was in self.lows):
            return
        self.lows.append((at, says))
        x, y = run.run.along
        back = (-x, y) if point.what == "right end" else (x, -y)
        toward = run.inward[0] + back[0], run.inward[1] + back[1]
        self.wanted.append(Wanted([(says, SMALL, False)], [at], toward, 1))

    def _danger(self, run: StandingRun, outward: Point) -> None:
        for number, one in enumerate(self.dangers, start=1):
            if one.about == run.run.run.id:
                middle = run.at(run.run.drawn * 0.5 + number)
                marks = symbols.danger(moved_by(middle, outward, 16 + 10 * abs(outward[0])), number)
                while any(room.overlaps(symbols.room_of(marks)) for room in self.rooms):
                    marks = [moved(mark, (outward[0] * 9 or 5, outward[1] * 9)) for mark in marks]
                self._symbol(marks)
                self.used.add("danger")

    def _name(self, run: StandingRun, outward: Point) -> None:
        one = run.run
        lines = [(line, BIG, False) for line in folded(one.run.name or one.run.id, _NAME_CELLS)]
        size = tape(one.length) if one.length is not None else "length ?"
        lines.append((size + (" ?" if one.doubtful and one.known else ""), BIG + 2, True))
        if one.held:
            lines.append(("ON HOLD", SMALL, True))
        if _is_short(run):
            lines += [(words, SMALL, False) for words in self._both_ends(one)]
        middles = [run.at(one.drawn * part) for part in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)]
        anchors = [moved_by(at, outward, 3) for at in middles]
        # long walls first: a short one between them can be told from a little further off
        self.wanted.append(Wanted(lines, anchors, outward, 3 if _is_short(run) else 5))

    def _both_ends(self, run: DrawnRun) -> list[str]:
        """Of a run too short for labels at its corners: how low it is from left to right, and its angles."""
        low = {
            fall.what: fall.below_high_point
            for fall in self.falls[run.run.id]
            if fall.below_high_point is not None
        }
        says = []
        if "left end" in low and "right end" in low:
            says.append(f"low {short(low['left end'])} to {short(low['right end'])}")
        angles = [abs(angle) for angle in (run.left_turn, run.right_turn)]
        if any(angle not in (0.0, 90.0) for angle in angles):
            says.append(f"{angles[0]:g}° and {angles[1]:g}°")
        return says

    def _outlets(self, run: StandingRun, outward: Point) -> None:
        lows = {
            f.what.removeprefix("outlet "): f
            for f in self.falls[run.run.run.id]
            if f.what.startswith("outlet ")
        }
        for outlet in self.sheet.outlets_of(run.run.run.id):
            place = outlet_place(outlet.id, self.falls[run.run.run.id], self.pieces[run.run.run.id])
            at = run.at(place if place is not None else run.run.drawn * _guess(outlet.from_))
            pipes = [one for one in self.lists.downpipes if one.outlet == outlet.id]
            self._symbol(symbols.outlet(at, run.inward, known=place is not None, pipe=bool(pipes)))
            self.used.add("outlet")
            if pipes:
                self.used.add("downpipe")
            fall = lows.get(outlet.id)
            lines = [(line, SMALL, True) for line in folded(outlet.id, _NAME_CELLS)]
            if fall is not None and fall.below_high_point is not None:
                lines.append((f"low {short(fall.below_high_point)}", SMALL, False))
                self.told.append(at)
            if place is None:
                lines.append(("place ?", SMALL, True))
            if any(pipe.hold for pipe in pipes):
                lines.append(("pipe ON HOLD", SMALL, True))
            self.wanted.append(Wanted(lines, [moved_by(at, outward, 5)], outward, 4))

    def _arrows(self, run: StandingRun, falls: list[Fall]) -> None:
        """One arrow a leg, on the house side, from the higher place to the lower."""
        turning = [f for f in falls if f.what not in ("lap", "expansion joint")]
        for one, other in pairwise(turning):
            if (
                one.at is None
                or other.at is None
                or one.below_high_point is None
                or other.below_high_point is None
            ):
                continue
            if one.below_high_point.inches == other.below_high_point.inches:
                continue
            a, b = run.at(float(one.at.inches)), run.at(float(other.at.inches))
            if one.below_high_point.inches > other.below_high_point.inches:
                a, b = b, a
            long = abs(a[0] - b[0]) + abs(a[1] - b[1])
            if long < _LEAST_ARROW:
                continue
            part = min(0.3, 14.0 / long) if long < 90 else 0.32
            start = a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part
            end = b[0] + (a[0] - b[0]) * part, b[1] + (a[1] - b[1]) * part
            self._symbol(
                symbols.arrow(moved_by(start, run.inward, _ARROW_OFF), moved_by(end, run.inward, _ARROW_OFF))
            )
            self.used.add("fall")

    def _laps(self, run: StandingRun) -> None:
        pieces = self.pieces[run.run.run.id]
        for piece, after in pairwise(pieces):
            if piece.right not in ("lap", "expansion joint") or after.starts_at is None:
                continue
            at = run.at(float(after.starts_at.inches))
            self._symbol(symbols.splice(at, run.inward))
            self.used.add("splice")
            what = "lap" if piece.right == "lap" else "expansion joint"
            says = [(what, SMALL, True), (f"{tape(after.starts_at)} from left", SMALL, False)]
            self.wanted.append(Wanted(says, [moved_by(at, (-run.inward[0], -run.inward[1]), 6)],
                                      (-run.inward[0], -run.inward[1]), 3))  # fmt: skip

    def scene(self, title: str, width: float) -> tuple[Scene, bool]:
        """Everything drawn, the paper as large as it must be, the key below; and whether it is crowded."""
        placed = Placer(self.rooms, self.walls).place(self.wanted)
        marks = list(self.under)
        marks += [Line(one.leader, 0.6) for one in placed if one.leader is not None]
        marks += self.over
        for number, one in enumerate(placed):
            marks += _label(one, number)
        room = _around([*(one.box for one in placed), *self.rooms, symbols.room_of(self.under)])
        wide = max(width, room.width + 2 * _MARGIN)
        top = _MARGIN + (20.0 if title else 0.0)
        shift = (wide - room.width) / 2 - room.left, top - room.top
        scene = Scene(wide, room.height + top + _MARGIN)
        scene.add(*(moved(mark, shift) for mark in marks))
        scene.labels = [
            Box(b.left + shift[0], b.top + shift[1], b.right + shift[0], b.bottom + shift[1])
            for b in (one.box for one in placed)
        ]
        if title:
            scene.add(Text((_MARGIN, _MARGIN + 10), folded(title, 60, 1)[0], 13, True))
        if self._north():
            scene.add(*(moved(mark, (0, scene.height)) for mark in symbols.north((wide - 20, 34))))
        key, tall = key_marks(self.used, self._told(), self.storeys_apart, wide - 2 * _MARGIN - 30)
        scene.add(*(moved(mark, (_MARGIN, scene.height)) for mark in key))
        scene.height += tall
        far = (one.leader for one in placed if one.leader is not None)
        return scene, any(abs(a[0] - b[0]) + abs(a[1] - b[1]) > _TOO_FAR for a, b in far)

    def _told(self) -> list[tuple[int, str]]:
        """The dangers of this storey, and those of no place, with their numbers."""
        there = {run.id for run in self.sheet.runs}
        return [
            (number, one.says)
            for number, one in enumerate(self.dangers, start=1)
            if one.about in self.drawn or one.about not in there
        ]

    def _north(self) -> bool:
        """Whether the note names sides by the compass, and all of them as the plan has turned them."""
        sides = [position(run) for run in self.sheet.runs]
        if not any(at is not None and at.compass for at in sides):
            return False
        return not any(at is not None and not at.compass for at in sides)


def outlet_place(outlet: str, falls: Sequence[Fall], pieces: Sequence[Piece]) -> float | None:
    """Where an outlet is, from its run's left end [in], as the falls or its piece have it."""
    for fall in falls:
        if fall.what == f"outlet {outlet}" and fall.at is not None:
            return float(fall.at.inches)
    for piece in pieces:
        for hole in piece.outlets:
            if hole.id == outlet and hole.from_left is not None and piece.starts_at is not None:
                return float(piece.starts_at.inches + hole.from_left.inches)
    return None


def _is_short(run: StandingRun) -> bool:
    """Whether its corners are too near one another for a label at each."""
    return abs(run.start[0] - run.end[0]) + abs(run.start[1] - run.end[1]) < _SHORT


def _guess(place: str | None) -> float:
    return {"left": 0.05, "right": 0.95}.get(place or "", 0.5)


def _label(placed: Placed, number: int) -> list[Mark]:
    marks: list[Mark] = []
    middle, top = placed.box.centre[0], placed.box.top
    for text, size, bold in placed.wanted.lines:
        marks.append(Text((middle, top + size), text, size, bold, "middle", label=number))
        top += size * LEADING
    return marks


def _around(boxes: list[Box]) -> Box:
    room = boxes[0]
    for box in boxes[1:]:
        room = room.around(box)
    return room

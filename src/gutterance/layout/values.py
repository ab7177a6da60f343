"""What the layout works out, as plain values. Lengths are exact inches; rounding comes later."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from gutterance.checking.findings import Finding
    from gutterance.measure.length import System
    from gutterance.shop import Ending, PipeShape, Profile

PieceEnd = Literal[
    "outside mitre", "inside mitre", "outside box", "inside box", "end cap", "wall", "lap", "expansion joint",
    "unknown",
]  # fmt: skip
LapSide = Literal["over", "under", "unknown"]
ElbowKind = Literal["front", "side"]
Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Reason:
    """One step of the way to a number: which number, in words, by how much [in], and the sheet's path."""

    number: str
    says: str
    amount: Fraction | None = None
    sheet: str | None = None


@dataclass(frozen=True, slots=True)
class Hold:
    """Why something may not be made yet."""

    about: str
    says: str
    question: str | None = None


@dataclass(slots=True)
class PlacedOutlet:
    """An outlet on its run: its middle `at` [in] from the run's left end, or None where not known."""

    id: str
    run: int
    at: Fraction | None
    half_width: Fraction
    size: str | None
    why: list[Reason] = field(default_factory=list)
    hold: list[Hold] = field(default_factory=list)
    guesses: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Gutter:
    """The gutter a run gets, by the note or the shop, and the shop's shape for it where there is one."""

    name: str
    size_text: str
    colour: str | None
    profile: Profile | None
    why: list[Reason] = field(default_factory=list)
    hold: list[Hold] = field(default_factory=list)
    guesses: list[str] = field(default_factory=list)


@dataclass(slots=True)
class LaidPiece:
    """One piece of gutter; see `gutterance.lists.models.Piece`."""

    id: str
    run: int
    number: int
    of: int
    left: PieceEnd
    right: PieceEnd
    start: Fraction | None
    back: Fraction | None
    front: Fraction | None = None
    coil: Fraction | None = None
    blank_left: Fraction = Fraction(0)
    blank_right: Fraction = Fraction(0)
    left_tab: Fraction = Fraction(0)
    right_tab: Fraction = Fraction(0)
    left_turn: Fraction | None = None
    right_turn: Fraction | None = None
    left_lap: LapSide | None = None
    right_lap: LapSide | None = None
    holes: list[tuple[PlacedOutlet, Fraction | None]] = field(default_factory=list)
    carriers: int | None = None
    guesses: list[str] = field(default_factory=list)
    hold: list[Hold] = field(default_factory=list)
    why: list[Reason] = field(default_factory=list)

    @property
    def blank(self) -> Fraction | None:
        """The piece as it leaves the machine, square at both ends and squared already [in]."""
        if self.back is None or self.front is None:
            return None
        return self.back + self.blank_left + self.blank_right


@dataclass(slots=True)
class FallPoint:
    """How far [in] the gutter at `at` [in] on a run is below its stretch's level line."""

    run: int
    at: Fraction | None
    what: str
    below: Fraction | None
    at_least: bool = False
    why: list[str] = field(default_factory=list)
    hold: list[Hold] = field(default_factory=list)


@dataclass(slots=True)
class Channel:
    """Runs that share their water, left to right, and how long they are together [in]."""

    runs: list[int]
    loop: bool = False
    length: Fraction | None = None
    outlets: list[PlacedOutlet] = field(default_factory=list)
    says: list[str] = field(default_factory=list)
    open_ends: list[tuple[int, Side]] = field(default_factory=list)


@dataclass(slots=True)
class LaidHangers:
    """Hanger places [in] from the run's left end as measured."""

    run: int
    at: list[Fraction] = field(default_factory=list)
    below: list[Fraction | None] = field(default_factory=list)
    known: bool = False
    hold: list[Hold] = field(default_factory=list)
    why: list[Reason] = field(default_factory=list)


@dataclass(slots=True)
class LaidBend:
    """A place where the pipe leaves the wall's line: an offset round a ledge, or an arm from another outlet.

    `throw` [in] is how far it goes over, `cuts` the pipe between its elbows, top first, `drop` [in] the
    height it takes, `above_foot` [in] how far its lower end is above the pipe's end, where that is known.
    """

    what: str
    way: str
    throw: Fraction
    cuts: list[Fraction] = field(default_factory=list)
    drop: Fraction = Fraction(0)
    above_foot: Fraction | None = None


@dataclass(slots=True)
class LaidPipe:
    """One downpipe; see `gutterance.lists.models.DownpipeList`."""

    id: str
    outlet: str | None
    run: int | None
    place: str | None
    size: str | None
    colour: str | None
    ends_at: str | None
    shape: PipeShape | None
    ending: Ending | None
    system: System
    rule: str | None = None
    gooseneck: Fraction | None = None
    drop: Fraction | None = None
    wall_pipe: Fraction | None = None
    wall_cuts: list[Fraction] = field(default_factory=list)
    bends: list[LaidBend] = field(default_factory=list)
    joints: int = 0
    tail: Fraction | None = None
    other_rule: str | None = None
    other_gooseneck: Fraction | None = None
    other_drop: Fraction | None = None
    rules_differ: bool = False
    trim: Fraction | None = None
    parts: list[tuple[str, int]] = field(default_factory=list)
    straps: list[Fraction] = field(default_factory=list)
    says: list[str] = field(default_factory=list)
    hold: list[Hold] = field(default_factory=list)
    why: list[Reason] = field(default_factory=list)


@dataclass(slots=True)
class LaidRun:
    """A run's id, name and system of writing, and its measured length [in] where it can be worked with."""

    id: str
    name: str
    system: System
    length: Fraction | None
    gutter: Gutter


@dataclass(slots=True)
class Movement:
    """How far [in] a run grows over the shop's swing of temperature, and the joints it gets for that."""

    run: int
    material: str
    moves: Fraction
    joint_over: Fraction
    joints: list[Fraction]
    source: str
    why: list[Reason] = field(default_factory=list)


@dataclass(slots=True)
class Assembly:
    """Pieces put together on the ground before they are hung, left to right, and how many carry them."""

    pieces: list[LaidPiece]
    says: str
    carriers: int | None = None


@dataclass(slots=True)
class Layout:
    """The whole house laid out. `corners` numbers each corner by the run ends that meet there."""

    runs: list[LaidRun] = field(default_factory=list)
    pieces: list[LaidPiece] = field(default_factory=list)
    channels: list[Channel] = field(default_factory=list)
    falls: list[FallPoint] = field(default_factory=list)
    hangers: list[LaidHangers] = field(default_factory=list)
    pipes: list[LaidPipe] = field(default_factory=list)
    movements: list[Movement] = field(default_factory=list)
    assemblies: list[Assembly] = field(default_factory=list)
    corners: dict[tuple[int, Side], int] = field(default_factory=dict)
    assumed: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

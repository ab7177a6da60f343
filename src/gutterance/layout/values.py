"""What the layout works out, as plain values. Lengths are exact inches; rounding comes later."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.checking.findings import Finding
    from gutterance.measure.length import System
    from gutterance.shop import Ending, PipeShape, Profile

PieceEnd = Literal["outside mitre", "inside mitre", "end cap", "wall", "lap", "unknown"]
LapSide = Literal["over", "under", "unknown"]
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
    left_turn: Fraction | None = None
    right_turn: Fraction | None = None
    left_lap: LapSide | None = None
    right_lap: LapSide | None = None
    holes: list[tuple[PlacedOutlet, Fraction | None]] = field(default_factory=list)
    carriers: int | None = None
    guesses: list[str] = field(default_factory=list)
    hold: list[Hold] = field(default_factory=list)
    why: list[Reason] = field(default_factory=list)


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
    known: bool = False
    hold: list[Hold] = field(default_factory=list)
    why: list[Reason] = field(default_factory=list)


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
    tail: Fraction | None = None
    other_rule: str | None = None
    other_gooseneck: Fraction | None = None
    other_drop: Fraction | None = None
    rules_differ: bool = False
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
class Layout:
    """The whole house laid out."""

    runs: list[LaidRun] = field(default_factory=list)
    pieces: list[LaidPiece] = field(default_factory=list)
    channels: list[Channel] = field(default_factory=list)
    falls: list[FallPoint] = field(default_factory=list)
    hangers: list[LaidHangers] = field(default_factory=list)
    pipes: list[LaidPipe] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

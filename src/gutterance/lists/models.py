"""The crew's lists as data: the file contract `gutterance-lists-1`.

Lengths here are already rounded, once, to the shop's step; `rounding` says how. What a number came from
stands in the `why` beside it, with the path of the reading on the sheet where there is one.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from gutterance.checking.findings import Finding
from gutterance.lists.drainage_models import Drainage
from gutterance.sheet.models import Model
from gutterance.sheet.values import LengthValue

PieceEnd = Literal[
    "outside mitre", "inside mitre", "outside box", "inside box", "end cap", "wall", "lap", "expansion joint",
    "unknown",
]  # fmt: skip
LapSide = Literal["over", "under", "unknown"]


class Reason(Model):
    """One step of the way to a number: which number, in words, by how much, and the reading it rests on."""

    number: str = Field(description="the field this explains: back, front, outlets.front-1, wall_pipe")
    says: str
    amount: LengthValue | None = None
    sheet: str | None = Field(default=None, description="the path on the field sheet: runs.front.length")


class Hold(Model):
    """Why something may not be made yet: the path it is about, in words, and the question that frees it."""

    about: str
    says: str
    question: str | None = None


class Hole(Model):
    """An outlet hole, measured along the back of its piece to the middle of the hole.

    `blank_from_left` and `blank_from_right` count from the square ends of the piece as it leaves the machine.
    """

    id: str
    from_left: LengthValue | None = None
    from_right: LengthValue | None = None
    blank_from_left: LengthValue | None = None
    blank_from_right: LengthValue | None = None
    size: str | None = None


class Piece(Model):
    """One piece of gutter as it leaves the machine. Left and right as the installer faces the wall."""

    id: str
    run: str
    run_name: str = ""
    number: int = Field(default=1, description="which piece of its run, from the left")
    of: int = Field(default=1, description="how many pieces the run is made of")
    back: LengthValue | None = None
    front: LengthValue | None = None
    blank: LengthValue | None = Field(
        default=None, description="as it leaves the machine, square at both ends, before mitres are cut"
    )
    coil: LengthValue | None = None
    leads: Literal["left", "right"] = Field(default="left", description="which end leaves the machine first")
    left: PieceEnd
    right: PieceEnd
    left_angle: str | None = Field(
        default=None, description="the corner's turn [degrees], where it is not 90"
    )
    right_angle: str | None = None
    left_tab: LengthValue | None = Field(default=None, description="the lap tab a hand mitre has there")
    right_tab: LengthValue | None = None
    left_lap: LapSide | None = Field(default=None, description="whether this piece lies over or under there")
    right_lap: LapSide | None = None
    starts_at: LengthValue | None = Field(
        default=None, description="where its left back end lies, from the left end of the run as measured"
    )
    outlets: list[Hole] = Field(default_factory=list)
    profile: str | None = None
    size: str | None = None
    colour: str | None = None
    carriers: int | None = None
    guesses: list[str] = Field(default_factory=list, description="what it rests on that nobody said")
    hold: list[Hold] = Field(default_factory=list)
    why: list[Reason] = Field(default_factory=list)


class Fall(Model):
    """How far below its stretch's level line the gutter is, at a place on a run."""

    run: str
    at: LengthValue | None = None
    what: str
    below_high_point: LengthValue | None = None
    why: list[str] = Field(default_factory=list)
    hold: list[Hold] = Field(default_factory=list)


class Channel(Model):
    """Runs that share their water: a chain between two closed ends, or a loop round the house."""

    id: str
    runs: list[str]
    loop: bool = False
    outlets: list[str] = Field(default_factory=list)
    length: LengthValue | None = None
    says: list[str] = Field(default_factory=list, description="what was taken for granted, why no falls")


class Hangers(Model):
    """Where the hangers of a run go, from the left end of the run as measured."""

    run: str
    count: int | None = None
    at: list[LengthValue] = Field(default_factory=list)
    below: list[LengthValue | None] = Field(
        default_factory=list, description="how far each is below the stretch's high point, in their order"
    )
    spacing: LengthValue | None = Field(default=None, description="the widest gap between two of them")
    hold: list[Hold] = Field(default_factory=list)
    why: list[Reason] = Field(default_factory=list)


class Part(Model):
    """So many of a downpipe's parts."""

    what: str
    count: int


class Bend(Model):
    """Where a downpipe leaves the wall's line: an offset round a ledge, or an arm from another outlet."""

    what: str
    way: str = Field(description="out, out and back, sideways, or arm")
    throw: LengthValue = Field(description="how far it goes over")
    cuts: list[LengthValue] = Field(default_factory=list, description="pipe between its elbows, top first")
    drop: LengthValue = Field(description="the height it takes")
    above_foot: LengthValue | None = Field(default=None, description="its lower end, above the pipe's end")


class DownpipeList(Model):
    """What to cut and gather for one downpipe. Straps are measured up from the lower end of the wall pipe."""

    id: str
    outlet: str | None = None
    run: str | None = None
    place: str | None = None
    size: str | None = None
    colour: str | None = None
    ends_at: str | None = None
    rule: str | None = Field(
        default=None, description="field rule, elbow geometry, elbow to elbow, elbows trimmed or straight"
    )
    gooseneck: LengthValue | None = None
    drop: LengthValue | None = None
    wall_pipe: LengthValue | None = None
    wall_cuts: list[LengthValue] = Field(default_factory=list, description="top to bottom, laps included")
    tail: LengthValue | None = None
    bends: list[Bend] = Field(default_factory=list)
    trim: LengthValue | None = Field(default=None, description="what is cut off the leg of each top elbow")
    other_rule: str | None = None
    other_gooseneck: LengthValue | None = None
    other_drop: LengthValue | None = None
    rules_differ: bool = False
    parts: list[Part] = Field(default_factory=list)
    joints: int = Field(default=0, description="how often one part goes into the next, all the way down")
    straps: list[LengthValue] = Field(default_factory=list)
    says: list[str] = Field(
        default_factory=list, description="what was taken for granted, what to look out for"
    )
    hold: list[Hold] = Field(default_factory=list)
    why: list[Reason] = Field(default_factory=list)


class OutletWithoutPipe(Model):
    """An outlet for which no downpipe is made, and what takes its water."""

    id: str
    place: str | None = None
    into: str


class PipeCut(Model):
    """One stock length and what is cut from it; `of` names the part each cut is for, in the same order."""

    size: str | None = None
    colour: str | None = None
    stock: LengthValue
    at_hand: bool = Field(default=False, description="a leftover from another job, not a new length")
    cuts: list[LengthValue] = Field(default_factory=list)
    of: list[str] = Field(default_factory=list)
    left_over: LengthValue
    keep: bool = Field(default=False, description="what is left over is long enough to be worth keeping")


class Bought(Model):
    """So many new lengths of pipe of one length."""

    stock: LengthValue
    count: int


class PipeNeed(Model):
    """How many new lengths a size and colour of pipe takes, and what is proven of the plan."""

    size: str | None = None
    colour: str | None = None
    stock: LengthValue = Field(description="the length the shop's pipe comes in")
    lengths: int = Field(description="new lengths, all told")
    bought: list[Bought] = Field(default_factory=list, description="the same by length")
    from_leftovers: int = Field(default=0, description="leftovers at hand that are cut from")
    at_least: int
    proven_fewest: bool
    longest_left: LengthValue | None = Field(
        default=None, description="the longest piece left at the end, leftovers that stay whole among them"
    )
    longest_could_be: LengthValue | None = Field(
        default=None, description="no plan with as few new lengths leaves one longer than this"
    )
    proven_longest: bool = False
    out_of_time: bool = False


class CoilRun(Model):
    """What is run off one coil, in machine order, and how much that takes."""

    coil: str
    colour: str | None = None
    width: LengthValue | None = None
    pieces: list[str] = Field(default_factory=list)
    total: LengthValue = Field(description="what the pieces take, squaring trims included")
    lost: LengthValue | None = Field(default=None, description="what loading the coil loses")
    left_over: LengthValue | None = Field(default=None, description="null where no coil is at hand")
    order: LengthValue | None = Field(
        default=None, description="what must be ordered, the loss included; null where a coil at hand serves"
    )


class MachineStep(Model):
    """One piece to run: off which coil, why now, and what can be hung while it is run."""

    piece: str
    coil: str | None = None
    why: str
    hang: list[str] = Field(
        default_factory=list, description="pieces run before that can go up while this one is run"
    )


class Hardware(Model):
    """An item to load: how many are used, how many spare, how many are on hold, and why so many."""

    item: str
    count: int
    unit: str = "each"
    spare: int = Field(default=0, description="to load beyond the count, by the shop's rule")
    on_hold: int = 0
    why: str


class Movement(Model):
    """How far a long run grows between cold and heat, and the expansion joints it gets for that."""

    run: str
    material: str
    moves: LengthValue
    joint_over: LengthValue = Field(description="the shop's longest stretch without a joint")
    joints: list[LengthValue] = Field(default_factory=list, description="their middles, from the left end")
    source: str = Field(description="where the material's growth is from")
    why: list[Reason] = Field(default_factory=list)


class Assembly(Model):
    """Pieces to put together on the ground before they are hung, left to right."""

    pieces: list[str]
    carriers: int | None = None
    says: str


class Caution(Model):
    """A danger to know of: from the note (`about` names where) or from a published rule (`source`)."""

    says: str
    about: str | None = None
    source: str | None = None


class Lists(Model):
    """Everything the crew carries, as data."""

    format: Literal["gutterance-lists-1"] = "gutterance-lists-1"
    title: str | None = None
    made_by: str | None = None
    shop: str | None = None
    units: Literal["imperial", "metric", "mixed"] = "imperial"
    step: LengthValue
    rounding: str
    pieces: list[Piece] = Field(default_factory=list)
    machine_order: list[str] = Field(default_factory=list, description="piece ids; nothing on hold is in it")
    machine_steps: list[MachineStep] = Field(default_factory=list, description="the same, each with its why")
    channels: list[Channel] = Field(default_factory=list)
    falls: list[Fall] = Field(default_factory=list)
    hangers: list[Hangers] = Field(default_factory=list)
    movements: list[Movement] = Field(default_factory=list)
    assemblies: list[Assembly] = Field(default_factory=list)
    downpipes: list[DownpipeList] = Field(default_factory=list)
    no_pipe: list[OutletWithoutPipe] = Field(default_factory=list)
    pipe_cuts: list[PipeCut] = Field(default_factory=list)
    pipe_need: list[PipeNeed] = Field(default_factory=list)
    coil_runs: list[CoilRun] = Field(default_factory=list)
    hardware: list[Hardware] = Field(default_factory=list)
    drainage: Drainage = Field(default_factory=Drainage)
    cautions: list[Caution] = Field(default_factory=list)
    assumed: list[str] = Field(
        default_factory=list, description="shop rules that filled in for what was not said"
    )
    findings: list[Finding] = Field(default_factory=list, description="what the layout itself found")

    @property
    def on_hold(self) -> bool:
        """Whether any piece or pipe may not be made yet."""
        return any(piece.hold for piece in self.pieces) or any(pipe.hold for pipe in self.downpipes)

    def piece(self, piece_id: str) -> Piece | None:
        """The piece of that id, or None."""
        return next((piece for piece in self.pieces if piece.id == piece_id), None)

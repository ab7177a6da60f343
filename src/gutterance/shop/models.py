"""The shop's rules, each with a check that it can be worked with. The values come from `defaults.toml`."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Annotated, Any, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from gutterance.shop.amounts import Amount
from gutterance.shop.label_sheets import LabelSheet, PaperName, not_on_the_paper
from gutterance.shop.quoting import Labour, QuoteRule
from gutterance.shop.rules import DecimalText, NotNegative, Percent, Positive, Rules

if TYPE_CHECKING:
    from gutterance.measure.length import Length

EndingName = Literal["splash block", "ground", "drain", "drain box", "barrel", "lower roof", "lower gutter"]


class Rounding(Rules):
    """The step [in or mm] lists are rounded to, to the nearest, ties to even (NIST Handbook 44, 10.3)."""

    step: Positive
    metric_step: Positive


class Fit(Rules):
    """What each end adds to the measured length, at the back [in or mm]."""

    outside_corner: Amount
    inside_corner: Amount
    end_cap: Amount
    wall: Amount


class Corners(Rules):
    """How corners are made, and what that takes up at the back [in or mm].

    A made box has legs, measured along the back from the corner of the fascia to the leg's end; a piece goes
    `box_overlap` into it. Where a corner's turn [degrees] is not in `box_turns`, it is made as `without_box`.
    """

    method: Literal["hand mitre", "strip mitre", "box mitre"]
    over_90: Literal["ask", "turn", "between walls"]
    tab: NotNegative
    tab_on: Literal["left end", "right end", "upstream piece"]
    box_outside_leg: NotNegative
    box_inside_leg: NotNegative
    box_overlap: NotNegative
    box_turns: list[Annotated[float, Field(gt=0, lt=180)]]
    without_box: Literal["hand mitre", "strip mitre"]

    @model_validator(mode="after")
    def _leg_holds_the_overlap(self) -> Self:
        for name, leg in (("box_outside_leg", self.box_outside_leg), ("box_inside_leg", self.box_inside_leg)):
            if leg.inches < self.box_overlap.inches:
                raise ValueError(
                    f"corners.{name} {leg.inch_text()} is under box_overlap "
                    f"{self.box_overlap.inch_text()}: the piece would go through the corner"
                )
        return self


class Pieces(Rules):
    """How long a piece may be, how it is carried, lapped and squared [in or mm]."""

    longest: Positive
    carry_each: Positive
    crew: Annotated[int, Field(ge=1)]
    lap: NotNegative
    lap_clear_of_outlets: NotNegative
    lap_clear_of_ends: NotNegative
    squaring_trim: NotNegative
    leads: Literal["left", "right"]
    ground_under: NotNegative


class Expansion(Rules):
    """How far metal moves: the swing of its temperature [degrees F], and where it is told [in or mm]."""

    swing_degrees_f: Annotated[int, Field(gt=0, le=400)]
    tell_over: Positive
    joint_gap: NotNegative


class Material(Rules):
    """What a gutter is made of: how much it grows [millionths per degree F], and the most between joints."""

    name: str
    also: list[str] = Field(default_factory=list)
    millionths_per_degree_f: DecimalText
    joint_over: Positive
    source: str

    @property
    def growth(self) -> Fraction:
        """Growth per degree F, as a share of the length. Exact as written."""
        return Fraction(self.millionths_per_degree_f) / 1_000_000


class FallRule(Rules):
    """The least fall, `drop` in every `over`, and the most a fascia allows in one leg [in or mm].

    Where the note says which board the fascia is, `boards` gives its face, and the gutter may drop by what
    the face has over the gutter's depth.
    """

    drop: NotNegative
    over: Positive
    most: Positive
    boards: dict[str, Positive]

    @model_validator(mode="after")
    def _not_steep(self) -> Self:
        if self.drop.inches * 24 > self.over.inches:
            raise ValueError(
                f"fall of {self.drop.inch_text()} in every {self.over.inch_text()} is steeper than 1 in 24, "
                "which no gutter is hung at: look at the units of drop and over"
            )
        return self


class OutletRule(Rules):
    """Where an outlet goes when the note says only which end: its middle from that end [in or mm]."""

    from_end: Positive


class HangerRule(Rules):
    """Hanger spacing and clearances [in or mm]."""

    spacing: Positive
    close_spacing: Positive
    close_where_said: list[str]
    from_end: Positive
    clear_of_outlet: NotNegative
    clear_of_lap: NotNegative
    screw: str
    screws_each: Annotated[int, Field(ge=1)]


class DownpipeRule(Rules):
    """Which downpipe arithmetic is used, and its numbers [in or mm]."""

    rule: Literal["field rule", "elbow geometry"]
    field_less: Amount
    field_drop: NotNegative
    tolerance: NotNegative
    throw_allowance: Amount
    outlet_stub: NotNegative
    ending: EndingName
    shortest_cut: Positive
    joint_lap: NotNegative
    strap_spacing: Positive
    strap_from_end: NotNegative
    strap_screw: str
    strap_screws_each: Annotated[int, Field(ge=0)]
    joint_screw: str
    joint_screws_each: Annotated[int, Field(ge=0)]
    branch: str
    branch_take: NotNegative
    band_height: NotNegative
    stock: Positive
    also_bought: list[Positive]
    keep_over: Positive
    saw_cut: NotNegative


class Ending(Rules):
    """What a downpipe's ending takes off the height [in or mm], and the parts it needs."""

    take: Amount
    elbows: Annotated[int, Field(ge=0)]
    tail: NotNegative
    extra: str


class Spares(Rules):
    """What is loaded beyond the count, in percent of each kind; any part of one counts as one."""

    hangers: Percent
    screws: Percent
    rivets: Percent
    straps: Percent
    elbows: Percent
    outlets: Percent
    end_caps: Percent
    corners: Percent


class Usual(Rules):
    """What is used when the note does not say. Each use is listed as assumed."""

    gutter_profile: str
    gutter_size: Positive
    downpipe_size: str
    material: str


class Limits(Rules):
    """Beyond these [in or mm] a number is taken for a slip: it is held, and nothing is worked out from it."""

    run: Positive
    height: Positive
    wall_to_fascia: Positive


class CoilRule(Rules):
    """What loading a coil loses, when a shorter one is worth loading [in or mm], how loose its wraps are."""

    lost_each: NotNegative
    change_worth: NotNegative
    loose_percent: Annotated[float, Field(ge=0, lt=50)]


class Leftover(Rules):
    """Downpipe at hand from other jobs: its size, colour and length [in or mm], and how many of it."""

    size: str
    colour: str | None = None
    length: Positive
    count: Annotated[int, Field(ge=1, le=10_000)] = 1


class CoilAtHand(Rules):
    """A coil in the shop: its name, colour and width, and what is left on it [in or mm]."""

    name: str
    colour: str | None = None
    width: Positive
    left: NotNegative


class Sealing(Rules):
    """Sealant: the bead a joint takes and what a tube gives [in or mm]; rivets per joint."""

    bead_at_corner: NotNegative
    bead_at_end_cap: NotNegative
    bead_at_outlet: NotNegative
    bead_at_lap: NotNegative
    tube_gives: Positive
    rivets_at_corner: Annotated[int, Field(ge=0)]
    rivets_at_end_cap: Annotated[int, Field(ge=0)]
    rivets_at_outlet: Annotated[int, Field(ge=0)]
    rivets_at_lap: Annotated[int, Field(ge=0)]


def _none(value: Any) -> Any:
    return None if value == "none" else value


def _rate(value: str | None) -> str | None:
    if value is not None:
        from gutterance.measure.rates import read_rate

        read_rate(value)
    return value


MethodName = Literal[
    "EN 12056-3:2000", "IPC 2015", "IPC 2012", "NSPC 2006", "metal trade", "AS/NZS 3500.3:2018"
]


class RainRule(Rules):
    """The drainage check: its method, and what methods leave to national rules. "none" is not given."""

    method: Annotated[MethodName | None, BeforeValidator(_none)]
    rainfall: Annotated[str | None, BeforeValidator(_none), AfterValidator(_rate)]
    roof_run: Annotated[Positive | None, BeforeValidator(_none)]
    wind: Literal["none", "26 degrees", "square to the roof"]
    strainers: bool
    pipe_filling: Annotated[float, Field(ge=0.20, le=0.33)]
    manning_n: Annotated[float, Field(ge=0.009, le=0.1)]


class Profile(Rules):
    """A gutter: its top width, sole, depth, the width of its coil [in or mm], and what hangs it.

    `shape` is what the drainage check takes it for; left out, a name with "half round" in it is a half round
    and any other a trapezoid of its three sizes.
    """

    name: str
    size: Positive
    top_width: Positive
    sole: Positive
    depth: Positive
    coil_width: Positive
    hanger: str = "hidden hanger"
    shape: Literal["half round", "trapezoid"] | None = None
    measured: bool = False

    @property
    def is_half_round(self) -> bool:
        """Whether its section is a half round."""
        return (self.shape or self.name).casefold().replace("-", " ").find("half round") >= 0

    @property
    def shape_words(self) -> str:
        """Its three measures, as a list says them."""
        return (
            f"top width {self.top_width.inch_text()}, sole {self.sole.inch_text()}, "
            f"depth {self.depth.inch_text()}"
        )


class PipeShape(Rules):
    """A downpipe and its elbow.

    `along` is its width along the wall, `out` how far it stands off the wall; the elbow turns the pipe by
    `elbow_turn` [degrees] off the vertical; `leg_a` is the elbow's leg towards the vertical pipe and `leg_b`
    the one towards the gooseneck, each from the bend's middle to its end; `slip` is how far the gooseneck
    pipe slips over or into it [in or mm].
    """

    size: str
    along: Positive
    out: Positive
    elbow_turn: Annotated[float, Field(gt=0, lt=90)]
    leg_a: NotNegative
    leg_b: NotNegative
    slip: NotNegative
    measured: bool = False

    @property
    def is_round(self) -> bool:
        """Whether the pipe is round, so that one kind of elbow turns every way."""
        return "round" in self.size.casefold()

    @model_validator(mode="after")
    def _slip_within_leg(self) -> Self:
        if self.slip.inches > self.leg_b.inches:
            raise ValueError(
                f"pipe {self.size}: slip {self.slip.inch_text()} is over leg_b {self.leg_b.inch_text()}"
            )
        return self


class Shop(Rules):
    """All rules of a shop. `load_shop(None)` gives the defaults."""

    name: str
    rounding: Rounding
    fit: Fit
    corners: Corners
    pieces: Pieces
    expansion: Expansion
    materials: list[Material]
    fall: FallRule
    outlets: OutletRule
    hangers: HangerRule
    downpipes: DownpipeRule
    endings: dict[EndingName, Ending]
    usual: Usual
    limits: Limits
    coil: CoilRule
    sealing: Sealing
    rain: RainRule
    spares: Spares
    profiles: list[Profile]
    pipes: list[PipeShape]
    leftovers: list[Leftover] = Field(default_factory=list)
    coils: list[CoilAtHand] = Field(default_factory=list)
    labels: dict[PaperName, LabelSheet]
    quote: QuoteRule
    labour: list[Labour] = Field(default_factory=list)

    @model_validator(mode="after")
    def _usual_is_there(self) -> Self:
        if self.profile(self.usual.gutter_profile, self.usual.gutter_size) is None:
            raise ValueError(
                f"usual.gutter_profile and usual.gutter_size name {self.usual.gutter_size.inch_text()} "
                f"{self.usual.gutter_profile}, which no [[profiles]] table describes"
            )
        if self.pipe(self.usual.downpipe_size) is None:
            raise ValueError(
                f"usual.downpipe_size is {self.usual.downpipe_size!r}, which no [[pipes]] table describes"
            )
        if self.material(self.usual.material) is None:
            raise ValueError(
                f"usual.material is {self.usual.material!r}, which no [[materials]] table describes"
            )
        if self.downpipes.ending not in self.endings:
            raise ValueError(f"downpipes.ending is {self.downpipes.ending!r}, which has no [endings] table")
        names = [one.name.casefold() for one in self.coils]
        for name in names:
            if names.count(name) > 1:
                raise ValueError(f"two [[coils]] are called {name!r}: give each a name of its own")
        works = [one.work.casefold() for one in self.labour]
        for work in works:
            if works.count(work) > 1:
                raise ValueError(f"two [[labour]] are called {work!r}: give each a name of its own")
        for paper, grid in self.labels.items():
            if (wrong := not_on_the_paper(paper, grid)) is not None:
                raise ValueError(wrong)
        if self.hangers.close_spacing.inches > self.hangers.spacing.inches:
            raise ValueError("hangers.close_spacing is wider than hangers.spacing: close must not be wider")
        return self

    def profile(self, name: str, size: Length) -> Profile | None:
        """The gutter of that name and size, or None."""
        wanted = name.casefold().strip()
        return next(
            (
                one
                for one in self.profiles
                if one.name.casefold() == wanted and one.size.inches == size.inches
            ),
            None,
        )

    def material(self, name: str) -> Material | None:
        """The material of that name, by any of its names, or None."""
        wanted = name.casefold().strip()
        return next(
            (one for one in self.materials if wanted in (word.casefold() for word in (one.name, *one.also))),
            None,
        )

    def longest_piece(self) -> Fraction:
        """The longest piece [in] that can be run and that the crew's hands can carry."""
        return min(self.pieces.longest.inches, self.pieces.crew * self.pieces.carry_each.inches)

    def pipe(self, size: str) -> PipeShape | None:
        """The downpipe of that size (`2x3`, `3 in round`), or None."""
        wanted = pipe_key(size)
        return next((one for one in self.pipes if pipe_key(one.size) == wanted), None)

    def leftovers_of(self, size: str | None, colour: str | None) -> list[Leftover]:
        """The pipe at hand of that size and colour; nothing where the size is not known."""
        if size is None:
            return []
        same = [one for one in self.leftovers if pipe_key(one.size) == pipe_key(size)]
        return [one for one in same if _same_colour(one.colour, colour)]

    def coils_of(self, colour: str | None, width: Length) -> list[CoilAtHand]:
        """The coils at hand of that colour and width."""
        same = [one for one in self.coils if one.width.inches == width.inches]
        return [one for one in same if _same_colour(one.colour, colour)]


def pipe_key(size: str) -> str:
    """A pipe's size as it is told from others, however it is spaced: `2 x 3` is `2x3`."""
    return "".join(size.casefold().replace("×", "x").split())


def _same_colour(one: str | None, other: str | None) -> bool:
    return (one or "").casefold().strip() == (other or "").casefold().strip()

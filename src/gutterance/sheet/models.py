"""The field sheet: what was measured, each value with its status and the words it came from.

The file contract is `gutterance-sheet-1`; the JSON Schema in `docs/` is made from these models.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, Generic, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, model_validator

from gutterance.sheet.values import (
    CERTAIN,
    End,
    EndsAt,
    LengthValue,
    Place,
    RemarkKind,
    Status,
    TotalOf,
    Units,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

SHEET_FORMAT = "gutterance-sheet-1"
Value = TypeVar("Value")


class Model(BaseModel):
    """A part of the sheet. An unknown field is an error, so that a misspelt one is not lost."""

    model_config = ConfigDict(extra="forbid", populate_by_name=True)


class Source(Model):
    """Where words stand in the note: line from 1, `start` and `end` in characters of that line as given.

    `seconds` is when they were said, from the start of their recording. In a walk-round of several files
    `line` counts through all of them; `file` and `file_line` are the words' own file and the line there.
    """

    line: int = Field(ge=1)
    start: int = Field(ge=0)
    end: int = Field(ge=0)
    text: str
    seconds: tuple[float, float] | None = None
    file: str | None = None
    file_line: int | None = None

    def where(self) -> str:
        """The place of the words for a message: `line 3`, or with several files `back.txt, line 1`.

        >>> Source(line=9, start=0, end=4, text="back", file="back.txt", file_line=1).where()
        'back.txt, line 1'
        """
        return f"line {self.line}" if self.file is None else f"{self.file}, line {self.file_line}"

    def heard(self) -> str | None:
        """When the words were said, as a player shows it: `1:02.4 to 1:04`. None for typed words."""
        if self.seconds is None:
            return None
        first, last = self.seconds
        return clock(first) if first == last else f"{clock(first)} to {clock(last)}"


def clock(seconds: float) -> str:
    """A time [s] from the start of a recording as `m:ss` or `h:mm:ss`, to a tenth.

    >>> clock(62.44), clock(3600), clock(9.96)
    ('1:02.4', '1:00:00', '0:10')
    """
    tenths = round(seconds * 10)
    minutes, rest = divmod(tenths, 600)
    hours, minutes = divmod(minutes, 60)
    part = f".{rest % 10}" if rest % 10 else ""
    return (f"{hours}:{minutes:02}" if hours else f"{minutes}") + f":{rest // 10:02}{part}"


class Alternative(Model, Generic[Value]):
    """Another value the same words could mean, kept for the checker."""

    value: Value
    why: str


class Reading(Model, Generic[Value]):
    """A value with its way back to the words: status, sources, what it was before, and why it is so.

    `by` is who amended it, where it stands so by an amendment and not by the note.
    """

    value: Value | None = None
    status: Status = "read"
    source: list[Source] = Field(default_factory=list)
    was: list[Reading[Value]] = Field(default_factory=list)
    why: str | None = None
    by: str | None = None
    could_be: list[Alternative[Value]] = Field(default_factory=list)

    @property
    def settled(self) -> bool:
        """Whether a list may rest on this value."""
        return self.value is not None and self.status in CERTAIN


LengthReading = Reading[LengthValue]
TextReading = Reading[str]


class Defaults(Model):
    """What holds for the whole job unless a run or a pipe says otherwise."""

    gutter_profile: TextReading | None = None
    gutter_size: LengthReading | None = None
    material: TextReading | None = None
    thickness: TextReading | None = None
    colour: TextReading | None = None
    downpipe_size: TextReading | None = None
    hanger_spacing: LengthReading | None = None
    roof_pitch: TextReading | None = None
    rainfall: TextReading | None = None
    units: Units = "imperial"


class Run(Model):
    """One straight eave line that gets gutter. Left and right as seen from the ground, facing the wall."""

    id: str
    name: str
    storey: str | None = None
    length: LengthReading | None = None
    left_end: Reading[End] | None = None
    right_end: Reading[End] | None = None
    left_angle: Reading[float] | None = None
    right_angle: Reading[float] | None = None
    roof_run: LengthReading | None = None
    roof_pitch: TextReading | None = None
    gutter_size: LengthReading | None = None
    colour: TextReading | None = None
    next_run: str | None = None
    fascia: TextReading | None = None
    hanger_spacing: LengthReading | None = None
    high_point: TextReading | None = None
    source: list[Source] = Field(default_factory=list)


NEW_DOWNPIPE = "new downpipe"
"""What an outlet empties into where words to the contrary were put right."""


class Outlet(Model):
    """Where water leaves the gutter. `distance` null means at that end, by the shop's own offset.

    `place` is the reading behind the plain `from`, so that a doubt about it is not lost.
    """

    id: str
    run: str
    from_: Place | None = Field(default=None, alias="from")
    place: Reading[Place] | None = None
    distance: LengthReading | None = None
    size: TextReading | None = None
    into: TextReading | None = Field(
        default=None, description="what takes its water in place of a downpipe: existing downpipe, rain chain"
    )

    @property
    def without_pipe(self) -> bool:
        """Whether it is settled that something else than a new downpipe takes its water."""
        return self.into is not None and self.into.settled and self.into.value not in (None, NEW_DOWNPIPE)

    @model_validator(mode="after")
    def _from_and_place_agree(self) -> Outlet:
        if self.place is None and self.from_ is not None:
            self.place = Reading[Place](value=self.from_)
        elif self.place is not None:
            if self.from_ is not None and self.from_ != self.place.value:
                raise ValueError(
                    f"outlet {self.id}: 'from' says {self.from_}, 'place' says {self.place.value}"
                )
            self.from_ = self.place.value
        return self


class Downpipe(Model):
    """The pipe from one outlet to where it ends. `height` is from the outlet down to that end."""

    id: str
    outlet: str | None = None
    wall_to_fascia: LengthReading | None = None
    height: LengthReading | None = None
    ends_at: Reading[EndsAt] | None = None
    size: TextReading | None = None
    offsets: list[LengthReading] = Field(default_factory=list)
    offset_heights: list[LengthReading] = Field(
        default_factory=list, description="how far above the pipe's end each offset sits, in their order"
    )
    offset_ways: list[TextReading] = Field(
        default_factory=list, description="how each offset goes: out, out and back, sideways"
    )
    also_takes: list[str] = Field(
        default_factory=list, description="ids of other outlets whose water joins this pipe"
    )
    from_mark: TextReading | None = None
    source: list[Source] = Field(default_factory=list)


class Total(Model):
    """Something the measurer counted aloud, to be held against what was read."""

    what: TotalOf
    value: Reading[int] | LengthReading


class Remark(Model):
    """Something said that is no measurement but that somebody must see."""

    kind: RemarkKind
    about: str | None = None
    text: str
    source: Source


class Unread(Model):
    """Words with a number in them that found no place on the sheet, and why."""

    text: str
    source: Source
    why: str


class NoteDamage(Model):
    """Where a file of the note was broken, so that words may be lost: `line` of that `file`, what, the mend.

    `after` is the line of the note that stands before the damage; 0 where none does.
    """

    file: str
    line: int = Field(ge=1)
    what: str
    mend: str
    after: int = Field(ge=0)


class Sheet(Model):
    """A field sheet, as read from a note."""

    format: Literal["gutterance-sheet-1"] = "gutterance-sheet-1"
    title: str | None = None
    defaults: Defaults = Field(default_factory=Defaults)
    runs: list[Run] = Field(default_factory=list)
    outlets: list[Outlet] = Field(default_factory=list)
    downpipes: list[Downpipe] = Field(default_factory=list)
    totals: list[Total] = Field(default_factory=list)
    remarks: list[Remark] = Field(default_factory=list)
    unread: list[Unread] = Field(default_factory=list)
    damage: list[NoteDamage] = Field(default_factory=list)
    note: list[str] = Field(default_factory=list, description="the lines of the note, as given")
    made_by: str | None = Field(default=None, description="the version of gutterance that read the note")

    def run(self, run_id: str) -> Run | None:
        """The run of that id, or None."""
        return next((run for run in self.runs if run.id == run_id), None)

    def outlet(self, outlet_id: str | None) -> Outlet | None:
        """The outlet of that id, or None."""
        return next((outlet for outlet in self.outlets if outlet.id == outlet_id), None)

    def outlets_of(self, run_id: str) -> list[Outlet]:
        """The outlets on that run, in the order of the sheet."""
        return [outlet for outlet in self.outlets if outlet.run == run_id]

    def downpipes_of(self, outlet_id: str) -> list[Downpipe]:
        """The downpipes that take that outlet's water."""
        return [pipe for pipe in self.downpipes if pipe.outlet == outlet_id]

    def readings(self) -> Iterator[tuple[str, Reading[Any]]]:
        """Every reading with its path: `runs.front.length`, `downpipes.front-1.height`, `defaults.colour`."""
        for path, part in self._parts():
            yield from _readings_of(path, part)
        for total in self.totals:
            yield f"totals.{total.what}", total.value

    def reading_at(self, path: str) -> Reading[Any] | None:
        """The reading at a path, or None where nothing was said."""
        for part_path, part in self._parts():
            if path.startswith(f"{part_path}."):
                for at, reading in _readings_of(part_path, part):
                    if at == path:
                        return reading
        return next((total.value for total in self.totals if path == f"totals.{total.what}"), None)

    def _parts(self) -> Iterator[tuple[str, Model]]:
        """Every part that has readings, with its path."""
        yield "defaults", self.defaults
        for group, parts in (("runs", self.runs), ("outlets", self.outlets), ("downpipes", self.downpipes)):
            for part in parts:
                yield f"{group}.{part.id}", part

    def sources(self) -> Iterator[Source]:
        """Every stretch of words that stands anywhere on the sheet, through corrections too."""
        yield from _sources_of(self)


def _sources_of(part: object) -> Iterator[Source]:
    if isinstance(part, Source):
        yield part
    elif isinstance(part, list):
        for item in part:
            yield from _sources_of(item)
    elif isinstance(part, Model):
        for name in _field_names(type(part)):
            value = getattr(part, name)
            if isinstance(value, Model | list):
                yield from _sources_of(value)


@cache
def _field_names(model: type[Model]) -> tuple[str, ...]:
    """The names of a model's fields: pydantic makes its table of them anew for each look."""
    return tuple(model.model_fields)


def _readings_of(path: str, part: Model) -> Iterator[tuple[str, Reading[Any]]]:
    for name in _field_names(type(part)):
        value = getattr(part, name)
        # most fields of most parts hold nothing: what that costs is seen in every reading of a note
        if value is None or type(value) is str:
            continue
        if isinstance(value, Reading):
            yield f"{path}.{name}", value
        elif isinstance(value, list):
            for number, item in enumerate(value, start=1):
                if isinstance(item, Reading):
                    yield f"{path}.{name}.{number}", item

"""The sheet made ready for checking: look-ups, and what rests on each value.

Everything here is built once and is near linear in the size of the sheet, so that a sheet of thousands of
runs is checked in about the time it takes to read it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.sheet.models import Downpipe, Outlet, Reading, Run, Sheet, Source

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.measure.length import Length

PIECE_FIELDS = frozenset(
    {"length", "left_end", "right_end", "left_angle", "right_angle", "gutter_size", "colour"}
)
"""The fields of a run that its piece is made from. The others bear on falls, hangers or drainage only."""

JOB_PIECE_FIELDS = frozenset({"gutter_profile", "gutter_size", "material", "thickness", "colour"})
"""The defaults that every piece is made from."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A reading and where it stands: its path, its group (`runs`, ...), the part it belongs to, its field."""

    path: str
    group: str
    part: Run | Outlet | Downpipe | None
    field: str
    reading: Reading[Any]


@dataclass(slots=True)
class House:
    """A sheet with its look-ups. Where an id stands twice, the first one answers to it."""

    sheet: Sheet
    run_at: dict[str, int] = field(init=False)
    outlet_of: dict[str, Outlet] = field(init=False)
    outlets_on: dict[str, list[Outlet]] = field(init=False)
    pipes_at: dict[str, list[Downpipe]] = field(init=False)
    outlets_alike: Counter[tuple[str, str | None]] = field(init=False)
    placed: list[Placed] = field(init=False)

    def __post_init__(self) -> None:
        sheet = self.sheet
        self.run_at = {}
        for index, run in enumerate(sheet.runs):
            self.run_at.setdefault(run.id, index)
        self.outlet_of = {}
        on: defaultdict[str, list[Outlet]] = defaultdict(list)
        for outlet in sheet.outlets:
            self.outlet_of.setdefault(outlet.id, outlet)
            on[outlet.run].append(outlet)
        self.outlets_on = dict(on)
        self.outlets_alike = Counter((outlet.run, outlet.from_) for outlet in sheet.outlets)
        at: defaultdict[str, list[Downpipe]] = defaultdict(list)
        for pipe in sheet.downpipes:
            if pipe.outlet is not None:
                at[pipe.outlet].append(pipe)
        self.pipes_at = dict(at)
        self.placed = list(self._placed())

    @property
    def metric(self) -> bool:
        """Whether the job is measured in metric."""
        return self.sheet.defaults.units == "metric"

    def run(self, run_id: str) -> Run | None:
        """The run of that id, or None."""
        index = self.run_at.get(run_id)
        return None if index is None else self.sheet.runs[index]

    def run_of(self, part: Run | Outlet | Downpipe | None) -> Run | None:
        """The run that a part is, is on, or takes the water of."""
        if isinstance(part, Outlet):
            return self.run(part.run)
        return self.run_of_pipe(part) if isinstance(part, Downpipe) else part

    def run_of_pipe(self, pipe: Downpipe) -> Run | None:
        """The run whose water a downpipe takes, where the sheet says so."""
        outlet = self.outlet_of.get(pipe.outlet or "")
        return None if outlet is None else self.run(outlet.run)

    def rests_on(self, placed: Placed) -> list[str]:
        """The runs and downpipes that cannot be made while this reading is open.

        A run's length, ends, angles, size and colour hold that run; an outlet's place holds its run (the hole
        is punched in it), what it empties into holds its pipe; anything of a downpipe holds that pipe; what
        was said for the whole job holds every part that has no word of its own.
        """
        part = placed.part
        if isinstance(part, Run):
            return [run_path(part)] if placed.field in PIECE_FIELDS else []
        if isinstance(part, Outlet) and placed.field == "into":
            return [pipe_path(pipe) for pipe in self.pipes_at.get(part.id, [])]
        if isinstance(part, Outlet):
            run = self.run(part.run)
            return [run_path(run)] if run is not None else []
        if isinstance(part, Downpipe):
            return [pipe_path(part)]
        if placed.group != "defaults":
            return []
        if placed.field in JOB_PIECE_FIELDS:
            own = placed.field if placed.field in ("gutter_size", "colour") else None
            return [run_path(run) for run in self.sheet.runs if own is None or getattr(run, own) is None]
        if placed.field == "downpipe_size":
            return [pipe_path(pipe) for pipe in self.sheet.downpipes if pipe.size is None]
        return []

    def _placed(self) -> Iterator[Placed]:
        yield from _of_part("defaults", "defaults", None, self.sheet.defaults)
        groups: tuple[tuple[str, list[Any]], ...] = (
            ("runs", self.sheet.runs),
            ("outlets", self.sheet.outlets),
            ("downpipes", self.sheet.downpipes),
        )
        for group, parts in groups:
            for part in parts:
                yield from _of_part(f"{group}.{part.id}", group, part, part)
        for total in self.sheet.totals:
            yield Placed(f"totals.{total.what}", "totals", None, total.what, total.value)


def _of_part(path: str, group: str, part: Run | Outlet | Downpipe | None, holder: Any) -> Iterator[Placed]:
    for name in type(holder).model_fields:
        value = getattr(holder, name)
        if isinstance(value, Reading):
            yield Placed(f"{path}.{name}", group, part, name, value)
        elif isinstance(value, list):
            for number, item in enumerate(value, start=1):
                if isinstance(item, Reading):
                    yield Placed(f"{path}.{name}.{number}", group, part, name, item)


def run_path(run: Run) -> str:
    """The path of a run: `runs.back`."""
    return f"runs.{run.id}"


def pipe_path(pipe: Downpipe) -> str:
    """The path of a downpipe: `downpipes.back-1`."""
    return f"downpipes.{pipe.id}"


def unsaid(reading: Reading[Any] | None) -> bool:
    """Whether there is no value at all: never spoken of, or said to be missing."""
    return reading is None or reading.value is None


def within_reason(length: Length | None) -> bool:
    """Whether a length can be added to others and the sum still be written down and read by a person."""
    return length is not None and abs(length.inches) < 10**9 and length.inches.denominator < 10**6


def sources(*readings: Reading[Any] | None) -> list[Source]:
    """The words behind those readings."""
    return [words for reading in readings if reading is not None for words in reading.source]

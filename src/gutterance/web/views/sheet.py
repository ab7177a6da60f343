"""The field sheet as the review page shows it: parts, and under each its values with their marks."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.checking.findings import HOLDING
from gutterance.checking.house import House
from gutterance.checking.wording import FIELD_WORDS, of_outlet, of_path, short_pipe, start
from gutterance.render.readback import shown_value
from gutterance.sheet.paths import field_of
from gutterance.web.views.marks import READ, Mark, marks_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.sheet.models import Downpipe, Model, Outlet, Reading, Run, Sheet, Source

_ALWAYS = {
    "runs": ("length", "left_end", "right_end"),
    "outlets": ("place",),
    "downpipes": ("wall_to_fascia", "height", "ends_at"),
    "defaults": ("gutter_size", "gutter_profile", "material", "colour", "downpipe_size"),
}
"""The fields that stand on the page even where nobody said them: what a list needs."""


@dataclass(frozen=True, slots=True)
class ShownValue:
    """One value: its path, label, text, marks, reason, what it was, what else it could be, its lines.

    `typed` is what an editor opens with: the value in the words of the trade, empty where there is none.
    """

    path: str
    label: str
    text: str
    marks: tuple[Mark, ...]
    why: str = ""
    was: tuple[str, ...] = ()
    could_be: tuple[str, ...] = ()
    lines: tuple[int, ...] = ()
    typed: str = ""
    by: str | None = None
    told: str = ""

    @property
    def kind(self) -> str:
        """The name of its state, for styles."""
        return self.marks[0].kind


@dataclass(slots=True)
class SheetPart:
    """A run, an outlet, a downpipe, or the whole job: its name, its values, the parts that hang on it.

    `addable` are paths of values that nobody said and that may be given, with their labels. `held` says why
    it may not be made. `taken_out` is told of where a whole part can go.
    """

    path: str
    kind: str
    heading: str
    values: list[ShownValue]
    parts: list[SheetPart] = field(default_factory=list)
    addable: list[tuple[str, str]] = field(default_factory=list)
    held: list[str] = field(default_factory=list)
    lines: tuple[int, ...] = ()

    def all_values(self) -> Iterator[ShownValue]:
        """Its own values and those of the parts that hang on it."""
        yield from self.values
        for part in self.parts:
            yield from part.all_values()


@dataclass(frozen=True, slots=True)
class Loose:
    """Something said that is no value: a remark, or words that were not understood, with its line."""

    path: str
    word: str
    sign: str
    text: str
    why: str
    line: int


def sheet_parts(sheet: Sheet, findings: Sequence[Finding] = ()) -> list[SheetPart]:
    """The whole job, each run with its outlets and their downpipes, what belongs nowhere, the totals."""
    return _Parts(sheet, findings).all()


def loose_words(sheet: Sheet) -> list[Loose]:
    """What was not understood, then the remarks, hazards first."""
    house = House(sheet)
    loose = [
        Loose(f"unread.{number}", "not understood", "!", one.text, one.why, one.source.line)
        for number, one in enumerate(sheet.unread, start=1)
    ]
    remarks = sorted(enumerate(sheet.remarks, start=1), key=lambda pair: pair[1].kind != "hazard")
    for number, remark in remarks:
        run = house.run(remark.about) if remark.about else None
        about = run.name if run is not None else ""
        sign = "!" if remark.kind == "hazard" else ""
        loose.append(Loose(f"remarks.{number}", remark.kind, sign, remark.text, about, remark.source.line))
    return loose


class _Parts:
    def __init__(self, sheet: Sheet, findings: Sequence[Finding]) -> None:
        self.sheet = sheet
        self.house = House(sheet)
        self.held: dict[str, list[str]] = defaultdict(list)
        for found in findings:
            if found.kind in HOLDING:
                for path in found.holds:
                    self.held[path].append(found.says)
        self.outlets: dict[str, list[Outlet]] = defaultdict(list)
        for outlet in sheet.outlets:
            self.outlets[outlet.run].append(outlet)
        self.pipes: dict[str | None, list[Downpipe]] = defaultdict(list)
        for pipe in sheet.downpipes:
            self.pipes[pipe.outlet].append(pipe)

    def all(self) -> list[SheetPart]:
        parts = [
            self._part("defaults", "job", "Whole job", None, self.sheet.defaults),
            *(self._run(run) for run in self.sheet.runs),
        ]
        for run_id in [one for one in self.outlets if self.house.run(one) is None]:
            parts += [self._outlet(one, f"Outlet on no run ({run_id})") for one in self.outlets[run_id]]
        for outlet_id in [one for one in self.pipes if one not in self.house.outlet_of]:
            parts += [self._pipe(one, f"Downpipe with no outlet ({one.id})") for one in self.pipes[outlet_id]]
        if self.sheet.totals:
            totals = [
                shown(f"totals.{one.what}", one.what, one.value, f"the stated {one.what}")
                for one in self.sheet.totals
            ]
            parts.append(SheetPart("totals", "totals", "The measurer's own count", totals))
        return parts

    def _run(self, run: Run) -> SheetPart:
        storey = f" ({run.storey})" if run.storey and run.storey.casefold() not in run.name.casefold() else ""
        part = self._part(f"runs.{run.id}", "run", f"{start(run.name)}{storey}", run, run)
        if run.next_run:
            path = f"runs.{run.id}.next_run"
            part.values.append(ShownValue(path, "Next run", run.next_run, (READ,), typed=run.next_run))
        if self.house.run(run.id) is run:
            part.parts = [self._outlet(one) for one in self.outlets.get(run.id, [])]
        return part

    def _outlet(self, outlet: Outlet, heading: str | None = None) -> SheetPart:
        named = start(of_outlet(outlet, self.house).removeprefix("the "))
        part = self._part(f"outlets.{outlet.id}", "outlet", heading or named, outlet, outlet)
        if self.house.outlet_of.get(outlet.id) is outlet:
            part.parts = [self._pipe(one) for one in self.pipes.get(outlet.id, [])]
        return part

    def _pipe(self, pipe: Downpipe, heading: str | None = None) -> SheetPart:
        named = f"Downpipe {short_pipe(pipe, self.house)}"
        return self._part(f"downpipes.{pipe.id}", "downpipe", heading or named, pipe, pipe)

    def _part(
        self, path: str, kind: str, heading: str, part: Run | Outlet | Downpipe | None, holder: Model
    ) -> SheetPart:
        group = path.partition(".")[0]
        values, addable = [], []
        for name in type(holder).model_fields:
            label = start(FIELD_WORDS.get(name, ""))
            if not label:
                continue
            value = getattr(holder, name)
            told = of_path(f"{path}.{name}", name, part, self.house)
            if isinstance(value, list):
                values += [
                    shown(f"{path}.{name}.{number}", f"{label} {number}", one, told)
                    for number, one in enumerate(value, start=1)
                ]
            elif value is not None or name in _ALWAYS[group]:
                values.append(shown(f"{path}.{name}", label, value, told))
            else:
                addable.append((f"{path}.{name}", label))
        lines = tuple(sorted({words.line for words in getattr(holder, "source", None) or []}))
        return SheetPart(path, kind, heading, values, [], addable, self.held.get(path, []), lines)


def shown(path: str, label: str, reading: Reading[Any] | None, told: str = "") -> ShownValue:
    """A reading as the page shows it; None where nobody said anything. `told`: the value in a sentence."""
    name = field_of(path)
    if reading is None:
        return ShownValue(path, label, "", marks_of(None), told=told)
    return ShownValue(
        path,
        label,
        "" if reading.value is None else shown_value(reading.value, name),
        marks_of(reading),
        reading.why or "",
        tuple(shown_value(one.value, name) for one in _before(reading) if one.value is not None),
        tuple(f"{shown_value(one.value, name)} ({one.why})" for one in reading.could_be),
        tuple(sorted({words.line for words in _all_words(reading)})),
        "" if reading.value is None else shown_value(reading.value, name),
        reading.by,
        told,
    )


def _before(reading: Reading[Any]) -> Iterator[Reading[Any]]:
    """What the reading was, the latest first, all the way back."""
    for one in reading.was:
        yield one
        yield from _before(one)


def _all_words(reading: Reading[Any]) -> Iterator[Source]:
    yield from reading.source
    for one in _before(reading):
        yield from one.source

"""What the reader saw, line by line: which words went to which value, how, and which went nowhere."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.checking.house import House
from gutterance.checking.wording import of_path, of_run, shown
from gutterance.render.readback import SIGNS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.sheet.models import Reading, Sheet, Source

WORDS = {
    "read": "read",
    "doubtful": "doubtful",
    "missing": "missing",
    "assumed": "assumed",
    "inferred": "worked out",
    "corrected": "corrected",
}
UNREAD = "not understood"
REPAIRED = "put right"
NAMED = "tells of a run"
REMARK = "remark"
TITLE = "title"


@dataclass(slots=True)
class Mark:
    """What some words of one line became. `what` are the values they went to, `how` the word for it."""

    what: list[str]
    value: str
    how: str
    sign: str
    why: str
    spans: list[tuple[int, int]] = field(default_factory=list)
    number: int = 0


@dataclass(slots=True)
class SeenLine:
    """A line of the note: its place, when it was said, and its marks in the order of their words."""

    where: str
    heard: str | None
    text: str
    marks: list[Mark]


def seen_lines(sheet: Sheet) -> list[SeenLine]:
    """Every line of the note with what its words became. Marks are numbered from 1 in each line."""
    marks: dict[int, dict[tuple[Any, ...], Mark]] = {}
    first: dict[int, Source] = {}
    for source in sheet.sources():
        known = first.get(source.line)
        if known is None or (source.seconds and (known.seconds is None or source.seconds < known.seconds)):
            first[source.line] = source
    for words, mark in _all_marks(sheet):
        by_line: dict[int, list[tuple[int, int]]] = {}
        for source in words:
            by_line.setdefault(source.line, []).append((source.start, source.end))
        for line, spans in by_line.items():
            key = (tuple(sorted(spans)), mark.value, mark.how, mark.why)
            same = marks.setdefault(line, {}).get(key)
            if same is not None:
                same.what += [what for what in mark.what if what not in same.what]
                continue
            marks[line][key] = Mark(
                list(mark.what), mark.value, mark.how, mark.sign, mark.why, sorted(set(spans))
            )
    lines = []
    for number, text in enumerate(sheet.note, start=1):
        here = sorted(marks.get(number, {}).values(), key=lambda one: one.spans)
        for place, mark in enumerate(here, start=1):
            mark.number = place
        said = first.get(number)
        where = said.where() if said is not None else f"line {number}"
        lines.append(SeenLine(where, said.heard() if said is not None else None, text, here))
    return lines


def wordless(sheet: Sheet) -> list[Mark]:
    """The values that have no words of the note behind them."""
    house = House(sheet)
    return [
        _mark(of_path(placed.path, placed.field, placed.part, house), placed.reading, placed.field)
        for placed in house.placed
        if not placed.reading.source
    ]


def _all_marks(sheet: Sheet) -> Iterator[tuple[list[Source], Mark]]:
    from gutterance.sheet.models import Source

    house = House(sheet)
    if sheet.title:
        at = next(
            (
                (number, line.find(sheet.title))
                for number, line in enumerate(sheet.note, start=1)
                if sheet.title in line
            ),
            None,
        )
        if at is not None:
            words = Source(line=at[0], start=at[1], end=at[1] + len(sheet.title), text=sheet.title)
            yield [words], Mark(["the title"], sheet.title, TITLE, "", "")
    for run in sheet.runs:
        yield run.source, Mark([of_run(run)], "", NAMED, "", "")
    for placed in house.placed:
        what = of_path(placed.path, placed.field, placed.part, house)
        yield placed.reading.source, _mark(what, placed.reading, placed.field)
        for before in placed.reading.was:
            told = f"{what}, before it was corrected"
            yield before.source, Mark([told], _value(before, placed.field), "was", SIGNS["corrected"], "")
    for remark in sheet.remarks:
        run_of = house.run(remark.about) if remark.about else None
        about = f" about {of_run(run_of)}" if run_of is not None else ""
        what = f"a remark{about}: {remark.kind}"
        yield [remark.source], Mark([what], "", REMARK, "!" if remark.kind == "hazard" else "", "")
    for unread in sheet.unread:
        yield [unread.source], Mark(["nothing"], "", UNREAD, "!", unread.why)


def _mark(what: str, reading: Reading[Any], name: str) -> Mark:
    status = "missing" if reading.value is None else reading.status
    how, sign = WORDS[status], SIGNS.get(status, "")
    why = reading.why or ""
    if "was taken for" in why:
        how, sign = f"{how}, {REPAIRED}", f"{sign}«»".strip()
    if reading.could_be:
        others = " or ".join(shown(one.value, name) for one in reading.could_be)
        why = f"{why}; it could be {others}" if why else f"it could be {others}"
    return Mark([what], _value(reading, name), how, sign, why)


def _value(reading: Reading[Any], name: str) -> str:
    return "____" if reading.value is None else shown(reading.value, name)

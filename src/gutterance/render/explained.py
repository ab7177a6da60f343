"""What the reader saw, line by line: which words went to which value, how, and which went nowhere."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from gutterance.checking.house import House, run_path
from gutterance.checking.wording import of_path, of_run, shown
from gutterance.render.readback import SIGNS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.house import Placed
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
    """What some words of one line became. `what` are the values they went to, `how` the word for it.

    `paths` are the same values as paths of the sheet: `runs.front.length`, `remarks.2`, `unread.1`, `title`.
    """

    what: list[str]
    value: str
    how: str
    sign: str
    why: str
    spans: list[tuple[int, int]] = field(default_factory=list)
    number: int = 0
    paths: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Stretch:
    """A stretch of a line's words on which the same marks lie, and those of them that end with it."""

    text: str
    marks: list[Mark]
    closing: list[Mark]


@dataclass(slots=True)
class SeenLine:
    """A line of the note: its place, when it was said, and its marks in the order of their words."""

    where: str
    heard: str | None
    text: str
    marks: list[Mark]

    def stretches(self) -> Iterator[Stretch]:
        """The text cut wherever a mark begins or ends; put together again, it is the line as given."""
        edges = {0, len(self.text)}
        opens: dict[int, list[tuple[int, Mark]]] = {}
        for mark in self.marks:
            for start, end in mark.spans:
                edges |= {min(start, len(self.text)), min(end, len(self.text))}
                opens.setdefault(start, []).append((end, mark))
        on: list[tuple[int, Mark]] = []
        for start, stop in pairwise(sorted(edges)):
            on = [(end, mark) for end, mark in on if end > start] + opens.get(start, [])
            closing = sorted((mark for end, mark in on if end == stop), key=lambda one: one.number)
            yield Stretch(self.text[start:stop], [mark for _, mark in on], closing)


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
                same.paths += [path for path in mark.paths if path not in same.paths]
                continue
            marks[line][key] = replace(
                mark, what=list(mark.what), paths=list(mark.paths), spans=sorted(set(spans))
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
        _mark(of_path(placed.path, placed.field, placed.part, house), placed)
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
            yield [words], Mark(["the title"], sheet.title, TITLE, "", "", paths=["title"])
    for run in sheet.runs:
        yield run.source, Mark([of_run(run)], "", NAMED, "", "", paths=[run_path(run)])
    for placed in house.placed:
        what = of_path(placed.path, placed.field, placed.part, house)
        yield placed.reading.source, _mark(what, placed)
        for before in placed.reading.was:
            told = f"{what}, before it was corrected"
            was = Mark([told], _value(before, placed.field), "was", SIGNS["corrected"], "")
            was.paths = [placed.path]
            yield before.source, was
    for number, remark in enumerate(sheet.remarks, start=1):
        run_of = house.run(remark.about) if remark.about else None
        about = f" about {of_run(run_of)}" if run_of is not None else ""
        what = f"a remark{about}: {remark.kind}"
        sign = "!" if remark.kind == "hazard" else ""
        yield [remark.source], Mark([what], "", REMARK, sign, "", paths=[f"remarks.{number}"])
    for number, unread in enumerate(sheet.unread, start=1):
        yield [unread.source], Mark(["nothing"], "", UNREAD, "!", unread.why, paths=[f"unread.{number}"])


def _mark(what: str, placed: Placed) -> Mark:
    reading, name = placed.reading, placed.field
    status = "missing" if reading.value is None else reading.status
    how, sign = WORDS[status], SIGNS.get(status, "")
    why = reading.why or ""
    if "was taken for" in why:
        how, sign = f"{how}, {REPAIRED}", f"{sign}«»".strip()
    if reading.could_be:
        others = " or ".join(shown(one.value, name) for one in reading.could_be)
        why = f"{why}; it could be {others}" if why else f"it could be {others}"
    return Mark([what], _value(reading, name), how, sign, why, paths=[placed.path])


def _value(reading: Reading[Any], name: str) -> str:
    return "____" if reading.value is None else shown(reading.value, name)

"""A note read, with short ways to hold each value against its status and the words it came from."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length
from gutterance.notes import decode_note
from gutterance.reading import read_by_rules

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from gutterance.sheet.models import Reading, Sheet, Source

OPEN = ("doubtful", "missing")


@dataclass(frozen=True)
class Seen:
    """The sheet of a note, and what a careful office person looks for on it."""

    lines: list[str]
    sheet: Sheet

    def at(self, path: str) -> Reading[Any]:
        """The reading at a path; the test fails where there is none."""
        reading = self.sheet.reading_at(path)
        said = [at for at, _ in self.sheet.readings()]
        assert reading is not None, f"nothing at {path}: {said}, unread {[u.text for u in self.sheet.unread]}"
        return reading

    def says(self, path: str, value: Any, words: str | None = None, status: str = "read") -> Reading[Any]:
        """The value at a path, its status, and the words that gave it (the first of its sources)."""
        reading = self.at(path)
        assert reading.value == value, f"{path}: {reading.value} ({reading.why})"
        assert reading.status == status, f"{path}: {reading.status} ({reading.why})"
        if words is not None:
            assert reading.source[0].text == words, f"{path}: {[source.text for source in reading.source]}"
        return reading

    def feet(
        self, path: str, feet: int, inches: str | int = 0, words: str | None = None, status: str = "read"
    ) -> Reading[Any]:
        """A length of feet and inches (`inches` as `7 1/2`)."""
        return self.says(path, feet_inches(feet, inches), words, status)

    def inches(
        self, path: str, inches: str | int, words: str | None = None, status: str = "read"
    ) -> Reading[Any]:
        """A length of inches alone."""
        return self.says(path, feet_inches(0, inches), words, status)

    def mm(self, path: str, mm: int, words: str | None = None, status: str = "read") -> Reading[Any]:
        """A length of millimetres (25.4 to the inch exactly: NIST SP 811, appendix B.8)."""
        reading = self.at(path)
        assert reading.value is not None
        assert reading.value.inches == Fraction(mm * 10, 254), f"{path}: {reading.value} ({reading.why})"
        assert reading.status == status, f"{path}: {reading.status} ({reading.why})"
        if words is not None:
            assert reading.source[0].text == words, f"{path}: {[source.text for source in reading.source]}"
        return reading

    def ends(self, run: str, left: str | None, right: str | None) -> None:
        """Both ends of a run, read outright."""
        for side, end in (("left", left), ("right", right)):
            if end is None:
                assert self.sheet.reading_at(f"runs.{run}.{side}_end") is None
            else:
                self.says(f"runs.{run}.{side}_end", end)

    def asked(self, path: str) -> None:
        """Nobody may rest on this: it is missing, doubtful, or a gap that the checker asks about."""
        reading = self.sheet.reading_at(path)
        assert reading is None or reading.status in OPEN, f"{path}: {reading.value} is {reading.status}"

    def asked_or_right(self, path: str, value: Any) -> None:
        """A plain reading may be asked about, but it may not be wrong while shown as certain."""
        reading = self.sheet.reading_at(path)
        if reading is not None and reading.status not in OPEN:
            assert reading.value == value, f"{path}: {reading.value} is shown as {reading.status}"

    def runs(self, *ids: str) -> None:
        """The runs of the sheet, in the order they were walked."""
        assert [run.id for run in self.sheet.runs] == list(ids)

    def outlets(self, run: str, *places: str) -> None:
        """The places of a run's outlets, read outright."""
        found = self.sheet.outlets_of(run)
        assert sorted(str(outlet.from_) for outlet in found) == sorted(places)
        for outlet in found:
            assert outlet.place is not None
            assert outlet.place.status not in OPEN, outlet.place.why

    def unread(self, words: str) -> None:
        """A number listed as unread, with its words and a reason."""
        texts = {unread.text: unread.why for unread in self.sheet.unread}
        assert texts.get(words), f"{words!r} is not unread: {texts}"

    def remark(self, kind: str, words: str, about: str | None = None) -> None:
        """A remark of that kind that holds the words."""
        said = [(remark.kind, remark.text, remark.about) for remark in self.sheet.remarks]
        assert any(k == kind and words in text and (about is None or a == about) for k, text, a in said), said

    def shown(self, words: str) -> bool:
        """Whether these words stand in a remark, in `unread` or in the title."""
        places = [remark.text for remark in self.sheet.remarks] + [one.text for one in self.sheet.unread]
        return any(words in text for text in [*places, self.sheet.title or ""])

    def never_a_value(self, words: str) -> None:
        """No value of the sheet came from these words, and the sheet still shows them somewhere."""
        spots = [
            (number, line.index(words), line.index(words) + len(words))
            for number, line in enumerate(self.lines, start=1)
            if words in line
        ]
        assert spots, f"{words!r} is not in the note"
        number, start, end = spots[0]
        for path, reading in self.sheet.readings():
            for source in all_sources(reading):
                over = source.line == number and source.start < end and start < source.end
                assert not over or reading.value is None, f"{path} = {reading.value} from {source.text!r}"
        assert self.shown(words), f"{words!r} is on the sheet nowhere"


def feet_inches(feet: int, inches: str | int = 0) -> Length:
    """An exact length of feet and inches, worked out here rather than by the reader."""
    whole = sum((Fraction(part) for part in str(inches).split()), Fraction(0))
    return Length(feet * 12 + whole)


def all_sources(reading: Reading[Any]) -> Iterator[Source]:
    """The words of a reading and of all it was before."""
    yield from reading.source
    for old in reading.was:
        yield from all_sources(old)


@pytest.fixture
def read() -> Callable[..., Seen]:
    """Read a note given line by line; every source must be the very words that stand there."""

    def read_lines(*lines: str) -> Seen:
        sheet = read_by_rules(lines)[0]
        for _, reading in sheet.readings():
            for source in all_sources(reading):
                assert lines[source.line - 1][source.start : source.end] == source.text
            if reading.value is not None:
                assert reading.source, "a value with no words behind it"
        for group in (sheet.remarks, sheet.unread):
            for one in group:
                source = one.source
                assert lines[source.line - 1][source.start : source.end] == source.text == one.text
        return Seen(list(lines), sheet)

    return read_lines


@pytest.fixture
def listen() -> Callable[..., Seen]:
    """Read a transcript as its file holds it: captions or JSON."""

    def listen_to(data: str, name: str = "walk") -> Seen:
        note = decode_note(data.encode(), name)
        return Seen(list(note.lines_text()), read_by_rules(note)[0])

    return listen_to

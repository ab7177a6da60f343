"""Lines of a note put together otherwise before they are read, and the way back to the lines as given."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.numerals import every_numeral
from gutterance.sheet.models import Model, Remark, Source, Unread

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.sheet.models import Sheet

LOST_NUMBER = "its other words found a place, but this part of it stands on a line of its own"


@dataclass(slots=True)
class Piece:
    """A part of a line as read: where it begins there, and which stretch of which given line it is.

    One with `as_whole` was written for words of the note that only point at it: its source is all of them.
    """

    start: int
    number: int
    given_start: int
    length: int
    as_whole: int | None = None


class RewrittenLines:
    """The lines of a note as they are read, each of pieces of the lines given."""

    def __init__(self, given: Sequence[str]) -> None:
        self.given = given
        self.lines: list[str] = []
        self.pieces: list[list[Piece]] = []
        self.aside: list[tuple[Source, str]] = []
        """Words that are left out, and why their numbers are no values."""

    def source(self, number: int, start: int, end: int) -> Source:
        """A stretch of a given line, without the blanks at its ends, as a source."""
        text = self.given[number - 1][start:end]
        start += len(text) - len(text.lstrip())
        text = text.strip()
        return Source(line=number, start=start, end=start + len(text), text=text)

    def put_back(self, sheet: Sheet) -> None:
        """Every source of the sheet to its places in the lines as given; what was left out is unread."""
        parts: dict[int, list[Source]] = {}
        for source in sheet.sources():
            if id(source) not in parts:
                parts[id(source)] = self._parts_of(source)
        for owner in _with_sources(sheet):
            owner[:] = [one for source in owner for one in parts.get(id(source), [source])]
        for remark in sheet.remarks:
            remark.source = parts[id(remark.source)][0]
            remark.text = remark.source.text
        for unread in sheet.unread:
            unread.source = parts[id(unread.source)][0]
            unread.text = unread.source.text
        for source, why in self.aside:
            sheet.unread.append(Unread(text=source.text, source=source, why=why))
        sheet.note = list(self.given)
        self._account(sheet)

    def _parts_of(self, source: Source) -> list[Source]:
        """The stretches of the given lines that a source of a line as read lies on."""
        found = []
        for piece in self.pieces[source.line - 1]:
            first = max(source.start, piece.start)
            last = min(source.end, piece.start + piece.length)
            if first < last or (source.start == source.end == piece.start):
                if piece.as_whole is not None:
                    found.append(self.source(piece.number, piece.given_start, piece.as_whole))
                    continue
                start = piece.given_start + first - piece.start
                found.append(self.source(piece.number, start, start + last - first))
        return _joined(found, self.given) or [self.source(self.pieces[source.line - 1][0].number, 0, 0)]

    def _account(self, sheet: Sheet) -> None:
        """List what a remark or a number lost when it was cut at a line's end."""
        covered: dict[int, list[tuple[int, int]]] = {}
        for source in sheet.sources():
            covered.setdefault(source.line, []).append((source.start, source.end))
        for number, text in enumerate(self.given, start=1):
            for start, end in every_numeral(text):
                if any(first < end and start < last for first, last in covered.get(number, [])):
                    continue
                if sheet.title is not None and text[start:end] in sheet.title:
                    continue
                source = self.source(number, start, end)
                sheet.unread.append(Unread(text=source.text, source=source, why=LOST_NUMBER))


def _joined(parts: list[Source], given: Sequence[str]) -> list[Source]:
    """Stretches of one line with nothing but marks between them as one."""
    joined: list[Source] = []
    for part in parts:
        last = joined[-1] if joined else None
        between = given[part.line - 1][last.end : part.start] if last is not None else ""
        if last is None or last.line != part.line or part.start < last.end or re.search(r"[^\W_]", between):
            joined.append(part)
        elif part.text:
            last.end = part.end
            last.text = given[part.line - 1][last.start : last.end]
    return joined


def _with_sources(sheet: Sheet) -> list[list[Source]]:
    """Every list of sources on the sheet."""
    found: list[list[Source]] = []

    def look(part: object) -> None:
        if isinstance(part, list):
            if part and all(isinstance(item, Source) for item in part):
                found.append(part)
            else:
                for item in part:
                    look(item)
        elif isinstance(part, Model) and not isinstance(part, Source | Remark | Unread):
            for name in type(part).model_fields:
                look(getattr(part, name))

    look(sheet)
    return found

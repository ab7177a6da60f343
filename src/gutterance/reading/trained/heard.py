"""A note's items as the trained reader sees them, brought back to the lines as they were given."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.trained.symbols import symbols_of
from gutterance.sheet.models import Run, Sheet, Source

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.trained.symbols import Symbol


class Heard:
    """The symbols of the reading that made most of the note's lines into items."""

    def __init__(self) -> None:
        self.symbols: list[Symbol] = []
        self.metric = False

    def offer(self, lines: dict[int, list[Symbol]], words: Sheet, *, metric: bool) -> None:
        """Take a reading's symbols where it has more than those before; `words` says where they stand."""
        if sum(map(len, lines.values())) <= len(self.symbols):
            return
        kept = [lines[number] for number in sorted(lines) if lines[number]]
        places = iter(words.runs[0].source)
        for line in kept:
            for symbol in line:
                source = next(places)
                symbol.line, symbol.start, symbol.end = source.line, source.start, source.end
        self.symbols, self.metric = symbols_of(kept), metric


def carried(lines: dict[int, list[Symbol]], note: Sequence[str]) -> Sheet:
    """A sheet that only carries the places of symbols, so that they are put back as a note's sources are."""
    places = [
        Source(line=symbol.line, start=symbol.start, end=symbol.end, text=symbol.text)
        for number in sorted(lines)
        for symbol in lines[number]
    ]
    return Sheet(runs=[Run(id="", name="", source=places)], note=list(note))

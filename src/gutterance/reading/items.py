"""What a line of a note is made of: measures, trade terms, breaks and other words, each with its place."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.sheet.models import Source

if TYPE_CHECKING:
    from gutterance.measure.tape import Found
    from gutterance.reading.lexicon import Term
    from gutterance.reading.pipeline import Reader

BREAKS = {
    ",": 1,
    ";": 3,
    ".": 4,
    "!": 4,
    "|": 1,
    "(": 1,
    ")": 1,
    "/": 0,
    "-": 1,
    "–": 1,
    "—": 1,
    "•": 4,
    "*": 1,
}
"""How strongly a mark parts what stands on either side of it: 0 joins, 4 ends a sentence."""
STRUCTURE = frozenset({"measure", "end", "end word", "outlet", "downpipe", "cue", "ends at", "count"})
"""Kinds of items that are measured or counted on a gutter: words with one of them are no mere remark."""


@dataclass(slots=True)
class Item:
    """One piece of a line. `kind` is 'measure', 'break', 'word', or a lexicon concept."""

    line: int
    start: int
    end: int
    text: str
    kind: str
    value: Any = None
    found: Found | None = None
    term: Term | None = None
    strength: int = 0
    was: list[Item] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    marks: dict[str, Any] = field(default_factory=dict)

    def on_line(self, number: int) -> Item:
        """The same on a line of that number, with lists and marks of its own, as read and not yet heard."""
        return Item(
            number,
            self.start,
            self.end,
            self.text,
            self.kind,
            self.value,
            self.found,
            self.term,
            self.strength,
            [item.on_line(number) for item in self.was],
            [*self.doubts],
            {
                name: mark.on_line(number) if isinstance(mark, Item) else mark
                for name, mark in self.marks.items()
            },
        )

    def sources(self) -> list[Source]:
        """The words of this item, and of the small words that came with it: the `two` of `two drops`."""
        return [self.source(), *(other.source() for other in self.marks.get("with", ()))]

    def source(self) -> Source:
        """The words of this item as a source."""
        return Source(line=self.line, start=self.start, end=self.end, text=self.text)

    @property
    def plural(self) -> bool:
        """Whether the term speaks of more than one."""
        return self.term is not None and self.term.plural


@dataclass(slots=True)
class Line:
    """A line of the note, with its items in order, and the reader that found them."""

    number: int
    text: str
    items: list[Item]
    reader: Reader | None = field(default=None, repr=False, compare=False)

    def source(self, start: int = 0, end: int | None = None) -> Source:
        """A stretch of this line, without the blanks at its ends, as a source."""
        end = len(self.text) if end is None else end
        words = self.text[start:end]
        start += len(words) - len(words.lstrip())
        words = words.strip()
        return Source(line=self.number, start=start, end=start + len(words), text=words)

"""A note as the trained reader sees it: one symbol for each item, and one where a line ends."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.tape import settle

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gutterance.measure.tape import Found
    from gutterance.reading.items import Item

SOFT = frozenset({"word", "filler"})
"""Kinds of items that only fill."""
MARKS = frozenset({"break", "mark", "colon"})
PLACES = frozenset({"place", "initial", "quarter"})
LINE_END = "line end"
BANDS = (4, 14, 30, 60, 100, 150, 260, 500, 1000)
"""Where lengths [in] are parted by what they may measure: a throw, a height, a run."""


@dataclass(slots=True)
class Symbol:
    """One item with what the trained reader looks at. `key` is what it is like: its kind and its value.

    `place` is (storey, part, direction, number) and `name` its id where the item may name a run. `context`
    is the part of the house under whose heading it stands.
    """

    kind: str
    value: str
    text: str
    line: int
    start: int
    end: int
    key: str
    found: Found | None = None
    place: tuple[str | None, str | None, str | None, str | None] | None = None
    name: str | None = None
    context: str | None = None
    was: tuple[tuple[int, int], ...] = ()

    @property
    def soft(self) -> bool:
        """Whether it only fills."""
        return self.kind in SOFT or self.kind == "mark"

    @property
    def parts(self) -> int:
        """How strongly it parts what stands on either side: 0 not, 1 a little, 2 a sentence, 3 a line."""
        if self.kind == LINE_END:
            return 3
        if self.kind in ("break", "colon"):
            return 2 if self.text in ".;!" else 1
        return 0


def symbols_of(lines: Iterable[Sequence[Symbol]]) -> list[Symbol]:
    """The symbols of lines in turn, with a line's end before each and behind the last."""
    out: list[Symbol] = []
    for line in lines:
        out.append(_line_end(line[0].line if line else 0))
        out.extend(line)
    out.append(_line_end(0))
    return out


def _line_end(number: int) -> Symbol:
    return Symbol(LINE_END, "", "\n", number, 0, 0, LINE_END)


def symbol_of(item: Item, *, metric: bool, context: str | None = None) -> Symbol:
    """An item as a symbol, made before anything is done with the item."""
    place = getattr(item.value, "id", None) if item.kind == "place" else None
    symbol = Symbol(
        item.kind,
        place if place is not None else str(item.value),
        item.text,
        item.line,
        item.start,
        item.end,
        "",
        item.found if item.kind == "measure" else None,
        context=context,
        was=tuple((old.start, old.end) for old in item.was),
    )
    if place is not None:
        value = item.value
        symbol.place, symbol.name = (value.storey, value.part, value.direction, value.number), place
    elif item.kind in ("initial", "quarter", "lr"):
        symbol.place, symbol.name = (None, None, symbol.value, None), symbol.value
    symbol.key = _key(symbol, metric)
    return symbol


def _key(symbol: Symbol, metric: bool) -> str:
    if symbol.found is not None:
        return f"M:{shape(symbol.found, metric=metric)}"
    if symbol.kind == "place" and symbol.place is not None:
        storey, part, direction, number = symbol.place
        side = direction if direction in ("left side", "right side") else "side" if direction else ""
        return f"P:{'s' if storey else ''}{'p' if part else ''}{'n' if number else ''}{side}"
    if symbol.kind in SOFT or symbol.kind in MARKS:
        return f"w:{symbol.text.lower()}"
    return f"{symbol.kind}:{symbol.value}"


def shape(found: Found, *, metric: bool) -> str:
    """What a number looks like: what it surely is, or how long it would be as a run and as a throw."""
    if found.kind == "other":
        return f"other:{found.what}"
    lengths = [
        read.length.inches
        for field in ("run", "wall to fascia")
        if (read := settle(found, field, metric=metric)) is not None
    ]
    most = max(lengths, default=0)
    band = next((str(band) for band in BANDS if most <= band), "more")
    return f"{found.kind}:{band}"


def pattern(text: str) -> str:
    """Words with each digit as 9, cut short: `9' 9`."""
    return re.sub(r"\d", "9", text.lower())[:14]

"""The key below the plan: what each symbol on it means, the dangers by number, and what is not to scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.drawing import symbols
from gutterance.render.drawing.scene import Line, Mark, Text, folded, moved

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.render.drawing.scene import Point
    from gutterance.render.drawing.walk_round import Turned

_TEXT = 9.5
_ROW = 24.0
_COLUMN = 178.0
_UP: Point = (0.0, -1.0)
_OVER: Point = (1.0, 0.0)


def _end(kind: Turned) -> list[Mark]:
    return [Line(((0, 0), (9, 0)), 3.0), *symbols.free_end((9, 0), _UP, _OVER, kind)]


def _outlet(*, pipe: bool) -> list[Mark]:
    marks = symbols.outlet((8, 0), _UP, known=True, pipe=pipe)
    return [moved(mark, (0, 5)) for mark in marks] if pipe else marks


_SYMBOLS: dict[str, tuple[str, Callable[[], list[Mark]]]] = {
    "outside": ("outside corner", lambda: symbols.corner((8, 0), "outside")),
    "inside": ("inside corner", lambda: symbols.corner((8, 0), "inside")),
    "free": ("end cap", lambda: _end("free")),
    "wall": ("ends at a wall", lambda: _end("wall")),
    "unknown end": ("end not known", lambda: _end("unknown")),
    "outlet": ("outlet", lambda: _outlet(pipe=False)),
    "downpipe": ("downpipe, wall side", lambda: _outlet(pipe=True)),
    "high point": ("high point", lambda: [moved(mark, (0, 4)) for mark in symbols.high_point((8, 0), _UP)]),
    "fall": ("the water runs this way", lambda: symbols.arrow((0, 0), (18, 0))),
    "splice": ("lap or joint", lambda: [Line(((0, 0), (16, 0)), 3.0), *symbols.splice((8, 0), _UP)]),
    "danger": ("danger, see below", lambda: symbols.danger((8, 1), 1)[:2]),
    "unknown": ("length not known", lambda: [Line(((0, 0), (20, 0)), 2.0, 7.0)]),
    "gap": ("walls do not meet", lambda: [Line(((0, 0), (20, 0)), 1.2, 2.0, "red")]),
}


def key_marks(
    used: set[str], dangers: list[tuple[int, str]], apart: bool, width: float
) -> tuple[list[Mark], float]:
    """The key's marks from (0, 0) down, and how high it is [pt]."""
    marks: list[Mark] = [Line(((0, 4), (width, 4)), 0.6)]
    names = [name for name in _SYMBOLS if name in used]
    across = max(1, int(width // _COLUMN))
    top = 22.0
    for number, name in enumerate(names):
        words, draw = _SYMBOLS[name]
        x, y = number % across * _COLUMN, top + number // across * _ROW
        marks += [moved(mark, (x, y)) for mark in draw()]
        marks.append(Text((x + 24, y + 3), words, _TEXT))
    top += ((len(names) + across - 1) // across) * _ROW
    lines = ["low: how far below its stretch's highest point the gutter hangs. Seen from above."]
    if apart:
        lines.append(
            "Parts that do not meet stand as they are named; how far apart they are was not measured."
        )
    lines += [f"! {number}  {says}" for number, says in dangers]
    for line in lines:
        bold = line.startswith("! ")
        size = _TEXT + 1 if bold else _TEXT
        for part in folded(line, int(width / (size * 0.602)), 6):
            marks.append(Text((0, top + 2), part, size, bold))
            top += size * 1.3
    return marks, top + 4

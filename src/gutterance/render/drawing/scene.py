"""A drawing as a list of marks, in points (1/72 in), x to the right and y down. It knows no file format.

Text is set in a fixed-width face, so that the room a label takes is known before it is drawn.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from gutterance.render.plain import harmless

if TYPE_CHECKING:
    from collections.abc import Sequence

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Ink = Literal["black", "grey", "white", "red", "blue", "none"]

EM = 0.602
"""The width of one character of the fixed-width face, as a part of its size."""
LEADING = 1.22
"""From one line of a label to the next, as a part of the text's size."""


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def centre(self) -> Point:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    def overlaps(self, other: Box) -> bool:
        """Whether the two share any area; touching is no overlap."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def grown(self, by: float) -> Box:
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def around(self, other: Box) -> Box:
        """The smallest box that holds both."""
        return Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )


@dataclass(frozen=True, slots=True)
class Line:
    """A line through two or more points. `dash` is how long its strokes are, 0 for an unbroken one."""

    points: tuple[Point, ...]
    width: float = 1.0
    dash: float = 0.0
    ink: Ink = "black"


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed polygon."""

    points: tuple[Point, ...]
    fill: Ink = "black"
    width: float = 0.0
    ink: Ink = "black"


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    at: Point
    radius: float
    fill: Ink = "white"
    width: float = 1.0
    ink: Ink = "black"


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; `at` is the start, middle or end of its base line. `turned`: read upwards."""

    at: Point
    text: str
    size: float = 8.0
    bold: bool = False
    anchor: Anchor = "start"
    turned: bool = False
    ink: Ink = "black"
    label: int | None = None
    """Which label of the drawing it belongs to, if to any."""

    def box(self) -> Box:
        """The room it takes."""
        along = text_width(self.text, self.size)
        before = {"start": 0.0, "middle": along / 2, "end": along}[self.anchor]
        x, y = self.at
        if self.turned:
            return Box(x - self.size * 0.8, y + before - along, x + self.size * 0.22, y + before)
        return Box(x - before, y - self.size * 0.8, x - before + along, y + self.size * 0.22)


Mark = Line | Shape | Circle | Text


@dataclass(slots=True)
class Scene:
    """A drawing of a width and height [pt]; marks later in the list lie over earlier ones."""

    width: float
    height: float
    marks: list[Mark] = field(default_factory=list)
    title: str = ""
    labels: list[Box] = field(default_factory=list)
    """The rooms of all labels, for the test that none lies over another."""

    def add(self, *marks: Mark) -> None:
        """Draw over what is there."""
        self.marks += marks

    def texts(self) -> list[Text]:
        """Every line of text, in drawing order."""
        return [one for one in self.marks if isinstance(one, Text)]

    def data(self) -> dict[str, Any]:
        """The scene as plain data, for a page that draws it with tools of its own."""
        return {"width": _r(self.width), "height": _r(self.height), "marks": [_plain(m) for m in self.marks]}


def _plain(mark: Mark) -> dict[str, Any]:
    if isinstance(mark, Line):
        points = [[_r(x), _r(y)] for x, y in mark.points]
        return {"k": "line", "p": points, "w": mark.width, "d": mark.dash, "ink": mark.ink}
    if isinstance(mark, Shape):
        points = [[_r(x), _r(y)] for x, y in mark.points]
        return {"k": "shape", "p": points, "w": mark.width, "fill": mark.fill, "ink": mark.ink}
    if isinstance(mark, Circle):
        at = [_r(mark.at[0]), _r(mark.at[1])]
        return {
            "k": "circle",
            "at": at,
            "r": mark.radius,
            "w": mark.width,
            "fill": mark.fill,
            "ink": mark.ink,
        }
    at = [_r(mark.at[0]), _r(mark.at[1])]
    return {"k": "text", "at": at, "t": mark.text, "s": mark.size, "b": mark.bold, "a": mark.anchor,
            "turned": mark.turned, "ink": mark.ink, "long": _r(text_width(mark.text, mark.size))}  # fmt: skip


def _r(number: float) -> float:
    return round(number, 2)


def moved(mark: Mark, by: Point) -> Mark:
    """The same mark elsewhere."""
    dx, dy = by
    if isinstance(mark, Line):
        return Line(tuple((x + dx, y + dy) for x, y in mark.points), mark.width, mark.dash, mark.ink)
    if isinstance(mark, Shape):
        return Shape(tuple((x + dx, y + dy) for x, y in mark.points), mark.fill, mark.width, mark.ink)
    x, y = mark.at
    if isinstance(mark, Circle):
        return Circle((x + dx, y + dy), mark.radius, mark.fill, mark.width, mark.ink)
    return Text(
        (x + dx, y + dy), mark.text, mark.size, mark.bold, mark.anchor, mark.turned, mark.ink, mark.label
    )


def scaled(mark: Mark, by: float) -> Mark:
    """The same mark larger or smaller, its words and pens too, about the scene's left upper corner."""
    if isinstance(mark, Line):
        points = tuple((x * by, y * by) for x, y in mark.points)
        return Line(points, mark.width * by, mark.dash * by, mark.ink)
    if isinstance(mark, Shape):
        return Shape(tuple((x * by, y * by) for x, y in mark.points), mark.fill, mark.width * by, mark.ink)
    x, y = mark.at[0] * by, mark.at[1] * by
    if isinstance(mark, Circle):
        return Circle((x, y), mark.radius * by, mark.fill, mark.width * by, mark.ink)
    size = mark.size * by
    return Text((x, y), mark.text, size, mark.bold, mark.anchor, mark.turned, mark.ink, mark.label)


def text_width(text: str, size: float) -> float:
    """How long a line of text is [pt]: wide signs (han, emoji) take two cells, accents none.

    >>> text_width("42' 6", 10)
    30.1
    """
    return round(cells(text) * EM * size, 4)


def cells(text: str) -> int:
    """How many cells of a fixed-width face a text takes."""
    if text.isascii():
        return len(text)
    return sum(_cells_of(one) for one in text)


def _cells_of(one: str) -> int:
    if unicodedata.combining(one) or unicodedata.category(one) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(one) in "WF" or ord(one) >= 0x1F000 else 1


def shown(text: str) -> str:
    """Words of a note as a drawing can hold them: one line, and no sign that XML forbids."""
    return "".join("?" if one in "\ufffe\uffff" else one for one in harmless(text))


def folded(text: str, across: int, most: int = 2) -> list[str]:
    """A name in at most `most` lines of `across` cells; the last ends in … where more was to come.

    >>> folded("left side of the garage", 12)
    ['left side of', 'the garage']
    >>> folded("a" * 30, 12)
    ['aaaaaaaaaaaa', 'aaaaaaaaaaa…']
    """
    lines = [""]
    for word in shown(text).split():
        rest = word
        while rest:
            room = across - cells(lines[-1]) - (1 if lines[-1] else 0)
            if cells(rest) <= room:
                lines[-1] += (" " if lines[-1] else "") + rest
                rest = ""
            elif cells(rest) > across and room > 3:
                head = _head(rest, room)
                lines[-1] += (" " if lines[-1] else "") + head
                rest = rest[len(head) :]
                lines.append("")
            else:
                lines.append("")
    lines = [line for line in lines if line]
    if len(lines) > most:
        kept = lines[:most]
        kept[-1] = _head(kept[-1], across - 1) + "…"
        return kept
    return lines


def _head(text: str, across: int) -> str:
    taken, used = 0, 0
    for one in text:
        used += _cells_of(one)
        if used > across:
            break
        taken += 1
    return text[: max(taken, 1)]


def bounds(points: Sequence[Point]) -> Box:
    """The box round some points."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))

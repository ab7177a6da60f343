"""A downpipe from the side, top to bottom: each part with its cut, and the straps with their heights.

Not to scale: the parts stand in their order, the numbers count. Straps: up from the wall pipe's foot.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.drawing.scene import Circle, Line, Mark, Point, Scene, Shape, Text, folded, shown
from gutterance.render.plain import cut, short, tape

if TYPE_CHECKING:
    from gutterance.lists.models import DownpipeList

WIDTH, HEIGHT = 250.0, 228.0
SIZE = 9.0
_PIPE = 96.0
_OUT = 40.0
_TOP, _FOOT = 57.0, 206.0
_LINE = 11.5
_WORDS = _PIPE + 22
_ACROSS = int((WIDTH - _WORDS) / (SIZE * 0.602))


def draw_pipe(pipe: DownpipeList) -> Scene:
    """One downpipe, on paper of a fixed size, so that they stand in rows."""
    scene = Scene(WIDTH, HEIGHT, title=shown(pipe.id))
    scene.add(Text((2, 12), folded(pipe.id, 30, 1)[0] if shown(pipe.id) else "?", 12, True))
    what = " ".join(one for one in (pipe.place, pipe.size, pipe.colour) if one)
    for number, line in enumerate(folded(what, int(WIDTH / (SIZE * 0.602)) - 1, 2)):
        scene.add(Text((2, 25 + number * _LINE), line, SIZE))
    if pipe.hold:
        scene.add(Shape(((168, 1), (248, 1), (248, 16), (168, 16)), "white", 1.6, "black"))
        scene.add(Text((208, 12), "DO NOT CUT", SIZE, True, "middle"))
    straight = pipe.rule == "straight"
    low = _TOP + 52
    scene.add(*_pipe_line(straight, low))
    _words(scene, pipe, low)
    return scene


def _pipe_line(straight: bool, low: float) -> list[Mark]:
    """The gutter, the pipe to the wall and down it, the wall itself hatched."""
    wall = _PIPE + 8
    top = _PIPE if straight else _OUT
    way: tuple[Point, ...] = ((_PIPE, _TOP), (_PIPE, _FOOT))
    if not straight:
        way = ((_OUT, _TOP), (_OUT, _TOP + 12), (_PIPE, low - 10), (_PIPE, _FOOT))
    gutter = ((top - 14, _TOP - 16), (top - 10, _TOP), (top + 12, _TOP), (top + 12, _TOP - 16))
    marks: list[Mark] = [Line(gutter, 1.6), Line(((wall, low - 26), (wall, _FOOT + 6)), 1.0)]
    marks += [Line(((wall, y), (wall + 5, y - 5)), 0.5) for y in range(int(low) - 18, int(_FOOT) + 6, 9)]
    if not straight:  # fascia and soffit, which the gooseneck comes back under
        marks.append(
            Line(((top + 14, _TOP - 18), (top + 14, _TOP + 3), (wall, _TOP + 3), (wall, low - 26)), 1.0)
        )
    marks += [Line(way, 7.0), Line(way, 5.0, ink="white")]
    marks += [Circle(at, 1.8, "black", 0.0) for at in way[1:-1]]
    return marks


def _words(scene: Scene, pipe: DownpipeList, low: float) -> None:
    right: list[tuple[float, str, bool]] = []
    if pipe.rule == "straight":
        right.append((_TOP + 8, "straight down", False))
    elif pipe.rule in ("elbow to elbow", "elbows trimmed"):
        right.append((_TOP + 2, "elbow into elbow", True))
        if pipe.trim is not None:
            right.append((_TOP + 3, f"cut {short(pipe.trim)} off each leg", False))
    else:
        right.append((_TOP + 2, f"gooseneck {cut(pipe.gooseneck)}", True))
    if pipe.drop is not None:
        right.append((_TOP + 4, f"drop {short(pipe.drop)}", False))
    right.append((low + 16, f"wall pipe {cut(pipe.wall_pipe)}", True))
    if len(pipe.wall_cuts) > 1:
        right += [
            (low + 17, f"{number}: {cut(one)}", False) for number, one in enumerate(pipe.wall_cuts, start=1)
        ]
    for bend in pipe.bends:
        over = "" if bend.way == "arm" else f" over {short(bend.throw)}"
        right.append((low + 40, f"{bend.what}{over}", True))
        right += [(low + 41, f"cut {cut(one)}", False) for one in bend.cuts]
        right.append((low + 42, f"drop {short(bend.drop)}", False))
        if bend.above_foot is not None:
            right.append((low + 43, f"{tape(bend.above_foot)} up", False))
    if pipe.tail is not None:
        right.append((_FOOT - 6, f"tail {cut(pipe.tail)}", True))
    if pipe.ends_at:
        right.append((_FOOT, f"to {pipe.ends_at}", False))
    _column(scene, right)
    _straps(scene, pipe, low)


def _column(scene: Scene, words: list[tuple[float, str, bool]]) -> None:
    """Words beside the pipe, each at or below its place, none over another; the paper grows if need be."""
    top = 0.0
    for at, text, bold in words:
        for line in folded(text, _ACROSS, 3):
            top = max(at + 6, top + _LINE)
            scene.add(Text((_WORDS, top), line, SIZE + (1 if bold else 0), bold))
    scene.height = max(scene.height, top + 8)


def _straps(scene: Scene, pipe: DownpipeList, low: float) -> None:
    """Straps from the top down, by their share of the wall pipe's length."""
    if not pipe.straps:
        return
    highest = max(float(one.inches) for one in pipe.straps)
    span = max(float(pipe.wall_pipe.inches) if pipe.wall_pipe is not None else highest, highest, 1.0)
    top = low - 4
    for one in sorted(pipe.straps, key=lambda strap: -strap.inches):
        at = _FOOT - (_FOOT - low) * float(one.inches) / span
        top = max(at + 3, top + _LINE)
        scene.add(Line(((_PIPE - 7, at), (_PIPE + 7, at)), 2.4))
        scene.add(Text((_PIPE - 12, top), tape(one), SIZE, False, "end"))
    scene.add(Text((2, _FOOT + 18), "straps: up from the wall pipe's foot", SIZE - 1))
    scene.height = max(scene.height, top + 8)

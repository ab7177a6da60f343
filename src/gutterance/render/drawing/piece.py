"""A piece of gutter from above with the wall at the top: how each end is cut, and where its holes are.

Its ends are pictograms of our own, its length is not to scale; holes keep their order and their side.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.drawing.scene import Circle, Line, Mark, Scene, Shape, Text

if TYPE_CHECKING:
    from gutterance.lists.models import Piece, PieceEnd

HEIGHT = 52.0
_TOP, _LIP = 6.0, 28.0
_SIDE = 34.0
_SLANT = 20.0
_SIZE = 9.0


def draw_piece(piece: Piece, width: float) -> Scene:
    """The piece on paper `width` [pt] wide."""
    scene = Scene(width, HEIGHT)
    left, right = _SIDE, width - _SIDE
    corners = (
        (left, _TOP),
        (right, _TOP),
        (right + _lip(piece.right), _LIP),
        (left - _lip(piece.left), _LIP),
    )
    scene.add(Shape(corners, "white", 1.8, "black"))
    scene.add(Line(((left, _TOP), (right, _TOP)), 3.2))
    scene.add(*_end(piece.left, left, -1), *_end(piece.right, right, 1))
    back = float(piece.back.inches) if piece.back is not None and piece.back.inches > 0 else None
    last = -1e9
    for hole in sorted(
        piece.outlets, key=lambda one: one.from_left.inches if one.from_left is not None else 0
    ):
        if hole.from_left is None or back is None:
            continue
        part = min(max(float(hole.from_left.inches) / back, 0.0), 1.0)
        x = left + 14 + (right - left - 28) * part
        x = min(max(x, last + 13), right - 9)
        last = x
        scene.add(Circle((x, (_TOP + _LIP) / 2 + 1), 5.5, "white", 2.0))
    scene.add(Text((2, HEIGHT - 8), end_words(piece, "left"), _SIZE, True))
    scene.add(Text((width - 2, HEIGHT - 8), end_words(piece, "right"), _SIZE, True, "end"))
    return scene


def end_words(piece: Piece, side: str) -> str:
    """An end in words: `outside mitre`, `inside mitre 45°`, `lap, over`."""
    left = side == "left"
    end, angle = (piece.left, piece.left_angle) if left else (piece.right, piece.right_angle)
    lap = piece.left_lap if left else piece.right_lap
    if end == "lap" and lap in ("over", "under"):
        return f"lap, {lap}"
    if end == "wall":
        return "cap at wall"
    return f"{end} {angle}°" if angle else ("end not known" if end == "unknown" else end)


def _lip(end: PieceEnd) -> float:
    """How much further the lip reaches than the back: out at an outside mitre, in at an inside one."""
    return {"outside mitre": _SLANT, "inside mitre": -_SLANT}.get(end, 0.0)


def _end(end: PieceEnd, x: float, way: int) -> list[Mark]:
    middle = (_TOP + _LIP) / 2
    if end in ("outside mitre", "inside mitre"):
        return [Line(((x, _TOP), (x + way * _lip(end), _LIP)), 3.4)]
    if end in ("outside box", "inside box"):
        out = x + way * 22
        arm = _LIP + 10 if end == "inside box" else _TOP - 5
        box = ((x - way * 3, _TOP), (out, _TOP), (out, _LIP), (x - way * 3, _LIP))
        return [Shape(box, "white", 1.6, "black"), Line(((x, _TOP), (out, _LIP)), 1.0),
                Line(((out, middle), (out, arm)), 2.4)]  # fmt: skip
    bar: list[Mark] = [Line(((x, _TOP - 4), (x, _LIP + 4)), 5.0)]
    if end == "wall":
        return bar + [
            Line(((x + way * 4, y), (x + way * 11, y - 6)), 1.2) for y in range(int(_TOP), int(_LIP) + 5, 6)
        ]
    if end == "end cap":
        return bar
    if end == "lap":
        return [Line(((x - way * off, _TOP), (x - way * off, _LIP)), 1.6) for off in (0, 5)]
    if end == "expansion joint":
        zigzag = ((x, _TOP), (x + 5, _TOP + 6), (x - 5, _TOP + 11), (x + 5, _TOP + 16), (x, _LIP))
        return [Line(zigzag, 2.0)]
    return [Text((x + way * 14, middle + 7), "?", 20, True, "middle")]

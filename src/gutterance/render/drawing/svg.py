"""A scene as SVG: text as text, black and white first, nothing in it that runs or is fetched."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from typing import TYPE_CHECKING

from gutterance.render.drawing.scene import Circle, Line, Shape, text_width

if TYPE_CHECKING:
    from gutterance.render.drawing.scene import Mark, Point, Scene

_INKS = {
    "black": "#000",
    "grey": "#777",
    "white": "#fff",
    "red": "#b00000",
    "blue": "#003f8a",
    "none": "none",
}
_FACE = "'DejaVu Sans Mono', 'Liberation Mono', Menlo, Consolas, monospace"
_XMLNS = "http://www.w3.org/2000/svg"


def svg_text(scene: Scene) -> str:
    """The scene as an SVG document, in points."""
    width, height = _number(scene.width), _number(scene.height)
    root = ElementTree.Element(
        "svg",
        {
            "xmlns": _XMLNS,
            "width": f"{width}pt",
            "height": f"{height}pt",
            "viewBox": f"0 0 {width} {height}",
            "font-family": _FACE,
            "role": "img",
        },
    )
    ElementTree.SubElement(root, "title").text = scene.title
    ElementTree.SubElement(root, "rect", {"width": width, "height": height, "fill": "#fff"})
    for mark in scene.marks:
        _draw(root, mark)
    ElementTree.indent(root, " ")
    return ElementTree.tostring(root, encoding="unicode") + "\n"


def _draw(root: ElementTree.Element, mark: Mark) -> None:
    if isinstance(mark, Line):
        words = {"points": _points(mark.points), "fill": "none", **_stroke(mark.width, mark.ink)}
        if mark.dash:
            words["stroke-dasharray"] = f"{_number(mark.dash)} {_number(mark.dash * 0.7)}"
        ElementTree.SubElement(root, "polyline", words)
    elif isinstance(mark, Shape):
        words = {"points": _points(mark.points), "fill": _INKS[mark.fill], **_stroke(mark.width, mark.ink)}
        ElementTree.SubElement(root, "polygon", words)
    elif isinstance(mark, Circle):
        x, y = mark.at
        words = {"cx": _number(x), "cy": _number(y), "r": _number(mark.radius), "fill": _INKS[mark.fill]}
        ElementTree.SubElement(root, "circle", {**words, **_stroke(mark.width, mark.ink)})
    else:
        x, y = mark.at
        words = {"x": _number(x), "y": _number(y), "font-size": _number(mark.size), "fill": _INKS[mark.ink]}
        if mark.anchor != "start":
            words["text-anchor"] = mark.anchor
        if mark.bold:
            words["font-weight"] = "bold"
        if mark.turned:
            words["transform"] = f"rotate(-90 {_number(x)} {_number(y)})"
        # whatever face the reader has, the text keeps to the room it was given
        words["textLength"] = _number(text_width(mark.text, mark.size))
        words["lengthAdjust"] = "spacingAndGlyphs"
        words["xml:space"] = "preserve"
        ElementTree.SubElement(root, "text", words).text = mark.text


def _stroke(width: float, ink: str) -> dict[str, str]:
    if not width:
        return {}
    return {"stroke": _INKS[ink], "stroke-width": _number(width), "stroke-linejoin": "round"}


def _points(points: tuple[Point, ...]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")

"""The few kinds of block that papers are made of, as plain data. Words in them are words, never markup."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.render.plain import harmless, unbroken

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.render.drawing.scene import Scene

Block = dict[str, Any]


def words(text: str) -> str:
    """Words of a note or a list made harmless, no length in them broken over two lines."""
    return unbroken(harmless(text))


def heading(text: str, size: float = 13) -> Block:
    """A heading, on one page with what follows it."""
    return {"k": "heading", "t": words(text), "s": size}


def said(text: str, *, bold: bool = False, mark: str = "", size: float = 9.5, leads: bool = False) -> Block:
    """A paragraph, its mark (`?`, `~`, `!`) hung before it; one that `leads` stays with what follows."""
    return {"k": "said", "t": words(text), "b": bold, "m": mark, "s": size, "leads": leads}


def drawing(scene: Scene, most_high: float = 600.0) -> Block:
    """A drawing, made smaller where it is larger than the page."""
    return {"k": "drawing", "scene": scene.data(), "high": most_high}


def cells(blocks: Sequence[Sequence[Block]], across: int) -> Block:
    """Blocks side by side, so many across."""
    return {"k": "cells", "cells": [list(one) for one in blocks], "across": across}


def boxed(title: str, blocks: Sequence[Block]) -> Block:
    """Blocks in a heavy frame with its title in white on black: what must not be made, what is dangerous."""
    return {"k": "boxed", "t": words(title), "blocks": list(blocks)}


def table(
    head: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[str], *, big: Sequence[int] = (),
    tick: bool = False,
) -> Block:  # fmt: skip
    """A table with its head repeated on each page; a cell's lines are parted by line ends.

    `widths` are `auto` or parts (`1fr`); `big` columns are larger; `tick` puts a box to tick before each row.
    """
    return {
        "k": "table",
        "head": [words(one) for one in head],
        "rows": [["\n".join(map(words, one.split("\n"))) for one in row] for row in rows],
        "widths": list(widths),
        "big": list(big),
        "tick": tick,
    }

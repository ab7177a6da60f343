"""What a number measures by the words right behind it: `5.2 from gutter to flags`, `310 off the wall`."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.prose.chunks import Chunk

ROLES = {"height behind": "height", "out behind": "wall_to_fascia", "wide": "aside"}
"""What chunks right behind a number say that it measures."""


def role_behind(chunks: list[Chunk], number: int, subject: str) -> tuple[str | None, int]:
    """The role that the words behind a number give it, or None; and the chunk behind those words."""
    place = number + 1
    while place < len(chunks) and (
        chunks[place].kind == "each" or chunks[place].text in ("only", "exactly", "deep")
    ):
        place += 1
    if place >= len(chunks):
        return None, number + 1
    kind, text = chunks[place].kind, chunks[place].text
    if kind == "height behind":
        further = chunks[place + 1].kind if place + 1 < len(chunks) else ""
        return ("height", place + 1) if text != "of it" or further == kind else (None, number + 1)
    if kind in ROLES:
        return ROLES[kind], place + 1
    if kind == "length behind":
        return ("length" if subject in ("run", "length", "other") else "height"), place + 1
    if kind == "distance behind":
        return "distance", place + 1
    if kind == "prep" and text == "to" and place + 1 < len(chunks) and chunks[place + 1].kind == "drops":
        return "height", place + 2  # `has 2.98 metres to fall`
    if text in ("down", "drop", "fall"):
        return "height", place + 1
    if kind == "dest" and text.startswith("to the ") and subject in ("pipe", "height"):
        return "height", number + 1
    if kind == "stands out" and text in ("overhang", "projection", "soffit"):
        return "wall_to_fascia", place + 1
    if (
        kind == "prep"
        and text == "from"
        and any(chunk.kind in ("side", "corner", "hand") for chunk in chunks[place + 1 : place + 4])
    ):
        return "distance", place + 1
    return None, number + 1

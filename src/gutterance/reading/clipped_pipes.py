"""Words cut short beside a pipe: `w/f 16, blk` is its splash block, `drop cap end` is at the cap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item

if TYPE_CHECKING:
    from gutterance.reading.items import Line

ENDINGS = {"blk": "splash block", "block": "splash block", "blck": "splash block", "boot": "drain"}
"""What such a word is where a pipe was measured before it in the line. Common practice, no source."""
PIPE_CUES = frozenset({"wall_to_fascia", "height", "down"})
OF_THE_JOB = frozenset({"profile", "material", "thickness"})
THINGS = frozenset({"outlet", "downpipe"})


def endings_of_pipes(line: Line) -> None:
    """`DS L 9-2, w/f 16, blk`: where a pipe ends, in a word that elsewhere is a colour, or nothing."""
    if any(item.kind in OF_THE_JOB for item in line.items):
        return
    told = measured = False
    for number, item in enumerate(line.items):
        told = told or item.kind in THINGS or (item.kind == "cue" and item.value in PIPE_CUES)
        measured = measured or (told and item.kind == "measure")
        meant = ENDINGS.get(item.text.lower())
        if meant is None or not measured or item.kind not in ("word", "colour", "filler", "landmark"):
            continue
        behind = line.items[number + 1] if number + 1 < len(line.items) else None
        if behind is None or behind.kind in ("break", "mark", "all"):
            item.kind, item.value, item.term = "ends at", meant, None


def pipes_at_named_ends(line: Line) -> None:
    """`drop cap end 8-3`: as `drop at cap end`."""
    items: list[Item] = []
    for number, item in enumerate(line.items):
        items.append(item)
        behind = line.items[number + 1 : number + 3]
        if (
            item.kind in THINGS
            and len(behind) == 2
            and behind[0].kind == "end"
            and behind[1].text.lower() in ("end", "side")
        ):
            items.append(Item(item.line, behind[0].start, behind[0].start, "at", "filler", "at"))
    line.items = items

"""A bay in one block of a form: `left 2' 2"   face 6' 4"   right 2' 2"` where a length was asked for."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from gutterance.reading.written_answers import Answer, meaning_of, read_answer

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.items import Item
    from gutterance.reading.paper import Paper

DIRECTIONS = {
    "left": "left side", "l": "left side", "lh": "left side", "lhs": "left side", "right": "right side",
    "r": "right side", "rh": "right side", "rhs": "right side", "face": "front", "front": "front",
    "middle": "front", "centre": "front", "center": "front", "mid": "front",
}  # fmt: skip
"""What each piece of a bay is called on the sheet."""
BEFORE = re.compile(r"(?P<word>[A-Za-z]+)\W*(?:side|return)?\W*\Z")
"""The word before a measure."""
IN_ORDER = ("left side", "front", "right side")
"""The pieces of a bay from left to right, as one stands before it."""


def length_of_parts(answer: Answer, paper: Paper) -> bool:
    """Put the length of each piece to a run of its own. False where the answer does not tell of pieces."""
    run = paper.run
    paper.parts = []
    if run is None or run.place.part is None or run.place.direction is not None or len(answer.measures) < 2:
        return False
    named = _named(answer)
    if named is None:
        return False
    told: dict[str, RunDraft] = {}
    for direction, item in named.items():
        part = read_answer([(answer.line, item.start, item.end)], answer.label, answer.legend)
        told[direction] = paper.focus(replace(run.place, direction=direction), part)
        paper.put("length", part)
    if not run.has_data and run in paper.walk.runs:
        paper.walk.runs.remove(run)
    paper.parts = [told[direction] for direction in IN_ORDER if direction in told]
    # what else is asked of it is of its face, where its outlet is
    paper.run = told.get("front", paper.parts[0])
    paper.walk.run, paper.walk.outlets = paper.run, []
    return True


def _named(answer: Answer) -> dict[str, Item] | None:
    """The measure of each piece, where each has its name before it and no two have the same."""
    named: dict[str, Item] = {}
    here = answer.start
    for item in answer.measures:
        word = BEFORE.search(answer.line.text[here : item.start])
        direction = DIRECTIONS.get(word["word"].lower()) if word is not None else None
        if item.line != answer.line.number or direction is None or direction in named:
            return None
        named[direction] = item
        here = item.end
    return named


def ends_of_parts(answer: Answer, paper: Paper) -> bool:
    """Ends told of all pieces at once: walls are where it leaves the house, corners between its pieces.

    What was worked out so is asked about. False where the block was not told in pieces.
    """
    runs = paper.parts
    if len(runs) < 2 or paper.run not in runs:
        return False
    told = {item.value: item for item in answer.of("end", "end word")}
    for part in answer.parts(re.compile(r"\s*[,;/.]\s*|\s+and\s+|\s+on\s+")):
        meant = meaning_of(part, "end")
        if meant is not None and meant[1]:
            told.setdefault(meant[0], part.as_item)
    corner = next((item for value, item in told.items() if value.endswith("corner")), None)
    wall = next((item for value, item in told.items() if value == "wall"), None)
    for number, run in enumerate(runs):
        first, last = number == 0, number == len(runs) - 1
        _put(run, "left_end", wall if first else corner, told, paper)
        _put(run, "right_end", wall if last else corner, told, paper)
    return bool(told)


def _put(run: RunDraft, name: str, item: Item | None, told: dict[str, Item], paper: Paper) -> None:
    if item is None:
        return
    value = next(value for value, one in told.items() if one is item)
    reading: Any = paper.walk.text(value, item)
    reading.status = "doubtful"
    reading.why = f"taken from what was said of all of the {run.place.part}'s pieces at once"
    paper.walk.put(run.fields, name, reading, item)

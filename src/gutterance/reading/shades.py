"""Colours of more than one word, and colours that nobody listed: `Woodland Grey`, `quad 115, Surfmist`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.sheet.models import Reading

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

NO_SHADES = frozenset(
    {"colour", "color", "trim", "gutter", "gutters", "finish", "paint", "alum", "both", "coil", "job"}
)  # fmt: skip
"""Words before a colour that are no part of its name."""
SPECIFIES = frozenset({"profile", "material"})
"""Kinds of items in a line that says what the gutter is."""
SIZES = frozenset({"gutter size", "pipe size", "material size", "thickness"})
LONGEST_COLOUR = 2
"""A colour's name has no more words than this."""
SHORTEST_WORD = 4
"""A shorter unknown word is rather an abbreviation than a colour."""


def name_shades(items: list[Item], text: str) -> list[Item]:
    """The items of a line with a capital word before a capital colour as part of its name."""
    out: list[Item] = []
    for item in items:
        before = out[-1] if out else None
        if before is not None and item.kind == "colour" and _is_shade(out, item, text):
            whole = Item(item.line, before.start, item.end, text[before.start : item.end], "colour")
            whole.value, whole.term = whole.text.lower(), item.term
            out[-1] = whole
            continue
        out.append(item)
    return out


def _is_shade(out: list[Item], item: Item, text: str) -> bool:
    """Whether the last of the items before a colour is a part of its name."""
    before = out[-1]
    if text[before.end : item.start] != " ":
        return False
    if before.kind == "colour":
        return True  # `basalt grey`
    alone = len(out) < 2 or out[-2].kind != "word"
    capitals = before.text[0].isupper() and item.text[0].isupper()
    known = len(before.text) >= SHORTEST_WORD and before.text.lower() not in NO_SHADES
    return before.kind == "word" and before.text.isalpha() and capitals and known and alone


def guess_colour(lines: list[Line], walk: Walk) -> None:
    """Where no colour was told, an unknown word by itself among what the gutter is made of may be one."""
    if "colour" in walk.defaults:
        return
    guesses = [guess for line in lines if _specifies(line) for guess in _alone(line)]
    if len(guesses) != 1:
        return
    line, words = guesses[0]
    source = line.source(words[0].start, words[-1].end)
    walk.defaults["colour"] = Reading(
        value=source.text.lower(),
        status="doubtful",
        source=[source],
        why=f"{source.text!r} is not a colour that the reader knows: is it one?",
    )
    walk.use_source(source)


def _specifies(line: Line) -> bool:
    """Whether a line says what the gutter is, and measures no run."""
    sized = any(item.found is not None and item.found.what in SIZES for item in line.items)
    said = {item.kind for item in line.items}
    return (sized or bool(said & SPECIFIES)) and not said & {
        "place",
        "direction",
        "end",
        "end pair",
        "remark",
    }


def _alone(line: Line) -> list[tuple[Line, list[Item]]]:
    """Stretches of a line between marks that are a word or two that nobody knows, with a capital."""
    parts: list[list[Item]] = [[]]
    for item in line.items:
        if item.kind == "break" and item.strength != 0:
            parts.append([])
        else:
            parts[-1].append(item)
    return [
        (line, part)
        for part in parts
        if 1 <= len(part) <= LONGEST_COLOUR
        and all(item.kind == "word" and item.text.isalpha() for item in part)
        and len(part[0].text) >= SHORTEST_WORD
        and part[0].text[0].isupper()
    ]

"""The key of a table or a form: what its abbreviations and its labels mean, in the note's own words."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.labels import built_in_labels, plain
from gutterance.reading.written_answers import scan_words

if TYPE_CHECKING:
    from gutterance.reading.items import Item, Line

PAIR = re.compile(
    r"(?P<code>[A-Za-z][\w/&.]{0,6}(?: [A-Za-z]\w{0,5})?)\s*(?:=|→|->|\bis\b|\bmeans\b|:)"
    r"\s*(?P<means>[^=;,.|]+)",
    re.IGNORECASE,
)
"""`o = outside corner`."""
PLAIN_PAIR = re.compile(r"\A\s*(?P<code>[A-Z]{1,3})\s+(?P<means>[a-z][a-z ]+)\Z")
"""`O outside`, in a list of such."""
KEY_HEAD = re.compile(r"\A\W*(?:key|legend|abbreviations?|abbrev|codes?)\s*[:=-]", re.IGNORECASE)
"""A line that says that it is a key."""
STARTS_LEFT = re.compile(
    r"\b(?:starts?|from|begin\w*|1st end)\b\W*(?:is|=|at|means|:)?\W*(?:the |on the )?(?:left|l\b|lh)"
    r"|\bleft to right\b|\bl to r\b|\bgoing (?:to the )?right\b|\banti-?clockwise\b|\bcounter-?clockwise\b",
    re.IGNORECASE,
)
"""Words by which a note says that its runs start at their left end."""
STARTS_RIGHT = re.compile(
    r"\b(?:starts?|from|begin\w*)\b\W*(?:is|=|at|means|:)?\W*(?:the |on the )?(?:right|r\b|rh)"
    r"|\bright to left\b|\bgoing (?:to the )?left\b"
    r"|(?<!anti)(?<!anti-)(?<!counter)(?<!counter-)\bclockwise\b",
    re.IGNORECASE,
)
"""... or at their right end."""
FEWEST_PAIRS = 2
"""A line with fewer pairs is no key, unless it says that it is one."""


@dataclass(slots=True)
class Key:
    """What a note's key says of each abbreviation, where runs start, and the lines that say it."""

    means: dict[str, Item] = field(default_factory=dict)
    starts_left: bool | None = None
    lines: set[int] = field(default_factory=set)


def find_key(lines: list[Line]) -> Key:
    """The key of a note."""
    legend = Key()
    for line in lines:
        pairs = _pairs(line)
        for code, item in pairs:
            legend.means.setdefault(plain(code), item)
        left, right = STARTS_LEFT.search(line.text), STARTS_RIGHT.search(line.text)
        if bool(left) != bool(right) and legend.starts_left is None:
            legend.starts_left = left is not None
        if pairs or _tells_ends(line):
            legend.lines.add(line.number)
    return legend


def _tells_ends(line: Line) -> bool:
    """`Start is the left end, finish the right`: a line that only says what two labels mean."""
    words = plain(line.text).split()
    return (
        any(word in ("start", "from", "starts") for word in words)
        and any(word in ("finish", "end", "to", "ends") for word in words)
        and "left" in words
        and "right" in words
        and not any(char.isdigit() for char in line.text)
        and bool({"start", "starts", "from"} & set(words[:2]))
    )


def _pairs(line: Line) -> list[tuple[str, Item]]:
    """The abbreviations that a line explains, each with what it means."""
    text = line.text
    key = KEY_HEAD.match(text)
    start = key.end() if key else 0
    found: list[tuple[str, Item]] = []
    parts = [part for part in re.finditer(r"[^,;|]+", text[start:]) if part.group().strip()]
    for part in parts:
        match = PAIR.fullmatch(part.group().strip(" .")) or PLAIN_PAIR.match(part.group().strip(" ."))
        if match is None:
            continue
        offset = start + part.start() + part.group().index(match.group())
        item = _meaning(line, offset + match.start("means"), offset + match.end("means"))
        if item is not None and len(match["code"]) < len(match["means"]):
            found.append((match["code"], item))
    enough = len(found) >= FEWEST_PAIRS and len(found) * 2 > len(parts)
    return found if enough or (key is not None and found) else []


def _meaning(line: Line, start: int, end: int) -> Item | None:
    """What the words behind an abbreviation mean: an end of a run, where a pipe ends, or a side."""
    if any(char.isdigit() for char in line.text[start:end]):
        return None
    items = [item for item in scan_words(line, start, end) if item.kind != "filler"]
    if len(items) == 1 and items[0].kind in ("end", "end word", "ends at"):
        return items[0]
    words = plain(line.text[start:end])
    from gutterance.reading.items import Item as MadeItem

    for what, kind in (("end", "end"), ("ends_at", "ends at")):
        value = built_in_labels().answers[what].get(words)
        if value is not None:
            return MadeItem(line.number, start, end, line.text[start:end], kind, value)
    named = [item for item in items if item.kind in ("end", "end word", "ends at")]
    return named[0] if len(named) == 1 and len(items) <= 3 else None

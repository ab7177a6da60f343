"""Short names of sides that are other words as well: `ft` for the front beside `bk`, `Est` beside `Nth`.

Which they are, the note as a whole tells: no line opens with a unit.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_OTHER_SIDES = r"(?:bk|bck|back|rear|rr|gar|grg|garage|lt|rt|porch)"
_NO_NAME = r"(?:lin|lineal|linear|sq|total|tot|of|about|abt|approx|run|max|min|by|x|and|or|to|is|the|a)"
FT_OPENS = re.compile(
    rf"\A\W*(?:(?!{_NO_NAME}\b)[a-z]+\.?\s+)?(?P<name>ft)\b(?=\s*[:=-]?\s*\d)", re.IGNORECASE
)
"""`ft 52-3 caps`, `gar ft 24`: a name opens a line, and its length stands behind it."""
FT_BEHIND_INCHES = re.compile(r"\d['’′-]\d{1,2}[\"”″]?\s+(?P<name>ft)\b", re.IGNORECASE)
"""`hts 9'4 ft 9'10 rr`: a number that has its feet and inches needs no unit."""
FT_BESIDE_A_SIDE = re.compile(
    rf"\d\s*(?P<name>ft)\b(?=\s*(?:[,/&+]\s*\d[\d'’.-]*|\s(?:\d+['’.-]\d*|[1-9]\d))\s+{_OTHER_SIDES}\b)",
    re.IGNORECASE,
)
"""`HT 8 FT, 10 BK`: numbers by turns with the names of sides."""
FT_LAST = re.compile(rf"\b{_OTHER_SIDES}[\s,:]+[\d'’.-]+\s+(?P<name>ft)\s*\Z", re.IGNORECASE)
"""`ht 9 6 bk, 8 10 ft`: the last of them."""
FT_BEFORE_NUMBER = re.compile(r"(?:[:;,/(]|[a-z])\s*(?<![a-z])(?P<name>ft)\b(?=:?\s*\d)", re.IGNORECASE)
"""`ht: ft 9-2 bk 9-10`: a name before its number."""
BACK = re.compile(rf"\b{_OTHER_SIDES}\b", re.IGNORECASE)
EST_OPENS = re.compile(r"\A\W*(?P<name>est)\b\.?(?=\s*[:=-]?\s*\d)", re.IGNORECASE)
OTHER_COMPASS = re.compile(r"\A\W*(?:nth|sth|wst|[nsw]|north|south|west)\b\.?\s*[:=-]?\s*\d", re.IGNORECASE)
FEWEST_COMPASS = 2
"""Beside so many lines that open with a direction of the compass, `est` is another."""


def sides_cut_short(texts: Sequence[str]) -> frozenset[str]:
    """The short words that name sides in this note.

    >>> sorted(sides_cut_short(["ft 52-3 caps d L", "bk 52-3 caps", "ht: ft 9-2 bk 9-10"]))
    ['ft']
    >>> sorted(sides_cut_short(["front 52 ft, caps", "about 9 ft 6 back there"]))
    []
    """
    names = set()
    if any(FT_OPENS.search(text) or FT_BESIDE_A_SIDE.search(text) for text in texts) or any(
        FT_BEHIND_INCHES.search(text) and BACK.search(text) for text in texts
    ):
        names.add("ft")
    compass = sum(OTHER_COMPASS.search(text) is not None for text in texts)
    if compass >= FEWEST_COMPASS and any(EST_OPENS.search(text) for text in texts):
        names.add("est")
    return frozenset(names)


def side_spans(text: str, names: frozenset[str]) -> Iterator[tuple[int, int, str]]:
    """Where such words name a side in a line, and which."""
    if "ft" in names:
        patterns = (FT_OPENS, FT_BEHIND_INCHES, FT_BESIDE_A_SIDE, FT_LAST, FT_BEFORE_NUMBER)
        for start, end in sorted({m.span("name") for pattern in patterns for m in pattern.finditer(text)}):
            yield start, end, "front"
    if "est" in names:
        for match in EST_OPENS.finditer(text):
            yield *match.span("name"), "east"


def without_sides(text: str, names: frozenset[str]) -> str:
    """The text with a stop in place of each such word, so that it is no unit of the number before it."""
    for start, end, _ in list(side_spans(text, names)):
        text = text[:start] + ";".ljust(end - start) + text[end:]
    return text

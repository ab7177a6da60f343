"""Where the runs of a table or a form start: `start = left`, `walked anticlockwise`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.labels import plain

if TYPE_CHECKING:
    from gutterance.reading.items import Line

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


def starts_at_left(lines: list[Line]) -> bool | None:
    """Whether the note says that its runs start at their left end; None where it says neither."""
    for line in lines:
        left, right = STARTS_LEFT.search(line.text), STARTS_RIGHT.search(line.text)
        if bool(left) != bool(right):
            return left is not None
    return None


def tells_ends(line: Line) -> bool:
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

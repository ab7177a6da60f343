"""Shorthand written against its neighbour, set apart before a line is read.

`L9`, `R11-6` behind the ends of a run; `h 9/9/12`, `20/14 oh`: a value for each pipe in turn; `12.2 in/ex`;
`/ out /`: the turns between the runs of a walk told on one line.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.reading.pipeline import Reader

Edit = tuple[int, int, str]
"""Where words of a line stand, and what is read in their place."""
_VALUE = r"\d{1,2}(?:[-'’′]\d{1,2})?(?:['’′]|[\"”″])?|\d{1,2}\.\d{1,3}|\d{3,4}"
_CUE = r"(?P<cue>[A-Za-z][A-Za-z/'’-]{0,9}(?: [a-z]{2,6})?)"
_ROW = rf"(?P<row>(?:{_VALUE})(?:/(?:{_VALUE}))+)"
CUE_FIRST = re.compile(rf"\A\W*{_CUE}\s*[:=]?\s*{_ROW}\W*\Z")
"""`h 9/9/12`, a line of its own."""
CUE_LAST = re.compile(rf"\A\W*{_ROW}\s*{_CUE}\W*\Z")
"""`20/14 oh`, likewise."""
OF_PIPES = frozenset({"height", "down", "wall_to_fascia"})
SIDED_NUMBER = re.compile(
    r"(?<=[\s,])(?P<side>[LRlr]|[LR]H|[lr]h)"
    r"(?:(?P<feet>[6-9]|[1-4]\d)|\d{1,2}(?:-\d{1,2}|['’′](?:\d{1,2}[\"”″]?)?))(?=[\s,/]|\Z)"
)
"""`L9`, `R11-6`."""
LAST_WORD = re.compile(r"(?P<word>[A-Za-z][A-Za-z/-]*)[\s,]*\Z")
INNER_IN = re.compile(
    r"(?<=\d)\s+(?P<in>in)(?=[/-](?:ex|ext|os|osc|out|oc|ec|se|cap|w|wall|in|is|isc|end|e)\b)", re.I
)
"""The `in` of `12.2 in/ex`, which is an inside corner and no inch."""
TURN = re.compile(r"(?<=/)\s*(?P<turn>outside|out|o/?s|ext|o|inside|in|i/?s|int|i)\s*(?=/|\Z)", re.IGNORECASE)
"""A turn between strokes."""
FEWEST_TURNS = 2
ENDS = frozenset({"end", "end word", "end pair"})
THINGS = frozenset({"outlet", "downpipe"})


def set_apart(text: str, reader: Reader) -> Iterator[Edit]:
    """What is read otherwise in a line, in any order."""
    if "/" in text:
        yield from _row_of_values(text, reader)
        yield from _turns(text)
        for match in INNER_IN.finditer(text):
            yield match.start("in"), match.end("in"), "isc"
    yield from _sided_numbers(text, reader)


def _row_of_values(text: str, reader: Reader) -> Iterator[Edit]:
    """`h 9/9/12` as `h 9 - 9 - 12`; where the cue stands behind, it is read before."""
    for pattern in (CUE_FIRST, CUE_LAST):
        match = pattern.match(text)
        term = reader.by_phrase.get(match["cue"].lower()) if match is not None else None
        if match is None or term is None or term.concept != "cue" or term.value not in OF_PIPES:
            continue
        if pattern is CUE_LAST:
            yield match.start("row"), match.start("row"), f"{match['cue']} "
            yield match.start("cue"), match.end("cue"), ""
        row = match.start("row")
        for stroke in re.finditer("/", match["row"]):
            yield row + stroke.start(), row + stroke.end(), " - "
        return


def _turns(text: str) -> Iterator[Edit]:
    """`front 32-4 / out / right 20 / in`: which way the walk turns from each run to the next."""
    turns = [match for match in TURN.finditer(text) if "/ " in text and " /" in text]
    if len(turns) < FEWEST_TURNS:
        return
    for match in turns:
        yield *match.span("turn"), "osc" if match["turn"][0] in "oOeE" else "isc"


def _sided_numbers(text: str, reader: Reader) -> Iterator[Edit]:
    """`40 oc oc L9 R11-6`: behind the ends of a run, a side against the height of its pipe."""
    told = False
    for match in SIDED_NUMBER.finditer(text):
        before = LAST_WORD.search(text[: match.start()])
        term = reader.by_phrase.get(before["word"].lower()) if before is not None else None
        pair = before is not None and re.fullmatch(r"[a-z]{1,3}[/-][a-z]{1,3}", before["word"], re.IGNORECASE)
        known = pair or (term is not None and term.concept in ENDS | THINGS)
        if (known and re.search(r"\d", text[: match.start()])) or told:
            told = True
            yield match.end("side"), match.end("side"), " "
            if match["feet"]:
                # a bare number of feet, since no wall stands back so little or so oddly as `L9`
                yield match.end(), match.end(), "'"

"""Unread numbers that are surely no measurement: telephone numbers, dates, times, prices.

They stand on the sheet as unread, so that no number is lost, but nobody need be asked about them. Anything
that could be a measurement after all stays a doubt.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import TYPE_CHECKING

from gutterance.reading.form_page import NOT_TAKEN, OFFICE_FOOT, QUESTION_NUMBER
from gutterance.reading.ledger import COUNTED_WITH
from gutterance.reading.speakers import SPEAKERS_NUMBER

if TYPE_CHECKING:
    from gutterance.measure.tape import Found
    from gutterance.sheet.models import Sheet, Unread

SURELY_NOT = {
    "phone": "telephone number",
    "date": "date",
    "time": "time of day",
    "duration": "length of time",
    "price": "price",
    "percent": "percentage",
    "ordinal": "place in a row",
    "house number": "house number",
    "label": "number of a row",
}
"""What the tape reader calls a number that is no measurement, and how it is told."""

OF_THE_FORM = {
    QUESTION_NUMBER: "number of a question",
    NOT_TAKEN: "choice not taken",
    OFFICE_FOOT: "for the office",
    SPEAKERS_NUMBER: "number of a speaker",
}
"""What the form's layout, or a speaker's label, says is no measurement, and how it is told."""

_CODE = re.compile(r"[\d#* -]+\Z")
_TRADE_WORD = re.compile(
    r"\W*(?:\w+\W+){0,2}?(?:out ?lets?|drops?|down\w*|leaders?|dps?|ds|spouts?|pipes?|corners?|mit(?:re|er)s?"
    r"|osc|isc|runs?|gutters?|ends?|caps?|offsets?|elbows?|hangers?|brackets?|straps?|bands?|returns?|jogs?|bays?"
    r"|foot|feet|inch(?:es)?|mm|metres?|meters?)\b",
    re.IGNORECASE,
)
"""A trade word just after a count: `3 drops` is something of the job, `2 guys` is not."""


_QUESTION = re.compile(r"\W*Q\s?\d{1,2}\Z", re.IGNORECASE)
"""The number of a question, up to its end."""
_HALF = re.compile(
    r"\b(?:left|right|lt|rt|lh|rh|front|back|rear|upper|lower|other|top|bottom)\s+\Z", re.IGNORECASE
)
"""Words before `half` by which it is a part of the house, and no number."""


class Aside:
    """What the tape reader makes of the unread numbers of one sheet, each line looked at once."""

    def __init__(self, sheet: Sheet) -> None:
        self._note = sheet.note
        self._lines: dict[int, tuple[list[int], list[Found]]] = {}

    def what(self, unread: Unread) -> str | None:
        """What sort of number this surely is that is no measurement (`telephone number`), or None."""
        source = unread.source
        line = self._note[source.line - 1] if 0 < source.line <= len(self._note) else ""
        if line[source.start : source.end] != source.text or not source.text:
            return None  # the words are not where they are said to be: nothing is sure
        if unread.why in OF_THE_FORM:
            return OF_THE_FORM[unread.why]
        if unread.why == COUNTED_WITH:
            return "count"
        if source.text.lower() == "one" and not _TRADE_WORD.match(line, source.end):
            return "word, as in that one"
        if source.text.lower() == "half" and _HALF.search(line[: source.start]):
            return "half of a side"
        starts, found = self._found(source.line, line)
        at = bisect_right(starts, source.start) - 1
        here = found[at] if at >= 0 else None
        if (
            here is None
            or here.kind != "other"
            or not (here.start <= source.start and source.end <= here.end)
        ):
            return None
        if here.what == "count":
            return None if _TRADE_WORD.match(line, here.end) or _TRADE_WORD.search(here.text) else "count"
        if here.what == "code" and _QUESTION.match(line[: source.end]):
            return "number of a question"
        if here.what == "code":
            return "code" if _CODE.match(here.text) else None
        return SURELY_NOT.get(here.what or "")

    def _found(self, number: int, line: str) -> tuple[list[int], list[Found]]:
        if number not in self._lines:
            from gutterance.measure.tape import find_lengths

            found = find_lengths(line)
            self._lines[number] = ([one.start for one in found], found)
        return self._lines[number]

"""Messages copied out of a chat: who wrote and when stand before each, and are no part of what is told.

`Ty 9:02  front 36-5`, `[14/10, 09:02:11] Ty: front 36-5`, `9:02 AM - Ty: front 36-5`, or the two on a line of
their own above the words. They are blanked out sign for sign, so that every place in a line stays true; the
times are set aside as times of day.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.numerals import every_numeral
from gutterance.sheet.models import Source, Unread

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.sheet.models import Sheet

_CLOCK = r"\d{1,2}[:.]\d{2}(?:[:.]\d{2})?(?:\s?[ap]\.?m\b\.?)?"
_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
_DAY = (
    r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?(?:\s+\d{1,2}(?:st|nd|rd|th)?)?"
    r"|today|yesterday|\d{1,4}[/.-]\d{1,2}(?:[/.-]\d{2,4})?"
    rf"|\d{{1,2}}(?:st|nd|rd|th)?\s+{_MONTH}(?:\s+\d{{4}})?|{_MONTH}\s+\d{{1,2}}(?:,?\s+\d{{4}})?)"
)
_WHEN = rf"(?:{_DAY}(?:,|\s+at)?\s+)?{_CLOCK}(?:,?\s+{_DAY})?"
_WHO = r"(?:[A-Z][\w.'’&-]*|\+\d[\d ]{6,14})(?:[ ][\w.'’&()-]+){0,2}?"
_SHAPES = (
    rf"\A\s*[\[(]?{_WHEN}[\])]?\s*[-–—,:]?\s*(?P<who>{_WHO})\s*[:>](?:\s+|\Z)",
    rf"\A\s*(?P<who>{_WHO})\s*[,:]?\s*[\[(]?(?i:{_WHEN})[\])]?\s*(?:[:>–—-]\s*)?(?:\s+|\Z)",
)
SHAPES = tuple(re.compile(shape.replace(_WHEN, f"(?i:{_WHEN})")) for shape in _SHAPES)
"""A time and a name, or a name and a time, at the start of a line."""
FEWEST = 3
"""From so many lines that begin with a name and a time on, they are messages ..."""
SHARE = 0.3
"""... if this share of the lines does (a message may go on over several) ..."""
TIMES_EACH = 2
"""... and each name stands there so many times on the average: a run is named once, a writer every time."""
AS_A_TIME = "looks like a time of day"


@dataclass(slots=True)
class ChatLines:
    """The lines of a chat without who wrote them and when, each place as in the lines given."""

    lines: list[str]
    writers: frozenset[str]
    fronts: list[Source]

    @property
    def by_several(self) -> bool:
        """Whether more than one writes."""
        return len(self.writers) > 1

    def set_aside(self, sheet: Sheet) -> None:
        """List the times before the messages as what they are."""
        for front in self.fronts:
            places = list(every_numeral(front.text))
            if not places:
                continue
            start, end = places[0][0], places[-1][1]
            when = Source(line=front.line, start=start, end=end, text=front.text[start:end])
            sheet.unread.append(Unread(text=when.text, source=when, why=AS_A_TIME))


def chat_lines(given: Sequence[str]) -> ChatLines | None:
    """The lines of a chat without names and times; None for any other note.

    >>> chat = chat_lines(["Ty 9:02  front 36-5", "Ty 9:04  caps", "Al 9:05  drop?", "Ty 9:07  right"])
    >>> chat.lines[0], sorted(chat.writers)
    ('         front 36-5', ['al', 'ty'])
    >>> chat_lines(["Front 9:02 caps", "Back 9:04 caps", "Garage 7:01 caps"]) is None
    True
    """
    filled = sum(bool(text.strip()) for text in given)
    for shape in SHAPES:
        fronts = {number: found for number, text in enumerate(given) if (found := shape.match(text))}
        writers = Counter(_name(found["who"]) for found in fronts.values())
        if len(fronts) < FEWEST or len(fronts) < SHARE * filled:
            continue
        if len(fronts) < TIMES_EACH * len(writers):
            continue
        lines = [
            text if (found := fronts.get(number)) is None else " " * found.end() + text[found.end() :]
            for number, text in enumerate(given)
        ]
        sources = [
            Source(line=number + 1, start=0, end=found.end(), text=found.group())
            for number, found in fronts.items()
        ]
        return ChatLines(lines, frozenset(writers), sources)
    return None


def _name(who: str) -> str:
    return " ".join(who.lower().split())

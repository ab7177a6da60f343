"""Lines that a recorder wrote with the time in front, cut wherever its line was full: put together.

`0:04 front is twenty seven foot` / `0:07 six and a quarter outside corners` is one sentence. A line goes on
with the one before it unless a sentence ended there, or it opens with the next place or thing that is told.
What is put on the sheet is put back to the lines as given, with the times at which it was said.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.rewritten_lines import Piece, RewrittenLines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.sheet.models import Source

STAMP = re.compile(
    r"\A\s*[\[(]?(?:(?P<h>\d{1,2}):)?(?P<m>\d{1,2}):(?P<s>\d{2})(?:[.,](?P<f>\d{1,3}))?[\])]?\s*[-–:]?\s*"
)
"""A time at the start of a line: `[00:12]`, `0:12`, `00:00:12.4 -`."""
FEWEST = 3
"""From so many lines that open with a time on, the times are stamps ..."""
SHARE = 0.6
"""... if this share of the lines has one."""
OPENS = re.compile(
    r"(?:(?:the|and|then|now|okay|ok|so|um|uh|right|next|on|at|over)\s+)*"
    r"(?:front|back|rear|left|right|north|south|east|west|garage|porch|bay|upper|lower|dormer|moving|going"
    r"|round|coming|starting|next|down ?(?:spout|pipe)s?|drops?|outlets?|leaders?|all|everything|gutter"
    r"|it'?s all|careful|watch|watch out|there'?s|that'?s|height|overhang|wall to)\b",
    re.IGNORECASE,
)
"""Words with which something new begins."""
HANGS = re.compile(
    r"(?:\b(?:the|a|an|is|are|was|and|or|to|at|on|in|of|from|with|as|so|it'?s|that'?s|by|into|about|be|for)"
    r"|[-,–—])\s*\Z",
    re.IGNORECASE,
)
"""Words on which no sentence ends."""
LATEST_START = 120
"""A recording begins before this [s]: a first stamp that is later is a time of day."""
SENTENCE_ENDS = re.compile(r"[.?!…][\"”’')\]]*\s*\Z")


class StampedLines(RewrittenLines):
    """The lines of a note with time stamps, put together, and the way back to those given."""

    def __init__(self, given: Sequence[str]) -> None:
        super().__init__(given)
        self.seconds: dict[int, float] = {}
        for number, text in enumerate(given, start=1):
            match = STAMP.match(text)
            begin = match.end() if match is not None else 0
            if match is not None:
                self.seconds[number] = _seconds(match)
                self.aside.append((self.source(number, 0, begin), "looks like a time of day"))
            self._add(number, begin, text[begin:].rstrip())

    def _add(self, number: int, begin: int, said: str) -> None:
        """One line more: behind the one before it, or as a line of its own."""
        if self.lines and said and goes_on(self.lines[-1], said):
            start = len(self.lines[-1]) + 1
            self.lines[-1] += f" {said}"
            self.pieces[-1].append(Piece(start, number, begin, len(said)))
        else:
            self.lines.append(said)
            self.pieces.append([Piece(0, number, begin, len(said))])

    def source(self, number: int, start: int, end: int) -> Source:
        """A stretch of a given line as a source, with the time at which it was said."""
        source = super().source(number, start, end)
        first = self.seconds.get(number)
        if first is not None:
            later = [time for line, time in self.seconds.items() if line > number and time >= first]
            source.seconds = (first, min(later, default=first))
        return source


def stamped_lines(given: Sequence[str]) -> StampedLines | None:
    """The lines put together where most of them open with a time; None for any other note."""
    filled = [text for text in given if text.strip()]
    stamped = sum(STAMP.match(text) is not None for text in filled)
    first = next((match for text in filled if (match := STAMP.match(text)) is not None), None)
    if first is None or _seconds(first) > LATEST_START:
        return None
    if stamped < FEWEST or stamped < SHARE * len(filled):
        return None
    return StampedLines(given)


def goes_on(before: str, after: str) -> bool:
    """Whether a line goes on with the words of the one before it.

    >>> goes_on("front is twenty seven foot", "six and a quarter outside corners")
    True
    >>> goes_on("outside corners both ends", "right side twenty eight foot")
    False
    >>> goes_on("and left side is the same", "as the right side")
    True
    """
    if not before.strip() or SENTENCE_ENDS.search(before):
        return False
    if HANGS.search(before):
        return True
    first = after.lstrip()[:2]
    opens_sentence = first[:1].isupper() and first not in ("I", "I ", "I'", "I’")
    return not opens_sentence and OPENS.match(after.lstrip()) is None


def _seconds(match: re.Match[str]) -> float:
    """The time of a stamp [s]; two numbers are minutes and seconds."""
    whole = int(match["h"] or 0) * 3600 + int(match["m"]) * 60 + int(match["s"])
    return whole + (float(f"0.{match['f']}") if match["f"] else 0.0)

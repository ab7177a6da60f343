"""The lines of a note as they are read: without signs nobody sees, and none so long that it costs too much.

Nobody says more than a few thousand characters without an end, but files hold such lines: a whole day
dictated into one, or no note at all. They are read in parts, as lines that follow each other, so that the
time grows with the length and no faster. What is put on the sheet is put back to the words as given.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.separated_lines import with_tabs

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.measure.tokens import Token
    from gutterance.sheet.models import Sheet

LONGEST = 10_000
"""Characters of a line that is read whole: some ten minutes of speech without an end."""
LOOK_BACK = 2_000
"""How far back from there a good place to cut is looked for [characters]."""

# Control signs but for the tab, soft hyphens, and those of Unicode's format signs (category Cf) that text is
# mangled with: zero-width spaces and joiners, direction marks and embeddings, the byte-order mark.
_UNSEEN = re.compile(
    "[\x00-\x08\x0a-\x1f\x7f-\x9f\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u2064\u2066-\u206f\ufeff\ufff9-\ufffb]"
)
_SENTENCE_END = re.compile(r"[.;!?]\s+(?=\D)")
_BLANK = re.compile(r"\s+")


_HALF_A_SIGN = re.compile("[\ud800-\udfff]")


def with_whole_signs(lines: Sequence[str]) -> Sequence[str]:
    """The lines with each half of a sign (a lone surrogate), which no file can hold, as U+FFFD."""
    if all(line.isascii() or not _HALF_A_SIGN.search(line) for line in lines):
        return lines
    return [_HALF_A_SIGN.sub("\ufffd", line) for line in lines]


class ReadableLines:
    """The lines of a note as they are read, and the way back to those given."""

    def __init__(self, given: Sequence[str]) -> None:
        self.given = given
        self.lines: list[str] = []
        self.back: list[tuple[int, int]] = []
        """For each line here: its line in the note, from 1, and where in that it begins."""
        self.changed = False
        # One space for each unseen sign, so that every place in the line stays true.
        clean = [text if text.isascii() and text.isprintable() else _UNSEEN.sub(" ", text) for text in given]
        for number, (text, seen) in enumerate(zip(given, with_tabs(clean), strict=True), start=1):
            starts = _starts(seen) if len(seen) > LONGEST else [0]
            self.changed = self.changed or len(starts) > 1 or seen != text
            for start, end in zip(starts, [*starts[1:], len(seen)], strict=True):
                self.lines.append(seen[start:end])
                self.back.append((number, start))

    def put_back(self, sheet: Sheet) -> None:
        """Every source of the sheet to its place and its words in the lines as given."""
        sheet.note = list(self.given)
        if not self.changed:
            return
        done: set[int] = set()
        for source in sheet.sources():
            if id(source) in done:
                continue
            done.add(id(source))
            number, start = self.back[source.line - 1]
            source.line, source.start, source.end = number, source.start + start, source.end + start
            source.text = self.given[number - 1][source.start : source.end]
        for remark in sheet.remarks:
            remark.text = remark.source.text
        for unread in sheet.unread:
            unread.text = unread.source.text
        sheet.title = self._as_given(sheet.title)

    def _as_given(self, title: str | None) -> str | None:
        """The title in the words of the line it stands in: it has no source."""
        for line, (number, start) in zip(self.lines, self.back, strict=True):
            if title and (at := line.find(title)) >= 0:
                return self.given[number - 1][start + at : start + at + len(title)]
        return title


def put_words_back(given: Sequence[str], sheet: Sheet) -> None:
    """The words of every source as they stand in the lines given, of which some signs were blanked out."""
    sheet.note = list(given)
    for source in sheet.sources():
        source.text = given[source.line - 1][source.start : source.end]
    for remark in sheet.remarks:
        remark.text = remark.source.text
    for unread in sheet.unread:
        unread.text = unread.source.text


def _starts(text: str) -> list[int]:
    """Where the parts of a long line begin: behind a sentence, else where no number runs across.

    >>> _starts("Front 42-6. " * 2000)[:3]
    [0, 9996, 19992]
    """
    starts = [0]
    while len(text) - starts[-1] > LONGEST:
        stop = starts[-1] + LONGEST
        first = stop - LOOK_BACK
        ends = [match.end() for match in _SENTENCE_END.finditer(text, first, stop)]
        ends = ends or _between_numbers(text, first, stop)
        ends = ends or [match.end() for match in _BLANK.finditer(text, first, stop)]
        starts.append(ends[-1] if ends else stop)
    return starts


def _between_numbers(text: str, first: int, stop: int) -> list[int]:
    """The places behind a blank that have nothing of a number on either side."""
    from gutterance.measure.tokens import tokens_of
    from gutterance.notes.utterances import of_a_number

    def may_be(token: Token) -> bool:
        return of_a_number(token) or token.cat == "article"

    part = text[first:stop]
    tokens = tokens_of(part)
    return [
        first + token.start
        for before, token in pairwise(tokens)
        if part[before.end : token.start].isspace() and not may_be(before) and not may_be(token)
    ]

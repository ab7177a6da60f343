"""The lines of a note with what its key explains written out: `x14250x ↓l` as `ext 14250 ext dp l`.

The signs of a key stand against numbers and against one another, where neither the number reader nor the
list of words could see them. So they are written out before anything is read, and each source on the sheet is
put back to the signs as given.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.numerals import every_numeral
from gutterance.reading.attached import set_apart
from gutterance.reading.lettered.chains import counts_up
from gutterance.sheet.models import Source, Unread

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from gutterance.reading.attached import Edit
    from gutterance.reading.keys import Entry
    from gutterance.reading.pipeline import Reader
    from gutterance.sheet.models import Sheet

NUMBER = r"\d[\d.,'’′\"”″½¼¾⅛⅜⅝⅞]*(?:-\d[\d.'’′\"”″½¼¾⅛⅜⅝⅞]*)*|\.\d+"
SIDE = r"[lrLRNSEWFB](?![a-z])"
"""A side against a sign: `↓l`."""
JOINT = r"[/+&@,;.:→>-]"
IN_NUMBERS = frozenset("/-+.,'")
"""Signs that also stand within numbers."""
IN_SIZES = frozenset("xX×/")
SIZE = re.compile(r"\d{1,3}\s?[xX×]\s?\d{1,3}(?!\d)")
"""`100x50`, where an x is no end of a run."""
FRACTION = re.compile(r"(?<!\d)\d{1,2}/(?:2|3|4|8|16|32|64|\d)(?!\d)")
"""`7/8`, or two runs that meet."""
KEY = "part of the note's key"


@dataclass(slots=True)
class _Piece:
    """A stretch of a line as read, and the stretch of the given line that it stands for."""

    start: int
    end: int
    given_start: int
    given_end: int

    @property
    def same(self) -> bool:
        """Whether its words are those given."""
        return self.end - self.start == self.given_end - self.given_start


class LinesWrittenOut:
    """The lines as they are read, and the way back to those given."""

    def __init__(
        self,
        given: Sequence[str],
        entries: Sequence[Entry],
        apart: Mapping[int, Sequence[Edit]],
        but: frozenset[int],
        why: str = KEY,
    ) -> None:
        """Write out what the entries explain, in all lines but those with the numbers `but`.

        `apart` are further words to be read otherwise, by the number of their line; `why` is what is said of
        the numbers in what was written out.
        """
        self.given = given
        self.why = why
        self.lines: list[str] = []
        self.pieces: list[list[_Piece]] = []
        words = _Words(entries)
        for number, text in enumerate(given, start=1):
            edits = []
            if number not in but:
                keys = [(entry.start, entry.end) for entry in entries if entry.line == number]
                keys = [(start, _with_mark_behind(text, end)) for start, end in keys]
                edits = [(start, end, " " * (end - start)) for start, end in keys]
                edits += [
                    edit
                    for edit in (*apart.get(number, ()), *words.edits(text))
                    if not any(edit[0] < end and start < edit[1] for start, end in keys)
                ]
            self._add(text, sorted(edits))

    @property
    def changed(self) -> bool:
        """Whether any line is read otherwise than given."""
        return any(one != other for one, other in zip(self.lines, self.given, strict=True))

    def _add(self, text: str, edits: list[tuple[int, int, str]]) -> None:
        out, pieces, at, place = "", [], 0, 0
        for start, end, words in edits:
            if start < place:
                continue
            if place < start:
                pieces.append(_Piece(at, at + start - place, place, start))
                out, at = out + text[place:start], at + start - place
            pieces.append(_Piece(at, at + len(words), start, end))
            out, at, place = out + words, at + len(words), end
        pieces.append(_Piece(at, at + len(text) - place, place, len(text)))
        self.lines.append(out + text[place:])
        self.pieces.append(pieces)

    def put_back(self, sheet: Sheet) -> None:
        """Every source of the sheet to its words in the lines as given, and each number of the key listed."""
        done: set[int] = set()
        for source in sheet.sources():
            if id(source) not in done:
                done.add(id(source))
                self._put_back(source)
        for remark in sheet.remarks:
            remark.text = remark.source.text
        for unread in sheet.unread:
            unread.text = unread.source.text
        sheet.unread = [one for one in sheet.unread if not one.text or every_numeral(one.text)]
        sheet.title = self._as_given(sheet.title)
        sheet.note = list(self.given)
        self._account(sheet)

    def _put_back(self, source: Source) -> None:
        pieces = self.pieces[source.line - 1]
        source.start, source.end = (
            self._place(pieces, source.start, last=False),
            self._place(pieces, source.end, last=True),
        )
        text = self.given[source.line - 1][source.start : source.end]
        source.start += len(text) - len(text.lstrip())
        source.text = text.strip()
        source.end = source.start + len(source.text)

    @staticmethod
    def _place(pieces: list[_Piece], place: int, *, last: bool) -> int:
        """Where a place of a line as read is in the line given; `last` is a place that words end at."""
        for piece in pieces:
            if piece.start <= place < piece.end or (last and piece.start < place <= piece.end):
                if piece.same:
                    return piece.given_start + place - piece.start
                return piece.given_end if last else piece.given_start
        return pieces[-1].given_end

    def _as_given(self, title: str | None) -> str | None:
        """The title in the words of the line it stands in: it has no source."""
        for number, line in enumerate(self.lines):
            if title and (at := line.find(title)) >= 0:
                pieces = self.pieces[number]
                start, end = (self._place(pieces, place, last=place > at) for place in (at, at + len(title)))
                return self.given[number][start:end].strip()
        return title

    def _account(self, sheet: Sheet) -> None:
        """List the numbers of the key, which stand in no line as read."""
        covered: dict[int, list[tuple[int, int]]] = {}
        for source in sheet.sources():
            covered.setdefault(source.line, []).append((source.start, source.end))
        for number, (text, read) in enumerate(zip(self.given, self.lines, strict=True), start=1):
            for start, end in every_numeral(text) if text != read else ():
                if any(first < end and start < last for first, last in covered.get(number, [])):
                    continue
                if sheet.title is not None and text[start:end] in sheet.title:
                    continue
                source = Source(line=number, start=start, end=end, text=text[start:end])
                sheet.unread.append(Unread(text=source.text, source=source, why=self.why))


def write_out(given: Sequence[str], entries: Sequence[Entry], reader: Reader) -> LinesWrittenOut | None:
    """The lines with what their keys explain written out; None where that is nothing.

    The cells of a table and the answers of a form stand where they stand: those know their key by themselves.
    """
    from gutterance.reading.discourse import Walk
    from gutterance.reading.paper_finding import find_paper

    entries = [entry for entry in entries if not entry.short.isdigit()]
    apart = {number: edits for number, text in enumerate(given, 1) if (edits := [*set_apart(text, reader)])}
    if not entries and not apart:
        return None
    paper = find_paper(reader.lines(given), Walk())
    out = LinesWrittenOut(given, entries, apart, frozenset(paper.lines if paper.tells_runs else ()))
    return out if out.changed else None


class _Words:
    """What is written out, and where in a line it stands."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        self.exact = {entry.short: entry.words for entry in entries if not entry.short.isdigit()}
        self.folded = {short.lower(): words for short, words in self.exact.items() if len(short) > 1}
        shorts = sorted(self.exact, key=len, reverse=True)
        any_of = "|".join(
            re.escape(short) if len(short) == 1 else f"(?i:{re.escape(short)})" for short in shorts
        )
        self.shorts = re.compile(any_of) if shorts else None
        whole = rf"(?P<short>{any_of})|(?P<number>{NUMBER})|(?P<joint>{JOINT}|[()\[\]])|(?P<side>{SIDE})"
        self.part = re.compile(whole)

    def edits(self, text: str) -> list[tuple[int, int, str]]:
        """The places of a line where a sign of the key stands, with what it means."""
        if self.shorts is None or not self.shorts.search(text):
            return []
        sizes = () if counts_up(text) else (*SIZE.finditer(text), *FRACTION.finditer(text))
        kept_out = [match.span() for match in sizes]
        edits: list[tuple[int, int, str]] = []
        for token in re.finditer(r"\S+", text):
            for start, end in self._shorts_in(text, token.start(), token.end()):
                short = text[start:end]
                words = self.exact.get(short) or self.folded.get(short.lower())
                inside = any(first < end and start < last for first, last in kept_out)
                if words is not None and not (inside and short in IN_SIZES):
                    words = set_words_apart(words, text[start - 1 : start], text[end : end + 1])
                    edits.append((start, end, words))
        return edits

    def _shorts_in(self, text: str, begin: int, stop: int) -> list[tuple[int, int]]:
        """The signs in a word, where all of it is signs, numbers and the marks that join them."""
        while begin < stop and text[begin] in "\"“'‘" and begin + 1 < stop:
            begin += 1
        while stop > begin and text[stop - 1] in ',;:.!?"”’' and text[begin:stop] not in self.exact:
            stop -= 1
        found: list[tuple[int, int]] = []
        letters: list[tuple[int, int]] = []
        place, before = begin, ""
        while place < stop:
            match = self.part.match(text, place, stop)
            if match is None:
                return []
            kind = str(match.lastgroup)
            if kind == "side" and before not in ("short", "joint"):
                return []
            if kind == "short":
                if match.group().isalpha() and before == "letters":
                    letters.append(match.span())
                if match.group() in IN_NUMBERS and not self._is_sign(text, match.start(), begin, stop):
                    kind = "joint"
                else:
                    found.append(match.span())
                    kind = "letters" if match.group().isalpha() else "short"
            before, place = kind, match.end()
        return found

    def _is_sign(self, text: str, place: int, begin: int, stop: int) -> bool:
        """Whether a stroke is the key's sign: alone, or between a length and what it has at its end."""
        if stop - begin == 1:
            return True
        left = re.search(rf"(?:{NUMBER})\Z", text[begin:place])
        right = re.match(NUMBER, text[place + 1 : stop])
        return (left is not None and len(left.group()) > 2) or (right is not None and len(right.group()) > 2)


def _with_mark_behind(text: str, end: int) -> int:
    """The end of an entry with the comma behind it."""
    match = re.match(r"\s*[,;]", text[end:])
    return end + match.end() if match is not None else end


def set_words_apart(words: str, before: str, behind: str) -> str:
    """Words with a blank on either side where none stands."""
    return (
        ("" if not before or before.isspace() else " ")
        + words
        + ("" if not behind or behind.isspace() else " ")
    )

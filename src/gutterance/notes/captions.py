"""Caption files, WebVTT and SubRip, to what was said and when, whatever state they are in.

WebVTT: W3C, "WebVTT: The Web Video Text Tracks Format", syntax and parsing; where its parser throws words
away (a cue without a time, text after a blank line), they stay and the damage is told. SubRip: common
practice, no source. One reader serves both, as files mix the two: commas in WebVTT, headers in SubRip.

Cue numbers and names, times, settings, tags, NOTE, STYLE and REGION blocks are not text of the note.
Cues are taken in the order of the file: it is the order of speaking, also where two overlap in time.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from gutterance.notes.cue_text import pieces_of
from gutterance.notes.note import Damage, SpokenWord
from gutterance.notes.times import STARTED_TIMING, TIMING, seconds_of_match
from gutterance.notes.utterances import Utterance

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.notes.note import Seconds

CaptionForm = Literal["vtt", "srt"]

_HEADER = re.compile(r"\ufeff?WEBVTT(?=[ \t]|\Z)")
_COMMENT = re.compile(r"NOTE(?=[ \t]|\Z)")
_SETUP = re.compile(r"(?:STYLE|REGION)[ \t]*\Z")
_NUMBER = re.compile(r"\s*(\d+)\s*\Z")
_CUT_TIME = re.compile(r"\d+(?::[\d:.,]*)?\Z")
_SETTING = re.compile(r"[\w-]+[ \t]*[:=]")
_DASHED = re.compile(r"\s*[-–—]\s*[^\W\d]")
_ABUT = 0.05
"""How far apart [s] two cues may be and still follow each other at once."""
_FLASH = 0.1
"""A cue shown no longer than this [s] is only there to roll the text up."""
_LONG_NUMBER = 10
"""Digits that no count of cues has."""

_LOOK = "look whether a word or a number was said there, and add it to the note"


@dataclass(slots=True)
class _Cue:
    line: int
    seconds: Seconds | None
    text: list[tuple[int, str]] = field(default_factory=list)


@dataclass(slots=True)
class Captions:
    """What a caption file holds."""

    utterances: list[Utterance]
    remarks: list[str]
    damage: list[Damage]


def caption_form(lines: Sequence[str]) -> CaptionForm | None:
    """Which caption format these lines are, by a header or a timing line at their beginning. None for text.

    >>> caption_form(["WEBVTT - job"]), caption_form(["1", "00:00:01,000 --> 00:00:02,000", "Front"])
    ('vtt', 'srt')
    >>> caption_form(["Front 42-6", "--> back same"]) is None
    True
    """
    filled = [line for line in lines[:50] if line.strip()][:3]
    if filled and _HEADER.match(filled[0].lstrip()):
        return "vtt"
    for number, line in enumerate(filled[:2]):
        if TIMING.match(line):
            return "srt" if "," in line else "vtt" if number == 0 else "srt"
        if not _NUMBER.match(line):
            return None
    return None


def read_captions(lines: Sequence[str], name: str, form: CaptionForm) -> Captions:
    """What was said in a caption file, its words timed as far as the file does, and what of it is broken.

    Raises nothing: any lines give what could be read.
    """
    damage: list[Damage] = []
    cues = list(_cues(lines, name, form, damage))
    remarks = _unroll(cues, name)
    utterances = [said for cue in cues for said in _utterances(cue)]
    return Captions(utterances, remarks, damage)


def _cues(lines: Sequence[str], name: str, form: CaptionForm, damage: list[Damage]) -> Iterator[_Cue]:
    at = 0
    while at < len(lines) and not lines[at].strip():
        at += 1
    if at < len(lines) and _HEADER.match(lines[at].lstrip()):
        at = _after_header(lines, at + 1)
    elif form == "vtt":
        damage.append(
            Damage(name, 1, "the first line, WEBVTT, is missing", "see that its beginning is there")
        )
    named = _has_names(lines)
    cue: _Cue | None = None
    count: int | None = None
    opened = True  # whether a block begins here
    while at < len(lines):
        line = lines[at]
        if not line.strip():
            # A line of spaces under a time is the first line of a caption that rolls up.
            opened = not (line and at and TIMING.match(lines[at - 1]))
            at += 1
            continue
        if (
            opened
            and form == "vtt"
            and (_COMMENT.match(line) or (_SETUP.match(line) and _is_setup(lines, at)))
        ):
            at = _after_comment(lines, at)
            continue
        if not _is_timing(line, opened):
            number = _NUMBER.match(line)
            ahead = lines[at + 1] if at + 1 < len(lines) else ""
            heads = number is not None or (form == "vtt" and (named or len(line.split()) == 1))
            if _is_timing(ahead, True) and ((opened and heads) or _follows(number, count)):
                # The number or name of the cue that begins on the next line.
                if number and len(number[1]) < _LONG_NUMBER:
                    if count is not None and int(number[1]) > count + 1:
                        damage.append(Damage(name, at + 1, f"cue {number[1]} follows cue {count}", _LOOK))
                    count = int(number[1])
                at += 1
                opened = True
                continue
            cut = at + 2 == len(lines) and _CUT_TIME.match(ahead)
            if opened and number and _follows(number, count) and (cut or not ahead.strip()):
                what = f", its time is cut short: {_short(ahead)}" if cut else " has no time and no words"
                damage.append(Damage(name, at + 1, f"cue {number[1]}{what}", _LOOK))
                count = int(number[1])
                at += 2 if cut else 1
                continue
            if opened or cue is None:
                if cue is not None:
                    yield cue
                damage.append(Damage(
                    name, at + 1, f"words without a time: {_short(line)}",
                    "they were read in their place; see that nothing is missing beside them",
                ))  # fmt: skip
                cue = _Cue(at + 1, None)
            cue.text.append((at + 1, line))
            opened = False
            at += 1
            continue
        if cue is not None:
            yield cue
        cue = _Cue(at + 1, _timing(line, name, at + 1, damage))
        opened = False
        at += 1
        if at == len(lines) and cue.seconds is not None:
            damage.append(Damage(name, at, "the file ends before the words of its last cue", _LOOK))
    if cue is not None:
        yield cue


def _after_header(lines: Sequence[str], at: int) -> int:
    """The header's further lines end at a blank line, or at a timing line (W3C WebVTT, parser, step 7 on)."""
    while at < len(lines) and lines[at].strip():
        # What is no setting stands too near the header: a cue's name or words.
        if not _SETTING.match(lines[at]) or TIMING.match(lines[at]):
            return at
        at += 1
    return at


def _has_names(lines: Sequence[str]) -> bool:
    """Whether most cues of a file have a name of several words: else such a line was said."""
    ahead = [
        lines[at - 1]
        for at in range(1, len(lines))
        if TIMING.match(lines[at]) and (at == 1 or not lines[at - 2].strip())
    ]
    return sum(len(line.split()) > 1 for line in ahead) * 2 > len(ahead)


def _is_setup(lines: Sequence[str], at: int) -> bool:
    """STYLE and REGION open a block of their own only if more follows; a lone word may have been said."""
    return at + 1 < len(lines) and bool(lines[at + 1].strip())


def _after_comment(lines: Sequence[str], at: int) -> int:
    """A block ends at a blank line; a comment cannot hold an arrow, so a timing line ends it as well."""
    while at < len(lines) and lines[at].strip():
        if TIMING.match(lines[at]):
            return at
        at += 1
    return at


def _is_timing(line: str, opened: bool) -> bool:
    if TIMING.match(line):
        return True
    if "-->" in line and STARTED_TIMING.match(line):
        return True
    return opened and STARTED_TIMING.match(line) is not None


def _follows(number: re.Match[str] | None, count: int | None) -> bool:
    return number is not None and count is not None and number[1] == str(count + 1)


def _timing(line: str, name: str, number: int, damage: list[Damage]) -> Seconds | None:
    match = TIMING.match(line)
    mend = "its words, if any, were read without their time; nothing else was lost"
    if match is None:
        damage.append(Damage(name, number, f"the time cannot be read: {_short(line)}", mend))
        return None
    start, end = seconds_of_match(match, "a"), seconds_of_match(match, "b")
    if start is None or end is None or end < start:
        damage.append(Damage(name, number, f"the time cannot be right: {_short(line)}", mend))
        return None
    return start, end


def _short(line: str) -> str:
    text = line.strip()
    return text if len(text) <= 60 else f"{text[:57]}..."


def _unroll(cues: list[_Cue], name: str) -> list[str]:
    """Take out lines that are only shown again: captions that roll up show each line in two cues.

    Only in a file that does so throughout, as what is said twice must stay in any other.
    """
    again: list[tuple[_Cue, int]] = []
    last, ended, follow = "", None, 0
    for cue in cues:
        said = [_plain(text) for _, text in cue.text]
        filled = [text for text in said if text]
        at_once = cue.seconds is not None and ended is not None and abs(cue.seconds[0] - ended) <= _ABUT
        flash = cue.seconds is not None and cue.seconds[1] - cue.seconds[0] <= _FLASH
        if at_once and len(filled) + flash > 1:
            follow += 1
            if filled and filled[0] == last:
                again.append((cue, said.index(filled[0])))
        if filled:
            last = filled[-1]
        ended = cue.seconds[1] if cue.seconds else None
    if len(again) < 2 or len(again) * 4 < follow * 3:
        return []
    for cue, index in again:
        del cue.text[index]
    return [f"{name}: {len(again)} lines shown again as the captions roll up were read once"]


def _plain(text: str) -> str:
    return "".join(piece.text for piece in pieces_of(text)).strip()


def _utterances(cue: _Cue) -> Iterator[Utterance]:
    """A cue is one utterance over all its lines, unless another voice begins or each line is a dash's."""
    dashed = len(cue.text) > 1 and all(_DASHED.match(text) for _, text in cue.text)
    voice: str | None = None
    said = _Building(cue, None)
    for number, (line, raw) in enumerate(cue.text):
        if dashed and number:
            yield from said.done(ends=True)
            said = _Building(cue, voice)
        # A bare line has no voice of its own: it goes on in the one before.
        for index, piece in enumerate(pieces_of(raw)):
            if piece.voice is not None and piece.voice != voice:
                yield from said.done(ends=True)
                voice = piece.voice
                said = _Building(cue, voice)
            said.add(piece.text, piece.starts, line, new_line=index == 0)
    yield from said.done(ends=dashed)


class _Building:
    """An utterance as its pieces come in."""

    def __init__(self, cue: _Cue, voice: str | None) -> None:
        self.cue, self.voice = cue, voice
        self.parts: list[str] = []
        self.size, self.line = 0, cue.line
        self.starts: list[tuple[int, float]] = []

    def add(self, text: str, starts: float | None, line: int, *, new_line: bool) -> None:
        if not self.parts:
            text = text.lstrip()
            self.line = line
        elif new_line:
            last = self.parts.pop()
            self.size -= len(last) - len(last.rstrip())
            self.parts += [last.rstrip(), " "]
            self.size += 1
            text = text.lstrip()
        if text:
            if starts is not None and (not self.starts or starts != self.starts[-1][1]):
                self.starts.append((self.size, starts))
            self.parts.append(text)
            self.size += len(text)

    def done(self, *, ends: bool = False) -> Iterator[Utterance]:
        text = "".join(self.parts).rstrip()
        if text:
            yield Utterance(text, self.line, self.cue.seconds, self._words(text), self.voice, ends)

    def _words(self, text: str) -> tuple[SpokenWord, ...]:
        if not self.starts or self.cue.seconds is None:
            return ()
        marks = self.starts if self.starts[0][0] == 0 else [(0, self.cue.seconds[0]), *self.starts]
        ends = [*marks[1:], (len(text), self.cue.seconds[1])]
        words = []
        for (start, first), (end, last) in zip(marks, ends, strict=True):
            part = text[start:end]
            if part.strip() and first <= last:
                begin = start + len(part) - len(part.lstrip())
                words.append(SpokenWord(begin, begin + len(part.strip()), (first, last)))
        return tuple(words)

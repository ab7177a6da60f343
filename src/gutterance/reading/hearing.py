"""When and how surely each value's words were heard: times and files onto the sheet, and new doubts.

The words of a recording are what a recogniser made of it. A value that rests on a word it was not sure of is
made doubtful; how sure it must be is data, in `hearing.toml`.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from gutterance.reading.caution import doubt
from gutterance.sheet.models import NoteDamage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.notes import Note, SpokenWord
    from gutterance.sheet.models import Reading, Sheet, Source

DATA_FILE = "hearing.toml"


@dataclass(frozen=True, slots=True)
class Limits:
    """The lowest probability that words may have been heard with, and the longest rest [s] in a number."""

    number: float
    word: float
    segment: float
    pause: float


@cache
def limits() -> Limits:
    """The limits that come with the program."""
    return limits_from(resources.files("gutterance.reading").joinpath(DATA_FILE).read_text("utf-8"))


def limits_from(text: str) -> Limits:
    """Limits from the text of their file. Raises ValueError that names the file and the row.

    >>> limits_from("number = 0.6\\nword = 0.45\\nsegment = 2\\npause = 1.5")
    Traceback (most recent call last):
    ValueError: hearing.toml, segment: must be a number from 0 to 1, not 2
    """
    data: dict[str, Any] = tomllib.loads(text)
    names = ("number", "word", "segment", "pause")
    for name in (*names, *data):
        value = data.get(name)
        if name not in names:
            raise ValueError(f"{DATA_FILE}, {name}: no limit is called so; there are {', '.join(names)}")
        most = 60 if name == "pause" else 1
        if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= most:
            raise ValueError(f"{DATA_FILE}, {name}: must be a number from 0 to {most}, not {value!r}")
    return Limits(**data)


def spoken_by_several(note: Note) -> bool:
    """Whether the note's own marks say that more than one person speaks in it."""
    return len({line.speaker for line in note.lines if line.speaker}) > 1


def look_at_hearing(note: Note, sheet: Sheet) -> None:
    """Put times, files and damage of the note onto its sheet, and doubt what was not surely heard."""
    several = len(note.files()) > 1
    spoken = any(line.words for line in note.lines)
    for source in sheet.sources() if several or spoken else ():
        source.seconds = note.seconds_of(source.line, source.start, source.end)
        if several:
            line = note.line(source.line)
            source.file, source.file_line = line.file or note.name, line.number
    sheet.damage = [
        NoteDamage(file=one.file, line=one.line, what=one.what, mend=one.mend, after=one.near)
        for one in note.damage
    ]
    if spoken:
        _doubt_what_was_not_heard(note, sheet)


def _doubt_what_was_not_heard(note: Note, sheet: Sheet) -> None:
    for _, reading in sheet.readings():
        if (why := _unsure_words(note, reading)) or (why := _broken_number(note, reading)):
            doubt(reading, why)
    for run in sheet.runs:
        # A run's name said where it was told: every other value goes to the run that was named.
        unsure = [next(_unsure(note, source), None) for source in run.source]
        if unsure and (word := unsure[0]) and all(unsure):
            named = f"the name of the run: {_told(note, run.source[0].line, word)}"
            doubt(run.length or run.left_end or run.right_end, named)


def _unsure_words(note: Note, reading: Reading[Any]) -> str | None:
    """The words that the recogniser was not sure of, unless the same words were also heard surely."""
    sure = {source.text.casefold() for source in reading.source if next(_unsure(note, source), None) is None}
    told = {
        _told(note, source.line, word): None
        for source in reading.source
        if source.text.casefold() not in sure
        for word in _unsure(note, source)
    }
    return ", ".join(told) or None


def _unsure(note: Note, source: Source) -> Iterator[SpokenWord]:
    """The spoken words beneath a source that were heard less surely than their kind must be."""
    line = note.line(source.line)
    for word in line.touched(source.start, source.end):
        if word.probability is None:
            continue
        if word.of_segment:
            least = limits().segment
        else:
            text = line.text[max(word.start, source.start) : min(word.end, source.end)]
            least = limits().number if _of_a_number(text) else limits().word
        if word.probability < least:
            yield word


def _of_a_number(text: str) -> bool:
    from gutterance.measure.tokens import tokens_of
    from gutterance.notes.utterances import of_a_number

    return any(of_a_number(token) for token in tokens_of(text))


def _told(note: Note, line: int, word: SpokenWord) -> str:
    if word.of_segment:
        return "the recogniser was not sure of what was said here"
    text = note.line(line).text[word.start : word.end].strip()
    return f"{text!r} was heard with a probability of {word.probability:.2f} only"


def _broken_number(note: Note, reading: Reading[Any]) -> str | None:
    """A number of which the parts were said with a rest between them may be two numbers."""
    for source in reading.source:
        line = note.line(source.line)
        for join in line.joins:
            if not source.start < join < source.end:
                continue
            before, after = line.touched(join - 1, join), line.touched(join + 1, join + 2)
            times = [word.seconds for word in (*before, *after)]
            if len(times) == 2 and times[0] and times[1] and times[1][0] - times[0][1] >= limits().pause:
                rest = times[1][0] - times[0][1]
                return f"{source.text!r} was said in two parts, {rest:.1f} seconds apart"
    return None

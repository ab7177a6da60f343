"""What a note is once it is in: lines, each with its file and, if spoken, when its words were said."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field
from itertools import groupby

Seconds = tuple[float, float]
"""When something was said: from, to [s] from the start of its recording."""


class NoteError(ValueError):
    """A note that cannot be used: says which file, what is wrong and how to mend it."""


@dataclass(frozen=True, slots=True)
class SpokenWord:
    """A stretch of a line that is timed by itself: a word, or a whole cue where words have no times.

    `start`, `end` count characters of the line; `seconds` is when it was said, None where the file does not
    say; `probability` is 0 to 1 as the transcript gives it, None where it gives none. `of_segment` says that
    it is a mean over the whole segment, which tells little of one word.
    """

    start: int
    end: int
    seconds: Seconds | None = None
    probability: float | None = None
    of_segment: bool = False


@dataclass(frozen=True, slots=True)
class NoteLine:
    """One line of a note: `text`, and where it stands: `file`, `number` (from 1) in that file.

    `words` are its timed stretches in order, none over another; empty for a typed line. `joins` are places
    [characters] where one cue ended and the next went on: a number across one was perhaps heard in two parts.
    """

    text: str
    file: str = ""
    number: int = 1
    words: tuple[SpokenWord, ...] = ()
    speaker: str | None = None
    joins: tuple[int, ...] = ()

    def touched(self, start: int, end: int) -> tuple[SpokenWord, ...]:
        """The timed stretches that the characters from `start` up to `end` lie on."""
        first = bisect_left(self.words, start + 1, key=lambda word: word.end)
        last = bisect_left(self.words, end, key=lambda word: word.start)
        return self.words[first:last]


@dataclass(frozen=True, slots=True)
class Damage:
    """What is broken in a file: at which line, what, and how to mend it.

    `near` is the line of the note (from 1) after which the damage lies; 0 where nothing stands before it.
    """

    file: str
    line: int
    what: str
    mend: str
    near: int = 0

    def __str__(self) -> str:
        """One sentence: where, what, and what to do.

        >>> print(Damage("a.vtt", 7, "the time cannot be read: 00:0", "look at what was said there"))
        a.vtt, line 7: the time cannot be read: 00:0: look at what was said there
        """
        return f"{self.file}, line {self.line}: {self.what}: {self.mend}"


@dataclass(frozen=True, slots=True)
class Note:
    """A note as lines, each as given, character for character.

    `remarks` say what was mended to read it, `damage` what is broken and may have cost words. Line numbers
    count from 1 through the whole note, over all its files.
    """

    name: str
    lines: tuple[NoteLine, ...]
    remarks: tuple[str, ...] = ()
    damage: tuple[Damage, ...] = field(default=())

    @property
    def text(self) -> str:
        """The whole note with plain line ends."""
        return "\n".join(self.lines_text())

    def lines_text(self) -> tuple[str, ...]:
        """The text of each line, as the reader wants it."""
        return tuple(line.text for line in self.lines)

    def line(self, number: int) -> NoteLine:
        """The line of that number, from 1. Raises ValueError where the note has no such line."""
        if not 1 <= number <= len(self.lines):
            raise ValueError(f"{self.name} has lines 1 to {len(self.lines)}, not {number}")
        return self.lines[number - 1]

    def seconds_of(self, line_number: int, start: int, end: int) -> Seconds | None:
        """When the characters `start` to `end` of a line were said [s], in the time of the line's own file.

        None for typed lines and where no time is known. Raises ValueError for a line the note has not.

        >>> words = (SpokenWord(0, 5, (1.0, 1.4)), SpokenWord(6, 11, (1.5, 1.9)))
        >>> Note("n", (NoteLine("forty seven", words=words),)).seconds_of(1, 0, 11)
        (1.0, 1.9)
        """
        known = [word.seconds for word in self.line(line_number).touched(start, end) if word.seconds]
        if not known:
            return None
        return min(first for first, _ in known), max(last for _, last in known)

    def probability_of(self, line_number: int, start: int, end: int) -> float | None:
        """The lowest probability, 0 to 1, of the words that those characters touch; None where none is known.

        Raises ValueError for a line the note has not.
        """
        touched = self.line(line_number).touched(start, end)
        return min((word.probability for word in touched if word.probability is not None), default=None)

    def where(self, line_number: int) -> str:
        """A line's place for a message: its file, and its number there. Raises ValueError as `line` does."""
        line = self.line(line_number)
        return f"{line.file or self.name}, line {line.number}"

    def files(self) -> tuple[tuple[str, int, int], ...]:
        """Each file of the note with its first and last line number in the whole."""
        numbered = enumerate(self.lines, start=1)
        spans = []
        for file, lines in groupby(numbered, key=lambda pair: pair[1].file):
            numbers = [number for number, _ in lines]
            spans.append((file or self.name, numbers[0], numbers[-1]))
        return tuple(spans)

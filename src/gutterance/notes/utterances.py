"""What was said together becomes one line of the note.

A transcript breaks its text where the screen is full or the speaker paused for breath, often in the middle of
a number: `front is forty two foot` / `six outside corner`. As two lines, the first would be a certain wrong
length. So a cue's lines are one utterance, and cues that follow without a pause are one too; a line of a note
ends where a sentence ends, another speaks, or the speaker rests, and never between two parts of a number.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gutterance.notes.note import NoteLine, SpokenWord

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gutterance.measure.tokens import Token
    from gutterance.notes.note import Seconds

PAUSE = 1.5
"""The silence [s] after which what follows is a line of its own: common practice, no source."""

_SENTENCE_END = re.compile(r"[.?!…][\"”’')\]]*\s*\Z")
_SHORT = re.compile(r"\b(?:ft|in|ins|deg|no|approx|lin|mm|cm|m|dia)\.\s*\Z", re.IGNORECASE)
_NEAR = 60
"""Characters looked at on each side of a join, so that a long line costs no more than a short one."""
_LINKS = frozenset({"and", "point", "oh"})


@dataclass(frozen=True, slots=True)
class Utterance:
    """A piece of a transcript, as its file has it: a cue, a segment, or the words up to a pause.

    `words` are timed stretches of `text`; `line` is where it stands in its file; `ends` says that the file
    itself ends a line after it (a new paragraph, a dash for the next speaker).
    """

    text: str
    line: int
    seconds: Seconds | None = None
    words: tuple[SpokenWord, ...] = ()
    speaker: str | None = None
    ends: bool = False


def covered(text: str, words: Iterable[SpokenWord], seconds: Seconds | None,
            probability: float | None = None) -> tuple[SpokenWord, ...]:  # fmt: skip
    """`words` in order, with a stretch of the whole utterance's time wherever words of `text` have none.

    >>> covered("front 42", (SpokenWord(6, 8, (2.0, 2.5)),), (1.0, 2.5))
    ... # doctest: +NORMALIZE_WHITESPACE
    (SpokenWord(start=0, end=5, seconds=(1.0, 2.5), probability=None, of_segment=False),
     SpokenWord(start=6, end=8, seconds=(2.0, 2.5), probability=None, of_segment=False))
    """
    found: list[SpokenWord] = []

    def fill(start: int, end: int) -> None:
        gap = text[start:end]
        if gap.strip() and (seconds is not None or probability is not None):
            first = start + len(gap) - len(gap.lstrip())
            found.append(SpokenWord(first, first + len(gap.strip()), seconds, probability))

    at = 0
    for word in words:
        if word.start < at or word.end <= word.start:
            continue
        fill(at, word.start)
        timed = word if word.seconds else replace(word, seconds=seconds)
        found.append(timed)
        at = word.end
    fill(at, len(text))
    return tuple(found)


def lines_of(utterances: Sequence[Utterance], file: str) -> tuple[NoteLine, ...]:
    """The lines of the note: utterances said together put together, with one space between them."""
    lines: list[NoteLine] = []
    together: list[Utterance] = []
    for said in utterances:
        if together and _breaks(together[-1], said):
            lines.append(_line(together, file))
            together = []
        together.append(said)
    if together:
        lines.append(_line(together, file))
    return tuple(lines)


def _line(together: Sequence[Utterance], file: str) -> NoteLine:
    words: list[SpokenWord] = []
    joins: list[int] = []
    at = 0
    for number, said in enumerate(together):
        if number:
            joins.append(at)
            at += 1
        words += [
            replace(word, start=word.start + at, end=word.end + at)
            for word in covered(said.text, said.words, said.seconds)
        ]
        at += len(said.text)
    first = together[0]
    text = " ".join(said.text for said in together)
    return NoteLine(text, file, first.line, tuple(words), first.speaker, tuple(joins))


def _breaks(before: Utterance, after: Utterance) -> bool:
    if None not in (before.speaker, after.speaker) and before.speaker != after.speaker:
        return True
    if ends_sentence(before.text):
        return True
    rests = (
        before.seconds is None
        or after.seconds is None
        or not -PAUSE <= after.seconds[0] - before.seconds[1] < PAUSE
    )
    first = after.text.lstrip()[:2]
    opens = first[:1].isupper() and first not in ("I", "I ", "I'", "I’")
    return (before.ends or rests or opens) and not goes_on(before.text, after.text)


def ends_sentence(text: str) -> bool:
    """Whether a sentence ends with this text.

    >>> ends_sentence("Drop left."), ends_sentence("Front 42 ft.")
    (True, False)
    """
    return _SENTENCE_END.search(text[-_NEAR:]) is not None and not _SHORT.search(text[-_NEAR:])


def goes_on(before: str, after: str) -> bool:
    """Whether a number may run over from one text into the next.

    >>> goes_on("front is forty two foot", "six outside corner"), goes_on("drop left", "back 42-6")
    (True, False)
    """
    from gutterance.measure.tokens import tokens_of

    tail = before[-_NEAR:].rstrip(" \t.,-–")
    cut = tail.find(" ") + 1 if len(before) > _NEAR else 0
    last = tokens_of(tail[cut:])[-1:]
    first = tokens_of(after[:_NEAR])[:2]
    if not last or not of_a_number(last[0]) or not first:
        return False
    return of_a_number(first[0]) or (first[0].cat == "article" and any(map(of_a_number, first[1:])))


def of_a_number(token: Token) -> bool:
    """Whether a token is a numeral, a unit, or a sign or small word between two parts of a number."""
    return token.is_numeral or bool(token.unit) or token.cat in _LINKS or token.kind == "mark"

"""JSON transcripts: segments, words, or both, in the shape that speech recognisers commonly write.

`{"segments": [{"start", "end", "text", "words": [{"word", "start", "end", "probability"}]}]}`, plain lists
of segments or of words, or words beside the segments; `text` for `word`, `confidence` for `probability`.
Times are seconds. Common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING, Any

from gutterance.notes.broken_json import LINE, parse_json
from gutterance.notes.note import Damage, SpokenWord
from gutterance.notes.salvage import is_single, pieces_in, texts_in
from gutterance.notes.times import as_seconds
from gutterance.notes.utterances import PAUSE, Utterance, covered, ends_sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from gutterance.notes.note import Seconds

_SEGMENTS = ("segments", "utterances")
_WORDS = ("words",)
_TEXT = ("text", "word", "punctuated_word", "transcript")
_PROBABILITY = ("probability", "confidence")
_ATTACHED = re.compile(r"[.,?!;:…]+\Z")
_FAR = 80
"""Characters of text that may stand between two timed words before a word counts as not found."""
_CLOSE = 25
"""The same for a word that a fault has torn from its segment: nearer, as it may be another's."""
_MOST_FAULTS = 20
_MEND = "see that nothing is missing there, and add it to the note"


@dataclass(slots=True)
class Transcript:
    """What a JSON transcript holds."""

    utterances: list[Utterance]
    remarks: list[str]
    damage: list[Damage]


def read_transcript(lines: Sequence[str], name: str) -> Transcript | None:
    """What was said in a JSON transcript and when, and what of it is broken; None for what is no transcript.

    Raises nothing.
    """
    parsed = parse_json("\n".join(lines))
    root = parsed.value
    if isinstance(root, dict) and "format" in root and _shown(root["format"]).startswith("gutterance-"):
        return None
    segments, words = _parts(root)
    whole = _text(root) if isinstance(root, dict) else None
    if not segments and not words and not whole:
        # A fault may have cost the name of the segments; a text with a time beside it is still one.
        timed = parsed.faults and any("start" in one for one in pieces_in([root, *parsed.after]))
        if not timed:
            return None
    reading = _Reading(name)
    for fault in parsed.faults[:_MOST_FAULTS]:
        reading.hurt(fault.line, f"broken JSON, {fault.what}: {fault.there}")
    if more := parsed.faults[_MOST_FAULTS:]:
        reading.hurt(more[0].line, f"broken JSON in {len(more)} more places")
    if parsed.faults:
        utterances = reading.salvaged([root, *parsed.after], whole)
    elif segments:
        utterances = [said for one in segments for said in reading.segment(one)]
        if words and not any(said.words for said in utterances):
            utterances = reading.words_beside(utterances, words)
    else:
        utterances = reading.words_alone(words)
    if whole:
        utterances += reading.rest_of(whole, utterances)
    if parsed.faults:
        reading.tell_unplaced("\n".join(lines), utterances)
    return Transcript(utterances, reading.remarks(), reading.damage)


def _parts(root: Any) -> tuple[list[Any], list[Any]]:
    """The segments and the words of a transcript."""
    if isinstance(root, dict):
        segments: list[Any] = next((root[key] for key in _SEGMENTS if isinstance(root.get(key), list)), [])
        words: list[Any] = next((root[key] for key in _WORDS if isinstance(root.get(key), list)), [])
        return segments, words
    if isinstance(root, list):
        parts = [one for one in root if isinstance(one, dict)]
        if any(isinstance(one.get("words"), list) for one in parts):
            return root, []
        texts = [text for one in parts if (text := _text(one)) is not None]
        if not texts:
            return [], []
        # Words are single words; in a list of segments most have several.
        single = sum(len(text.split()) <= 1 for text in texts)
        named = any("word" in one for one in parts)
        return ([], root) if named or single * 2 > len(texts) else (root, [])
    return [], []


def _text(one: dict[Any, Any]) -> str | None:
    return next((one[key] for key in _TEXT if isinstance(one.get(key), str)), None)


class _Reading:
    """The reading of one file: its name, and what is found to be odd on the way."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.damage: list[Damage] = []
        self.per_cent = self.apart = 0

    def remarks(self) -> list[str]:
        said = []
        if self.per_cent:
            said.append(f"{self.name}: {self.per_cent} probabilities above 1 were read as per cent")
        if self.apart:
            said.append(
                f"{self.name}: {self.apart} words that stand without a space between them were read apart"
            )
        return said

    def hurt(self, line: int, what: str) -> None:
        self.damage.append(Damage(self.name, line, what, _MEND))

    def probability(self, one: dict[Any, Any], line: int) -> float | None:
        for key in _PROBABILITY:
            value = one.get(key)
            if value is None:
                continue
            number = as_seconds(value)
            if number is not None and 1 < number <= 100:
                self.per_cent += 1
                return number / 100
            if number is not None and number <= 1:
                return number
            if isinstance(value, float) and math.isnan(value):
                continue
            self.hurt(line, f"the {key} {_shown(value)!r} is none from 0 to 1")
        return None

    def seconds(self, one: dict[Any, Any], line: int) -> Seconds | None:
        given = one.get("start"), one.get("end")
        if given == (None, None):
            return None
        start = as_seconds(given[0])
        end = start if given[1] is None else as_seconds(given[1])
        if start is None or end is None or end < start:
            self.hurt(line, f"the time cannot be right: {_shown(given[0])} to {_shown(given[1])}")
            return None
        return start, end

    def segment(self, one: Any) -> Iterator[Utterance]:
        if isinstance(one, str):
            one = {"text": one, LINE: 1}
        if not isinstance(one, dict):
            self.hurt(1, f"{_shown(one)} stands where a segment should")
            return
        line = one.get(LINE, 1)
        seconds, probability = self.seconds(one, line), self.probability(one, line)
        speaker = str(one["speaker"]) if isinstance(one.get("speaker"), str | int) else None
        given = one.get("words")
        words = given if isinstance(given, list) else []
        text = _text(one)
        if not text or not text.strip():
            yield from self.words_alone(words, speaker)
            return
        paragraphs = [part.strip() for part in text.splitlines() if part.strip()]
        said = [
            Utterance(part, line, seconds, speaker=speaker, ends=number < len(paragraphs))
            for number, part in enumerate(paragraphs, start=1)
        ]
        if words:
            yield from self.words_beside(said, words)
        elif probability is not None or (mean := _mean(one)) is not None:
            for part in said:
                timed = covered(part.text, (), seconds, probability)
                if probability is None:
                    timed = tuple(replace(word, probability=mean, of_segment=True) for word in timed)
                yield Utterance(part.text, line, seconds, timed, speaker, part.ends)
        else:
            yield from said

    def salvaged(self, values: Iterable[Any], whole: str | None) -> list[Utterance]:
        """The utterances of a broken file, in its order; not its `whole` text, which `rest_of` looks at."""
        found = (one for one in pieces_in(values) if whole is None or _text(one) != whole or "words" in one)
        made: list[Utterance] = []
        before: list[Utterance] = []
        for single, group in groupby(found, key=is_single):
            pieces = list(group)
            if not single:
                said = [part for one in pieces for part in self.segment(one)]
                before = said[-1:]
                made += said
                continue
            # The words of a segment that a fault has torn from it are in its text already.
            if before:
                made[-1], pieces = self._own_words(before[0], pieces)
                before = made[-1:]
            if pieces:
                made += self.words_alone(pieces)
                before = []
        return made

    def _own_words(
        self, said: Utterance, pieces: list[dict[Any, Any]]
    ) -> tuple[Utterance, list[dict[Any, Any]]]:
        """The utterance with those of the words that go on in its text, and the words that do not."""
        at = max((word.end for word in said.words), default=0)
        own: list[SpokenWord] = []
        other: list[dict[Any, Any]] = []
        for one in pieces:
            text, seconds, probability, _ = self.word(one)
            plain = text.strip()
            place = said.text.find(plain, at, at + len(plain) + _CLOSE)
            if not plain or place < 0:
                other.append(one)
                continue
            at = place + len(plain)
            own.append(SpokenWord(place, at, seconds, probability))
        return replace(said, words=(*said.words, *own)), other

    def tell_unplaced(self, raw: str, utterances: Sequence[Utterance]) -> None:
        """Words that stand in a broken file as said ones and found no place are told."""
        placed = Counter(" ".join(part.text for part in utterances).split())
        kinds = texts_in(raw)
        for wanted in ("text", "word"):
            words = Counter(word for key, text in kinds if key == wanted for word in text.split())
            if missing := [word for word in words if word not in placed]:
                self.hurt(1, f"words of the broken part that found no place: {_shown(' '.join(missing))}")

    def word(self, one: Any) -> tuple[str, Seconds | None, float | None, int]:
        if isinstance(one, dict):
            line = one.get(LINE, 1)
            return _text(one) or "", self.seconds(one, line), self.probability(one, line), line
        return (
            (one if isinstance(one, str) else _shown(one) if isinstance(one, int | float) else ""),
            None,
            None,
            1,
        )

    def words_beside(self, said: list[Utterance], words: Iterable[Any]) -> list[Utterance]:
        """The utterances with their words' times: each word is looked for a little beyond the one before."""
        stream = "\n".join(part.text for part in said)
        found: list[SpokenWord] = []
        lost: list[str] = []
        at, first_line = 0, said[0].line if said else 1
        for one in words:
            text, seconds, probability, line = self.word(one)
            plain = text.strip()
            if not plain:
                continue
            place = stream.find(plain, at, at + len(plain) + _FAR)
            if place < 0:
                first_line = first_line if lost else line
                lost.append(plain)
                continue
            at = place + len(plain)
            found.append(SpokenWord(place, at, seconds, probability))
        if lost:
            shown = " ".join(lost)
            self.hurt(
                first_line,
                f"words that are not in the text beside them: {shown if len(shown) <= 200 else shown[:197]}",
            )
        timed: list[Utterance] = []
        offset = next_word = 0
        for part in said:
            own: list[SpokenWord] = []
            stop = offset + len(part.text)
            while next_word < len(found) and found[next_word].start < stop:
                word = found[next_word]
                own.append(SpokenWord(word.start - offset, word.end - offset, word.seconds, word.probability))
                next_word += 1
            timed.append(Utterance(part.text, part.line, part.seconds, tuple(own), part.speaker, part.ends))
            offset = stop + 1
        return timed

    def words_alone(self, words: Iterable[Any], speaker: str | None = None) -> list[Utterance]:
        """Utterances from words alone, cut where a sentence ends, another speaks, or a pause is made."""
        given = [(*self.word(one), _speaker(one, speaker)) for one in words]
        given = [one for one in given if one[0]]
        # Recognisers that put the space into the word write some words in pieces: "42", "-6".
        own_spaces = any(text[:1].isspace() for text, *_ in given[1:]) or any(
            text[-1:].isspace() for text, *_ in given[:-1]
        )
        made: list[_Building] = []
        before: Seconds | None = None
        for said, seconds, probability, line, who in given:
            plain = said.strip()
            if not plain:
                if made:
                    made[-1].spaced = True
                continue
            last = made[-1] if made else None
            spaced = said[0].isspace() or (last is not None and last.spaced)
            if (
                last is None
                or who != last.speaker
                or (before and seconds and seconds[0] - before[1] >= PAUSE)
                or (ends_sentence(last.tail) and (spaced or not own_spaces))
            ):
                made.append(_Building(line, who))
            elif own_spaces:
                fused = not spaced and last.tail[-1].isalnum() and plain[0].isalnum()
                self.apart += fused
                last.space(spaced or fused)
            else:
                last.space(spaced or not _ATTACHED.match(plain))
            made[-1].add(plain, seconds, probability, own_spaces and said[-1].isspace())
            before = seconds or before
        return [one.done() for one in made]

    def rest_of(self, whole: str, utterances: Sequence[Utterance]) -> list[Utterance]:
        """What the file's own `text` has beyond its segments: a file cut short loses these first."""
        said = "".join("".join(part.text.split()) for part in utterances)
        at = 0
        for sign in said:
            while at < len(whole) and whole[at].isspace():
                at += 1
            if at >= len(whole) or whole[at] != sign:
                break
            at += 1
        else:
            return [
                Utterance(part.strip(), utterances[-1].line if utterances else 1, ends=True)
                for part in whole[at:].splitlines()
                if part.strip()
            ]
        missing = Counter(whole.split()) - Counter(" ".join(part.text for part in utterances).split())
        if missing:
            shown = " ".join(missing.elements())
            self.hurt(
                1,
                "words of the file's text that none of its segments has: "
                f"{shown if len(shown) <= 200 else shown[:197] + '...'}",
            )
        return []


def _mean(one: dict[Any, Any]) -> float | None:
    """The mean probability of a segment's words: recognisers write the mean of its natural logarithm."""
    value = one.get("avg_logprob")
    if isinstance(value, bool) or not isinstance(value, int | float) or not value <= 0:
        return None
    return math.exp(value)


def _shown(value: Any) -> str:
    """A value for a message; never a list or an object, which may be deep."""
    if isinstance(value, list | dict):
        return "a list" if isinstance(value, list) else "an object"
    text = str(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


class _Building:
    """An utterance as its words come in. `tail` is how its text ends, `spaced` that a space comes next."""

    def __init__(self, line: int, speaker: str | None) -> None:
        self.line, self.speaker = line, speaker
        self.parts: list[str] = []
        self.words: list[SpokenWord] = []
        self.size = 0
        self.tail = ""
        self.spaced = False

    def space(self, wanted: bool) -> None:
        if wanted:
            self.parts.append(" ")
            self.size += 1

    def add(self, word: str, seconds: Seconds | None, probability: float | None, spaced: bool) -> None:
        self.words.append(SpokenWord(self.size, self.size + len(word), seconds, probability))
        self.tail = (self.tail + self.parts[-1] if self.parts[-1:] == [" "] else self.tail)[-20:] + word
        self.parts.append(word)
        self.size += len(word)
        self.spaced = spaced

    def done(self) -> Utterance:
        known = [word.seconds for word in self.words if word.seconds]
        span = (min(first for first, _ in known), max(last for _, last in known)) if known else None
        return Utterance("".join(self.parts), self.line, span, tuple(self.words), self.speaker)


def _speaker(one: Any, otherwise: str | None) -> str | None:
    given = one.get("speaker") if isinstance(one, dict) else None
    return str(given) if isinstance(given, str | int) else otherwise

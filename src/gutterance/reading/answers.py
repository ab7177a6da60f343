"""Answers: a few words read in the context of the question they answer.

The seam with the rest of the reader is one function: an answer's text and the sheet paths the question was
about go in, a reading for each path comes out. `9 2` is a height after a question about a height, `outside`
an end after one about an end. Lengths go to the tape reader with the field they answer; everything else is
read as a note that opens with the words the question stands for.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from gutterance.measure.tape import FieldKind, find_lengths, read_lengths
from gutterance.sheet.models import Alternative, LengthReading, Reading, Source

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_LENGTHS: dict[str, FieldKind] = {
    "length": "run",
    "roof_run": "run",
    "height": "height",
    "wall_to_fascia": "wall to fascia",
    "distance": "offset",
    "offsets": "offset",
    "hanger_spacing": "offset",
    "gutter_size": "offset",
}
_RUN = "Front 40-0"
_PIPE = f"{_RUN} end caps both ends, drop left, w/f 24, height 9-4"
_OPENED: dict[str, tuple[str, str, str]] = {
    # field: what the answer is read after and before, and where its reading then stands
    "left_end": (f"{_RUN}, left end ", "", "runs.front.left_end"),
    "right_end": (f"{_RUN}, right end ", "", "runs.front.right_end"),
    "place": (f"{_RUN} end caps both ends, drop ", "", "outlets.front-1.place"),
    "ends_at": (f"{_PIPE}, to ", "", "downpipes.front-1.ends_at"),
    "colour": ("", "", "defaults.colour"),
    "gutter_profile": ("", "", "defaults.gutter_profile"),
    "material": ("", "", "defaults.material"),
    "thickness": ("", " aluminium", "defaults.thickness"),
    "downpipe_size": ("", " downpipes", "defaults.downpipe_size"),
    "size": ("", " downpipes", "defaults.downpipe_size"),
    "roof_pitch": ("roof pitch ", "", "defaults.roof_pitch"),
}
_ALL = re.compile(r"\b(?:all|both|each|every|same)\b", re.IGNORECASE)
_YES = re.compile(
    r"\W*(?:yes|yeah|yep|yup|y|ok|okay|correct|right|that'?s (?:it|right|correct)|confirmed?|it is)\W*\Z",
    re.IGNORECASE,
)
_NO_WORDS = re.compile(
    r"\b(?:it'?s|its|is|are|was|they'?re|the|a|an|at|about|of|to|and|down|high|long|wide|deg(?:rees?)?"
    r"|all|both|each|every|same|one|ones|of them|length|height|wall|fascia|w\s?/?\s?f|overhang|soffit)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Answer:
    """What an answer says of one path."""

    path: str
    reading: Reading[Any]


def is_yes(text: str) -> bool:
    """Whether an answer only agrees.

    >>> is_yes("Yes, correct"), is_yes("yep."), is_yes("right 9 2")
    (False, True, False)
    """
    return _YES.match(text) is not None


def read_answer(text: str, paths: Sequence[str], *, line: int = 1, metric: bool = False) -> list[Answer]:
    """What `text` answers for the sheet `paths` its question was about; empty where it is no answer to it.

    One length may answer for all (`9 4 all`), or several in the order asked. `line` is where the answer
    stands, for its sources. `metric`: the job is measured in millimetres. Nothing is guessed: an answer with
    numbers left over, or fewer than asked for, is no answer.

    >>> [answer] = read_answer("9 2", ["downpipes.front-1.height"])
    >>> answer.reading.value.tape_text(), answer.reading.status
    ('9\\' 2"', 'read')
    """
    if not text.strip() or not paths:
        return []
    fields = [_field(path) for path in paths]
    if all(field in _LENGTHS for field in fields):
        return list(_lengths(text, paths, fields, line, metric))
    if set(fields) == {"left_end", "right_end"} and len({path.rpartition(".")[0] for path in paths}) == 1:
        return list(_both_ends(text, paths[0].rpartition(".")[0], line))
    if len(set(fields)) == 1 and fields[0] in _OPENED:
        return list(_opened(text, paths, fields[0], line))
    if all(field.endswith("_angle") for field in fields):
        return list(_number(text, paths, line, float))
    if all(path.startswith("totals.") for path in paths):
        return list(_number(text, paths, line, int))
    return []


def _field(path: str) -> str:
    last = path.rpartition(".")[2]
    return path.split(".")[-2] if last.isdecimal() else last


def _lengths(
    text: str, paths: Sequence[str], fields: Sequence[str], line: int, metric: bool
) -> Iterator[Answer]:
    kind = _LENGTHS[fields[0]]
    found = read_lengths(text, kind, metric=metric)
    if len(found) != len(find_lengths(text)) or not found:
        return
    if len(found) == 1 and len(paths) > 1 and not _ALL.search(text):
        return
    if len(found) not in (1, len(paths)) or _says_more(text, [(one.start, one.end) for one in found]):
        return
    for number, path in enumerate(paths):
        one = found[number if len(found) > 1 else 0]
        yield Answer(
            path,
            LengthReading(
                value=one.length,
                status="doubtful" if one.doubts else "read",
                source=[Source(line=line, start=one.start, end=one.end, text=text[one.start : one.end])],
                why="; ".join((*one.doubts, one.why)) or None,
                could_be=[Alternative(value=other, why=why) for other, why in one.could_be],
            ),
        )


def _says_more(text: str, told: Sequence[tuple[int, int]]) -> bool:
    """Whether words are left over that are no mere setting for a length: another run's name, a place."""
    rest = list(text)
    for start, end in told:
        rest[start:end] = " " * (end - start)
    left = _NO_WORDS.sub(" ", "".join(rest))
    return bool(re.search(r"\w", left))


def _both_ends(text: str, run: str, line: int) -> Iterator[Answer]:
    opening = f"{_RUN}, "
    found = _read(opening + text, {"runs.front.left_end", "runs.front.right_end"}, angles=True)
    if len(found) < 2:
        return
    for path, reading in found.items():
        yield Answer(path.replace("runs.front", run), _moved(reading, len(opening), text, line))


def _opened(text: str, paths: Sequence[str], field: str, line: int) -> Iterator[Answer]:
    before, after, stands = _OPENED[field]
    if len(paths) > 1 and not _ALL.search(text):
        return
    if field in ("left_end", "right_end") and re.search(r"\b(?:left|right)\b", text, re.IGNORECASE):
        before = f"{_RUN}, "
    found = _read(before + text + after, {stands}, angles=True)
    if stands not in found:
        return
    part = stands.rpartition(".")[0]
    for path in paths:
        for at, reading in found.items():
            yield Answer(
                path if at == stands else at.replace(part, path.rpartition(".")[0]),
                _moved(reading, len(before), text, line),
            )


def _read(note: str, wanted: set[str], *, angles: bool) -> dict[str, Reading[Any]]:
    """The readings a note of one line gives at the wanted paths, with what goes with them; empty where a
    number of it found no place."""
    from gutterance.reading import read_note

    sheet = read_note([note])
    if sheet.unread:
        return {}
    with_it = {path.replace("_end", "_angle") for path in wanted} if angles else set()
    with_it |= {path.replace(".place", ".distance") for path in wanted}
    return {
        path: reading
        for path, reading in sheet.readings()
        if path in wanted | with_it and reading.value is not None
    }


def _moved(reading: Reading[Any], by: int, text: str, line: int) -> Reading[Any]:
    """The reading with its sources as they stand in the answer; words of the opening are no source."""
    stretches = ((max(one.start - by, 0), one.end - by) for one in reading.source)
    source = [
        Source(line=line, start=start, end=end, text=text[start:end])
        for start, end in stretches
        if start < end <= len(text)
    ]
    return reading.model_copy(update={"source": source, "was": []})


def _number(text: str, paths: Sequence[str], line: int, kind: type[int] | type[float]) -> Iterator[Answer]:
    found = find_lengths(text)
    if len(found) != 1 or found[0].value is None or _says_more(text, [(found[0].start, found[0].end)]):
        return
    one = found[0]
    source = Source(line=line, start=one.start, end=one.end, text=text[one.start : one.end])
    value = one.value
    if value is None or (kind is int and value.denominator != 1):
        return
    for path in paths:
        yield Answer(path, Reading[kind](value=kind(value), source=[source]))  # type: ignore[valid-type]

"""Which form a note has come in, told from its content, and each form to the lines of a note."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.notes.decoding import SIZE_LIMIT, decode_text
from gutterance.notes.note import Damage, Note, NoteError, NoteLine

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.notes.decoding import PlainText
    from gutterance.notes.utterances import Utterance

_CAPTIONS = (".vtt", ".srt")
_MOST_DAMAGE = 100
"""Broken places told one by one; a file with more is best had again."""
_AGAIN = "get the file again from where it was made"
_BRACKETS = ("{", "[")


def decode_note(data: bytes, name: str, *, limit: int = SIZE_LIMIT) -> Note:
    r"""The note in `data`: plain text, WebVTT, SubRip, or a JSON transcript, told from what it holds.

    The ending of `name` only decides for captions whose beginning is lost. `limit` [bytes] is the largest
    note taken. A broken transcript gives what can be read, and the rest as the note's `damage`.

    Raises NoteError for a note that is empty, too large, or no text.

    >>> decode_note(b"WEBVTT\n\n00:01.000 --> 00:02.500\nFront 42-6\n", "a.vtt").lines[0].text
    'Front 42-6'
    """
    given = decode_text(data, name, limit=limit)
    return _transcript(given) or _captions(given) or _plain(given)


def _plain(given: PlainText) -> Note:
    lines = tuple(NoteLine(text, given.name, number) for number, text in enumerate(given.lines, start=1))
    return Note(given.name, lines, given.remarks, _placed(given.damage, lines))


def _captions(given: PlainText) -> Note | None:
    from gutterance.notes.captions import CaptionForm, caption_form, read_captions

    form: CaptionForm | None = caption_form(given.lines)
    ending = given.name[-4:].lower()
    if form is None and ending in _CAPTIONS:
        form = "vtt" if ending == ".vtt" else "srt"
    if form is None:
        return None
    read = read_captions(given.lines, given.name, form)
    return _spoken(given, read.utterances, read.remarks, read.damage)


def _transcript(given: PlainText) -> Note | None:
    first = next(
        (line.lstrip("\ufeff \t\u00a0") for line in given.lines if line.strip("\ufeff \t\u00a0")), ""
    )
    if not first.startswith(_BRACKETS):
        return None
    from gutterance.notes.transcripts import read_transcript

    read = read_transcript(given.lines, given.name)
    return None if read is None else _spoken(given, read.utterances, read.remarks, read.damage)


def _spoken(
    given: PlainText, utterances: Sequence[Utterance], remarks: Sequence[str], damage: Sequence[Damage]
) -> Note:
    from gutterance.notes.utterances import lines_of

    lines = lines_of(utterances, given.name)
    if not lines:
        broken = f" ({damage[0]})" if damage else ""
        raise NoteError(f"{given.name} holds no spoken words{broken}: check that it is the whole transcript")
    return Note(given.name, lines, (*given.remarks, *remarks), _placed([*damage, *given.damage], lines))


def _placed(damage: Sequence[Damage], lines: Sequence[NoteLine]) -> tuple[Damage, ...]:
    """The damage in the order of the file, each with the line of the note that stands before it."""
    numbers = [line.number for line in lines]
    ordered = sorted(damage, key=lambda one: one.line)
    if len(ordered) > _MOST_DAMAGE:
        rest = ordered[_MOST_DAMAGE:]
        more = replace(rest[0], what=f"{len(rest)} more places from here on are broken", mend=_AGAIN)
        ordered = [*ordered[:_MOST_DAMAGE], more]
    return tuple(replace(one, near=bisect_right(numbers, one.line)) for one in ordered)


def walk_round(notes: Sequence[Note]) -> Note:
    r"""Several notes as one, in the order given: one walk round one house, its lines numbered through.

    Raises NoteError for none, and for a file given twice: everything in it would count twice.

    >>> front = decode_note(b"Front 42-6\n", "front.txt")
    >>> both = walk_round([front, decode_note(b"Back 42-6\n", "back.txt")])
    >>> both.name, both.lines_text(), both.where(2)
    ('front.txt and back.txt', ('Front 42-6', 'Back 42-6'), 'back.txt, line 1')
    """
    if not notes:
        raise NoteError("no note was given: give at least one file")
    if len(notes) == 1:
        return notes[0]
    names = [note.name for note in notes]
    for number, name in enumerate(names):
        if name in names[:number]:
            raise NoteError(f"{name} is given twice: give each file of the walk-round once")
    lines: list[NoteLine] = []
    damage: list[Damage] = []
    for note in notes:
        damage += [replace(one, near=one.near + len(lines)) for one in note.damage]
        lines += note.lines
    remarks = tuple(remark for note in notes for remark in note.remarks)
    return Note(f"{', '.join(names[:-1])} and {names[-1]}", tuple(lines), remarks, tuple(damage))

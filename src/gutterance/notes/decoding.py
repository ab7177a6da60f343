"""Bytes of a note to its lines, whatever program or telephone wrote them."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass

from gutterance.notes.note import Damage, NoteError

SIZE_LIMIT = 5_000_000
"""The largest note taken [bytes]: a long day's dictation is under a hundredth of it."""

_LINE_END = re.compile(r"\r\n|\r|\n")
_LINE_END_BYTES = re.compile(rb"\r\n|\r|\n")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")

# Files that people hand over in place of a note, told by their first bytes (each format's specification).
_NOT_TEXT = (
    (b"%PDF-", "a PDF"),
    (b"PK\x03\x04", "a Word, Excel or zip file"),
    (b"\xd0\xcf\x11\xe0", "an old Word or Excel file"),
    (b"{\\rtf", "a rich-text (RTF) file"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"RIFF", "a sound or picture file"),
    (b"ID3", "a sound file"),
    (b"OggS", "a sound file"),
    (b"\x1f\x8b", "a compressed file"),
)
_UTF16 = ((codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
_MOST_ODD = 0.1
"""Share of undecodable or control characters beyond which a file is no text."""
_MOST_NAMED = 3
"""How many line numbers a remark names before it counts the rest."""


@dataclass(frozen=True, slots=True)
class PlainText:
    """The lines of a file, with what was mended (`remarks`) and what is broken (`damage`)."""

    name: str
    lines: tuple[str, ...]
    remarks: tuple[str, ...] = ()
    damage: tuple[Damage, ...] = ()

    @property
    def text(self) -> str:
        """The whole file with plain line ends."""
        return "\n".join(self.lines)


def decode_text(data: bytes, name: str, *, limit: int = SIZE_LIMIT) -> PlainText:
    r"""The text in `data`: UTF-8, UTF-8 or UTF-16 with a mark; a line that is neither is Windows-1252.

    `limit` [bytes] is the largest file taken. Line ends may be LF, CRLF or CR. A control character becomes
    one space, so that places in the line stay true. A remark names the lines mended.

    Raises NoteError for a file that is empty, too large, or no text.

    >>> decode_text(b"\xef\xbb\xbfFront 42-6\r\nBack 42-6\r\n", "a.txt").lines
    ('Front 42-6', 'Back 42-6')
    >>> decode_text("w/f 12½".encode("cp1252"), "a.txt").remarks
    ('a.txt: line 1 is not UTF-8, so the note was read as Windows-1252; look at its accents and fractions',)
    >>> decode_text(b"  \n", "a.txt")
    Traceback (most recent call last):
    gutterance.notes.note.NoteError: a.txt is empty: write or paste the note into it first
    """
    if len(data) > limit:
        raise too_large(name, limit)
    text, remarks, damage = _decoded(data, name)
    if not text.strip():
        raise NoteError(f"{name} is empty: write or paste the note into it first")
    lines = _LINE_END.split(text)
    if lines[-1] == "":
        lines.pop()
    odd = [number for number, line in enumerate(lines, start=1) if _CONTROL.search(line)]
    if odd:
        count = sum(len(_CONTROL.findall(lines[number - 1])) for number in odd)
        if count > _MOST_ODD * len(text):
            raise NoteError(f"{name} is not text: save the note as plain text (.txt) and give that file")
        where = f"line {odd[0]}" + (f" and {len(odd) - 1} more" if len(odd) > 1 else "")
        remarks.append(f"{name}: control characters on {where} were read as spaces")
        lines = [_CONTROL.sub(" ", line) for line in lines]
    return PlainText(name, tuple(lines), tuple(remarks), tuple(damage))


def too_large(name: str, limit: int) -> NoteError:
    """The refusal of a note over `limit` [bytes]."""
    return NoteError(
        f"{name} is larger than {limit / 1_000_000:g} MB, too large for a note: "
        "check that it is the right file, or give it in parts"
    )


def _decoded(data: bytes, name: str) -> tuple[str, list[str], list[Damage]]:
    for start, what in _NOT_TEXT:
        if data.startswith(start):
            raise NoteError(
                f"{name} is {what}, not text: copy its words into a plain text file and give that"
            )
    if data.startswith(codecs.BOM_UTF8):
        data = data[len(codecs.BOM_UTF8) :]
    for mark, encoding in _UTF16:
        if data.startswith(mark):
            try:
                return data[len(mark) :].decode(encoding), [], []
            except UnicodeDecodeError as error:
                line = data[len(mark) : error.start].decode(encoding, "ignore").count("\n") + 1
                raise NoteError(
                    f"{name}, line {line}: the UTF-16 text is damaged there: save the note again as UTF-8"
                ) from error
    if b"\0" in data:
        raise NoteError(
            f"{name} is not text (it has NUL bytes on line {data[: data.index(0)].count(10) + 1}): "
            "save the note as plain UTF-8 text and give that file"
        )
    try:
        return data.decode("utf-8"), [], []
    except UnicodeDecodeError:
        return _line_by_line(data, name)


def _line_by_line(data: bytes, name: str) -> tuple[str, list[str], list[Damage]]:
    """Lines pasted together from several programs: each UTF-8 where it can be, else Windows-1252."""
    raw = _LINE_END_BYTES.split(data)
    lines: list[str] = []
    other: list[int] = []
    utf8 = False
    for number, line in enumerate(raw, start=1):
        try:
            lines.append(line.decode("utf-8"))
            utf8 = utf8 or not line.isascii()
        except UnicodeDecodeError as error:
            if number == len(raw) and error.reason == "unexpected end of data" and utf8:
                # The file was cut through a sign of several bytes: in the other encoding its first bytes
                # would pass for signs nobody wrote.
                lines.append(line[: error.start].decode("utf-8"))
                what = Damage(
                    name, number, "the file breaks off in the middle of a sign",
                    "look at the whole file, and give that",
                )  # fmt: skip
                return "\n".join(lines), _remark(name, other, alone=False), [what]
            lines.append(line.decode("cp1252", "replace"))
            other.append(number)
    text = "\n".join(lines)
    if text.count("\ufffd") > _MOST_ODD * len(text):
        raise NoteError(f"{name} is not text: save the note as plain text (.txt) and give that file")
    return text, _remark(name, other, alone=not utf8), []


def _remark(name: str, other: list[int], *, alone: bool) -> list[str]:
    look = "look at its accents and fractions"
    if not other:
        return []
    if alone:
        return [f"{name}: line {other[0]} is not UTF-8, so the note was read as Windows-1252; {look}"]
    named = ", ".join(str(number) for number in other[:_MOST_NAMED])
    rest = f" and {len(other) - _MOST_NAMED} more" if len(other) > _MOST_NAMED else ""
    if len(other) == 1:
        return [f"{name}: line {named} is not UTF-8, so it was read as Windows-1252; {look}"]
    return [f"{name}: lines {named}{rest} are not UTF-8, so they were read as Windows-1252; {look}"]

"""Notes as telephones and office programs write them, and what people hand over in place of one."""

from __future__ import annotations

import codecs

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.notes import NoteError, decode_note

SAID = "Front 42′-6½″ OSC\nBack 10⅞\n"
LINES = ("Front 42′-6½″ OSC", "Back 10⅞")


@pytest.mark.parametrize(
    "data",
    [
        SAID.encode(),
        codecs.BOM_UTF8 + SAID.encode(),
        codecs.BOM_UTF16_LE + SAID.encode("utf-16-le"),
        codecs.BOM_UTF16_BE + SAID.encode("utf-16-be"),
        SAID.replace("\n", "\r\n").encode(),
        SAID.replace("\n", "\r").encode(),
        SAID.rstrip("\n").encode(),
    ],
    ids=["utf-8", "utf-8 mark", "utf-16 le", "utf-16 be", "crlf", "cr", "no last line end"],
)
def test_every_usual_encoding_and_line_end_gives_the_same_lines(data: bytes) -> None:
    note = decode_note(data, "job.txt")
    assert note.lines_text() == LINES
    assert note.remarks == ()


def test_windows_1252_is_read_with_a_remark_that_names_the_line() -> None:
    note = decode_note("Front 42-6\nw/f 12½ façade".encode("cp1252"), "job.txt")
    assert note.lines_text()[1] == "w/f 12½ façade"
    (remark,) = note.remarks
    assert remark.startswith("job.txt: line 2 is not UTF-8, so the note was read as Windows-1252")


def test_places_in_a_line_are_kept_where_a_control_character_stood() -> None:
    note = decode_note(b"Front\x07 42-6\tOSC\nBack\x0c 3", "job.txt")
    assert note.lines_text() == ("Front  42-6\tOSC", "Back  3")
    assert note.remarks == ("job.txt: control characters on line 1 and 1 more were read as spaces",)


def test_blank_lines_keep_their_number_and_emoji_are_one_character() -> None:
    assert decode_note("a\n\n🏠 b\n".encode(), "n").lines_text() == ("a", "", "🏠 b")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is empty"),
        (b" \r\n\t\n", "is empty"),
        (codecs.BOM_UTF8, "is empty"),
        (b"%PDF-1.7 ...", "is a PDF, not text"),
        (b"PK\x03\x04....", "is a Word, Excel or zip file"),
        (b"{\\rtf1 hello", "rich-text"),
        (b"\x89PNG\r\n", "is a picture"),
        (b"RIFF....WAVE", "is a sound"),
        (b"one\ntw\x00o", "NUL bytes on line 2"),
        (bytes(range(1, 256)) * 4, "is not text"),
        (b"\x81\x8d\x8f\x90\x9d" * 30, "is not text"),
        (codecs.BOM_UTF16_LE + b"a\x00\n\x00b\x00\x00\xd8", "line 2: the UTF-16 text is damaged"),
        (b"x" * 101, "larger than 0.0001 MB"),
    ],
)
def test_what_is_no_note_is_refused_in_one_sentence_with_the_mend(data: bytes, says: str) -> None:
    with pytest.raises(NoteError, match=says) as refused:
        decode_note(data, "job.txt", limit=100 if data[:1] == b"x" else 10_000)
    sentence = str(refused.value)
    assert sentence.startswith("job.txt")
    assert "\n" not in sentence
    assert ": " in sentence  # what is wrong, then what to do


@given(st.binary(max_size=400))
def test_any_bytes_give_a_note_or_one_plain_refusal(data: bytes) -> None:
    try:
        note = decode_note(data, "job.txt")
    except NoteError as error:
        refusal = str(error)
    else:
        refusal = None
    if refusal is not None:
        assert refusal.startswith("job.txt")
        return
    assert note.text.strip()
    assert not any(sign in line for line in note.lines_text() for sign in "\n\r\0\x1b")


@given(st.lists(st.text(st.characters(exclude_categories=("Cc", "Cs")), min_size=1), min_size=1))
def test_text_comes_back_character_for_character(lines: list[str]) -> None:
    text = "\n".join(lines)
    if text.strip() and not text.startswith(("%PDF-", "{\\rtf", "GIF8", "RIFF", "ID3", "OggS", "\ufeff")):
        assert list(decode_note(text.encode(), "n").lines_text()) == lines

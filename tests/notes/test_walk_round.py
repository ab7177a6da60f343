"""Notes of every form and in several files: one walk-round, told from content, whatever signs are in it."""

from __future__ import annotations

import io
import sys
from typing import TYPE_CHECKING

import pytest

from gutterance.notes import NoteError, decode_note, open_walk_round, walk_round
from gutterance.notes.utterances import Utterance, lines_of

if TYPE_CHECKING:
    from pathlib import Path

VTT = "WEBVTT\n\n00:01.000 --> 00:02.000\nBack 28-3.\n\n00:04.000 --> 00:05.000\nPorch 12-6.\n"


def test_several_files_are_one_note_numbered_through_with_each_line_s_file(tmp_path: Path) -> None:
    (tmp_path / "front.txt").write_text("Front 42-6\n\nDrop left\n")
    (tmp_path / "back.vtt").write_text(VTT)
    note = open_walk_round([tmp_path / "front.txt", tmp_path / "back.vtt"])
    assert note.lines_text() == ("Front 42-6", "", "Drop left", "Back 28-3.", "Porch 12-6.")
    front, back = str(tmp_path / "front.txt"), str(tmp_path / "back.vtt")
    assert note.files() == ((front, 1, 3), (back, 4, 5))
    assert note.where(3) == f"{front}, line 3"
    assert note.where(5) == f"{back}, line 7"
    assert note.seconds_of(3, 0, 4) is None
    assert note.seconds_of(5, 0, 4) == (4.0, 5.0)
    assert note.name == f"{front} and {back}"


def test_damage_and_remarks_of_every_file_are_kept_and_counted_through() -> None:
    first = decode_note("Front 42-6 façade\nDrop left".encode("cp1252"), "front.txt")
    second = decode_note(b"WEBVTT\n\n00:01.000 --> 00:02.000\nBack\n\nsix foot\n", "back.vtt")
    note = walk_round([first, second])
    assert [(one.file, one.line, one.near) for one in note.damage] == [("back.vtt", 6, 4)]
    assert note.text.splitlines()[3] == "six foot"
    assert len(note.remarks) == 1


def test_a_file_given_twice_and_none_at_all_are_refused() -> None:
    front = decode_note(b"Front 42-6", "front.txt")
    with pytest.raises(NoteError, match=r"front\.txt is given twice: give each file of the walk-round once"):
        walk_round([front, front])
    with pytest.raises(NoteError, match="no note was given"):
        walk_round([])
    assert walk_round([front]) is front


@pytest.mark.parametrize(
    "data",
    [
        VTT,
        VTT.replace("\n", "\r\n"),
        "\ufeff" + VTT,
        "1\n00:00:01,000 --> 00:00:02,000\nBack 28-3.\n\n2\n00:00:04,000 --> 00:00:05,000\nPorch 12-6.\n",
        '{"segments": [{"start": 1, "end": 2, "text": "Back 28-3."}, '
        '{"start": 4, "end": 5, "text": "Porch 12-6."}]}',
        '\n [{"start": 1, "end": 2, "text": "Back 28-3."}, {"start": 4, "end": 5, "text": "Porch 12-6."}]',
    ],
    ids=["vtt", "vtt crlf", "vtt with a mark", "srt", "json", "json list"],
)
def test_the_form_is_told_from_the_content_on_standard_input(
    monkeypatch: pytest.MonkeyPatch, data: str
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data.encode())))
    note = open_walk_round(["-"])
    assert note.lines_text() == ("Back 28-3.", "Porch 12-6.")
    assert [note.seconds_of(number, 0, 4) for number in (1, 2)] == [(1.0, 2.0), (4.0, 5.0)]


@pytest.mark.parametrize(
    "text",
    [
        "Front 42-6 --> same for back",
        "10:42 front 24-9\n10:44 back 24-6",
        "1\n2\n3 00:01",
        "# Job\n\n- Front 42-6",
    ],
)
def test_what_only_looks_a_little_like_captions_stays_as_given(text: str) -> None:
    assert decode_note(text.encode(), "job.md").text == text


def test_lines_in_several_encodings_are_each_read_in_their_own() -> None:
    data = "Front 42′-6½″\n".encode() + "w/f 12½\n".encode("cp1252") + "Back 10⅞\n".encode() + b"\xbd in\n"
    note = decode_note(data, "job.txt")
    assert note.lines_text() == ("Front 42′-6½″", "w/f 12½", "Back 10⅞", "½ in")
    assert note.remarks == (
        "job.txt: lines 2, 4 are not UTF-8, so they were read as Windows-1252; "
        "look at its accents and fractions",
    )


def test_a_file_cut_through_a_sign_loses_only_that_sign_and_says_so() -> None:
    note = decode_note("Front 42½\nBack 6½".encode()[:-1], "job.txt")
    assert note.lines_text() == ("Front 42½", "Back 6")
    assert str(note.damage[0]).startswith("job.txt, line 2: the file breaks off in the middle of a sign")


ODD = "Front\t42\u00a0ft ４２ \u200f6\u200e 🏠 ½ \u2068x\u2069"


def test_strange_signs_are_kept_as_given_in_every_form() -> None:
    vtt = f"WEBVTT\n\n00:01.000 --> 00:02.000\n{ODD}\n"
    json_text = '{"segments": [{"start": 1, "end": 2, "text": "' + ODD.replace("\t", "\\t") + '"}]}'
    for data in (ODD, vtt, json_text):
        note = decode_note(data.encode(), "-")
        assert note.lines_text() == (ODD,)
        assert note.damage == ()


@pytest.mark.parametrize("form", ["text", "vtt", "json"])
def test_a_million_characters_on_a_line_are_read(form: str) -> None:
    said = ("front 42-6 " * 90_910).strip()
    data = {
        "text": said,
        "vtt": f"WEBVTT\n\n00:01.000 --> 00:02.000\n{said}",
        "json": '[{"text": "' + said + '", "start": 1, "end": 2}]',
    }[form]
    note = decode_note(data.encode(), "-")
    assert note.lines_text() == (said,)
    assert note.seconds_of(1, 999_990, 999_999) == (None if form == "text" else (1.0, 2.0))


def test_a_line_the_note_has_not_is_an_error() -> None:
    note = decode_note(b"Front 42-6", "front.txt")
    for number in (0, 2, -1):
        with pytest.raises(ValueError, match=r"front\.txt has lines 1 to 1, not"):
            note.seconds_of(number, 0, 1)
        with pytest.raises(ValueError, match=r"front\.txt has lines 1 to 1, not"):
            note.probability_of(number, 0, 1)


def joined(*said: tuple[str, float, float]) -> list[str]:
    return [
        line.text for line in lines_of([Utterance(text, 1, (start, end)) for text, start, end in said], "f")
    ]


def test_what_follows_without_a_pause_is_one_line() -> None:
    assert joined(("front is forty two foot", 0, 2), ("six outside corner", 2, 4)) == [
        "front is forty two foot six outside corner"
    ]
    assert joined(("drop on the", 0, 2), ("left end", 2.4, 4)) == ["drop on the left end"]


@pytest.mark.parametrize(
    ("first", "second", "at"),
    [
        ("drop left.", "back is twenty", 2.0),  # a sentence ends
        ("drop left", "Back is twenty", 2.0),  # one begins
        ("drop left", "back is twenty", 4.0),  # a pause
        ("height nine four.", "six down from the roof", 2.0),  # a sentence ends between two numbers
    ],
)
def test_a_line_ends_where_the_speaker_does(first: str, second: str, at: float) -> None:
    assert joined((first, 0, 2), (second, at, at + 1)) == [first, second]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("forty two foot", "six and a quarter"),
        ("forty two foot six", "and a quarter"),
        ("twenty eight", "feet three"),
        ("front 42'", '6" OSC'),
        ("front 42 ft.", "6 in. both ends"),
        ("three point", "Two metres"),
    ],
)
def test_no_pause_cuts_a_number(first: str, second: str) -> None:
    assert joined((first, 0, 2), (second, 6, 8)) == [f"{first} {second}"]


def test_a_joined_line_keeps_each_part_s_time_and_where_they_met() -> None:
    (line,) = lines_of([Utterance("forty two foot", 3, (0, 2)), Utterance("six", 6, (2, 3))], "a.vtt")
    assert (line.text, line.number, line.joins) == ("forty two foot six", 3, (14,))
    assert [(word.start, word.end, word.seconds) for word in line.words] == [
        (0, 14, (0, 2)),
        (15, 18, (2, 3)),
    ]

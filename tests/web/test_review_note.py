"""The note beside the sheet: every word once, every marked word led to its values, whatever was typed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.checking import as_it_stands
from gutterance.reading import read_note
from gutterance.web.views.note import note_rows, without_words

NOTE = [
    "7 Heron Row",
    "Front 42-6 OSC both ends, drop left, w/f about 24, height nine four",
    "back same as the front but 40-6",
    "",
    "right side 28-0 ate caps both ends, 17",
    "Mind the power line",
]


def rows_of(note: list[str]):  # type: ignore[no-untyped-def]
    sheet = as_it_stands(read_note(note)).sheet
    return sheet, note_rows(sheet)


def test_put_together_again_each_row_is_its_line() -> None:
    _, rows = rows_of(NOTE)
    assert [row.number for row in rows] == [1, 2, 3, 5, 6]
    assert ["".join(one.text for one in row.words) for row in rows] == [line for line in NOTE if line]


def test_every_value_is_led_to_from_its_own_words() -> None:
    sheet, rows = rows_of(NOTE)
    for path, reading in sheet.readings():
        for words in reading.source:
            row = next(one for one in rows if one.number == words.line)
            led = "".join(one.text for one in row.words if path in one.paths)
            assert words.text in led, (path, words)


def test_words_that_went_nowhere_have_no_path_and_unread_ones_say_so() -> None:
    _, rows = rows_of(NOTE)
    unread = [one for row in rows for one in row.words if one.kind == "unread"]
    assert [one.text for one in unread] == ["17"]
    assert unread[0].paths == ("unread.1",)
    assert "not understood" in unread[0].says
    assert all(one.kind for row in rows for one in row.words if one.paths)
    assert not any(one.kind or one.sign for row in rows for one in row.words if not one.paths)


def test_a_doubtful_value_has_a_sign_behind_its_words_and_says_what_it_became() -> None:
    _, rows = rows_of(NOTE)
    about = next(one for one in rows[1].words if one.text == "about 24")
    assert about.kind == "open"
    assert about.sign == "?"
    assert '24", doubtful' in about.says
    assert "downpipes.front-1.wall_to_fascia" in about.paths
    assert "downpipes.back-1.wall_to_fascia" in about.paths  # copied by `same as`


@pytest.mark.parametrize(
    "line",
    [
        "🏠🏠 Front 42-6 OSC both ends 👍🏽 drop left",
        "Front 42-6 OSC both ends\r\nBack 40-6\r",
        "Fro\u0301nt\t42-6 \u202eOSC both ends",
    ],
)
def test_spans_survive_emoji_line_ends_and_signs_of_direction(line: str) -> None:
    sheet, rows = rows_of(["Job", line])
    for path, reading in sheet.readings():
        for words in reading.source:
            row = next(one for one in rows if one.number == words.line)
            led = "".join(one.text for one in row.words if path in one.paths)
            visible = words.text.replace("\t", " ").replace("\r", "").replace("\u202e", "")
            assert visible in led
    shown = "".join(one.text for row in rows for one in row.words)
    assert not set(shown) & {"\u202e", "\r"}


@settings(max_examples=25, deadline=None)
@given(st.lists(st.text(max_size=60), max_size=4))
def test_any_text_becomes_rows_with_all_that_can_be_seen(lines: list[str]) -> None:
    _, rows = rows_of(lines)
    for row in rows:
        given_line = lines[row.number - 1]
        seen = [one for one in given_line if one.isalnum()]
        assert [one for row_one in row.words for one in row_one.text if one.isalnum()] == seen


def test_values_without_words_are_told_with_their_paths() -> None:
    sheet, _ = rows_of(
        ["Front 42-6 OSC both ends", "Left side 30-0 OSC both ends", "Back 42-6 OSC both ends"]
    )
    for one in without_words(sheet):
        assert sheet.reading_at(one.path) is not None

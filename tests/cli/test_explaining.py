"""A value's way back to its words: the right words, marked in the right place."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.cli.explaining import explain_sheet, marked_lines
from gutterance.sheet.models import Sheet, Source

NOTE = ["Front 42-6 OSC both ends", "no wait make the front 42-8"]


def source(note: list[str], line: int, words: str, **more: Any) -> Source:
    start = note[line - 1].index(words)
    return Source(line=line, start=start, end=start + len(words), text=words, **more)


def sheet() -> Sheet:
    first = {"value": "510 in", "source": [source(NOTE, 1, "42-6").model_dump()]}
    length = {
        "value": "512 in",
        "status": "corrected",
        "source": [source(NOTE, 2, "42-8").model_dump()],
        "was": [first],
        "why": "corrected by 'no wait make'",
    }
    run = {
        "id": "front",
        "name": "front",
        "length": length,
        "left_end": {"value": "end cap", "status": "assumed"},
        "right_end": {"value": "wall"},
    }
    return Sheet.model_validate({"format": "gutterance-sheet-1", "runs": [run], "note": NOTE})


def test_a_corrected_value_leads_to_its_words_and_to_what_it_was() -> None:
    assert explain_sheet(sheet(), "runs.front.length") == [
        "runs.front.length: 42' 8\" (corrected)",
        "  why: corrected by 'no wait make'",
        "  line 2: no wait make the front 42-8",
        "                                 ^^^^",
        "  was: 42' 6\" (read)",
        "    line 1: Front 42-6 OSC both ends",
        "                  ^^^^",
    ]


def test_a_part_leads_to_all_its_values_and_an_assumed_one_says_it_has_no_words() -> None:
    lines = explain_sheet(sheet(), "runs.front")
    assert lines is not None
    assert "runs.front.left_end: end cap (assumed)" in lines
    assert "  no words of the note: it was assumed" in lines
    assert explain_sheet(sheet(), "runs.fro") is None


def test_words_of_one_line_are_marked_together() -> None:
    sources = [source(NOTE, 1, "42-6"), source(NOTE, 1, "Front")]
    assert marked_lines(sources, NOTE) == ["line 1: Front 42-6 OSC both ends", "        ^^^^^ ^^^^"]


def test_the_seconds_of_a_recording_are_told() -> None:
    (shown, _) = marked_lines([source(NOTE, 1, "42-6", seconds=(12.4, 14.1))], NOTE)
    assert shown.endswith("(heard at 0:12.4 to 0:14.1)")


def test_words_that_are_not_where_the_sheet_says_are_told_so() -> None:
    wrong = Source(line=1, start=0, end=4, text="42-6")
    assert marked_lines([wrong], NOTE)[1] == "(the note kept with this sheet has no such words there)"
    assert marked_lines([Source(line=9, start=0, end=4, text="42-6")], NOTE)[0] == 'line 9: "42-6"'


@given(
    st.text(st.sampled_from("ab 1\t½é漢"), max_size=200),
    st.text(st.sampled_from("42-6½漢"), min_size=1, max_size=12),
    st.text(st.sampled_from("ab 1\t½é漢"), max_size=200),
)
def test_the_marks_stand_under_the_words_whatever_stands_before(before: str, words: str, after: str) -> None:
    note = [before + words + after]
    place = Source(line=1, start=len(before), end=len(before) + len(words), text=words)
    shown, marks = marked_lines([place], note)

    def columns(text: str) -> list[str]:
        return [sign for sign in text for _ in range(2 if sign == "漢" else 1)]

    under = columns(shown)[len(marks) - len(marks.lstrip()) : len(marks)]
    assert under == columns(words.replace("\t", " "))
    assert len(columns(shown)) < 2 * 110


def test_the_command_explains_sheet_and_list_numbers_and_lists_all_paths(call: Any) -> None:
    name = call.file("job.json", sheet().model_dump_json(by_alias=True))
    assert (
        call("explain", name, "runs.front.length").out.splitlines()[0]
        == "runs.front.length: 42' 8\" (corrected)"
    )
    assert (
        json.loads(call("explain", name, "runs.front.length", "--json").out)["runs.front.length"]["value"]
        == "512 in"
    )
    every = call("explain", name).out
    assert "runs.front.length: 42' 8\"" in every
    assert "pieces.front-1.back: " in every
    piece = call("explain", name, "pieces.front-1.back").out
    assert "measured, as corrected, 42' 8\"" in piece
    assert "line 2: no wait make the front 42-8" in piece


@pytest.mark.parametrize("given_path", ["pieces.front-1.sideways", "runs", "x"])
def test_paths_are_refused_or_answered_but_never_guessed(call: Any, given_path: str) -> None:
    name = call.file("job.json", sheet().model_dump_json(by_alias=True))
    answer = call("explain", name, given_path)
    assert answer.status == (0 if given_path == "runs" else 2)

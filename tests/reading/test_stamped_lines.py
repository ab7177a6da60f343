"""Notes whose lines open with the time, cut wherever a recorder's line was full.

The houses are invented. What each line means is trade usage, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

WORDS = (
    "back is thirty one foot",
    "eight and a quarter outside",
    "corners both ends",
    "drop on the left eighteen",
    "inches wall to fascia nine foot",
    "ten down to the drain",
    "left side twenty two foot outside both ends",
)


@pytest.mark.parametrize("stamp", ["[00:{0:02}] ", "0:{0:02} ", "00:00:{0:02}.5 - ", "(0:{0:02}) "])
def test_a_sentence_cut_by_the_recorder_is_one(read: Callable[..., Any], stamp: str) -> None:
    seen = read(*(stamp.format(4 * number) + words for number, words in enumerate(WORDS)))
    seen.runs("back", "left-side")
    reading = seen.feet("runs.back.length", 31, "8 1/4")
    assert [(source.line, source.text) for source in reading.source][:2] == [
        (1, "thirty one foot"),
        (2, "eight and a quarter"),
    ]
    seen.ends("back", "outside corner", "outside corner")
    seen.inches("downpipes.back-1.wall_to_fascia", 18)
    seen.feet("downpipes.back-1.height", 9, 10)
    assert seen.sheet.note == seen.lines


def test_when_it_was_said(read: Callable[..., Any]) -> None:
    seen = read(*(f"0:{4 * number:02} {words}" for number, words in enumerate(WORDS)))
    assert seen.at("downpipes.back-1.ends_at").source[0].seconds == (20.0, 24.0)


def test_a_sentence_that_ended_is_not_gone_on_with(read: Callable[..., Any]) -> None:
    seen = read("0:01 Back 30-0 caps both.", "0:05 6 drops in all.", "0:09 Front 31-0 caps both.")
    seen.feet("runs.back.length", 30)
    seen.feet("runs.front.length", 31)


def test_no_numeral_is_lost_at_a_cut(read: Callable[..., Any]) -> None:
    seen = read(
        "0:01 watch the dog at number 9", "0:04 and the 2 geese of 14", "0:08 back 30-0 caps both ends"
    )
    said = {source.text for source in seen.sheet.sources()}
    assert any("9" in words for words in said)
    assert any("14" in words for words in said)


def test_a_few_times_in_a_note_are_no_stamps(read: Callable[..., Any]) -> None:
    seen = read(
        "10:40 got there", "Front 30-0 caps both", "Back 31-0 caps both", "Left at 11:15", "Dog out back"
    )
    seen.feet("runs.back.length", 31)
    assert all(source.seconds is None for source in seen.sheet.sources())

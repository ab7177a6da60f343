"""People talking: labels are no part of what is said, and a number answers the question before it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

TALK = (
    "{a}: front?",
    "{b}: 31-9 caps both ends",
    "{a}: drop?",
    "{b}: right end",
    "{a}: wall to fascia?",
    "{b}: 22",
    "{a}: height?",
    "{b}: eight eleven, splash block",
)


@pytest.mark.parametrize(
    ("a", "b"),
    [
        ("Oona", "Ferris"),
        ("PAD", "TAPE"),
        ("Me", "Him"),
        ("Speaker 1", "Speaker 2"),
        ("[SPEAKER_00]", "[SPEAKER_01]"),
        ("A", "B"),
        pytest.param(
            "L",
            "R",
            marks=pytest.mark.xfail(strict=True, reason="the label R is read as the right side, as certain"),
        ),
    ],
)
def test_two_people_with_labels(read: Callable[..., Any], a: str, b: str) -> None:
    seen = read(*(line.format(a=a, b=b) for line in TALK))
    seen.runs("front")
    seen.feet("runs.front.length", 31, 9, "31-9")
    seen.ends("front", "end cap", "end cap")
    seen.outlets("front", "right")
    seen.inches("downpipes.front-1.wall_to_fascia", 22, "22")
    seen.feet("downpipes.front-1.height", 8, 11, "eight eleven")


def test_questions_asked_aloud_with_no_labels(read: Callable[..., Any]) -> None:
    seen = read(
        "how long is the front",
        "thirty one nine",
        "and the ends",
        "outside corner both ends",
        "where's the drop",
        "left",
        "how far off the wall",
        "nineteen",
        "how high",
        "eight eleven",
    )
    seen.feet("runs.front.length", 31, 9, "thirty one nine")
    seen.ends("front", "outside corner", "outside corner")
    seen.outlets("front", "left")
    seen.inches("downpipes.front-1.wall_to_fascia", 19, "nineteen")
    reading = seen.feet("downpipes.front-1.height", 8, 11, "eight eleven")
    assert "how high" in [source.text for source in reading.source]


def test_a_number_repeated_back_is_the_same_value(read: Callable[..., Any]) -> None:
    seen = read(
        "Oona: back, 27 foot 4 and a half",
        "Ferris: 27 4 and a half",
        "Oona: outside corners",
        "Ferris: right",
    )
    reading = seen.at("runs.back.length")
    assert reading.value.inches * 2 == 657
    assert reading.status == "read"
    assert {source.line for source in reading.source} >= {1}


def test_a_number_repeated_back_wrong_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "Oona: back, 27 foot 4, outside corners",
        "Ferris: 27 foot 9",
        "Oona: front 27 foot 4, outside corners",
    )
    seen.asked_or_right("runs.back.length", seen.at("runs.front.length").value)


def test_a_question_that_nobody_answers_leaves_no_value(read: Callable[..., Any]) -> None:
    seen = read(
        "Oona: back, 27 foot 4, outside corners, drop left",
        "Ferris: how high?",
        "Oona: dunno, ladder's on the van",
    )
    assert (
        seen.sheet.reading_at("downpipes.back-1.height") is None
        or seen.at("downpipes.back-1.height").value is None
    )

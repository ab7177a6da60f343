"""What a telephone's ear writes: put right where its company shows it, and shown as put right."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("line", "feet", "inches", "heard"),
    [
        ("Front 28 foot for outside corners both ends", 28, 4, "for"),
        ("Front ate foot two, caps both ends", 8, 2, "ate"),
        ("Front is twenty foot to, caps both ends", 20, 2, "to"),
        ("front thirty one foot ate end caps", 31, 8, "ate"),
        ("front 19 feet won and a half inches end cap both ends", 19, "1 1/2", "won"),
    ],
)
def test_a_number_word_heard_wrong_is_put_right_and_doubtful(
    read: Callable[..., Any], line: str, feet: int, inches: str, heard: str
) -> None:
    seen = read(line)
    reading = seen.feet("runs.front.length", feet, inches, status="doubtful")
    assert repr(heard) in (reading.why or "")


@pytest.mark.parametrize(
    "line", ["Front 28 foot for outside corners both ends", "Front is twenty foot to, caps both ends"]
)
def test_the_words_of_a_number_put_right_are_whole_words(read: Callable[..., Any], line: str) -> None:
    seen = read(line)
    source = seen.at("runs.front.length").source[0]
    behind = line[source.end : source.end + 1]
    assert not (source.text[-1].isalpha() and behind.isalpha()), source.text


@pytest.mark.parametrize(
    "line",
    [
        "Front 28 foot 4 for the porch side, caps both",
        "front 28 foot 4 up to the corner caps both",
        "Front 28 foot 4, too long for one piece, caps both",
    ],
)
def test_an_ordinary_word_is_left_alone(read: Callable[..., Any], line: str) -> None:
    read(line).asked_or_right("runs.front.length", read("Front 28 foot 4").at("runs.front.length").value)


def test_trade_words_heard_wrong(read: Callable[..., Any]) -> None:
    seen = read(
        "front 22 foot 3 in cap left out side corner right down spout right 9 foot 2 down to a splash block"
    )
    seen.asked_or_right("runs.front.length", Length(267))
    seen.ends("front", "end cap", "outside corner")
    seen.outlets("front", "right")
    seen.feet("downpipes.front-1.height", 9, 2, "9 foot 2")


def test_facia_and_sofit(read: Callable[..., Any]) -> None:
    seen = read("Front 22-3 caps, drop left, wall to facia 17, height 9-2, splash")
    seen.inches("downpipes.front-1.wall_to_fascia", 17, "17")
    seen = read("Front 22-3 caps, drop left, sofit 17, height 9-2, splash")
    seen.inches("downpipes.front-1.wall_to_fascia", 17, "17")


@pytest.mark.parametrize(("said", "other"), [(15, 50), (13, 30), (40, 14), (60, 16)])
def test_teens_and_tens_are_remembered_as_alternatives(
    read: Callable[..., Any], said: int, other: int
) -> None:
    words = {15: "fifteen", 13: "thirteen", 40: "forty", 60: "sixty"}[said]
    reading = read(f"front is {words} foot three, end caps both ends").at("runs.front.length")
    assert reading.value.inches == said * 12 + 3
    assert other * 12 + 3 in [alternative.value.inches for alternative in reading.could_be]


def test_fillers_and_false_starts(read: Callable[..., Any]) -> None:
    seen = read(
        "um so the uh front is is like thirty thirty three foot uh seven and and a half outside corners"
    )
    seen.asked_or_right("runs.front.length", read("front 33 foot 7 and a half").at("runs.front.length").value)
    assert seen.sheet.runs

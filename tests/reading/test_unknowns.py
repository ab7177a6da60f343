"""What the note says was not measured is `missing`, with its reason, and never filled in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    "line",
    [
        "Back - couldn't get it, dog",
        "didn't get the back",
        "back: not measured, scaffold in the way",
        "Back ?",
        "Back length unknown",
        "no idea on the back, couldn't reach",
    ],
)
def test_a_run_that_was_not_measured(read: Callable[..., Any], line: str) -> None:
    seen = read("Front 30-6 OSC both", line)
    seen.feet("runs.front.length", 30, 6, "30-6")
    reading = seen.at("runs.back.length")
    assert reading.value is None
    assert reading.status == "missing"
    assert reading.why


@pytest.mark.parametrize(
    "words", ["height ?", "height not taken", "didn't get the height", "ht TBC", "height unknown"]
)
def test_a_height_that_was_not_measured(read: Callable[..., Any], words: str) -> None:
    seen = read(f"Front 30-6 OSC both, drop left, w/f 20, {words}")
    reading = seen.at("downpipes.front-1.height")
    assert reading.value is None
    assert reading.status == "missing"
    seen.inches("downpipes.front-1.wall_to_fascia", 20, "20")
    seen.feet("runs.front.length", 30, 6, "30-6")


def test_what_is_got_later_fills_the_gap(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 OSC both", "Back - didn't get it", "Got the back now: 28-3, OSC both")
    seen.asked_or_right("runs.back.length", seen.at("runs.front.length").value.__class__(339))
    assert seen.at("runs.back.length").value is not None


def test_a_question_mark_behind_a_number_is_a_doubt(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6? OSC both", "Back 28-3 OSC both")
    assert seen.at("runs.front.length").status == "doubtful"
    seen.feet("runs.back.length", 28, 3, "28-3")


TWO_DROPS = "Back 40-3 caps, drops both ends"


def _at_side(seen: Any, side: str) -> str:
    (outlet,) = [one.id for one in seen.sheet.outlets if one.from_ == side]
    return f"downpipes.{outlet}.height"


@pytest.mark.parametrize(
    "lines",
    [
        (f"{TWO_DROPS}. Left one 9-2 to splash. Didn't get the height of the right one.",),
        (f"{TWO_DROPS}, left one 9-2 to splash", "didn't get the height of the right one"),
        pytest.param(
            (f"{TWO_DROPS}. Left one 9-2 to splash, didn't get the height of the right one.",),
            marks=pytest.mark.xfail(
                strict=True, reason="the left one loses its height, the right one has none"
            ),
        ),
        (f"{TWO_DROPS}. Left one 9-2 to splash", "Front 30-6 caps", "didn't get the height of the right one"),
    ],
    ids=["own sentence", "own line", "same sentence", "lines later"],
)
def test_the_height_of_the_right_one_that_was_not_got(
    read: Callable[..., Any], lines: tuple[str, ...]
) -> None:
    seen = read(*lines)
    seen.feet(_at_side(seen, "left"), 9, 2, "9-2")
    reading = seen.at(_at_side(seen, "right"))
    assert reading.value is None
    assert reading.status == "missing"


def test_an_overhang_before_a_height_not_got_is_no_height(read: Callable[..., Any]) -> None:
    seen = read(f"{TWO_DROPS}. Left one 9-2, w/f 20, didn't get the height of the right one")
    seen.asked_or_right(_at_side(seen, "left"), Length(110))
    seen.asked(_at_side(seen, "right"))

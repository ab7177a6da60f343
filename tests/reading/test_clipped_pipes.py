"""Words cut short beside pipes, and pipes or ends told before the runs.

The houses are invented. What each line means is trade usage, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize("words", ["DS R 9-6, w/f 16, blk", "one spout R end, 9-6 high, 16 w/f, block"])
def test_a_block_behind_a_pipe_is_no_colour(read: Callable[..., Any], words: str) -> None:
    seen = read("8 Alder Ct", f"F 38-2 caps. {words}", '5" K wht')
    seen.says("downpipes.front-1.ends_at", "splash block")
    seen.says("defaults.colour", "white")


def test_black_beside_the_profile_stays_a_colour(read: Callable[..., Any]) -> None:
    seen = read("8 Alder Ct", "5K blk 2x3", "F 38-2 caps. DS R 9-6")
    seen.says("defaults.colour", "black")


def test_a_pipe_at_the_end_that_has_the_cap(read: Callable[..., Any]) -> None:
    seen = read("8 Alder Ct", "shed 22-0 wall / cap. drop cap end 8-3")
    seen.outlets("shed", "right")


@pytest.mark.parametrize(
    "line",
    [
        "drops ea end. L 8-10 to splash, R 11-2 to tile. w/f 18 both",
        "dp L + R. L 8-10 splash. R 11-2, to drain tile. w/f 18 both",
    ],
)
def test_sides_behind_both_pipes_are_the_pipes(read: Callable[..., Any], line: str) -> None:
    seen = read("8 Alder Ct", "bk 46-2 cap cap", line)
    seen.runs("back")
    seen.feet("downpipes.back-1.height", 8, 10)
    seen.says("downpipes.back-1.ends_at", "splash block")
    seen.asked_or_right("downpipes.back-2.height", seen.at("downpipes.back-2.height").value)
    assert seen.at("downpipes.back-2.height").value.inches == 11 * 12 + 2
    seen.says("downpipes.back-2.ends_at", "drain")
    seen.inches("downpipes.back-2.wall_to_fascia", 18)


def test_outlets_listed_above_the_runs(read: Callable[..., Any]) -> None:
    seen = read(
        "8 Alder Ct",
        "drops F both, Bk rt",
        "F 44-2",
        "R 29-7",
        "Bk 44-2",
        "L 29-7",
        "pipes F 9-0, Bk 9-5",
    )
    seen.outlets("front", "left", "right")
    seen.outlets("back", "right")
    seen.feet("runs.left-side.length", 29, 7)
    seen.feet("downpipes.back-1.height", 9, 5)


def test_a_list_of_pipes_is_no_heading(read: Callable[..., Any]) -> None:
    seen = read("8 Alder Ct", "Pipes at front left, back left and back right", "Front 14.2 m", "Back 14.2 m")
    seen.mm("runs.front.length", 14200)
    seen.outlets("back", "left", "right")


@pytest.mark.parametrize(
    "words", ["hip, OSC all 4", "cottage roof, gutter all the way round, 4 outside corners"]
)
def test_corners_of_all_told_above_the_runs(read: Callable[..., Any], words: str) -> None:
    seen = read("8 Alder Ct", words, "F 44-2", "R 29-7", "B 44-2", "L 29-7")
    for run in ("front", "right-side", "back", "left-side"):
        for side in ("left", "right"):
            reading = seen.at(f"runs.{run}.{side}_end")
            assert reading.value == "outside corner"
            assert reading.status in ("read", "inferred"), reading.why


def test_a_decimal_of_metres_takes_no_millimetres_behind_it(read: Callable[..., Any]) -> None:
    seen = read(
        "8 Alder Ct", "Back 4.19 m, stop ends. Pipe right-hand end, drop 2.74 m, 215 mm off the wall, gully."
    )
    seen.mm("downpipes.back-1.height", 2740)
    seen.mm("downpipes.back-1.wall_to_fascia", 215)

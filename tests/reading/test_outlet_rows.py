"""Rows that tell run by run where the outlets are, rows of their heights, and ends or counts told of all.

The houses are invented. What each line means is trade usage, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


def feet_inches(feet: int, inches: int) -> Length:
    """An exact length of feet and inches, worked out here rather than by the reader."""
    return Length(feet * 12 + inches)


RUNS = ("Whitlow", "F 38-6", "R 24-2", "B 38-6", "L 24-2")


@pytest.mark.parametrize(
    "row",
    [
        "dp F both ends, B rt only",
        "drops - front lt + rt. rear rt",
        "outs: F both, B R",
        "Outlets. Front at both ends, back on the right.",
        "3 dps, front one each end, back one on the right, none left or right",
        "dr F lt & rt. B at R only",
    ],
)
def test_a_row_of_outlets_by_run(read: Callable[..., Any], row: str) -> None:
    seen = read(*RUNS, "OSC all round", row, "9-4 high all, o/h 18 all")
    seen.outlets("front", "left", "right")
    seen.outlets("back", "right")
    seen.runs("front", "right-side", "back", "left-side")
    seen.feet("runs.front.length", 38, 6)
    seen.inches("downpipes.front-2.wall_to_fascia", 18)


@pytest.mark.parametrize(
    "row", ["dp 4, one ea end fr n bk", "DS - 2 on F one ea end, B same", "pipes: each corner front and back"]
)
def test_one_at_each_end(read: Callable[..., Any], row: str) -> None:
    seen = read(*RUNS, "all OC", row)
    seen.outlets("front", "left", "right")
    seen.outlets("back", "left", "right")


def test_a_count_that_is_not_what_was_listed_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(*RUNS, "all OC", "dp 5, one ea end fr n bk")
    for outlet in ("front-1", "front-2", "back-1", "back-2"):
        seen.asked(f"outlets.{outlet}.place")


def test_a_value_alone_below_such_a_row_is_of_every_pipe(read: Callable[..., Any]) -> None:
    seen = read(
        *RUNS, "all OC", "dr F both ends. B at R only", "oh 22", "pipes F 17-8  B 16-11", "all to grade"
    )
    for pipe in ("front-1", "front-2", "back-1"):
        seen.inches(f"downpipes.{pipe}.wall_to_fascia", 22)
        seen.says(f"downpipes.{pipe}.ends_at", "ground")
    seen.feet("downpipes.front-2.height", 17, 8)
    seen.feet("downpipes.back-1.height", 16, 11)


def test_names_and_values_in_either_order_in_one_row(read: Callable[..., Any]) -> None:
    seen = read(*RUNS, "all OC", "DS F rt, B lt", "ht 9-2 F, B 10-7 (walkout)", "oh 16 all")
    seen.feet("downpipes.front-1.height", 9, 2)
    seen.feet("downpipes.back-1.height", 10, 7)
    seen.feet("runs.back.length", 38, 6)


def test_a_number_for_each_pipe_of_a_run_is_no_length(read: Callable[..., Any]) -> None:
    seen = read(*RUNS, "all OC", "DS both ends F, both ends B", "F 8-4 & 8-9, B 9-2 left 9-5 rt")
    for pipe, (feet, inches) in {"front-1": (8, 4), "front-2": (8, 9), "back-2": (9, 5)}.items():
        assert seen.at(f"downpipes.{pipe}.height").value == feet_inches(feet, inches)
    seen.feet("runs.front.length", 38, 6)


@pytest.mark.parametrize("words", ["4 OSC", "hip, OC x4", "Four outside corners."])
def test_four_corners_of_four_sides(read: Callable[..., Any], words: str) -> None:
    seen = read(*RUNS, words)
    for run in ("front", "right-side", "back", "left-side"):
        for side in ("left", "right"):
            seen.says(f"runs.{run}.{side}_end", "outside corner", status="inferred")


def test_three_sides_with_four_corners_are_left_open(read: Callable[..., Any]) -> None:
    seen = read("Whitlow", "F 38-6", "R 24-2", "B 38-6", "4 OSC")
    seen.asked("runs.front.left_end")


def test_a_count_behind_all_measures_nothing(read: Callable[..., Any]) -> None:
    seen = read(
        "Whitlow", "F 38-6", "B 38-6", "caps all 4", "DS F both ends, B both ends", "oh 18 all 4, to grade"
    )
    seen.ends("front", "end cap", "end cap")
    seen.ends("back", "end cap", "end cap")
    seen.inches("downpipes.front-1.wall_to_fascia", 18)
    seen.inches("downpipes.back-2.wall_to_fascia", 18)


@pytest.mark.parametrize("words", ["the whole way round", "thruout", "right the way round"])
def test_words_for_all_behind_what_is_said(read: Callable[..., Any], words: str) -> None:
    seen = read(*RUNS, f"outside corners {words}")
    seen.ends("right-side", "outside corner", "outside corner")

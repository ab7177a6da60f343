"""Outlets and their pipes listed by the run each is on.

The houses are invented. What each line means is trade usage, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

RUNS = (
    "Front 41-3 outside corners both ends",
    "Right side 22-0 outside corners both ends",
    "Back 41-3 outside corners both ends",
    "Left side 22-0 outside corners both ends",
)


@pytest.mark.parametrize(
    "line",
    [
        "downpipes one on the front left and one each end of the back",
        "Downspouts: front left, back left, back right.",
        "three drops, one at the left end of the front, one on the back at the left, one on the back right",
        "dps are on the front left, both ends of the back",
    ],
)
def test_each_entry_is_an_outlet_of_its_run(read: Callable[..., Any], line: str) -> None:
    seen = read(*RUNS, line)
    seen.outlets("front", "left")
    seen.outlets("back", "left", "right")
    seen.feet("runs.front.length", 41, 3, "41-3")


def test_what_follows_an_entry_is_its_pipe_s(read: Callable[..., Any]) -> None:
    seen = read(
        *RUNS,
        "Downpipes:",
        'Front left: 9\' 1", 18" overhang, to the drain',
        'Back right: 10\' 4", 16" overhang, splash block',
    )
    seen.feet("downpipes.front-1.height", 9, 1)
    seen.inches("downpipes.back-1.wall_to_fascia", 16)
    seen.says("downpipes.back-1.ends_at", "splash block")


def test_lines_that_open_with_a_quarter_need_no_heading(read: Callable[..., Any]) -> None:
    seen = read(*RUNS, "- Back left: 10-2 high, 20 w/f, drain", "- Right side left: 9-6 high, 20 w/f, splash")
    seen.outlets("back", "left")
    seen.outlets("right-side", "left")
    seen.feet("downpipes.back-1.height", 10, 2)


@pytest.mark.parametrize("words", ["as the front left", "same as front left", "ditto front left"])
def test_a_pipe_likened_to_another(read: Callable[..., Any], words: str) -> None:
    seen = read(
        *RUNS, "Downpipes:", 'Front left: 9\' 1" high, 18" overhang, to the drain', f"Back left: {words}"
    )
    seen.outlets("back", "left")
    seen.feet("downpipes.back-1.height", 9, 1)
    assert seen.at("downpipes.back-1.height").why.startswith("same as")
    seen.says("downpipes.back-1.ends_at", "drain")


def test_the_rest_of_a_pipe_is_the_same(read: Callable[..., Any]) -> None:
    seen = read(
        *RUNS, "Downpipes:", 'Back left: 9\' 1" high, 18" overhang, to the drain', "Back right: 9' 6\", same"
    )
    seen.feet("downpipes.back-2.height", 9, 6)
    seen.inches("downpipes.back-2.wall_to_fascia", 18)


def test_no_downpipe_begins_no_list(read: Callable[..., Any]) -> None:
    seen = read(
        RUNS[2], "Right side 22-0 outside both ends no downpipe back has the pipe on the left 9-4 high"
    )
    assert not [outlet for outlet in seen.sheet.outlets if outlet.run == "right-side"]
    seen.outlets("back", "left")


def test_an_entry_taken_back_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(*RUNS, "Drops, back left and back right. Scratch that, back right only.")
    places = {outlet.place.value: outlet.place.status for outlet in seen.sheet.outlets}
    assert places["left"] == "doubtful"


def test_one_with_no_side_is_asked_for(read: Callable[..., Any]) -> None:
    seen = read(*RUNS, "downpipes one on the front left, one on the back")
    seen.outlets("front", "left")
    assert [outlet.from_ for outlet in seen.sheet.outlets if outlet.run == "back"] == [None]


def test_three_sides_behind_a_comma(read: Callable[..., Any]) -> None:
    seen = read(
        "Back 52' 3\", outside both ends. Three downspouts, left end, center and right end, 9' 8\" high"
    )
    seen.outlets("back", "left", "centre", "right")


def test_pipes_numbered_below_their_run(read: Callable[..., Any]) -> None:
    seen = read(
        "* Rear eave 60'-4\" end caps",
        '  * DP 1: left end, 20" overhang, 9\'-8" to drain',
        '  * DP 2: 30 ft from left, 20" overhang, 9\'-8" to drain',
    )
    seen.outlets("back", "left", "left")
    seen.feet("outlets.back-2.distance", 30)


def test_the_pair_of_halves(read: Callable[..., Any]) -> None:
    seen = read(
        "front left piece 14-6 cap left inside right bay front 6-1 outside both"
        " front right piece 15-2 inside left cap right"
        " drops left end of the front left and right end of the front right"
    )
    seen.outlets("front-left", "left")
    seen.outlets("front-right", "right")

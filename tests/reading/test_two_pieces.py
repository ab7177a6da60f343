"""Sides told in two pieces by their lengths, and pipes told before any run."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable


def test_two_pieces_by_their_lengths(read: Callable[..., Any]) -> None:
    seen = read(
        "Caps everywhere.",
        "Front is in two, bay between. 12-4 left of the bay, 15-6 right of it. "
        "Downpipe outer end of each, drain.",
    )
    seen.feet("runs.front-left.length", 12, 4)
    seen.feet("runs.front-right.length", 15, 6)
    seen.says("outlets.front-left-1.place", "left")
    seen.says("outlets.front-right-1.place", "right")


def test_what_is_told_of_the_left_one_and_the_right_one(read: Callable[..., Any]) -> None:
    seen = read(
        "Back in two round the stack. 18-9 left of it, 22-0 right of it. "
        "Spout outer end of each. 9-4 the left one, 9-10 the right."
    )
    assert seen.at("downpipes.back-left-1.height").value.tape_text() == "9' 4\""
    assert seen.at("downpipes.back-right-1.height").value.tape_text() == "9' 10\""
    seen.asked("downpipes.back-left-1.height")


def test_what_stands_beside_something_is_no_piece(read: Callable[..., Any]) -> None:
    seen = read("Back 31-2 caps, spout left. Post 4 ft left of the door.")
    assert [run.id for run in seen.sheet.runs] == ["back"]
    seen.feet("runs.back.length", 31, 2)


def test_no_pipe_told_first_is_a_length(read: Callable[..., Any]) -> None:
    seen = read(
        "Pipes first.",
        "Garage: both ends, 8 ft 6, drain.",
        "Barn: both ends, 12 ft 6, splash.",
        "",
        "Barn, only the west side, 48 ft, caps.",
        "Garage, the east side, 24 ft, caps.",
    )
    seen.feet("runs.barn-west.length", 48)
    seen.feet("runs.garage-east.length", 24)
    seen.feet("downpipes.barn-west-1.height", 12, 6)


def test_a_length_that_was_stepped_off(read: Callable[..., Any]) -> None:
    seen = read("Front 48 ft, I stepped it off, caps, spout left")
    seen.asked("runs.front.length")


def test_thickness_behind_the_width_and_the_roofs_angle(read: Callable[..., Any]) -> None:
    seen = read("Zinc half round 125, 0.7. 35 deg slate.", "Front 8400 caps", "Back 8400 caps")
    seen.says("defaults.thickness", "0.7 mm")
    seen.says("defaults.roof_pitch", "35 degrees")
    assert seen.sheet.defaults.colour is None

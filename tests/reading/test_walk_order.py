"""The way the walk goes: corners said once, and left and right whichever way round it is walked."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

OUT, CAP = "outside corner", "end cap"


def test_a_corner_said_once_belongs_to_both_runs(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 33-8, outside corner where it meets the right side, cap left", "Right side 20-2, cap right"
    )
    seen.ends("front", CAP, OUT)
    reading = seen.says("runs.right-side.left_end", OUT, "outside corner", status="inferred")
    assert "same corner" in (reading.why or "")
    assert reading.source[0].line == 1
    seen.says("runs.right-side.right_end", CAP)


def test_corners_told_between_the_runs(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 33-8 cap left, then outside corner, right side 20-2, then outside corner, back 33-8 cap right"
    )
    seen.says("runs.front.right_end", OUT)
    for path in ("runs.right-side.left_end", "runs.right-side.right_end", "runs.back.left_end"):
        assert seen.at(path).value == OUT
    seen.says("runs.back.right_end", CAP)


def test_left_and_right_do_not_change_for_a_clockwise_walk(read: Callable[..., Any]) -> None:
    seen = read("Going clockwise.", "Front 40-3, cap left, OSC right", "Left side 25-2, OSC left, cap right")
    seen.runs("front", "left-side")
    seen.ends("front", CAP, OUT)
    seen.ends("left-side", OUT, CAP)


def test_two_ends_without_sides_on_a_clockwise_walk_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Going clockwise.", "Front 40-3, cap both ends", "Left side 25-2, outside corner to cap")
    for side in ("left", "right"):
        seen.asked(f"runs.left-side.{side}_end")


def test_two_ends_without_sides_are_told_left_to_right(read: Callable[..., Any]) -> None:
    seen = read("Front 40-3, outside corner to end cap")
    seen.ends("front", OUT, CAP)
    assert "left end" in (seen.at("runs.front.left_end").why or "")


def test_a_joined_corner_does_not_overrule_what_was_said(read: Callable[..., Any]) -> None:
    seen = read("Front 33-8, cap left, outside corner right", "Right side 20-2, wall left, cap right")
    seen.asked_or_right("runs.right-side.left_end", "wall")
    seen.says("runs.front.right_end", OUT)


def test_compass_sides(read: Callable[..., Any]) -> None:
    seen = read("South 40-3 OSC both", "East 25-2 OSC both", "North 40-3 OSC both", "West 25-2 OSC both")
    seen.runs("south", "east", "north", "west")
    seen.feet("runs.east.length", 25, 2, "25-2")


@pytest.mark.parametrize(
    ("told", "left", "right"),
    [
        ("Front going left from the porch corner is 31 foot 6 inside corner then a cap", None, None),
        ("Back right to left 31 foot 6, cap to an outside corner", "outside corner", "end cap"),
        ("Back left to right 31 foot 6, cap to an outside corner", "end cap", "outside corner"),
        ("Garage left side going back to the house 11 foot 3, OSC, ISC", "inside corner", "outside corner"),
        ("Garage right side going back to the house 11 foot 3, OSC, ISC", "outside corner", "inside corner"),
        ("Left side from the front 22 foot 4, outside corner to a cap", "end cap", "outside corner"),
        ("Right side from the front 22 foot 4, outside corner to a cap", "outside corner", "end cap"),
    ],
)  # fmt: skip
def test_ends_are_told_in_the_order_of_the_walk(
    read: Callable[..., Any], told: str, left: str | None, right: str | None
) -> None:
    run = read(told).sheet.runs[-1]
    if left is None:
        left, right = "end cap", "inside corner"
    assert run.left_end is not None
    assert run.right_end is not None
    assert (run.left_end.value, run.right_end.value) == (left, right)


def test_the_house_front_is_not_the_garage_front(read: Callable[..., Any]) -> None:
    seen = read(
        "Garage front 22-4 outside corners both. House front from that corner is 31 foot 6, caps both ends."
    )
    seen.feet("runs.garage-front.length", 22, 4)
    seen.feet("runs.front.length", 31, 6)
    seen.ends("front", "end cap", "end cap")


def test_where_a_run_starts_is_no_run(read: Callable[..., Any]) -> None:
    seen = read(
        "porch front 12-0 corners both. porch right side is 7 foot 2 starts at the porch front, OSC left, "
        "wall right"
    )
    seen.feet("runs.porch-right-side.length", 7, 2)
    seen.ends("porch-right-side", "outside corner", "wall")


def test_a_part_measured_as_it_is_introduced(read: Callable[..., Any]) -> None:
    seen = read(
        "back is 30 foot 5 caps both drop left 18 out 9-2 down drain and there's a single storey lean-to "
        "along the back as well that's 14 foot 6 caps both drop right 6 out 7-1 down splash"
    )
    seen.runs("back", "lean-to")
    seen.feet("runs.back.length", 30, 5)
    seen.feet("runs.lean-to.length", 14, 6)
    seen.outlets("lean-to", "right")


def test_the_front_end_of_the_side_of_a_porch(read: Callable[..., Any]) -> None:
    seen = read("Porch left side, ten foot even, outside corners both ends, downspout at the front end")
    seen.outlets("porch-left-side", "right")

"""How a run ends: corners, caps, walls; sides said, unsaid, or both at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

OUT, IN, CAP, WALL = "outside corner", "inside corner", "end cap", "wall"


@pytest.mark.parametrize(
    ("line", "left", "right"),
    [
        ("Front 33-7 OSC L cap R", OUT, CAP),
        ("Front 33-7 cap right, OSC left", OUT, CAP),
        ("Front 33-7, stop end on the left and an internal angle on the right", CAP, IN),
        ("Front 33-7, ISC both", IN, IN),
        ("Front 33-7, inside to outside", IN, OUT),
        ("Front 33-7, from an outside corner to a cap", OUT, CAP),
        (
            "front is thirty three seven it dies into the chimney left and an outside corner on the right",
            WALL,
            OUT,
        ),
        ("front is thirty three seven end cap to wall", CAP, WALL),
        ("Front 33-7. Left end: abuts the garage wall. Right end: end cap.", WALL, CAP),
        ("Front 33' 7\" gable ends both", CAP, CAP),
        ("Front 33' 7\", external corner each end", OUT, OUT),
        ("Front's 33 7. Corners both ends outside. Nothing on it.", OUT, OUT),
        ("Front 33-7, corner each end, both inside", IN, IN),
        ("Front 33-7 os corner left, is corner right", OUT, IN),
    ],
)
def test_the_two_ends(read: Callable[..., Any], line: str, left: str, right: str) -> None:
    seen = read(line)
    seen.feet("runs.front.length", 33, 7)
    seen.ends("front", left, right)


def test_the_words_of_an_end_and_of_its_side_are_its_source(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7, stop end right, OSC left")
    seen.says("runs.front.right_end", CAP, "stop end")
    seen.says("runs.front.left_end", OUT, "OSC")
    assert [source.text for source in seen.at("runs.front.right_end").source] == ["stop end", "right"]


def test_a_bay_corner_has_its_angle(read: Callable[..., Any]) -> None:
    seen = read("Bay front 6-2, outside 45 both ends")
    seen.ends("bay-front", OUT, OUT)
    assert seen.at("runs.bay-front.left_angle").value == 45
    assert seen.at("runs.bay-front.right_angle").value == 45


def test_a_plain_corner_has_no_angle_written(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7, outside corners")
    assert seen.sheet.reading_at("runs.front.left_angle") is None


@pytest.mark.parametrize("line", ["Front 33-7, cap", "Front 33 foot 7, one outside corner", "Front 33-7 osc"])
def test_one_end_without_its_side_is_asked_about(read: Callable[..., Any], line: str) -> None:
    seen = read(line)
    for side in ("left", "right"):
        seen.asked(f"runs.front.{side}_end")


def test_an_end_not_spoken_of_is_not_made_up(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7, OSC on the left")
    seen.says("runs.front.left_end", OUT)
    assert seen.sheet.reading_at("runs.front.right_end") is None


def test_the_other_end_is_the_end_that_is_left(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7, cap on the right, outside corner at the other end")
    seen.ends("front", OUT, CAP)


@pytest.mark.parametrize(
    ("line", "run", "feet", "inches", "left", "right"),
    [
        ("F: 38-2 O/O", "front", 38, 2, OUT, OUT),
        ("F 38-2 O/O", "front", 38, 2, OUT, OUT),
        ("Front 38-2 o/o", "front", 38, 2, OUT, OUT),
        ("back 44 c/c", "back", 44, 0, CAP, CAP),
        ("Front 31-5 OC-IC", "front", 31, 5, OUT, IN),
        ("Back 31-5, C-O", "back", 31, 5, CAP, OUT),
    ],
)
def test_shorthand_for_both_ends_is_left_then_right(
    read: Callable[..., Any], line: str, run: str, feet: int, inches: int, left: str, right: str
) -> None:
    seen = read("12 Sallow Lane", line)
    seen.runs(run)
    seen.feet(f"runs.{run}.length", feet, inches)
    seen.ends(run, left, right)


@pytest.mark.parametrize("line", ["F: 38-2 O/O", "F 38-2 O/O"])
def test_shorthand_for_a_run_is_no_title(read: Callable[..., Any], line: str) -> None:
    seen = read(line)
    seen.runs("front")
    seen.feet("runs.front.length", 38, 2, "38-2")
    seen.ends("front", OUT, OUT)


@pytest.mark.parametrize(
    ("line", "run", "left", "right"),
    [
        ("left side 29-8, outside corner at the back, wall at the front", "left-side", OUT, WALL),
        ("right side 29-8, outside corner at the back, wall at the front", "right-side", WALL, OUT),
        ("Left 29-8, cap rear, OSC front", "left-side", CAP, OUT),
    ],
)
def test_an_end_of_a_side_is_told_by_the_run_it_is_nearest(
    read: Callable[..., Any], line: str, run: str, left: str, right: str
) -> None:
    """Facing the left side from the ground, the back of the house is to the left; at the right, the front."""
    seen = read("12 Sallow Lane", line)
    seen.runs(run)
    seen.feet(f"runs.{run}.length", 29, 8, "29-8")
    seen.ends(run, left, right)


def test_an_end_of_a_side_among_other_runs_is_no_end_of_theirs(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 38-2 caps both",
        "left side 29-8, outside corner at the back, wall at the front",
        "Back 38-2 caps both",
    )
    seen.ends("left-side", OUT, WALL)
    seen.ends("front", CAP, CAP)

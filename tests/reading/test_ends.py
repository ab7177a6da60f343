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

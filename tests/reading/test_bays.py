"""Bays told side by side in one breath: which lengths are theirs and which the house's."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

SIDES = ("bay-left-side", "bay-front", "bay-right-side")


@pytest.mark.parametrize(
    "told",
    [
        "and a bay on it left side 2 foot 9 front 5 foot 7 right side 2 foot 9",
        "then the bay, left cheek two nine, face five seven, right cheek two nine",
        "bay window now, left return is 2-9, the face of it is 5-7 and the right return is 2-9",
        "there's a bay. Its cheeks are 2 foot 9 each and the front is 5 foot 7",
        "The bay is in bits, left one 2 foot 9, middle one 5 foot 7 and the right one 2 foot 9",
    ],
)
def test_the_sides_of_a_bay_are_not_the_house_s(read: Callable[..., Any], told: str) -> None:
    seen = read(
        f"front is 31 foot 4 end caps both {told}. then the right side of the house is 24 foot 8 caps both"
    )
    lengths = [(2, 9), (5, 7), (2, 9)]
    for run, (feet, inches) in zip(SIDES, lengths, strict=True):
        seen.feet(f"runs.{run}.length", feet, inches)
    seen.feet("runs.front.length", 31, 4)
    seen.feet("runs.right-side.length", 24, 8)


def test_corners_of_a_bay_called_by_their_angle(read: Callable[..., Any]) -> None:
    seen = read(
        "on the bay the left side is 2-9, wall on the left and a 45 on the right, the front is 5-7, 45s at "
        "both ends, right side is 2-9, 45 on the left, wall on the right"
    )
    seen.ends("bay-front", "outside corner", "outside corner")
    seen.says("runs.bay-front.left_angle", 45.0)
    seen.says("runs.bay-right-side.left_angle", 45.0)
    seen.says("runs.bay-right-side.right_end", "wall")


def test_three_lengths_of_a_bay_in_a_row_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Bay: 2-9, 5-7, 2-9, all 45s. Back 30-2 caps both ends")
    for run in SIDES:
        seen.asked(f"runs.{run}.length")
    seen.feet("runs.back.length", 30, 2)


def test_a_long_side_behind_a_bay_is_the_house_s(read: Callable[..., Any]) -> None:
    seen = read(
        "bay front 5-7 outside 45s both ends, left side 27-4 caps both ends, right side 27-4 caps both ends"
    )
    seen.feet("runs.left-side.length", 27, 4)
    seen.feet("runs.right-side.length", 27, 4)


def test_caps_behind_three_lengths_of_a_bay_are_where_it_meets_the_house(read: Callable[..., Any]) -> None:
    seen = read("front bay 900 1500 900, stop ends", "drop centre 450 2600 gully")
    seen.says("runs.bay-left-side.left_end", "end cap")
    seen.says("runs.bay-right-side.right_end", "end cap")
    assert not [
        path for path, one in seen.sheet.readings() if path == "runs.bay-right-side.left_end" and one.settled
    ]
    seen.outlets("bay-front", "centre")

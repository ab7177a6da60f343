"""What is counted again, put right for every pipe, turned about, or like the pipe beside it."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable

HOUSE = ("Rear 31-6 caps, ds left 9-2.", "Front 31-6 caps, ds left 8-8, ds right 9-4.")


@pytest.mark.parametrize(
    "words",
    [
        "So that's four downspouts, no, three.",
        "Two leaders... no wait, three, I missed one.",
        "6 spouts. Scratch that, 3.",
    ],
)
def test_the_later_count_holds_and_measures_nothing(read: Callable[..., Any], words: str) -> None:
    seen = read(*HOUSE, words)
    total = next(total for total in seen.sheet.totals if total.what == "downpipes")
    assert total.value.value == 3
    assert total.value.status == "corrected"
    assert len(seen.sheet.outlets_of("front")) == 2
    seen.feet("downpipes.front-2.height", 9, 4)


def test_a_count_of_one_run_put_right_is_no_total(read: Callable[..., Any]) -> None:
    seen = read("Front 31-6 caps. Three drops, no, two, both ends.")
    assert not seen.sheet.totals
    seen.outlets("front", "left", "right")


@pytest.mark.parametrize(
    "words", ["Overhang 20 all round. Make it 19 1/2.", "w/f 20 everywhere, no wait, 19 1/2"]
)
def test_what_was_said_of_all_is_put_right_for_all(read: Callable[..., Any], words: str) -> None:
    seen = read(*HOUSE, words)
    for pipe in ("back-1", "front-1", "front-2"):
        reading = seen.at(f"downpipes.{pipe}.wall_to_fascia")
        assert reading.value.inches == Fraction(39, 2)


def test_two_told_the_wrong_way_round(read: Callable[..., Any]) -> None:
    seen = read(*HOUSE, "Hang on, those two are mixed up: front left is 9-4 and front right is 8-8.")
    for pipe, inches in (("front-1", 112), ("front-2", 104)):
        seen.asked_or_right(f"downpipes.{pipe}.height", Length(Fraction(inches), "imperial"))


def test_two_backwards_told_anew(read: Callable[..., Any]) -> None:
    seen = read(*HOUSE, "oops I have those backwards, front LEFT is 9-4 and front RIGHT is 8-8")
    for pipe, inches in (("front-1", 112), ("front-2", 104)):
        reading = seen.at(f"downpipes.{pipe}.height")
        assert reading.value.inches == inches
        assert reading.was


def test_a_pipe_moved_to_the_other_end(read: Callable[..., Any]) -> None:
    seen = read(
        "Rear 31-6 caps. Leader on the right, 9-2 down.", "Rear leader is on the LEFT, not on the right."
    )
    moved = seen.says("outlets.back-1.place", "left", status="corrected")
    assert [was.value for was in moved.was] == ["right"]
    for outlet in seen.sheet.outlets_of("back")[1:]:
        assert outlet.place.status == "doubtful"  # a second way of reading may ask
    seen.feet("downpipes.back-1.height", 9, 2)


def test_why_a_number_was_put_right_doubts_nothing_else(read: Callable[..., Any]) -> None:
    seen = read("Rear 8430 mm. No, 8340, I mixed up the digits. Caps. Pipe left, 2450 down.")
    seen.mm("runs.back.length", 8340, status="corrected")
    seen.ends("back", "end cap", "end cap")


def test_runs_that_came_out_alike_are_no_copies(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 28-0, caps, downspouts both ends, 9-0 down.",
        "Rear 28-0, caps, which matches the front.",
        "One downspout at the right, 9-6 down.",
    )
    seen.outlets("back", "right")


def test_the_pipe_beside_it_is_the_same(read: Callable[..., Any]) -> None:
    seen = read("Rear 30-0, caps. Spout left, overhang 16, 9-2 down, splash block. Spout right the same.")
    seen.inches("downpipes.back-2.wall_to_fascia", 16)
    seen.feet("downpipes.back-2.height", 9, 2)
    assert "same as the one at the left" in (seen.at("downpipes.back-2.height").why or "")


@pytest.mark.parametrize(
    "corners",
    ["outside corners all 4", "Outside corners the whole way round", "It's outside corners at every corner."],
)
def test_every_corner_of_the_house(read: Callable[..., Any], corners: str) -> None:
    seen = read("front = 40 ft", "right = 28 ft", "back = 40 ft", "left = 28 ft", corners)
    for run in ("front", "right-side", "back", "left-side"):
        seen.ends(run, "outside corner", "outside corner")


def test_the_house_as_a_whole_is_no_run(read: Callable[..., Any]) -> None:
    seen = read("main house is hipped, outside corners all the way round", "north 12.4 m", "south 12.4 m")
    seen.runs("north", "south")


def test_metres_with_decimals_and_millimetres_are_two_lengths(read: Callable[..., Any]) -> None:
    seen = read("Rear 8.4 m, stop ends. Pipe at the right, 2.75 m, 240 mm, gully.")
    assert seen.at("downpipes.back-1.height").value.inches == Fraction(27500, 254)


def test_an_outlet_beside_an_end(read: Callable[..., Any]) -> None:
    seen = read(
        "Scullery 4100 mm",
        "wall of the house on the right, stop end on the left",
        "outlet beside the stop end",
    )
    seen.ends("scullery", "end cap", "wall")
    assert [outlet.from_ for outlet in seen.sheet.outlets_of("scullery")] == ["left"]

"""Where the water leaves: every common way of saying the place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("words", "places"),
    [
        ("drop L", ["left"]),
        ("outlet at the right hand end", ["right"]),
        ("downspout on the right", ["right"]),
        ("funnel left", ["left"]),
        ("leader on the left end", ["left"]),
        ("a drop each end", ["left", "right"]),
        ("outlets both ends", ["left", "right"]),
        ("two downpipes, one at each end", ["left", "right"]),
        ("outlet dead centre", ["centre"]),
        ("drop in the middle", ["centre"]),
        ("the outlet is centred", ["centre"]),
    ],
)
@pytest.mark.parametrize(
    "run", ["Back 40-3 caps both ends, {}", "the back is forty foot three with caps both ends and {}"]
)
def test_the_place_of_an_outlet(read: Callable[..., Any], run: str, words: str, places: list[str]) -> None:
    seen = read(run.format(words))
    seen.feet("runs.back.length", 40, 3)
    seen.outlets("back", *places)
    assert all(outlet.distance is None for outlet in seen.sheet.outlets)


@pytest.mark.parametrize(
    ("line", "place", "inches", "words"),
    [
        ("Outlet 14 in from the left end.", "left", 14, "14 in"),
        ('Drop 9" in from right.', "right", 9, '9"'),
        (
            "The drop wants to be sixteen inches off the right end.",
            "right",
            16,
            "sixteen inches",
        ),
        ("Downspout 3 foot 2 from the left corner.", "left", 38, "3 foot 2"),
    ],
)
def test_an_outlet_measured_from_an_end(
    read: Callable[..., Any], line: str, place: str, inches: int, words: str
) -> None:
    seen = read("Garage front 20' 6\" cap both ends. " + line)
    (outlet,) = seen.sheet.outlets
    assert outlet.from_ == place
    seen.inches(f"outlets.{outlet.id}.distance", inches, words)
    seen.feet("runs.garage-front.length", 20, 6)


def test_no_outlet_is_made_where_none_is_said(read: Callable[..., Any]) -> None:
    seen = read("Right side 26-11, OSC both, no drops", "Back 26-11, OSC both, outlet left")
    assert seen.sheet.outlets_of("right-side") == []
    seen.outlets("back", "left")


def test_an_outlet_without_a_place_is_not_given_one(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7 OSC both, one drop")
    for outlet in seen.sheet.outlets:
        assert outlet.from_ is None or (outlet.place is not None and outlet.place.status == "doubtful")


def test_an_outlet_at_the_named_end(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7, cap left, OSC right, drop at the cap")
    seen.outlets("front", "left")
    seen = read("Front 33-7, OSC left, dies into the wall on the right, downpipe by the wall")
    places = [outlet.from_ for outlet in seen.sheet.outlets]
    assert places in (["right"], [None]), places


@pytest.mark.parametrize(
    "words", ["high point 14 feet from the left", "high point is 14 ft in from the left end"]
)
def test_a_high_point_is_no_outlet(read: Callable[..., Any], words: str) -> None:
    seen = read(f"Front 30-4 caps both, {words}")
    assert not [outlet for outlet in seen.sheet.outlets if outlet.place is None or outlet.place.settled]


@pytest.mark.parametrize(
    ("line", "run", "place"),
    [
        ("left 30-2 caps both, DS rear", "left-side", "left"),
        ("left side 30-2 caps both, DS front", "left-side", "right"),
        ("right 30-2 caps both, DS rear", "right-side", "right"),
        ("left 30-2 caps both, DS at the rear", "left-side", "left"),
        ("left 30-2 caps both, DS rear end", "left-side", "left"),
        ("right 30-2 caps both, DS at the front", "right-side", "left"),
        ("South 30-2 caps, drop W end", "south", "left"),
        ("North 30-2 caps, drop W end", "north", "right"),
        ("South 30-2 caps, drop west end", "south", "left"),
        ("North 30-2 caps, drop west end", "north", "right"),
    ],
)
def test_an_outlet_told_by_the_neighbour_of_its_end(
    read: Callable[..., Any], line: str, run: str, place: str
) -> None:
    """Facing the left side, the back is to the left; west is left of the south wall, right of the north."""
    seen = read("12 Sallow Lane", line)
    seen.feet(f"runs.{run}.length", 30, 2, "30-2")
    (outlet,) = seen.sheet.outlets
    assert (outlet.run, outlet.from_) == (run, place)


@pytest.mark.parametrize("line", ["South 52-6 caps, drop W end", "North 52-6 caps, drop W end"])
def test_an_end_named_by_a_letter_is_never_the_wrong_one(read: Callable[..., Any], line: str) -> None:
    (outlet,) = read("12 Sallow Lane", line).sheet.outlets
    assert outlet.from_ in (None, "left" if line.startswith("South") else "right")


@pytest.mark.parametrize("drop", ["DS rear", "DS at the rear"])
def test_a_drop_at_the_back_of_a_side_is_not_the_drop_of_the_back(
    read: Callable[..., Any], drop: str
) -> None:
    seen = read(
        f"left side 30-2 caps both, {drop}, w/f 18, ht 9-2, splash",
        "back 20-2 caps both, drop left, w/f 19, ht 8-2, drain",
    )
    seen.outlets("left-side", "left")
    seen.outlets("back", "left")
    seen.feet("downpipes.back-1.height", 8, 2, "8-2")

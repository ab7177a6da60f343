"""Places named only to say more of the run before them, sides of that run, and eaves that stand out."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("note", "run", "feet"),
    [
        ("Rear, main part: it measures 31' 0\", caps both ends.", "back", 31),
        ("Back of the house (the main block, not the garage): 31 ft, caps.", "back", 31),
        ("I begin with the rear of the main part. It is 31 feet, end caps.", "back", 31),
        (
            "Left side: This is the big one, it carries the porch and the den together. It is 31'. Caps.",
            "left-side",
            31,
        ),
        ("Scullery, the small lean-to = 31' 0\", caps", "scullery", 31),
        ("mudroom, looking to the front: 31 0. cap left cap right", "mudroom", 31),
        ("Porch is on its own out the back, 31', caps both ends", "porch", 31),
        ("Extension (utility, flat roof): caps both ends, 31 ft", "extension", 31),
        ("Garage, right-hand side, 31 ft. Cap left, cap right.", "garage-right-side", 31),
        ("Dormer left is 6-0 wall and cap. Dormer right's 31-0, caps", "dormer-right-side", 31),
    ],
)
def test_what_says_more_of_a_run_is_no_run(read: Callable[..., Any], note: str, run: str, feet: int) -> None:
    seen = read(note)
    seen.feet(f"runs.{run}.length", feet, 0)
    assert not {"main-house", "lean-to", "den", "back"} - {run} & {one.id for one in seen.sheet.runs}


def test_a_reason_names_no_run(read: Callable[..., Any]) -> None:
    seen = read(
        "Den",
        "Length: 18 ft 6 in",
        "Ends: caps, since the porch only sits against it",
        "Downspouts: one, on the right",
    )
    seen.runs("den")
    seen.outlets("den", "right")


def test_a_garage_and_the_front_of_the_house_stay_two(read: Callable[..., Any]) -> None:
    seen = read("Garage 22-0 caps. Front, 31-0, caps.")
    seen.runs("garage", "front")


def test_sides_of_the_run_told_open_sentences(read: Callable[..., Any]) -> None:
    seen = read(
        "The back gutter is 30' 6\" long. On the right there is an end cap. On the left an outside corner."
    )
    seen.runs("back")
    seen.ends("back", "outside corner", "end cap")


def test_what_a_run_does_not_end_with(read: Callable[..., Any]) -> None:
    seen = read("Front 6100 mm, stop end left. On the right it joins on to next door's, and not a stop end.")
    seen.ends("front", "end cap", "splice")


@pytest.mark.parametrize(
    "pipes",
    [
        "Spouts at both ends. Left 9-4, right 10-2.",
        "Two downspouts, both ends: left 9-4 and right 10-2.",
        "Downspouts each end. The left one is 9' 4\" and the right one is 10' 2\".",
    ],
)
def test_heights_by_side_are_of_the_two_pipes(read: Callable[..., Any], pipes: str) -> None:
    seen = read(f"Back 36-4, caps. {pipes}")
    seen.runs("back")
    assert seen.at("downpipes.back-1.height").value == Length(Fraction(112), "imperial")
    assert seen.at("downpipes.back-2.height").value == Length(Fraction(122), "imperial")


def test_a_pipe_over_to_one_side(read: Callable[..., Any]) -> None:
    seen = read("Rear 30-0, caps", "downspout way over to the right, 9-2 down, overhang 16")
    seen.runs("back")
    seen.outlets("back", "right")


@pytest.mark.parametrize(
    "words",
    [
        "For both of them the overhang is 14 in and it is 9' 2\" down",
        "overhang 14 in and 9' 2\" down for the two of them",
    ],
)
def test_both_pipes_told_one_by_one(read: Callable[..., Any], words: str) -> None:
    seen = read(
        f"Back 30-0, caps. There is a downspout at the left end and a downspout at the right end. {words}."
    )
    for pipe in ("back-1", "back-2"):
        seen.inches(f"downpipes.{pipe}.wall_to_fascia", 14)
        seen.feet(f"downpipes.{pipe}.height", 9, 2)


@pytest.mark.parametrize(
    ("words", "mm"),
    [
        ("eave 0.35", 350),
        ("eaves out 350", 350),
        ("fascia only 60 off the wall", 60),
        ("fascia 0.12 off the post", 120),
    ],
)
def test_a_small_number_behind_eaves_stands_out(read: Callable[..., Any], words: str, mm: int) -> None:
    seen = read(f"Metric. Rear 8450, stop ends. Downpipe left, {words}, 2650 down.")
    reading = seen.at("downpipes.back-1.wall_to_fascia")
    assert reading.value.inches == Fraction(mm * 10, 254)
    assert "no word of what it measures" not in (reading.why or "")


def test_eaves_of_some_storey_only(read: Callable[..., Any]) -> None:
    seen = read(
        "All mm. Upper front 9300, caps, outlet left, 4800 down.",
        "Carport 5200, caps, outlet right, 2300 down.",
        "Eaves 550 all round up there.",
    )
    seen.mm("downpipes.upper-front-1.wall_to_fascia", 550)
    assert seen.sheet.reading_at("downpipes.carport-1.wall_to_fascia") is None


def test_eaves_that_name_a_run_are_measured(read: Callable[..., Any]) -> None:
    seen = read("South eaves 9300 mm, stop ends", "eaves 9.1 m on the north, stop ends")
    seen.mm("runs.south.length", 9300)

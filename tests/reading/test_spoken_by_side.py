"""What somebody tells by its side while talking: the two pipes of a run, runs named by a side; and sizes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    "told",
    [
        [
            "- Rear.",
            "- Thirty one six, caps, a drop each end.",
            "- How tall?",
            "- Left is nine one, right is eight six.",
        ],
        ["Rear thirty one foot six caps drop each end left is nine foot one right is eight foot six splash"],
    ],
)
def test_left_and_right_behind_a_run_with_two_pipes_are_its_pipes(
    read: Callable[..., Any], told: list[str]
) -> None:
    seen = read(*told)
    seen.runs("back")
    seen.outlets("back", "left", "right")
    for pipe, height in (("back-1", (9, 1)), ("back-2", (8, 6))):
        reading = seen.at(f"downpipes.{pipe}.height")
        assert reading.value.inches == height[0] * 12 + height[1]


def test_a_left_and_right_with_ends_of_their_own_are_sides_of_the_house(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 41 foot 2, outside corners, a drop each end.",
        "Left is 12 foot 4, outside corners. Right is 12 foot 4, outside corners.",
    )
    seen.runs("front", "left-side", "right-side")


def test_a_left_and_right_that_are_long_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Rear 41 foot 2, caps, a drop each end. Left is 24 foot 6, right is 24 foot 6.")
    assert not any(
        reading.status == "read" and reading.value is not None and reading.value.inches == 294
        for path, reading in seen.sheet.readings()
        if path.endswith((".height", ".length"))
    )


def test_feet_right_behind_the_place_of_a_pipe_are_its_height(read: Callable[..., Any]) -> None:
    seen = read(
        "Front thirty eight foot four, caps. Downspout at the right end, ten foot three, splash block."
    )
    seen.feet("downpipes.front-1.height", 10, 3)


def test_one_number_behind_two_pipes_is_still_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front thirty eight foot four, caps. Drop each end, ten three and nine eleven.")
    assert seen.at("downpipes.front-1.height").status == "doubtful"


def test_runs_named_by_a_side_alone(read: Callable[..., Any]) -> None:
    seen = read(
        "- Addition left?",
        "- Eleven foot two, inside corner on the left, cap on the right.",
        "- And addition right?",
        "- Eleven foot five, cap on the left, inside corner on the right.",
    )
    seen.runs("addition-left-side", "addition-right-side")
    seen.feet("runs.addition-left-side.length", 11, 2)
    seen.feet("runs.addition-right-side.length", 11, 5)


def test_the_sides_of_a_run_told_whole_are_where_its_pipes_are(read: Callable[..., Any]) -> None:
    seen = read(
        "- Back, fifty two nine, caps, a drop each end.",
        "- Heights?",
        "- Back left eleven two, back right eleven six.",
    )
    seen.runs("back")


@pytest.mark.parametrize(
    ("said", "size"), [("with 3 by 4s", "3x4"), ("two by threes", "2x3"), ("and 2x3s", "2x3")]
)
def test_pipes_called_by_their_size(read: Callable[..., Any], said: str, size: str) -> None:
    seen = read("Front 33-4 caps, drop left, 9-2, splash block.", f"six inch K bronze {said}")
    seen.says("defaults.downpipe_size", size)


@pytest.mark.parametrize("said", ["Clay. Six inch.", "Six inch, three by four pipe.", "Bronze, six inch."])
def test_a_width_among_what_the_gutter_is_made_of(read: Callable[..., Any], said: str) -> None:
    seen = read("- Front 33-4, caps, drop left, 9-2 high, splash block.", f"- {said}")
    seen.inches("defaults.gutter_size", 6)


@pytest.mark.parametrize(("said", "mm"), [("five fifty eave", 550), ("380 eave", 380)])
def test_so_much_eave_on_a_metric_job(read: Callable[..., Any], said: str, mm: int) -> None:
    seen = read(f"front 8640 mm stop ends, downpipe left 2350 down, {said}, stormwater")
    seen.mm("downpipes.front-1.wall_to_fascia", mm)


def test_inches_to_the_wall_behind_a_pipe(read: Callable[..., Any]) -> None:
    seen = read("front 28 foot caps spout on the right nine foot one down 13 inches to the wall splash block")
    seen.inches("downpipes.front-1.wall_to_fascia", 13)
    seen.ends("front", "end cap", "end cap")


def test_a_number_said_back_before_the_next_question(read: Callable[..., Any]) -> None:
    seen = read(
        "- Front thirty three foot, caps. Spout left.",
        "- How high?",
        "- Nine eleven.",
        "- Nine eleven, and out from the wall?",
        "- Fifteen.",
    )
    seen.feet("downpipes.front-1.height", 9, 11)
    seen.inches("downpipes.front-1.wall_to_fascia", 15)

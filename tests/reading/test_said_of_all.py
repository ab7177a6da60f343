"""What is said once of everything: it reaches all that have none of their own, and says so."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

TWO = ("Front 40 OSC both, drop left", "Back 40 OSC both, drop right")


@pytest.mark.parametrize(
    "line",
    [
        "All downpipes 9-4 to splash, w/f 24 throughout",
        "every downspout: w/f 24, height 9-4, splash blocks",
        "All pipes w/f 24 ht 9-4 splash",
        "w/f 24 on all of them, 9 foot 4 high on all of them, splash blocks everywhere",
    ],
)
@pytest.mark.parametrize("first", [True, False])
def test_a_value_of_all_the_downpipes(read: Callable[..., Any], line: str, first: bool) -> None:
    seen = read(*([line, *TWO] if first else [*TWO, line]))
    for pipe in ("front-1", "back-1"):
        seen.feet(f"downpipes.{pipe}.height", 9, 4)
        reading = seen.inches(f"downpipes.{pipe}.wall_to_fascia", 24, "24")
        assert "all" in (reading.why or "")
        seen.says(f"downpipes.{pipe}.ends_at", "splash block")
    seen.feet("runs.front.length", 40)


def test_two_values_before_the_word_all(read: Callable[..., Any]) -> None:
    seen = read(*TWO, "24 wall to fascia and 9 foot 4 high on all of them")
    for pipe in ("front-1", "back-1"):
        seen.feet(f"downpipes.{pipe}.height", 9, 4, "9 foot 4")
        seen.inches(f"downpipes.{pipe}.wall_to_fascia", 24, "24")


def test_a_pipes_own_value_stands_against_one_said_of_all(read: Callable[..., Any]) -> None:
    seen = read("All downpipes 9-4", TWO[0] + ", height 10-8", TWO[1])
    seen.feet("downpipes.front-1.height", 10, 8, "10-8")
    seen.feet("downpipes.back-1.height", 9, 4, "9-4")


def test_all_except_one(read: Callable[..., Any]) -> None:
    seen = read(*TWO, "All downpipes 9-4 except the back, that's 11-2")
    seen.feet("downpipes.front-1.height", 9, 4, "9-4")
    seen.asked_or_right("downpipes.back-1.height", seen.at("downpipes.front-1.height").value.__class__(134))


def test_corners_of_all_runs(read: Callable[..., Any]) -> None:
    seen = read("Front 40-2", "Right side 25-1", "Back 40-2", "Left side 25-1", "All outside corners")
    for run in ("front", "right-side", "back", "left-side"):
        seen.ends(run, "outside corner", "outside corner")


def test_it_makes_no_pipe_where_there_is_no_outlet(read: Callable[..., Any]) -> None:
    seen = read(
        "All downpipes 9-4, w/f 24", "Front 40-2 OSC both, drop left", "Right side 20-2 OSC both, no drop"
    )
    assert [pipe.id for pipe in seen.sheet.downpipes] == ["front-1"]


def test_a_number_of_one_place_is_not_of_all_because_an_ending_is(read: Callable[..., Any]) -> None:
    seen = read(
        "front 30 even caps drop left 9 2 high. back 30 even caps drop left. side 12 even caps drop right",
        "the back one is nine foot eight splash blocks all round",
    )
    seen.feet("downpipes.back-1.height", 9, 8)
    seen.feet("downpipes.front-1.height", 9, 2)
    seen.says("downpipes.front-1.ends_at", "splash block")


@pytest.mark.parametrize("said", ["caps on all of those", "all of these are capped"])
def test_what_is_said_of_all_of_those_is_asked_about(read: Callable[..., Any], said: str) -> None:
    seen = read("garage left 8-3", "dormer 1 left 6-1", "dormer 1 right 6-1", "dormer 2 left 6-1", said)
    seen.asked("runs.garage-left-side.left_end")

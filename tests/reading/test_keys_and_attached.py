"""A note's own key in every way of writing it, and shorthand written against its neighbour."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

TWO_PIPES = ("5K wht", "front 40 oc oc dp L R", "rear 40 oc oc dp L", "lh 26 oc oc", "rh 26 oc oc")


@pytest.mark.parametrize(
    "key",
    [
        "OM = outside mitre   Z=cap   (o) = outlet",
        "OM - outside mitre, Z: cap, (o) outlet",
        "key: OM outside mitre; Z cap; (o) outlet",
        "OM → outside mitre, Z → cap, (o) → drop",
    ],
)
def test_a_key_however_it_is_written(read: Callable[..., Any], key: str) -> None:
    seen = read(key, "front 31-6 OM Z (o) L", "back 12-0 Z Z (o) R")
    seen.ends("front", "outside corner", "end cap")
    seen.ends("back", "end cap", "end cap")
    seen.outlets("front", "left")
    seen.outlets("back", "right")


def test_drawn_signs_stand_against_numbers(read: Callable[..., Any]) -> None:
    seen = read("all mm   *=ext  #=wall  ↓=rwp  k=wall→fascia", "N *12400* ↓l   k300 h2600", "S #9100* ↓r")
    seen.ends("north", "outside corner", "outside corner")
    seen.ends("south", "wall", "outside corner")
    seen.mm("runs.north.length", 12400)
    seen.says("outlets.north-1.place", "left", "↓")
    seen.mm("downpipes.north-1.wall_to_fascia", 300)


def test_a_written_out_sign_is_traced_to_the_sign(read: Callable[..., Any]) -> None:
    seen = read("^ = cap", "porch ^11-3^  dp L")
    assert seen.says("runs.porch.left_end", "end cap").source[0].text == "^"
    assert seen.sheet.note == ["^ = cap", "porch ^11-3^  dp L"]


def test_sizes_and_names_of_ends_are_left_alone(read: Callable[..., Any]) -> None:
    seen = read("x = cap", "front 20-6 x x dp R 2x3", "back 14-0, L = cap, R = wall")
    seen.says("defaults.downpipe_size", "2x3")
    seen.ends("front", "end cap", "end cap")
    seen.ends("back", "end cap", "wall")


@pytest.mark.parametrize("line", ["front 40 oc oc R9", "front 40 oc/oc R 9'", "front 40 osc osc R9'0"])
def test_a_side_against_the_height_of_its_pipe_is_asked_about(read: Callable[..., Any], line: str) -> None:
    seen = read("5K wht", line)
    seen.says("outlets.front-1.place", "right", status="doubtful")
    seen.feet("downpipes.front-1.height", 9, 0, status="doubtful")


@pytest.mark.parametrize("row", ["h 9/9-6/12", "ht: 9'/9'6/12'", "9-0/9-6/12-0 down"])
def test_a_row_of_values_is_of_the_pipes_in_turn(read: Callable[..., Any], row: str) -> None:
    seen = read(*TWO_PIPES, row)
    seen.feet("downpipes.front-1.height", 9)
    seen.feet("downpipes.front-2.height", 9, 6)
    seen.feet("downpipes.back-1.height", 12)


def test_the_in_of_a_pair_of_ends_is_no_inch(read: Callable[..., Any]) -> None:
    seen = read("112 HR, metres", "W 7.4 in/ex", "E 9.2 in/w", "N 11.85 ex/ex")
    seen.ends("west", "inside corner", "outside corner")
    seen.mm("runs.west.length", 7400)
    seen.ends("east", "inside corner", "wall")


def test_an_outlet_behind_ends_in_unknown_letters_is_asked_about(read: Callable[..., Any]) -> None:
    for line in ("N 22-4 q/q o R", "N 22-4 q/q R"):
        seen = read("5K wht", line)
        seen.says("outlets.north-1.place", "right", status="doubtful")
        seen.asked("runs.north.left_end")


def test_feet_of_all_pipes_but_one(read: Callable[..., Any]) -> None:
    seen = read(*TWO_PIPES, "8-6 all exc rear 10-2")
    seen.feet("downpipes.front-2.height", 8, 6, status="doubtful")
    seen.feet("downpipes.back-1.height", 10, 2, status="doubtful")


def test_a_counted_ending(read: Callable[..., Any]) -> None:
    seen = read(*TWO_PIPES, "barrel x3")
    for pipe in ("front-1", "front-2", "back-1"):
        seen.says(f"downpipes.{pipe}.ends_at", "barrel")
    seen = read(*TWO_PIPES, "barrel x2")
    for pipe in ("front-1", "front-2", "back-1"):
        seen.says(f"downpipes.{pipe}.ends_at", "barrel", status="doubtful")


def test_turns_between_strokes(read: Callable[..., Any]) -> None:
    seen = read("5K wht", "front 30-2 / out / right 18 / in / back 12 / out")
    seen.says("runs.front.right_end", "outside corner")
    seen.says("runs.right-side.right_end", "inside corner")
    seen.feet("runs.right-side.length", 18)


def test_runs_named_by_their_corners(read: Callable[..., Any]) -> None:
    seen = read("P-Q 31-4 osc osc o P", "Q-R 20-0 osc cap", "R-S 31-4 cap osc dp R")
    seen.runs("p-q", "q-r", "r-s")
    seen.ends("q-r", "outside corner", "end cap")
    seen.says("outlets.p-q-1.place", "left", status="doubtful")
    seen.asked("outlets.r-s-1.place")

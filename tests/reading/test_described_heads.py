"""A part named at the head of its line, and described before it is measured; walls that a run meets.

The houses are invented. What each line means is trade usage, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    "line",
    [
        "Carport out on the right side, its own roof: 18-4, caps both ends. Drop right, 8-2 to grade",
        "Carport (shed roof, behind the garage), 18-4, caps both ends. Drop right, 8-2 to grade",
        "Carport, the little porch = 18-4, caps both ends. Drop right, 8-2 to grade",
        "Carport is stuck on the front, 18-4, caps both ends. Drop right, 8-2 to grade",
    ],
)
def test_where_a_part_stands_names_no_run(read: Callable[..., Any], line: str) -> None:
    seen = read("Front 40-2, caps both ends", "Right side 22-0, caps", line)
    seen.asked_or_right("runs.front.length", seen.at("runs.front.length").value)
    assert [run.id for run in seen.sheet.runs if run.length is not None] == ["front", "right-side", "carport"]
    seen.feet("runs.front.length", 40, 2)
    seen.feet("runs.carport.length", 18, 4)
    seen.ends("carport", "end cap", "end cap")
    seen.outlets("carport", "right")


def test_a_side_of_the_part_behind_a_comma_is_part_of_its_name(read: Callable[..., Any]) -> None:
    seen = read(
        "Back 22-0, caps both ends",
        "Ell, left-hand side, 12-3. Inside corner left, cap right.",
        "Ell, right-hand side: 12-3 too, cap left, inside corner right.",
    )
    seen.runs("back", "ell-left-side", "ell-right-side")
    seen.ends("ell-left-side", "inside corner", "end cap")
    seen.ends("ell-right-side", "end cap", "inside corner")


def test_another_part_told_of_in_the_line_stays_a_run(read: Callable[..., Any]) -> None:
    seen = read("Front 40-2, caps both ends", "That's the porch, the garage is 22-4, caps both ends")
    seen.feet("runs.garage.length", 22, 4)


def test_an_outlet_pointed_out_at_a_side_is_no_description(read: Callable[..., Any]) -> None:
    seen = read("Dormer 6-4, caps both ends", "The dormer one's at the left, 2 foot onto the main roof")
    seen.outlets("dormer", "left")


def test_what_a_run_does_and_the_wall_it_meets_are_one_end(read: Callable[..., Any]) -> None:
    seen = read("Lean-to 12-4, cap on the left and it butts the house wall on the right")
    seen.ends("lean-to", "end cap", "wall")


def test_a_wall_in_a_row_of_cells_is_no_side_of_the_house(read: Callable[..., Any]) -> None:
    seen = read(
        "Run A | length 31' 0\" | left end cap | right end cap | outlet left",
        "Run B (woodshed) | length 14' 6\" | left wall | right end cap | outlet right",
    )
    seen.runs("run-a", "run-b")
    seen.ends("run-b", "wall", "end cap")
    seen.outlets("run-b", "right")

"""Notes set out in columns: Markdown, tabs, and a heading row."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable

MARKDOWN = (
    "| Run | Length | Left end | Right end | Outlet | W/F | Height | To |",
    "|---|---|---|---|---|---|---|---|",
    "| Front | 41-3 | OSC | OSC | L | 19 | 9-2 | splash |",
    "| Back | 40-9 1/2 | OSC | cap | R | 23 | 10-8 | drain |",
)
TABS = tuple(
    "\t".join(cell.strip() for cell in line.strip("|").split("|")) for line in MARKDOWN if "---" not in line
)


@pytest.mark.parametrize("lines", [MARKDOWN, TABS], ids=["markdown", "tabs"])
def test_a_table_of_runs(read: Callable[..., Any], lines: tuple[str, ...]) -> None:
    seen = read(*lines)
    seen.runs("front", "back")
    seen.feet("runs.front.length", 41, 3, "41-3")
    seen.feet("runs.back.length", 40, "9 1/2", "40-9 1/2")
    seen.ends("front", "outside corner", "outside corner")
    seen.ends("back", "outside corner", "end cap")
    seen.outlets("front", "left")
    seen.outlets("back", "right")
    seen.inches("downpipes.back-1.wall_to_fascia", 23, "23")
    seen.feet("downpipes.back-1.height", 10, 8, "10-8")
    seen.says("downpipes.back-1.ends_at", "drain", "drain")


def test_an_empty_cell_is_no_value(read: Callable[..., Any]) -> None:
    lines = [line.replace("| 10-8 |", "|  |") for line in MARKDOWN]
    seen = read(*lines)
    assert seen.sheet.reading_at("downpipes.back-1.height") is None
    seen.feet("downpipes.front-1.height", 9, 2, "9-2")


def test_a_cell_that_is_not_known_is_asked_about(read: Callable[..., Any]) -> None:
    lines = [line.replace("| 10-8 |", "| ? |") for line in MARKDOWN]
    read(*lines).asked("downpipes.back-1.height")


def test_columns_in_another_order(read: Callable[..., Any]) -> None:
    seen = read("Length\tRun\tHeight\tOutlet", "41-3\tFront\t9-2\tleft", "40-9\tBack\t10-8\tright")
    seen.feet("runs.front.length", 41, 3, "41-3")
    seen.feet("runs.back.length", 40, 9, "40-9")
    seen.feet("downpipes.back-1.height", 10, 8, "10-8")


def test_a_number_in_a_column_nobody_knows_is_not_lost(read: Callable[..., Any]) -> None:
    seen = read("Run\tLength\tSpan code", "Front\t41-3\t77", "Back\t40-9\t83")
    seen.asked_or_right("runs.front.length", Length(495))
    assert seen.shown("77")
    assert seen.shown("83")


def test_words_behind_a_table_are_read_too(read: Callable[..., Any]) -> None:
    seen = read(*MARKDOWN, "", "Porch 11-8, cap left, wall right, no drop")
    seen.feet("runs.porch.length", 11, 8, "11-8")
    seen.ends("porch", "end cap", "wall")


def test_a_pipe_column_beside_a_column_of_runs_is_no_name_of_a_run(read: Callable[..., Any]) -> None:
    seen = read(
        "| Run | Length | L end | R end | DP |",
        "|---|---|---|---|---|",
        "| Front | 34' 9\" | OSC | OSC | R |",
        "| Right | 22' 0\" | OSC | EC | none |",
    )
    seen.runs("front", "right-side")
    seen.feet("runs.front.length", 34, 9, "34' 9\"")
    seen.feet("runs.right-side.length", 22, 0, "22' 0\"")
    assert [(outlet.run, outlet.from_) for outlet in seen.sheet.outlets] == [("front", "right")]


def test_a_list_of_pipes_is_still_told_by_its_runs(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 34-9 caps both, drop left",
        "Back 30-2 caps both, drop right",
        "| DP | Run | W/F | Ht |",
        "| 1 | Front | 18 | 9-2 |",
        "| 2 | Back | 20 | 9-6 |",
    )
    seen.feet("downpipes.front-1.height", 9, 2)
    seen.feet("downpipes.back-1.height", 9, 6)

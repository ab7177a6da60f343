"""Text messages of a crew and its office: who speaks, one building after another, a starred number."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


def test_what_a_speaker_is_stands_in_brackets_and_names_no_run(read: Callable[..., Any]) -> None:
    seen = read(
        "Lou: front 40-2 caps both",
        "Bea (office): overhang?",
        "Lou: 18",
        "Bea (office): ok pipes",
        "Lou: front left 9-4 splash",
    )
    seen.runs("front")
    seen.outlets("front", "left")


@pytest.mark.parametrize(
    "told",
    [
        [
            "byre first. front 11.34 m stop ends",
            "dairy next. just the one eave, at the back",
            "4.6 m stop ends",
        ],
        ["ok byre. front is 11.34 m stop ends", "then the dairy", "back 4.6 m, stop ends"],
        ["now the byre, front 11.34 m stop ends", "dairy next", "the back is 4.6 m, stop ends"],
    ],
)
def test_sides_are_of_the_building_brought_up_last(read: Callable[..., Any], told: list[str]) -> None:
    seen = read(*told, "byre back 11.29 m stop ends")
    seen.mm("runs.byre-front.length", 11340)
    seen.mm("runs.dairy-back.length", 4600)
    seen.mm("runs.byre-back.length", 11290)


def test_the_same_but_for_what_comes_on_the_next_line(read: Callable[..., Any]) -> None:
    seen = read("front 11340 stop ends", "back is the same only its", "11290")
    seen.mm("runs.back.length", 11290, status="corrected")
    seen.ends("back", "end cap", "end cap")
    seen = read("front 11340 stop ends", "back is the same except", "drop left on it")
    seen.asked("runs.back.length")


def test_a_starred_number_puts_right_the_one_with_its_figures(read: Callable[..., Any]) -> None:
    seen = read("front 41-0 caps both, drop left 18 w/f", "height 9-4, to the drain", "*4-9")
    seen.feet("downpipes.front-1.height", 4, 9, status="corrected")
    seen.says("downpipes.front-1.ends_at", "drain")

"""What the measurer counted aloud, kept to be held against the runs; a total measures no run."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

RUN = "Front 30-2 osc both, drop left"


@pytest.mark.parametrize(
    ("line", "what", "count", "words"),
    [
        ("four runs, three downpipes, six outside corners", "runs", 4, "four"),
        ("four runs, three downpipes, six outside corners", "downpipes", 3, "three"),
        ("four runs, three downpipes, six outside corners", "outside corners", 6, "six"),
        ("Totals: 5 runs, 2 inside corners, 4 outlets", "inside corners", 2, "2"),
        ("Totals: 5 runs, 2 inside corners, 4 outlets", "outlets", 4, "4"),
        ("that makes six downspouts altogether", "downpipes", 6, "six"),
        ("All told 3 downspouts.", "downpipes", 3, "3"),
    ],
)
@pytest.mark.parametrize("first", [True, False])
def test_a_count(read: Callable[..., Any], line: str, what: str, count: int, words: str, first: bool) -> None:
    seen = read(*([line, RUN] if first else [RUN, line]))
    seen.says(f"totals.{what}", count, words)
    seen.feet("runs.front.length", 30, 2, "30-2")
    seen.runs("front")
    assert len(seen.sheet.outlets) == 1


def test_the_whole_length_of_gutter(read: Callable[..., Any]) -> None:
    seen = read("Front 30-2 osc both", "Back 30-2 osc both", "Total gutter 60 foot 4")
    seen.feet("runs.front.length", 30, 2, "30-2")
    seen.feet("runs.back.length", 30, 2, "30-2")
    reading = seen.sheet.reading_at("totals.gutter length")
    assert (reading is not None and reading.value.inches == 724) or seen.shown("60 foot 4")

"""Runs and their lengths, in shorthand, plain sentences and one breath."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("line", "run", "feet", "inches", "words"),
    [
        ("Rear elevation 51'-4 3/8\", gable both ends.", "back", 51, "4 3/8", "51'-4 3/8\""),
        (
            "front fascia 33 foot 7 and a half, outside corner left, stop end right",
            "front",
            33,
            "7 1/2",
            "33 foot 7 and a half",
        ),
        ("FRT 17-9½ osc l, cap r", "front", 17, "9 1/2", "17-9½"),
        ("the south elevation comes to nineteen foot dead, caps", "south", 19, 0, "nineteen foot dead"),
        ("right hand side, that's twenty six eleven, end caps", "right-side", 26, 11, "twenty six eleven"),
        ("Left flank: 23’ 0 5/16”, cap both ends", "left-side", 23, "5/16", "23’ 0 5/16”"),
        ("Porch 11-8 OSC L, wall R", "porch", 11, 8, "11-8"),
        (
            "garage front, eighteen feet and three quarters of an inch, caps each end",
            "garage-front",
            18,
            "3/4",
            "eighteen feet and three quarters of an inch",
        ),
        ('West: 244", OSC both', "west", 0, 244, '244"'),
    ],
)
def test_a_length_is_read_as_said(
    read: Callable[..., Any], line: str, run: str, feet: int, inches: str, words: str
) -> None:
    seen = read(line)
    seen.runs(run)
    seen.feet(f"runs.{run}.length", feet, inches, words)


def test_several_runs_in_one_breath(read: Callable[..., Any]) -> None:
    seen = read(
        "so the front is forty one foot three with outside corners both ends then the right side nineteen "
        "foot ten and a quarter outside corners and the back forty one three with outside corners"
    )
    seen.runs("front", "right-side", "back")
    seen.feet("runs.front.length", 41, 3, "forty one foot three")
    seen.feet("runs.right-side.length", 19, "10 1/4", "nineteen foot ten and a quarter")
    seen.feet("runs.back.length", 41, 3, "forty one three")


def test_four_runs_on_one_line_of_shorthand(read: Callable[..., Any]) -> None:
    seen = read("Front 43 6. Back 38 2. Left 24. Right 26.")
    seen.feet("runs.front.length", 43, 6, "43 6")
    seen.feet("runs.back.length", 38, 2, "38 2")
    seen.feet("runs.left-side.length", 24, 0, "24")
    seen.feet("runs.right-side.length", 26, 0, "26")


def test_the_reading_says_how_a_bare_number_was_taken(read: Callable[..., Any]) -> None:
    seen = read("Left side 26, OSC both")
    assert "feet" in (seen.feet("runs.left-side.length", 26, 0, "26").why or "")


def test_a_storey_is_part_of_the_run(read: Callable[..., Any]) -> None:
    seen = read("Upper front 18-2 caps both ends", "Lower front 31-7 caps both ends")
    seen.runs("upper-front", "lower-front")
    assert [run.storey for run in seen.sheet.runs] == ["upper", "lower"]
    seen.feet("runs.upper-front.length", 18, 2)
    seen.feet("runs.lower-front.length", 31, 7)


@pytest.mark.parametrize(
    ("line", "run"),
    [
        ("Front wall thirty-three foot seven and a half, outside corner left, stop end right.", "front"),
        ("back wall is 33 7 1/2 with an outside corner left and a cap right", "back"),
    ],
)
def test_a_run_called_a_wall(read: Callable[..., Any], line: str, run: str) -> None:
    seen = read(line)
    seen.feet(f"runs.{run}.length", 33, "7 1/2")
    seen.ends(run, "outside corner", "end cap")


@pytest.mark.parametrize(
    "line",
    [
        "Front 20 caps both ends",
        "Left 26 osc both",
        "Back 34 outside corners both ends",
        "Rear 31 end caps",
        "Front 33 stop ends both",
    ],
)
def test_a_length_in_whole_feet_before_its_ends_is_no_count_of_them(
    read: Callable[..., Any], line: str
) -> None:
    seen = read(line)
    (run,) = seen.sheet.runs
    number = int(line.split()[1])
    seen.asked_or_right(f"runs.{run.id}.length", Length(number * 12))
    assert run.length is not None or seen.shown(str(number)), f"{number} is on the sheet nowhere"


def test_a_total_never_becomes_the_length_of_a_run(read: Callable[..., Any]) -> None:
    seen = read("Front 20 foot 6, caps both ends", "Total gutter 62 feet")
    seen.feet("runs.front.length", 20, 6, "20 foot 6")
    seen = read("Front 20 caps both ends", "Total gutter 62 feet")
    reading = seen.sheet.reading_at("runs.front.length")
    assert reading is None or reading.value.inches != 62 * 12, "the total is shown as the front's length"

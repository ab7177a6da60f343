"""What must become doubtful: a value on weak ground is shown, and somebody is asked."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("line", "inches"),
    [
        ("Front about 40 feet, caps both ends", 480),
        ("Front roughly 40 foot 3 caps both", 483),
        ("front forty foot and change, caps both ends", None),
        ("Front 40-3 or so, caps both", 483),
        ("Front 40-3 ish, caps both", 483),
        ("Front 40-3 I think, caps both", 483),
        ("Front 40 foot 3 1/4 strong, caps both", None),
        ("Front 40' 3 1/4\" shy, caps both", None),
        ("Front 40-3 or 40-8, caps both", None),
        ("Front ~40', caps both", 480),
        ("Front 40-3 (paced), caps both", 483),
        ("Front 40-3 by eye, caps both", 483),
        ("Front 15 foot 3 could be 50, caps both ends", 183),
    ],
)
def test_a_length_that_is_not_sure(read: Callable[..., Any], line: str, inches: int | None) -> None:
    reading = read(line).at("runs.front.length")
    assert reading.status == "doubtful", reading.why
    assert reading.why
    if inches is not None:
        assert reading.value == Length(inches)


def test_a_number_with_no_place_casts_doubt_on_its_neighbour(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 17-2 caps both")
    reading = seen.sheet.reading_at("runs.front.length")
    assert reading is None or reading.status == "doubtful"


def test_a_place_the_reader_does_not_know_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both", "Frobisher 22-4 caps both")
    certain = [path for path, one in seen.sheet.readings() if one.settled and one.source[0].line == 2]
    assert not [path for path in certain if not path.startswith("runs.frobisher")]
    seen.feet("runs.front.length", 30, 6, "30-6")


def test_a_run_told_without_a_length_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both", "Back, outside corners both ends, drop left")
    for path, reading in seen.sheet.readings():
        if path.startswith(("runs.back", "outlets.back", "downpipes.back")):
            assert not reading.settled, path


@pytest.mark.parametrize(
    "line",
    ["skip the back", "swap those two", "leave off the drop", "cancel the porch", "never mind the height"],
)
def test_a_change_of_mind_not_understood_casts_doubt(read: Callable[..., Any], line: str) -> None:
    seen = read(
        "Porch 11-8 cap left wall right", "Back 30-6 caps both, drop left, w/f 19, ht 9-2, splash", line
    )
    open_now = [path for path, reading in seen.sheet.readings() if not reading.settled]
    assert open_now, "nothing is asked about after a change of mind"


def test_a_wall_at_both_ends_of_the_side_of_a_porch_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Porch left side 6-2, wall both ends")
    for side in ("left", "right"):
        seen.asked(f"runs.porch-left-side.{side}_end")


def test_a_pipe_on_a_run_whose_outlet_was_not_placed_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both, w/f 18, 9-2 down to splash")
    for field in ("wall_to_fascia", "height", "ends_at"):
        for pipe in seen.sheet.downpipes:
            seen.asked(f"downpipes.{pipe.id}.{field}")


def test_the_runs_of_a_bay_are_never_the_runs_of_the_house(read: Callable[..., Any]) -> None:
    seen = read("Bay: left 3-2, front 6-0, right 3-2, 45s outside")
    for run in seen.sheet.runs:
        if "bay" not in run.id:
            assert run.length is None or not run.length.settled, f"{run.id} was never measured"


def test_a_very_short_run_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read('Front 30-6 caps both. Back 9" caps both.')
    seen.asked("runs.back.length")
    seen.feet("runs.front.length", 30, 6, "30-6")


@pytest.mark.parametrize(
    "words",
    ["30-4 twice", "30-4 per side", "30-4 each side of the door", "30-4 to the downpipe then 10-2 on"],
)
def test_a_length_that_is_only_part_of_the_run_is_asked_about(read: Callable[..., Any], words: str) -> None:
    read(f"Front {words}, caps both").asked("runs.front.length")


def test_two_runs_of_a_length_are_not_one(read: Callable[..., Any]) -> None:
    seen = read("2 runs of 14-6 on the back, caps")
    certain = [run for run in seen.sheet.runs if run.length is not None and run.length.settled]
    assert len(certain) in (0, 2)


@pytest.mark.parametrize(
    "words",
    [
        "30-4 less 6 inches for the chimney",
        "30-4 plus 14 inches for the return",
        "30-4, half that again",
        "double 18-1",
    ],
)
def test_a_sum_not_worked_out_is_asked_about(read: Callable[..., Any], words: str) -> None:
    read(f"Front {words}, caps both").asked("runs.front.length")


@pytest.mark.parametrize("words", ["2 inches shorter", "a foot longer", "4 inches less"])
def test_a_difference_is_no_length_of_its_own(read: Callable[..., Any], words: str) -> None:
    seen = read("Front 36-2, caps both", f"Back is {words}, caps both")
    seen.asked("runs.back.length")
    seen.feet("runs.front.length", 36, 2, "36-2")


def test_a_name_the_reader_does_not_know_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 OSC both", "Frobisher 22-4, cap left, OSC right, drop left, w/f 20, ht 9-2")
    behind = {path: one for path, one in seen.sheet.readings() if one.source[0].line == 2}
    assert "runs.frobisher.length" in behind
    assert not [path for path, one in behind.items() if one.settled]


@pytest.mark.parametrize(
    "name",
    ["the whatsit:", "Zeppelin end:", "over by the greenhouse"],
)
def test_what_is_said_of_a_name_not_known_is_not_said_of_the_run_before(
    read: Callable[..., Any], name: str
) -> None:
    seen = read("Front 30-6 caps both", f"{name} 22-4, cap left, OSC right, drop left")
    assert not [path for path, one in seen.sheet.readings() if one.settled and one.source[0].line == 2]


@pytest.mark.parametrize(
    "words",
    [
        "30-6 x 2",
        "not 30-6",
        "should be 30-6 per the plans",
        "30-6 minimum",
    ],
)
def test_a_length_that_was_not_measured_as_such_is_asked_about(read: Callable[..., Any], words: str) -> None:
    read(f"Front {words}, caps both").asked("runs.front.length")


@pytest.mark.parametrize(
    "words",
    [
        "30-6 or thereabouts",
        "less than 30-6",
        "at least 30 feet",
        "between 30 and 31 feet",
        "last time was 30-6",
    ],
)
def test_a_bound_or_a_range_is_asked_about(read: Callable[..., Any], words: str) -> None:
    read(f"Front {words}, caps both").asked("runs.front.length")


def test_two_values_side_by_side_are_asked_about(read: Callable[..., Any]) -> None:
    read("Front 30-6 (30-8 on the other tape) OSC both").asked("runs.front.length")
    seen = read("Front 30-6 OSC both, drop left, w/f 20-22, ht 9-2 (8-10 if we cut the stub), splash")
    seen.asked("downpipes.front-1.wall_to_fascia")
    seen.asked("downpipes.front-1.height")
    seen.feet("runs.front.length", 30, 6, "30-6")


def test_a_length_with_no_ends_among_runs_that_have_them_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both", "Back 28-1")
    assert "ends" in (seen.at("runs.back.length").why or "")
    seen.asked("runs.back.length")
    seen.feet("runs.front.length", 30, 6, "30-6")


def test_lengths_alone_are_read_where_no_run_has_its_ends(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6", "Back 28-1")
    seen.feet("runs.front.length", 30, 6, "30-6")
    seen.feet("runs.back.length", 28, 1, "28-1")


def test_a_part_beside_its_sides_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "Porch front 11-8, cap left, OSC right", "Porch left side 6-2, caps", "Porch 9-3, caps, drop left"
    )
    for path, reading in seen.sheet.readings():
        if reading.source[0].line == 3:
            assert not reading.settled, path
    seen.feet("runs.porch-front.length", 11, 8, "11-8")


def test_a_written_out_length_too_short_for_a_run_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both", "Porch 0-10 caps both")
    seen.asked("runs.porch.length")


@pytest.mark.parametrize(
    "told",
    [
        "then the little linkway is 11 foot 4 cap each end",
        "Over the cellar hatch there's 6-10, stop ends both.",
        "and the whatnot comes to eleven foot nine and that's an outside corner to a cap",
    ],
)
def test_a_length_with_ends_and_no_name_is_a_run_of_its_own_in_doubt(
    read: Callable[..., Any], told: str
) -> None:
    seen = read("Front 30-6 outside corners both ends, drop left. Back 30-6 wall both ends. " + told)
    seen.feet("runs.back.length", 30, 6)
    seen.ends("back", "wall", "wall")
    others = [run for run in seen.sheet.runs if run.id not in ("front", "back")]
    assert len(others) == 1
    assert others[0].length is not None
    for _, reading in seen.sheet.readings():
        if reading.source[0].start >= 80:
            assert not reading.settled


def test_more_ends_than_a_run_has_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Back 30-6 wall to wall, then a jog we skip, caps both ends, drop left")
    seen.asked("runs.back.left_end")
    seen.asked("runs.back.right_end")
    seen = read("Front 30-6, cap left, inside corner right, by the wall there")
    seen.ends("front", "end cap", "inside corner")

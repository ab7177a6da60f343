"""Which run is meant: numbers, letters, parts of the house, names nobody knows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    "lines",
    [
        ("Run 1 22-4 osc l cap r", "Run 2 18-9 caps"),
        ("Run 1: 22-4, osc left, cap right", "Run 2: 18-9, caps both"),
        (
            "run one is twenty two four, outside corner left, end cap right",
            "run two is eighteen nine, end caps",
        ),
        ("Run #1 - 22' 4\" OSC left, cap right", "Run #2 - 18' 9\" caps both"),
    ],
)
def test_numbered_runs(read: Callable[..., Any], lines: tuple[str, str]) -> None:
    seen = read(*lines)
    seen.runs("run-1", "run-2")
    seen.feet("runs.run-1.length", 22, 4)
    seen.feet("runs.run-2.length", 18, 9)
    seen.ends("run-1", "outside corner", "end cap")


def test_lettered_runs(read: Callable[..., Any]) -> None:
    seen = read("Run A: 22-4 osc l cap r", "Run B: 18-9 caps", "Run C: same as run A")
    seen.runs("run-a", "run-b", "run-c")
    seen.feet("runs.run-a.length", 22, 4, "22-4")
    seen.feet("runs.run-c.length", 22, 4)
    seen.ends("run-c", "outside corner", "end cap")


@pytest.mark.parametrize(
    ("name", "run"),
    [
        ("Porch front", "porch-front"),
        ("front of the porch", "porch-front"),
        ("Garage left side", "garage-left-side"),
        ("the left side of the garage", "garage-left-side"),
        ("Rear dormer", "dormer-back"),
        ("Lean-to", "lean-to"),
        ("Extension", "extension"),
        ("Bay front", "bay-front"),
    ],
)
def test_parts_of_the_house(read: Callable[..., Any], name: str, run: str) -> None:
    seen = read("Front 40-3 OSC both", f"{name} 12-4, cap left, cap right")
    found = {frozenset(one.id.split("-")) for one in seen.sheet.runs}
    assert frozenset(run.split("-")) in found, [one.id for one in seen.sheet.runs]
    seen.feet("runs.front.length", 40, 3, "40-3")
    (part,) = [one for one in seen.sheet.runs if one.id != "front"]
    seen.feet(f"runs.{part.id}.length", 12, 4, "12-4")


def test_a_part_does_not_change_the_run_of_the_house(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 40-3 OSC both, drop left",
        "Porch front 11-8 cap left, OSC right, drop right",
        "Back 40-3 OSC both",
    )
    seen.runs("front", "porch-front", "back")
    seen.outlets("front", "left")
    seen.outlets("porch-front", "right")


def test_a_run_to_the_jog_and_on_from_there(read: Callable[..., Any]) -> None:
    seen = read("Front to the jog 12-4, from there 9-8 to the corner", "Back 22-0 OSC both")
    for path, reading in seen.sheet.readings():
        if reading.source[0].line == 1 and path.endswith("length"):
            assert not reading.settled or reading.value.inches in (148, 116, 264), path
    texts = [s.text for _, r in seen.sheet.readings() for s in r.source] + [u.text for u in seen.sheet.unread]
    assert {"12-4", "9-8"} <= set(texts)


def test_the_same_name_twice_is_the_same_run(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 40-3, cap left, OSC right",
        "Back 30-6 caps both",
        "Front: drop on the left, w/f 20, 9-1 to splash",
    )
    seen.runs("front", "back")
    seen.outlets("front", "left")
    seen.feet("downpipes.front-1.height", 9, 1, "9-1")


@pytest.mark.parametrize(
    "mark",
    [
        "{}. ",
        "{}) ",
        "- ",
        "#{} ",
    ],
)
def test_the_numbers_of_a_list_are_no_lengths(read: Callable[..., Any], mark: str) -> None:
    runs = ("Front 30-6 OSC both", "Back 28-3 OSC both", "Left 22-4 OSC both")
    seen = read(*(mark.format(number) + run for number, run in enumerate(runs, start=1)))
    seen.runs("front", "back", "left-side")
    seen.feet("runs.front.length", 30, 6, "30-6")
    seen.feet("runs.back.length", 28, 3, "28-3")
    seen.feet("runs.left-side.length", 22, 4, "22-4")


@pytest.mark.parametrize(
    "line", ["Garage: front 22-1, back 22-1, caps", "Garage: front 22-1, caps both, drop left"]
)
def test_a_heading_names_the_part_of_the_runs_behind_it(read: Callable[..., Any], line: str) -> None:
    seen = read(line)
    assert not [
        run.id for run in seen.sheet.runs if "garage" not in run.id and run.length and run.length.settled
    ]


def test_each_side_of_a_part_is_no_run_of_the_house(read: Callable[..., Any]) -> None:
    seen = read("Porch 12-0 front, 6-2 each side, caps at wall")
    assert not [
        run.id for run in seen.sheet.runs if "porch" not in run.id and run.length and run.length.settled
    ]


def test_two_runs_named_together_have_the_same_length(read: Callable[..., Any]) -> None:
    seen = read("Front and back both 36-2, caps both ends", "Sides 26-3 each, OSC both")
    for run in ("front", "back"):
        seen.feet(f"runs.{run}.length", 36, 2, "36-2")
        seen.ends(run, "end cap", "end cap")
    for run in ("left-side", "right-side"):
        seen.feet(f"runs.{run}.length", 26, 3, "26-3")
        seen.ends(run, "outside corner", "outside corner")


def test_a_heading_word_inside_a_longer_line_is_no_heading(read: Callable[..., Any]) -> None:
    seen = read("Front 40 ft osc both, downpipe schedule left 9-2")
    seen.runs("front")
    seen.feet("runs.front.length", 40, 0, "40 ft")
    for side in ("left", "right"):
        seen.asked_or_right(f"runs.front.{side}_end", "outside corner")
    for pipe in seen.sheet.downpipes:
        seen.asked_or_right(f"downpipes.{pipe.id}.height", Length(110))
    assert "9-2" in [source.text for source in seen.sheet.sources()]


@pytest.mark.xfail(
    strict=True, reason="osc both takes its side from the schedule behind it: one end, by the wrong word"
)
def test_both_ends_keep_their_both_before_a_heading_word(read: Callable[..., Any]) -> None:
    seen = read("Front 40 ft osc both, downpipe schedule left 9-2")
    seen.ends("front", "outside corner", "outside corner")
    for side in ("left", "right"):
        assert "left" not in [source.text for source in seen.at(f"runs.front.{side}_end").source]


def test_lines_that_open_with_letters_from_a_on_name_their_runs(read: Callable[..., Any]) -> None:
    seen = read("A 42-0 osc osc", "B 28-6 osc isc", "E 52-2 osc osc, drop left, w/f 18, h 9-2")
    seen.runs("run-a", "run-b", "run-e")
    seen.feet("runs.run-b.length", 28, 6, "28-6")


def test_two_letters_with_no_a_are_front_and_back(read: Callable[..., Any]) -> None:
    read("F 42-0 osc both", "B 42-0 osc both").runs("front", "back")


def test_fr_beside_an_fl_is_the_right_of_the_front(read: Callable[..., Any]) -> None:
    seen = read("Front 38-4 caps both", "FL 24 / 9-4 / splash", "FR 24 / 9-6 / splash")
    seen.feet("runs.front.length", 38, 4, "38-4")
    seen.outlets("front", "left", "right")


def test_fr_alone_is_the_front(read: Callable[..., Any]) -> None:
    read("FR 38-4 caps both", "BK 38-4 caps both").runs("front", "back")


def test_sides_named_by_what_they_face(read: Callable[..., Any]) -> None:
    seen = read(
        "okay so river side is 22 foot 4 caps both ends drop left 12 out 9-1 to the ground then lane side is "
        "22 foot 6 caps both drop right 12 out 8-8 splash"
    )
    seen.runs("river-side", "lane-side")
    seen.feet("runs.lane-side.length", 22, 6)
    seen.outlets("lane-side", "right")


def test_lower_ground_is_no_lower_storey(read: Callable[..., Any]) -> None:
    seen = read("Back 38-2 caps both. Two drops, one each end. 9-8 on the left. The right's lower, 10-4.")
    seen.runs("back")
    assert seen.at("downpipes.back-2.height").value.inches == 124


@pytest.mark.parametrize(
    "told",
    [
        "Porch 14-0 front, 6 2 each side",
        "porch front 14-0, sides 6-2 each",
        "porch 14-0 across the front, 6-2 down either side",
        "Porch front 14-0, returns 6-2",
    ],
)
@pytest.mark.parametrize("ends", ["to the wall", "sides butt the wall"])
def test_both_sides_of_a_porch_told_at_once(read: Callable[..., Any], told: str, ends: str) -> None:
    seen = read(f"{told}, {ends}. outside corners. drop front left, 12 w/f, 8-4 to splash")
    seen.runs("porch-front", "porch-left-side", "porch-right-side")
    for side in ("left", "right"):
        seen.feet(f"runs.porch-{side}-side.length", 6, 2)
        seen.says(f"runs.porch-{side}-side.{side}_end", "wall")
    seen.ends("porch-front", "outside corner", "outside corner")
    seen.outlets("porch-front", "left")


def test_the_house_has_no_sides_of_a_garage(read: Callable[..., Any]) -> None:
    seen = read("Garage front 22-0, sides 24-6 each, butt the house", "Sides 41-0 each, OSC both")
    seen.feet("runs.left-side.length", 41)
    seen.feet("runs.garage-left-side.length", 24, 6)
    seen.says("runs.garage-left-side.left_end", "wall")


def test_sides_that_stop_at_the_house_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Garage front 22-0 OSC both, sides 24-6 each, they stop at the house")
    seen.asked("runs.garage-left-side.left_end")


def test_a_length_each_side_on_a_line_of_its_own(read: Callable[..., Any]) -> None:
    seen = read("porch front 12-4 osc both", "7 ft 2 each side, against the wall")
    seen.feet("runs.porch-right-side.length", 7, 2)
    seen.says("runs.porch-right-side.right_end", "wall")


@pytest.mark.parametrize(
    "line", ["Front 31-4 caps both, w/f 12 both sides", "Porch 12-0, drop 6 in from each side"]
)
def test_what_is_no_length_of_sides_makes_none(read: Callable[..., Any], line: str) -> None:
    seen = read(line)
    assert not [run.id for run in seen.sheet.runs if "side" in run.id]


def test_runs_numbered_building_by_building(read: Callable[..., Any]) -> None:
    seen = read(
        "run 1 shed 1: 22-0 capped both ends, drop left",
        "run 2 shed 1 14-6 caps, drop right",
        "run 1 of shed 2, 12-0 caps, drop left",
    )
    seen.feet("runs.shed-1-run-1.length", 22)
    seen.feet("runs.shed-1-run-2.length", 14, 6)
    seen.feet("runs.shed-2-run-1.length", 12)
    assert not seen.sheet.unread


def test_parts_told_apart_by_numbers(read: Callable[..., Any]) -> None:
    seen = read(
        "dormer 1 left 6-2 caps, drop right", "dormer 1 right 6-2 caps", "dormer 2 left side 5-11 caps"
    )
    seen.runs("dormer-1-left-side", "dormer-1-right-side", "dormer-2-left-side")
    seen.feet("runs.dormer-2-left-side.length", 5, 11)


@pytest.mark.parametrize(
    "line", ["garage 2 drops, front 22-0 caps both", "porch 1 outlet, front 12-0 caps both"]
)
def test_what_a_number_behind_a_part_counts_is_no_name(read: Callable[..., Any], line: str) -> None:
    seen = read(line, "garage 1 downpipe at the back", "porch 2 outlets in all")
    assert not [run.id for run in seen.sheet.runs if any(sign.isdigit() for sign in run.id)]

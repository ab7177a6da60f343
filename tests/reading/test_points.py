"""Notes whose corners have letters or numbers on a sketch, and whose runs go from one corner to the next.

Sides follow from geometry: facing each wall from outside, corners that go round anticlockwise stand at the
left end of the run that they begin; clockwise, at its right end.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.points.naming import find_points

if TYPE_CHECKING:
    from collections.abc import Callable

OUT, IN, CAP = "outside corner", "inside corner", "end cap"


@pytest.fixture
def told(read: Callable[..., Any]) -> Callable[[str], Any]:
    """A note of several lines, read."""
    return lambda note: read(*note.splitlines())


@pytest.mark.parametrize(
    ("note", "runs"),
    [
        ("AB 30-6\nBC 12-3\nCD 30-6\nDA 12-3", ["AB", "BC", "CD", "DA"]),
        ("A-B 40-2, B-C 24-0, C-D 40-2, D-A 24-0.", ["AB", "BC", "CD", "DA"]),
        ("1 to 2: 8.25m\n2 to 3: 4.1m\n3 to 1: 6.0m", ["1-2", "2-3", "3-1"]),
        ("1-2   9.80\n2-3   11.40\n3-4   5.60\n4-1   7.1", ["1-2", "2-3", "3-4", "4-1"]),
    ],
)
def test_runs_by_their_two_corners(note: str, runs: list[str]) -> None:
    points = find_points(note.splitlines())
    assert points is not None
    assert points.order == runs


@pytest.mark.parametrize(
    "note",
    [
        "FR 30-6\nRB 12-3\nBL 30-6\nLF 12-3",
        "NE 30-6\nES 12-3\nSW 30-6",
        "front 1-2 3/4\nback 2-3 1/2\nleft 3-4",
        "A 31-6\nB 12-0\nC 18-4",
        "2-3 guys\n3-4 hours\n14-2 on the front",
    ],
)
def test_no_corners_of_a_sketch(note: str) -> None:
    assert find_points(note.splitlines()) is None


RECTANGLE = "AB 40-2\nBC 24-0\nCD 40-2\nDA 24-0\nAll outside corners.\n"


@pytest.mark.parametrize(("way", "side"), [("counterclockwise", "left"), ("clockwise", "right")])
def test_an_outlet_at_a_corner_of_its_run(told: Callable[[str], Any], way: str, side: str) -> None:
    seen = told(f'Corners lettered {way}.\n{RECTANGLE}Pipes:\nA on AB, 9-4, 12" overhang, drain')
    seen.says("outlets.run-ab-1.place", side)
    seen.feet("downpipes.run-ab-1.height", 9, 4)
    seen.ends("run-ab", OUT, OUT)


def test_which_way_was_not_said(told: Callable[[str], Any]) -> None:
    seen = told("AB 30-6 A cap, B osc\nBC 12-3\nCD 30-6\nC osc, D cap\nSpout on AB at A 9-4 splash")
    seen.asked("runs.run-ab.left_end")
    seen.asked("outlets.run-ab-1.place")
    seen.feet("runs.run-bc.length", 12, 3)


def test_a_corner_is_both_runs(told: Callable[[str], Any]) -> None:
    seen = told(
        "Points numbered to the right.\n1 to 2: 8.25m\n2 to 3: 4.1m\n3 to 4: 2.6m\n4 to 5: 3.3m\n"
        "5 to 6: 5.6m\n6 to 1: 7.4m\nCorners: 4 inside, 1, 2, 3, 5 and 6 outside\nOutlets: 6 on 5-6, drain"
    )
    seen.ends("run-3-4", OUT, IN)
    seen.ends("run-4-5", IN, OUT)
    seen.says("outlets.run-5-6-1.place", "right")
    assert not seen.sheet.unread


def test_bay_corners_and_the_rest(told: Callable[[str], Any]) -> None:
    seen = told(
        "Lettered going right.\nAB 11-8\nBC 3-4\nCD 5-0\nDE 3-4\nEF 12-3\nFA 28-10\n"
        "B and E inside 45, C and D outside 45, the rest outside"
    )
    seen.ends("run-ab", OUT, IN)
    seen.ends("run-cd", OUT, OUT)
    assert seen.at("runs.run-bc.left_angle").value == 45
    assert seen.sheet.reading_at("runs.run-fa.left_angle") is None


def test_free_ends(told: Callable[[str], Any]) -> None:
    seen = told(
        "Lettered to the right.\nA to B 24-6\nB to C 12-0\nC to D 24-6\nCap at A and D. B and C outside."
    )
    seen.ends("run-ab", CAP, OUT)
    seen.ends("run-cd", OUT, CAP)


def test_lengths_that_ought_to_be_alike(told: Callable[[str], Any]) -> None:
    seen = told(f"Lettered to the right.\n{RECTANGLE}AB and CD should be the same, one of them is out.")
    seen.asked("runs.run-ab.length")
    seen.asked("runs.run-cd.length")
    seen.feet("runs.run-bc.length", 24)


def test_where_the_water_goes_is_no_outlet(told: Callable[[str], Any]) -> None:
    seen = told(
        f"Lettered to the right.\n{RECTANGLE}Downpipes:\nB on BC 9-2 drain\nAB falls to B, CD goes to D."
    )
    assert [outlet.run for outlet in seen.sheet.outlets] == ["run-bc"]


def test_the_pipe_just_told_of_is_another_size(told: Callable[[str], Any]) -> None:
    seen = told(
        "Front 32-0 caps, spout left 9-2 splash, 3x4 that one, the others 2x3\nBack 32-0 caps, spout right"
    )
    assert seen.sheet.defaults.downpipe_size.value == "2x3"
    assert [pipe.size and pipe.size.value for pipe in seen.sheet.downpipes] == ["3x4", None]


def test_a_letter_before_two_corners_is_the_runs_name(read: Callable[..., Any]) -> None:
    seen = read(
        "12 Cairn Row, all mm, corners numbered left to right as you face the wall",
        "A  1-2  7210",
        "B  2-3  5640",
        "C  3-4  7215",
        "1 stop end. 2 and 3 external. 4 stop end.",
        "Pipes: A at 2  drop 2450  w-f 260  gulley",
        "C at 3   drop 2480   w-f 255   water butt",
    )
    seen.runs("run-a", "run-b", "run-c")
    lengths = {
        run.id: run.length.value.tape_text() for run in seen.sheet.runs if run.length and run.length.value
    }
    assert lengths == {"run-a": "7210 mm", "run-b": "5640 mm", "run-c": "7215 mm"}
    assert not any(run in ("run-1-2", "run-2-3") for run in lengths)


def test_no_eave_stands_metres_out(read: Callable[..., Any]) -> None:
    seen = read(
        "Job in mm", "Front 6320 stop ends, outlet left", "front at left   drop 5100   w-f 320   gulley"
    )
    pipe = seen.sheet.downpipes[0]
    assert pipe.height.value.tape_text() == "5100 mm"
    assert pipe.wall_to_fascia.value.tape_text() == "320 mm"

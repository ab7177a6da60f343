"""Corners of lettered runs told all at once, as a chain round the house or a list of pairs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

OUT, IN = "outside corner", "inside corner"
L_SHAPE = [(OUT, OUT), (OUT, OUT), (OUT, IN), (IN, OUT), (OUT, OUT), (OUT, OUT)]
"""Left and right ends of six runs round an L."""
LENGTHS = "1  24-6\n2  30-0\n3  8-0\n4  10-0\n5  16-6\n6  40-0"


@pytest.fixture
def told(read: Callable[..., Any]) -> Callable[[str], Any]:
    """A note of several lines, read."""
    return lambda note: read(*note.splitlines()).sheet


def ends(sheet: Any) -> list[tuple[str | None, str | None]]:
    """Left and right end of each run."""
    return [
        (run.left_end and run.left_end.value, run.right_end and run.right_end.value) for run in sheet.runs
    ]


@pytest.mark.parametrize(
    "corners",
    [
        "1 out 2 out 3 in 4 out 5 out 6 out 1",
        "1 - ext - 2 - ext - 3 - int - 4 - ext - 5 - ext - 6 - ext - back to 1",
        "x = outside corner, + = inside corner\n1 x 2 x 3 + 4 x 5 x 6 x 1",
        "1/2 OSC, 2/3 OSC, 3/4 in, 4/5 OSC, 5/6 OSC, 6/1 OSC",
        "1-2 out. 2-3 out. 3-4 in. 4-5 out. 5-6 out. 6-1 out.",
    ],
)
def test_corners_in_a_chain(told: Callable[[str], Any], corners: str) -> None:
    sheet = told(f"Runs numbered to the right.\n{corners}\n{LENGTHS}")
    assert ends(sheet) == L_SHAPE
    assert not sheet.unread
    assert all(run.left_end.status == "read" for run in sheet.runs)


def test_letters_in_a_chain_that_goes_clockwise(told: Callable[[str], Any]) -> None:
    sheet = told(
        "Letters go clockwise.\nA ext B ext C int D ext E ext F ext back to A\n"
        "A 24-6\nB 30-0\nC 8-0\nD 10-0\nE 16-6\nF 40-0"
    )
    assert ends(sheet) == [(right, left) for left, right in L_SHAPE]


def test_an_open_link_stays_open(told: Callable[[str], Any]) -> None:
    sheet = told(f"Runs numbered to the right.\n1 out 2 out 3 ? 4 out 5 out 6 out 1\n{LENGTHS}")
    assert sheet.runs[2].right_end is None
    assert sheet.runs[3].left_end is None
    assert sheet.runs[3].right_end.value == OUT


def test_fractions_are_no_corners(told: Callable[[str], Any]) -> None:
    sheet = told("Runs numbered to the right.\n1  24-6 3/4 in\n2  30-0\n3  8-0 1/2 in")
    assert str(sheet.runs[0].length.value.tape_text()) == "24' 6 3/4\""
    assert all(run.left_end is None for run in sheet.runs)


def test_pipes_with_letters_on_numbered_runs(told: Callable[[str], Any]) -> None:
    sheet = told(
        f"Runs numbered to the right.\n{LENGTHS}\n1/2 out, 2/3 out, 3/4 in, 4/5 out, 5/6 out, 6/1 out\n"
        "Q on 1 at the 1/2 corner - 9-4, drain\nR on 4 in the 3/4 nook - 9-6, splash"
    )
    assert [(outlet.run, outlet.from_) for outlet in sheet.outlets] == [("run-1", "right"), ("run-4", "left")]
    assert [pipe.height.value.tape_text() for pipe in sheet.downpipes] == ["9' 4\"", "9' 6\""]


@pytest.mark.parametrize("said", ["Metres.", "All plain. Metres.", "12 Shore Row, metres"])
def test_a_job_in_metres_by_one_word(told: Callable[[str], Any], said: str) -> None:
    sheet = told(f"{said}\nFront 8.4 cap cap\nBack 6.25 cap cap")
    assert sheet.defaults.units == "metric"
    assert sheet.runs[0].length.value.tape_text() == "8400 mm"


def test_a_chain_with_free_ends(told: Callable[[str], Any]) -> None:
    sheet = told(
        "O = outside, I = inside, X = stop end\nRuns numbered to the right.\nX 1 O 2 I 3 O 4 X\n"
        "1  22-0\n2  8-6\n3  14-3\n4  8-6"
    )
    assert ends(sheet) == [("end cap", OUT), (OUT, IN), (IN, OUT), (OUT, "end cap")]

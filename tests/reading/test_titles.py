"""What the job is called, and that its numbers never measure anything."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("line", "title"),
    [
        ("Job: 9 Cinder Row", "9 Cinder Row"),
        ("112 Lantern Hill Road", "112 Lantern Hill Road"),
        ("ok we're at 41B Heather Mews, single storey", "41B Heather Mews"),
        ("this is two hundred and six Gannet Lane", "206 Gannet Lane"),
        ("Address - 7 Tollgate Close", "7 Tollgate Close"),
        ("# Plot 12 Saltpan Way", "Plot 12 Saltpan Way"),
    ],
)
def test_a_title(read: Callable[..., Any], line: str, title: str) -> None:
    seen = read(line, "Front 40-2 caps both ends")
    assert seen.sheet.title == title
    seen.runs("front")
    seen.feet("runs.front.length", 40, 2, "40-2")


@pytest.mark.parametrize(
    "line", ["Front 40-2 caps both ends", "8.5 m front", "40 foot 2 on the front", "back is 31 feet"]
)
def test_a_line_that_measures_is_no_title(read: Callable[..., Any], line: str) -> None:
    seen = read(line)
    assert seen.sheet.title is None
    assert len(seen.sheet.runs) == 1


@pytest.mark.parametrize(
    "line",
    [
        "I am going round clockwise",
        "All in mm",
        "All dimensions in millimetres",
        "Measured by tape, hooked on the corner",
        pytest.param(
            "6 m side",
            marks=pytest.mark.xfail(
                strict=True, reason="a side with its length in metres is taken for the title"
            ),
        ),
    ],
)
def test_talk_about_the_measuring_is_no_title(read: Callable[..., Any], line: str) -> None:
    assert read(line, "Front 12400 stop ends both", "Back 12400 stop ends both").sheet.title is None


def test_a_title_on_the_line_of_the_first_run(read: Callable[..., Any]) -> None:
    seen = read("19 Copperbeech Drive. Front 40-2, caps both ends, drop left.")
    assert seen.sheet.title == "19 Copperbeech Drive"
    seen.feet("runs.front.length", 40, 2, "40-2")
    seen.outlets("front", "left")


@pytest.mark.parametrize(
    ("line", "title"),
    [
        ("alright so Maple Bend Road number 17 starting on the front", "17 Maple Bend Road"),
        ("hi it's Jo, we're on Larch avenue, number is 204, front 40-2 caps", "204 Larch avenue"),
        ("Testing testing. The job is at 31 Ferncliffe. It's a bungalow.", "31 Ferncliffe"),
        ("doing two houses on Larch avenue today", None),
    ],
)
def test_a_title_in_the_words_of_somebody_talking(
    read: Callable[..., Any], line: str, title: str | None
) -> None:
    assert read(line, "Front 40-2, caps both ends, drop left.").sheet.title == title

"""Terse old hands' typed shorthand: counts against letters, sides alone, short ends, bare rows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize("words", ["d2 ends", "2 ds ends", "dp2 cnrs", "2dn @ corners", "2 drops corners"])
def test_counted_pipes_at_the_ends(read: Callable[..., Any], words: str) -> None:
    read(f"rear 38 oc oc {words}", "lt 22 oc oc").outlets("back", "left", "right")


def test_a_count_behind_a_letter(read: Callable[..., Any]) -> None:
    seen = read("frt 41-2 ec oc ds1 L", "bk 41-2 oc ec d2")
    seen.outlets("front", "left")
    assert len(seen.sheet.outlets_of("back")) == 2
    seen.asked("outlets.back-1.place")


def test_a_count_behind_a_letter_that_may_be_another_word(read: Callable[..., Any]) -> None:
    seen = read("1) 28-4 oc/oc s1 R", "2) 16 oc/ec", "ht 9-2")
    seen.says("outlets.run-1-1.place", "right", status="doubtful")


@pytest.mark.parametrize(
    ("words", "end"), [("2OC", "outside corner"), ("2EC", "end cap"), ("osc's", "outside corner")]
)
def test_counted_ends_are_no_inches(read: Callable[..., Any], words: str, end: str) -> None:
    seen = read(f"BK 33 {words} 1 DS LT")
    seen.feet("runs.back.length", 33)
    seen.ends("back", end, end)


def test_whose_it_is_makes_no_plural(read: Callable[..., Any]) -> None:
    seen = read("back is 31-4, the osc's on the left, cap's on the right")
    seen.ends("back", "outside corner", "end cap")


def test_sides_behind_both_ends_are_outlets_that_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("S 36-4 oc/oc LR", "E 22-0 oc/oc", "N 36-4 oc/oc R", "up frt 40 ec ec 1 l 18-6")
    for place, side in (("south-1", "left"), ("south-2", "right"), ("north-1", "right")):
        seen.says(f"outlets.{place}.place", side, status="doubtful")
    seen.says("outlets.upper-front-1.place", "left", status="doubtful")
    assert not seen.sheet.outlets_of("east")


def test_a_side_that_an_end_needs_is_no_outlet(read: Callable[..., Any]) -> None:
    assert not read("front 26-2 cap, inside corner right").sheet.outlets
    assert not read("front 26-2 outside corners both ends").sheet.outlets

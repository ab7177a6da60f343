"""Numbers that measure nothing never become a value, and the sheet still shows them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Ring her on 07700 900123 first.", "07700 900123"),
        ("call 555 0188 if the gate is shut", "555 0188"),
        ("deposit of $450 paid", "$450"),
        ("£1,200 agreed", "£1,200"),
        ("Be there at 8:15.", "8:15"),
        ("Half past nine on the 14th of May", "Half past nine"),
        ("measured 11/25/2026", "11/25/2026"),
        ("gate code 7788", "7788"),
        ("need a 28 foot ladder", "28 foot ladder"),
        ("give me 10 minutes", "10 minutes"),
        ("use 2x4 blocking", "2x4"),
        ("1x8 fascia board", "1x8"),
        ("neighbour at number 17 has the key", "17"),
        ("two guys for half a day", "two"),
        ("2 man job", "2 man"),
        ("it's a two storey house", "two"),
    ],
)
@pytest.mark.parametrize("where", ["line", "run"])
def test_a_number_that_measures_nothing(read: Callable[..., Any], line: str, words: str, where: str) -> None:
    before, after = "Front 30-7 caps both, drop left, w/f 21, ht 9-5 splash", "Back 29-11 caps both"
    seen = read(before, line, after) if where == "line" else read(f"{before}. {line}", after)
    seen.never_a_value(words)
    seen.runs("front", "back")
    seen.feet("runs.front.length", 30, 7, "30-7")
    seen.feet("downpipes.front-1.height", 9, 5, "9-5")
    seen.inches("downpipes.front-1.wall_to_fascia", 21, "21")


def test_one_metric_distance_in_a_remark_does_not_turn_feet_into_metres(read: Callable[..., Any]) -> None:
    seen = read("Front 30-7 caps both", "van is 30 metres from the door", "Back 29-11 caps both")
    seen.asked_or_right("runs.front.length", Length(367))
    seen.asked_or_right("runs.back.length", Length(359))
    seen.never_a_value("30 metres")


def test_each_unread_number_says_why(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 30-7 caps both. Deposit of $450. Ladder 10 minutes away.", "Lot 3-77-1901 sheet 88 of 90"
    )
    assert all(unread.why for unread in seen.sheet.unread)


def test_times_at_the_head_of_lines_are_no_lengths(read: Callable[..., Any]) -> None:
    seen = read("10:42 front 24-9 caps both", "10:44 back 24-9 caps both", "10:51 left 18-2 osc both")
    seen.feet("runs.front.length", 24, 9, "24-9")
    seen.feet("runs.back.length", 24, 9, "24-9")
    seen.feet("runs.left-side.length", 18, 2, "18-2")


@pytest.mark.parametrize(
    "stamps",
    [
        ("10:42", "10:44", "10:51"),
        ("[10:42]", "[10:44]", "[10:51]"),
        ("9:58 am", "10:03 am", "10:11 am"),
        ("00:00:12", "00:00:31", "00:01:12"),
        ("[00:12]", "[00:31]", "[01:12]"),
    ],
)
def test_times_at_the_head_of_lines_are_listed_as_times(
    read: Callable[..., Any], stamps: tuple[str, ...]
) -> None:
    runs = ("front 24-9 caps both", "back 23-4 caps both", "left 18-2 osc both")
    seen = read(*(f"{stamp} {run}" for stamp, run in zip(stamps, runs, strict=True)))
    assert seen.sheet.title is None
    seen.runs("front", "back", "left-side")
    for run, feet, inches in (("front", 24, 9), ("back", 23, 4), ("left-side", 18, 2)):
        seen.feet(f"runs.{run}.length", feet, inches)
    listed = {one.source.line: one for one in seen.sheet.unread}
    for number, stamp in enumerate(stamps, start=1):
        assert stamp.strip("[]") in listed[number].text
        assert "time" in listed[number].why


@pytest.mark.parametrize(
    ("line", "words", "kind"),
    [
        ("the barrel holds 55 gallons", "55 gallons", "volume"),
        ("a length weighs 80 pounds", "80 pounds", "mass"),
    ],
)
def test_a_quantity_that_is_no_length_is_named(
    read: Callable[..., Any], line: str, words: str, kind: str
) -> None:
    """What a unit measures is quantulum3's answer."""
    seen = read("Front 40-0 caps both", line)
    assert [kind in unread.why for unread in seen.sheet.unread if unread.text == words] == [True], seen.sheet

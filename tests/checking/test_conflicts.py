"""Things that cannot all be so: at the edge, just inside and just outside."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.checking import Finding, check_sheet

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

    Build = Callable[..., Sheet]

GABLE = {"front": (510, "C", "C"), "back": (510, "C", "C")}
BOTH = [("front", "left"), ("back", "left")]


def raised(sheet: Sheet, code: str) -> list[Finding]:
    return [found for found in check_sheet(sheet) if found.code == code]


@pytest.mark.parametrize(
    ("side", "distance", "told"),
    [
        ("left", "510 in", False),
        ("right", "8161/16 in", True),
        ("centre", "255 in", False),
        ("centre", "256 in", True),
        ("left", "-1 in", True),
        ("left", "0 in", False),
    ],
)
def test_an_outlet_beyond_its_run(sheet_of: Build, side: str, distance: str, told: bool) -> None:
    sheet = sheet_of({"front": (510, "C", "C")}, outlets=[("front", side, distance)])
    assert bool(raised(sheet, "outlet-beyond-run")) is told


def total(what: str, value: Any) -> list[dict[str, Any]]:
    return [{"what": what, "value": {"value": value}}]


@pytest.mark.parametrize(
    ("what", "stated", "holds"),
    [
        ("runs", 2, None),
        ("runs", 3, []),  # a run too few: the others stand
        ("runs", 1, ["runs.front", "runs.back"]),  # one too many: it may be either
        ("outlets", 2, None),
        ("outlets", 3, ["runs.front", "runs.back"]),  # a hole too few in one of them
        ("downpipes", 2, None),
        ("downpipes", 3, ["runs.front", "runs.back"]),
        ("downpipes", 1, ["downpipes.front-1", "downpipes.back-1", "runs.front", "runs.back"]),
        ("outside corners", 0, None),
        ("outside corners", 4, []),
        ("gutter length", "1020 in", None),
        ("gutter length", "1032 in", None),  # 86 feet said of 85: rounded
        ("gutter length", "1044 in", ["runs.front", "runs.back"]),
        ("gutter length", "1021 in", ["runs.front", "runs.back"]),  # not in whole feet: an inch tells
    ],
)
def test_stated_totals(sheet_of: Build, what: str, stated: Any, holds: list[str] | None) -> None:
    found = raised(sheet_of(GABLE, outlets=BOTH, totals=total(what, stated)), "total-mismatch")
    assert [one.holds for one in found] == ([] if holds is None else [holds])


def test_a_missing_pipe_whose_outlet_is_there_holds_nothing(sheet_of: Build) -> None:
    sheet = sheet_of(
        GABLE, outlets=BOTH, pipes=[{"id": "p", "outlet": "front-1"}], totals=total("downpipes", 2)
    )
    (found,) = raised(sheet, "total-mismatch")
    assert found.holds == []


@pytest.mark.parametrize(("stated", "told"), [(4, False), (3, True), (5, True), (8, True)])
def test_corners_are_counted_once_though_told_on_both_runs(box: Build, stated: int, told: bool) -> None:
    sheet = box(totals=total("outside corners", stated))
    # A corner told on both runs may not be known to be one: up to 8 ends, at least 4 corners.
    assert bool(raised(sheet, "total-mismatch")) is told


def test_a_total_that_is_itself_in_doubt_is_only_asked_about(sheet_of: Build) -> None:
    doubtful = [{"what": "outlets", "value": {"value": 5, "status": "doubtful"}}]
    codes = [found.code for found in check_sheet(sheet_of(GABLE, outlets=BOTH, totals=doubtful))]
    assert "value-doubtful" in codes
    assert "total-mismatch" not in codes


def test_gutter_length_with_a_length_missing_is_compared_one_way_only(sheet_of: Build) -> None:
    runs = {"front": (510, "C", "C"), "back": (None, "C", "C")}
    assert not raised(sheet_of(runs, totals=total("gutter length", "1020 in")), "total-mismatch")
    assert raised(sheet_of(runs, totals=total("gutter length", "400 in")), "total-mismatch")


def test_a_bay_angle_told_on_both_runs_is_no_conflict(sheet_of: Build) -> None:
    angle = {"value": 45.0}
    runs = {
        "bay-left": (40, "W", "O", {"right_angle": angle}),
        "bay-front": (72, "O", "O", {"left_angle": angle, "right_angle": {"value": 90}}),
        "bay-right": (40, "O", "W"),
    }
    assert not raised(sheet_of(runs), "corner-angle-mismatch")


def test_two_values_names_both_and_offers_both(sheet_of: Build) -> None:
    source = [{"line": n, "start": 0, "end": 2, "text": "42"} for n in (1, 4)]
    length = {
        "value": "513 in",
        "status": "doubtful",
        "source": source,
        "could_be": [{"value": "510 in", "why": "said before"}],
    }
    (found,) = raised(sheet_of({"front": (None, "C", "C", {"length": length})}), "two-values")
    assert found.question == "Which is the length of the front: 42' 9\" or 42' 6\"?"
    assert [offer.value for offer in found.suggests] == ["42' 9\"", "42' 6\""]
    assert [words.line for words in found.source] == [1, 4]
    assert not raised(sheet_of({"front": (None, "C", "C", {"length": length})}), "value-doubtful")

"""Which ends meet: said, named, in order, or the only two left; and what is not claimed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.checking import check_sheet
from gutterance.checking.house import House
from gutterance.checking.joints import Joints, find_joints
from gutterance.checking.places import position, side_name
from gutterance.sheet.models import Run

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

    Build = Callable[..., Sheet]


def joints_of(sheet: Sheet) -> Joints:
    return find_joints(House(sheet))


def pairs(joints: Joints) -> set[tuple[int, int]]:
    return {(joint.before, joint.after) for joint in joints.joints}


@pytest.mark.parametrize(
    "order",
    [
        ("front", "right-side", "back", "left-side"),
        ("front", "left-side", "back", "right-side"),
        ("front", "back", "left-side", "right-side"),
        ("south", "west", "north", "east"),
        ("garage-back", "garage-front", "garage-right", "garage-left"),
    ],
)
def test_plain_sides_meet_by_name_in_whatever_order_they_are_said(
    sheet_of: Build, order: tuple[str, ...]
) -> None:
    sheet = sheet_of(dict.fromkeys(order, (100, "O", "O")))
    joints = joints_of(sheet)
    turn = {run.id: position(run) for run in sheet.runs}
    assert len(joints.joints) == 4
    for before, after in pairs(joints):
        here, there = turn[sheet.runs[before].id], turn[sheet.runs[after].id]
        assert here is not None
        assert there is not None
        assert there.turn == (here.turn + 1) % 4
    assert joints.rings()


def test_what_the_note_says_comes_first(sheet_of: Build) -> None:
    sheet = sheet_of(
        {
            "a": (100, "C", "O", {"next_run": "c"}),
            "b": (100, "I", "C"),
            "c": (100, "O", "I", {"next_run": "B"}),  # by its name, in any case of letters
        }
    )
    assert pairs(joints_of(sheet)) == {(0, 2), (2, 1)}


def test_next_between_two_free_ends_is_only_the_walking_order(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", "C", {"next_run": "back"}), "back": (510, "C", "C")})
    joints = joints_of(sheet)
    assert joints.joints == []
    assert joints.next_unknown == []


def test_a_clockwise_walk_is_joined_the_other_way(sheet_of: Build) -> None:
    sheet = sheet_of({"run-1": (100, "O", "C"), "run-2": (60, "I", "O"), "run-3": (80, "C", "I")})
    assert pairs(joints_of(sheet)) == {(2, 1), (1, 0)}


def test_opposite_sides_never_meet(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (100, "C", "O"), "back": (100, "O", "C")})
    assert joints_of(sheet).joints == []


def test_the_only_two_ends_left_meet(sheet_of: Build) -> None:
    sheet = sheet_of({"run-1": (100, "O", "C"), "run-2": (100, "C", "C"), "run-3": (100, "C", "O")})
    joints = joints_of(sheet)
    assert [(joint.before, joint.after, joint.how) for joint in joints.joints] == [(2, 0, "order")]


def test_storeys_do_not_meet_by_order(sheet_of: Build) -> None:
    sheet = sheet_of(
        {"run-1": (100, "C", "O", {"storey": "upper"}), "run-2": (100, "O", "C", {"storey": "lower"})}
    )
    assert joints_of(sheet).joints == []


def test_ends_nobody_spoke_of_may_meet(sheet_of: Build) -> None:
    sheet = sheet_of({"run-1": (100, "C", None), "run-2": (100, None, "C")})
    joints = joints_of(sheet)
    assert joints.joints == []
    assert joints.stretches(sure=True) == [[0], [1]]
    assert joints.stretches(sure=False) == [[0, 1]]


def test_one_stretch_round_corners_needs_one_outlet(sheet_of: Build) -> None:
    stretch = {"porch-left": (96, "W", "O"), "porch-front": (144, "O", "O"), "porch-right": (96, "O", "W")}
    dry = {"back": (200, "C", "C")}
    codes = {found.code: found for found in check_sheet(sheet_of(stretch, outlets=[("porch-right", "left")]))}
    assert "outlet-missing" not in codes
    found = [
        one
        for one in check_sheet(sheet_of(stretch | dry, outlets=[("back", "left")]))
        if one.code == "outlet-missing"
    ]
    assert [one.holds for one in found] == [["runs.porch-left", "runs.porch-front", "runs.porch-right"]]


@pytest.mark.parametrize(
    ("name", "building", "turn"),
    [
        ("front", "", 0),
        ("the right side", "", 1),
        ("rear eave", "", 2),
        ("garage front", "garage", 0),
        ("left side of porch", "porch", 3),
        ("west", "", 3),
    ],
)
def test_plain_sides_by_name(name: str, building: str, turn: int) -> None:
    at = position(Run(id="x", name=name))
    assert at is not None
    assert (at.building, at.turn) == (building, turn)


@pytest.mark.parametrize("name", ["front left", "run 3", "porch", "bay", ""])
def test_names_that_give_no_one_side(name: str) -> None:
    assert position(Run(id="x", name=name)) is None


def test_a_missing_side_is_named_like_the_others() -> None:
    assert side_name(3, False, "") == "left side"
    assert side_name(5, True, "") == "east side"
    assert side_name(2, False, "garage") == "garage back"


def test_a_ring_of_contradictions_is_told_and_does_not_hang(sheet_of: Build) -> None:
    def leads_to(name: str) -> tuple[Any, ...]:
        return (100, "O", "O", {"next_run": name})

    sheet = sheet_of({"a": leads_to("b"), "b": leads_to("a"), "c": leads_to("c"), "d": leads_to("a")})
    codes = {found.code for found in check_sheet(sheet)}
    assert {"turns-off", "next-run-unknown", "next-run-twice"} <= codes


def test_a_corner_is_not_called_alone_while_another_end_is_in_doubt(sheet_of: Build) -> None:
    def alone(left_end: dict[str, Any]) -> bool:
        sheet = sheet_of(
            {"front": (510, "C", "O"), "porch": (96, None, "C", {"left_end": left_end})},
            outlets=[("front", "left"), ("porch", "right")],
        )
        return any(found.code == "corner-unpartnered" for found in check_sheet(sheet))

    assert alone({"value": "wall"})
    assert not alone({"value": "wall", "status": "doubtful"})


def test_a_side_left_out_is_asked_for_though_a_porch_stands_by(sheet_of: Build) -> None:
    """Front, right and back of a house, with a porch that turns no corner: the left side was not read."""
    sheet = sheet_of(
        {
            "front": (460, "O", "O"),
            "right-side": (312, "O", "C"),
            "back": (460, "C", "O"),
            "porch": (174, "C", "C"),
        },
        [("front", "left"), ("back", "left"), ("porch", "right")],
    )
    asked = [found for found in check_sheet(sheet) if found.code == "run-missing"]
    assert [set(found.holds) for found in asked] == [{"runs.front", "runs.back"}]
    assert "left side" in asked[0].says


def test_two_corners_on_opposite_sides_are_each_without_a_partner(sheet_of: Build) -> None:
    """What turns a corner beside them is unknown, but front and back of one house never meet."""
    sheet = sheet_of(
        {
            "upper-front": (336, "O", "O"),
            "upper": (288, "O", "O"),
            "upper-back": (336, "O", "O"),
        },
        [("upper-front", "left"), ("upper-back", "right")],
    )
    asked = {tuple(found.holds) for found in check_sheet(sheet) if found.code == "corner-unpartnered"}
    assert asked == {("runs.upper-front",), ("runs.upper-back",)}


def test_a_corner_told_on_the_run_beside_is_offered_for_an_end_not_said(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", "O"), "right-side": (339, None, "C")})
    (found,) = [one for one in check_sheet(sheet) if one.code == "end-missing"]
    assert [(offer.value, offer.why) for offer in found.suggests] == [
        ("outside corner", "the front has an outside corner on its right, which may be the same one")
    ]
    far = sheet_of({"front": (510, "C", "O"), "back": (510, None, "C")})
    assert [one.suggests for one in check_sheet(far) if one.code == "end-missing"] == [[]]

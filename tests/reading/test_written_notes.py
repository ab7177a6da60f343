"""Written notes of many hands: rows, lists, bars, angles and endings as crews put them down."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


def test_a_bare_ninety_beside_a_corner_is_its_angle(read: Callable[..., Any]) -> None:
    seen = read("all mm", "Front 9210 int 90 left, ext 90 right", "Back 7340 ext 90 both")
    seen.ends("front", "inside corner", "outside corner")
    seen.ends("back", "outside corner", "outside corner")
    seen.mm("runs.back.length", 7340)
    assert not seen.sheet.unread


def test_ends_at_points_of_the_compass(read: Callable[..., Any]) -> None:
    seen = read("N side 31-6 - cap @ E, OSC @ W", "S side 31-6 - wall @ W, cap @ E")
    seen.ends("north", "end cap", "outside corner")
    seen.ends("south", "wall", "end cap")


def test_a_side_before_its_length_with_a_label(read: Callable[..., Any]) -> None:
    seen = read(
        "BACK     length 40-0   left end OC   right end OC",
        "LEFT     length 22-9   OC both ends",
        "FRONT    length 40-0   OC both",
        "RIGHT    length 22-9   OC both",
    )
    seen.feet("runs.left-side.length", 22, 9)
    seen.feet("runs.right-side.length", 22, 9)
    seen.feet("runs.back.length", 40, 0)


@pytest.mark.parametrize(
    "said",
    [
        "Bk 44-0 caps, drops L & R, wf 16, hts L 9-2, R 9-6, tile L, splash R",
        "Bk 44-0 caps, drops both ends, wf 16, 9-2 down, L tile, R splash",
    ],
)
def test_endings_with_their_sides(read: Callable[..., Any], said: str) -> None:
    seen = read(said)
    seen.outlets("back", "left", "right")
    seen.says("downpipes.back-1.ends_at", "drain")
    seen.says("downpipes.back-2.ends_at", "splash block")


def test_a_row_of_a_list_is_called_by_its_number(read: Callable[..., Any]) -> None:
    seen = read(
        "1) Garage front 20-2, caps",
        "2) House front 41-9, OSC both ends",
        "3) House rear 41-9, OSC both ends",
        "",
        "Outlets",
        "1: right",
        "2 - left end",
        "3: both ends",
        "Heights",
        "1: 8-3",
        "3 left: 9-11",
        "3 right: 10-4",
    )
    seen.runs("garage-front", "front", "back")
    seen.outlets("garage-front", "right")
    seen.outlets("front", "left")
    seen.feet("downpipes.garage-front-1.height", 8, 3)
    seen.feet("downpipes.back-1.height", 9, 11)
    seen.feet("downpipes.back-2.height", 10, 4)


def test_rows_that_have_no_names_keep_their_numbers(read: Callable[..., Any]) -> None:
    seen = read("sides are numbered", "1. 32-6 OSC/OSC", "2. 20-0 OSC/OSC", "3. 32-6 OSC/OSC")
    seen.runs("run-1", "run-2", "run-3")


def test_dn_is_a_pipe_where_a_side_follows_and_down_where_a_number_stands(read: Callable[..., Any]) -> None:
    seen = read("F 30-0 caps dn both ends wf 14 8-6 dn", "B 30-0 caps dn L wf 14 9-2")
    seen.outlets("front", "left", "right")
    seen.outlets("back", "left")
    seen.feet("downpipes.front-1.height", 8, 6)


def test_the_same_ends_and_no_more(read: Callable[..., Any]) -> None:
    seen = read("Front 26-0 cap left wall right, drop left 9-0", "Back 24-7 same ends, drop right 8-8")
    seen.ends("back", "end cap", "wall")
    seen.feet("runs.back.length", 24, 7)
    seen.outlets("back", "right")


def test_gable_to_gable(read: Callable[..., Any]) -> None:
    read("Rear 8.7 m gable to gable, one outlet LH").ends("back", "end cap", "end cap")


def test_a_number_before_feet_and_inches_is_another(read: Callable[..., Any]) -> None:
    seen = read("L 19-4 oc/ec dp R wf 10 7-9 grade")
    seen.inches("downpipes.left-side-1.wall_to_fascia", 10)
    seen.feet("downpipes.left-side-1.height", 7, 9)
    read("L 19 4-1/2 oc/ec").feet("runs.left-side.length", 19, "4 1/2")


def test_bars_without_a_heading(read: Callable[..., Any]) -> None:
    seen = read("|| B || 36-3 || oc/ec || dp R || wf 18 || 9-9 || splash", "F | 36-3 | ec/oc | dp L")
    seen.feet("runs.back.length", 36, 3)
    seen.ends("back", "outside corner", "end cap")
    seen.feet("runs.front.length", 36, 3)
    seen.feet("downpipes.back-1.height", 9, 9)


def test_thousandths_without_their_point(read: Callable[..., Any]) -> None:
    read("6K 027 alum brown", "front 40-0 caps").says("defaults.thickness", "0.027 in")


def test_a_remark_about_what_is_over_something_measures_no_run(read: Callable[..., Any]) -> None:
    seen = read("F 40-0 oc/oc", "note - fascia rotten F above porch 8 ft or so")
    seen.runs("front")


def test_sides_for_outlets_in_a_table(read: Callable[..., Any]) -> None:
    seen = read(
        "all mm",
        "Wall | Length | LHS | RHS | Outlets | Soffit | Drop | To",
        "S | 12400 | ext | int | LHS + RHS | 450 | 2600 | s/w drain",
        "W | 6150 | ext | ext | RHS | 450 | 2600 | tank",
    )
    seen.ends("south", "outside corner", "inside corner")
    seen.outlets("south", "left", "right")
    seen.says("downpipes.south-1.ends_at", "drain")
    seen.says("downpipes.south-2.ends_at", "drain")
    seen.says("downpipes.west-1.ends_at", "barrel")


def test_a_size_of_pipe_is_no_address(read: Callable[..., Any]) -> None:
    seen = read("Glenmore, Dunbeg", "100 half round black. 68mm rd pipes", "Front 7400 s/e both, outlet left")
    assert seen.sheet.title != "68mm rd"


def test_metres_below_one_are_no_doubt(read: Callable[..., Any]) -> None:
    seen = read("front 9.60m: stop both. outlet 0.4 in from right stop. 2.45 down. soffit .30", "125 ogee")
    seen.mm("outlets.front-1.distance", 400)
    seen.mm("downpipes.front-1.wall_to_fascia", 300)

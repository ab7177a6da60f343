"""The same house told in another order or with other words: what must not land on the wrong run or side.

The houses are invented. What each line means is trade usage, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize("storey", ["Upper", "Lower"])
def test_the_sides_of_a_storey_are_two_runs(read: Callable[..., Any], storey: str) -> None:
    seen = read(f"{storey} right 24-0 OSC both ends", f"{storey} left 26-0 OSC both ends")
    seen.runs(f"{storey.lower()}-right-side", f"{storey.lower()}-left-side")
    seen.feet(f"runs.{storey.lower()}-left-side.length", 26, 0, "26-0")


@pytest.mark.parametrize("where", ["far end", "near end", "other end"])
def test_the_far_end_of_an_outlet_is_not_told_from_a_cap(read: Callable[..., Any], where: str) -> None:
    seen = read(f"Right side 24-0, OSC left and a cap right, downpipe at the {where}, w/f 16 height 9-0")
    assert [outlet.from_ for outlet in seen.sheet.outlets] == [None]


def test_the_far_end_from_a_drop_is_the_other_end(read: Callable[..., Any]) -> None:
    seen = read("Front 44-0 caps both, one drop at the left end and one at the far end")
    seen.outlets("front", "left", "right")


@pytest.mark.parametrize(
    ("words", "left", "right"),
    [("OSC left wall right", "outside corner", "wall"), ("left wall right OSC", "wall", "outside corner")],
)
def test_a_wall_with_its_side_is_an_end(read: Callable[..., Any], words: str, left: str, right: str) -> None:
    read(f"Front 31-6 {words}").ends("front", left, right)


@pytest.mark.parametrize("size", ["5 inch white aluminium K-style", "6 inch white K, 3x4", "6 inch K white"])
def test_a_colour_within_a_size_is_kept(read: Callable[..., Any], size: str) -> None:
    read(size, "Front 24-0 caps").says("defaults.colour", "white")


def test_a_size_that_opens_the_note_is_no_title(read: Callable[..., Any]) -> None:
    seen = read('6" K brown 3x4', "Front 33-8 caps both")
    assert seen.sheet.title is None
    seen.inches("defaults.gutter_size", 6)
    seen.says("defaults.downpipe_size", "3x4")


def test_a_copy_told_before_what_it_copies(read: Callable[..., Any]) -> None:
    seen = read("the left side is the same as the right side", "Right side 28-0 OSC both ends, drop left")
    seen.feet("runs.left-side.length", 28, 0)
    seen.ends("left-side", "outside corner", "outside corner")


def test_a_copy_of_a_run_that_was_never_told_is_asked(read: Callable[..., Any]) -> None:
    seen = read("Front 31-0 caps both", "Left side same as the right side")
    seen.asked("runs.left-side.length")
    assert seen.sheet.run("left-side") is not None


def test_clockwise_starts_at_the_right(read: Callable[..., Any]) -> None:
    seen = read("Walking clockwise. Front 31 foot 7. Starts at an outside corner, finishes with an end cap.")
    for side, end in (("left", "end cap"), ("right", "outside corner")):
        reading = seen.at(f"runs.front.{side}_end")
        assert reading.value == end


@pytest.mark.parametrize(
    ("end", "eave", "side"),
    [("east", "north", "left"), ("west", "south", "left"), ("east", "south", "right")],
)
def test_an_end_of_an_eave_named_behind_it(read: Callable[..., Any], end: str, eave: str, side: str) -> None:
    seen = read(
        "North 38 foot 4, caps. South is 38 foot 4, caps.",
        f"Downpipe at the {end} end of the {eave} eave, fourteen inch soffit, eight foot ten to grade.",
    )
    for outlet in seen.sheet.outlets:
        if outlet.place is not None and outlet.place.settled:
            assert (outlet.run, outlet.from_) == (eave, side)


@pytest.mark.parametrize(
    ("first", "again", "length"),
    [
        ("Front, I get thirty seven foot four.", "Let me check that again. Thirty seven foot five.", (37, 5)),
        ("Left side nineteen foot.", "Strike the nineteen, it's eighteen eleven.", (18, 11)),
    ],
)
def test_a_second_look_is_never_passed_over(
    read: Callable[..., Any], first: str, again: str, length: tuple[int, int]
) -> None:
    seen = read(f"{first} {again} Outside corners both ends.")
    run = seen.sheet.runs[0]
    inches = length[0] * 12 + length[1]
    assert run.length is not None
    assert not run.length.settled or run.length.value.inches == inches


@pytest.mark.parametrize("words", ["sides are both", "sides are", "sides both"])
def test_both_sides_told_at_once_leave_the_back_alone(read: Callable[..., Any], words: str) -> None:
    seen = read(f"front 35 foot 6 outside both ends back same as front {words} 22 foot 3 outside both ends")
    back = seen.at("runs.back.length")
    assert not back.settled or back.value.inches == 35 * 12 + 6


def test_a_height_before_the_wall_to_fascia(read: Callable[..., Any]) -> None:
    seen = read("Front 36-9 cap cap dp L 8-10 wf 14 ground")
    seen.inches("downpipes.front-1.wall_to_fascia", 14)
    seen.feet("downpipes.front-1.height", 8, 10)


def test_left_and_right_within_what_is_measured_are_no_sides_of_the_house(read: Callable[..., Any]) -> None:
    assert len(read("Front 42-6 (L 18-0 to porch, R 24-6) caps both").sheet.runs) == 1
    seen = read("Back 40-0 caps both, drops left and right. Height: left 10' 2\", right 11' 6\"")
    seen.runs("back")


def test_short_names_for_the_sides(read: Callable[..., Any]) -> None:
    seen = read("Front 48-9 osc osc", "RS 29-0 osc cap", "LS 25-6 osc osc")
    seen.runs("front", "right-side", "left-side")
    seen.ends("front", "outside corner", "outside corner")


def test_a_second_drop_at_the_same_end_is_a_second_drop(read: Callable[..., Any]) -> None:
    seen = read("Back 60-4 cap cap. DP left end, w/f 20, h 9-8. DP 30 ft from left, w/f 22, h 9-2.")
    assert len(seen.sheet.outlets) == 2


def test_a_short_splash_block_is_no_colour(read: Callable[..., Any]) -> None:
    seen = read("Front 40-0 cap cap dp L wf 18 h 9-0 sp blk")
    seen.says("downpipes.front-1.ends_at", "splash block")
    assert seen.sheet.defaults.colour is None


def test_a_telephone_number_is_no_street(read: Callable[..., Any]) -> None:
    title = read("call 555 0142 for gate code 4471", "Front 33-8 caps both ends").sheet.title
    assert title is None or title.startswith("call")


@pytest.mark.parametrize(
    ("words", "places"),
    [
        ("DP left, right", ("left", "right")),
        ("DP left, centre, right", ("left", "centre", "right")),
        ("drop L, R & ctr", ("left", "right", "centre")),
        ("drops 2: L, R.", ("left", "right")),
    ],
)
def test_a_list_of_sides_is_as_many_drops(
    read: Callable[..., Any], words: str, places: tuple[str, ...]
) -> None:
    read(f"Front 50-8 caps both ends, {words}").outlets("front", *places)


@pytest.mark.parametrize(
    "words", ["drop left, right 24-0 caps", "drop left, right side 24-0 caps", "drop left, right end cap"]
)
def test_what_follows_a_drop_and_is_no_list(read: Callable[..., Any], words: str) -> None:
    read(f"Front 50-8, {words}").outlets("front", "left")


def test_a_heading_that_is_guessed_at_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "| Elev. | Lgth by wheel | LH term. | RH term. | Drop ht | Disch. |",
        "|---|---|---|---|---|---|",
        "| Front | 38-4 | OSC | EC | 9-6 | splash |",
    )
    seen.ends("front", "outside corner", "end cap")
    seen.feet("runs.front.length", 38, 4, "38-4", status="doubtful")
    assert "Lgth by wheel" in str(seen.at("runs.front.length").why)


@pytest.mark.parametrize("cell", ["1 L", "1 (L)", "1 @ L"])
def test_how_many_is_not_how_far(read: Callable[..., Any], cell: str) -> None:
    seen = read("Run | Length | L end | R end | Outlet", f"Front | 38-4 | OSC | OSC | {cell}")
    seen.outlets("front", "left")
    assert seen.sheet.outlets[0].distance is None


@pytest.mark.parametrize("cell", ["none - falls to R", "flows to right", "via left"])
def test_water_led_on_is_no_outlet(read: Callable[..., Any], cell: str) -> None:
    seen = read("Run | Length | L end | R end | Outlet", f"Front | 38-4 | OSC | OSC | {cell}")
    assert not seen.sheet.outlets


def test_a_side_told_in_pieces(read: Callable[..., Any]) -> None:
    seen = read(
        "The back is in two bits. The first bit is 14 foot 6, cap to inside corner, drop left, w/f 18, "
        "8-9 down. The return is 3 foot 1, inside to outside. The other bit is 19-2, outside corner to cap."
    )
    seen.feet("runs.back-1.length", 14, 6)
    seen.ends("back-1", "end cap", "inside corner")
    seen.feet("runs.return.length", 3, 1)
    seen.ends("return", "inside corner", "outside corner")
    seen.feet("runs.back-2.length", 19, 2)
    seen.ends("back-2", "outside corner", "end cap")


def test_two_drops_and_then_each_of_them(read: Callable[..., Any]) -> None:
    seen = read(
        "Back 42-9, caps both. Two spouts. Left one 20 out, 9-8 down, splash. Right one 20 out, 10-1 down, "
        "drain. Left side 31 even, caps both."
    )
    seen.outlets("back", "left", "right")
    seen.feet("downpipes.back-1.height", 9, 8)
    seen.feet("downpipes.back-2.height", 10, 1)
    seen.says("downpipes.back-2.ends_at", "drain")


def test_the_end_of_the_wing_and_its_sides(read: Callable[..., Any]) -> None:
    seen = read(
        "Then the return, its right side is 9-6, inside corner to outside corner. The end of the return is "
        "14-2, outside corners both ends. I couldn't get at the left side of the return."
    )
    seen.feet("runs.return-right-side.length", 9, 6)
    seen.feet("runs.return-end.length", 14, 2)
    seen.says("runs.return-left-side.length", None, status="missing")


def test_pieces_on_either_side_of_something(read: Callable[..., Any]) -> None:
    seen = read(
        "Back's got the utility on it. To the left of the utility 15 foot 4 cap to wall, drop left. "
        "Right of it 12 foot 9 wall to cap. Utility back 9 foot 1 caps both ends."
    )
    seen.feet("runs.back-left.length", 15, 4)
    seen.ends("back-left", "end cap", "wall")
    seen.feet("runs.back-right.length", 12, 9)
    seen.ends("back-right", "wall", "end cap")


def test_a_side_as_a_sentence_of_its_own(read: Callable[..., Any]) -> None:
    seen = read(
        "Back. Thirty even. Cap, cap. Spout left. Twelve. Nine eight. Block. Left. Twenty two four. Outside, "
        "cap. None. Right. Twenty two four. Cap, outside."
    )
    seen.feet("runs.left-side.length", 22, 4)
    seen.feet("runs.right-side.length", 22, 4)
    seen.ends("right-side", "end cap", "outside corner")
    seen.says("downpipes.back-1.ends_at", "splash block")


@pytest.mark.parametrize(
    "told", ["downspout right side 14 inches wall to fascia", "dp right side, 9 4 to grade"]
)
def test_the_side_of_a_downspout_is_no_side_of_the_house(read: Callable[..., Any], told: str) -> None:
    seen = read(f"front twenty foot eight cap on the left wall on the right {told}")
    seen.runs("front")
    seen.ends("front", "end cap", "wall")
    seen.outlets("front", "right")


def test_a_guess_that_it_is_the_same_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "front thirty one foot caps both drop left. back, couldn't measure it for the trailer, guessing the "
        "same as the front"
    )
    for path, reading in seen.sheet.readings():
        if path.startswith("runs.back"):
            assert reading.status in ("doubtful", "missing"), path


def test_two_lengths_with_and_between_them(read: Callable[..., Any]) -> None:
    seen = read("Front 31 foot caps both, drop left, eighteen and nine four, splash block")
    seen.feet("downpipes.front-1.height", 9, 4)
    reading = seen.at("downpipes.front-1.wall_to_fascia")
    assert reading.value.inches == 18


def test_a_drop_that_was_on_the_left(read: Callable[..., Any]) -> None:
    seen = read("Front 31 foot caps both. I had the drop on the left, it's on the right. w/f 18, 9-4 down")
    seen.says("outlets.front-1.place", "right", status="corrected")
    seen = read("I had the front drop on the left, it's on the right.", "Front 31 foot caps both. Drop left.")
    seen.asked("outlets.front-1.place")


def test_pieces_named_by_where_they_are(read: Callable[..., Any]) -> None:
    seen = read(
        "Back's in three. Left bit 8-4, cap cap, drop left. Middle bit 15-1, cap cap, drop right. Right bit "
        "9-7, cap cap, drop right in the middle."
    )
    for run, (feet, inches) in {"back-left": (8, 4), "back-middle": (15, 1), "back-right": (9, 7)}.items():
        seen.feet(f"runs.{run}.length", feet, inches)
    seen.outlets("back-right", "centre")


def test_three_numbers_in_a_row_behind_a_drop(read: Callable[..., Any]) -> None:
    seen = read("Front 18 foot 5 caps both drop left 10 16 4 drain")
    seen.feet("downpipes.front-1.height", 16, 4)
    seen = read("Front 18 foot 5 caps both drop left 22 9 8 drain")
    for name in ("height", "wall_to_fascia"):
        seen.asked(f"downpipes.front-1.{name}")

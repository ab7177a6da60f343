"""Turns of speech and of writing that strangers' notes brought: each told here in other words than theirs.

The houses are invented. What each line means is trade usage, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("line", "what", "value"),
    [
        ("Total DP: 3", "downpipes", 3),
        ("Runs total 6, downspouts total 4.", "runs", 6),
        ("TOTAL  4 OSC  2 ISC", "inside corners", 2),
        ("Three runs and two downpipes.", "downpipes", 2),
        ("I make that four pipes", "downpipes", 4),
        ("All four downpipes are 9-4 high", "downpipes", 4),
        ("Total 82-4, 4 DPs", "downpipes", 4),
    ],
)
def test_totals_in_every_order(read: Callable[..., Any], line: str, what: str, value: int) -> None:
    seen = read("Front 41-2 cap both, drop left", "Back 41-2 cap both, drop left", line)
    seen.says(f"totals.{what}", value)
    seen.feet("runs.back.length", 41, 2, "41-2")


def test_totals_below_their_heading(read: Callable[..., Any]) -> None:
    seen = read(
        "Back 41-2 cap both, drop left", "", "Summary", "- Gutter 41' 2\"", "- Runs: 1", "- Downpipes 1"
    )
    seen.says("totals.runs", 1)
    seen.says("totals.downpipes", 1)
    seen.feet("totals.gutter length", 41, 2)


def test_a_total_row(read: Callable[..., Any]) -> None:
    seen = read(
        "| Run | Length | L | R | Outlet |",
        "| Front | 30-0 | cap | cap | L |",
        "| Back | 30-6 | cap | cap | R |",
        "| Total | 60-6 | | | 2 |",
    )
    seen.feet("totals.gutter length", 60, 6)
    seen.says("totals.outlets", 2)
    seen.runs("front", "back")


@pytest.mark.parametrize("line", ["DP R WF24 HT9-2", "DP R 24wf 9-2ht", "dp R, oh24, H9-2"])
def test_abbreviations_written_against_their_number(read: Callable[..., Any], line: str) -> None:
    seen = read(f"Back 41-2 cap both {line}")
    seen.inches("downpipes.back-1.wall_to_fascia", 24)
    seen.feet("downpipes.back-1.height", 9, 2)


def test_a_lone_letter_may_be_a_side_or_a_pipe(read: Callable[..., Any]) -> None:
    seen = read("Back 41-3 cap both, outlets left and right", "L: 9-4", "R: 9-6")
    seen.asked("runs.left-side.length")


def test_the_second_of_two_answers_what_the_first_did(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 41-3 cap both, drop left", "Back 41-3 cap both, drop right", "front one is 9 2 back one is 10"
    )
    assert seen.at("downpipes.back-1.height").value == seen.at("downpipes.front-1.height").value.__class__(
        120
    )
    seen.feet("runs.back.length", 41, 3, "41-3")


@pytest.mark.parametrize(
    "words", ["onto the lean-to roof", "on to the verandah roof", "dropping to the garage roof"]
)
def test_a_pipe_that_ends_on_a_roof(read: Callable[..., Any], words: str) -> None:
    seen = read(f"Upper back 24-0 caps both ends, drop left {words}, 7-6 high")
    seen.says("downpipes.upper-back-1.ends_at", "lower roof")
    seen.runs("upper-back")


def test_inside_heard_in_two_words(read: Callable[..., Any]) -> None:
    seen = read(
        "wing left side is 2310 in side left out side right, wing front 6120 out side both, back 14880 caps"
    )
    seen.mm("runs.wing-left-side.length", 2310)
    seen.ends("wing-left-side", "inside corner", "outside corner")


def test_so_far_in_from_the_end_it_is_at(read: Callable[..., Any]) -> None:
    seen = read("Back 38-0 caps both, drop on the left, 14 inches in, wall to fascia 24")
    seen.outlets("back", "left")
    seen.inches("outlets.back-1.distance", 14)
    seen.inches("downpipes.back-1.wall_to_fascia", 24)


def test_a_side_told_in_pieces(read: Callable[..., Any]) -> None:
    seen = read(
        "North one 22-10 cap left inside right. North two 28-4 inside left cap right, drop right, 9-2 high."
    )
    seen.runs("north-1", "north-2")
    seen.feet("runs.north-2.length", 28, 4)
    seen.outlets("north-2", "right")


def test_two_on_one_side_are_no_pieces(read: Callable[..., Any]) -> None:
    seen = read("Back 41-2 caps both, drops left and right", "the back two are 9-6 high")
    seen.runs("back")


@pytest.mark.parametrize("says", ["that's", "so"])
def test_a_number_said_again_in_full(read: Callable[..., Any], says: str) -> None:
    seen = read(f"left side thirty eight and a half, {says} 30 foot 8 and a half, outside both ends")
    seen.feet("runs.left-side.length", 30, "8 1/2", status="corrected")


def test_a_number_begun_and_said_again(read: Callable[..., Any]) -> None:
    seen = read("Back 41-2 caps both, drop left, height is twelve... twelve foot nine to the drain")
    seen.feet("downpipes.back-1.height", 12, 9, status="corrected")


def test_a_name_said_more_than_once_is_a_part(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 30-0 caps both",
        "cider front 12-0 caps both, drop left",
        "cider back 12-6 caps both, drop right",
    )
    seen.runs("front", "cider-front", "cider-back")
    seen.feet("runs.cider-back.length", 12, 6)


@pytest.mark.parametrize(
    ("line", "title"),
    [
        ("The Old Granary, Nether Pibble. Front 30-0 caps both", "The Old Granary, Nether Pibble"),
        ("right Hazel End um its a bungalow front 30-0 caps both", "Hazel End"),
        ("Wattlebrook job. Front 30-0 caps both", "Wattlebrook job"),
    ],
)
def test_a_house_by_its_name(read: Callable[..., Any], line: str, title: str) -> None:
    seen = read(line)
    assert seen.sheet.title == title
    seen.feet("runs.front.length", 30)


def test_sizes_of_a_part(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 30-0 caps both, drop left",
        "Sunroom front 12-0 caps both, drop right",
        "6 inch K on the house and 5 inch K on the sunroom, 3x4 pipe on the house, 2x3 pipe on the sunroom",
    )
    seen.inches("runs.front.gutter_size", 6)
    seen.inches("runs.sunroom-front.gutter_size", 5)
    seen.says("downpipes.sunroom-front-1.size", "2x3")


def test_a_size_at_the_end_of_a_breath_is_the_job_s(read: Callable[..., Any]) -> None:
    seen = read("front 30 foot 2 caps both drop left height 9 2 splash block 5 inch K white")
    seen.inches("defaults.gutter_size", 5)


def test_a_side_told_in_one_breath(read: Callable[..., Any]) -> None:
    seen = read(
        "front twenty six foot eight outside outside pipe left nine foot high splash block"
        " left nineteen foot five outside outside back twenty six foot eight outside outside"
    )
    seen.runs("front", "left-side", "back")
    seen.feet("runs.left-side.length", 19, 5)


def test_sides_behind_other_words(read: Callable[..., Any]) -> None:
    seen = read(
        "front thirty foot six outside both ends pipe right sides are both twenty two foot outside both ends"
    )
    seen.feet("runs.left-side.length", 22)
    seen.feet("runs.right-side.length", 22)
    seen.outlets("front", "right")


def test_a_side_by_what_it_faces(read: Callable[..., Any]) -> None:
    seen = read("river side 32-6 cap/cap drop L", "lane side 32-6 cap/cap drop R", "river wf 30 ht 9-0")
    seen.feet("runs.lane-side.length", 32, 6)
    seen.inches("downpipes.river-side-1.wall_to_fascia", 30)


def test_the_left_and_right_one_of_two(read: Callable[..., Any]) -> None:
    seen = read(
        "Back left dormer 5-3 caps both, drop left, 2-10 high", "Back right dormer is a mirror of that one"
    )
    assert {run.storey for run in seen.sheet.runs} == {"dormer"}
    assert [outlet.from_ for outlet in seen.sheet.outlets] == ["left", "right"]


def test_a_run_from_an_end_to_an_end_is_no_offset(read: Callable[..., Any]) -> None:
    seen = read("wing left side is 14 foot 1 from the internal to the external")
    seen.feet("runs.wing-left-side.length", 14, 1)
    seen.ends("wing-left-side", "inside corner", "outside corner")


def test_a_wall_where_the_cap_is(read: Callable[..., Any]) -> None:
    seen = read("Back 21-4, outside corner left, stop end on the right at the party wall")
    seen.ends("back", "outside corner", "end cap")


def test_something_told_of_a_place_moves_nobody_there(read: Callable[..., Any]) -> None:
    seen = read("Back 31-5, outside both ends. The porch is separate work altogether. Drop right, 9-3 high.")
    seen.outlets("back", "right")
    seen.runs("back")


def test_next_one_named_behind(read: Callable[..., Any]) -> None:
    seen = read("North 30-0 caps both. Next one, south. 31-6, caps both, drop left.")
    seen.runs("north", "south")
    seen.feet("runs.south.length", 31, 6)


def test_the_same_as_a_side_of_a_storey(read: Callable[..., Any]) -> None:
    seen = read(
        "Upper front 13-0 caps both, outlet each end",
        "Upper right 9-0 outside both",
        "Upper left same as upper right",
    )
    seen.feet("runs.upper-left-side.length", 9)
    assert not [outlet for outlet in seen.sheet.outlets if outlet.run == "upper-left-side"]


def test_counts_of_other_things_are_no_lengths(read: Callable[..., Any]) -> None:
    seen = read("Back 31-5 caps both, drop left. There's 3 hens and 2 goats about.")
    assert not [path for path, reading in seen.sheet.readings() if reading.value in (2, 3)]
    assert seen.sheet.downpipes[0].height is None


def test_a_length_is_no_pitch(read: Callable[..., Any]) -> None:
    seen = read("Stable front has a single slope falling to the front, its eave is 4.3 m, stop ends")
    assert seen.sheet.defaults.roof_pitch is None


def test_what_is_everywhere_but_somewhere(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 30-0 caps both, drop left",
        "Porch front 12-0 caps both, drop left",
        "Overhang 24 everywhere but the porch",
    )
    seen.inches("downpipes.front-1.wall_to_fascia", 24)


def test_a_jog_of_the_pipe_is_no_run(read: Callable[..., Any]) -> None:
    seen = read('Back 30-0 caps both, drop left, 9-0 high and it has to jog 6" around the meter box')
    seen.runs("back")
    assert [reading.value.inches for reading in seen.sheet.downpipes[0].offsets] == [6]


def test_a_note_of_which_much_is_lost_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "front 30-0 ?? kk 14 16 9",
        "back 30-0 about, jj 22, 18",
        "left 22-0 or 24-0, pp 16 18 21",
        "right 22-0 caps both",
    )
    assert seen.sheet.unread
    assert all(reading.status not in ("read", "corrected") for _, reading in seen.sheet.readings())


@pytest.mark.parametrize(
    "words", ["the other three the same", "other three are the same as that", "rest the same"]
)
def test_the_other_sides_the_same(read: Callable[..., Any], words: str) -> None:
    seen = read(f"Back 36-2 outside both ends, no drops. {words}.")
    seen.runs("back", "front", "right-side", "left-side")
    assert seen.feet("runs.left-side.length", 36, 2).why.startswith("same as")


def test_the_other_pipes_the_same(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 36-2 caps both, drops left and right",
        "Back 36-2 caps both, drop left",
        "Front left: 9-4 high, 18 w/f, drain. The other two the same.",
    )
    seen.runs("front", "back")
    seen.feet("downpipes.back-1.height", 9, 4)
    seen.says("downpipes.front-2.ends_at", "drain")


def test_the_others_the_same_where_the_count_does_not_fit(read: Callable[..., Any]) -> None:
    seen = read("Back 36-2 outside both ends, no drops. The other two the same.")
    seen.runs("back")


def test_a_struck_number_beside_the_new_one(read: Callable[..., Any]) -> None:
    seen = read("right side ~~31~~ 33 osc both")
    seen.feet("runs.right-side.length", 33, status="corrected")


def test_the_ends_of_a_bay_at_the_house(read: Callable[..., Any]) -> None:
    seen = read("bay left 3-2, bay front 6-0, bay right 3-2, 45s at the corners. bay ends die into the wall")
    seen.says("runs.bay-left-side.left_end", "wall")
    seen.says("runs.bay-right-side.right_end", "wall")
    seen.says("runs.bay-front.left_angle", 45)


def test_the_whole_of_a_run_told_in_parts(read: Callable[..., Any]) -> None:
    seen = read("back: 20-0 to the chimney, 11-6 from there to the corner, overall 31-6")
    assert "add up" in seen.feet("runs.back.length", 31, 6).why
    assert not seen.sheet.unread


def test_parts_that_do_not_add_up(read: Callable[..., Any]) -> None:
    seen = read("back: 20-0 to the chimney, 11-6 from there to the corner, overall 33-6")
    seen.asked("runs.back.length")


def test_an_exception_to_what_was_said_of_both(read: Callable[..., Any]) -> None:
    seen = read(
        "back 40-0 caps both, two drops, one each end, 20 w/f, 9-6 to the drain, except the left one 10-2"
    )
    heights = {
        outlet.place.value: pipe.height.value.inches
        for outlet, pipe in zip(seen.sheet.outlets, seen.sheet.downpipes, strict=True)
    }
    assert heights == {"left": 122, "right": 114}


def test_where_somebody_stopped_is_no_end(read: Callable[..., Any]) -> None:
    seen = read("Back 31-0 outside both ends. We stopped for lunch there.")
    seen.ends("back", "outside corner", "outside corner")

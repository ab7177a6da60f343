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


def test_lettered_lines_with_a_comma_behind_the_place(read: Callable[..., Any]) -> None:
    seen = read(
        "A: back, 28-6, cap both ends, dp left, w/f 16, 9-2 down, splash",
        "B: left side, 14-0, cap left, outside right, no dp",
        "C: front, 28-6, outside left, cap right, dp right, w/f 16, 8-8 down",
    )
    seen.feet("runs.run-b.length", 14, 0)
    seen.feet("runs.run-c.length", 28, 6)
    seen.feet("downpipes.run-c-1.height", 8, 8)
    seen.outlets("run-b")


def test_named_runs_that_are_the_same_but_for_a_pipe(read: Callable[..., Any]) -> None:
    seen = read(
        '- Front: 27\' 8", outside corners. Downpipe right, 9\' 0" to splash block, 18" overhang.',
        "- Left side: 20' 2\", outside corners, no downpipe.",
        "- Rear: 27' 8\", same as the front but the downpipe is at the left end and it's 9' 9\".",
        "- Right side: 20' 2\", outside corners, no downpipe.",
        "Brown 2x3 downpipes, same as the bungalow opposite.",
    )
    seen.inches("downpipes.back-1.wall_to_fascia", 18)
    seen.feet("downpipes.back-1.height", 9, 9)
    seen.says("downpipes.back-1.ends_at", "splash block")
    seen.outlets("right-side")


def test_a_greeting_asks_for_no_height(read: Callable[..., Any]) -> None:
    seen = read("Hi, here is 7 Fallow Way:", 'Front 30\' 4", caps, drop left 9\' 2" to drain, w/f 12"')
    seen.feet("runs.front.length", 30, 4)
    seen.inches("downpipes.front-1.wall_to_fascia", 12)


def test_lines_that_name_their_run_behind(read: Callable[..., Any]) -> None:
    seen = read("36'2 EC OC - rear", "19'8 OC IC - right", "12'4 IC L wall R - porch front")
    seen.runs("back", "right-side", "porch-front")
    seen.feet("runs.right-side.length", 19, 8)
    seen.ends("porch-front", "inside corner", "wall")


@pytest.mark.parametrize("said", ["porch right 4-2 wall / cap", "bay left 3-1 cap/wall"])
def test_a_wall_where_the_house_is_not_is_asked_about(read: Callable[..., Any], said: str) -> None:
    seen = read("porch front 12-0 osc both" if "porch" in said else "bay front 5-0 osc both", said)
    run = seen.sheet.runs[1].id
    ends = {seen.at(f"runs.{run}.{side}_end").status for side in ("left", "right")}
    assert "doubtful" in ends or (run.endswith("left-side") and ends == {"read"})


def test_a_width_and_a_profile_are_no_title(read: Callable[..., Any]) -> None:
    seen = read("112 HR", "B 8.15 se/se o/l LH 2.4 dn")
    assert seen.sheet.title is None
    seen.mm("runs.back.length", 8150)


def test_a_road_with_a_number(read: Callable[..., Any]) -> None:
    seen = read("Dalby, 2214 Cty Rd 14", "front 24-0 caps")
    assert seen.sheet.title == "2214 Cty Rd 14"
    assert not seen.sheet.unread


def test_the_wall_of_another_part_brings_it_not_into_focus(read: Callable[..., Any]) -> None:
    seen = read("Rear 22'0, stop end LH, wall of the extension RH", " - dp LH 12 soffit 8'6 gully")
    seen.outlets("back", "left")
    seen.feet("downpipes.back-1.height", 8, 6)


def test_heights_with_their_sides_in_brackets(read: Callable[..., Any]) -> None:
    seen = read(
        "Rear: 52' 0\", end caps",
        "Outlets: left end, right end and one in the middle",
        'Pipes: 12" wall to fascia, 9\' 2" high (right), 9\' 0" (middle), 8\' 10" (left); all to the drain',
    )
    by_side = {
        outlet.from_: seen.sheet.downpipes_of(outlet.id)[0].height.value.tape_text()  # type: ignore[union-attr]
        for outlet in seen.sheet.outlets
    }
    assert by_side == {"left": "8' 10\"", "centre": "9' 0\"", "right": "9' 2\""}


def test_a_part_that_stands_alone_heads_its_line(read: Callable[..., Any]) -> None:
    seen = read("Front 40-0 caps", "Garage, detached: front eave 22-0 caps; back eave 22-0 caps")
    seen.runs("front", "garage-front", "garage-back")


def test_a_table_whose_names_have_no_heading(read: Callable[..., Any]) -> None:
    seen = read(
        "             length   LH     RH      o/l    down   proj",
        "front        7210     s/e    party   LH     4900   240",
        "kitchen rear 2950     wall   s/e     RH     2300   100",
    )
    seen.mm("runs.front.length", 7210)
    seen.ends("front", "end cap", "wall")
    seen.mm("runs.kitchen-back.length", 2950)
    seen.mm("downpipes.kitchen-back-1.height", 2300)


def test_colours_of_two_words_and_colours_nobody_listed(read: Callable[..., Any]) -> None:
    seen = read("Quad 115, Basalt Grey", "front 8.4 m caps")
    seen.says("defaults.colour", "basalt grey")
    seen = read("Quad 115, Moonmist. 90mm pipes", "front 8.4 m caps")
    seen.says("defaults.colour", "moonmist", status="doubtful")


def test_a_square_pipe_by_its_width(read: Callable[..., Any]) -> None:
    seen = read('4" ogee black, 2 1/2" sq pipes', "front 22'3 caps")
    seen.says("defaults.downpipe_size", "2 1/2 in square")


def test_the_pipe_of_a_side_at_its_front(read: Callable[..., Any]) -> None:
    seen = read("gar R 22' ec-oc dp frt 12\"oh 8'1\" splash")
    seen.outlets("garage-right-side", "left")
    seen.feet("downpipes.garage-right-side-1.height", 8, 1)


def test_as_far_as_copies_nothing(read: Callable[..., Any]) -> None:
    seen = read(
        "front 9.8 m stop ends both ends. the back runs only as far as the wall of the outshot",
        "outshot left side 3.1 m wall left, stop end right, outlet right",
    )
    assert all(run.id != "back" or run.length is None for run in seen.sheet.runs)


def test_left_and_right_told_one_by_one_with_a_sign(read: Callable[..., Any]) -> None:
    seen = read(
        "FRONT EAVE 31 FT 6 IN. L = WALL. R = EXT ANGLE. OUTLET AT R. DROP 9 FT 1. SOFFIT 12 IN. TO GULLY.",
        "REAR EAVE 31 FT 6 IN. L = EXT ANGLE. R = STOP END. OUTLET AT L. DROP 8 FT 11.",
    )
    seen.runs("front", "back")
    seen.ends("front", "wall", "outside corner")
    seen.feet("downpipes.front-1.height", 9, 1)
    seen.feet("downpipes.back-1.height", 8, 11)


def test_a_drop_with_a_place_is_an_outlet(read: Callable[..., Any]) -> None:
    seen = read("front 40-0 caps, outlet left, drop 10 ft from the right end")
    seen.outlets("front", "left", "right")


def test_an_outlet_in_the_middle_and_how_far_that_is(read: Callable[..., Any]) -> None:
    seen = read('Rear 44\' 0", caps. Outlet in the centre (22 ft from either end), w/f 14", 9\' 6" high')
    seen.outlets("back", "centre")


def test_gauge_behind_thousandths_is_a_thickness_in_inches(read: Callable[..., Any]) -> None:
    read("5 inch K .024 gauge alum", "front 30-0 caps").says("defaults.thickness", "0.024 in")


def test_two_bare_numbers_are_no_wall_to_fascia(read: Callable[..., Any]) -> None:
    seen = read("bk 24 3 oc/oc ds rt 9 8 wf 18 drn", "lf 20 2 oc/oc")
    seen.inches("downpipes.back-1.wall_to_fascia", 18)
    seen.feet("downpipes.back-1.height", 9, 8)
    seen.feet("runs.left-side.length", 20, 2)


def test_the_same_places_and_no_more(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 12.4 party/party, 2 rwps 2.5 from L, 2.5 from R, 7.2 dn",
        "Back 12.4 party/party, 2 rwps same posns, 7.9 dn",
        "125 half round, 80 dia pipes",
    )
    seen.outlets("back", "left", "right")
    seen.mm("downpipes.back-1.height", 7900)
    seen.mm("downpipes.back-2.height", 7900)


def test_r_beside_f_alone_may_be_the_rear(read: Callable[..., Any]) -> None:
    seen = read("F 9.2 m party/party", "R 9.2 m party/party")
    seen.asked("runs.right-side.length")
    seen = read("F 30-0 oc/oc", "R 20-0 oc/oc", "B 30-0 oc/oc", "L 20-0 oc/oc")
    assert seen.at("runs.right-side.length").status == "read"


def test_three_answers_with_strokes(read: Callable[..., Any]) -> None:
    seen = read("B 40-0 c c d L 10-2/16/sb d R 10-4/16/gr", "5K white")
    seen.ends("back", "end cap", "end cap")
    seen.outlets("back", "left", "right")
    seen.feet("downpipes.back-2.height", 10, 4)
    seen.inches("downpipes.back-2.wall_to_fascia", 16)


@pytest.mark.parametrize(
    ("said", "height", "wall"),
    [
        ("Bk 30-0 caps, dp L, 9'2, 20\", splash", (9, 2), 20),
        ("Bk 30-0 caps, dp R 8-10, 14, drain", (8, 10), 14),
    ],
)
def test_a_height_and_how_far_the_wall_stands_back(
    read: Callable[..., Any], said: str, height: tuple[int, int], wall: int
) -> None:
    seen = read(said)
    seen.feet("downpipes.back-1.height", *height)
    seen.inches("downpipes.back-1.wall_to_fascia", wall)


def test_a_pipe_at_the_rear_of_a_side(read: Callable[..., Any]) -> None:
    seen = read("quad 115", "Rhs: 14.2 ext ext, dp rear 2.7 (450)", "Rr: 8.4 ext ext dp both 2.7 (450)")
    seen.outlets("right-side", "right")
    seen.mm("downpipes.right-side-1.height", 2700)
    seen.mm("runs.back.length", 8400)


def test_how_many_with_no_written_against_it(read: Callable[..., Any]) -> None:
    seen = read("Rear 18600: stop both; 2no outlets, 300 from LH and 300 from RH", "all mm")
    seen.outlets("back", "left", "right")


def test_names_nobody_knows_before_millimetres(read: Callable[..., Any]) -> None:
    seen = read("all mm", "Orchard side 12600: stop LH, ext RH")
    assert seen.sheet.runs[0].length.value.tape_text() == "12600 mm"


def test_letters_over_the_columns_of_a_table(read: Callable[..., Any]) -> None:
    seen = read(
        "        A      B      C",
        "len     31-0   16-6   31-0",
        "left    cap    oc     oc",
        "right   oc     oc     cap",
    )
    seen.runs("run-a", "run-b", "run-c")
    seen.feet("runs.run-b.length", 16, 6)


FORM = (
    "Run #1  Name: Rear     Length: 29' 4\"",
    "  Left: OSC   Right: Cap",
    '  DS: [x] L [x] R   W/F: 14"   Height: 8\' 6" both   To: splash (L) drain (R)',
    "Run #2  Name: Front    Length: 29' 4\"",
    "  Left: Cap   Right: OSC",
    "  DS: none",
    'Gutter: 6" K   Color: clay   Gauge: .027   DS size: 3x4',
)


def test_a_form_with_endings_by_side_and_the_job_at_its_foot(read: Callable[..., Any]) -> None:
    seen = read(*FORM)
    seen.says("downpipes.back-1.ends_at", "splash block")
    seen.says("downpipes.back-2.ends_at", "drain")
    seen.says("defaults.downpipe_size", "3x4")
    assert not seen.sheet.unread


def test_lines_of_comment_below_a_table(read: Callable[..., Any]) -> None:
    seen = read(
        "Name,Length,Left,Right,Outlet",
        "Back,38-6,EC,OC,L",
        "Left,20-0,OC,OC,",
        "# 6K white, 3x4",
        "# 31 Millbrook Lane",
    )
    seen.says("defaults.downpipe_size", "3x4")
    assert seen.sheet.defaults.gutter_size.value.tape_text() == '6"'
    assert seen.sheet.title == "31 Millbrook Lane"


def test_a_line_set_in_below_a_lettered_run_is_of_its_pipe(read: Callable[..., Any]) -> None:
    seen = read(
        "Run 1 - front. 30 ft 2 in. Outside corners both ends. 1 outlet, left end.",
        "   pipe: wall to fascia 15 in, 9 ft 1 in down, discharges to drain.",
        "Run 2 - right side. 20 ft 0 in. Outside corners. Outlet right. 9 ft 6 in, 15 in, splash block.",
    )
    seen.says("downpipes.run-1-1.ends_at", "drain")
    seen.feet("downpipes.run-2-1.height", 9, 6)
    seen.inches("downpipes.run-2-1.wall_to_fascia", 15)


def test_none_at_the_end_of_a_line_takes_nothing_back(read: Callable[..., Any]) -> None:
    seen = read("Left - 31'4\", caps. none.", "There is a 2' bit missing by the door.")
    seen.feet("runs.left-side.length", 31, 4)


def test_decimal_commas_behind_the_word_for_a_pipe(read: Callable[..., Any]) -> None:
    seen = read(
        "Front: 9,6 m. Stop ends. Outlet left. Pipe 2,45 m to gully. Overhang 25 cm.",
        "Annexe: 4,2 m front only. Stop ends. Outlet right. Pipe 2,1 m to ground.",
        "100 mm half round",
    )
    seen.mm("downpipes.front-1.height", 2450)
    seen.outlets("front", "left")
    seen.outlets("annexe", "right")


def test_what_is_said_of_all_eaves(read: Callable[..., Any]) -> None:
    seen = read(
        "1'-4\" oh all eaves unless noted",
        "Front 36'-0\" gables ds LR @ 9'-2\" -> splash",
        "Rear 36'-0\" gables ds L @ 10'-0\" splash oh 0'-9\"",
    )
    seen.ends("front", "end cap", "end cap")
    seen.inches("downpipes.front-1.wall_to_fascia", 16)
    seen.inches("downpipes.front-2.wall_to_fascia", 16)
    seen.inches("downpipes.back-1.wall_to_fascia", 9)


def test_as_many_heights_as_sides_go_in_order(read: Callable[..., Any]) -> None:
    seen = read(
        "Bk 40 6 c c   3 drops  L C R   14 oh   9 0   9 3   9 7   tile sb sb",
        'Fr 40 6 c c. DS at L and R, 8\'10" and 8\'8", 14", drain and splash.',
    )
    heights = {
        outlet.from_: seen.sheet.downpipes_of(outlet.id)[0].height.value.tape_text()  # type: ignore[union-attr]
        for outlet in seen.sheet.outlets_of("back")
    }
    assert heights == {"left": "9' 0\"", "centre": "9' 3\"", "right": "9' 7\""}
    seen.feet("downpipes.front-1.height", 8, 10)
    seen.feet("downpipes.front-2.height", 8, 8)
    seen.says("downpipes.front-2.ends_at", "splash block")


def test_outlets_measured_from_one_end(read: Callable[..., Any]) -> None:
    seen = read(
        "REF  LOCATION  LENGTH (m)  L END  R END  OUTLETS (m from L)  H (m)  DISCH",
        "G1   Rear      24.6        stop   wall   0.3 / 12.3 / 24.3   5.2    gully",
        "G2   Front     24.6        wall   stop   24.3                5.2    gully",
    )
    placed = [
        outlet.distance.value.tape_text()
        for outlet in seen.sheet.outlets_of("back")
        if outlet.distance is not None and outlet.from_ == "left"
    ]
    assert placed == ["300 mm", "12300 mm", "24300 mm"]


def test_high_in_brackets_is_no_height(read: Callable[..., Any]) -> None:
    seen = read("back (high)  24ft 0  L wall  R wall, outlet centre 16ft 3 down")
    seen.feet("runs.back.length", 24, 0)
    seen.feet("downpipes.back-1.height", 16, 3)


def test_numbers_and_sides_by_turns_do_not_cross(read: Callable[..., Any]) -> None:
    seen = read("Rear 41' 2\" caps", '  DS both: 9\' 4" L, 9\' 10" R, 14" both, splash L / drain R')
    seen.feet("downpipes.back-1.height", 9, 4)
    seen.feet("downpipes.back-2.height", 9, 10)
    seen.inches("downpipes.back-2.wall_to_fascia", 14)
    seen.says("downpipes.back-2.ends_at", "drain")


def test_letters_with_points_name_rows(read: Callable[..., Any]) -> None:
    seen = read(
        "sketch lettered left to right",
        "a. 9.2 ext/int",
        "b. 2.4 int/ext",
        "c. 7.1 ext/stop   outlet right",
        "125 half round",
    )
    seen.runs("run-a", "run-b", "run-c")
    seen.mm("runs.run-c.length", 7100)


def test_pipes_in_a_table_of_their_own_by_their_distance(read: Callable[..., Any]) -> None:
    seen = read(
        "| # | Where | Length mm | LH | RH |",
        "|---|---|---|---|---|",
        "| 1 | Front | 8200 | SE | EXT |",
        "| 2 | Rear | 8200 | EXT | SE |",
        "",
        "| DP | On run | From RH mm | Soffit mm | Drop mm | Into |",
        "|---|---|---|---|---|---|",
        "| D1 | 1 | 150 | 300 | 4600 | gully |",
        "| D2 | 2 | 7900 | 300 | 4650 | gully |",
    )
    assert [(o.run, o.from_) for o in seen.sheet.outlets] == [("front", "right"), ("back", "right")]
    seen.mm("outlets.back-1.distance", 7900)
    seen.mm("downpipes.back-1.height", 4650)


def test_what_the_gutter_is_made_of_among_the_notes(read: Callable[..., Any]) -> None:
    seen = read(
        "Run\tLength\tL\tR\tDP",
        "Back\t36'-2\"\tEC\tOC\tL",
        "Left\t20'-0\"\tOC\tEC\t-",
        'Notes: 6" K-style, .027 alum, brown. 3x4 DPs.',
    )
    seen.says("defaults.downpipe_size", "3x4")
    seen.says("defaults.thickness", "0.027 in")


def test_caps_at_points_of_the_compass_without_a_word(read: Callable[..., Any]) -> None:
    seen = read("Barn N eave 48'0 | cap W | wall E", "Barn S eave 48'0 | wall E | cap W")
    seen.ends("barn-north", "wall", "end cap")
    seen.ends("barn-south", "end cap", "wall")


def test_the_half_of_a_side_is_no_number(read: Callable[..., Any]) -> None:
    seen = read("A 30-0 front", "B 16-0 rt", "C 14-0 bk (rt half)", "AB osc, BC osc")
    assert seen.at("runs.run-c.length").status == "read"


def test_a_comma_before_feet_and_inches_parts(read: Callable[..., Any]) -> None:
    seen = read("B 36-0,oc/ec,dp R,18,9-4,sb", "5K white")
    seen.inches("downpipes.back-1.wall_to_fascia", 18)
    seen.feet("downpipes.back-1.height", 9, 4)


def test_the_storey_of_a_row_is_accounted_for(read: Callable[..., Any]) -> None:
    seen = read(
        "Level | Eave | Length | Left | Right",
        "2 | Rear | 24-0 | cap | cap",
        "1 | Porch | 9-6 | wall | cap",
    )
    seen.runs("upper-back", "porch")
    assert not seen.sheet.unread


@pytest.mark.parametrize(
    ("said", "offset", "height", "way"),
    [
        ('dp left, w/f 14, ht 9-6, offset 5" round the gas meter 3 ft up, drain', 5, 36, "out and back"),
        ('drop left w/f 14, ht 9-2, jogs 4" over a ledge 2 ft above ground, splash', 4, 24, "out and back"),
    ],
)
def test_an_offset_of_a_pipe_with_its_height_and_its_way(
    read: Callable[..., Any], said: str, offset: int, height: int, way: str
) -> None:
    seen = read(f"back 28-0 caps, {said}")
    pipe = seen.sheet.downpipes[0]
    assert [reading.value.inches for reading in pipe.offsets if reading.value] == [offset]
    assert [reading.value.inches for reading in pipe.offset_heights if reading.value] == [height]
    assert [reading.value for reading in pipe.offset_ways] == [way]
    assert seen.sheet.defaults.downpipe_size is None


def test_a_heading_of_unknown_words_and_a_direction(read: Callable[..., Any]) -> None:
    seen = read(
        "1. North terrace",
        "   length 9.25 m; left = stop end; right = external",
        "2. Hay loft, west",
        "   length 4.1 m; left wall, right stop end",
    )
    seen.runs("north", "hay-loft-west")
    seen.mm("runs.hay-loft-west.length", 4100)


def test_the_only_side_of_a_storey(read: Callable[..., Any]) -> None:
    seen = read("lwr B 12-5 wall/osc", "lwr side 18-6 osc/cap")
    seen.feet("runs.lower-back.length", 12, 5)
    seen.feet("runs.lower-side.length", 18, 6)


def test_beds_and_days_are_no_part_of_a_title(read: Callable[..., Any]) -> None:
    seen = read("Rossmore, 4 bed detached, Tues am", "front 9.1 m stop ends")
    assert seen.sheet.title == "Rossmore"


def test_the_house_beside_a_porch_is_no_name_in_a_sentence(read: Callable[..., Any]) -> None:
    seen = read(
        "okay porch front first 12 foot 2 outside corners both ends then the front of the house is 30 foot 4 "
        "end cap on the left outside corner on the right"
    )
    seen.runs("porch-front", "front")
    seen.feet("runs.front.length", 30, 4)

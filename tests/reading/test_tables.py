"""Notes set out in columns: Markdown, tabs, and a heading row."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.checking import check_sheet
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable

MARKDOWN = (
    "| Run | Length | Left end | Right end | Outlet | W/F | Height | To |",
    "|---|---|---|---|---|---|---|---|",
    "| Front | 41-3 | OSC | OSC | L | 19 | 9-2 | splash |",
    "| Back | 40-9 1/2 | OSC | cap | R | 23 | 10-8 | drain |",
)
TABS = tuple(
    "\t".join(cell.strip() for cell in line.strip("|").split("|")) for line in MARKDOWN if "---" not in line
)


@pytest.mark.parametrize("lines", [MARKDOWN, TABS], ids=["markdown", "tabs"])
def test_a_table_of_runs(read: Callable[..., Any], lines: tuple[str, ...]) -> None:
    seen = read(*lines)
    seen.runs("front", "back")
    seen.feet("runs.front.length", 41, 3, "41-3")
    seen.feet("runs.back.length", 40, "9 1/2", "40-9 1/2")
    seen.ends("front", "outside corner", "outside corner")
    seen.ends("back", "outside corner", "end cap")
    seen.outlets("front", "left")
    seen.outlets("back", "right")
    seen.inches("downpipes.back-1.wall_to_fascia", 23, "23")
    seen.feet("downpipes.back-1.height", 10, 8, "10-8")
    seen.says("downpipes.back-1.ends_at", "drain", "drain")


def test_an_empty_cell_is_no_value(read: Callable[..., Any]) -> None:
    lines = [line.replace("| 10-8 |", "|  |") for line in MARKDOWN]
    seen = read(*lines)
    assert seen.sheet.reading_at("downpipes.back-1.height") is None
    seen.feet("downpipes.front-1.height", 9, 2, "9-2")


def test_a_cell_that_is_not_known_is_asked_about(read: Callable[..., Any]) -> None:
    lines = [line.replace("| 10-8 |", "| ? |") for line in MARKDOWN]
    read(*lines).asked("downpipes.back-1.height")


def test_columns_in_another_order(read: Callable[..., Any]) -> None:
    seen = read("Length\tRun\tHeight\tOutlet", "41-3\tFront\t9-2\tleft", "40-9\tBack\t10-8\tright")
    seen.feet("runs.front.length", 41, 3, "41-3")
    seen.feet("runs.back.length", 40, 9, "40-9")
    seen.feet("downpipes.back-1.height", 10, 8, "10-8")


def test_a_number_in_a_column_nobody_knows_is_not_lost(read: Callable[..., Any]) -> None:
    seen = read("Run\tLength\tSpan code", "Front\t41-3\t77", "Back\t40-9\t83")
    seen.asked_or_right("runs.front.length", Length(495))
    assert seen.shown("77")
    assert seen.shown("83")


def test_words_behind_a_table_are_read_too(read: Callable[..., Any]) -> None:
    seen = read(*MARKDOWN, "", "Porch 11-8, cap left, wall right, no drop")
    seen.feet("runs.porch.length", 11, 8, "11-8")
    seen.ends("porch", "end cap", "wall")


def test_a_pipe_column_beside_a_column_of_runs_is_no_name_of_a_run(read: Callable[..., Any]) -> None:
    seen = read(
        "| Run | Length | L end | R end | DP |",
        "|---|---|---|---|---|",
        "| Front | 34' 9\" | OSC | OSC | R |",
        "| Right | 22' 0\" | OSC | EC | none |",
    )
    seen.runs("front", "right-side")
    seen.feet("runs.front.length", 34, 9, "34' 9\"")
    seen.feet("runs.right-side.length", 22, 0, "22' 0\"")
    assert [(outlet.run, outlet.from_) for outlet in seen.sheet.outlets] == [("front", "right")]


def test_a_list_of_pipes_is_still_told_by_its_runs(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 34-9 caps both, drop left",
        "Back 30-2 caps both, drop right",
        "| DP | Run | W/F | Ht |",
        "| 1 | Front | 18 | 9-2 |",
        "| 2 | Back | 20 | 9-6 |",
    )
    seen.feet("downpipes.front-1.height", 9, 2)
    seen.feet("downpipes.back-1.height", 9, 6)


LEVELS = (
    "Level | Wall | Length | LH | RH | DP | Projection | Drop | Discharges to",
    "Upper | South | 9650 | ext | int | RH | 350 | 5300 | gully",
    "Lower | South | 4200 | stop | wall | - | | |",
)


def test_a_column_of_levels_is_part_of_the_name(read: Callable[..., Any]) -> None:
    seen = read("All in mm", *LEVELS)
    seen.runs("upper-south", "lower-south")
    seen.ends("upper-south", "outside corner", "inside corner")
    seen.ends("lower-south", "end cap", "wall")
    seen.mm("downpipes.upper-south-1.wall_to_fascia", 350)
    seen.mm("downpipes.upper-south-1.height", 5300)
    seen.says("downpipes.upper-south-1.ends_at", "drain")


@pytest.mark.parametrize(
    ("headings", "status"),
    [("Start   Finish", "doubtful"), ("LHE     RHE   ", "read"), ("L corn. R corn.", "read")],
)
def test_where_a_run_starts_is_asked_unless_told(
    read: Callable[..., Any], headings: str, status: str
) -> None:
    first, second = headings[:8], headings[8:]
    seen = read("all in metres", f"Run   Metres   {first}    {second}", "4     4.20     out         in")
    seen.mm("runs.run-4.length", 4200, "4.20")
    seen.says("runs.run-4.left_end", "outside corner", status=status)


@pytest.mark.parametrize("key", ["Start is the left end, finish the right.", "Runs go left to right."])
def test_the_key_of_a_table_says_where_runs_start(read: Callable[..., Any], key: str) -> None:
    read("all in metres", "Run   Metres   Start   Finish", "4     4.20     out     in", "", key).ends(
        "run-4", "outside corner", "inside corner"
    )


def test_abbreviations_mean_what_the_key_says(read: Callable[..., Any]) -> None:
    rows = (
        "Eave | Length | L | R | Spout | Drop | To",
        "front | 31-6 | c | o | L | 9-1 | XB",
        "back | 22-4 | o | c | R | 10-2 | XB",
    )
    told = read("Key: o = outside corner, c = cap, XB = rain barrel", *rows)
    told.ends("front", "end cap", "outside corner")
    told.says("downpipes.back-1.ends_at", "barrel")
    alone = read(*rows)
    alone.asked("runs.front.right_end")
    alone.asked("downpipes.back-1.ends_at")


def test_a_list_of_pipes_refers_to_runs_by_their_letter(read: Callable[..., Any]) -> None:
    seen = read(
        "Ref | Where | Length | Left | Right",
        "A | front | 31-6 | cap | osc",
        "B | right side | 24-2 | osc | cap",
        "",
        "Spout | On | Side | Out | Down | Foot",
        "1 | A | L | 18 | 9-1 | splash",
        "2 | B | R | 12 | 9-10 | drain",
    )
    seen.runs("front", "right-side")
    seen.outlets("front", "left")
    seen.outlets("right-side", "right")
    seen.inches("downpipes.right-side-1.wall_to_fascia", 12)


def test_a_list_of_pipes_names_run_and_end_in_one(read: Callable[..., Any]) -> None:
    seen = read(
        "Run   Length   Left   Right",
        "A     38 ft 0  osc    osc",
        "B     21 ft 6  osc    osc",
        "C     11 ft 9  osc    isc",
        "",
        "Pipe   at                  off the wall   fall to foot",
        "1      A, right            1 ft 3         15 ft 4",
        "2      C, 3 ft from left   1 ft 0         10 ft 1",
    )
    seen.outlets("run-a", "right")
    seen.feet("outlets.run-c-1.distance", 3)
    seen.feet("downpipes.run-c-1.height", 10, 1)


def test_a_row_with_no_name_is_another_pipe_of_the_run_above(read: Callable[..., Any]) -> None:
    seen = read(
        "+-------+--------+-----+-----+--------+------+",
        "| Run   | Length | LHE | RHE | Outlet | Drop |",
        "+-------+--------+-----+-----+--------+------+",
        "| North | 24600  | ext | ext | left   | 3400 |",
        "|       |        |     |     | centre | 3350 |",
        "+-------+--------+-----+-----+--------+------+",
        "| South | 24600  | ext | ext | 1.5 m from | 3300 |",
        "|       |        |     |     | right end  |      |",
    )
    seen.outlets("north", "left", "centre")
    seen.mm("downpipes.north-2.height", 3350)
    seen.outlets("south", "right")
    seen.mm("outlets.south-1.distance", 1500)
    seen.mm("downpipes.south-1.height", 3300)


def test_commas_part_cells_not_numbers(read: Callable[..., Any]) -> None:
    seen = read(
        "run,len,left,right,outlet,oh,ht,shoe",
        "front,36-2,osc,osc,both,16,9-0,drain",
        '"right, main",28-0,osc,end,,,,',
    )
    seen.runs("front", "right-side")
    seen.outlets("front", "left", "right")
    seen.feet("downpipes.front-2.height", 9, 0, "9-0")
    seen.inches("downpipes.front-1.wall_to_fascia", 16, "16")


def test_feet_and_inches_in_columns_of_their_own(read: Callable[..., Any]) -> None:
    seen = read("Side | Ft | In | L end | R end", "front | 24 | 2 1/2 | cap | cap")
    seen.feet("runs.front.length", 24, "2 1/2", "24")


@pytest.mark.parametrize(
    ("heading", "cell", "inches"), [("FT-IN", "1-6", 18), ("Length", "1-0", 12), ("FT-IN", "0-10", 10)]
)
def test_a_table_in_feet_and_inches_is_so_throughout(
    read: Callable[..., Any], heading: str, cell: str, inches: int
) -> None:
    seen = read(
        f"RUN     {heading}    ENDS L/R    SPOUT   W-F     DROP",
        f"front   32-1      cap / cap   L       {cell}    18-4",
    )
    seen.inches("downpipes.front-1.wall_to_fascia", inches, cell)


def test_two_ends_in_a_cell_may_repeat_the_row_above(read: Callable[..., Any]) -> None:
    seen = read(
        "RUN     FT-IN     ENDS L/R     SPOUT",
        "front   32-1      cap / osc    L",
        "back    31-2      do. / cap    R",
    )
    seen.ends("front", "end cap", "outside corner")
    seen.ends("back", "end cap", "end cap")


def test_decimal_feet_where_the_note_says_so(read: Callable[..., Any]) -> None:
    seen = read(
        "lengths off the laser, decimal feet;;",
        ";Front;Back",
        "length;45.5;30.25",
        "left corner;outside;cap",
        "right corner;outside;cap",
        "where;both ends;left",
        "overhang (in);24;18",
        "down to outfall, left;10.75;12.5",
        "down to outfall, right;11;",
    )
    seen.feet("runs.front.length", 45, 6, "45.5")
    seen.inches("downpipes.back-1.wall_to_fascia", 18, "18")
    seen.feet("downpipes.front-1.height", 10, 9, "10.75")
    seen.feet("downpipes.front-2.height", 11, 0, "11")


def test_headings_above_groups_of_columns(read: Callable[..., Any]) -> None:
    seen = read(
        "mm throughout",
        "                       CORNERS          PIPE",
        "Side    Eave length    left    right    at      out    high",
        "F       10,450         ext     int      right   420    2,700",
        "LS      7,100          stop    ext      -       -      -",
    )
    seen.runs("front", "left-side")
    seen.mm("downpipes.front-1.wall_to_fascia", 420)
    seen.mm("downpipes.front-1.height", 2700)


def test_a_last_row_with_no_name_is_asked_about_as_the_total(read: Callable[..., Any]) -> None:
    seen = read(
        "run,length,left,right,outlets",
        "front,36-2,osc,osc,left",
        "back,36-2,osc,osc,left",
        ",72-5,,,2",
    )
    seen.runs("front", "back")
    assert [total.value.status for total in seen.sheet.totals] == ["doubtful", "doubtful"]


def test_names_nobody_knows_are_names_in_a_table(read: Callable[..., Any]) -> None:
    seen = read(
        "Elevation | Length (mm) | LH | RH",
        "Inner west | 3000 | ext | int",
        "Gable porch | 1650 | stop | wall",
        "yard return | 4250 | int | ext",
    )
    seen.runs("inner-west", "gable-porch", "yard-return")


def test_a_heading_nobody_knows_is_a_guess_or_nothing(read: Callable[..., Any]) -> None:
    seen = read("Run | Taped length approx | L end | R end", "front | 38-4 | osc | cap")
    seen.asked("runs.front.length")
    seen = read("Run | Zorp | L end | R end", "front | 38-4 | osc | cap")
    seen.unread("38-4")


STARTS = "Run | Length | Start | Finish | Outlet | W/F | Height | To"


def test_rows_that_go_round_the_house_tell_which_end_a_run_starts_at(read: Callable[..., Any]) -> None:
    seen = read(
        STARTS,
        "front | 42-6 | OSC | ISC | L | 18 | 9-4 | drain",
        "right | 28-0 | ISC | cap | R | 18 | 9-4 | drain",
        "back | 36-0 | cap | OSC | none | | |",
    )
    for path, value in (("front.left_end", "outside corner"), ("right-side.right_end", "end cap")):
        seen.says(f"runs.{path}", value, status="inferred")
    seen = read(
        STARTS,
        "south | 9-6 | ext | int | L | 18 | 9-4 | drain",
        "west | 8-0 | int | stop | R | 18 | 9-4 | drain",
        "north | 9-6 | stop | ext | R | 18 | 9-4 | drain",
    )
    for path, value in (("south.left_end", "inside corner"), ("west.left_end", "end cap")):
        seen.says(f"runs.{path}", value, status="inferred")


def test_what_nothing_settles_is_asked_once_for_the_whole_note(read: Callable[..., Any]) -> None:
    seen = read(
        STARTS,
        "front | 42-6 | OSC | ISC | L | 18 | 9-4 | drain",
        "back | 36-0 | cap | OSC | R | 18 | 9-4 | drain",
        "shed front | 12-0 | cap | wall | L | 12 | 8-4 | drain",
    )
    seen.asked("runs.front.left_end")
    seen.asked("runs.shed-front.right_end")
    questions = [one for one in check_sheet(seen.sheet) if "start at their left" in (one.question or "")]
    assert len(questions) == 1
    left, right = questions[0].suggests
    assert {(one.path, one.value) for one in right.changes} >= {("runs.front.right_end", "outside corner")}
    assert len(left.changes) == len(right.changes) == 6


def test_rows_whose_corners_disagree_with_their_order_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        STARTS,
        "front | 42-6 | OSC | ISC | L | 18 | 9-4 | drain",
        "left | 28-0 | cap | OSC | R | 18 | 9-4 | drain",
        "back | 36-0 | cap | OSC | R | 18 | 9-4 | drain",
    )
    seen.asked("runs.front.left_end")


SITE_SHEET = (
    "Item\tDP\tEaves length\tPart\tLH\tRH\tProjn.\tHeight\tRemarks",
    "A\tL\t6150\tFront eave\tstop end\tstop end\t240\t4820\tinto gully",
    "B\tR\t3310\tExt. rear\tstop end\twall\t110\t2150\ton the lawn, shoe cracked",
    "C\t-\t-\tGarden shed\tnobody wants any\t-\t-\t-\t-",
)


def test_a_site_sheet_names_its_runs_by_part_and_tells_endings_among_the_remarks(
    read: Callable[..., Any],
) -> None:
    seen = read("Sizes in mm.", *SITE_SHEET)
    seen.runs("front", "extension-back")
    seen.mm("runs.extension-back.length", 3310)
    seen.ends("extension-back", "end cap", "wall")
    seen.mm("downpipes.front-1.wall_to_fascia", 240)
    seen.says("downpipes.front-1.ends_at", "drain")
    seen.says("downpipes.extension-back-1.ends_at", "ground")
    assert [remark.kind for remark in seen.sheet.remarks if "nobody wants" in remark.text]


def test_where_pipes_end_is_taken_from_remarks_only_without_a_column_of_its_own(
    read: Callable[..., Any],
) -> None:
    rows = (
        "front | 41-3 | cap | cap | L | 9-2 | to the drain",
        "back | 40-9 | cap | cap | R | 9-8 | soft fascia",
    )
    seen = read("Run | Length | Left | Right | Outlet | Height | Remarks", *rows)
    seen.says("downpipes.front-1.ends_at", "drain")
    assert seen.sheet.reading_at("downpipes.back-1.ends_at") is None
    assert [remark.kind for remark in seen.sheet.remarks] == ["repair"]


def test_a_heading_of_notes_below_a_table_makes_remarks_of_what_follows(read: Callable[..., Any]) -> None:
    seen = read(
        "Ref | Run | Length | Left | Right | Outlet | Height",
        "A | front | 41-3 | cap | cap | L | 9-2",
        "B | back | 40-9 | cap | cap | R | 9-8",
        "",
        "Remarks",
        "B - three tiles slipped above the kitchen",
        "Scaffold on the back only, lane is too narrow for the van",
    )
    seen.runs("front", "back")
    told = {remark.text: (remark.kind, remark.about) for remark in seen.sheet.remarks}
    assert told["three tiles slipped above the kitchen"] == ("repair", "back")
    assert {kind for kind, _ in told.values()} == {"repair", "access"}


@pytest.mark.parametrize(
    ("cell", "side"), [("E end", "left"), ("W", "right"), ("the west end", "right"), ("NE", "left")]
)
def test_an_outlet_by_the_map_is_at_an_end(read: Callable[..., Any], cell: str, side: str) -> None:
    seen = read(
        "Run | Length | Left | Right | Outlet | Height",
        f"north | 41-3 | cap | cap | {cell} | 9-2",
        "south | 40-9 | cap | cap | E | 9-8",
    )
    seen.outlets("north", side)
    seen.outlets("south", "right")


def test_an_outlet_so_near_an_end_may_be_told_in_feet(read: Callable[..., Any]) -> None:
    seen = read(
        "Run | Length | Left | Right | Outlet | Height",
        "front | 41-3 | cap | cap | 2 frm L | 9-2",
        "back | 40-9 | cap | cap | 1'6 fr R | 9-8",
    )
    seen.asked("outlets.front-1.distance")
    seen.feet("outlets.back-1.distance", 1, 6)

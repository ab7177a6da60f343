"""Forms as they are laid out: halves of a page, answers that go on below, choices, question numbers, feet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.form_fields import fields_of
from gutterance.reading.form_page import OFFICE_FOOT, QUESTION_NUMBER, form_page

if TYPE_CHECKING:
    from collections.abc import Callable

EAST = [
    "EAST EAVE",
    "  Length          7600",
    "  Left end        stop end             Right end    external corner",
    "  Outlet          right",
    "  Overhang        300",
    "  Height          2750",
    "  Discharge       gully",
]
SOUTH = [
    "SOUTH EAVE",
    "  Length          5200",
    "  Left end        external corner      Right end    stop end",
    "  Outlet          left",
    "  Overhang        as above",
    "  Height          as above",
    "  Discharge       as above",
]


def test_two_halves_of_a_page_are_two_runs(read: Callable[..., Any]) -> None:
    seen = read(
        "  FRONT                             BACK",
        "  Length: 9 400                     Length: 8 100",
        "  Left end: cap                     Left end: outside corner",
        "  Right end: outside corner         Right end: cap",
        "  Outlet: left                      Outlet: right",
        "  Overhang: 350                     Overhang: 410",
        "  Height: 2 600                     Height: 2 900",
        "  Discharge: drain                  Discharge: water butt",
    )
    seen.mm("runs.front.length", 9400)
    seen.mm("runs.back.length", 8100)
    seen.ends("front", "end cap", "outside corner")
    seen.ends("back", "outside corner", "end cap")
    seen.mm("downpipes.front-1.height", 2600)
    seen.mm("downpipes.back-1.height", 2900)
    seen.says("downpipes.back-1.ends_at", "barrel")


def test_an_answer_goes_on_in_the_line_below(read: Callable[..., Any]) -> None:
    lines = [*EAST]
    lines[3] = "  Outlet          one at the left, another"
    lines[4:4] = ["                  at the right end"]
    lines[6] = "  Height          left 2750. Right, over the area,"
    lines[7:7] = ["                  3900"]
    seen = read(*lines, "", *SOUTH)
    seen.outlets("east", "left", "right")
    seen.mm("downpipes.east-1.height", 2750)
    seen.mm("downpipes.east-2.height", 3900)


def test_as_above_reaches_over_a_blank_line(read: Callable[..., Any]) -> None:
    seen = read(*EAST, "", *SOUTH)
    seen.mm("downpipes.south-1.wall_to_fascia", 300)
    seen.mm("downpipes.south-1.height", 2750)
    assert "same as the east" in (seen.says("downpipes.south-1.ends_at", "drain").why or "")


@pytest.mark.parametrize("number", ["{}. ", "{}  ", "({}) ", "{}) "])
def test_numbers_of_questions_are_set_aside(read: Callable[..., Any], number: str) -> None:
    labelled = [line.strip() for line in [*EAST, *SOUTH]]
    lines = [number.format(at) + line for at, line in enumerate(labelled, start=1)]
    seen = read("GUTTER SHEET", *lines)
    seen.mm("runs.east.length", 7600)
    seen.ends("south", "outside corner", "end cap")
    assert not [unread for unread in seen.sheet.unread if unread.why != QUESTION_NUMBER]


def test_an_answer_points_to_another_by_its_number(read: Callable[..., Any]) -> None:
    first = [f"A{at}  {line.strip()}" for at, line in enumerate(EAST[1:], start=1)]
    second = [
        "B1  Length   as A1",
        "B2  Left end   stop end",
        "B3  Right end   stop end",
        "B4  Outlet   left",
    ]
    seen = read("EAST EAVE", *first, "WEST EAVE", *second, "B5  Overhang   see A4", "B6  Height   2800")
    seen.mm("runs.west.length", 7600)
    seen.mm("downpipes.west-1.wall_to_fascia", 300)
    seen.mm("downpipes.west-1.height", 2800)


def test_answers_on_the_line_below_their_questions(read: Callable[..., Any]) -> None:
    asked = {
        "What is the site address?": "7 Teal Rise",
        "Run name": "Rear",
        "Length (mm)": "6480",
        "Left end": "Stop end",
        "Right end": "Abuts wall",
        "Where is the outlet?": "Left end, 250 in",
        "Eaves projection (mm)": "420",
        "Height of downpipe (mm)": "2580",
        "Pipe discharges into": "Gully",
        "Add another run?": "No",
    }
    lines = [
        part for at, (label, said) in enumerate(asked.items(), 1) for part in (f"{at}. {label}", said, "")
    ]
    seen = read(*lines)
    assert seen.sheet.title == "7 Teal Rise"
    seen.mm("runs.back.length", 6480)
    seen.ends("back", "end cap", "wall")
    seen.mm("outlets.back-1.distance", 250)
    seen.mm("downpipes.back-1.wall_to_fascia", 420)
    seen.mm("downpipes.back-1.height", 2580)
    seen.says("downpipes.back-1.ends_at", "drain")


def test_answers_in_brackets_and_on_lines(read: Callable[..., Any]) -> None:
    seen = read(
        'Trough ........ size [ 6" ]  style [ half round ]  metal [ copper ]',
        "Downspout ..... [ 3x4 ]",
        "SIDE: __Back__",
        "Length __38'-2\"__  Left end __wall__  Right end __cap__",
        'Downspout at __right__  Soffit __18"__  Height __10\'-4"__  Empties to __splash block__',
        "SIDE: __Porch__",
        "Length __9'-6\"__  Left end __cap__  Right end __cap__",
        'Downspout at __left__  Soffit __8"__  Height __8\'-1"__  Empties to __ground__',
        "Right end remarks: ____",
    )
    seen.says("defaults.gutter_profile", "half round")
    seen.says("defaults.material", "copper")
    seen.says("defaults.downpipe_size", "3x4")
    seen.feet("runs.back.length", 38, 2)
    seen.ends("back", "wall", "end cap")
    seen.feet("downpipes.porch-1.height", 8, 1)


def test_the_choice_written_behind_the_choices(read: Callable[..., Any]) -> None:
    seen = read("Metal: alum / copper / steel -> copper", "", *EAST, "", *SOUTH)
    seen.says("defaults.material", "copper")


def test_the_foot_for_the_office_is_no_run(read: Callable[..., Any]) -> None:
    seen = read(*EAST, "", *SOUTH, "", "OFFICE USE   deposit 250   van 3")
    assert [run.id for run in seen.sheet.runs] == ["east", "south"]
    assert [unread.why for unread in seen.sheet.unread] == [OFFICE_FOOT]


def test_a_heading_says_what_the_sizes_below_are_of(read: Callable[..., Any]) -> None:
    seen = read("DOWNPIPES", "  Size       80 round", "  How many   2", "", *EAST, "", *SOUTH)
    seen.says("defaults.downpipe_size", "80 mm round")
    assert [(total.what, total.value.value) for total in seen.sheet.totals] == [("downpipes", 2)]


def test_a_drop_with_a_length_is_a_height_once_outlets_are_told(read: Callable[..., Any]) -> None:
    lines = [line.replace("right", "both ends").replace("Height", "Drop  ") for line in EAST]
    lines[5] = "  Drop            2750 both"
    seen = read(*lines, "", *SOUTH)
    seen.outlets("east", "left", "right")
    seen.mm("downpipes.east-1.height", 2750)
    seen.mm("downpipes.east-2.height", 2750)


def test_of_two_heights_the_one_settled_on_is_asked_about(read: Callable[..., Any]) -> None:
    lines = [*EAST]
    lines[5] = "  Height          2450 to the terrace, yard is lower, so make it 2750"
    seen = read(*lines, "", *SOUTH)
    seen.mm("downpipes.east-1.height", 2750, status="doubtful")


def test_a_bay_told_in_pieces(read: Callable[..., Any]) -> None:
    lines = [
        "BAY",
        "  Length          left 600   front 2100   right 600",
        "  Ends            walls, outside corners",
    ]
    lines += ["  Outlet          left", "  Overhang        150", "  Height          2300"]
    seen = read(*EAST, "", *SOUTH, "", *lines)
    seen.mm("runs.bay-left-side.length", 600)
    seen.mm("runs.bay-front.length", 2100)
    seen.says("runs.bay-front.left_end", "outside corner", status="doubtful")
    seen.says("runs.bay-left-side.left_end", "wall", status="doubtful")
    seen.mm("downpipes.bay-front-1.height", 2300)


def test_one_side_told_and_the_other_pointed_away(read: Callable[..., Any]) -> None:
    lines = [line.replace("right", "both ends") if "Outlet" in line else line for line in EAST]
    lines[6] = "  Discharge       left gully, right see overleaf"
    seen = read(*lines, "", *SOUTH)
    seen.says("downpipes.east-1.ends_at", "drain")
    assert seen.at("downpipes.east-2.ends_at").status == "missing"


def test_a_name_in_two_parts(read: Callable[..., Any]) -> None:
    seen = read(*[line.replace("EAST EAVE", "Which eave    Garage, rear") for line in EAST], "", *SOUTH)
    assert [run.id for run in seen.sheet.runs] == ["garage-back", "south"]


def test_sources_are_those_of_the_page_as_given(read: Callable[..., Any]) -> None:
    given = ["  Height          2450 to the terrace, yard is lower,", "                  so make it 2750"]
    seen = read(*EAST[:5], *given, EAST[6], "", *SOUTH)
    reading = seen.at("downpipes.east-1.height")
    assert [(one.line, one.text) for one in reading.source if "2750" in one.text] == [(7, "2750")]


@pytest.mark.parametrize(
    "line", ["Front 42-6, OSC both, drop left, w/f 24, ht 9-4", "", "Hi Sam, back is 30 ft."]
)
def test_what_is_no_form_is_left_as_it_is(line: str) -> None:
    assert form_page([line] * 8) is None


def test_labels_and_answers_of_a_line() -> None:
    text = "Length 11 850      LH: stop end      RH .... wall"
    found = [(text[one.start : one.end], text[one.answer : one.answer_end]) for one in fields_of(text)]
    assert found == [("Length", "11 850"), ("LH", "stop end"), ("RH", "wall")]


def test_an_office_with_a_gutter_is_no_foot(read: Callable[..., Any]) -> None:
    seen = read("OFFICE, NORTH EAVE", *EAST[1:], "", *SOUTH)
    assert not [unread for unread in seen.sheet.unread if unread.why == OFFICE_FOOT]
    assert "7600 mm" in [run.length.value.tape_text() for run in seen.sheet.runs if run.length is not None]


def test_what_sort_of_house_it_is_names_no_run(read: Callable[..., Any]) -> None:
    seen = read("Sort of building ...... semi, porch in front", "Pipe: 80 round", "", *EAST, "", *SOUTH)
    assert [run.id for run in seen.sheet.runs] == ["east", "south"]


def test_notes_told_line_by_line_are_no_form() -> None:
    """Words that are labels too (`roof run`, `wall to fascia`), with no mark or gap behind them, are said."""
    told = [
        f"{line}"
        for side in ("front", "back", "left side")
        for line in (
            f"{side} 30-6, outside corner left, outside corner right",
            "wall to fascia 14 inches, pipes 9 foot 2 down to a splash block",
            "roof run 12 feet, watch the power line there",
        )
    ]
    assert form_page(told) is None

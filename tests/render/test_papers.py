"""The papers: every piece, hold and value is on them, inside the width, and no note can act on them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings

from gutterance.checking import check_sheet
from gutterance.checking.findings import Finding, Suggestion
from gutterance.lists import Lists, make_lists
from gutterance.lists.models import Hold
from gutterance.render.cutlist import held_reasons
from gutterance.render.plain import WIDTH, tape
from gutterance.render.readback import shown_value
from gutterance.render.text import (
    cut_list,
    downpipe_list,
    findings_text,
    hardware_list,
    install_sheet,
    read_back,
)
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from gutterance.sheet.models import Sheet

SHOP = load_shop()
HOSTILE = "\x1b[31m=cmd()\u202e\r\n<script>\x00 \\input{x} ünï"


def papers(lists: Lists) -> list[str]:
    return [one(lists, SHOP) for one in (cut_list, downpipe_list, install_sheet, hardware_list)]


def squeezed(text: str) -> str:
    return " ".join(text.split())


def test_a_plain_house_on_the_cut_list() -> None:
    text = cut_list(make_lists(four_sides(), [], SHOP), SHOP)
    assert "[ ] front-1 42' 6 1/8\" 43' 4 1/8\" 43' 5 1/8\" outside mitre outside mitre" in squeezed(text)
    assert 'hole 2x3: 6 1/16" from left, 42\' 0 1/16" from right' in text
    assert "ON HOLD" not in text
    assert "3 to carry" in text


def test_what_is_on_hold_stands_apart_with_its_question() -> None:
    finding = Finding(
        code="x",
        kind="doubt",
        about="runs.back.length",
        says="The back was said twice",
        question="How long is the back?",
        holds=["runs.back", "downpipes.back-1"],
    )
    lists = make_lists(four_sides(), [finding], SHOP)
    cut, pipes = cut_list(lists), downpipe_list(lists)
    before, after = cut.split("ON HOLD")
    assert "back-1" not in before
    assert "back-1" in after
    assert "How long is the back?" in after
    assert "[ ]" not in after
    assert "back-1" in pipes.split("ON HOLD")[1]


def test_what_nobody_said_bears_its_sign_on_the_cut_list_and_the_downpipe_list() -> None:
    house = four_sides()
    house.runs[0].length.status = "inferred"  # type: ignore[union-attr]
    house.downpipes[0].height.status = "assumed"  # type: ignore[union-attr]
    lists = make_lists(house, [], SHOP)
    assert "~ length worked out" in cut_list(lists)
    assert "~ height assumed" in downpipe_list(lists)


def test_read_back_of_a_house_with_every_kind_of_value() -> None:
    source = [{"line": 2, "start": 0, "end": 6, "text": "12-8\x1b"}]
    house = sheet(
        [
            run("porch", "152 in", "wall cap"),
            run("back", None, "- out"),
            run("shed", "120 in", "cap cap"),
        ],
        [outlet("porch-1", "porch", "right", "6 in"), outlet("lost", "attic")],
        [pipe("porch-1", None, "108 in", None), pipe("gone", "24 in", "100 in")],
        totals=[{"what": "runs", "value": reading(3)}],
        unread=[{"text": "nine and some", "source": {**source[0], "line": 5}, "why": "no field for it"}],
        remarks=[{"kind": "hazard", "about": "back", "text": "power line", "source": source[0]}],
    )
    house.runs[0].length = house.runs[0].length.model_validate(  # type: ignore[union-attr]
        {**reading("152 in", "corrected"), "was": [reading("150 in")], "source": source}
    )
    house.runs[2].length.status = "doubtful"  # type: ignore[union-attr]
    text = squeezed(read_back(house))
    for words in (
        "PORCH 12' 8\" *",
        'length corrected: was 12\' 6"; line 2 "12-8"',
        "BACK ____",
        "! length NOT SAID",
        "! left end NOT SAID",
        "SHED 10' 0\" ?",
        "? length DOUBTFUL",
        'outlet 6" from the right end',
        "! wall to fascia NOT SAID",
        "OUTLET ON NO RUN (attic)",
        "DOWNPIPE WITH NO OUTLET (gone)",
        "HAZARD (back): power line",
        '! line 5: "nine and some": no field for it',
        "You said: 3 runs",
    ):
        assert words in text
    assert "\x1b" not in text


@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet())
def test_every_value_of_any_sheet_is_read_back(house: Sheet) -> None:
    text = squeezed(read_back(house))
    seen: set[str] = set()
    for path, reading_ in house.readings():
        # where an id stands twice the sheet itself gives two readings one path; both are shown
        if reading_.value is not None and path not in seen:
            assert shown_value(reading_.value, path.split(".")[2] if path.count(".") > 1 else "") in text, (
                path
            )


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet())
def test_every_piece_pipe_and_hold_of_any_sheet_is_on_paper(house: Sheet) -> None:
    lists = make_lists(house, check_sheet(house), SHOP)
    cut, pipes, install, hardware = papers(lists)
    flat_cut, flat_pipes = squeezed(cut), squeezed(pipes)
    for piece in lists.pieces:
        assert piece.id in cut
        assert tape(piece.back) in cut
        for hold in piece.hold:
            assert squeezed(hold.says).rstrip(".") in flat_cut
    for one in lists.downpipes:
        assert f"{one.id}:" in pipes
        for hold in one.hold:
            assert squeezed(hold.says).rstrip(".") in flat_pipes
    for item in lists.hardware:
        assert item.item in hardware
    for text in (cut, pipes, install, hardware, read_back(house)):
        assert all(len(line) <= WIDTH + 8 for line in text.splitlines())
        # no length is broken over two lines: where one ends in a number, the next begins with no fraction
        assert not re.search(r"\d'?\n\s*\d+/\d", text)
        assert not re.search(r"\d'\n\s*\d", text)


@pytest.mark.parametrize("field", ["title", "name", "colour", "remark", "unread"])
def test_nothing_in_a_note_acts_on_paper(field: str) -> None:
    source = {"line": 1, "start": 0, "end": 5, "text": HOSTILE}
    house = four_sides()
    if field == "title":
        house.title = HOSTILE
    elif field == "name":
        house.runs[0].name = HOSTILE
    elif field == "colour":
        house.defaults.colour.value = HOSTILE  # type: ignore[union-attr]
    elif field == "remark":
        remark = {"kind": "hazard", "about": HOSTILE, "text": HOSTILE, "source": source}
        house = four_sides(remarks=[remark])
    else:
        house = four_sides(unread=[{"text": HOSTILE, "source": source, "why": HOSTILE}])
    findings = check_sheet(house)
    lists = make_lists(house, findings, SHOP)
    for text in (*papers(lists), read_back(house), findings_text(findings)):
        assert not set(text) & {"\x1b", "\x00", "\u202e", "\r"}


def test_findings_are_numbered_with_question_suggestion_and_hold() -> None:
    findings = [
        Finding(
            code="x",
            kind="conflict",
            about="runs.front.length",
            says="The front does not close.",
            question="How long is the front?",
            suggests=[Suggestion(value="41' 6\"", why="a foot less")],
            holds=["runs.front", "downpipes.front-1"],
        ),
        Finding(code="y", kind="hazard", about="front", says="Power line"),
        Finding(code="z", kind="assumption", about="defaults", says="Gutter taken as usual"),
    ]
    text = findings_text(findings)
    for words in (
        "HAZARD: Power line",
        "1 ! The front does not close.",
        "-> How long is the front?",
        "perhaps 41' 6\": a foot less",
        "holds front, downpipe front-1",
        "~ Gutter taken as usual",
    ):
        assert words in text


def test_no_findings_says_so() -> None:
    assert "None" in findings_text([])


def test_a_fraction_after_feet_shows_its_nought() -> None:
    lists = make_lists(sheet([run("eave", "324 5/8 in")], [outlet("eave-1", "eave")]), [], SHOP)
    assert tape(lists.pieces[0].back) == "27' 0 5/8\""


def test_metric_papers_hold_no_inch() -> None:
    house = sheet(
        [run("front", "12950 mm", "out cap")],
        [outlet("front-1", "front")],
        [pipe("front-1", "610 mm", "2845 mm")],
        defaults={"units": "metric", "gutter_size": reading("125 mm")},
    )
    lists = make_lists(house, [], SHOP)
    for text in papers(lists)[:3]:
        lines = [line for line in text.splitlines() if not line.startswith("Care")]
        assert '"' not in "\n".join(lines)


def test_a_piece_is_named_once_where_two_numbers_are_asked_about_in_the_same_words() -> None:
    hold = Hold(about="unread.1", says="“45” was not understood", question="What is “45”?")
    other = hold.model_copy(update={"about": "unread.2"})
    assert held_reasons([("bay-1", [hold, other]), ("front-1", [hold])]) == [
        "  ? bay-1, front-1: “45” was not understood.  What is “45”?"
    ]


def test_growth_by_a_figure_from_memory_says_so_on_the_install_sheet() -> None:
    house = sheet(
        [run("eave", "500 in")], [outlet("eave-1", "eave")], defaults={"material": reading("copper")}
    )
    install = papers(make_lists(house, [], SHOP))[2]
    assert "grows" in install
    assert "from memory, not checked" in squeezed(install)

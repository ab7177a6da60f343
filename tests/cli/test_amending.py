"""`amend`, `history` and `ask`: nobody's correction is ever lost, and every command honours it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from conftest import Caller

NOTE = """\
14 Quarry Lane
5 inch K-style, white, 2x3 downpipes
Front 42-6 end caps both ends. Drop left, w/f 24, height 9-4, splash block.
Back 42-6 end caps both ends. Drop right, w/f 24, splash block.
"""
WHO = ("--by", "Ann", "--why", "measured again")


@pytest.fixture
def job(call: Caller) -> str:
    call.file("job.txt", NOTE)
    call("read", "job.txt", "--out", "job.json")
    return "job.json"


def test_an_amendment_settles_what_was_open(call: Caller, job: str) -> None:
    assert call("ask", job).status == 3
    made = call("amend", job, "downpipes.back-1.height", "9 2", *WHO)
    assert made.status == 0
    assert made.out == "downpipes.back-1.height: 9' 2\" (the note says nothing)\n"
    assert "kept in job.amendments.jsonl" in made.err
    assert call("check", job).status == 0
    assert call("ask", job).out.endswith("None: nothing waits for an answer.\n")
    lists = call("lists", job, "--json")
    assert lists.status == 0
    explained = call("explain", job, "downpipes.back-1.height").out
    assert "(corrected)" in explained
    assert "Ann" in explained


def test_neither_note_nor_sheet_is_touched(call: Caller, job: str) -> None:
    before = [(call.folder / name).read_bytes() for name in ("job.txt", "job.json")]
    call("amend", job, "runs.front.length", "43", *WHO)
    assert [(call.folder / name).read_bytes() for name in ("job.txt", "job.json")] == before


def test_note_and_sheet_share_their_amendments_and_a_longer_note_keeps_them(call: Caller, job: str) -> None:
    call("amend", job, "downpipes.back-1.height", "9 2", *WHO)
    call.file(
        "job.txt", NOTE + "Porch 10-0 end caps both ends. Drop left, w/f 12, height 8-0, splash block.\n"
    )
    assert call("run", "job.txt").status == 0
    again = call("read", "job.txt", "--json")
    heights = [pipe["height"] for pipe in json.loads(again.out)["downpipes"]]
    assert [one["value"] for one in heights] == ["112 in", "110 in", "96 in"]
    assert (heights[1]["status"], heights[1]["by"]) == ("corrected", "Ann")


def test_one_that_the_note_has_overtaken_is_asked_about(call: Caller, job: str) -> None:
    call("amend", job, "runs.front.length", "43", *WHO)
    call.file("job.txt", NOTE.replace("Front 42-6", "Front 44-0"))
    found = json.loads(call("check", "-", "--json", given=call("read", "job.txt", "--json").out).out)
    assert found  # standard input has no amendments of its own: front and back are only compared
    call("read", "job.txt", "--out", "job.json")
    overtaken = [one for one in json.loads(call("check", job, "--json").out) if "amendment" in one["code"]]
    assert [one["code"] for one in overtaken] == ["amendment-overtaken"]
    assert overtaken[0]["holds"] == ["runs.front"]


def test_the_history_tells_who_when_why_and_what_was_withdrawn(call: Caller, job: str) -> None:
    call("amend", job, "runs.front.length", "43", *WHO)
    call("amend", job, "runs.front.length", "--withdraw", "--by", "Bo", "--why", "wrong house")
    assert json.loads(call("read", "job.txt", "--json").out)["runs"][0]["length"]["value"] == "510 in"
    told = call("history", job).out
    for words in ("Ann", "measured again", "43' 0\"", "42' 6\"", "(withdrawn)", "Bo", "wrong house"):
        assert words in told
    kept = json.loads(call("history", "job.txt", "runs.front.length", "--json").out)
    assert [one["value"] for one in kept] == ["516 in", None]
    assert kept[0]["when"] < kept[1]["when"]
    assert "No amendments" in call("history", job, "runs.back").out


def test_a_part_taken_off(call: Caller, job: str) -> None:
    call("amend", job, "runs.back", "none", *WHO)
    sheet = json.loads(call("read", "job.txt", "--json").out)
    assert [one["id"] for one in sheet["runs"]] == ["front"]
    assert "run back (42' 6\")" in sheet["remarks"][-1]["text"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("job.json", "runs.front.lenght", "43", *WHO), "did you mean runs.front.length"),
        (("job.json", "runs.front.length", "about 43", *WHO), "leaves room"),
        (("job.json", "runs.front.left_end", "purple", *WHO), "“purple” cannot be runs.front.left_end"),
        (("job.json", "runs.front", "43", *WHO), "whole part"),
        (("job.json", "runs.front.length", *WHO), "one of the two"),
        (("job.json", "runs.front.length", "43", "--withdraw", *WHO), "one of the two"),
        (("job.json", "runs.front.length", "--withdraw", *WHO), "no amendment of runs.front.length"),
        (("job.json", "runs.front.length", "43", "--by", " ", "--why", "x"), "who amends it"),
        (("-", "runs.front.length", "43", *WHO), "standard input"),
    ],
)
def test_what_cannot_be_amended_is_one_sentence(
    call: Caller, job: str, words: tuple[str, ...], says: str
) -> None:
    del job
    answer = call("amend", *words)
    assert answer.status == 2
    assert answer.out == ""
    assert says in answer.err
    assert answer.err.count("\n") == 1
    assert not (call.folder / "job.amendments.jsonl").exists()


def test_a_broken_amendments_file_is_named_by_line_and_nothing_is_left_out(call: Caller, job: str) -> None:
    call("amend", job, "runs.front.length", "43", *WHO)
    kept = call.folder / "job.amendments.jsonl"
    kept.write_text(kept.read_text() + "not an amendment\n")
    answer = call("check", job)
    assert answer.status == 2
    assert "job.amendments.jsonl, line 2" in answer.err


def test_a_half_line_left_by_a_power_cut_is_cut_off(call: Caller, job: str) -> None:
    call("amend", job, "runs.front.length", "43", *WHO)
    kept = call.folder / "job.amendments.jsonl"
    whole = kept.read_text()
    kept.write_text(whole + '{"format": "gutterance-amend')
    assert call("check", job).status in (0, 3)
    call("amend", job, "runs.front.length", "44", *WHO)
    assert kept.read_text().startswith(whole)
    assert [one["value"] for one in map(json.loads, kept.read_text().splitlines())] == ["516 in", "528 in"]


def test_ask_takes_notes_sheets_and_standard_input(call: Caller, job: str) -> None:
    from_sheet = call("ask", job, "--json")
    questions: list[dict[str, Any]] = json.loads(from_sheet.out)
    assert [one["holds"] for one in questions] == [["downpipes.back-1"]]
    assert json.loads(call("ask", "job.txt", "--json").out) == questions
    assert json.loads(call("ask", "-", "--json", given=NOTE).out) == questions
    assert json.loads(call("ask", "-", "--json", given=(call.folder / job).read_bytes()).out) == questions
    assert "frees 1: downpipe back-1" in call("ask", job).out


def test_a_length_worked_out_is_shown_and_holds_its_piece_until_confirmed(call: Caller) -> None:
    call.file(
        "box.txt",
        "5 inch K-style, white, 2x3 downpipes\nFront 42-6 OSC both ends. Right side 28-3 OSC both ends.\n"
        "Back OSC both ends, could not get the back length. Left side 28-3 OSC both ends.\n"
        "Drop front left, w/f 24, height 9-4, drain.\n",
    )
    read = call("read", "box.txt", "--out", "box.json")
    assert read.status == 3
    assert "42' 6\" =" in read.out
    lists = json.loads(call("lists", "box.json", "--json").out)
    held = {piece["id"]: bool(piece["hold"]) for piece in lists["pieces"]}
    assert held == {"front-1": False, "right-side-1": False, "back-1": True, "left-side-1": False}
    assert call("amend", "box.json", "runs.back.length", "42-6", *WHO).status == 0
    assert call("lists", "box.json", "--json").status == 0


def test_the_closure_of_a_walk_is_shown_with_its_ratio(call: Caller) -> None:
    call.file(
        "box.txt",
        "5 inch K-style, white, 2x3 downpipes\nFront 42-6 OSC both ends. Right side 28-3 OSC both ends.\n"
        "Back 42-6 OSC both ends. Left side 28-3 OSC both ends.\n"
        "Drop front left, w/f 24, height 9-4, drain.\n",
    )
    call("read", "box.txt", "--out", "box.json")
    assert "closes exactly: 1 in more than 100,000" in call("check", "box.json").out

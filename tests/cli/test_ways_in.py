"""`read` and `run` on captions, transcripts and several files, as a shell calls them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
FRONT = "Front 42-6, end caps both ends. Drop left, w/f 24, height 9-4 to ground\n"
BACK = "Back 28-3, end caps both ends. Drop right, w/f 12, height 8-2 to ground\n"


def test_several_files_are_one_walk_round(call: Any) -> None:
    front, back = call.file("front.txt", FRONT), call.file("back.txt", BACK)
    both = call("read", front, back, "--json")
    sheet = json.loads(both.out)
    assert [(run["id"], run["length"]["source"][0]["line"]) for run in sheet["runs"]] == [
        ("front", 1),
        ("back", 2),
    ]
    alone = json.loads(call("read", call.file("all.txt", FRONT + BACK), "--json").out)
    assert without_files(sheet) == alone
    back_length = sheet["runs"][1]["length"]["source"][0]
    assert (back_length["file"], back_length["file_line"]) == (back, 1)
    assert "front.txt is line 1, back.txt is line 2" in both.err
    assert call("run", front, back, "--one-walk", "--out", "out").out.count("BACK") >= 1
    assert "pieces.csv" in {path.name for path in Path("out").iterdir()}


def without_files(data: Any) -> Any:
    """A sheet as it would be if the note were one file."""
    if isinstance(data, list):
        return [without_files(one) for one in data]
    if isinstance(data, dict):
        return {key: without_files(one) for key, one in data.items() if key not in ("file", "file_line")}
    return data


def test_one_of_several_may_be_standard_input(call: Any) -> None:
    sheet = json.loads(call("read", call.file("front.txt", FRONT), "-", "--json", given=BACK).out)
    assert [run["id"] for run in sheet["runs"]] == ["front", "back"]


@pytest.mark.parametrize("form", ["vtt", "json"])
def test_a_timed_transcript_is_read_by_name_and_on_standard_input(call: Any, form: str) -> None:
    file = EXAMPLES / f"3-alder-walk.{form}"
    by_name = call("read", str(file), "--json")
    given = call("read", "-", "--json", given=file.read_bytes())
    assert (by_name.status, by_name.out, by_name.err) == (given.status, given.out, given.err)
    runs = json.loads(by_name.out)["runs"]
    # Cue 2 ends after `forty two foot`, cue 3 goes on with `six`.
    assert [(run["id"], run["length"]["value"]) for run in runs] == [("front", "510 in"), ("back", "339 in")]


def test_damage_is_told_with_its_line_and_the_rest_is_read(call: Any) -> None:
    whole = (EXAMPLES / "3-alder-walk.vtt").read_text(encoding="utf-8")
    answer = call("read", call.file("cut.vtt", whole[: whole.index("00:00:30.100")]), "--json")
    assert "damaged: cut.vtt, line 27: the time cannot be read" in answer.err
    assert "Traceback" not in answer.err
    assert [run["id"] for run in json.loads(answer.out)["runs"]] == ["front", "back"]


@pytest.mark.parametrize("command", [("read",), ("run", "--one-walk")])
def test_a_file_given_twice_and_a_missing_one_are_refused(call: Any, command: tuple[str, ...]) -> None:
    front = call.file("front.txt", FRONT)
    for args, says in (
        ((front, front), "front.txt is given twice"),
        ((front, "none.txt"), "none.txt was not found"),
    ):
        answer = call(*command, *args)
        assert (answer.status, answer.out) == (2, "")
        assert says in answer.err
        assert len(answer.err.splitlines()) == 1


def test_the_command_writes_it_and_writes_over_its_own_only(call: Any) -> None:
    name = call.file("job.txt", FRONT + "Back 28-3, 17\n")
    for _ in range(2):
        answer = call("read", name, "--explain", "job.html")
        assert answer.status == 3
        assert "to job.html" in answer.err
    assert (call.folder / "job.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    kept = call.file("other.html", "<p>mine</p>")
    answer = call("read", name, "--explain", kept)
    assert (answer.status, answer.out) == (2, "")
    assert (call.folder / kept).read_text() == "<p>mine</p>"

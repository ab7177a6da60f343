"""Bad input: one clear sentence that names the file and the mend, exit status 2, nothing written."""

from __future__ import annotations

import json
from typing import Any

import pytest

SHEET = {
    "format": "gutterance-sheet-1",
    "runs": [{"id": "front", "name": "front", "length": {"value": "510 in"}}],
}
TAKES_A_NOTE = [["read", "{}"], ["run", "{}", "--out", "out"], ["read", "{}", "--out", "out.json"]]
TAKES_A_SHEET = [["lists", "{}", "--out", "out"], ["explain", "{}", "runs.front.length"]]
TAKES_EITHER = [["check", "{}"], ["ask", "{}"]]


def refused(answer: Any, call: Any, name: str) -> str:
    """Check the manners of a refusal; its sentence."""
    assert answer.status == 2, answer
    assert answer.out == ""
    lines = answer.err.splitlines()
    assert len(lines) == 1, lines
    assert lines[0].startswith("gutterance: ")
    assert name in lines[0]
    assert "Traceback" not in answer.err
    assert not (call.folder / "out").exists()
    assert not (call.folder / "out.json").exists()
    assert not [path.name for path in call.folder.iterdir() if path.name.startswith(".")]
    return lines[0]


@pytest.mark.parametrize("command", TAKES_A_NOTE, ids=lambda command: command[0])
@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("", "is empty: write or paste the note into it first"),
        (" \n\n", "is empty"),
        (b"\x7fELF\0\0\0", "is not text (it has NUL bytes on line 1): save the note as plain UTF-8 text"),
        (b"%PDF-1.4\n", "is a PDF, not text: copy its words into a plain text file"),
        (b"x" * 5_000_001, "is larger than 5 MB, too large for a note: check that it is the right file"),
        (
            json.dumps(SHEET),
            "is a field sheet, not a note: give it to `gutterance check` or `gutterance lists`",
        ),
        ('{"format": "gutterance-lists-1"}', "is a crew's lists, not a note"),
        ('{"a": [1, 2]}', "is JSON, not a note"),
        (
            "Bonjour, il fait beau et je passerai demain matin.\n",
            "no run was found in job.txt: name each run",
        ),
        ("Heute war schönes Wetter, bis morgen.\n", "no run was found in job.txt"),
    ],
    ids=["empty", "blank", "binary", "pdf", "large", "sheet", "lists", "json", "french", "german"],
)
def test_what_is_no_note_is_refused(call: Any, command: list[str], content: str | bytes, says: str) -> None:
    name = call.file("job.txt", content)
    answer = call(*(word.format(name) for word in command))
    assert says in refused(answer, call, "job.txt")


@pytest.mark.parametrize(
    "command", TAKES_A_NOTE + TAKES_A_SHEET + TAKES_EITHER, ids=lambda command: command[0]
)
def test_a_missing_file_and_a_folder_are_refused(call: Any, command: list[str]) -> None:
    assert "none.txt was not found: check the name" in refused(
        call(*(word.format("none.txt") for word in command)), call, "none.txt"
    )
    (call.folder / "jobs").mkdir()
    assert "jobs is a folder: give a file in it" in refused(
        call(*(word.format("jobs") for word in command)), call, "jobs"
    )


def changed(**changes: Any) -> str:
    return json.dumps({**SHEET, **changes})


def with_run(**changes: Any) -> str:
    return changed(runs=[{"id": "front", "name": "front", **changes}])


@pytest.mark.parametrize("command", TAKES_A_SHEET, ids=lambda command: command[0])
@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("", "is empty: make the sheet with `gutterance read` first"),
        (
            "Front 42-6 OSC both ends\n",
            "is not a field sheet; if it is a note, read it first: gutterance read",
        ),
        ('{"runs": []}', 'is JSON, but not a field sheet (its "format" must be "gutterance-sheet-1")'),
        ("[1, 2]", "is JSON, but not a field sheet"),
        ("[" * 100_000, "is nested too deeply"),
    ],
    ids=["empty", "note", "unmarked", "list", "deep"],
)
def test_what_does_not_claim_to_be_a_sheet_is_refused(
    call: Any, command: list[str], content: str, says: str
) -> None:
    name = call.file("job.json", content)
    answer = call(*(word.format(name) for word in command))
    assert says in refused(answer, call, "job.json")


@pytest.mark.parametrize("command", TAKES_EITHER, ids=lambda command: command[0])
@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("", "is empty: write or paste the note into it first"),
        ('{"runs": []}', "is JSON, not a note"),
        ("[1, 2]", "is JSON, not a note"),
        ("[" * 100_000, "no run was found"),
    ],
    ids=["empty", "unmarked", "list", "deep"],
)
def test_what_is_neither_note_nor_sheet_is_refused(
    call: Any, command: list[str], content: str, says: str
) -> None:
    name = call.file("job.json", content)
    answer = call(*(word.format(name) for word in command))
    assert says in refused(answer, call, "job.json")


def test_what_takes_either_says_the_same_of_a_note_and_of_its_sheet(call: Any) -> None:
    note = call.file("job.txt", "Front 42-6 OSC left, end cap right, drop left\n")
    assert call("read", note, "--out", "job.json").status == 0
    for command in ("check", "ask"):
        of_note, of_sheet = call(command, note), call(command, "job.json")
        assert of_note.status == of_sheet.status == 3
        assert of_note.out == of_sheet.out
        assert "how far" in of_note.out.lower()


@pytest.mark.parametrize("command", TAKES_A_SHEET + TAKES_EITHER, ids=lambda command: command[0])
@pytest.mark.parametrize(
    ("content", "says"),
    [
        ('{"format": "gutterance-lists-1"}', "is a crew's lists, not a field sheet"),
        ('{"format": "gutterance-sheet-2"}', "format: input should be 'gutterance-sheet-1'"),
        ('{\n "format": "gutterance-sheet-1",\n "runs": [,]\n}', "line 3, column 11: broken JSON"),
        (changed(rnus=[]), "rnus: unknown field 'rnus': did you mean 'runs'?"),
        (
            with_run(lenght={"value": "3 in"}),
            "runs.front.lenght: unknown field 'lenght': did you mean 'length'?",
        ),
        (
            with_run(length={"value": "42-6"}),
            "runs.front.length.value: '42-6' is not a length as files hold it",
        ),
        (with_run(length={"value": 510.0}), "runs.front.length.value: 510.0 is not a length"),
        (
            with_run(left_end={"value": "corner"}),
            "runs.front.left_end.value: input should be 'outside corner'",
        ),
        (changed(runs=[{"id": "front"}]), "runs.front.name: this field is not there: add it"),
        (changed(runs="front"), "runs: input should be a valid list"),
    ],
    ids=lambda given: None if str(given).startswith(("{", "[")) else str(given)[:24],
)
def test_what_is_no_sheet_is_refused(call: Any, command: list[str], content: str, says: str) -> None:
    name = call.file("job.json", content)
    answer = call(*(word.format(name) for word in command))
    assert says in refused(answer, call, "job.json")


def test_a_note_is_never_written_over(call: Any) -> None:
    name = call.file("job.txt", "Front 42-6 OSC both ends\n")
    answer = call("read", name, "--out", name)
    assert answer.status == 2
    assert "job.txt is there already and is no field sheet: give --out another name" in answer.err
    assert (call.folder / name).read_text() == "Front 42-6 OSC both ends\n"


def test_a_folder_for_a_sheet_and_a_file_for_a_folder_are_refused(call: Any) -> None:
    name = call.file("job.txt", "Front 42-6 OSC both ends\n")
    (call.folder / "there").mkdir()
    assert "there is a folder: give --out a file" in call("read", name, "--out", "there").err
    answer = call("run", name, "--out", name)
    assert answer.status == 2
    assert "job.txt is a file: give --out a folder" in answer.err


def test_an_out_that_cannot_be_made_is_refused(call: Any) -> None:
    name = call.file("job.txt", "Front 42-6 OSC both ends\n")
    for command in ("read", "run"):
        answer = call(command, name, "--out", "job.txt/deeper/out.json")
        assert answer.status == 2
        assert "job.txt" in answer.err
        assert "defect" not in answer.err


def test_a_broken_shop_file_is_refused(call: Any) -> None:
    name = call.file("job.txt", "Front 42-6 OSC both ends\n")
    shop = call.file("shop.toml", "[fit\n")
    assert "shop.toml" in refused(call("run", name, "--shop", shop, "--out", "out"), call, "shop.toml")
    assert "none.toml" in refused(call("run", name, "--shop", "none.toml", "--out", "out"), call, "none.toml")


def test_a_path_that_leads_nowhere_is_refused_with_those_like_it(call: Any) -> None:
    name = call.file("job.json", json.dumps(SHEET))
    sentence = refused(call("explain", name, "runs.front.lenght"), call, "job.json")
    assert "job.json has nothing at runs.front.lenght: did you mean runs.front.length" in sentence


def test_a_broken_corpus_is_refused(call: Any) -> None:
    assert "none is not a folder" in refused(call("score", "none"), call, "none")
    (call.folder / "corpus").mkdir()
    assert "holds no note" in refused(call("score", "corpus"), call, "corpus")
    call.file("corpus/a.txt", "Front 42-6\n")
    call.file("corpus/a.gold.json", '{"voice": "x", "run": {}}')
    assert "a.gold.json, run: " in refused(call("score", "corpus"), call, "a.gold.json")


@pytest.mark.parametrize(
    "args", [["reed", "x"], ["read"], ["read", "a", "b"], ["check", "--hurry"], ["schema", "x"]]
)
def test_an_unusable_call_says_how_to_get_help(call: Any, args: list[str]) -> None:
    answer = call(*args)
    assert answer.status == 2
    assert answer.out == ""
    assert "gutterance" in answer.err
    assert "Traceback" not in answer.err

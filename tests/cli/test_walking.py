"""`walk`: read back, asked, answered, undone, left, resumed; and killed at any moment with nothing lost."""

from __future__ import annotations

import json
import os
import select
import signal
import subprocess
import sys
import time
from random import Random
from typing import TYPE_CHECKING

import pytest

from gutterance.cli.refusals import Refusal
from gutterance.cli.walk_files import WalkFiles

if TYPE_CHECKING:
    from pathlib import Path

    from conftest import Answer, Caller

HOUSE = [
    "14 Quarry Lane",
    "5 inch K-style, white, 2x3 downpipes",
    "Front 42-6 OSC both ends. Drop left, w/f 24",
    "9 2",
    "Right side 28-3 OSC both ends",
    "Back OSC both ends, could not get the length",
    "Left side 28-3 OSC both ends",
    "yes",
]


def walk(call: Caller, *lines: str) -> Answer:
    return call("walk", "job.txt", given="".join(f"{line}\n" for line in lines))


def values(call: Caller) -> dict[str, str]:
    sheet = json.loads(call("read", "job.txt", "--json").out)
    return {
        **{
            f"{one['id']}.length": one["length"]["value"] for one in sheet["runs"] if "value" in one["length"]
        },
        **{f"{one['id']}.height": one["height"]["value"] for one in sheet["downpipes"] if "height" in one},
    }


def test_a_whole_house_walked(call: Caller) -> None:
    done = walk(call, *HOUSE)
    assert done.status == 0, done.out
    assert "= FRONT  42' 6\", left outside corner, right outside corner, outlet left" in done.out
    assert "= FRONT  height 9' 2\"" in done.out
    assert "= BACK  42' 6\" = worked out" in done.out
    assert done.out.endswith("Nothing open; kept in job.txt.\n")
    # utterances are the note's; answers are kept beside it
    assert (call.folder / "job.txt").read_text().splitlines() == [
        line for line in HOUSE if line not in ("9 2", "yes")
    ]
    assert values(call) == {
        "front.length": "510 in",
        "right-side.length": "339 in",
        "back.length": "510 in",
        "left-side.length": "339 in",
        "front-1.height": "110 in",
    }


def test_leaving_and_going_on_is_the_same_as_walking_on(call: Caller) -> None:
    for line in HOUSE:
        done = walk(call, line, "quit")
    assert done.status == 0
    assert values(call)["back.length"] == "510 in"
    assert "4 runs so far" in walk(call).out


def test_every_line_read_back_is_short(call: Caller) -> None:
    done = walk(call, *HOUSE)
    back = [line for line in done.out.splitlines() if line.startswith("=")]
    assert len(back) <= 2 * len(HOUSE)


def test_undo_takes_back_answers_and_lines_one_by_one(call: Caller) -> None:
    walk(call, *HOUSE)
    undone = walk(call, "undo")
    assert "taken back: yes" in undone.out
    assert undone.status == 3
    walk(call, "undo", "undo")
    assert (call.folder / "job.txt").read_text().splitlines()[-1] == HOUSE[4]
    walk(call, *["undo"] * 9)
    assert (call.folder / "job.txt").read_text() == ""
    assert "nothing to take back" in walk(call, "undo").out
    # all that was ever said is still in the journal
    journal = (call.folder / "job.walk.jsonl").read_text()
    assert all(json.dumps(line, ensure_ascii=False) in journal for line in HOUSE)


def test_undo_leaves_a_line_alone_that_somebody_changed_since(call: Caller) -> None:
    walk(call, "Front 42-6 end caps both ends")
    note = call.folder / "job.txt"
    note.write_text("Front 43-6 end caps both ends\n")
    assert "was changed since" in walk(call, "undo").out
    assert note.read_text() == "Front 43-6 end caps both ends\n"


def test_a_numbered_answer_and_words_kept_for_the_note(call: Caller) -> None:
    walk(call, "Front 42-6 end caps both ends. Drop left, height 9-4, splash block.")
    done = walk(call, "note: 42 Elm Street, call first", "7: 24", "1: purple", "1: 24")
    assert "does not answer" in done.out
    assert '= FRONT  wall to fascia 24"' in done.out
    text = (call.folder / "job.txt").read_text()
    assert "42 Elm Street, call first" in text
    assert "7: 24" in text  # there is no question 7: the words are kept all the same


def test_an_answer_that_leaves_room_is_told_and_not_kept(call: Caller) -> None:
    done = walk(call, "Front end caps both ends. Drop left, w/f 24, height 9-4, splash block.", "about 42")
    assert "nothing was kept: say it again" in done.out
    assert done.status == 3


HIP = [
    "Front 42-6 OSC both ends, drop left",
    "Right side 28-0 OSC both ends",
    "Back 42-6 OSC both ends, drop left w/f 24, height 10-0",
]


def test_a_value_is_taken_for_the_open_question_it_can_answer(call: Caller) -> None:
    """The first question is about a side nobody told: `9 4` is no answer to it, and answers one other."""
    done = walk(call, *HIP, "9 4", "24")
    assert "taken as the answer to: How far down is it from the outlet" in done.out
    assert values(call)["front-1.height"] == "112 in"
    assert '= FRONT  wall to fascia 24"' in done.out
    assert (call.folder / "job.txt").read_text().splitlines() == HIP
    undone = walk(call, "undo")
    assert "taken back: 24" in undone.out
    assert '= FRONT  no longer on the sheet: wall to fascia 24"' in undone.out


def test_a_value_that_could_answer_several_is_asked_back(call: Caller) -> None:
    done = walk(call, *HIP, "Left side 28-0 OSC both ends, drop left", "9 4", "b")
    assert "'9 4' could answer several. Which?" in done.out
    assert "(a) The height of the downpipe at the left end of the front." in done.out
    assert values(call)["left-side-1.height"] == "112 in"
    assert "front-1.height" not in values(call)
    walk(call, "undo", "9 4", "(c)")
    assert values(call)["left-side-1.height"] == values(call)["front-1.height"] == "112 in"


def test_a_value_asked_back_and_never_settled_goes_into_the_note(call: Caller) -> None:
    house = [*HIP, "Left side 28-0 OSC both ends, drop left"]
    walk(call, *house, "9 4", "Porch 6-0, wall left, end cap right")  # something else said
    walk(call, "9 4")  # left without a word
    lines = (call.folder / "job.txt").read_text().splitlines()
    assert lines[4:6] == ["9 4", "Porch 6-0, wall left, end cap right"]
    assert lines[6] == "9 4"
    asked = walk(call, "11-6", "undo")
    assert "taken back: 11-6" in asked.out
    assert (call.folder / "job.txt").read_text().splitlines() == lines


def test_a_walk_cut_off_while_a_value_waits_asks_it_back_again(call: Caller) -> None:
    walk(call, *HIP, "Left side 28-0 OSC both ends, drop left")
    WalkFiles(call.folder / "job.txt").hear("9 4", "2026-05-04T09:30:00+00:00")
    assert "'9 4' could answer several" in walk(call, "a").out
    assert values(call)["front-1.height"] == "112 in"


def test_undo_of_a_line_names_the_run_it_takes_away(call: Caller) -> None:
    done = walk(call, *HIP, "undo")
    assert "= BACK  no longer on the sheet\n" in done.out


def test_a_number_that_was_not_understood_is_settled_in_a_word(call: Caller) -> None:
    house = "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4, splash. 17 here"
    done = walk(call, house, "a job number")
    assert "What is “17”" in done.out
    assert done.out.endswith("Nothing open; kept in job.txt.\n")
    assert "17" in (call.folder / "job.txt").read_text()
    undone = walk(call, "undo", "nothing")
    assert undone.out.endswith("Nothing open; kept in job.txt.\n")


def test_a_note_begun_in_an_editor_is_walked_on(call: Caller) -> None:
    call.file("job.txt", "Front 42-6 end caps both ends. Drop left, w/f 24, height 9-4, drain")  # no line end
    walk(call, "Back 42-6 end caps both ends. Drop right, w/f 24, height 9-4, drain")
    lines = (call.folder / "job.txt").read_text().splitlines()
    assert [line[:4] for line in lines] == ["Fron", "Back"]
    assert set(values(call)) >= {"front.length", "back.length"}


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("-", None, "give the note a name"),
        ("job.json", b"{}", "no plain note"),
        ("job.txt", b"\xff\xfe\x00", "not UTF-8"),
    ],
)
def test_what_cannot_be_walked_is_one_sentence(
    call: Caller, name: str, content: bytes | None, says: str
) -> None:
    if content is not None:
        call.file(name, content)
    answer = call("walk", name, given="Front 42-6\n")
    assert answer.status == 2
    assert says in answer.err
    assert "Traceback" not in answer.err


def test_a_broken_journal_is_named_by_line(call: Caller) -> None:
    walk(call, "Front 42-6 end caps both ends")
    (call.folder / "job.walk.jsonl").write_text('{"kind": "sung", "when": "now"}\n')
    answer = walk(call, "Back 42-6")
    assert answer.status == 2
    assert "job.walk.jsonl, line 1" in answer.err


# Losing nothing: a line is acknowledged by its read-back, and from then on it must be there whatever happens.


class Walker:
    """A walk in a process of its own, talked to line by line."""

    def __init__(self, folder: Path) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-u", "-m", "gutterance", "walk", "job.txt"],
            cwd=folder,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            env={**os.environ, "PYTHONUTF8": "1"},
        )
        assert self._process.stdout is not None
        self._out = self._process.stdout.fileno()

    def say(self, line: str) -> None:
        assert self._process.stdin is not None
        self._process.stdin.write(f"{line}\n".encode())
        self._process.stdin.flush()

    def hear(self, words: str, seconds: float = 60) -> str:
        """What is printed up to those words."""
        heard = ""
        until = time.monotonic() + seconds
        while words not in heard:
            ready, _, _ = select.select([self._out], [], [], max(0.0, until - time.monotonic()))
            assert ready, f"never said {words!r}: {heard}"
            heard += os.read(self._out, 4096).decode()
        return heard

    def kill(self) -> None:
        self._process.send_signal(signal.SIGKILL)
        self._process.wait()
        for stream in (self._process.stdin, self._process.stdout):
            if stream is not None:
                stream.close()


def test_a_walk_killed_at_any_moment_loses_no_acknowledged_line(call: Caller) -> None:
    random = Random(4)
    acknowledged: list[str] = []
    for number in range(8):
        walker = Walker(call.folder)
        walker.hear("help tells what you can say")
        kept = f"Run {number} of the fence is 1{number} feet"
        walker.say(kept)
        walker.hear("= ")  # the read-back of that line
        acknowledged.append(kept)
        walker.say(f"and killed while saying this, time {number}")
        time.sleep(random.random() * 0.02)
        walker.kill()
    lines = (call.folder / "job.txt").read_text().splitlines()
    assert [line for line in lines if line in acknowledged] == acknowledged
    assert walk(call).status in (0, 3)
    assert set(acknowledged) <= set((call.folder / "job.txt").read_text().splitlines())


@pytest.mark.parametrize("cut", range(0, 120, 7))
def test_a_write_cut_off_anywhere_is_made_good_from_the_journal(tmp_path: Path, cut: int) -> None:
    """The machine stops while a line is written: into the journal, or after it into the note."""
    note = tmp_path / "job.txt"
    files = WalkFiles(note)
    files.say("Front 42-6 end caps both ends", "2026-05-04T09:30:00+00:00")
    files.say("Back 42-6 end caps both ends", "2026-05-04T09:31:00+00:00")
    both = note.read_text()
    # in the note: the journal has the line whole
    note.write_bytes(both.encode()[: max(len(both) - cut, both.index("Back"))])
    assert WalkFiles(note).lines() == both.splitlines()
    # in the journal: the line was never acknowledged, what was before it stands
    journal = files.journal.read_bytes()
    last = journal.rindex(b"\n", 0, -1) + 1
    files.journal.write_bytes(journal[: last + cut])
    note.write_text(both[: both.index("Back")])
    again = WalkFiles(note)
    assert again.lines()[0] == "Front 42-6 end caps both ends"
    again.say("Porch 9-0", "2026-05-04T09:32:00+00:00")
    assert WalkFiles(note).lines()[-1] == "Porch 9-0"


def test_a_full_disk_acknowledges_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    files = WalkFiles(tmp_path / "job.txt")
    files.say("Front 42-6", "2026-05-04T09:30:00+00:00")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refusal, match="make room"):
        files.say("Back 42-6", "2026-05-04T09:31:00+00:00")


def test_every_line_is_synced_before_it_is_acknowledged(
    call: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    order: list[str] = []
    really = os.fsync
    monkeypatch.setattr(os, "fsync", lambda number: (order.append("synced"), really(number))[1])
    from gutterance.cli import walking

    monkeypatch.setattr(walking, "put", lambda text: order.append(text))
    walk(call, "Front 42-6 end caps both ends")
    told = next(at for at, text in enumerate(order) if text.startswith("= FRONT"))
    assert order[:told].count("synced") >= 2  # the journal, and the note

"""Each exit status, and the one place where errors end."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from typing import Any

import pytest

from gutterance.cli import work
from gutterance.cli.statuses import ExitStatus

PLAIN = (
    "Front 40 ft, end cap both ends. Outlet at the left end, wall to fascia 24, height 9-4 to splash block\n"
    "5 inch K-style white aluminium, 2x3 downpipes\n"
)
OPEN = PLAIN.replace(", height 9-4", "") + "Didn't get the height of the front downpipe\n"


def test_0_done(call: Any) -> None:
    name = call.file("job.txt", PLAIN)
    assert call("read", name, "--out", "job.json").status == ExitStatus.DONE
    assert call("check", "job.json").status == ExitStatus.DONE
    assert call("lists", "job.json", "--out", "out").status == ExitStatus.DONE
    assert call("run", name, "--out", "out2").status == ExitStatus.DONE
    assert call("explain", "job.json", "runs.front.length").status == ExitStatus.DONE


def test_3_done_but_something_is_on_hold(call: Any) -> None:
    name = call.file("job.txt", OPEN)
    assert call("read", name, "--out", "job.json").status == ExitStatus.ON_HOLD
    assert call("check", "job.json").status == ExitStatus.ON_HOLD
    assert call("lists", "job.json", "--out", "out").status == ExitStatus.ON_HOLD
    assert call("run", name, "--out", "out2").status == ExitStatus.ON_HOLD
    assert (call.folder / "job.json").exists()
    assert list((call.folder / "out").iterdir())


def test_2_unusable(call: Any) -> None:
    assert call("read", "none.txt").status == ExitStatus.UNUSABLE


def test_1_a_defect_is_one_sentence_with_a_way_to_report_it(
    call: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("by a test")

    monkeypatch.setattr(work, "sheet_of", broken)
    name = call.file("job.txt", PLAIN)
    answer = call("read", name)
    assert answer.status == ExitStatus.DEFECT
    assert answer.err.startswith("gutterance: a defect of ours (ZeroDivisionError: by a test).")
    assert "--traceback" in answer.err
    assert len(answer.err.splitlines()) == 1
    assert (call.folder / name).read_text() == PLAIN


def test_130_stopped_from_the_keyboard() -> None:
    waiting = subprocess.Popen(
        [sys.executable, "-m", "gutterance", "length", "-"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    assert waiting.stdin is not None
    assert waiting.stdout is not None
    waiting.stdin.write(b"24 in\n")
    waiting.stdin.flush()
    # Its first answer shows that it is past start-up; then it waits for the next phrase.
    assert waiting.stdout.readline() == b"24 in\n"
    time.sleep(0.05)
    waiting.send_signal(signal.SIGINT)
    _, err = waiting.communicate(timeout=20)
    assert waiting.returncode == ExitStatus.STOPPED
    assert b"Traceback" not in err


def test_traceback_shows_the_rest_wherever_it_stands(call: Any) -> None:
    for args in (["--traceback", "read", "none.txt"], ["read", "none.txt", "--traceback"]):
        answer = call(*args)
        assert answer.status == ExitStatus.UNUSABLE
        assert "Traceback (most recent call last)" in answer.err
        assert answer.err.splitlines()[-1].startswith("gutterance: none.txt was not found")


def test_results_and_talk_go_apart(call: Any) -> None:
    name = call.file("job.txt", PLAIN.replace("9-4", "9-4½").encode("cp1252"))
    answer = call("read", name, "--out", "job.json", "--json")
    json.loads(answer.out)
    assert "read as Windows-1252" in answer.err
    assert "wrote the field sheet to job.json" in answer.err


def test_a_dash_is_standard_input_all_the_way(call: Any) -> None:
    sheet = call("read", "-", "--json", given=PLAIN)
    assert sheet.status == 0
    assert call("check", "-", "--json", given=sheet.out).status == 0
    lists = json.loads(call("lists", "-", "--json", given=sheet.out).out)
    assert lists["format"] == "gutterance-lists-1"
    both = json.loads(call("run", "-", "--json", given=PLAIN).out)
    assert both["lists"] == lists
    assert both["sheet"]["runs"] == json.loads(sheet.out)["runs"]


def test_a_reader_that_has_enough_is_no_failure(call: Any) -> None:
    call.file("job.txt", PLAIN)
    shell = f"{sys.executable} -m gutterance read job.txt --json | head -c 1; echo ${{PIPESTATUS[0]}}"
    done = subprocess.run(
        ["bash", "-c", shell], cwd=call.folder, capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout == "{0\n"
    assert done.stderr == ""


def test_what_only_the_layout_can_tell_is_asked_with_the_rest(call: Any) -> None:
    """Findings never say that nothing is open while a piece is on hold for want of a shop rule."""
    answer = call("run", "-", given=PLAIN.replace("2x3 downpipes", "7x9 downpipes"))
    assert answer.status == ExitStatus.ON_HOLD
    assert "None: nothing is missing" not in answer.out
    assert "The shop file has no pipe '7x9'" in answer.out
    assert "-> Is 7x9 the right pipe?" in answer.out


@pytest.mark.parametrize(
    ("command", "given", "status"),
    [
        ("read -", PLAIN, 0),
        ("run - --out job", PLAIN, 0),
        ("run - --out job", OPEN, 3),
        ("length -", "12-6\n" * 20_000, 0),
        ("schema", "", 0),
    ],
)
def test_a_reader_that_is_gone_before_the_first_word(
    call: Any, command: str, given: str, status: int
) -> None:
    """The status is that of the work, and the files are written whole."""
    note = call.file("given.txt", given)
    shell = f"{sys.executable} -m gutterance {command} < {note} 2> said | true; echo ${{PIPESTATUS[0]}}"
    done = subprocess.run(
        ["bash", "-c", shell], cwd=call.folder, capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout == f"{status}\n"
    assert "defect" not in (call.folder / "said").read_text()
    if "--out" in command:
        assert (call.folder / "job" / "lists.json").exists()


def test_no_colours_off_a_terminal_and_any_terminal_encoding_will_do(call: Any, call_apart: Any) -> None:
    call.file("job.txt", PLAIN.replace("9-4", "9-4½"))
    given = (call.folder / "job.txt").read_bytes()
    answer = call_apart("read", "-", given=given, FORCE_COLOR="1", TERM="xterm-256color")
    assert answer.status == 0
    assert "\x1b" not in answer.out + answer.err
    plain = call_apart("length", "9-4½", PYTHONUTF8="0", PYTHONIOENCODING="ascii", LC_ALL="C")
    assert plain.status == 0
    assert "9-4\\xbd" in plain.out


def on_a_terminal(call: Any, **environment: str) -> bytes:
    """What `read` prints where standard output is a terminal."""
    call.file("job.txt", OPEN)
    ours, theirs = os.openpty()
    kept = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "TERM")}
    reading = subprocess.Popen(
        [sys.executable, "-m", "gutterance", "read", "job.txt"],
        cwd=call.folder,
        stdout=theirs,
        env={**kept, "TERM": "xterm-256color", **environment},
    )
    os.close(theirs)
    shown = b""
    while True:
        try:
            more = os.read(ours, 65536)
        except OSError:  # Linux tells so that the other end is closed
            break
        if not more:
            break
        shown += more
    os.close(ours)
    assert reading.wait(timeout=60) == ExitStatus.ON_HOLD
    return shown


def test_colours_on_a_terminal_say_nothing_that_the_words_do_not(call: Any) -> None:
    coloured = on_a_terminal(call)
    plain = on_a_terminal(call, NO_COLOR="1")
    assert b"\x1b[" in coloured
    assert b"\x1b[" not in plain
    assert re.sub(rb"\x1b\[[0-9;]*m", b"", coloured).strip() == plain.strip()

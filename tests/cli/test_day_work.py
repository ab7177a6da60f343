"""`run` on several notes: each a job of its own, told apart from the notes of one walk-round."""

from __future__ import annotations

import csv
import json
import os
from pathlib import Path
from typing import Any

import pytest

from gutterance.cli import day_jobs, day_work
from gutterance.cli.day_jobs import HowDone, JobTask, do_job
from gutterance.cli.processes import LostError
from gutterance.cli.statuses import ExitStatus
from gutterance.lists.day import Day, DayJob
from gutterance.render.daylist import day_csv, day_text

GOOD = "7 Wren Court\nFront 42-6, end caps both ends. Drop left, w/f 24, height 9-4 to ground\n"
OPEN = "9 Sorrel Close\nFront 28-3, end caps both ends. Drop left, w/f 24, didn't get the height\n"
BROKEN = "nothing of a gutter in here\n"


def jobs_of(folder: str) -> dict[str, DayJob]:
    return {one.folder: one for one in Day.model_validate_json(Path(folder, "jobs.json").read_bytes()).jobs}


@pytest.fixture
def in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """For what is not about processes: beginning one takes a second."""

    def one_by_one(work: Any, tasks: Any, _: int) -> Any:
        yield from ((task, work(task)) for task in tasks)

    monkeypatch.setattr(day_work, "each_done", one_by_one)


def test_each_note_is_a_job_in_its_folder_and_a_bad_one_stops_none(call: Any) -> None:
    notes = [call.file("good.txt", GOOD), call.file("bad.txt", BROKEN), call.file("open.txt", OPEN)]
    notes += [call.file("empty.txt", ""), "missing.txt", call.file("sound.mp3", b"\xff\xfb\x00" * 100)]
    answer = call("run", *notes, "--out", "day", "--only", "cut,json", "--jobs", "2")
    assert answer.status == ExitStatus.UNUSABLE
    assert sorted(os.listdir("day")) == ["good", "jobs.csv", "jobs.json", "jobs.txt", "open"]
    assert sorted(os.listdir("day/good")) == ["cut-list.pdf", "findings.json", "lists.json", "sheet.json"]
    jobs = jobs_of("day")
    assert {name: one.status for name, one in jobs.items()} == {
        "good": "done", "bad": "not done", "open": "on hold",
        "empty": "not done", "missing": "not done", "sound": "not done",
    }  # fmt: skip
    assert "no run was found in bad.txt" in (jobs["bad"].wrong or "")
    assert (jobs["open"].pipes_on_hold, jobs["open"].questions) == (1, 1)
    assert jobs["good"].gutter is not None
    assert jobs["good"].gutter.inches == 510
    # the table on the screen is the one in the file, and names every job
    assert Path("day/jobs.txt").read_text(encoding="utf-8") == answer.out
    assert "2 of 6 done, 1 of them with something on hold or asked; 4 not done." in answer.out
    assert all(name in answer.out for name in jobs)
    assert all(f"{number} of 6  " in answer.err for number in range(1, 7))
    assert "Traceback" not in answer.err
    rows = list(csv.DictReader(Path("day/jobs.csv").read_text(encoding="utf-8").splitlines()))
    assert [row["job"] for row in rows] == list(jobs)
    assert (rows[0]["gutter"], rows[0]["gutter [ft]"]) == ("42' 6\"", "42.50")


def test_the_lists_are_those_of_run_on_the_note_alone(call: Any) -> None:
    """One process or two, alone or among others: the same bytes."""
    notes = [call.file("one.txt", GOOD), call.file("two.txt", OPEN)]
    for count in ("1", "2"):
        assert call("run", *notes, "--out", f"day{count}", "--jobs", count).status == ExitStatus.ON_HOLD
    for note in notes:
        name = note.removesuffix(".txt")
        call("run", note, "--out", f"alone-{name}")
        for folder in (Path("day1", name), Path("day2", name)):
            assert sorted(os.listdir(folder)) == sorted(os.listdir(f"alone-{name}"))
            for file in folder.iterdir():
                assert file.read_bytes() == Path(f"alone-{name}", file.name).read_bytes(), file
    assert Path("day1/jobs.txt").read_text() == Path("day2/jobs.txt").read_text()


def test_several_notes_without_a_folder_are_asked_about(call: Any) -> None:
    notes = [call.file("front.txt", GOOD), call.file("back.txt", OPEN)]
    answer = call("run", *notes)
    assert (answer.status, answer.out) == (2, "")
    assert "2 notes are 2 jobs: give --out a folder" in answer.err
    assert "--one-walk" in answer.err


@pytest.mark.usefixtures("in_this_process")
def test_two_notes_of_one_title_are_told_of(call: Any) -> None:
    notes = [call.file("front.txt", GOOD), call.file("back.txt", GOOD.replace("Front", "Back"))]
    answer = call("run", *notes, "--out", "day", "--only", "json")
    assert "front and back bear one title, 7 Wren Court: if they are one walk-round" in " ".join(
        answer.out.split()
    )


@pytest.mark.usefixtures("in_this_process")
def test_notes_of_one_name_do_not_meet_now_or_later(call: Any) -> None:
    for folder, text in (("mon", GOOD), ("tue", OPEN)):
        Path(folder).mkdir()
        call.file(f"{folder}/job.txt", text)
    call("run", "mon/job.txt", "--each", "--out", "day", "--only", "json")
    call("run", "tue/job.txt", "--each", "--out", "day", "--only", "json")
    answer = call("run", "mon/job.txt", "--each", "--out", "day", "--only", "json")
    assert {name: one.title for name, one in jobs_of("day").items()} == {
        "job": "7 Wren Court",
        "tue-job": "9 Sorrel Close",
    }
    for name, title in (("job", "7 Wren Court"), ("tue-job", "9 Sorrel Close")):
        assert json.loads(Path("day", name, "sheet.json").read_text())["title"] == title
    assert "9 Sorrel Close" not in answer.out
    assert "with the 1 done there before" in answer.err
    assert "9 Sorrel Close" in Path("day/jobs.txt").read_text()


@pytest.mark.usefixtures("in_this_process")
def test_a_note_given_twice_is_done_once(call: Any) -> None:
    good, other = call.file("good.txt", GOOD), call.file("other.txt", OPEN)
    answer = call("run", good, other, f"./{good}", "--out", "day", "--only", "json")
    assert "./good.txt is given twice: it is done once" in answer.err
    assert list(jobs_of("day")) == ["good", "other"]


@pytest.mark.usefixtures("in_this_process")
def test_one_job_is_not_mixed_into_a_days_folder(call: Any) -> None:
    good, other = call.file("good.txt", GOOD), call.file("other.txt", OPEN)
    call("run", good, other, "--out", "day", "--only", "json")
    before = sorted(os.listdir("day"))
    answer = call("run", good, "--out", "day")
    assert (answer.status, answer.out) == (2, "")
    assert "day holds a day's jobs: say --each" in answer.err
    assert sorted(os.listdir("day")) == before


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("-", "good.txt", "--out", "day"), "standard input is one note"),
        (("good.txt", "--each"), "--each puts the job in a folder of its own: give --out"),
        (("good.txt", "good2.txt", "--out", "good.txt"), "good.txt is a file: give --out a folder"),
        (("good.txt", "good2.txt", "--out", "day", "--only", "lunch"), "--only knows no lunch"),
        (("good.txt", "good2.txt", "--out", "day", "--paper", "napkin"), "say letter or a4"),
        (("good.txt", "good2.txt", "--out", "day", "--shop", "none.toml"), "none.toml"),
        (("good.txt", "good2.txt", "--out", "day", "--words", "none.toml"), "none.toml"),
        (("good.txt", "good2.txt", "--out", "day", "--prices", "none.csv"), "none.csv"),
        (("good.txt", "good2.txt", "--out", "day", "--first-label", "3"), "--first-label is about one job"),
        (("good.txt", "good2.txt", "--out", "other"), "other/jobs.json is no list of a day's jobs"),
    ],
)
def test_what_would_stop_all_is_said_once_before_any_is_begun(
    call: Any, args: tuple[str, ...], says: str
) -> None:
    call.file("good.txt", GOOD)
    call.file("good2.txt", GOOD)
    Path("other").mkdir()
    call.file("other/jobs.json", "mine")
    answer = call("run", *args, given=GOOD)
    assert (answer.status, answer.out) == (2, "")
    assert says in answer.err
    assert len(answer.err.splitlines()) == 1
    assert not Path("day").exists()
    assert os.listdir("other") == ["jobs.json"]


def task(folder: Path, note: str) -> JobTask:
    return JobTask(note, folder, "job", f"../{note}", HowDone(only="json"))


def test_a_defect_in_one_job_is_its_own_row(call: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object) -> None:
        raise ZeroDivisionError("by a test")

    note = call.file("good.txt", GOOD)
    monkeypatch.setattr(day_jobs, "_done", broken)
    row = do_job(task(Path("day"), note))
    assert row.status == "not done"
    assert (row.wrong or "").startswith("a defect of ours (ZeroDivisionError: by a test)")
    assert "--traceback" in (row.wrong or "")
    assert day_work.day_status([row]) == ExitStatus.DEFECT


def test_what_an_earlier_call_left_is_told_to_be_old(call: Any) -> None:
    note = call.file("good.txt", GOOD)
    assert do_job(task(Path("day"), note)).status == "done"
    call.file("good.txt", "")
    row = do_job(task(Path("day"), note))
    assert "what is in day/job is from before" in (row.wrong or "")
    assert Path("day/job/lists.json").exists()


@pytest.mark.usefixtures("in_this_process")
def test_remarks_of_the_reader_reach_the_table(call: Any) -> None:
    call.file("words.toml", "")
    note = call.file("latin.txt", GOOD.replace("Court", "Co\u00fbrt").encode("latin-1"))
    other = call.file("good.txt", OPEN)
    answer = call("run", note, other, "--out", "day", "--only", "json")
    assert "TO KNOW\n  latin: " in answer.out


@pytest.mark.parametrize(
    ("statuses", "ends"),
    [
        (["done", "done"], ExitStatus.DONE),
        (["done", "on hold"], ExitStatus.ON_HOLD),
        (["on hold", "not done"], ExitStatus.UNUSABLE),
    ],
)
def test_the_gravest_status_is_told(statuses: list[Any], ends: ExitStatus) -> None:
    jobs = [DayJob(folder="a", note="a", status=one, wrong="it is empty") for one in statuses]
    assert day_work.day_status(jobs) == ends


def test_ctrl_c_keeps_what_is_done_and_tells_it(call: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """The processes' own part is in test_processes.py; here they are replaced by calls in this one."""

    def two_then_stopped(work: Any, tasks: Any, _: int) -> Any:
        yield tasks[0], work(tasks[0])
        yield tasks[1], LostError()
        raise KeyboardInterrupt

    monkeypatch.setattr(day_work, "each_done", two_then_stopped)
    notes = [call.file(f"{name}.txt", GOOD) for name in ("a", "b", "c")]
    answer = call("run", *notes, "--out", "day", "--only", "json")
    assert answer.status == ExitStatus.STOPPED
    assert "stopped: 2 of 3 were done" in answer.err
    assert "1 of 2 done; 1 not done." in answer.out
    assert "its process was ended from outside" in answer.out
    assert sorted(os.listdir("day")) == ["a", "jobs.csv", "jobs.json", "jobs.txt"]


HOSTILE = ["=cmd()", "<script>", "\u202eabc", "🏠", "-1+1", "w" * 300, "a/b", "\\input{x}", "\x1b[31m"]


def test_titles_are_inert_in_the_table() -> None:
    jobs = [
        DayJob(folder=f"j{number}", note="n", status="done", title=title, wrong=None)
        for number, title in enumerate(HOSTILE)
    ]
    jobs.append(DayJob(folder="=x", note="n", status="not done", wrong="\x1b[31m=cmd()\u202e"))
    text = day_text(jobs)
    assert not set(text) & {"\x1b", "\u202e", "\r"}
    for row in csv.reader(day_csv(jobs).splitlines()):
        assert not any(one.startswith(("=", "+", "-", "@")) for one in row)

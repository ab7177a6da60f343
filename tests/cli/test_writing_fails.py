"""Whatever keeps a command from writing is one clear sentence, and nothing half written is left."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

NOTE = "Front 42-6, end caps both ends. Drop left, w/f 24, height 9-4 to ground\n"
NOBODY = 65534
AMEND = ("amend", "job.json", "runs.front.length", "42-7", "--by", "Ann", "--why", "measured")


def names(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, hidden ones too, with what it holds."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


def full(folder: Path, *args: str, limit: int, given: str = "") -> subprocess.CompletedProcess[str]:
    """A command whose files may have so many bytes and no more: the system stops the write itself."""
    return subprocess.run(
        [sys.executable, "-m", "gutterance", *args],
        cwd=folder,
        input=given,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONUTF8": "1", "PYTHONDONTWRITEBYTECODE": "1"},
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)),
        timeout=60,
        check=False,
    )


@pytest.mark.parametrize(
    ("args", "limit", "names_file"),
    [
        (("read", "job.txt", "--out", "job.json"), 100, "job.json"),
        (("read", "job.txt", "--explain", "job.html"), 100, "job.html"),
        (("shop", "init", "shop.toml"), 100, "shop.toml"),
        (("lists", "job.json", "--out", "out"), 3000, "out/"),
        (("run", "job.txt", "--out", "out"), 3000, "out/"),
        (AMEND, 20, "job.amendments.jsonl"),
    ],
    ids=lambda one: one[0] if isinstance(one, tuple) else "",
)
def test_a_disk_that_fills(call: Any, args: tuple[str, ...], limit: int, names_file: str) -> None:
    call.file("job.txt", NOTE)
    call("read", "job.txt", "--out", "job.json")
    (call.folder / "out").mkdir()
    call.file("out/cut-list.pdf", "the old one")
    before = names(call.folder)
    answer = full(call.folder, *args, limit=limit)
    assert answer.returncode == 2
    assert len(answer.stderr.splitlines()) == 1, answer.stderr
    assert names_file in answer.stderr
    assert "File too large" in answer.stderr
    assert "make room" in answer.stderr
    assert names(call.folder) == before


def test_a_walk_on_a_full_disk_acknowledges_nothing(call: Any) -> None:
    call.file("job.txt", NOTE)
    before = names(call.folder)
    answer = full(call.folder, "walk", "job.txt", limit=20, given="Back 28-3, end caps both ends\n")
    assert answer.returncode == 2
    assert "28' 3" not in answer.stdout
    assert "Traceback" not in answer.stderr
    assert names(call.folder) == before


def test_a_day_on_a_full_disk_tells_each_job(call: Any) -> None:
    notes = [call.file(f"{name}.txt", NOTE) for name in ("a", "b")]
    answer = full(call.folder, "run", *notes, "--out", "day", "--jobs", "1", limit=3000)
    assert answer.returncode == 2
    assert answer.stdout.count("File too large: make room") == 2
    assert "Traceback" not in answer.stderr
    assert set(names(call.folder / "day")) == {"jobs.txt", "jobs.csv", "jobs.json"}


@pytest.fixture
def ordinary_user(monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of everyone's to read, and a user who is not root, who may write anywhere."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    monkeypatch.chdir(folder)
    (folder / "job.txt").write_text(NOTE)
    was = os.geteuid()
    yield folder
    if was == 0:
        os.seteuid(0)
    shutil.rmtree(folder)


@pytest.mark.parametrize(
    "args",
    [
        ("read", "job.txt", "--out", "{}/job.json"),
        ("read", "job.txt", "--explain", "{}/job.html"),
        ("shop", "init", "{}/shop.toml"),
        ("run", "job.txt", "--out", "{}"),
        ("run", "job.txt", "--out", "{}/new"),
    ],
)
def test_a_folder_that_may_not_be_written(call: Any, ordinary_user: Path, args: tuple[str, ...]) -> None:
    free, closed = ordinary_user / "free", ordinary_user / "closed"
    free.mkdir()
    free.chmod(0o777)
    closed.mkdir()
    closed.chmod(0o555)
    os.chdir(ordinary_user)
    call(*(one.format("free") for one in args))
    shutil.rmtree(free)
    free.mkdir()
    free.chmod(0o777)
    if os.geteuid() == 0:
        os.seteuid(NOBODY)
    # the same call where it may write shows that it is the folder alone which stops it
    assert call(*(one.format("free") for one in args)).status in (0, 3)
    assert list(free.iterdir())
    answer = call(*(one.format("closed") for one in args))
    assert (answer.status, len(answer.err.splitlines())) == (2, 1)
    assert "Permission denied: give a place where you may write" in answer.err
    assert "closed" in answer.err
    assert list(closed.iterdir()) == []


def test_a_days_folder_that_may_not_be_written_is_told_before_any_job(call: Any, ordinary_user: Path) -> None:
    (ordinary_user / "day").mkdir()
    (ordinary_user / "day").chmod(0o555)
    (ordinary_user / "other.txt").write_text(NOTE)
    os.chdir(ordinary_user)
    if os.geteuid() == 0:
        os.seteuid(NOBODY)
    answer = call("run", "job.txt", "other.txt", "--out", "day")
    assert (answer.status, answer.out, len(answer.err.splitlines())) == (2, "", 1)
    assert "day cannot be written: Permission denied: give a place where you may write" in answer.err


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (
            ("read", "job.txt", "--out", "no/such/job.json"),
            "No such file or directory: make its folder first",
        ),
        (("read", "job.txt", "--explain", "no/job.html"), "No such file or directory: make its folder first"),
        (("shop", "init", "no/shop.toml"), "No such file or directory: make its folder first"),
        (("read", "job.txt", "--out", "there"), "there is a folder"),
        (("read", "job.txt", "--explain", "there"), "there is a folder"),
        (("shop", "init", "there"), "there is a folder"),
        (("run", "job.txt", "--out", "job.txt"), "job.txt is a file"),
        (("run", "job.txt", "--out", "job.txt/out"), "a part of that path is a file"),
        (("run", "job.txt", "--out", "n" * 300), "File name too long: give a shorter name"),
        (("run", "job.txt", "--out", "there"), "there/plan.svg: Is a directory: a folder of that name"),
    ],
)
def test_a_place_that_is_none(call: Any, args: tuple[str, ...], says: str) -> None:
    call.file("job.txt", NOTE)
    (call.folder / "there" / "plan.svg").mkdir(parents=True)
    before = names(call.folder)
    answer = call(*args)
    assert (answer.status, answer.out, len(answer.err.splitlines())) == (2, "", 1)
    assert says in answer.err
    assert names(call.folder) == before


def test_a_file_open_elsewhere_leaves_all_as_it_was(call: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where another program holds a file (a spreadsheet on Windows) its replacing is refused, here by us."""
    call.file("job.txt", NOTE)
    call("run", "job.txt", "--out", "out")
    call.file("job.txt", NOTE.replace("42-6", "41-6"))
    before = names(call.folder)
    really = os.replace

    def refused(source: Any, target: Any) -> None:
        if Path(target).name == "pieces.csv" and Path(source).name.endswith(".new"):
            raise PermissionError(13, "The process cannot access the file", str(source))
        really(source, target)

    monkeypatch.setattr(os, "replace", refused)
    answer = call("run", "job.txt", "--out", "out")
    assert answer.status == 2
    assert "out/pieces.csv: The process cannot access the file" in answer.err
    assert "if it is open in another program, close it there" in answer.err
    assert names(call.folder) == before

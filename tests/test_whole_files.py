"""Files are written whole or not at all, whatever stops the writing; what was there stays as it was."""

from __future__ import annotations

import errno
import os
import resource
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.whole_files import append_whole, write_files

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


def contents(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text() for path in sorted(folder.iterdir()) if path.is_file()}


def failing(call: Callable[..., Any], at: int, code: int) -> Callable[..., Any]:
    """The call, which fails the `at`-th time."""
    times = 0

    def one(*args: Any, **named: Any) -> Any:
        nonlocal times
        times += 1
        if times == at:
            raise OSError(code, os.strerror(code))
        return call(*args, **named)

    return one


@pytest.mark.parametrize(
    ("name", "at", "code"),
    [
        ("write", 1, errno.ENOSPC),
        ("write", 2, errno.ENOSPC),
        ("fsync", 2, errno.EIO),
        ("replace", 1, errno.EACCES),
        # the first is in its place already when the second, open elsewhere, cannot be replaced
        ("replace", 2, errno.EACCES),
        ("replace", 3, errno.EACCES),
    ],
)
def test_what_was_there_stays_and_nothing_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, at: int, code: int
) -> None:
    (tmp_path / "a.txt").write_text("old a")
    (tmp_path / "c.txt").write_text("old c")
    before = contents(tmp_path)
    files = {tmp_path / f"{one}.txt": f"new {one}".encode() for one in "abc"}
    monkeypatch.setattr(os, name, failing(getattr(os, name), at, code))
    with pytest.raises(OSError, match=os.strerror(code)) as raised:
        write_files(files)
    assert raised.value.filename in {str(path) for path in files}
    assert contents(tmp_path) == before
    monkeypatch.undo()
    write_files(files)
    assert contents(tmp_path) == {f"{one}.txt": f"new {one}" for one in "abc"}


def test_a_file_system_without_second_names_keeps_a_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.txt").write_text("old a")
    monkeypatch.setattr(os, "link", failing(os.link, 1, errno.EPERM))
    monkeypatch.setattr(os, "replace", failing(os.replace, 2, errno.EACCES))
    with pytest.raises(PermissionError):
        write_files({tmp_path / "a.txt": b"new a", tmp_path / "b.txt": b"new b"})
    assert contents(tmp_path) == {"a.txt": "old a"}


def test_ctrl_c_in_the_midst_puts_all_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.txt").write_text("old a")
    really, done = os.replace, []

    def stopped(source: Path, target: Path) -> None:
        really(source, target)
        done.append(target)
        if len(done) == 1:
            raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_files({tmp_path / "a.txt": b"new a", tmp_path / "b.txt": b"new b"})
    assert contents(tmp_path) == {"a.txt": "old a"}


def test_a_folder_in_the_place_of_a_file_stops_all_before_it_begins(tmp_path: Path) -> None:
    (tmp_path / "b.txt").mkdir()
    with pytest.raises(IsADirectoryError, match=r"b\.txt"):
        write_files({tmp_path / "a.txt": b"new a", tmp_path / "b.txt": b"new b"})
    assert contents(tmp_path) == {}


def test_a_link_is_written_through_and_a_long_name_can_be(tmp_path: Path) -> None:
    (tmp_path / "there.txt").write_text("old")
    (tmp_path / "link.txt").symlink_to(tmp_path / "there.txt")
    longest = tmp_path / ("n" * 255)
    write_files({tmp_path / "link.txt": b"new", longest: b"long"})
    assert (tmp_path / "link.txt").is_symlink()
    assert (tmp_path / "there.txt").read_text() == "new"
    assert longest.read_text() == "long"


@pytest.mark.parametrize("there", ["", "one\n"])
def test_what_is_added_is_added_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: str) -> None:
    file = tmp_path / "a.jsonl"
    if there:
        file.write_text(there)
    monkeypatch.setattr(os, "fsync", failing(os.fsync, 1, errno.ENOSPC))
    with pytest.raises(OSError, match=r"a\.jsonl"):
        append_whole(file, b"two\n")
    assert (file.read_text() if there else contents(tmp_path)) == (there or {})
    append_whole(file, b"two\n")
    assert file.read_text() == f"{there}two\n"


def test_a_disk_that_is_really_full_midway(tmp_path: Path) -> None:
    """The system itself stops the write: no file of the child may be longer than 1000 bytes."""
    (tmp_path / "a.txt").write_text("old a")
    program = """
import sys
from pathlib import Path
from gutterance.whole_files import append_whole, write_files
here = Path(sys.argv[1])
for call in (
    lambda: write_files({here / "a.txt": b"new a", here / "b.txt": b"b" * 5000}),
    lambda: append_whole(here / "a.txt", b"+" * 5000),
):
    try:
        call()
    except OSError as error:
        print(error.filename)
"""
    done = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path)],
        capture_output=True,
        text=True,
        check=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000)),
    )
    assert done.stdout.splitlines() == [str(tmp_path / "b.txt"), str(tmp_path / "a.txt")]
    assert contents(tmp_path) == {"a.txt": "old a"}


def test_a_small_file_system_that_fills(tmp_path: Path) -> None:
    """A file system of 64 kB, where the machine lets one be mounted apart; else a limit by the test above."""
    unshare = shutil.which("unshare")
    script = f"""
mount -t tmpfs -o size=64k none '{tmp_path}' || exit 9
printf old > '{tmp_path}/a.txt'
'{sys.executable}' - '{tmp_path}' <<'END'
import sys
from pathlib import Path
from gutterance.whole_files import write_files
here = Path(sys.argv[1])
try:
    write_files({{here / "a.txt": b"a" * 40000, here / "b.txt": b"b" * 40000}})
except OSError as error:
    print(error.strerror, Path(error.filename).name)
print(sorted(path.name for path in here.iterdir()), (here / "a.txt").read_text())
END
"""
    command = [unshare or "unshare", "--map-root-user", "--mount", "sh", "-c", script]
    done = subprocess.run(command, capture_output=True, text=True, check=False) if unshare else None
    if done is None or done.returncode != 0:
        pytest.skip("this machine lets no test mount a file system")
    assert done.stdout.splitlines() == ["No space left on device b.txt", "['a.txt'] old"]

"""Opening a note: files that are there, are not, or are too large to be one."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path

import pytest

from gutterance.notes import NoteError, open_note, read_bytes


def test_a_file_and_standard_input_are_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "job.txt"
    file.write_text("Front 42-6\n")
    assert open_note(file).lines_text() == ("Front 42-6",)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"Back 3\n")))
    note = open_note("-")
    assert (note.name, note.lines_text()) == ("standard input", ("Back 3",))


def test_a_missing_file_a_folder_and_an_impossible_name_are_refused(tmp_path: Path) -> None:
    with pytest.raises(NoteError, match=r"none\.txt was not found: check the name"):
        open_note(tmp_path / "none.txt")
    with pytest.raises(NoteError, match=r"is a folder: give a file in it\Z"):
        open_note(tmp_path)
    with pytest.raises(NoteError, match="cannot be read"):
        open_note("a\0b")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_without_rights_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "job.txt"
    file.write_text("x")
    file.chmod(0)
    with pytest.raises(NoteError, match="may not be read"):
        open_note(file)


def test_fifty_megabytes_are_refused_without_being_read_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "huge.txt"
    with file.open("wb") as opened:
        opened.truncate(50_000_000)
    asked: list[int] = []
    real = Path.open

    class Watched(io.BufferedReader):
        def read(self, size: int | None = -1, /) -> bytes:
            asked.append(-1 if size is None else size)
            return super().read(size)

    def watched_open(path: Path, *_: object) -> Watched:
        return Watched(real(path, "rb", buffering=0))  # type: ignore[arg-type]

    monkeypatch.setattr(Path, "open", watched_open)
    with pytest.raises(NoteError, match="larger than 5 MB, too large for a note"):
        read_bytes(file)
    assert asked == [5_000_001]

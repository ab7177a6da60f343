"""Amendments on disk: one file beside the sheet and its note, one JSON object a line, only ever added to.

`job.txt` and `job.json` share `job.amendments.jsonl`, so that the sheet may be made again from its note and
loses nothing. A line is on the disk before anything says so.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING

from gutterance.cli.refusals import Refusal
from gutterance.sheet.amendments import Amendment
from gutterance.whole_files import append_whole

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

ENDING = ".amendments.jsonl"


def amendments_beside(path: str | Path) -> Path:
    """The amendments' file of a sheet or a note: `job.amendments.jsonl` for `job.json` and `job.txt`."""
    path = Path(path)
    return path.with_name(path.stem + ENDING)


def amendments_of(paths: Iterable[str]) -> list[Amendment]:
    """The amendments kept beside those files, in the order they were made; standard input has none."""
    files = dict.fromkeys(amendments_beside(path) for path in paths if path != "-")
    found = [one for file in files for one in read_amendments(file)]
    return sorted(found, key=lambda one: one.when) if len(files) > 1 else found


def read_amendments(file: Path) -> list[Amendment]:
    """The amendments in a file, oldest first; none where there is no file.

    A last line without its end was being written when the power went: it was never acknowledged, and is left
    out. Raises Refusal, naming file and line, for any other line that is no amendment.
    """
    from pydantic import ValidationError

    try:
        text = file.read_bytes().decode("utf-8")
    except FileNotFoundError:
        return []
    except UnicodeDecodeError as error:
        raise Refusal(f"{file} is no longer text: mend it, or put back a copy of it") from error
    amendments = []
    for number, line in enumerate(text.split("\n")[:-1], start=1):
        if not line.strip():
            continue
        try:
            amendments.append(Amendment.model_validate(json.loads(line)))
        except (ValueError, ValidationError) as error:
            raise Refusal(
                f"{file}, line {number} is no amendment: mend that line; nothing is left out in silence"
            ) from error
    return amendments


def add_amendments(file: Path, amendments: Sequence[Amendment]) -> None:
    """Add amendments to a file, and to the disk, all or (where the disk is full) with a Refusal."""
    add_lines(file, [one.model_dump_json(exclude_none=False) for one in amendments])


def add_lines(file: Path, lines: Sequence[str]) -> None:
    """Add whole lines to a file and wait until they are on the disk.

    A half line that a power cut left at the end is cut off first: it was never acknowledged. Raises Refusal
    where it cannot be written.
    """
    if not lines:
        return
    is_new = not file.exists()
    try:
        data = "".join(f"{line}\n" for line in lines).encode("utf-8")
        append_whole(file, data, after=0 if is_new else _whole_lines(file))
        if is_new:
            sync_folder(file)
    except OSError as error:
        raise Refusal(
            f"{file} cannot be written ({error.strerror}): nothing was kept; make room or change folder"
        ) from error


def sync_folder(file: Path) -> None:
    """Wait until a new file's name is on the disk too (where the system lets a folder be synced)."""
    try:
        folder = os.open(file.parent, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(folder)
    except OSError:
        pass
    finally:
        os.close(folder)


def _whole_lines(file: Path) -> int:
    """How many bytes of a file are whole lines."""
    data = file.read_bytes()
    return len(data) if data.endswith(b"\n") else data.rfind(b"\n") + 1

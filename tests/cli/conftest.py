"""What the tests of the commands share: calling them as a shell does, in this process or one of its own."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from gutterance.cli.boundary import run

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Answer:
    """What a command left: status, standard output, standard error."""

    status: int
    out: str
    err: str


class Caller:
    """Calls `gutterance` in this process, with files in a folder of the test's own."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str], patch: pytest.MonkeyPatch) -> None:
        self.folder, self._capsys, self._patch = folder, capsys, patch
        patch.chdir(folder)

    def file(self, name: str, content: str | bytes) -> str:
        """Write a file into the folder; its name."""
        data = content.encode() if isinstance(content, str) else content
        (self.folder / name).write_bytes(data)
        return name

    def __call__(self, *args: str, given: str | bytes = b"") -> Answer:
        data = given.encode() if isinstance(given, str) else given
        self._patch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))
        self._capsys.readouterr()
        status = run(args)
        shown = self._capsys.readouterr()
        return Answer(int(status), shown.out, shown.err)


def _in_a_process_of_its_own(*args: str, given: bytes = b"", **environment: str) -> Answer:
    done = subprocess.run(
        [sys.executable, "-m", "gutterance", *args],
        input=given,
        capture_output=True,
        env={**os.environ, "PYTHONUTF8": "1", **environment},
        timeout=60,
        check=False,
    )
    return Answer(done.returncode, done.stdout.decode(), done.stderr.decode())


@pytest.fixture
def call(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Caller:
    """`gutterance`, called in a folder of the test's own."""
    return Caller(tmp_path, capsys, monkeypatch)


@pytest.fixture(scope="session")
def call_apart() -> Any:
    """`python -m gutterance`, called in a process of its own."""
    return _in_a_process_of_its_own

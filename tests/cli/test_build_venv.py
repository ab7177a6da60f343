"""What `make` does on a bare machine, with stand-ins for Python and apt-get that note their calls."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parents[2] / "tools" / "build-venv.sh"

# A Python whose venv module comes with a package of its own, as on Debian and Ubuntu.
PYTHON = """#!/bin/sh
echo "python $*" >> "$LOG"
case "$*" in
    *"version_info < "*) exit {old} ;;
    *ensurepip*) test -e "$LOG.installed" ;;
    *version_info*) echo 3.12 ;;
    "-m venv "*) mkdir -p "$3/bin"; cp "$0" "$3/bin/python" ;;
    "-m pip --version") exit 0 ;;
esac
"""
APT = '#!/bin/sh\necho "apt-get $*" >> "$LOG"\ncase "$*" in *install*) touch "$LOG.installed" ;; esac\n'


class Machine:
    def __init__(self, folder: Path, *, old: bool = False, root: bool = True) -> None:
        self.folder, self.log = folder, folder / "log"
        self.bin = folder / "bin"
        self.bin.mkdir()
        for tool in ("sh", "env", "rm", "mkdir", "cp", "touch", "pwd"):
            self.bin.joinpath(tool).symlink_to(str(shutil.which(tool)))
        self._script("python3", PYTHON.format(old=1 if old else 0))
        self._script("apt-get", APT)
        self._script("id", f"#!/bin/sh\necho {0 if root else 1000}\n")

    def _script(self, name: str, text: str) -> None:
        path = self.bin / name
        path.write_text(text)
        path.chmod(0o755)

    def build(self) -> subprocess.CompletedProcess[str]:
        environment = {"PATH": str(self.bin), "LOG": str(self.log)}
        return subprocess.run(
            [str(self.bin / "sh"), str(SCRIPT), "env"],
            cwd=self.folder,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )

    def calls(self, program: str) -> list[str]:
        return [line for line in self.log.read_text().splitlines() if line.startswith(program)]


@pytest.mark.skipif(os.name != "posix", reason="the script is for Debian and Ubuntu")
class TestOnABareMachine:
    def test_the_venv_package_of_that_python_is_installed_then_all_is_built(self, tmp_path: Path) -> None:
        machine = Machine(tmp_path)
        done = machine.build()
        assert done.returncode == 0, done.stderr
        assert machine.calls("apt-get") == [
            "apt-get update -q",
            "apt-get install -y -q --no-install-recommends python3.12-venv",
        ]
        assert "python -m venv env" in machine.calls("python")
        assert machine.calls("python")[-1] == "python -m pip install -q -e .[dev]"

    def test_what_is_there_is_not_installed_again(self, tmp_path: Path) -> None:
        machine = Machine(tmp_path)
        machine.build()
        machine.log.write_text("")
        assert machine.build().returncode == 0
        assert machine.calls("apt-get") == []
        assert "python -m venv env" not in machine.calls("python")

    def test_without_the_right_to_install_it_says_what_to_run(self, tmp_path: Path) -> None:
        done = Machine(tmp_path, root=False).build()
        assert done.returncode == 2
        assert "apt-get install python3.12-venv" in done.stderr

    def test_an_old_python_is_not_used_and_said(self, tmp_path: Path) -> None:
        done = Machine(tmp_path, old=True).build()
        assert done.returncode == 2
        assert "needs Python 3.11 or later" in done.stderr

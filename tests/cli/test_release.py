"""What a release must hold together: versions, the changelog, the shown commands, and the kept schemas."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest
import typer

from gutterance import __version__
from gutterance.cli.app import app

ROOT = Path(__file__).parents[2]


def test_one_version_everywhere() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    latest = re.search(r"^## (\S+)", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert latest is not None
    assert {project["version"], latest[1], version("gutterance")} == {__version__}


def test_every_version_of_the_changelog_says_what_alters_numbers() -> None:
    parts = re.split(r"^## ", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]
    for part in parts:
        assert "### Changes that alter numbers" in part, part.splitlines()[0]


def test_the_commands_shown_in_readme_and_docs_print_what_is_shown() -> None:
    checked = subprocess.run(
        [sys.executable, str(ROOT / "tools" / "shown_commands.py")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert checked.returncode == 0, checked.stdout + checked.stderr


@pytest.mark.parametrize("command", sorted(typer.main.get_command(app).commands))  # type: ignore[attr-defined]
def test_every_command_is_documented(command: str) -> None:
    assert f"$ gutterance {command} --help" in (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    assert f"`gutterance {command}" in (ROOT / "README.md").read_text(encoding="utf-8")


def test_make_demo_does_the_main_job_and_names_its_folder(tmp_path: Path) -> None:
    made = subprocess.run(
        ["make", f"VENV={sys.prefix}", "-o", f"{sys.prefix}/.ready", f"DEMO_OUT={tmp_path}/lists", "demo"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 0, made.stderr
    assert f"files to {tmp_path}/lists" in made.stderr
    assert len(list((tmp_path / "lists").iterdir())) >= 5


def test_the_demo_ends_as_its_help_says(call: Any) -> None:
    answer = call("demo", "--out", "there")
    assert answer.status == 3
    note = (ROOT / "examples" / "31-fennel-hill.txt").read_text(encoding="utf-8")
    assert all(line in answer.out for line in note.splitlines())
    assert list((call.folder / "there").iterdir())


def test_the_demo_house_has_all_that_the_papers_can_show(call: Any) -> None:
    """A dozen runs, a bay, a garage, a porch, a correction, an open question, a piece and a pipe on hold."""
    call("demo", "--out", "there")
    sheet = json.loads((call.folder / "there" / "sheet.json").read_text(encoding="utf-8"))
    lists = json.loads((call.folder / "there" / "lists.json").read_text(encoding="utf-8"))
    assert len(sheet["runs"]) == 12
    names = " ".join(run["name"] for run in sheet["runs"])
    assert all(part in names for part in ("bay", "garage", "porch"))
    assert "corrected" in {run["length"]["status"] for run in sheet["runs"]}
    assert sum(bool(piece["hold"]) for piece in lists["pieces"]) == 1
    assert sum(bool(pipe["hold"]) for pipe in lists["downpipes"]) == 1
    assert any(len(channel["runs"]) == 8 and channel["loop"] for channel in lists["channels"])
    assert sheet["unread"] == []
    assert "does not close" not in (call.folder / "there" / "plan.svg").read_text(encoding="utf-8")


def test_the_pictures_are_there_and_of_a_reasonable_size() -> None:
    shown = re.findall(
        r"!\[[^\]]+\]\((docs/pictures/[^)]+\.png)\)", (ROOT / "README.md").read_text(encoding="utf-8")
    )
    assert len(shown) == 2
    for name in shown:
        data = (ROOT / name).read_bytes()
        assert data.startswith(b"\x89PNG")
        assert 500 <= int.from_bytes(data[16:20]) <= 1000
        assert len(data) < 200_000


def test_what_make_needs_is_pinned() -> None:
    pinned = (ROOT / "constraints.txt").read_text(encoding="utf-8")
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["dev"]]
    names = {re.split(r"[<>=\[ ]", one)[0].lower() for one in wanted}
    pins = {line.split("==")[0].lower() for line in pinned.splitlines() if "==" in line}
    assert names <= pins
    assert "://" not in pinned


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "docs/commands.md"])
def test_every_link_and_named_place_is_there(page: str) -> None:
    path = ROOT / page
    text = re.sub(r"^```.*?^```$", "", path.read_text(encoding="utf-8"), flags=re.MULTILINE | re.DOTALL)
    links = re.findall(r"\]\(([^)#:]+)\)", text)
    named = re.findall(r"`((?:src|docs|corpus|examples|benchmarks|tests|tools)/[\w./-]*)`", text)
    for link in links:
        assert (path.parent / link).exists(), link
    for place in named:
        assert (ROOT / place).exists(), place

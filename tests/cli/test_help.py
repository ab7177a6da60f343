"""Help: kept text like the live one, each command with examples, and quick."""

from __future__ import annotations

import re
import subprocess
import sys
from typing import Any

import pytest
import typer

from gutterance.cli.app import app
from gutterance.cli.help_text import KEPT, live_help
from gutterance.cli.statuses import ExitStatus

COMMANDS = sorted(typer.main.get_command(app).commands)  # type: ignore[attr-defined]


def test_the_kept_help_is_what_the_commands_would_print() -> None:
    assert KEPT.read_text(encoding="utf-8") == live_help(), "make it new: python -m gutterance.cli.help_text"


@pytest.mark.parametrize("args", [["--help"], ["-h"], []])
def test_the_kept_help_is_printed(call_apart: Any, args: list[str]) -> None:
    answer = call_apart(*args)
    assert (answer.status, answer.out, answer.err) == (0, KEPT.read_text(encoding="utf-8"), "")


def test_every_exit_status_is_in_the_help() -> None:
    shown = KEPT.read_text(encoding="utf-8")
    for status in ExitStatus:
        assert re.search(rf"^ +{status.value} +{re.escape(status.meaning)}$", shown, re.MULTILINE)


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself_with_examples_that_fit_a_terminal(call: Any, command: str) -> None:
    answer = call(command, "--help")
    assert answer.status == 0
    assert f"Usage: gutterance {command}" in answer.out
    assert f"  gutterance {command}" in answer.out.split("Examples:")[1]
    assert max(map(len, answer.out.splitlines())) <= 80
    described = answer.out.split("\n\n")[1]
    assert len(described.split()) > 5


@pytest.mark.parametrize("command", COMMANDS)
def test_no_line_of_the_command_list_is_cut_short(command: str) -> None:
    (line,) = [line for line in live_help().splitlines() if line.startswith(f"  {command} ")]
    assert not line.endswith("...")


@pytest.mark.parametrize(
    "command", [name for name in COMMANDS if name not in ("backup", "length", "schema", "serve", "walk")]
)
def test_every_command_with_a_result_offers_json(call: Any, command: str) -> None:
    if command == "shop":  # a group: of its two, the one with a result
        assert "--json" in call(command, "check", "--help").out
    elif command != "demo":
        assert "--json" in call(command, "--help").out


# Start-up: what each call must not have loaded by the time it ends. Measured, not guessed: spaCy alone takes
# over half a second, and no crew waits for it to be told how to call a command.
# (pydantic is not among them: typer itself uses it.)
PAGES = ("fastapi", "starlette", "uvicorn", "sqlalchemy", "alembic", "jinja2", "cryptography")
HEAVY = ("spacy", "pint", "quantulum3", "numpy", "rich", "hypothesis", *PAGES)


def _loaded(args: list[str], given: bytes = b"") -> set[str]:
    code = (
        "import sys; sys.argv = ['gutterance', *sys.argv[1:]]\n"
        "from gutterance.__main__ import main\n"
        "status = main()\n"
        "print(*sorted({name.split('.')[0] for name in sys.modules}), file=sys.stderr)\n"
    )
    done = subprocess.run([sys.executable, "-c", code, *args], input=given, capture_output=True, check=True)
    return set(done.stderr.decode().splitlines()[-1].split())


@pytest.mark.parametrize(
    ("args", "never"),
    [
        (["--help"], (*HEAVY, "pydantic", "typer", "json", "re")),
        (["--version"], HEAVY),
        (["length", "--help"], HEAVY),
        (["read", "--help"], HEAVY),
        (["length", "58-6", "--json"], ("spacy", "quantulum3", "rich", *PAGES)),
        (["schema", "sheet"], ("spacy", "pint", "quantulum3", "rich")),
        (["read", "no-such-note.txt"], ("spacy", "pint", "quantulum3", "rich", *PAGES)),
    ],
    ids=" ".join,
)
def test_nothing_heavy_is_loaded_that_the_call_does_not_need(args: list[str], never: tuple[str, ...]) -> None:
    assert not _loaded(args) & set(never)

"""The benchmark that scores reading on others' cases: its verdicts, on cases made up here."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

SCRIPT = Path(__file__).parents[2] / "benchmarks" / "outside_lengths.py"


def case(kind: str, text: str, expected: list[dict[str, Any]], **more: Any) -> str:
    row = {
        "id": text,
        "source": "made up",
        "kind": kind,
        "text": text,
        "expected": expected,
        "scope": "in",
        **more,
    }
    return json.dumps(row)


def run(path: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(SCRIPT), str(path)], capture_output=True, text=True, check=False
    )


def test_each_verdict_is_counted(tmp_path: Path) -> None:
    cases = tmp_path / "cases.jsonl"
    rows = [
        case("length", "a plank of 7 ft 3 in", [{"value": "87", "inches": "87"}]),
        case("length", "about 7 ft", [{"value": "7", "inches": "84"}]),
        case("length", "a plank of 7 ft", [{"value": "8", "inches": "96"}]),
        case("number", "seventy-one", [{"value": "71"}]),
        case("number", "a few", [{"value": "3"}]),
        case("number", "ten five", [], invalid=True),
        case("range", "3 to 5", [{"value": "3"}, {"value": "5"}]),
        case("transcript", "nine cows", [], expected_text="9 cows"),
        case("number", "a dozen", [{"value": "12"}], scope="out"),
    ]
    cases.write_text("\n".join(rows), encoding="utf-8")
    done = run(cases)
    assert done.returncode == 0, done.stderr
    last = done.stdout.splitlines()[-2:]
    assert last[0].split()[-5:] == ["8", "5", "1", "1", "1"]  # cases, right, asked, missed, wrong
    assert last[1] == "right or asked: 6 of 8 = 75.0 %; out of scope: 1"


def test_a_bad_file_is_named(tmp_path: Path) -> None:
    missing = run(tmp_path / "none.jsonl")
    assert missing.returncode == 1
    assert "none.jsonl: cannot be read" in missing.stderr
    bad = tmp_path / "bad.jsonl"
    bad.write_text("\n{", encoding="utf-8")
    assert "bad.jsonl, line 2: not JSON" in run(bad).stderr


def test_other_libraries_are_held_to_the_same_cases(tmp_path: Path) -> None:
    cases = tmp_path / "cases.jsonl"
    rows = [
        case("length", "a plank of 7 ft", [{"value": "84", "inches": "84"}]),
        case("number", "71", [{"value": "71"}]),
    ]
    cases.write_text("\n".join(rows), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, str(SCRIPT), str(cases), "--beside", sys.executable],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    rows_of = {line.split()[0]: line.split()[1:] for line in done.stdout.splitlines()}
    assert rows_of["quantulum3"] == ["2", "2", "0", "0", "0"]  # cases, right, asked, missed, wrong
    assert rows_of["pint"] == ["2", "1", "0", "1", "0"]  # it reads whole expressions only
    assert rows_of["Recognizers-Text"][:2] == ["not", "there:"]

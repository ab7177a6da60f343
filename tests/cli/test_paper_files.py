"""`lists --out` with --paper and --only: what is written, and one clear error where it cannot be."""

from __future__ import annotations

import io
import os
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

NOTE = "Front 42-6, end caps both ends. Drop left, w/f 24, height 9-4 to ground\n"


def sheet(call: Any) -> str:
    call("read", call.file("front.txt", NOTE), "--out", "job.json")
    return "job.json"


def test_only_what_is_named_is_written(call: Any) -> None:
    answer = call("lists", sheet(call), "--out", "out", "--only", "cut, plan")
    assert sorted(os.listdir("out")) == ["cut-list.pdf", "plan.svg"]
    assert "bear the code" in answer.err


@pytest.mark.parametrize(("paper", "points"), [("letter", 612), ("A4", 595)])
def test_the_paper_asked_for(call: Any, paper: str, points: int) -> None:
    call("lists", sheet(call), "--out", "out", "--only", "office", "--paper", paper)
    page = PdfReader(io.BytesIO(Path("out/office.pdf").read_bytes())).pages[0]
    assert round(page.mediabox.width) == points


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("--out", "out", "--only", "cut,lunch"), "knows no lunch: name one or more of cut, install"),
        (("--out", "out", "--only", ","), "names nothing"),
        (("--out", "out", "--paper", "napkin"), "say letter or a4"),
        (("--only", "cut"), "give --out a folder"),
    ],
)
def test_what_there_is_not_is_refused(call: Any, args: tuple[str, ...], says: str) -> None:
    answer = call("lists", sheet(call), *args)
    assert (answer.status, answer.out) == (2, "")
    assert says in answer.err
    assert not Path("out").exists()

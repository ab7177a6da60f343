"""The house of docs/worked-example.md, worked by hand, against the lists, line by line."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from gutterance.checking import check_sheet
from gutterance.lists import explanations, make_lists
from gutterance.sheet.models import Sheet
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from gutterance.lists.models import Lists

TOP = Path(__file__).parents[2]
ROW = re.compile(r"\| (?P<path>[a-z]+\.[^|]+?) \| (?P<worked>[^|]*?) ?\| (?P<value>[^|]+?) \|")
ROWS = [
    (match["path"], match["value"])
    for match in ROW.finditer((TOP / "docs" / "worked-example.md").read_text(encoding="utf-8"))
]


@pytest.fixture(scope="module")
def lists() -> Lists:
    text = (TOP / "examples" / "worked-example.sheet.json").read_text(encoding="utf-8")
    sheet = Sheet.model_validate_json(text)
    return make_lists(sheet, check_sheet(sheet), load_shop())


@pytest.mark.parametrize(("path", "value"), ROWS)
def test_each_line_worked_by_hand(lists: Lists, path: str, value: str) -> None:
    found = {one.path: re.sub(r"' (?=\d+/)", "' 0 ", one.shown) for one in explanations(lists)}
    assert found[path] == value


def test_no_number_of_the_lists_was_left_out_of_the_page(lists: Lists) -> None:
    told = {path for path, _ in ROWS}
    untold = {one.path for one in explanations(lists)} - told
    # the widest gap stands in the line that counts them, and one run's lows show how all are worked
    runs = ("front", "right-side", "wing", "barn")
    assert untold == {f"hangers.{run}.{what}" for run in runs for what in ("spacing", "below")} - {
        "hangers.wing.below"
    }


def test_coil_and_order(lists: Lists) -> None:
    assert not lists.on_hold
    assert sorted(lists.machine_order) == ["barn-1", "barn-2", "front-1", "right-side-1", "wing-1"]
    # 366 1/16 + 252 1/2 + 147 11/16 + twice 504 1/2
    assert [one.total.file_text() for one in lists.coil_runs] == ["1775 1/4 in"]

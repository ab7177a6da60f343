"""The lists on disk: whole or not at all, and inert in a spreadsheet."""

from __future__ import annotations

import csv
import io
import json
import os
from typing import TYPE_CHECKING

import pytest
from houses import four_sides

from gutterance.lists import Lists, make_lists
from gutterance.render.files import put_in_place, write_lists
from gutterance.render.tables import cell, tables
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from pathlib import Path

SHOP = load_shop()


def test_every_list_is_written_and_the_json_comes_back(tmp_path: Path) -> None:
    house = four_sides()
    lists = make_lists(house, [], SHOP)
    written = write_lists(lists, house, [], tmp_path / "a" / "b", SHOP)
    assert sorted(path.name for path in written) == sorted(os.listdir(tmp_path / "a" / "b"))
    assert {path.suffix for path in written} == {".txt", ".csv", ".json", ".pdf", ".svg"}
    text = (tmp_path / "a" / "b" / "lists.json").read_text(encoding="utf-8")
    assert Lists.model_validate_json(text) == lists
    assert json.loads((tmp_path / "a" / "b" / "findings.json").read_text(encoding="utf-8")) == []


def test_a_file_in_place_of_the_folder_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("here first")
    with pytest.raises(OSError, match="exists"):
        put_in_place({"a.txt": "x"}, tmp_path / "out")
    assert (tmp_path / "out").read_text() == "here first"


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_a_cell_that_could_run_gets_a_quote(start: str) -> None:
    assert cell(f"{start}1+1") == f"'{start}1+1"


def test_no_cell_of_any_table_can_run() -> None:
    house = four_sides()
    house.runs[0].name = "=HYPERLINK(1)"
    house.defaults.colour.value = "@SUM(1)"  # type: ignore[union-attr]
    for name, text in tables(make_lists(house, [], SHOP)).items():
        rows = list(csv.reader(io.StringIO(text)))
        assert len({len(row) for row in rows}) == 1, name
        assert len(rows) > 1, name
        assert not any(value.startswith(("=", "+", "-", "@")) for row in rows for value in row), name


def test_lengths_stand_as_tape_and_as_decimal() -> None:
    rows = list(csv.DictReader(io.StringIO(tables(make_lists(four_sides(), [], SHOP))["pieces.csv"])))
    assert (rows[0]["back"], rows[0]["back [in]"]) == ("42' 6 1/8\"", "510.125")
    assert [row["order"] for row in rows] == ["1", "2", "3", "4"]

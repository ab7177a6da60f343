"""The lists on disk: whole or not at all, and inert in a spreadsheet."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING

import pytest
from houses import four_sides

from gutterance.lists import Lists, make_lists
from gutterance.render.files import put_in_place, write_lists
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from pathlib import Path

SHOP = load_shop()


def test_every_list_is_written_and_the_json_comes_back(tmp_path: Path) -> None:
    house = four_sides()
    lists = make_lists(house, [], SHOP)
    written = write_lists(lists, house, [], tmp_path / "a" / "b", SHOP)
    assert sorted(path.name for path in written) == sorted(os.listdir(tmp_path / "a" / "b"))
    kinds = {".txt", ".csv", ".json", ".pdf", ".svg", ".xlsx", ".dxf"}
    assert {path.suffix for path in written} == kinds
    text = (tmp_path / "a" / "b" / "lists.json").read_text(encoding="utf-8")
    assert Lists.model_validate_json(text) == lists
    assert json.loads((tmp_path / "a" / "b" / "findings.json").read_text(encoding="utf-8")) == []


def test_a_file_in_place_of_the_folder_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("here first")
    with pytest.raises(OSError, match="exists"):
        put_in_place({"a.txt": "x"}, tmp_path / "out")
    assert (tmp_path / "out").read_text() == "here first"

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


def test_a_failed_write_leaves_the_old_files_whole_and_nothing_aside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_in_place({"a.txt": "old a", "b.txt": "old b"}, tmp_path)

    def full(_: int) -> None:
        if (tmp_path / f".b.txt.{os.getpid()}.new").exists():
            raise OSError(28, "No space left on device", "b.txt")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        put_in_place({"a.txt": "new a", "b.txt": "new b"}, tmp_path)
    assert (tmp_path / "a.txt").read_text() == "old a"
    assert sorted(os.listdir(tmp_path)) == ["a.txt", "b.txt"]


def test_a_file_in_place_of_the_folder_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("here first")
    with pytest.raises(OSError, match="exists"):
        put_in_place({"a.txt": "x"}, tmp_path / "out")
    assert (tmp_path / "out").read_text() == "here first"

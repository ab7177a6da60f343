"""Whole sentences: every number in them accounted for, as what it is."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.tape import find_lengths, settle

if TYPE_CHECKING:
    from collections.abc import Callable
    from fractions import Fraction

ROWS = tomllib.loads((Path(__file__).parent / "sentences.toml").read_text(encoding="utf-8"))["sentence"]
FIELDS = ("run", "height", "offset")


@pytest.mark.parametrize("row", ROWS, ids=[row["said"] for row in ROWS])
def test_every_number_is_what_it_is(row: dict[str, Any], inches: Callable[[str], Fraction]) -> None:
    found = find_lengths(row["said"])
    assert len(found) == len(row["finds"]), found
    for one, wanted in zip(found, row["finds"], strict=True):
        field, _, value = wanted.partition(" ")
        if field not in FIELDS:
            assert f"{one.what or one.kind}: {one.text}" == wanted
            continue
        reading = settle(one, field)  # type: ignore[arg-type]
        assert reading is not None
        assert reading.length.inches == inches(value.removesuffix(" ?"))
        assert bool(reading.doubts) == value.endswith("?")

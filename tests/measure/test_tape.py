"""The tape language: each length by its many spellings, what is asked, and what is remembered."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from gutterance.measure.tape import find_lengths, settle

HERE = Path(__file__).parent
Inches = Callable[[str], Fraction]
ROWS = tomllib.loads((HERE / "lengths.toml").read_text(encoding="utf-8"))["length"]
CASES = [(row, said) for row in ROWS for said in row["said"]]


@pytest.mark.parametrize(("row", "said"), CASES, ids=[f"{said} [{row['field']}]" for row, said in CASES])
def test_every_spelling_reads_to_its_length(row: dict[str, Any], said: str, inches: Inches) -> None:
    found = find_lengths(said)
    assert [one.kind for one in found] in (["length"], ["bare"]), found
    reading = settle(found[0], row["field"], metric=row.get("metric", False))
    assert reading is not None
    assert reading.length.inches == inches(row["is"])
    assert reading.length.system == ("metric" if row["is"].endswith("mm") else "imperial")
    assert bool(reading.doubts) == row.get("asked", False), reading
    remembered = [length.inches for length, _ in reading.could_be]
    for other in row.get("could_be", []):
        assert inches(other) in remembered
    assert all(why for _, why in reading.could_be)
    assert reading.why

"""The field sheet's own promises: nothing misspelt is lost, a length stays exact, each value has a path."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from any_sheets import any_sheet
from hypothesis import HealthCheck, given, settings
from pydantic import ValidationError

from gutterance.measure.length import Length
from gutterance.sheet.models import LengthReading, Sheet

HOUSE: dict[str, Any] = {
    "runs": [{"id": "front", "name": "front", "length": {"value": "42 1/3 in"}}],
    "outlets": [{"id": "front-1", "run": "front", "from": "left"}],
    "downpipes": [{"id": "front-1", "outlet": "front-1", "offsets": [{"value": "80 mm"}]}],
}


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet())
def test_a_sheet_written_and_read_again_is_the_same(sheet: Sheet) -> None:
    assert Sheet.model_validate_json(sheet.model_dump_json(by_alias=True)) == sheet


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet())
def test_a_path_leads_to_the_first_reading_that_bears_it(sheet: Sheet) -> None:
    first: dict[str, Any] = {}
    for path, reading in sheet.readings():
        first.setdefault(path, reading)
    for path, reading in first.items():
        assert sheet.reading_at(path) is reading
    for path in ("runs", "runs.none.length", "totals.none", "", "defaults"):
        assert sheet.reading_at(path) is None


def test_lengths_are_exact_and_keep_their_system() -> None:
    sheet = Sheet.model_validate(HOUSE)
    assert sheet.runs[0].length is not None
    assert sheet.runs[0].length.value == Length(Fraction(127, 3), "imperial")
    # 25.4 mm to the inch, exactly: NIST Special Publication 811, appendix B.8
    offset = sheet.downpipes[0].offsets[0].value
    assert offset == Length(Fraction(800, 254), "metric")
    assert '"80 mm"' in sheet.model_dump_json()


@pytest.mark.parametrize(
    ("part", "field", "value"),
    [
        ("runs", "lenght", {"value": "42 in"}),
        ("runs", "length", {"value": "42 and a bit"}),
        ("runs", "length", {"value": 42.5}),
        ("runs", "length", {"value": "42 in", "status": "sure"}),
        ("runs", "left_end", {"value": "corner"}),
        ("outlets", "place", {"value": "right"}),
    ],
)
def test_what_a_sheet_does_not_know_is_refused(part: str, field: str, value: Any) -> None:
    changed = {**HOUSE, part: [{**HOUSE[part][0], field: value}]}
    with pytest.raises(ValidationError):
        Sheet.model_validate(changed)


@pytest.mark.parametrize(
    ("status", "settled"),
    [("read", True), ("corrected", True), ("assumed", True), ("inferred", True), ("doubtful", False)],
)
def test_lists_rest_on_nothing_in_doubt(status: str, settled: bool) -> None:
    assert LengthReading.model_validate({"value": "42 in", "status": status}).settled is settled
    assert not LengthReading.model_validate({"status": status}).settled


def test_every_reading_has_a_path_of_its_own() -> None:
    sheet = Sheet.model_validate(HOUSE)
    paths = [path for path, _ in sheet.readings()]
    assert paths == ["runs.front.length", "outlets.front-1.place", "downpipes.front-1.offsets.1"]
    assert all(sheet.reading_at(path) is reading for path, reading in sheet.readings())
    assert sheet.reading_at("runs.back.length") is None

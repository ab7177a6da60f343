"""The line a value stands on: against Python's own writer, which puts each on a line of its own."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.cli.json_places import line_of

MARK = "here it stands"
PLAIN = st.none() | st.integers() | st.text(max_size=8) | st.sampled_from(['"', "{", "]", ",\n", "\\"])
ANYTHING = st.recursive(
    PLAIN,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=12,
)


@given(ANYTHING, st.lists(st.text(max_size=5) | st.integers(0, 3), max_size=5), st.data())
def test_each_value_is_found_on_its_line(beside: Any, steps: list[int | str], data: st.DataObject) -> None:
    """The reference is `json.dumps` with an indent: the marked value's line can be looked up in its text."""
    value: Any = MARK
    for step in reversed(steps):
        if isinstance(step, int):
            value = [beside] * step + [value] + [beside] * data.draw(st.integers(0, 2))
        else:
            value = {f"{step}before": beside, step: value, f"{step}after": beside}
    text = json.dumps(value, indent=data.draw(st.integers(0, 3)))
    assert MARK in text.splitlines()[line_of(text, steps) - 1]


@pytest.mark.parametrize("steps", [["a", "b"], ["a", 7], ["a", 0, "c"]])
def test_what_is_not_there_is_looked_for_where_it_should_be(steps: list[int | str]) -> None:
    assert line_of('{\n "x": 1,\n "a": [\n  0\n ]\n}', steps) in (3, 4)


def test_a_fault_of_a_sheet_is_told_with_its_line(call: Any) -> None:
    sheet = {"format": "gutterance-sheet-1", "runs": [{"id": "front", "name": "front", "lenght": {}}]}
    call.file("job.json", json.dumps(sheet, indent=1))
    answer = call("check", "job.json")
    assert answer.status == 2
    assert answer.err.startswith("gutterance: job.json, line 7: runs.front.lenght: unknown field 'lenght'")

"""Numbers that are no lengths, and texts with no number at all."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from gutterance.measure.numerals import every_numeral
from gutterance.measure.tape import find_lengths, read_lengths, settle

DATA = tomllib.loads((Path(__file__).parent / "others.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize(("text", "what", "span"), DATA["others"])
def test_it_is_no_length(text: str, what: str, span: str) -> None:
    found = find_lengths(text)
    assert [(one.kind, one.what, one.text) for one in found] == [("other", what, span)]
    for field in ("run", "height", "wall to fascia", "offset", "none"):
        assert settle(found[0], field) is None
        assert settle(found[0], field, metric=True) is None


@pytest.mark.parametrize("text", DATA["nothing"])
def test_there_is_no_number(text: str) -> None:
    assert find_lengths(text) == []
    assert every_numeral(text) == []
    assert read_lengths(text, "run") == []

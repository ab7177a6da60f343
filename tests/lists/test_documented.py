"""docs/lists.md names every field of the lists and every finding that only the layout or the stock makes."""

from __future__ import annotations

import re
from pathlib import Path

from any_sheets import any_sheet
from hypothesis import HealthCheck, given, settings

from gutterance.layout import lay_out
from gutterance.layout.codes import LAYOUT_CODES
from gutterance.lists import day, drainage_models, models
from gutterance.lists.drainage import FINDING_CODES
from gutterance.sheet.models import Model, Sheet
from gutterance.shop import load_shop
from gutterance.stock.codes import STOCK_CODES

TEXT = (Path(__file__).parents[2] / "docs" / "lists.md").read_text(encoding="utf-8")
SHOP = load_shop()


def test_every_field_is_named() -> None:
    told = set(re.findall(r"`([a-z0-9_-]+)`", TEXT))
    modules = (models, drainage_models, day)
    found = [one for module in modules for one in vars(module).values()]
    kinds = [one for one in found if isinstance(one, type) and issubclass(one, Model)]
    own = [one for one in kinds if one.__module__ in {module.__name__ for module in modules}]
    assert len(own) > 10
    assert {field for one in own for field in one.model_fields} <= told


def test_every_code_is_told_of_with_its_meaning() -> None:
    for code, means in {**LAYOUT_CODES, **FINDING_CODES, **STOCK_CODES}.items():
        assert f"| `{code}` | {means.split(';')[0]}" in TEXT


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet())
def test_the_layout_makes_no_other_findings(house: Sheet) -> None:
    assert {one.code for one in lay_out(house, [], SHOP).findings} <= set(LAYOUT_CODES)

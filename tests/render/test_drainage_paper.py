"""The drainage check on paper: every figure with its clause, inside the width; or what is missing, alone."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest
from any_sheets import any_sheet
from houses import outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings

from gutterance.drainage.asked import RainAsked
from gutterance.lists import make_lists
from gutterance.render.plain import WIDTH
from gutterance.render.spreadsheet.csv_text import csv_text
from gutterance.render.spreadsheet.tables import tables
from gutterance.render.text import drainage_check
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from gutterance.lists.models import Lists
    from gutterance.sheet.models import Sheet

SHOP = load_shop()
EAVE = sheet(
    [run("eave", "480 in", roof_run=reading("180 in"), roof_pitch=reading("6/12"))],
    [outlet("eave-1", "eave", "right", "120 in")],
    [pipe("eave-1")],
)


def paper(house: Sheet, asked: RainAsked | None) -> str:
    return drainage_check(make_lists(house, [], SHOP, asked), SHOP)


def squeezed(text: str) -> str:
    return " ".join(text.split())


def test_area_flow_capacity_and_how_full_stand_with_method_and_clause() -> None:
    text = squeezed(paper(EAVE, RainAsked("EN 12056-3", "6 in/h")))
    assert "from the left: eave 30' 0\" x roof run 15' 0\" = 450 ft², counts 563 ft²" in text
    assert "in all 750 ft²: 46.8 gpm" in text
    assert 'gutter left 5" K-style 30\' 0" 35.1 gpm' in text
    assert "EN 12056-3:2000, 5.1.4, 5.1.6, Table 6" in text
    assert "EN 12056-3:2000, 6.1.1, Table 8" in text
    assert "Rainfall: 6 in/h (152.4 mm/h), as given" in text
    assert "Cross-check, no capacity: Manning's formula" in text
    assert "checked against the local code" in text
    assert "a person licensed" in text


def test_metric_jobs_are_in_litres_and_square_metres() -> None:
    house = EAVE.model_copy(deep=True)
    house.defaults.units = "metric"
    text = squeezed(paper(house, RainAsked("EN 12056-3", "150 mm/h")))
    assert "in all 69.7 m²: 2.90 l/s" in text
    assert "Rainfall: 150 mm/h (5.906 in/h)" in text
    assert "gpm" not in text


def test_a_value_from_memory_says_so() -> None:
    text = squeezed(paper(EAVE, RainAsked("metal trade", "6 in/h")))
    assert "the formula is from memory, borne out by a second source" in text
    older = squeezed(paper(EAVE, RainAsked("IPC 2012", "3 in/h")))
    assert "from memory, borne out by a second source or formula" in older


def test_too_much_rain_stands_on_top_with_what_would_mend_it() -> None:
    text = squeezed(paper(EAVE, RainAsked("EN 12056-3", "9 in/h")))
    assert text.index("TOO MUCH RAIN: eave-1") < text.index("OUTLET eave-1")
    assert "> outlet hole: a bigger pipe and hole, 4x5: 80 % full" in text
    assert "one more outlet at the far end of the gutter to the left" in text


@pytest.mark.parametrize("asked", [None, RainAsked("IPC 2015"), RainAsked(rainfall="6 in/h")])
def test_what_is_missing_and_nothing_else(asked: RainAsked | None) -> None:
    lines = paper(EAVE, asked).splitlines()
    assert lines[2] == "Not worked out. Missing:"
    assert all(line.startswith(("  - ", "    ")) for line in lines[3:])
    assert "OUTLET" not in "".join(lines)


def drainage_csv(lists: Lists) -> str:
    return next(csv_text(table) for table in tables(lists) if table.name == "drainage")


def test_the_table_has_a_row_for_each_part() -> None:
    rows = list(
        csv.DictReader(
            io.StringIO(drainage_csv(make_lists(EAVE, [], SHOP, RainAsked("metal trade", "6 in/h"))))
        )
    )
    assert [(row["part"], row["side"]) for row in rows] == [
        ("gutter", "left"),
        ("gutter", "right"),
        ("downpipe", ""),
    ]
    assert rows[-1]["full [%]"] == "55"
    assert rows[0]["length"] == "30' 0\""


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet())
def test_any_job_stays_inside_the_paper_and_cannot_act(house: Sheet) -> None:
    house.runs = [one.model_copy(update={"name": "\x1b[31m=cmd()‮\r\n<script>"}) for one in house.runs]
    shop = SHOP.model_copy(update={"rain": SHOP.rain.model_copy(update={"roof_run": SHOP.pieces.carry_each})})
    lists = make_lists(house, [], shop, RainAsked("EN 12056-3", "6 in/h", roof_pitch="6/12"))
    text = drainage_check(lists, shop)
    assert all(len(line) <= WIDTH for line in text.splitlines())
    assert "\x1b" not in text
    assert "‮" not in text
    for row in csv.reader(io.StringIO(drainage_csv(lists))):
        assert not any(cell.startswith(("=", "+", "-", "@")) for cell in row)

"""docs/methods.md: every worked example on the page is worked here, to the page's own tolerance."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from gutterance.drainage import areas, en12056, manning, metal_trade, plumbing_codes, units
from gutterance.drainage.sections import GutterSection, PipeSection
from gutterance.measure import pitches

PAGE = (Path(__file__).parents[2] / "docs" / "methods.md").read_text(encoding="utf-8")
ROW = re.compile(
    r"^\| (?P<id>[A-Z]{2}-\d\d) \| `(?P<worked>.+?)` \| (?P<value>[^|]+) "
    r"\| (?P<within>[^|]+) \| (?P<source>[^|]+) \|$",
    re.MULTILINE,
)
ROWS = [match.groupdict() for match in ROW.finditer(PAGE)]

# Every published check value that a routine here covers. Not here: EN-16 (a withdrawn standard), FL-07
# (walls), MN-06, RF-01 to RF-05 (beside their modules), RF-04 (a list of cities: rainfall is the user's).
NUMBERS = {
    "EN": range(1, 16),
    "DP": range(1, 11),
    "GT": range(1, 9),
    "FL": (1, 2, 3, 4, 5, 6, 8, 9, 10),
    "MN": range(1, 6),
    "UN": (1,),
}
COVERED = [f"{kind}-{number:02}" for kind, numbers in NUMBERS.items() for number in numbers]


def box(width: float, depth: float) -> GutterSection:
    return GutterSection("box", "trapezoid", Fraction(width), Fraction(width), Fraction(depth))


def half_round(diameter: float) -> GutterSection:
    return GutterSection("half round", "half round", Fraction(diameter), Fraction(0), Fraction(diameter) / 2)


def pipe(size: str) -> PipeSection:
    if "round" in size:
        wide = sum(map(Fraction, size.removesuffix(" in round").split()), Fraction(0))
        return PipeSection(size, True, wide, wide)
    out, along = map(Fraction, size.split("x"))
    return PipeSection(size, False, along, out)


def names() -> dict[str, Any]:
    found: dict[str, Any] = {"Fraction": Fraction, "box": box, "half_round": half_round, "pipe": pipe}
    found.update(b=4.5 ** (3 / 8), y=0.878441)
    for module in (areas, en12056, manning, metal_trade, plumbing_codes, units, pitches):
        found.update({name: value for name, value in vars(module).items() if not name.startswith("_")})
    return found


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['id']} {row['worked']}" for row in ROWS])
def test_each_worked_example(row: dict[str, str]) -> None:
    found = eval(row["worked"], names())
    value = row["value"].strip()
    if value in ("yes", "no"):
        assert found is (value == "yes")
        return
    within = row["within"].strip()
    if within == "exact":
        assert float(found) == pytest.approx(float(value), rel=1e-9)
    elif within.endswith("%"):
        assert float(found) == pytest.approx(float(value), rel=float(within.removesuffix("%")) / 100)
    else:
        assert float(found) == pytest.approx(float(value), abs=float(within))


def test_every_published_value_that_is_covered_stands_on_the_page() -> None:
    assert sorted({row["id"] for row in ROWS}) == sorted(COVERED)
    assert len(ROWS) == sum(PAGE.count(f"\n| {kind}-") for kind in NUMBERS)


def test_every_example_names_its_source() -> None:
    assert all(row["source"].strip() for row in ROWS)

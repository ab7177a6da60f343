"""The plan as DXF, opened again with ezdxf: no audit errors, true scale, units, layers, inert words."""

from __future__ import annotations

import io
import math
from typing import TYPE_CHECKING

import ezdxf.units
import pytest
from any_sheets import any_sheet
from ezdxf import recover
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings
from random_houses import random_house
from titles import TITLES

from gutterance.checking import check_sheet
from gutterance.lists import make_lists
from gutterance.render.dxf import plan_dxf
from gutterance.render.dxf.paper import LAYERS
from gutterance.render.plain import short, tape
from gutterance.render.sheet_code import sheet_code
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from ezdxf.document import Drawing

    from gutterance.lists.models import Lists
    from gutterance.sheet.models import Sheet

SHOP = load_shop()


def made(house: Sheet) -> tuple[Lists, Drawing]:
    lists = make_lists(house, check_sheet(house), SHOP)
    doc, audit = recover.read(io.BytesIO(plan_dxf(lists, house)))
    assert not audit.errors
    assert not audit.fixes
    return lists, doc


def texts(doc: Drawing, layer: str) -> list[str]:
    return [one.plain_text() for one in doc.modelspace().query(f'TEXT[layer=="{layer}"]')]


def lengths(doc: Drawing, layer: str) -> list[float]:
    return sorted(
        (one.dxf.end - one.dxf.start).magnitude for one in doc.modelspace().query(f'LINE[layer=="{layer}"]')
    )


HOUSES = [four_sides(), *map(random_house, (1, 3, 7, 12, 20))]


@pytest.mark.parametrize("house", HOUSES)
def test_every_run_is_as_long_as_it_was_measured(house: Sheet) -> None:
    _, doc = made(house)
    known = [
        one.length.value for one in house.runs if one.length is not None and one.length.value is not None
    ]
    assert lengths(doc, "Gutter") == pytest.approx(sorted(float(one.inches) for one in known), abs=1e-6)
    assert len(lengths(doc, "Gutter length not known")) == len(house.runs) - len(known)
    said = texts(doc, "Lengths")
    for one in known:
        assert any(text.startswith(tape(one)) for text in said)
    assert sum(text.startswith("length ?") for text in said) == len(house.runs) - len(known)


@pytest.mark.parametrize("house", HOUSES)
def test_outlets_and_falls_stand_where_the_lists_have_them(house: Sheet) -> None:
    lists, doc = made(house)
    falls = [one for one in lists.falls if one.what.startswith("outlet ") and one.at is not None]
    circles = list(doc.modelspace().query('CIRCLE[layer=="Outlets"]'))
    assert len(circles) >= len(falls)
    for one in falls:
        if one.below_high_point is not None and one.below_high_point.inches:
            assert f"low {short(one.below_high_point)}" in texts(doc, "Falls")
    gutters = [(one.dxf.start, one.dxf.end) for one in doc.modelspace().query("LINE")
               if one.dxf.layer.startswith("Gutter")]  # fmt: skip
    for circle in circles:
        middle = circle.dxf.center
        assert any(
            abs((middle - start).magnitude + (end - middle).magnitude - (end - start).magnitude) < 1e-6
            for start, end in gutters
        )


def test_a_plain_house_closes_and_its_outlets_are_six_inches_from_its_corners() -> None:
    _, doc = made(four_sides())
    ends = [(one.dxf.start, one.dxf.end) for one in doc.modelspace().query('LINE[layer=="Gutter"]')]
    for (_, end), (start, _) in zip(ends, ends[1:] + ends[:1], strict=True):
        assert end.isclose(start, abs_tol=1e-6)
    corners = [start for start, _ in ends]
    for circle in doc.modelspace().query('CIRCLE[layer=="Outlets"]'):
        assert min((circle.dxf.center - one).magnitude for one in corners) == pytest.approx(6, abs=0.1)
    assert not lengths(doc, "Walls do not meet")
    # the house lies to the left of the walk: the area by the shoelace formula is above nothing
    area = sum(a.x * b.y - b.x * a.y for a, b in ends) / 2
    assert area == pytest.approx(510 * 313.5)


def test_the_downpipe_stands_at_the_wall() -> None:
    _, doc = made(four_sides())
    assert lengths(doc, "Downpipes") == pytest.approx([24] * 4)


def test_metric_jobs_are_in_millimetres() -> None:
    defaults = {"gutter_size": reading("125 mm"), "downpipe_size": reading("80 mm round"), "units": "metric"}
    house = sheet(
        [run("front", "12345 mm", "cap out"), run("side", "4005.5 mm", "out cap")],
        [outlet("front-1", "front", "left")],
        [pipe("front-1", "600 mm", "2850 mm")],
        defaults=defaults,
    )
    _, doc = made(house)
    assert (doc.units, doc.header["$MEASUREMENT"]) == (ezdxf.units.MM, 1)
    assert lengths(doc, "Gutter") == pytest.approx([4005.5, 12345])
    assert lengths(doc, "Downpipes") == pytest.approx([600])
    _, doc = made(four_sides())
    assert (doc.units, doc.header["$MEASUREMENT"]) == (ezdxf.units.IN, 0)


def test_walls_that_do_not_meet_are_joined_by_a_line_of_their_gap() -> None:
    house = four_sides()
    house.runs[0].length.value = type(house.runs[0].length.value)(522)  # type: ignore[union-attr, misc, arg-type]
    _, doc = made(house)
    assert lengths(doc, "Walls do not meet") == pytest.approx([12])


@pytest.mark.parametrize("house", HOUSES)
def test_everything_is_on_a_named_layer_and_the_title_and_code_are_there(house: Sheet) -> None:
    lists, doc = made(house)
    assert {one.dxf.layer for one in doc.modelspace()} <= set(LAYERS)
    assert all(name in doc.layers for name in LAYERS)
    notes = " ".join(texts(doc, "Notes"))
    assert sheet_code(house, lists) in notes
    assert (house.title or "") in notes
    assert all(math.isfinite(part) for one in doc.modelspace().query("TEXT") for part in one.dxf.insert)


@pytest.mark.parametrize("title", TITLES)
def test_a_title_is_words_and_nothing_else(title: str) -> None:
    house = four_sides()
    house.title = title
    house.runs[0].name = title or "front"
    _, doc = made(house)
    for one in doc.modelspace().query("TEXT"):
        raw = one.dxf.text
        assert not any(ord(sign) < 32 for sign in raw)
        # what the library makes of the text's codes is the same words: there are none
        assert one.plain_text() == raw.replace("^ ", "^")
        assert "%%" not in raw
        assert "\\U+" not in raw
    assert not doc.modelspace().query("MTEXT INSERT IMAGE OLE2FRAME")


def test_the_same_job_gives_the_same_bytes() -> None:
    house = random_house(7)
    lists = make_lists(house, [], SHOP)
    assert plan_dxf(lists, house) == plan_dxf(lists, house)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(any_sheet())
def test_any_sheet_can_be_drawn(house: Sheet) -> None:
    made(house)

"""The office's CSV and workbook, read back: lengths held against lists.json, formulas worked out anew.

No words of a note stand in them as anything that a spreadsheet would run.
"""

from __future__ import annotations

import csv
import io
import re
from decimal import Decimal
from fractions import Fraction
from itertools import chain
from typing import TYPE_CHECKING, Any
from zipfile import ZipFile

import openpyxl
import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings
from random_houses import random_house
from titles import TITLES

from gutterance.checking import check_sheet
from gutterance.lists import make_lists
from gutterance.lists.pipe_cutting import cuts_of
from gutterance.lists.price_items import price_items
from gutterance.lists.quote import quote
from gutterance.render.files import write_lists
from gutterance.render.plain import tape
from gutterance.render.sheet_code import sheet_code
from gutterance.render.spreadsheet.csv_text import cell, csv_text
from gutterance.render.spreadsheet.quantities import quantities_table
from gutterance.render.spreadsheet.tables import tables
from gutterance.render.spreadsheet.workbook import workbook
from gutterance.shop import load_shop
from gutterance.shop.prices import read_prices

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from openpyxl.worksheet.worksheet import Worksheet

    from gutterance.lists.models import Lists
    from gutterance.measure.length import Length
    from gutterance.sheet.models import Sheet
    from gutterance.shop.prices import PriceList

SHOP = load_shop()
HEAD = 6
PRICES = """item,unit,price
gutter 5 in K-style,ft,2.15
rivet,box of 250,12.5
sealant,tube,8.005
splash block,each,0
"""
RATES = """
[quote]
currency = "CAD"
hour = "54.50"
markup_percent = "15"
tax_percent = "13"
[[labour]]
work = "hang"
for_each = "ft of gutter"
hours = "0.07"
"""
STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def made(house: Sheet) -> Lists:
    return make_lists(house, check_sheet(house), SHOP)


def opened(lists: Lists, house: Sheet, prices: PriceList | None = None, *, values: bool = False) -> Any:
    data = workbook(lists, quote(lists, SHOP, prices), sheet_code(house, lists))
    return openpyxl.load_workbook(io.BytesIO(data), data_only=values)


def rows_of(page: Worksheet) -> list[dict[str, Any]]:
    head = [one.value for one in page[HEAD]]
    return [dict(zip(head, row, strict=True)) for row in page.iter_rows(min_row=HEAD + 1, values_only=True)]


def held_house() -> Sheet:
    return sheet(
        [
            run("front", "1200 3/16 in", "out out"),
            {**run("right side", None, "out cap"), "length": reading("300 1/2 in", "doubtful")},
            run("porch", "152 in", "wall cap"),
            run("shed", None, "cap cap"),
        ],
        [outlet("front-1", "front", "left"), outlet("front-2", "front", "right"), outlet("porch-1", "porch")],
        [pipe("front-1"), pipe("front-2", "24 in", None), pipe("porch-1", "14 in", "300 in")],
    )


def metric_house() -> Sheet:
    defaults = {"gutter_size": reading("125 mm"), "downpipe_size": reading("80 mm round"), "units": "metric"}
    return sheet(
        [run("front", "12345 mm", "cap out"), run("side", "4005.5 mm", "out cap")],
        [outlet("front-1", "front", "left")],
        [pipe("front-1", "600 mm", "2850 mm")],
        defaults=defaults,
    )


def check_lengths(lists: Lists, page: Callable[[str], list[dict[str, Any]]]) -> int:
    """Every length of the lists stands in its row, as words and as a number; how many were looked at."""
    unit = "mm" if lists.units == "metric" else "in"
    seen = 0

    def same(row: dict[str, Any], name: str, length: Length | None) -> None:
        nonlocal seen
        words, number = row[name] or "", row[f"{name} [{unit}]"]
        if length is None:
            assert words == ""
            assert number in (None, "")
            return
        assert words.lstrip("'") == tape(length), (name, row)
        exact = length.mm if unit == "mm" else length.inches
        assert Fraction(str(number)) == exact if " " not in str(number) else True, (name, row)
        seen += 1

    for row, one in zip(page("Pieces"), lists.pieces, strict=True):
        assert (row["piece"], bool(row["on hold"])) == (one.id, bool(one.hold))
        for name, length in (("back", one.back), ("front", one.front), ("coil", one.coil),
                             ("blank", one.blank), ("tab left", one.left_tab),
                             ("tab right", one.right_tab)):  # fmt: skip
            same(row, name, length)
    holes = [(piece, hole) for piece in lists.pieces for hole in piece.outlets]
    for row, (_, hole) in zip(page("Holes"), holes, strict=True):
        same(row, "from left", hole.from_left)
        same(row, "from right", hole.from_right)
        same(row, "on the blank from left", hole.blank_from_left or hole.from_left)
    for row, fall in zip(page("Falls"), lists.falls, strict=True):
        same(row, "at", fall.at)
        same(row, "low by", fall.below_high_point)
    marks = [pair for one in lists.hangers for pair in zip(one.at, one.below, strict=True)]
    for row, (at, below) in zip(page("Hangers"), marks, strict=True):
        same(row, "at", at)
        same(row, "low by", below)
    for row, down in zip(page("Downpipes"), lists.downpipes, strict=True):
        for name, length in (("gooseneck", down.gooseneck), ("drop", down.drop),
                             ("wall pipe", down.wall_pipe), ("tail", down.tail)):  # fmt: skip
            same(row, name, length)
        assert all(tape(strap) in (row["straps up from foot"] or "") for strap in down.straps)
    parts = [(length, part) for down in lists.downpipes for length, part in cuts_of(down)]
    for row, (length, part) in zip(page("Pipe parts"), parts, strict=True):
        assert row["part"] == part
        same(row, "cut", length)
    cuts = [(one, cut) for one in lists.pipe_cuts for cut in one.cuts]
    for row, (stock, length) in zip(page("Pipe cuts"), cuts, strict=True):
        same(row, "stock", stock.stock)
        same(row, "cut", length)
        same(row, "left over", stock.left_over)
    for row, coil in zip(page("Coils"), lists.coil_runs, strict=True):
        for name, length in (("takes", coil.total), ("lost", coil.lost), ("left over", coil.left_over),
                             ("to have", coil.order)):  # fmt: skip
            same(row, name, length)
    for row, item in zip(page("Hardware"), lists.hardware, strict=True):
        told = (row["item"], int(row["count"]), int(row["spare"]), int(row["of these on hold"]))
        assert told == (item.item, item.count, item.spare, item.on_hold)
    return seen


HOUSES = [four_sides(), held_house(), metric_house(), *map(random_house, (3, 7, 20))]


@pytest.mark.parametrize("house", HOUSES)
def test_every_length_is_in_the_workbook_as_words_and_as_number(house: Sheet) -> None:
    lists = made(house)
    book = opened(lists, house)
    assert check_lengths(lists, lambda name: rows_of(book[name]) if name in book.sheetnames else []) > 40


@pytest.mark.parametrize("house", HOUSES)
def test_every_length_is_in_the_csv_as_words_and_as_number(house: Sheet) -> None:
    lists = made(house)
    files = {table.title: list(csv.DictReader(io.StringIO(csv_text(table)))) for table in tables(lists)}
    assert check_lengths(lists, lambda name: files[name]) > 40


def test_a_changed_length_would_be_missed() -> None:
    house = four_sides()
    lists = made(house)
    book = opened(lists, house)
    back = lists.pieces[0].back
    assert back is not None
    lists.pieces[0].back = type(back)(back.inches + Fraction(1, 16))
    with pytest.raises(AssertionError):
        check_lengths(lists, lambda name: rows_of(book[name]))


def worked_out(page: Worksheet, formula: str) -> Any:
    """A formula of the few functions that ours use, worked out in decimals from the cells it names."""

    def value(at: str) -> Any:
        content = page[at.replace("$", "")].value
        if isinstance(content, str) and content.startswith("="):
            return worked_out(page, content)
        return content if content is None or isinstance(content, str) else Decimal(str(content))

    def span(first: str, last: str) -> list[Any]:
        return [value(one.coordinate) for row in page[f"{first}:{last}"] for one in row]

    def numbers(*given: Any) -> list[Decimal]:
        flat = chain.from_iterable(one if isinstance(one, list) else [one] for one in given)
        return [one for one in flat if isinstance(one, Decimal)]

    def half_up(number: Decimal, places: int) -> Decimal:
        return number.quantize(Decimal(1).scaleb(-places), "ROUND_HALF_UP")

    names = {
        "SUM": lambda *given: sum(numbers(*given), Decimal(0)),
        "COUNT": lambda *given: len(numbers(*given)),
        "COUNTIF": lambda given, what: sum(one == what for one in given),
        "ISNUMBER": lambda one: isinstance(one, Decimal),
        "ROUND": half_up,
        "span": span,
        "value": value,
    }
    text = formula.removeprefix("=")
    text = re.sub(r"(\$?[A-Z]\d+):(\$?[A-Z]\d+)", r'span("\1","\2")', text)
    text = re.sub(r'(?<!")\$?\b([A-Z]\d+)\b(?!")', r'value("\1")', text)
    if text.startswith("IF("):
        test, then, other = split_arguments(text.removeprefix("IF(").removesuffix(")"))
        chosen = then if eval(test.replace(")=0", ")==0"), {}, names) else other
        return eval(chosen, {}, names)
    return eval(text, {}, names)


def split_arguments(text: str) -> list[str]:
    out, deep, quoted = [""], 0, False
    for one in text:
        quoted ^= one == '"'
        deep += (one == "(") - (one == ")")
        if one == "," and deep == 0 and not quoted:
            out.append("")
        else:
            out[-1] += one
    return out


@pytest.mark.parametrize("house", [four_sides(), held_house(), random_house(7)])
@pytest.mark.parametrize("rates", ["", RATES])
@pytest.mark.parametrize("priced", [True, False])
def test_formulas_give_what_is_kept_beside_them(
    house: Sheet, rates: str, priced: bool, tmp_path: Path
) -> None:
    (tmp_path / "shop.toml").write_text(rates, encoding="utf-8")
    shop = load_shop(tmp_path / "shop.toml")
    lists = make_lists(house, check_sheet(house), shop)
    made_of = quote(lists, shop, read_prices(PRICES) if priced else None)
    data = workbook(lists, made_of, "AAA-AAA")
    formulas = openpyxl.load_workbook(io.BytesIO(data))["Quantities"]
    kept = openpyxl.load_workbook(io.BytesIO(data), data_only=True)["Quantities"]
    count = 0
    for row in formulas.iter_rows():
        for one in row:
            if isinstance(one.value, str) and one.data_type == "f":
                value = kept[one.coordinate].value
                anew = worked_out(formulas, one.value)
                assert (Decimal(str(value)) if not isinstance(value, str) else value) == anew, one.coordinate
                count += 1
    assert count >= 2 * len(made_of.lines) + 5
    sums = made_of.sums()
    in_all = next(row for row in kept.iter_rows(values_only=True) if row[1] == "in all")
    assert in_all[10] == ("no price" if sums.total is None else pytest.approx(float(sums.total), abs=1e-9))


def test_a_price_filled_in_later_is_reckoned_with() -> None:
    house = four_sides()
    lists = made(house)
    book = opened(lists, house, read_prices("item,unit,price\nsealant,tube,8\n"))
    page = book["Quantities"]
    items = {page.cell(row, 2).value: row for row in range(HEAD + 1, page.max_row + 1)}
    total = page.cell(items["in all"], 11).value
    assert worked_out(page, total) == 8
    page.cell(items["splash block"], 9).value = 2.5
    assert worked_out(page, total) == 8 + 4 * Decimal("2.5")


def test_what_has_no_price_is_told_and_counted_as_no_nought() -> None:
    house = held_house()
    lists = made(house)
    prices = read_prices(PRICES)
    page = opened(lists, house, prices, values=True)["Quantities"]
    rows = {row["item"]: row for row in rows_of(page) if row["item"]}
    assert rows["hidden hanger"]["price"] == rows["hidden hanger"]["amount"] == "no price"
    assert rows["splash block"]["amount"] == 0
    told = " ".join(str(row["kind"]) for row in rows_of(page))
    assert "have no price and are in no total: hidden hanger; " in told
    assert rows["lines without a price, in no total"]["amount"] == len(quote(lists, SHOP, prices).unpriced)


def test_what_is_on_hold_is_marked_by_words_and_by_grey() -> None:
    house = held_house()
    lists = made(house)
    book = opened(lists, house)
    page = book["Pieces"]
    column = [one.value for one in page[HEAD]].index("on hold") + 1
    for row, piece in enumerate(lists.pieces, start=HEAD + 1):
        says = page.cell(row, column).value or ""
        assert says.startswith("ON HOLD: ") == bool(piece.hold)
        assert (page.cell(row, 2).fill.fgColor.rgb == "FFD9D9D9") == bool(piece.hold)
    asked = [row["which"] for row in rows_of(book["On hold"])]
    assert set(asked) == {one.id for one in (*lists.pieces, *lists.downpipes) if one.hold}
    held = [row for row in rows_of(book["Quantities"]) if isinstance(row["quantity on hold"], (int, float))
            and row["quantity on hold"]]  # fmt: skip
    assert held
    assert all("ON HOLD" in row["why"] for row in held)


def named(title: str) -> Sheet:
    """A house with the words wherever a note's words go."""
    house = held_house()
    house.title = title
    for one in house.runs:
        one.name = title or "front"
    house.defaults.colour.value = title[:60] or "white"  # type: ignore[union-attr]
    house.outlets[0].id = title[:80] or "front-1"
    house.downpipes[0].id = house.downpipes[0].outlet = house.outlets[0].id
    return house


@pytest.mark.parametrize("title", TITLES)
def test_nothing_of_a_note_runs_in_the_csv(title: str) -> None:
    lists = made(named(title))
    for table in [*tables(lists), quantities_table(quote(lists, SHOP))]:
        text = csv_text(table)
        for delimiter in (",", ";", "\t"):
            for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
                for one in row:
                    # read with another sign between cells, one may begin with the end of a row
                    bare = one if delimiter == "," else one.lstrip()
                    assert not bare.lstrip(' "').startswith(STARTS) or is_number(one), (table.name, one)
        assert len({len(row) for row in csv.reader(io.StringIO(text, newline=""))}) == 1


def is_number(text: str) -> bool:
    return re.fullmatch(r"-\d+(\.\d+)?( \d+/\d+)?", text) is not None


@pytest.mark.parametrize("start", STARTS)
def test_a_cell_that_could_run_gets_a_quote(start: str) -> None:
    says = f"{start}=1+1"
    assert cell(says).startswith("'")
    assert cell(f"a;{says}").startswith("a;'")
    assert not cell(f"{start}1+1").startswith(STARTS)


@pytest.mark.parametrize("title", TITLES)
def test_nothing_of_a_note_runs_in_the_workbook(title: str) -> None:
    house = named(title)
    lists = made(house)
    data = workbook(lists, quote(lists, SHOP), sheet_code(house, lists))
    book = openpyxl.load_workbook(io.BytesIO(data))
    for page in book:
        for row in page.iter_rows():
            for one in row:
                if one.data_type == "f":
                    assert page.title == "Quantities"
                    assert re.fullmatch(r'=(IF|COUNTIF|"no price")[A-Z0-9$:,()*/="no price.]*', one.value)
                elif isinstance(one.value, str) and one.value.startswith(STARTS):
                    assert one.quotePrefix, one.value
        assert not page._hyperlinks
    with ZipFile(io.BytesIO(data)) as parts:
        names = parts.namelist()
    assert not [
        one for one in names if "external" in one.lower() or "vba" in one.lower() or "connection" in one
    ]
    if title.isascii() and title.isprintable() and title:
        assert book["Quantities"]["A2"].value == " ".join(title.split())


def test_lengths_stand_as_tape_and_as_decimal() -> None:
    pieces = csv_text(tables(made(four_sides()))[0])
    rows = list(csv.DictReader(io.StringIO(pieces)))
    assert (rows[0]["back"], rows[0]["back [in]"]) == ("42' 6 1/8\"", "510.125")
    assert [row["order"] for row in rows] == ["1", "2", "3", "4"]


def test_the_same_job_gives_the_same_bytes() -> None:
    house = four_sides()
    lists = made(house)
    assert workbook(lists, quote(lists, SHOP), "A") == workbook(lists, quote(lists, SHOP), "A")


def test_the_page_and_the_code_are_on_each_sheet() -> None:
    house = four_sides()
    lists = made(house)
    code = sheet_code(house, lists)
    for page in opened(lists, house):
        assert code in page["A3"].value
        assert code in page.oddFooter.left.text
        assert page.oddFooter.right.text == "page &P of &N"
        assert page.print_title_rows == "$1:$6"


def test_files_are_written_by_name(tmp_path: Path) -> None:
    house = four_sides()
    lists = made(house)
    write_lists(lists, house, [], tmp_path, SHOP, only=("xlsx",))
    assert [one.name for one in tmp_path.iterdir()] == ["quantities.xlsx"]
    write_lists(lists, house, [], tmp_path, SHOP, only=("csv",), prices=read_prices(PRICES))
    rows = list(csv.DictReader(io.StringIO((tmp_path / "quantities.csv").read_text("utf-8"))))
    assert next(row for row in rows if row["item"] == "sealant")["amount"] == "8.01"  # 8.005, a half up


def test_every_item_of_the_price_list_is_inert_too() -> None:
    assert all(cell(item) == item for item, _ in price_items(SHOP))


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(any_sheet())
def test_any_sheet_has_its_workbook(house: Sheet) -> None:
    lists = make_lists(house, [], SHOP)
    book = opened(lists, house)
    assert book.sheetnames[0] == "Quantities"

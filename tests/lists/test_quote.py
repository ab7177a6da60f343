"""Quantities with prices, worked by hand: rounded once a line; holds, and what has no price, kept apart."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from random_houses import random_house

from gutterance.checking import check_sheet
from gutterance.lists import make_lists
from gutterance.lists.price_items import price_items
from gutterance.lists.pricing import priced_in
from gutterance.lists.quote import quote
from gutterance.lists.quote_models import rounded
from gutterance.lists.work_done import work_done
from gutterance.shop import load_shop
from gutterance.shop.prices import PriceList, read_prices

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.lists.models import Lists
    from gutterance.lists.quote_models import QuoteLine
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop

SHOP = load_shop()
OURS = """
[quote]
currency = "CAD"
hour = "50.00"
markup_percent = "10"
tax_percent = "13"
[[labour]]
work = "form and hang"
for_each = "ft of gutter"
hours = "0.1"
[[labour]]
work = "corner"
for_each = "corner"
price = "12.35"
"""


def made(house: Sheet, shop: Shop = SHOP) -> Lists:
    return make_lists(house, check_sheet(house), shop)


def listed(*rows: str) -> PriceList:
    return read_prices("\n".join(["item,unit,price", *rows]) + "\n")


def line(lists: Lists, item: str, prices: PriceList | None, shop: Shop = SHOP) -> QuoteLine:
    return next(one for one in quote(lists, shop, prices).lines if one.item == item)


def half_held() -> Sheet:
    """A front that can be made, a side without a length, and a pipe without a height."""
    return sheet(
        [
            run("front", "240 in", "cap cap"),
            run("side", None, "cap cap"),
            {**run("back", None, "cap cap"), "length": reading("120 1/2 in", "doubtful")},
        ],
        [outlet("front-1", "front"), outlet("back-1", "back")],
        [pipe("front-1"), pipe("back-1", "24 in", None)],
    )


def test_the_gutter_is_the_coil_run_off_in_feet() -> None:
    # by hand: 510 and 313 1/2 in, out to out: backs +1/8, lips + 2 x 5 in, each with 1 in to square it:
    # coil 521 1/8 and 324 5/8, twice: 1691 1/2 in = 140.958 ft
    one = line(made(four_sides()), "gutter 5 in K-style", listed("gutter 5 in K-style,ft,2.15"))
    assert (one.ready, one.held, one.colour) == (Decimal("140.96"), 0, "white")
    assert one.exact is not None
    assert one.exact.inches == Fraction(3383, 2)
    assert one.amount(one.ready, 2) == Decimal("303.06")  # 140.96 x 2.15 = 303.064


def test_it_may_be_priced_by_the_metre() -> None:
    one = line(made(four_sides()), "gutter 5 in K-style", listed("gutter 5 in K-style,m,7"))
    assert (one.unit, one.ready) == ("m", Decimal("42.96"))  # 1691.5 x 25.4 mm = 42964.1 mm


def test_a_pack_gives_the_price_of_what_is_used_of_it() -> None:
    one = line(made(four_sides()), "rivet", listed("rivet,box of 250,12.50"))
    assert (one.ready, one.per, one.amount(one.ready, 2)) == (48, 250, Decimal("2.40"))
    assert "5 spare not charged" in one.says


def test_pipe_by_the_length_or_by_the_foot_and_a_colour_before_none() -> None:
    lists = made(four_sides())
    by_length = line(lists, "downpipe 2x3", listed("downpipe 2x3,length of 10 ft,11"))
    assert (by_length.ready, by_length.amount(by_length.ready, 2)) == (4, 44)
    by_foot = line(lists, "downpipe 2x3", listed("downpipe 2x3,ft,1.15", "downpipe 2x3 white,ft,1.25"))
    assert (by_foot.ready, by_foot.unit, by_foot.price) == (40, "ft", Decimal("1.25"))
    other = line(lists, "downpipe 2x3", listed("downpipe 2x3,length of 20 ft,20", "downpipe 2x3 brown,ft,1"))
    assert other.price is None
    assert "row 2 has it by the length of 20 ft, not by the length of 10'" in other.says


def test_what_has_no_price_says_why_and_is_in_no_total() -> None:
    lists = made(four_sides())
    prices = listed("hiden hanger,each,1", "sealant,box of 12,60", "splash block,each,", "rivet,each,0")
    made_of = quote(lists, SHOP, prices)
    says = {one.item: one.says for one in made_of.lines}
    assert says["hidden hanger"].startswith("no price: not in prices.csv; row 2 has 'hiden hanger'")
    assert says["sealant"].startswith("no price: prices.csv, row 3 has it by the box of 12, not by the tube")
    assert says["splash block"].startswith("no price yet (prices.csv, row 4)")
    # a price of 0 is a price
    assert "rivet" not in [one.item for one in made_of.unpriced]
    assert made_of.sums().material == 0
    assert quote(lists, SHOP, None).sums().total is None
    assert len(quote(lists, SHOP, None).unpriced) == len(made_of.lines)


def test_what_is_on_hold_is_kept_apart() -> None:
    lists = made(half_held())
    held = {one.id for one in lists.pieces if one.hold}
    assert held == {"side-1", "back-1"}
    made_of = quote(lists, SHOP, listed("gutter 5 in K-style,ft,1", "outlet 2x3,each,10", "sealant,tube,7"))
    gutter = next(one for one in made_of.lines if one.item.startswith("gutter"))
    # a front of 240 in and 1 in to square it is ready; the back's 121 1/2 waits for a doubt
    assert (gutter.ready, gutter.held) == (Decimal("20.08"), Decimal("10.13"))
    assert made_of.sums().material == Decimal("20.08") + 10 + 7
    assert made_of.sums(held=True).material == Decimal("10.13") + 10
    assert [one.split(",")[0] for one in made_of.leaves_out] == [
        "gutter of unknown length", "pipe of downpipes on hold", "hangers of runs on hold",
    ]  # fmt: skip
    assert "side-1" in made_of.leaves_out[0]
    assert "back-1" in made_of.leaves_out[1]


def test_labour_markup_and_tax_by_the_shops_rates(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text(OURS, encoding="utf-8")
    shop = load_shop(tmp_path / "shop.toml")
    made_of = quote(made(four_sides(), shop), shop, listed("sealant,tube,8"))
    hang, corner = made_of.of_kind("labour")
    # backs: 2 x (510 1/8 + 313 5/8) in = 137.2916... ft; a tenth of an hour each, 13.73 h at 50
    assert (hang.ready, hang.unit, hang.amount(hang.ready, 2)) == (
        Decimal("13.73"),
        "hour",
        Decimal("686.50"),
    )
    assert (corner.ready, corner.amount(corner.ready, 2)) == (4, Decimal("49.40"))
    sums = made_of.sums()
    assert (sums.material, sums.labour, sums.markup) == (8, Decimal("735.90"), Decimal("0.80"))
    assert (sums.before_tax, sums.tax, sums.total) == (Decimal("744.70"), Decimal("96.81"), Decimal("841.51"))


def test_hours_without_a_price_of_an_hour(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text(OURS.replace('hour = "50.00"', 'hour = "none"'), encoding="utf-8")
    shop = load_shop(tmp_path / "shop.toml")
    hang = quote(made(four_sides(), shop), shop).of_kind("labour")[0]
    assert hang.price is None
    assert "quote.hour" in hang.says


@given(st.fractions(min_value=0, max_value=10**7, max_denominator=10**6), st.integers(0, 4))
def test_rounding_is_that_of_the_decimal_library(amount: Fraction, places: int) -> None:
    # the digits after the one rounded at are enough of it to tell which way it goes
    exact = Decimal(amount.numerator) / Decimal(amount.denominator)
    assert rounded(amount, places) == exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


def test_work_is_counted_by_piece_corner_outlet_and_foot() -> None:
    work = work_done(made(four_sides()))
    assert work["corner"] == (4, 0)
    assert work["piece"] == (4, 0)
    assert work["outlet"] == work["downpipe"] == (4, 0)
    assert work["end cap"] == (0, 0)
    assert work["ft of gutter"].ready == Fraction(3295, 2) / 12
    assert work["m of gutter"].ready == Fraction(3295, 2) * Fraction("25.4") / 1000
    # 20 in of gooseneck and 94 in of wall pipe each
    assert work["ft of downpipe"].ready == Fraction(4 * (20 + 94), 12)


def test_an_open_chain_has_a_corner_less_than_it_has_runs() -> None:
    house = sheet([run("a", "120 in", "cap out", next_run="b"), run("b", "120 in", "out in", next_run="c"),
                   run("c", "120 in", "in cap")])  # fmt: skip
    assert sum(work_done(made(house))["corner"]) == 2


@pytest.mark.parametrize("method", ["strip mitre", "hand mitre", "box mitre"])
def test_every_item_a_list_asks_for_is_on_the_price_list_to_fill_in(tmp_path: Path, method: str) -> None:
    (tmp_path / "shop.toml").write_text(f'[corners]\nmethod = "{method}"\n', encoding="utf-8")
    shop = load_shop(tmp_path / "shop.toml")
    rows = "".join(f'"{item}",{unit},1\n' for item, unit in price_items(shop))
    prices = read_prices(f"item,unit,price\n{rows}")
    seen = set()
    for seed in range(25):
        for one in quote(made(random_house(seed), shop), shop, prices).lines:
            seen.add(one.item)
            assert one.price is not None, (one.item, one.unit, one.says)
    assert len(seen) > 12


def test_every_item_to_fill_in_is_there_once_and_can_be_priced_in_its_unit() -> None:
    items = price_items(SHOP)
    assert len(items) == len(set(items)) > 60
    prices = read_prices("item,unit,price\n" + "".join(f'"{item}",{unit},1\n' for item, unit in items))
    assert all(any(priced_in(row, unit) for row in prices.of(item)) for item, unit in items)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(any_sheet())
def test_any_sheet_has_quantities_that_add_up(house: Sheet) -> None:
    lists = make_lists(house, [], SHOP)
    prices = read_prices("item,unit,price\nsealant,tube,8\nrivet,each,0.11\nend cap,each,1\n")
    made_of = quote(lists, SHOP, prices)
    for one in made_of.lines:
        assert one.ready >= 0
        assert one.held >= 0
    counted = {one.item: one.count for one in lists.hardware if "downpipe" not in one.item}
    for item, count in counted.items():
        mine = [one for one in made_of.lines if one.item == item and one.kind == "material"]
        assert sum(one.ready + one.held for one in mine) == sum(
            one.count for one in lists.hardware if one.item == item
        ), (item, count)

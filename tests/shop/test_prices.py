"""The price list: money exact as written, and errors that name file, row and mend."""

from __future__ import annotations

import contextlib
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.shop.prices import PriceError, load_prices, read_prices

if TYPE_CHECKING:
    from pathlib import Path


def test_money_is_kept_as_it_was_written() -> None:
    rows = read_prices("item,unit,price\nscrew,each,0.0425\nrivet,box of 250,12.50\ntape,roll,\n").rows
    assert [one.amount for one in rows] == [Decimal("0.0425"), Decimal("12.50"), None]
    assert [(one.per, one.row) for one in rows] == [(1, 2), (250, 3), (1, 4)]


@given(st.decimals(min_value=0, max_value=999_999, places=4, allow_nan=False))
def test_any_amount_of_money_comes_back(amount: Decimal) -> None:
    assert read_prices(f"item,unit,price\nx,each,{amount:f}\n").rows[0].amount == amount


@pytest.mark.parametrize(
    ("unit", "per"),
    [("each", 1), ("box of 250", 250), ("bag of 100", 100), ("per 1000", 1000), ("100", 100),
     ("hundred", 100), ("ft", 1), ("length of 10 ft", 1), ("", 1), ("Box Of 50", 50)],
)  # fmt: skip
def test_packs(unit: str, per: int) -> None:
    assert read_prices(f"item,unit,price\nx,{unit},1\n").rows[0].per == per


def test_columns_in_any_order_with_others_beside_them() -> None:
    row = read_prices('Price,note,Item,UNIT\n4.5,"ours, not theirs",sealant,tube\n').rows[0]
    assert (row.item, row.unit, row.amount) == ("sealant", "tube", Decimal("4.5"))


def test_a_spreadsheet_that_writes_commas_in_numbers() -> None:
    prices = read_prices("item;unit;price\nsealant;tube;4,25\nscrew;each;0,0425\nrivet;each;1.5\n")
    assert [one.amount for one in prices.rows] == [Decimal("4.25"), Decimal("0.0425"), Decimal("1.5")]


def test_blank_rows_and_a_byte_order_mark_are_let_be(tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    path.write_bytes("\ufeff\r\nitem,unit,price\r\n\r\nsealant,tube,4\r\n,,\r\n".encode())
    assert [(one.item, one.row) for one in load_prices(path).rows] == [("sealant", 4)]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "nothing in it: take it away, and `gutterance prices prices.csv` writes"),
        (" ,,\n\n", "nothing in it"),
        ("item,price\nx,1\n", "row 1: the first row must name the columns item, unit and price, each once"),
        ("item,item,unit,price\n", "each once"),
        ("item,unit,price\nx,each,$4.25\n", "row 2: x: '$4.25' is no price: leave the currency"),
        ("item,unit,price\nx,each,4.25\ny,each,CAD 4\n", "row 3: y: 'CAD 4' is no price"),
        ("item,unit,price\nx,each,-1\n", "not below nothing"),
        ('item,unit,price\nx,each,"1,234.50"\n', "as 1234.50"),
        ("item;unit;price\nx;each;1,234\n", "as 1234.50"),
        ("item,unit,price\nx,each,1e3\n", "is no price"),
        ("item,unit,price\nx,each,NaN\n", "is no price"),
        ("item,unit,price\nx,each,1\nX ,EACH,2\n", "row 3: X by the each is priced in row 2 too: keep one"),
        ("item,unit,price\n,each,1\n", "row 2: a price without an item"),
        ("item,unit,price\nend cap, left,each,1\n", "row 2: 4 cells under 3 headings"),
        ("item,unit,price\nx,box of 0,1\n", "a pack of none"),
        ('item,unit,price\nx,"each,1\n', "row 2: the quotes of this row do not pair up"),
    ],
)
def test_what_is_wrong_is_named_with_its_row_and_mend(text: str, says: str) -> None:
    with pytest.raises(PriceError) as error:
        read_prices(text)
    assert str(error.value).startswith("prices.csv")
    assert says in str(error.value)
    assert len(str(error.value).splitlines()) == 1


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"PK\x03\x04rest", "a workbook, not CSV"),
        (b"item,unit,price\nx\xff,each,1\n", "not text in UTF-8"),
        (b"item,unit,price\nx\0,each,1\n", "not a text file"),
        (b"x" * 5_000_001, "over 5 MB"),
    ],
)
def test_what_is_no_price_list_at_all(tmp_path: Path, data: bytes, says: str) -> None:
    path = tmp_path / "prices.csv"
    path.write_bytes(data)
    with pytest.raises(PriceError, match=says):
        load_prices(path)


def test_a_file_that_is_not_there_and_a_folder(tmp_path: Path) -> None:
    with pytest.raises(PriceError, match="no such price list"):
        load_prices(tmp_path / "none.csv")
    with pytest.raises(PriceError, match="a folder"):
        load_prices(tmp_path)


@settings(max_examples=400)
@given(
    st.text(max_size=60)
    | st.text(alphabet="item,unt;price\n\"'x1. ", max_size=80).map("item,unit,price\n".__add__)
)
def test_any_text_is_read_or_refused(text: str) -> None:
    with contextlib.suppress(PriceError):
        read_prices(text)


def test_a_near_miss_is_found() -> None:
    prices = read_prices("item,unit,price\nhiden hanger,each,1\n")
    near = prices.nearly("hidden hanger")
    assert near is not None
    assert near.row == 2
    assert prices.nearly("splash block") is None

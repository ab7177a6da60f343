"""The shop's price list, `prices.csv`: item, unit, price. Money is decimal and exact, as it was written."""

from __future__ import annotations

import csv
import difflib
import io
import re
from dataclasses import dataclass
from decimal import Decimal
from pathlib import PurePath
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

PRICES_FILE = "prices.csv"
LARGEST_PRICE_LIST = 5_000_000
HEAD = ("item", "unit", "price")

_PRICE = re.compile(r"\d{1,9}(\.\d{1,6})?")
_COMMA_PRICE = re.compile(r"\d{1,9},(\d{1,2}|\d{4,6})")
_PACK = re.compile(r"(?:(?:box|bag|pack|packet|roll|bundle|per)(?: of)? )?(\d{1,6})")
_SAME_UNIT = {
    "ea": "each", "pc": "each", "pcs": "each", "piece": "each", "1": "each", "feet": "ft", "foot": "ft",
    "lf": "ft", "lin ft": "ft", "metre": "m", "meter": "m", "metres": "m", "meters": "m", "tubes": "tube",
    "hours": "hour", "h": "hour", "hr": "hour", "hundred": "100", "thousand": "1000",
}  # fmt: skip

Delimiter = Literal[",", ";", "\t"]


class PriceError(ValueError):
    """A price list that cannot be used; the message names the file, the row and the mend."""


@dataclass(frozen=True, slots=True)
class Price:
    """A row of the list: `amount` is None where no price was filled in; `row` counts lines from 1."""

    item: str
    unit: str
    amount: Decimal | None
    row: int

    @property
    def per(self) -> int:
        """How many the price is for: 250 for a `box of 250`, else 1."""
        found = _PACK.fullmatch(unit_key(self.unit))
        return int(found[1]) if found else 1


@dataclass(frozen=True, slots=True)
class PriceList:
    """The rows of one file, as they stand in it."""

    name: str
    rows: tuple[Price, ...] = ()
    delimiter: Delimiter = ","
    columns: tuple[str, ...] = HEAD

    @property
    def file(self) -> str:
        """The file's own name, without the folders of this machine."""
        return PurePath(self.name).name

    def of(self, item: str) -> list[Price]:
        """The rows of an item, by any spacing or capitals."""
        wanted = item_key(item)
        return [one for one in self.rows if item_key(one.item) == wanted]

    def nearly(self, item: str) -> Price | None:
        """A row whose item is spelt nearly the same, for a word about it."""
        keys = {item_key(one.item): one for one in reversed(self.rows)}
        near = difflib.get_close_matches(item_key(item), keys, n=1, cutoff=0.85)
        return keys[near[0]] if near else None


def item_key(item: str) -> str:
    """An item's name as it is told from others."""
    # a ' before what a spreadsheet might run is ours, see render.csv_text
    return " ".join(item.casefold().replace("×", "x").replace('"', " in").lstrip("'").split())


def unit_key(unit: str) -> str:
    """A unit as it is told from others: `Feet` is `ft`, nothing at all is `each`."""
    key = " ".join(unit.casefold().split()).rstrip(".")
    return _SAME_UNIT.get(key, key) or "each"


def load_prices(path: Path) -> PriceList:
    """Read a price list. Raises PriceError.

    The first row names the columns: item, unit and price in any order; others are let be. A blank price is
    none at all, which is not the same as a price of 0.
    """
    return read_prices(_text_of(path), str(path))


def read_prices(text: str, name: str = PRICES_FILE) -> PriceList:
    """The same from its text.

    >>> prices = read_prices("item,unit,price\\nrivet,box of 250,12.50\\nsealant,tube,\\n")
    >>> prices.rows[0].amount, prices.rows[0].per, prices.rows[1].amount
    (Decimal('12.50'), 250, None)
    """
    delimiter = _delimiter(text)
    rows = _rows(text, delimiter, name)
    first, head = next(rows, (0, []))
    if not head:
        raise PriceError(f"{name}: nothing in it: take it away, and `gutterance prices {name}` writes one")
    columns = tuple(one.strip().casefold() for one in head)
    missing = [one for one in HEAD if columns.count(one) != 1]
    if missing:
        raise PriceError(
            f"{name}, row {first}: the first row must name the columns item, unit and price, each once; "
            f"it has {', '.join(repr(one) for one in columns)}"
        )
    at = {one: columns.index(one) for one in HEAD}
    found: dict[tuple[str, str], int] = {}
    prices = []
    for row, cells in rows:
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) > len(columns) and any(cell.strip() for cell in cells[len(columns) :]):
            raise PriceError(
                f"{name}, row {row}: {len(cells)} cells under {len(columns)} headings: "
                "put a text with a comma in it between double quotes"
            )
        item, unit, said = ((cells[at[one]] if at[one] < len(cells) else "").strip() for one in HEAD)
        if not item:
            raise PriceError(f"{name}, row {row}: a price without an item: name it as the lists do")
        price = Price(item, unit, _amount(said, f"{name}, row {row}: {item}", delimiter), row)
        key = item_key(item), unit_key(unit)
        if key in found:
            raise PriceError(
                f"{name}, row {row}: {item} by the {unit_key(unit)} is priced in row {found[key]} too: "
                "keep one"
            )
        if price.per == 0:
            raise PriceError(f"{name}, row {row}: {item}: a pack of none: say how many there are in it")
        found[key] = row
        prices.append(price)
    return PriceList(name, tuple(prices), delimiter, columns)


def _text_of(path: Path) -> str:
    if path.is_dir():
        raise PriceError(f"{path}: this is a folder: name the price list in it")
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_PRICE_LIST + 1)
    except FileNotFoundError:
        raise PriceError(
            f"{path}: no such price list: check the name, or write one with `gutterance prices {path}`"
        ) from None
    except OSError as error:
        raise PriceError(f"{path}: the price list cannot be opened: {error.strerror}") from None
    if len(data) > LARGEST_PRICE_LIST:
        raise PriceError(f"{path}: over 5 MB, which no price list is: check the name")
    if data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise PriceError(f"{path}: this is a workbook, not CSV: save the sheet as CSV (UTF-8)")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise PriceError(f"{path}: not text in UTF-8: save it again as CSV (UTF-8)") from None
    if "\0" in text:
        raise PriceError(f"{path}: not a text file: save the sheet as CSV (UTF-8)")
    return text


def _delimiter(text: str) -> Delimiter:
    """What parts the cells of the first row: spreadsheets write ; where a comma is a decimal sign."""
    head = next((line for line in text.splitlines() if line.strip()), "")
    return ";" if ";" in head and "," not in head else "\t" if "\t" in head and "," not in head else ","


def _rows(text: str, delimiter: str, name: str) -> Iterator[tuple[int, list[str]]]:
    """The rows with their line numbers, blank ones at the top left out."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    begun = False
    while True:
        line = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise PriceError(f"{name}, row {line}: the quotes of this row do not pair up ({error})") from None
        begun = begun or any(cell.strip() for cell in cells)
        if begun:
            yield line, cells


def _amount(said: str, where: str, delimiter: Delimiter) -> Decimal | None:
    if not said:
        return None
    if delimiter != "," and _COMMA_PRICE.fullmatch(said):
        return Decimal(said.replace(",", "."))
    if _PRICE.fullmatch(said):
        return Decimal(said)
    if said.startswith("-"):
        why = "a price is not below nothing"
    elif re.search(r"\d", said) and not re.fullmatch(r"[\d.,' ]+", said):
        why = "leave the currency and all words out; the currency stands in the shop file"
    else:
        why = "write it with figures and one decimal point, as 1234.50"
    raise PriceError(
        f"{where}: {said!r} is no price: {why}. Leave the cell blank where there is no price yet"
    )

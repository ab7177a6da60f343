"""The shop's price list at the command line: found beside its rules, written to fill in, added to."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import put, show, show_json, talk, write_whole
from gutterance.cli.statuses import ExitStatus

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.shop.prices import PriceList


def prices_for(prices: str | None, shop: str | None) -> PriceList | None:
    """The price list named, else prices.csv beside the shop's rules, else none. Raises PriceError."""
    if prices is None and shop is None:
        return None
    from gutterance.shop.prices import PRICES_FILE, load_prices

    if prices is not None:
        return load_prices(Path(prices))
    beside = Path(shop or "").with_name(PRICES_FILE)
    if not beside.exists():
        return None
    talk(f"note: the shop's prices are in {beside}")
    return load_prices(beside)


def write_prices(file: str, shop_file: str | None, *, as_json: bool) -> ExitStatus:
    """Write a price list with every item of the shop, or add to one what it lacks, and say what is open.

    Nothing that stands in a list is ever changed. Raises PriceError, ShopError and Refusal.
    """
    from gutterance.cli.work import shop_of
    from gutterance.lists.price_items import price_items
    from gutterance.shop.prices import HEAD, PriceList, load_prices

    items = price_items(shop_of(shop_file))
    path = Path(file)
    if file != "-" and path.is_dir():
        raise Refusal(f"{file} is a folder: name a file in it, as in {path / 'prices.csv'}")
    there = load_prices(path) if file != "-" and path.exists() else None
    prices = there if there is not None else PriceList(file)
    new = [one for one in items if not _is_there(one, prices)]
    text = _rows([HEAD, *((*one, "") for one in new)], PriceList(file))
    if file == "-":
        put(text)
        return ExitStatus.DONE
    if there is None:
        write_whole(path, text)
    elif new:
        before = path.read_bytes().decode("utf-8")
        end = "" if before.endswith(("\n", "\r")) else "\r\n"
        write_whole(path, before + end + _rows([_row(one, there) for one in new], there))
    open_ones = [one.item for one in prices.rows if one.amount is None] + [item for item, _ in new]
    unknown = _unknown(prices, items)
    if as_json:
        told: dict[str, Any] = {"file": file, "added": [item for item, _ in new]}
        show_json({**told, "without_price": open_ones, "asked_for_by_no_list": unknown})
        return ExitStatus.DONE
    verb = "wrote" if there is None else "added"
    lines = [
        f"{verb} {len(new)} item{'' if len(new) == 1 else 's'}: {file} has {len(prices.rows) + len(new)}."
    ]
    lines.append(f"Without a price yet: {len(open_ones)}. A blank is no price; 0 is a price of nothing.")
    if unknown:
        lines.append(
            f"No list asks for these by default (a colour or size of your own?): {', '.join(unknown)}"
        )
    show("\n".join(lines))
    return ExitStatus.DONE


def _is_there(item: tuple[str, str], prices: PriceList) -> bool:
    """Whether the list has an item, in a unit that its price can be used in."""
    from gutterance.lists.pricing import priced_in

    name, unit = item
    return any(priced_in(row, unit) for row in prices.of(name))


def _unknown(prices: PriceList, items: Sequence[tuple[str, str]]) -> list[str]:
    """What the list prices that is neither an item of the shop nor one of a colour."""
    from gutterance.shop.prices import item_key

    known = {item_key(item) for item, _ in items}
    coloured = tuple(f"{one} " for one in known if one.startswith(("gutter ", "downpipe ")))
    return [
        one.item
        for one in prices.rows
        if item_key(one.item) not in known and not item_key(one.item).startswith(coloured)
    ]


def _row(item: tuple[str, str], prices: PriceList) -> list[str]:
    """An item in the order of that list's own columns."""
    cells = dict(zip(("item", "unit"), item, strict=True))
    return [cells.get(column, "") for column in prices.columns]


def _rows(rows: Sequence[Sequence[str]], prices: PriceList) -> str:
    from gutterance.render.spreadsheet.csv_text import rows_text

    return rows_text(rows, prices.delimiter)

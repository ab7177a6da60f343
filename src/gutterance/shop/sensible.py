"""Lengths of a shop file that can only be a slip, most often of the unit, with the one that would fit."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, NamedTuple

from pydantic import BaseModel

from gutterance.measure.length import Length
from gutterance.shop.amounts import read_amount

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.shop.models import Shop

SENSIBLE_FILE = "sensible.toml"
_UNITS = ("in", "ft", "mm")


class Odd(NamedTuple):
    """A length out of its range: where it stands, its key, itself, and both ends of the range."""

    where: tuple[str | int, ...]
    key: str
    value: Length
    low: Length
    high: Length


@cache
def sensible_ranges() -> dict[str, tuple[Length, Length]]:
    """The least and the most each length of a shop file may be, by its dotted key."""
    rows = tomllib.loads((files("gutterance.shop") / SENSIBLE_FILE).read_text(encoding="utf-8"))
    return {key: (read_amount(low), read_amount(high)) for key, (low, high) in rows.items()}


def lengths_of(shop: Shop) -> Iterator[tuple[tuple[str | int, ...], str, Length]]:
    """Every length of a shop's rules: where it stands, its dotted key without row or row name, and itself."""
    yield from _lengths(shop, (), "")


def odd_lengths(shop: Shop) -> list[Odd]:
    """The lengths out of their range."""
    ranges = sensible_ranges()
    out = []
    for where, key, value in lengths_of(shop):
        low, high = ranges[key]
        if not low.inches <= value.inches <= high.inches:
            out.append(Odd(where, key, value, low, high))
    return out


def units_that_fit(written: str, odd: Odd) -> list[str]:
    """The same number with the units that would bring it into its range: `24 in` for `24 ft`."""
    number = written.strip().rstrip("abcdefghijklmnopqrstuvwxyz").strip()
    out = []
    for unit in _UNITS:
        text = f"{number} {unit}"
        try:
            inches = read_amount(text).inches
        except ValueError:
            continue
        if text != written.strip() and odd.low.inches <= inches <= odd.high.inches:
            out.append(text)
    return out


def _lengths(part: Any, where: tuple[str | int, ...], key: str) -> Iterator[Any]:
    if isinstance(part, Length):
        yield where, key, part
    elif isinstance(part, BaseModel):
        for name in type(part).model_fields:
            yield from _lengths(getattr(part, name), (*where, name), f"{key}.{name}" if key else name)
    elif isinstance(part, dict):
        for name, value in part.items():
            yield from _lengths(value, (*where, name), key)
    elif isinstance(part, list):
        for number, value in enumerate(part):
            yield from _lengths(value, (*where, number), key)

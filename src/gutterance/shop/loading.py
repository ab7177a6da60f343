"""A shop's TOML file onto the trade defaults, with errors that name file, line, key and near miss."""

from __future__ import annotations

import difflib
import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel, ValidationError

from gutterance.shop.models import Shop

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

DEFAULTS_FILE = "defaults.toml"
LARGEST_SHOP_FILE = 1_000_000
_HEADER = re.compile(r"\s*\[\[?\s*(?P<name>[^\]]+?)\s*\]\]?\s*(?:#.*)?\Z")


class ShopError(ValueError):
    """A shop file that cannot be used; the message names file, line and key where known, and the mend."""


def defaults_text() -> str:
    """The commented TOML of all rules, as shipped: the file a shop copies and changes."""
    return (files("gutterance.shop") / DEFAULTS_FILE).read_text(encoding="utf-8")


@cache
def _default_shop() -> Shop:
    return _checked(tomllib.loads(defaults_text()), defaults_text(), DEFAULTS_FILE)


def load_shop(path: Path | None = None) -> Shop:
    """The rules in `path` over the trade defaults; the defaults alone where no path is given.

    Tables are merged key by key; `profiles` and `pipes` given in the file come before the shipped ones, and
    one of the same name and size takes its place. Raises ShopError.

    >>> load_shop().fit.outside_corner.inch_text()
    '1/16"'
    """
    if path is None:
        return _default_shop()
    text = _text_of(path)
    try:
        given = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ShopError(f"{path}: this is not TOML that can be read: {error}") from None
    return _checked(_merged(tomllib.loads(defaults_text()), given, path), text, str(path))


def _text_of(path: Path) -> str:
    if path.is_dir():
        raise ShopError(f"{path}: this is a folder: name the shop's TOML file in it")
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_SHOP_FILE + 1)
    except FileNotFoundError:
        raise ShopError(
            f"{path}: no such shop file: check the name, or leave --shop out for the defaults"
        ) from None
    except OSError as error:
        raise ShopError(f"{path}: the shop file cannot be opened: {error.strerror}") from None
    if len(data) > LARGEST_SHOP_FILE:
        raise ShopError(f"{path}: over 1 MB, which no shop file is: check the name")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ShopError(f"{path}: not text in UTF-8: save it again as UTF-8") from None


def _merged(base: dict[str, Any], given: dict[str, Any], path: Path) -> dict[str, Any]:
    merged = dict(base)
    for key, value in given.items():
        old = base.get(key)
        if isinstance(old, dict):
            if not isinstance(value, dict):
                raise ShopError(f"{path}: {key} is a table: write [{key}] and its keys beneath")
            merged[key] = _merged(old, value, path)
        elif key in ("profiles", "pipes"):
            if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
                raise ShopError(f"{path}: {key} are tables: write [[{key}]] for each")
            names = [(row.get("name"), row.get("size")) for row in value]
            assert isinstance(old, list)
            merged[key] = value + [row for row in old if (row.get("name"), row.get("size")) not in names]
        else:
            merged[key] = value
    return merged


def _checked(data: dict[str, Any], text: str, name: str) -> Shop:
    try:
        return Shop.model_validate(data)
    except ValidationError as error:
        lines = [_sentence(one, text, name) for one in error.errors(include_url=False)]
        raise ShopError("\n".join(lines)) from None


def _sentence(error: Any, text: str, name: str) -> str:
    where: Sequence[str | int] = [part for part in error["loc"] if part != "[key]"]
    key = ".".join(str(part + 1) if isinstance(part, int) else part for part in where)
    line = _line_of(where, text)
    at = f"{name}, line {line}" if line else name
    if error["type"] == "extra_forbidden":
        near = difflib.get_close_matches(str(where[-1]), _names_at(where[:-1]), n=1, cutoff=0.5)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        return f"{at}: no rule is called {key!r}.{hint}"
    if error["type"] == "missing":
        return f"{at}: {key} is missing"
    says = str(error["msg"]).removeprefix("Value error, ")
    if error["type"] == "literal_error":
        near = difflib.get_close_matches(str(error["input"]), re.findall(r"'([^']+)'", says), n=1, cutoff=0.5)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        return f"{at}: {key} cannot be {error['input']!r}: {says[0].lower()}{says[1:]}.{hint}"
    return f"{at}: {key}: {says}" if key else f"{at}: {says}"


def _names_at(where: Sequence[str | int]) -> list[str]:
    """The keys allowed at a place in the shop file."""
    model: type[BaseModel] = Shop
    for part in where:
        if isinstance(part, int):
            continue
        field = model.model_fields.get(part)
        if field is None:
            continue
        inner = [field.annotation, *getattr(field.annotation, "__args__", ())]
        model = next((one for one in inner if isinstance(one, type) and issubclass(one, BaseModel)), model)
    return list(model.model_fields)


def _line_of(where: Sequence[str | int], text: str) -> int | None:
    """The line a key stands on: the one of that name beneath its table's header. None where not found."""
    if not where:
        return None
    numbers = [part for part in where if isinstance(part, int)]
    names = [part for part in where if isinstance(part, str)]
    table, key = ".".join(names[:-1]), names[-1]
    rows = -1
    current = ""
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        if header:
            current = header["name"].replace('"', "").replace("'", "")
            rows += current == table
            if current == ".".join(names):
                return number
            continue
        in_row = not numbers or rows == numbers[0]
        if current == table and in_row and re.match(rf"""\s*["']?{re.escape(key)}["']?\s*=""", line):
            return number
    return None

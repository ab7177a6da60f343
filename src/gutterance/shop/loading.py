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
from gutterance.shop.sensible import odd_lengths, units_that_fit

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from gutterance.shop.sensible import Odd

DEFAULTS_FILE = "defaults.toml"
LARGEST_SHOP_FILE = 1_000_000
_KEY = re.compile(r"""\s*(?P<name>["'\w][\w"' .-]*?)\s*=""")
_LINE = re.compile(r", line (?P<line>\d+): ")
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
    return _checked(_merged(tomllib.loads(defaults_text()), given, path, text), text, str(path))


def rules_of_its_own(path: Path) -> list[str]:
    """The dotted keys that a shop file gives, rows by their table's name. Raises ShopError."""
    try:
        given = tomllib.loads(_text_of(path))
    except tomllib.TOMLDecodeError as error:
        raise ShopError(f"{path}: this is not TOML that can be read: {error}") from None
    return list(_keys(given, ""))


def _keys(table: dict[str, Any], before: str) -> Iterator[str]:
    for name, value in table.items():
        if isinstance(value, dict):
            yield from _keys(value, f"{before}{name}.")
        elif isinstance(value, list) and any(isinstance(row, dict) for row in value):
            yield from (
                f"{before}{name} {row.get('name') or row.get('work', '')} {row.get('size', '')}".rstrip()
                for row in value
            )
        else:
            yield f"{before}{name}"


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


_ROWS = ("profiles", "pipes", "materials")


def _at(name: object, line: int | None) -> str:
    return f"{name}, line {line}" if line else str(name)


def _table_mend(key: str, value: object, table: dict[str, Any]) -> str:
    """How to write a rule that was given as one value though it is a table of several."""
    plain = [f"{name} = {_toml(one)}" for name, one in table.items() if not isinstance(one, dict | list)]
    example = f", as in {'; '.join(plain[:2])}" if plain else ""
    return f"{key} = {_toml(value)}: {key} is a table: write [{key}] and its keys beneath{example}"


def _toml(value: object) -> str:
    return (
        f'"{value}"'
        if isinstance(value, str)
        else str(value).lower()
        if isinstance(value, bool)
        else str(value)
    )


def _merged(
    base: dict[str, Any], given: dict[str, Any], path: Path, text: str, within: tuple[str, ...] = ()
) -> dict[str, Any]:
    merged = dict(base)
    for key, value in given.items():
        old = base.get(key)
        if isinstance(old, dict):
            if not isinstance(value, dict):
                line = _line_of((*within, key), text)
                raise ShopError(f"{_at(path, line)}: {_table_mend('.'.join((*within, key)), value, old)}")
            merged[key] = _merged(old, value, path, text, (*within, key))
        elif key in _ROWS:
            if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
                line = _line_of((key,), text)
                raise ShopError(
                    f"{_at(path, line)}: {key} are tables: write [[{key}]] for each, its keys beneath"
                )
            names = [(row.get("name"), row.get("size")) for row in value]
            assert isinstance(old, list)
            merged[key] = value + [row for row in old if (row.get("name"), row.get("size")) not in names]
        else:
            merged[key] = value
    return merged


def _checked(data: dict[str, Any], text: str, name: str) -> Shop:
    try:
        shop = Shop.model_validate(data)
    except ValidationError as error:
        lines = sorted((_sentence(one, text, name) for one in error.errors(include_url=False)), key=_by_line)
        raise ShopError("\n".join(lines)) from None
    odd = [_odd_sentence(one, data, text, name) for one in odd_lengths(shop)]
    if odd:
        raise ShopError("\n".join(odd))
    return shop


def _by_line(sentence: str) -> int:
    """To tell the errors in the order of the file; one of the file as a whole comes last."""
    found = _LINE.search(sentence)
    return int(found["line"]) if found else LARGEST_SHOP_FILE


def _odd_sentence(odd: Odd, data: Any, text: str, name: str) -> str:
    for part in odd.where:
        data = data[part]
    fits = [f"'{one}'" for one in units_that_fit(str(data), odd)]
    mend = f" Is it {' or '.join(fits)}?" if fits else " Look at the number and its unit."
    between = f"between {odd.low.tape_text()} and {odd.high.tape_text()}"
    says = f"{_dotted(odd.where)} is {str(data)!r}, which cannot be: {between}."
    return f"{_at(name, _line_of(odd.where, text))}: {says}{mend}"


def _dotted(where: Sequence[str | int]) -> str:
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in where)


def _sentence(error: Any, text: str, name: str) -> str:
    where: Sequence[str | int] = [part for part in error["loc"] if part != "[key]"]
    key = _dotted(where)
    at = _at(name, _line_of(where, text))
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
    """The line a key stands on: the one of that name beneath its table's header, or that header.

    A key may be dotted (`hangers.spacing = ...`). None where nothing of it is found.
    """
    row = next((part for part in where if isinstance(part, int)), None)
    names = [part for part in where if isinstance(part, str)]
    if not names:
        return None
    rows, current, best = -1, "", None
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        key = _KEY.match(line)
        if header:
            current = _bare(header["name"])
            rows += current == names[0]
            if row is not None and rows != row:
                continue
            if names[: current.count(".") + 1] == current.split("."):
                best = number
                if current == ".".join(names):
                    return number
            elif f"{current}.".startswith(f"{'.'.join(names)}."):
                return number
        elif key and (row is None or rows == row):
            found = f"{current}.{_bare(key['name'])}" if current else _bare(key["name"])
            if found == ".".join(names):
                return number
    return best


def _bare(name: str) -> str:
    return re.sub(r"\s*\.\s*", ".", name.replace('"', "").replace("'", ""))

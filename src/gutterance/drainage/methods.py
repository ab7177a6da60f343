"""The methods by name, with the storm each is made for."""

from __future__ import annotations

import difflib
from functools import cache
from typing import Any

from gutterance.drainage.by_en12056 import ByEN12056
from gutterance.drainage.by_tables import ByAsNzs, ByMetalTrade, ByPlumbingCode
from gutterance.drainage.errors import RainError
from gutterance.drainage.method import Method, RainRules
from gutterance.drainage.rainfall import Storm
from gutterance.drainage.tables import toml_of

_KINDS: dict[str, type[Method]] = {
    "EN 12056-3:2000": ByEN12056,
    "IPC 2015": ByPlumbingCode,
    "IPC 2012": ByPlumbingCode,
    "NSPC 2006": ByPlumbingCode,
    "metal trade": ByMetalTrade,
    "AS/NZS 3500.3:2018": ByAsNzs,
}


@cache
def _rows() -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = toml_of("methods.toml")["methods"]
    return rows


def method_names() -> list[str]:
    """The methods there are."""
    return [row["name"] for row in _rows()]


def method_named(name: str, rules: RainRules | None = None) -> Method:
    """The method of that name, or of another it is known by. Raises RainError with the nearest name.

    >>> method_named("ipc 2018").name
    'IPC 2015'
    """
    wanted = _key(name)
    for row in _rows():
        if wanted in [_key(one) for one in (row["name"], *row["also"])]:
            storm = Storm(tuple(row["minutes"]), tuple(row["years"]), row["storm_source"])
            return _KINDS[row["name"]](row["name"], row["title"], storm, rules or RainRules())
    every = [one for row in _rows() for one in (row["name"], *row["also"])]
    near = difflib.get_close_matches(name.casefold(), [one.casefold() for one in every], n=1, cutoff=0.5)
    hint = next((f" Did you mean {one!r}?" for one in every if near and one.casefold() == near[0]), "")
    raise RainError(f"no method is called {name!r}: there are {', '.join(method_names())}.{hint}")


def _key(name: str) -> str:
    return "".join(name.casefold().split()).replace("-", "").replace("–", "")

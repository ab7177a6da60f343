"""Published tables from TOML: loaded once, checked row by row, and read between rows."""

from __future__ import annotations

import itertools
import tomllib
from bisect import bisect_right
from importlib.resources import files
from typing import Any

from gutterance.drainage.errors import within

STATUSES = {"confirmed": "", "cross-checked": "from memory, borne out by a second source or formula"}
"""How well a published value is known here; what a paper says of it. Nothing less is shipped."""


class TableError(ValueError):
    """A table file that cannot be used; the message names the file, the table and the row."""


def toml_of(name: str) -> dict[str, Any]:
    """The data of one of the package's table files."""
    return tomllib.loads((files("gutterance.drainage") / name).read_text(encoding="utf-8"))


def checked_rows(table: dict[str, Any], name: str, file: str) -> list[list[float]]:
    """The rows of a table, each as wide as the first and every first number above the one before it."""
    if table.get("status") not in STATUSES:
        raise TableError(f"{file}: {name}: status must be one of {', '.join(STATUSES)}")
    if not table.get("source"):
        raise TableError(f"{file}: {name}: no source")
    rows = [[float(number) for number in row] for row in table["rows"]]
    width = len(table["columns"]) + 1 if "columns" in table else len(rows[0])
    for number, row in enumerate(rows, start=1):
        if len(row) != width:
            raise TableError(f"{file}: {name}, row {number}: {len(row)} numbers, not {width}")
    for number, (before, row) in enumerate(itertools.pairwise(rows), start=2):
        if row[0] <= before[0]:
            raise TableError(f"{file}: {name}, row {number}: {row[0]:g} does not come after {before[0]:g}")
    return rows


def between(rows: list[list[float]], at: float, what: str, where: str, column: int = 1) -> float:
    """A column's value at `at`, on a straight line between two rows. Raises OutOfRangeError."""
    within(at, rows[0][0], rows[-1][0], what, where)
    after = min(bisect_right(rows, at, key=lambda row: row[0]), len(rows) - 1)
    low, high = rows[after - 1], rows[after]
    return low[column] + (high[column] - low[column]) * (at - low[0]) / (high[0] - low[0])

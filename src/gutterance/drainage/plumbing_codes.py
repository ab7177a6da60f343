"""Gutters and leaders by the tables of US plumbing codes: the row a section contains, never one between.

Sizes [in], slopes [in/ft], flows [gpm], areas [ft²].
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

from gutterance.drainage.errors import OutOfRangeError
from gutterance.drainage.tables import STATUSES, TableError, toml_of
from gutterance.drainage.units import SQUARE_FEET_PER_GPM

if TYPE_CHECKING:
    from gutterance.drainage.sections import PipeSection

TABLES = "plumbing_codes.toml"
IPC_GPM_PER_SQUARE_FOOT = 0.0104
"""The constant of IPC equation 11-1, a rounding of 1 / 96.25."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a code's table: its section in words and its sides [in], slope [in/ft] where it has one.

    `gpm` is what it holds [gpm]; a table of areas at 1 in/h is turned into gpm by 96.25 ft² to the gpm.
    """

    table: str
    says: str
    sides: tuple[Fraction, ...]
    gpm: float
    status: str
    source: str
    slope: Fraction | None = None
    square_feet: int | None = None


def ipc_flow(area: float, rainfall: float) -> float:
    """IPC equation 11-1: Q [gpm] = R A 0.0104.

    area: [ft²] A, projected. rainfall: [in/h] R.
    Source: IPC 2015, 1106 (as quoted).

    >>> round(ipc_flow(2506, 3), 1)
    78.2
    """
    return area * rainfall * IPC_GPM_PER_SQUARE_FOOT


def area_at(area_at_one_inch: float, rainfall: float) -> float:
    """A table's roof area [ft²] at another rate [in/h] than the 1 in/h it is given for: A / I.

    Limits: rainfall over 0.
    Source: the codes' own rule; UPC Appendix D works 21,400 ft² at 3.2 in/h as 6,688.

    >>> area_at(21400, 3.2)
    6687.5
    """
    if rainfall <= 0:
        raise OutOfRangeError("a roof area for a rainfall of nothing has no end")
    return area_at_one_inch / rainfall


def nspc_leader_flow(diameter: float, part: Fraction = Fraction(7, 24)) -> float:
    """Wyly-Eaton in US units: q [gpm] = 27.8 r^(5/3) d^(8/3), what NSPC Table 13.6.1 comes from.

    diameter: [in] d. part: [-] r, the part of the section that is water; 7/24 in NSPC.
    Limits: diameter over 0; part over 0 to 1/3, refused beyond.
    Source: Wyly and Eaton, NBS Monograph 31, 1961; NSPC 2006, Table 13.6.1.

    >>> [round(nspc_leader_flow(d)) for d in (2, 3, 4, 5, 6, 8)]
    [23, 67, 144, 261, 424, 913]
    """
    if diameter <= 0 or not 0 < part <= Fraction(1, 3):
        raise OutOfRangeError("a leader needs a diameter over nothing and a filling of up to a third")
    return float(27.8 * part ** (5 / 3) * diameter ** (8 / 3))


def gutter_row(method: str, diameter: float, slope: Fraction) -> Row | None:
    """The row for a half-round gutter: the largest not over its diameter [in], steepest not over its slope.

    >>> gutter_row("IPC 2015", 5, Fraction(1, 8)).gpm
    74.0
    """
    rows = [
        row
        for row in gutter_rows(method)
        if row.sides[0] <= diameter + 1e-9 and row.slope is not None and row.slope <= slope
    ]
    return max(rows, key=lambda row: (row.sides[0], row.slope), default=None)


def leader_row(method: str, pipe: PipeSection) -> Row | None:
    """The best row whose section lies within the pipe's; a round pipe goes by round rows alone."""
    rows = [row for row in leader_rows(method) if _lies_within(row.sides, pipe)]
    return max(rows, key=lambda row: row.gpm, default=None)


def _lies_within(sides: tuple[Fraction, ...], pipe: PipeSection) -> bool:
    if len(sides) == 1:
        return sides[0] <= min(pipe.along, pipe.out)
    if pipe.round:
        return False
    return min(sides) <= min(pipe.along, pipe.out) and max(sides) <= max(pipe.along, pipe.out)


@cache
def gutter_rows(method: str) -> tuple[Row, ...]:
    """The gutter rows of a code, in the order of its table."""
    out = []
    for table in _tables("gutters", method):
        for row in table["rows"]:
            slope = Fraction(row["slope"])
            if len(row["holds"]) != len(table["sizes"]):
                raise TableError(f"{TABLES}: {method} gutters at {slope} in/ft: not as many numbers as sizes")
            out += [
                _row(table, f"{size} in semicircular at {slope} in/ft", (Fraction(size),), holds, slope)
                for size, holds in zip(table["sizes"], row["holds"], strict=True)
            ]
    return tuple(out)


@cache
def leader_rows(method: str) -> tuple[Row, ...]:
    """The leader rows of a code, in the order of its table."""
    return tuple(
        _row(
            table,
            f"{row['size'].replace('x', ' x ')} in" + ("" if "x" in row["size"] else " round"),
            tuple(_inches(side) for side in row["size"].split("x")),
            row["holds"],
        )
        for table in _tables("leaders", method)
        for row in table["rows"]
    )


def _tables(kind: str, method: str) -> list[dict[str, Any]]:
    tables = [table for table in toml_of(TABLES)[kind] if table["method"] == method]
    for table in tables:
        if table["status"] not in STATUSES or table["unit"] not in ("gpm", "ft2"):
            raise TableError(f"{TABLES}: {method} {kind}: status or unit is none of those known")
    return tables


def _row(
    table: dict[str, Any], says: str, sides: tuple[Fraction, ...], holds: int, slope: Fraction | None = None
) -> Row:
    feet = holds if table["unit"] == "ft2" else None
    gpm = float(holds) if feet is None else float(feet / SQUARE_FEET_PER_GPM)
    return Row(table["table"], says, sides, gpm, table["status"], table["source"], slope, feet)


def _inches(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))

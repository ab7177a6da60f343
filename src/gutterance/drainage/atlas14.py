"""NOAA Atlas 14 point precipitation frequency estimates, from the CSV that its server gives out to save.

The form: a title with the unit (`Point precipitation frequency estimates (inches)`), header lines, the
heading PRECIPITATION FREQUENCY ESTIMATES, then `by duration for ARI (years):, 1,2,5,...` and a row for each
duration. Depths or intensities, English or metric, partial duration or annual maximum series (whose header
gives chances, `'1/2,'1/5`). Bounds of confidence may follow in further tables and are not used.
"""

from __future__ import annotations

import csv
import itertools
import re
from dataclasses import dataclass, field
from fractions import Fraction

from gutterance.drainage.errors import RainError
from gutterance.drainage.rainfall import Rainfall
from gutterance.measure.length import MM_PER_INCH

LARGEST_FILE = 200_000
"""Bytes; the published files are about 2 kB, with both bounds about 6."""

_TITLE = re.compile(r"point precipitation frequency estimates \((?P<unit>[^)]*)\)", re.IGNORECASE)
_ROW = re.compile(r"(?P<count>\d+)-(?P<unit>min|hr|day):?\Z", re.IGNORECASE)
_MINUTES = {"min": 1, "hr": 60, "day": 1440}
_UNITS = {"inches": MM_PER_INCH, "millimeters": Fraction(1), "millimetres": Fraction(1), "mm": Fraction(1)}
_SAVE = "save it again from the server's page as CSV, unchanged"


@dataclass(slots=True)
class PointFrequency:
    """A point's table: for minutes and years the depth [mm], with what the header says of the place."""

    name: str
    volume: str
    place: str
    series: str
    unit: str
    years: tuple[int, ...]
    depths: dict[int, tuple[Fraction, ...]] = field(default_factory=dict)
    cells: dict[int, tuple[str, ...]] = field(default_factory=dict)

    def rainfall(self, minutes: int, years: int) -> Rainfall:
        """The rate of a storm of that duration and return period. RainError where the file lacks it."""
        if minutes not in self.depths:
            there = ", ".join(str(one) for one in self.depths if one <= 60)
            raise RainError(f"{self.name} has no {minutes}-minute row: it has {there} minutes and longer")
        if years not in self.years:
            there = ", ".join(map(str, self.years))
            raise RainError(f"{self.name} has no {years}-year column: it has {there} years")
        at = self.years.index(years)
        rate = self.depths[minutes][at] * 60 / minutes
        where = f", {self.place}" if self.place else ""
        return Rainfall(
            rate,
            f"{self.cells[minutes][at]} {self.unit}",
            f"{self.volume}{where}, {self.series} series, file {self.name}",
            minutes,
            years,
        )


def read_point_frequency(text: str, name: str) -> PointFrequency:
    """Read a saved file's text. Raises RainError, naming file and row, for any other or a damaged one."""
    if "Error 3.0" in text or "not within a project area" in text:
        raise RainError(f"{name}: the point lies outside Atlas 14: take the rainfall from your local code")
    rows = [[cell.strip() for cell in row] for row in csv.reader(text.lstrip("\ufeff").splitlines())]
    lines = [", ".join(cell for cell in row if cell) for row in rows]
    title = next((match for line in lines if (match := _TITLE.search(line))), None)
    head = next((i for i, line in enumerate(lines) if line.casefold().startswith("by duration for a")), None)
    if title is None or head is None:
        lacks = "title" if title is None else "'by duration for ARI' line"
        raise RainError(f"{name} is no NOAA Atlas 14 point file (it has no {lacks}): {_SAVE}")
    per_hour, to_mm = _unit(title["unit"], lines, name)
    heading = next((line for line in reversed(lines[:head]) if line), "")
    if "bound" in heading.casefold():
        raise RainError(f"{name} holds a bound of confidence, not the estimates themselves: save those")
    table = PointFrequency(
        name,
        next((line for line in lines if line.casefold().startswith("noaa atlas")), "NOAA Atlas 14"),
        _place(lines),
        _after(lines, "Time series type") or "partial duration",
        f"{'in' if to_mm != 1 else 'mm'}{'/h' if per_hour else ''}",
        tuple(_years(cell, name) for cell in rows[head][1:] if cell),
    )
    table.series = table.series.casefold()
    for number in range(head + 1, len(rows)):
        if not _read_row(table, rows[number], number + 1, per_hour=per_hour, to_mm=to_mm):
            break
    if not table.depths:
        raise RainError(f"{name} has no row of durations under its heading: {_SAVE}")
    _check_rising(table)
    return table


def _unit(unit: str, lines: list[str], name: str) -> tuple[bool, Fraction]:
    """Whether the numbers are intensities, and the size of their unit [mm]."""
    words, _, per = unit.casefold().replace(" ", "").partition("/")
    if words not in _UNITS or per not in ("", "hour", "hr", "h"):
        raise RainError(f"{name} is in {unit!r}: save it in English or metric units, depth or intensity")
    data = _after(lines, "Data type").casefold()
    if ("intensity" in data and not per) or ("depth" in data and per):
        raise RainError(f"{name} calls its numbers {data!r} and gives them in {unit!r}: {_SAVE}")
    return bool(per), _UNITS[words]


def _after(lines: list[str], key: str) -> str:
    found = next((line for line in lines if line.casefold().startswith(key.casefold() + ":")), "")
    return found.partition(":")[2].strip()


def _place(lines: list[str]) -> str:
    name = _after(lines, "Location name (ESRI Maps)")
    degrees = [_after(lines, key).removesuffix("Degree").strip() for key in ("Latitude", "Longitude")]
    parts = [name] if name and name not in ("None", "-") else []
    parts += [" ".join(degrees)] if all(degrees) else []
    return ", ".join(parts)


def _years(cell: str, name: str) -> int:
    """`10` is years; `'1/10` a chance in a year, taken as the return period that goes with it."""
    match = re.fullmatch(r"'?(?:1/)?(\d+)", cell)
    if match is None or int(match[1]) == 0:
        raise RainError(f"{name}: {cell!r} is no return period: {_SAVE}")
    return int(match[1])


def _read_row(table: PointFrequency, cells: list[str], line: int, *, per_hour: bool, to_mm: Fraction) -> bool:
    """Read one duration into the table; False where the table has ended."""
    match = _ROW.match(cells[0]) if cells else None
    if match is None:
        if any(cells) and not cells[0].casefold().startswith(("date", "pyrun", "precip")):
            raise RainError(f"{table.name}, line {line}: {cells[0]!r} is no duration: {_SAVE}")
        return False
    values = cells[1:]
    while values and not values[-1]:
        values.pop()
    minutes = int(match["count"]) * _MINUTES[match["unit"].casefold()]
    where = f"{table.name}, line {line}"
    if len(values) != len(table.years):
        raise RainError(f"{where}: {len(values)} numbers for {len(table.years)} return periods: {_SAVE}")
    if minutes in table.depths or minutes == 0:
        raise RainError(f"{where}: a second row for {cells[0].rstrip(':')}: {_SAVE}")
    try:
        depths = [Fraction(value) for value in values if re.fullmatch(r"\d*\.?\d+", value)]
    except ValueError:
        depths = []
    if len(depths) != len(values) or min(depths) <= 0:
        raise RainError(f"{where}: a number over nothing was wanted for each return period: {_SAVE}")
    to_depth = to_mm * minutes / 60 if per_hour else to_mm
    table.depths[minutes] = tuple(depth * to_depth for depth in depths)
    table.cells[minutes] = tuple(values)
    return True


def _check_rising(table: PointFrequency) -> None:
    """Rarer storms bring more rain: a row that falls, or columns out of order, is a damaged file."""
    if list(table.years) != sorted(set(table.years)):
        raise RainError(f"{table.name}: its return periods are not in order: {_SAVE}")
    for minutes, depths in table.depths.items():
        if any(after < before for before, after in itertools.pairwise(depths)):
            raise RainError(f"{table.name}: the {minutes}-minute row falls as storms grow rarer: {_SAVE}")

"""Values beyond any plausible range. The ranges are data, in `plausible.toml` beside this module."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from gutterance.checking.codes import finding
from gutterance.checking.gaps import offered
from gutterance.checking.slips import dash_lost
from gutterance.checking.wording import of_path, shown, start
from gutterance.measure.length import Length, LengthTextError
from gutterance.sheet.models import Defaults, Downpipe, Outlet, Run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Change, Finding, Suggestion
    from gutterance.checking.house import House, Placed

FILE = "plausible.toml"
LIMITS = (
    "shortest_offset",
    "shortest_return",
    "storey_rise",
    "ridge_apart",
    "depth_apart",
    "overhang_apart",
    "heights_apart",
    "outlets_apart",
    "returns_apart",
    "hangers_in_snow",
)
_GROUPS: dict[str, type] = {"defaults": Defaults, "runs": Run, "outlets": Outlet, "downpipes": Downpipe}


class PlausibleFileError(ValueError):
    """The data file of plausible ranges cannot be used; the message names the file and the row."""


@dataclass(frozen=True, slots=True)
class Range:
    """What one field may plausibly be, both ends allowed: lengths [in], angles [degrees]."""

    field: str
    low: Fraction
    high: Fraction
    why: str


@dataclass(frozen=True, slots=True)
class StoreyRange:
    """How high the downpipes of a storey may be [in], for a storey named with one of the words."""

    words: tuple[str, ...]
    low: Fraction
    high: Fraction
    why: str
    upper: bool = False


@dataclass(frozen=True, slots=True)
class Limit:
    """One length that a check goes by [in], and why."""

    name: str
    inches: Fraction
    why: str


@dataclass(frozen=True, slots=True)
class Plausible:
    """The whole file."""

    ranges: dict[str, Range]
    storeys: tuple[StoreyRange, ...]
    limits: dict[str, Limit]

    def limit(self, name: str) -> Limit:
        """The limit of that name, one of `LIMITS`."""
        return self.limits[name]


@cache
def plausible() -> Plausible:
    """The ranges that come with the package."""
    return read_plausible((files("gutterance.checking") / FILE).read_text(encoding="utf-8"), FILE)


def read_plausible(text: str, name: str) -> Plausible:
    """Read the data file's text.

    Raises PlausibleFileError naming the file and the row: TOML that cannot be read, a field that is not on
    the sheet or stands twice, a bound that is no length, a low above its high, an empty `why`, an unknown
    key, a limit that is not known.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise PlausibleFileError(f"{name}: not TOML ({error}): mend that line") from None
    for key in data:
        if key not in ("range", "storey", "limit"):
            raise PlausibleFileError(
                f"{name}: [[{key}]] is not known: rows are [[range]], [[storey]] or [[limit]]"
            )
    ranges: dict[str, Range] = {}
    for number, row in enumerate(data.get("range", []), start=1):
        where = f"{name}, [[range]] row {number}"
        _keys(row, {"field", "low", "high", "why"}, where)
        field = row["field"]
        group, _, part = field.partition(".") if isinstance(field, str) else ("", "", "")
        if group not in _GROUPS or part not in _GROUPS[group].model_fields:  # type: ignore[attr-defined]
            raise PlausibleFileError(f"{where}: {field!r} is no field of a sheet, like 'runs.length'")
        if field in ranges:
            raise PlausibleFileError(f"{where}: {field} stands twice: keep one row")
        ranges[field] = Range(field, *_bounds(row, where), _why(row, where))
    storeys = []
    for number, row in enumerate(data.get("storey", []), start=1):
        where = f"{name}, [[storey]] row {number}"
        upper = row.pop("upper", False) if isinstance(row, dict) else False
        _keys(row, {"words", "low", "high", "why"}, where)
        if not isinstance(upper, bool):
            raise PlausibleFileError(f"{where}: upper must be true or false")
        words = row["words"]
        if not (isinstance(words, list) and words and all(isinstance(word, str) for word in words)):
            raise PlausibleFileError(f"{where}: words must be a list of words, like ['upper']")
        storeys.append(
            StoreyRange(tuple(word.lower() for word in words), *_bounds(row, where), _why(row, where), upper)
        )
    return Plausible(ranges, tuple(storeys), _limits(data.get("limit", []), name))


def _limits(rows: list[Any], name: str) -> dict[str, Limit]:
    """The limits of the file; one that it leaves out is as in the file that comes with the package."""
    limits = {} if name == FILE else dict(plausible().limits)
    for number, row in enumerate(rows, start=1):
        where = f"{name}, [[limit]] row {number}"
        _keys(row, {"name", "value", "why"}, where)
        if row["name"] not in LIMITS:
            raise PlausibleFileError(f"{where}: {row['name']!r} is not known: {', '.join(LIMITS)} are")
        limits[row["name"]] = Limit(row["name"], _bound(row["value"], "value", where), _why(row, where))
    for wanted in LIMITS:
        if wanted not in limits:
            raise PlausibleFileError(f"{name}: no [[limit]] is called {wanted!r}: add it")
    return limits


def _keys(row: dict[str, Any], wanted: set[str], where: str) -> None:
    if not isinstance(row, dict):
        raise PlausibleFileError(f"{where}: not a table of {', '.join(sorted(wanted))}")
    for key in sorted(wanted - row.keys()):
        raise PlausibleFileError(f"{where}: {key} is missing: add it")
    for key in sorted(row.keys() - wanted):
        raise PlausibleFileError(f"{where}: {key} is not known: keys are {', '.join(sorted(wanted))}")


def _why(row: dict[str, Any], where: str) -> str:
    if not isinstance(row["why"], str) or not row["why"].strip():
        raise PlausibleFileError(f"{where}: why must say in words what lies beyond")
    return str(row["why"])


def _bounds(row: dict[str, Any], where: str) -> tuple[Fraction, Fraction]:
    low, high = (_bound(row[key], key, where) for key in ("low", "high"))
    if low > high:
        raise PlausibleFileError(f"{where}: low is above high: change one")
    return low, high


def _bound(value: Any, key: str, where: str) -> Fraction:
    if isinstance(value, int) and not isinstance(value, bool):
        return Fraction(value)
    if isinstance(value, str):
        try:
            return Length.from_file_text(value).inches
        except LengthTextError:
            pass
    raise PlausibleFileError(
        f"{where}: {key} = {value!r} is no bound: write '24 in', '600 mm' or whole degrees"
    )


def storey_of(storey: str, limits: Plausible) -> StoreyRange | None:
    """What is known of a storey by that name, or None."""
    said = storey.strip().lower()
    return next((limit for limit in limits.storeys if said in limit.words), None)


def find_implausible(house: House, limits: Plausible | None = None) -> Iterator[Finding]:
    """Values outside their range. One already in doubt is not asked about twice."""
    limits = limits or plausible()
    for placed in house.placed:
        limit = limits.ranges.get(f"{placed.group}.{placed.field}")
        if limit is None or not placed.reading.settled or placed.reading.by is not None:
            continue
        amount = _amount(placed.reading.value)
        if amount is None:
            continue  # told in a way that has no size here, as a thickness in gauge
        if limit.low <= amount <= limit.high or (amount < limit.low and _ends_close_below(placed)):
            continue
        name = of_path(placed.path, placed.field, placed.part, house)
        value = shown(placed.reading.value, placed.field)
        yield finding(
            "value-implausible",
            placed.path,
            f"{start(name)} is {value}, and {limit.why}.",
            f"Is {name} really {value}?",
            holds=house.rests_on(placed),
            source=placed.reading.source,
            suggests=_other_unit(placed, limit),
        )


def within_range(change: Change, limits: Plausible | None = None) -> bool:
    """Whether a value is in the plausible range of its field; also where there is no range, or no size."""
    group, _, rest = change.path.partition(".")
    limit = (limits or plausible()).ranges.get(f"{group}.{rest.rpartition('.')[2]}")
    amount = _amount(change.value)
    return limit is None or amount is None or limit.low <= amount <= limit.high


def _ends_close_below(placed: Placed) -> bool:
    """Whether this is the height of a pipe that ends on a lower roof or gutter, perhaps close below."""
    part = placed.part
    return (
        isinstance(part, Downpipe)
        and placed.field == "height"
        and part.ends_at is not None
        and part.ends_at.value in ("lower roof", "lower gutter")
        and (amount := _amount(placed.reading.value)) is not None
        and amount > 0
    )


def _amount(value: Any) -> Fraction | None:
    """The size of a value, lengths [in], angles [degrees]; None where it has none."""
    if isinstance(value, Length):
        return value.inches
    if isinstance(value, float | int):
        # An angle that is no number at all is as far out of range as can be.
        return Fraction(value) if math.isfinite(value) else Fraction(-1)
    try:
        return Length.from_file_text(str(value)).inches
    except LengthTextError:
        return None


def _other_unit(placed: Placed, limit: Range) -> list[Suggestion]:
    """The same number in the unit it may have been meant in, where that is plausible."""
    value = placed.reading.value
    if not isinstance(value, Length):
        if "angle" in placed.field and (turn := _amount(value)) and limit.low <= 180 - turn <= limit.high:
            return [
                offered(
                    placed.path,
                    180.0 - float(turn),
                    placed.field,
                    "the angle inside the corner was given, not the turn",
                )
            ]
        return []
    suggestions = []
    for times, why in ((Fraction(12), "feet said, inches read"), (Fraction(1, 12), "inches said, feet read")):
        other = Length(value.inches * times, value.system)
        if value.system == "imperial" and limit.low <= other.inches <= limit.high and other.inches > 0:
            suggestions.append(offered(placed.path, other, placed.field, why))
    return [*suggestions, *dash_lost_offers(placed)]


def dash_lost_offers(placed: Placed) -> list[Suggestion]:
    """Feet and inches run together (`94` for `9-4`), where that is in the value's range; as read is not."""
    limit = plausible().ranges.get(f"{placed.group}.{placed.field}")
    value = placed.reading.value
    if limit is None or not isinstance(value, Length) or limit.low <= value.inches <= limit.high:
        return []
    return [
        offered(placed.path, slip.meant, placed.field, slip.why)
        for slip in dash_lost(value)
        if limit.low <= slip.meant.inches <= limit.high
    ]

"""Units of length and their exact size, held by pint from `units.txt`.

pint is imported when the size of a unit is first asked for that is neither inch, foot nor millimetre:
those three are defined in `length` (and the tests hold them against pint).
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import INCHES_PER_FOOT, MM_PER_INCH, Length, System
from gutterance.measure.vocabulary import UNITS_FILE, WordsError

if TYPE_CHECKING:
    import pint

METRIC = frozenset({"millimetre", "centimetre", "decimetre", "metre"})

_AT_HAND = {"inch": Fraction(1), "foot": Fraction(INCHES_PER_FOOT), "millimetre": 1 / MM_PER_INCH}


def load_units(text: str, file: str = UNITS_FILE) -> pint.UnitRegistry[Any]:
    """A pint registry of exact units from a definition text. Raises WordsError naming file and row."""
    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None, non_int_type=Fraction)
    for row, line in enumerate(text.splitlines(), start=1):
        line = line.split("#")[0].strip()
        if line:
            try:
                registry.define(line)
            except Exception as error:  # pint raises many kinds for a bad row
                raise WordsError(f"{file}, row {row}: {line!r} is no unit: {error}") from error
    return registry


@lru_cache(maxsize=1)
def registry() -> pint.UnitRegistry[Any]:
    """The registry of the package's own units, made at first use."""
    return load_units(files("gutterance.measure").joinpath(UNITS_FILE).read_text(encoding="utf-8"))


@lru_cache(maxsize=64)
def inches_in(unit: str) -> Fraction:
    """How many inches [in] one `unit` is, exact.

    >>> inches_in("yard")
    Fraction(36, 1)
    >>> inches_in("metre")
    Fraction(5000, 127)
    """
    if unit in _AT_HAND:
        return _AT_HAND[unit]
    factor = registry().convert(Fraction(1), unit, "inch")
    return Fraction(factor)


def system_of(unit: str) -> System:
    """Whether a unit is written in feet and inches or in millimetres."""
    return "metric" if unit in METRIC else "imperial"


def length_of(value: Fraction, unit: str) -> Length:
    """The length of `value` times `unit`."""
    return Length(value * inches_in(unit), system_of(unit))

"""How far a metal tape may be out at a length, by NIST Handbook 44."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files

from gutterance.measure.length import INCHES_PER_FOOT, Length
from gutterance.measure.vocabulary import WordsError

TOLERANCE_FILE = "tolerance.toml"


class BeyondTape(ValueError):
    """A length outside the published table."""


def load_steps(text: str, file: str = TOLERANCE_FILE) -> tuple[tuple[int, Fraction], ...]:
    """The steps of a tolerance table: up to how many feet [ft], and the tolerance [in].

    Raises WordsError naming file and row where a step misses a value, or lengths or tolerances do not grow.
    """
    try:
        rows = tomllib.loads(text).get("step")
    except tomllib.TOMLDecodeError as error:
        raise WordsError(f"{file}: {error}") from error
    if not isinstance(rows, list) or not rows:
        raise WordsError(f"{file}: no [[step]] rows")
    steps: list[tuple[int, Fraction]] = []
    for row, entry in enumerate(rows, start=1):
        up_to = entry.get("up_to")
        try:
            tolerance = Fraction(entry.get("tolerance", ""))
        except (ValueError, TypeError, ZeroDivisionError):
            raise WordsError(f"{file}, step {row}: tolerance must be a fraction such as '1/16'") from None
        if not isinstance(up_to, int) or isinstance(up_to, bool) or up_to <= 0 or tolerance <= 0:
            raise WordsError(f"{file}, step {row}: up_to must be whole feet above 0, and tolerance above 0")
        if steps and (up_to <= steps[-1][0] or tolerance <= steps[-1][1]):
            raise WordsError(f"{file}, step {row}: must be longer and coarser than the step before it")
        steps.append((up_to, tolerance))
    return tuple(steps)


@lru_cache(maxsize=1)
def steps() -> tuple[tuple[int, Fraction], ...]:
    """The table that comes with the package."""
    return load_steps(files("gutterance.measure").joinpath(TOLERANCE_FILE).read_text(encoding="utf-8"))


def tape_tolerance(length: Length) -> Fraction:
    """How far a metal tape may be out at `length`, either way [in].

    Limits: 0 to 100 ft, both ends included; outside them BeyondTape is raised. The published steps leave
    the lengths between one step and the next open (6 ft to 7 ft): the longer step is taken.

    Source: NIST Handbook 44, section 5.52, metal tapes.

    >>> tape_tolerance(Length.from_feet(6)), tape_tolerance(Length.from_feet(6, 1))
    (Fraction(1, 32), Fraction(1, 16))
    >>> tape_tolerance(Length.from_feet(101))
    Traceback (most recent call last):
        ...
    gutterance.measure.tolerance.BeyondTape: 101' 0" is beyond the table's 100 ft: measure it twice
    """
    if length.inches < 0:
        raise BeyondTape(f"{length.tape_text()} is no length that a tape measures")
    for up_to, tolerance in steps():
        if length.inches <= up_to * INCHES_PER_FOOT:
            return tolerance
    longest = steps()[-1][0]
    raise BeyondTape(f"{length.tape_text()} is beyond the table's {longest} ft: measure it twice")

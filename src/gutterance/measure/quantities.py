"""Quantities that are no lengths: areas, rainfall, weights, temperatures, volumes.

quantulum3 names the unit; the number is read again by our own numerals, exactly. quantulum3 takes seconds to
load, so it is imported when a quantity is first asked about.
"""

from __future__ import annotations

import logging
import warnings
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from gutterance.measure.amounts import read_amount
from gutterance.measure.tokens import tokens_of
from gutterance.measure.vocabulary import vocabulary

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from gutterance.measure.found import Found

_UNREAD = frozenset({"unknown", "dimensionless", "length", "time"})


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with a unit that is no unit of length. `unit` and `kind` are None where not understood."""

    value: Fraction
    unit: str | None
    kind: str | None
    text: str
    start: int
    end: int

    @property
    def understood(self) -> bool:
        """Whether the unit is known."""
        return self.unit is not None


def read_quantity(found: Found) -> Quantity | None:
    """The quantity that a Found of kind "other" holds; None where it holds no number with a unit.

    The value is exact. Where quantulum3 does not know the unit, or fails, `unit` and `kind` are None.
    """
    if found.what not in ("quantity", "pitch", "angle", "percent"):
        return None
    tokens = tokens_of(found.text)
    read = read_amount(tokens, 0)
    if read is None:
        return None
    amount, after = read
    rest = found.text[tokens[after].start :] if after < len(tokens) else ""
    unit, kind = _unit_of(" ".join(rest.lower().split()))
    return Quantity(amount.value, unit, kind, found.text, found.start, found.end)


@lru_cache(maxsize=256)
def _unit_of(words: str) -> tuple[str | None, str | None]:
    """quantulum3's name of a unit and of what it measures, from the words after the number."""
    if not words:
        return None, None
    words = vocabulary().quantity.get(words, words)
    try:
        parsed = _parse(f"2 {words}")
    except Exception:  # a parser of free text may fail in any way; the quantity then stays unread
        return None, None
    if len(parsed) != 1:
        return None, None
    unit = parsed[0].unit
    if unit.entity.name in _UNREAD:
        return None, None
    return str(unit.name), str(unit.entity.name)


def _parse(text: str) -> list[Any]:
    """quantulum3's parse, with its warning about an absent classifier and its root log handler kept away."""
    root = logging.getLogger()
    handlers, level = list(root.handlers), root.level
    try:
        with warnings.catch_warnings(), _without_instrumentation():
            warnings.simplefilter("ignore")
            from quantulum3 import parser

            return list(parser.parse(text))
    finally:
        root.handlers[:] = handlers
        root.setLevel(level)


@contextmanager
def _without_instrumentation() -> Iterator[None]:
    """Loads a module without typeguard rewriting it to check its arguments.

    quantulum3 uses inflect for the plurals of its units, and inflect has each of its methods rewritten so as
    it loads: four fifths of the time that the first quantity of a note took. What they do stays the same.
    """
    try:
        import typeguard
    except ImportError:
        yield
        return
    checked = typeguard.typechecked
    typeguard.typechecked = _as_it_is
    try:
        yield
    finally:
        typeguard.typechecked = checked


def _as_it_is(target: Any = None, **_: Any) -> Any:
    """In place of typeguard's decorator."""
    return target if target is not None else _as_it_is

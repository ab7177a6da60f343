"""Rates of rain in words: `6 in/h`, `75 mm an hour`, `0.021 l/(s·m²)`, `8.3 in/h, 5 min, 10 yr`.

The number is read by our own numerals, exactly. The spellings of files (`6 in/h`, `75 mm/h`) are known here;
any other unit is named by quantulum3 and sized by pint, which load only then.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.amounts import read_amount
from gutterance.measure.length import MM_PER_INCH
from gutterance.measure.tape import find_lengths
from gutterance.measure.tokens import tokens_of

if TYPE_CHECKING:
    from gutterance.measure.found import Found

SECONDS_PER_HOUR = 3600
MM_PER_HOUR = {"in/h": MM_PER_INCH, "mm/h": Fraction(1), "l/(s·m²)": Fraction(SECONDS_PER_HOUR)}
"""Millimetres an hour in one of each; a litre on a square metre is a millimetre deep. Tests ask pint."""

_LITRES_ON_AREA = re.compile(
    r"(?:l|lit(?:re|er)s?)\s*(?:/|per|a)\s*\(?\s*s(?:ec(?:ond)?s?)?\s*(?:[/·.*x×]|per|a)?\s*"
    r"(?P<area>m\s*(?:2|²|\^2)|sq\.?\s*m|square\s+met(?:re|er)s?|ha|hectares?)\s*\)?(?=\s|[,;]|\Z)",
    re.IGNORECASE,
)
_ARC_MARK = re.compile(r"(?<=\d)\s*(?:\"|”|″|'')\s*\s*(?=(?:/|per|an?)\s*h)", re.IGNORECASE)
_SHORT = re.compile(r"\s*(?:/|per|an?)\s*h(?:(?:ou)?r)?s?\b\.?", re.IGNORECASE)
_DURATION = re.compile(r"(?<![\d.])(\d+)\s*-?\s*(min(?:ute)?s?|h(?:ou)?rs?|h)\b", re.IGNORECASE)
_YEARS = re.compile(r"(?<![\d.])(\d+)\s*-?\s*(?:y(?:ea)?rs?|y)\b", re.IGNORECASE)
_FILLER = frozenset(
    ["a", "an", "and", "at", "by", "design", "duration", "for", "in", "is", "of", "once", "one", "over",
     "period", "rain", "rainfall", "rate", "return", "storm", "the", "with"]
)  # fmt: skip
_HOW = "write it like '6 in/h', '150 mm/h' or '0.021 l/(s·m²)'"


class RateError(ValueError):
    """Words that should be a rate of rain and are not; the message says how to write it."""


@dataclass(frozen=True, slots=True)
class Rate:
    """A rate of rain [mm/h], exact, and the storm it was said to be of: its minutes, its years, or None."""

    mm_per_hour: Fraction
    text: str
    minutes: int | None = None
    years: int | None = None


def read_rate(text: str) -> Rate:
    """The rate of rain in `text`, with a storm's duration and return period where they are said.

    Raises RateError where there is no number, no unit of depth over time, a sign, or more than one rate.

    >>> read_rate("0.021 l/(s·m²)").mm_per_hour
    Fraction(378, 5)
    >>> storm = read_rate("3.63 in/h, 60 min, 100 yr")
    >>> float(storm.mm_per_hour), storm.minutes, storm.years
    (92.202, 60, 100)
    """
    given = " ".join(text.split())
    plain = _ARC_MARK.sub(" in ", given)
    rate, rest = _rate_and_rest(plain, given)
    minutes, rest = _taken(_DURATION, rest)
    years, rest = _taken(_YEARS, rest)
    left_over = [word for word in re.findall(r"[^\W_]+", rest) if word.casefold() not in _FILLER]
    if left_over:
        raise RateError(f"rainfall {given!r}: {' '.join(left_over)!r} cannot be read here: {_HOW}")
    length = None
    if minutes is not None:
        length = int(minutes[1]) * (60 if minutes[2].casefold().startswith("h") else 1)
    return Rate(rate, given, length, int(years[1]) if years is not None else None)


def _taken(pattern: re.Pattern[str], text: str) -> tuple[re.Match[str] | None, str]:
    match = pattern.search(text)
    return (match, text) if match is None else (match, f"{text[: match.start()]} {text[match.end() :]}")


def _rate_and_rest(text: str, given: str) -> tuple[Fraction, str]:
    litres = _LITRES_ON_AREA.search(text)
    if litres is not None:
        value, start = _number_before(text, litres.start(), given)
        per = MM_PER_HOUR["l/(s·m²)"]
        if litres["area"].casefold().startswith("h"):
            per /= 10_000
        return _unsigned(text, start, given, value * per), text[:start] + text[litres.end() :]
    for found in find_lengths(text):
        quantity = found.text if found.kind == "other" and found.what == "quantity" else None
        if quantity is None:
            continue
        per_hour = _at_hand(quantity)
        if per_hour is None:
            per_hour = _asked(found, given)
        if found.value is None or per_hour is None:
            continue
        rest = text[: found.start] + text[found.end :]
        return _unsigned(text, found.start, given, found.value * per_hour), rest
    raise RateError(f"rainfall {given!r} is no depth over time: {_HOW}")


def _unsigned(text: str, start: int, given: str, rate: Fraction) -> Fraction:
    if text[:start].rstrip().endswith(("-", "−", "minus")):
        raise RateError(f"rainfall {given!r} is below nothing: {_HOW}")
    return rate


def _number_before(text: str, end: int, given: str) -> tuple[Fraction, int]:
    """The one numeral that stands right before `end`, and where it starts."""
    tokens = tokens_of(text[:end])
    for at in range(len(tokens)):
        read = read_amount(tokens, at)
        if read is not None and read[1] == len(tokens):
            return read[0].value, tokens[at].start
    raise RateError(f"rainfall {given!r} has no number before its unit: {_HOW}")


def _at_hand(quantity: str) -> Fraction | None:
    """The size of `in/h`, `mm per hour` and the like; None where the unit is another."""
    hour = _SHORT.search(quantity)
    if hour is None or quantity[hour.end() :].strip():
        return None
    match = re.search(
        r"(in|ins|inch|inches|mm|millimet(?:re|er)s?)\.?\s*\Z", quantity[: hour.start()].lower()
    )
    if match is None:
        return None
    return MM_PER_HOUR["in/h" if match[1].startswith("in") else "mm/h"]


def _asked(found: Found, given: str) -> Fraction | None:
    """The size [mm/h] of a unit that quantulum3 names, by pint; None where it is no depth over time."""
    import pint

    from gutterance.measure.quantities import read_quantity

    quantity = read_quantity(found)
    if quantity is None or quantity.unit is None:
        return None
    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
    try:
        size = registry.Quantity(Fraction(1), quantity.unit).to("millimetre / hour").magnitude
    except Exception:  # pint raises many kinds for a unit that is no speed or that it does not know
        raise RateError(
            f"rainfall {given!r} is in {quantity.unit}, which is no depth over time: {_HOW}"
        ) from None
    return Fraction(size)

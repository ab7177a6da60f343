"""Lengths as a shop file writes them: `1/16 in`, `10 ft`, `5 ft 6 in`, `600 mm`."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any

from pydantic import PlainSerializer, PlainValidator, WithJsonSchema

from gutterance.measure.length import Length, LengthTextError

_BARE = re.compile(r"-?\d+(\.\d+|( \d+)?/\d+)?")
_WORDS = {
    "inch": "in", "inches": "in", '"': "in", "″": "in", "feet": "ft", "foot": "ft", "'": "ft", "′": "ft",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
}  # fmt: skip
_FEET = re.compile(r"\s*(?P<sign>-?)(?P<feet>\d+)\s*ft(?:\s+(?P<rest>.+))?\s*\Z")

_FEET_PART = re.compile(r"\s*(?P<number>-?(\d+\.\d+|(\d+ )?\d+/\d+))\s*ft\s*\Z")


def read_amount(text: str) -> Length:
    """Read a shop file's length: what `Length.from_file_text` reads, and feet besides.

    Raises LengthTextError, which says how to write it, for anything else.

    >>> read_amount("10 ft").inches
    Fraction(120, 1)
    >>> read_amount("-5 ft 6 1/2 in").inches
    Fraction(-133, 2)
    >>> read_amount("2 1/2 ft").inches
    Fraction(30, 1)
    """
    match = _FEET.match(text)
    part = _FEET_PART.match(text)
    try:
        if part is not None:
            return Length(Length.from_file_text(f"{part['number']} in").inches * 12)
        if match is None:
            return Length.from_file_text(text)
        rest = Length.from_file_text(match["rest"]) if match["rest"] else Length(Fraction(0))
    except LengthTextError:
        raise LengthTextError(f"{text!r} {_mend(text)}") from None
    inches = Fraction(int(match["feet"]) * 12) + rest.inches
    return Length(-inches if match["sign"] else inches)


def _mend(text: str) -> str:
    """What is wrong with a length that cannot be read, and how to write it."""
    plain = text.strip()
    if _BARE.fullmatch(plain):
        return f"has no unit: write '{plain} in' if it is inches, or '{plain} ft' or '{plain} mm'"
    mended = plain
    for word, unit in _WORDS.items():
        mended = re.sub(rf"(?<=\d)\s*-?{word}(?![a-z])", f" {unit} ", mended, flags=re.IGNORECASE)
    mended = " ".join(mended.split())
    metres = re.fullmatch(r"(\d+(?:\.\d+)?) ?(m|cm|metres?|meters?)", plain)
    if metres:
        mm = Fraction(metres[1]) * (10 if metres[2] == "cm" else 1000)
        mended = f"{float(mm):g} mm"
    if mended != plain:
        try:
            read_amount(mended)
        except LengthTextError:
            pass
        else:
            return f"has no unit that can be read: write it '{mended}'"
    return "has no unit that can be read: write it like '1/4 in', '10 ft', '5 ft 6 in' or '600 mm'"


def _amount(value: Any) -> Length:
    if isinstance(value, Length):
        return value
    if isinstance(value, str):
        return read_amount(value)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        raise ValueError(
            f"{value!r} has no unit: write it in quotes with one, '{value} in', '{value} ft' or '{value} mm'"
        )
    raise ValueError(f"{value!r} is no length: write it in quotes with its unit, like '1/4 in' or '10 ft'")


Amount = Annotated[
    Length,
    PlainValidator(_amount),
    PlainSerializer(Length.file_text, return_type=str),
    WithJsonSchema({"type": "string", "examples": ["1/16 in", "10 ft", "600 mm"]}),
]

"""Lengths as a shop file writes them: `1/16 in`, `10 ft`, `5 ft 6 in`, `600 mm`."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any

from pydantic import PlainSerializer, PlainValidator, WithJsonSchema

from gutterance.measure.length import Length, LengthTextError

_FEET = re.compile(r"\s*(?P<sign>-?)(?P<feet>\d+)\s*ft(?:\s+(?P<rest>.+))?\s*\Z")


def read_amount(text: str) -> Length:
    """Read a shop file's length: what `Length.from_file_text` reads, and feet besides.

    Raises LengthTextError, which says how to write it, for anything else.

    >>> read_amount("10 ft").inches
    Fraction(120, 1)
    >>> read_amount("-5 ft 6 1/2 in").inches
    Fraction(-133, 2)
    """
    match = _FEET.match(text)
    try:
        if match is None:
            return Length.from_file_text(text)
        rest = Length.from_file_text(match["rest"]) if match["rest"] else Length(Fraction(0))
    except LengthTextError:
        raise LengthTextError(
            f"{text!r} has no unit that can be read: write it like '1/4 in', '10 ft', '5 ft 6 in' or '600 mm'"
        ) from None
    inches = Fraction(int(match["feet"]) * 12) + rest.inches
    return Length(-inches if match["sign"] else inches)


def _amount(value: Any) -> Length:
    if isinstance(value, Length):
        return value
    if isinstance(value, str):
        return read_amount(value)
    raise ValueError(
        f"{value!r} has no unit: write it in quotes with one, like '1/4 in', '10 ft' or '600 mm'"
    )


Amount = Annotated[
    Length,
    PlainValidator(_amount),
    PlainSerializer(Length.file_text, return_type=str),
    WithJsonSchema({"type": "string", "examples": ["1/16 in", "10 ft", "600 mm"]}),
]

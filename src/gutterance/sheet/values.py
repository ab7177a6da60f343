"""The kinds of value a field sheet holds, and the words they are written in."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import PlainSerializer, PlainValidator, WithJsonSchema

from gutterance.measure.length import Length

Status = Literal["read", "assumed", "inferred", "corrected", "doubtful", "missing"]
CERTAIN: frozenset[Status] = frozenset({"read", "assumed", "inferred", "corrected"})
"""The statuses a list may rest on. A doubtful or missing value puts what rests on it on hold."""

End = Literal["outside corner", "inside corner", "end cap", "wall", "splice"]
Place = Literal["left", "right", "centre"]
EndsAt = Literal["splash block", "ground", "drain", "drain box", "barrel", "lower roof", "lower gutter"]
TotalOf = Literal[
    "runs",
    "outlets",
    "downpipes",
    "outside corners",
    "inside corners",
    "corners",
    "end caps",
    "gutter length",
]
RemarkKind = Literal["hazard", "repair", "access", "customer", "materials", "other"]
Units = Literal["imperial", "metric", "mixed"]


def _length(value: Any) -> Length:
    if isinstance(value, Length):
        return value
    if isinstance(value, str):
        return Length.from_file_text(value)
    raise ValueError(
        f"{value!r} is not a length: write inches like '702 1/4 in' or millimetres like '3200 mm'"
    )


LengthValue = Annotated[
    Length,
    PlainValidator(_length),
    PlainSerializer(Length.file_text, return_type=str),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": r"^-?(\d+(\.\d+)?)?( ?\d+/\d+)? ?(in|mm)$",
            "description": "an exact length: '702 1/4 in' or '3200 mm'",
            "examples": ["702 1/4 in", "3200 mm"],
        }
    ),
]

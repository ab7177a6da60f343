"""What every table of the shop file shares: no unknown keys, and the kinds of number it holds."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from gutterance.shop.amounts import Amount

if TYPE_CHECKING:
    from gutterance.measure.length import Length


def _over_zero(length: Length) -> Length:
    if length.inches <= 0:
        raise ValueError(f"{length.inch_text()} must be more than nothing")
    return length


def _not_under_zero(length: Length) -> Length:
    if length.inches < 0:
        raise ValueError(f"{length.inch_text()} must not be below nothing")
    return length


def _decimal(text: str) -> str:
    if not re.fullmatch(r"\d{1,6}(\.\d{1,6})?", text):
        raise ValueError(f"{text!r} is no decimal number: write it in quotes, like '13' or '12.9'")
    return text


Positive = Annotated[Amount, AfterValidator(_over_zero)]
NotNegative = Annotated[Amount, AfterValidator(_not_under_zero)]
Percent = Annotated[int, Field(ge=0, le=100)]
DecimalText = Annotated[str, AfterValidator(_decimal)]
"""A decimal number in quotes, kept as it was written, so that nothing of it is rounded."""


class Rules(BaseModel):
    """A table of the shop file. A key it does not know is an error, so that a misspelt rule is not lost."""

    model_config = ConfigDict(extra="forbid", frozen=True)

"""The shop's rules for a quote: its currency, what an hour costs, and how much work each thing is."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from gutterance.shop.rules import DecimalText, Rules

ForEach = Literal[
    "job", "ft of gutter", "m of gutter", "piece", "corner", "end cap", "outlet", "downpipe",
    "ft of downpipe", "m of downpipe",
]  # fmt: skip


def _none(value: Any) -> Any:
    return None if value == "none" else value


def _currency(text: str | None) -> str | None:
    if text is not None and (not 1 <= len(text) <= 8 or not all(one.isprintable() for one in text)):
        raise ValueError(f"{text!r} is no currency: write its code or its sign, like 'CAD' or '€'")
    if text is not None and (text.startswith(("=", "+", "-", "@")) or any(one.isdigit() for one in text)):
        raise ValueError(f"{text!r} is no currency: write its code or its sign, like 'CAD' or '€'")
    return text


class QuoteRule(Rules):
    """What a quote is made out in. Percentages are decimal numbers; "none" is not given."""

    currency: Annotated[str | None, BeforeValidator(_none), AfterValidator(_currency)]
    decimals: Annotated[int, Field(ge=0, le=4)]
    hour: Annotated[DecimalText | None, BeforeValidator(_none)]
    markup_percent: DecimalText
    tax_percent: DecimalText


class Labour(Rules):
    """A kind of work: what it is counted by, and either a person's hours for each or a price for each."""

    work: Annotated[str, Field(min_length=1, max_length=80)]
    for_each: ForEach
    hours: DecimalText | None = None
    price: DecimalText | None = None

    @model_validator(mode="after")
    def _one_of_the_two(self) -> Self:
        if (self.hours is None) == (self.price is None):
            raise ValueError(
                f"labour {self.work!r}: give hours or price for each {self.for_each}, one of the two"
            )
        return self

    @property
    def each(self) -> Decimal:
        """Hours or price for each, exact."""
        return Decimal(self.hours if self.hours is not None else self.price or "0")

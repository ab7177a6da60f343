"""What a cutting plan is made of: the cuts wanted, what they are cut from, and the plan. All in inches."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction


class CuttingError(ValueError):
    """A length that no cutting can be planned with: nothing, less than nothing, or no exact number."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A length [in] that is wanted, over 0, and what it is for."""

    length: Fraction
    of: str

    def __post_init__(self) -> None:
        check_length(self.length, f"the cut for {self.of}")


@dataclass(frozen=True, slots=True)
class Stock:
    """A length [in] that cuts can be taken from.

    `count` is how many are at hand; None for a length that is bought, as many as are needed. `name` tells
    one apart where that matters.
    """

    length: Fraction
    count: int | None = None
    name: str = ""

    def __post_init__(self) -> None:
        check_length(self.length, f"the stock length {self.name}".rstrip())
        if self.count is not None and self.count < 0:
            raise CuttingError(f"{self.count} lengths at hand: a count is nothing or more")

    @property
    def new(self) -> bool:
        """Whether it has to be bought."""
        return self.count is None


@dataclass(slots=True)
class CutLength:
    """One stock length, the cuts taken from it in the order to make them, and what is left over [in]."""

    stock: Stock
    cuts: list[Cut] = field(default_factory=list)
    left_over: Fraction = Fraction(0)


@dataclass(slots=True)
class CuttingPlan:
    """Which cut comes from which length.

    `new` counts the lengths to buy, and no plan takes fewer than `at_least`. `longest_left` [in] is the
    longest piece left when all is cut, lengths at hand that stay whole among them; no plan as short on new
    lengths leaves one longer than `longest_could_be`. `too_long` are cuts that no length can give: they
    are in none. `out_of_time` says that the search was stopped by its limit.
    """

    lengths: list[CutLength] = field(default_factory=list)
    too_long: list[Cut] = field(default_factory=list)
    new: int = 0
    at_least: int = 0
    longest_left: Fraction = Fraction(0)
    longest_could_be: Fraction = Fraction(0)
    out_of_time: bool = False

    @property
    def proven_fewest(self) -> bool:
        """Whether no plan takes fewer new lengths."""
        return self.new == self.at_least

    @property
    def proven_longest(self) -> bool:
        """Whether no plan with as few new lengths leaves a longer piece."""
        return self.proven_fewest and self.longest_left >= self.longest_could_be


def check_length(length: object, what: str) -> None:
    """Raise CuttingError unless `length` is an exact number over nothing."""
    if not isinstance(length, Fraction | int) or isinstance(length, bool):
        raise CuttingError(f"{what} is {length!r}: give an exact length, a Fraction of an inch")
    if length <= 0:
        raise CuttingError(f"{what} is {length} in: a length must be more than nothing")

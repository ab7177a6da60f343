"""What a number is when it is surely no length: the answer every rule about it gives."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.amounts import Amount
from gutterance.measure.scan import Scan

if TYPE_CHECKING:
    from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Claim:
    """Tokens `first` up to but not including `after` are a number of kind `what`."""

    first: int
    after: int
    what: str
    value: Fraction | None = None


Rule = Callable[[Scan, int, Amount, int], Claim | None]

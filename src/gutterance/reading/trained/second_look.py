"""The trained reader's claims, asked about one value at a time."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.measure.length import Length
from gutterance.reading.trained.telling import UNSAID, run_key

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.reading.trained.telling import Claim

Key = tuple[str, tuple[str, ...], str | None]


class SecondLook:
    """Claims by the value that they are of."""

    def __init__(self, claims: Iterable[Claim]) -> None:
        self.claims: dict[Key, list[Claim]] = defaultdict(list)
        for claim in claims:
            self.claims[claim.field, run_key(claim.run), claim.side].append(claim)

    def of(self, field: str, run: str, side: str | None) -> list[Claim]:
        """The claims of a value, also those of a pipe whose side was not told."""
        key = run_key(run)
        found = self.claims.get((field, key, side), [])
        if not found and field not in ("length", "left_end", "right_end", "roof_run"):
            found = self.claims.get((field, key, UNSAID), [])
        return found

    def votes(
        self, field: str, run: str, side: str | None, value: object
    ) -> tuple[float, float, Claim | None]:
        """How sure the claims are of that value, how sure of another, and the surest claim of another.

        A claim before the last that agrees was taken back by it, and counts half.
        """
        found = self.of(field, run, side)
        last = max((at for at, claim in enumerate(found) if equal(claim.value, value)), default=-1)
        agreeing = max((claim.sure for claim in found if equal(claim.value, value)), default=0.0)
        against, other = 0.0, None
        for at, claim in enumerate(found):
            if not equal(claim.value, value):
                weight = claim.sure / (2 if at < last else 1)
                if weight > against:
                    against, other = weight, claim
        return agreeing, against, other


def equal(one: object, other: object) -> bool:
    """Whether two values are the same: lengths by their inches."""
    if isinstance(one, Length) and isinstance(other, Length):
        return one.inches == other.inches
    return one == other

"""Money and percentages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.measure.claims import Claim

if TYPE_CHECKING:
    from gutterance.measure.amounts import Amount
    from gutterance.measure.scan import Scan

_LEAST_PRICE, _TEENS = 200, 10


def price(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`$45`, `45 dollars`, `£12.50 a metre`, `45 bucks a foot`."""
    first = at
    found = False
    if at > scan.floor and scan.is_in(at - 1, "money_before"):
        first, found = at - 1, True
    if scan.word(after) == "k" and found and scan.glued(after):
        after += 1
    if scan.is_in(after, "money_after") or scan.is_in(after, "money_before"):
        after, found = after + 1, True
    if not found:
        end = _spoken_price_end(scan, at, amount, after)
        if end is None:
            return None
        after = end
    if (
        scan.word(after) in scan.words.other["per"]
        and after + 1 < len(scan.tokens)
        and scan.tokens[after + 1].unit
    ) or (scan.word(after) == "/" and after + 1 < len(scan.tokens) and scan.tokens[after + 1].unit):
        after += 2
    return Claim(first, after, "price", amount.value)


def _spoken_price_end(scan: Scan, at: int, amount: Amount, after: int) -> int | None:
    """Where the price of `quoted eighteen fifty`, `budget 2k`, `six fifty was the price` ends."""
    thousands = scan.word(after) == "k" and scan.glued(after)
    more = scan.amount(after) if amount.spoken and not thousands else None
    two = more is not None and more[0].value >= _TEENS
    if not (two or thousands or amount.value >= _LEAST_PRICE):
        return None
    end = after + 1 if thousands else more[1] if two and more is not None else after
    named_after = scan.word(end) in ("is", "was") and scan.is_in(end + 2, "money_words")
    if not named_after and not any(scan.is_in(at - step, "money_words") for step in (1, 2, 3)):
        return None
    return end if scan.unit(end) is None else None


def percent(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`10%`, `ten percent`, `ten per cent`."""
    if scan.is_in(after, "percent"):
        return Claim(at, after + 1, "percent", amount.value)
    if scan.word(after) == "per" and scan.word(after + 1) == "cent":
        return Claim(at, after + 2, "percent", amount.value)
    return None

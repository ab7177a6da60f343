"""Numbers that count things, and quantities with a unit that is no length."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.measure.claims import Claim

if TYPE_CHECKING:
    from gutterance.measure.amounts import Amount
    from gutterance.measure.scan import Scan

_MOST_PIECES = 12


def quantity(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`1200 sq ft`, `110 m²`, `4 in/h`, `75 mm per hour`, `30 kg`, `5 gallons`, `3 miles`."""
    tokens = scan.tokens
    here = scan.skip_dash(after)
    if scan.is_in(here, "areas") and scan.word(here) not in ("square",):
        end = here + 1
        if scan.word(end) == ".":
            end += 1
        if end < len(tokens) and tokens[end].unit:
            end += 1
        return Claim(at, end, "quantity", amount.value)
    if scan.word(here) == "square" and here + 1 < len(tokens) and tokens[here + 1].unit:
        return Claim(at, here + 2, "quantity", amount.value)
    if scan.is_in(here, "others"):
        end = here + 1
        if (scan.word(end) in ("per", "an", "a") or scan.word(end) == "/") and scan.is_in(end + 1, "rates"):
            end += 2
        return Claim(at, end, "quantity", amount.value)
    unit = scan.unit(after, amount)
    if unit is None:
        if scan.word(here) == "l" and scan.word(here + 1) == "/":
            return Claim(at, here + 3, "quantity", amount.value)
        return None
    end = unit[1]
    if (
        end < len(tokens)
        and scan.glued(end)
        and tokens[end - 1].kind == "word"
        and (tokens[end].kind == "symbol" or (tokens[end].word in ("2", "3") and not scan.glued(end + 1)))
    ):
        return Claim(at, end + 1, "quantity", amount.value)
    if scan.word(end) in ("squared", "cubed"):
        return Claim(at, end + 1, "quantity", amount.value)
    if scan.word(end) in ("per", "an", "a", "/") and scan.is_in(end + 1, "rates"):
        return Claim(at, end + 2, "quantity", amount.value)
    return None


def _behind_feet(scan: Scan, at: int) -> bool:
    """Whether the sign for feet, or their word, stands right before a number."""
    return at > scan.floor and scan.tokens[at - 1].unit == "foot"


def count(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`x2`, `2x`, `3 no.`, `4 off`, `two of them`, `2 guys`, `two outside corners`, `# 4`."""
    if scan.is_in(after, "storeys"):
        return Claim(at, after + 1, "count", amount.value)
    if not amount.is_whole:
        return None
    if at > scan.floor and scan.is_in(at - 1, "count_before") and scan.word(at - 1) != "number":
        end = after
        return Claim(at - 1, end, "count", amount.value)
    if scan.word(after) == "of" and scan.word(after + 1) in (
        "them",
        "those",
        "these",
        "the",
        "us",
        "each",
        "'em",
        "em",
    ):
        return Claim(at, after + 2 if scan.word(after + 1) != "the" else after + 1, "count", amount.value)
    if scan.is_in(after, "people"):
        return Claim(at, after + 1, "count", amount.value)
    if scan.word(after) in ("ea", "pc") and _behind_feet(scan, at):
        return None  # `7'10 ea`: the inches of a length that is told of each
    if scan.word(after) in ("off", "no", "nos", "pcs", "pc", "ea") and amount.value <= 60:
        following = scan.word(after + 1)
        if scan.word(after) == "no" and following != ".":
            return None
        if scan.word(after) == "off" and following in (
            "the",
            "of",
            "from",
            "centre",
            "center",
            "a",
            "right",
            "left",
            "wall",
            "corner",
        ):
            return None
        return Claim(at, after + 1, "count", amount.value)
    if counted_end(scan, at, amount, after) is not None or _pieces(scan, amount, after):
        return Claim(at, after, "count", amount.value)
    return None


def _pieces(scan: Scan, amount: Amount, after: int) -> bool:
    """Whether a length of its own follows at once: the 4 of `4 10 foot sticks`."""
    following = scan.amount(after)
    if following is None or amount.value > _MOST_PIECES or not scan.tokens[after].is_numeral:
        return False
    unit = scan.unit(following[1], following[0])
    return unit is not None and unit[0] in ("foot", "metre")


def counted_end(scan: Scan, at: int, amount: Amount, after: int) -> int | None:
    """Where the noun ends that a small number counts (`two outside corners`), or None."""
    if not amount.is_whole or amount.lead_zero or not 0 <= amount.value <= 60 or amount.value == 1:
        return None
    del at
    here = after
    for _ in range(4):
        if here + 2 < len(scan.tokens) and scan.is_in(here + 1, "by") and scan.tokens[here + 2].is_numeral:
            here += 3  # two 2x3 downpipes
        if here >= len(scan.tokens) or scan.tokens[here].kind not in ("word", "dash"):
            return None
        if scan.is_in(here, "counted"):
            # "front 20 caps both ends" is a run of 20 ft: no run has twenty caps
            many = amount.value > _MOST_PIECES and not scan.is_in(here, "hardware")
            return None if many else here + 1
        if scan.tokens[here].kind != "dash" and not scan.is_in(here, "adjectives"):
            return None
        here += 1
    return None

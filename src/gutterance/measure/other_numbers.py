"""Numbers that are surely no lengths: the rules that say so, in the order they are asked.

A rule takes the scan, the token where a numeral starts, the numeral and the token after it, and answers
with what the number is and which tokens it takes, or None. The first rule that answers wins.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.measure.codes import code, house_number, label, phone
from gutterance.measure.counts import count, quantity
from gutterance.measure.dates import date, duration, hour, ordinal, time
from gutterance.measure.prices import percent, price
from gutterance.measure.sizes import gutter_size, material_size, thickness
from gutterance.measure.slopes import angle, fall, pitch

if TYPE_CHECKING:
    from gutterance.measure.amounts import Amount
    from gutterance.measure.claims import Claim, Rule
    from gutterance.measure.scan import Scan

RULES: tuple[Rule, ...] = (
    date,
    time,
    hour,
    phone,
    code,
    price,
    ordinal,
    percent,
    material_size,
    label,
    fall,
    pitch,
    angle,
    thickness,
    gutter_size,
    duration,
    quantity,
    house_number,
    count,
)


def claim(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """What the numeral at a token surely is instead of a length, or None."""
    for rule in RULES:
        found = rule(scan, at, amount, after)
        if found is not None:
            return found
    return None

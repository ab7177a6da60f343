"""Whether a job is measured in feet and inches, in metres and millimetres, or in both."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.measure.tape import settle

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

METRIC_WORDS = re.compile(r"\b(?:mm|millimet(?:re|er)s?|metric|met(?:re|er)s|mils?)\b", re.IGNORECASE)
"""Words that say that a job is metric."""
IMPERIAL_WORDS = re.compile(r"\b(?:inches|feet|feet-inches|imperial)\b", re.IGNORECASE)
"""Words that say that a job is in feet and inches."""
FEW_IMPERIAL = 4
"""On a metric job a number in feet and inches stands at most beside so many that can only be millimetres."""
LONG_IN_MM = 300
"""A bare whole number of this size or more is no length in feet or inches that a house has."""


def judge_units(lines: list[Line], walk: Walk) -> None:
    """Set whether bare numbers are metric, by the numbers with a unit and the size of those without."""
    metric = imperial = big = decimals = small = 0
    for line in lines:
        for item in line.items:
            found = item.found
            if found is None or found.kind == "other":
                continue
            if found.kind == "length":
                read = settle(found)
                if read is not None:
                    if read.length.system == "metric":
                        metric += 1
                    else:
                        imperial += 1
            elif len(found.amounts) == 2 and "-" in found.text and found.amounts[1].value < 12:
                imperial += 1
            elif found.value is not None and found.value.denominator == 1 and found.value >= LONG_IN_MM:
                big += 1
            elif found.value is not None and found.value.denominator != 1 and "." in found.text:
                decimals += 1
            else:
                small += 1
    says_metric = any(METRIC_WORDS.search(line.text) for line in lines)
    walk.metric = (
        (metric > imperial and (metric >= 2 or says_metric or big > 0))
        or (imperial <= big / FEW_IMPERIAL and big >= 2 and big >= small / 3)
        or (says_metric and imperial == 0 and (big + decimals + metric) >= 2)
    )
    says_imperial = any(IMPERIAL_WORDS.search(line.text) for line in lines)
    walk.mixed = (metric > 0 and imperial > 0) or (metric > 0 and says_imperial and says_metric)

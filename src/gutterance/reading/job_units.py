"""Whether a job is measured in feet and inches, in metres and millimetres, or in both."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.tape import settle

if TYPE_CHECKING:
    from gutterance.measure.found import Found
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line

METRIC_WORDS = re.compile(r"\b(?:mm|millimet(?:re|er)s?|metric|met(?:re|er)s|mils?)\b", re.IGNORECASE)
"""Words that say that a job is metric."""
ALL_METRIC = re.compile(
    r"\b(?:all|everything|dims?|dimensions|measurements|figures|sizes|numbers)\s+(?:(?:dims?|sizes|in|is|are)\s+)*"
    r"(?:mm|mil|mils|millimet(?:re|er)s|metric|met(?:re|er)s)\b",
    re.IGNORECASE,
)
"""Words that say that every number is metric."""
METRIC_ALONE = re.compile(
    r"(?:\A|(?<=[^\d\s])[.,;:]\s+|[(])(?:all\s+)?(?:in\s+)?(?:mm|millimet(?:re|er)s|metric|met(?:re|er)s)\s*(?:[.;)]|\Z)",
    re.IGNORECASE,
)
"""`Metres.`, a sentence of its own or the last word of a heading: what the job is measured in."""
IMPERIAL_WORDS = re.compile(r"\b(?:inches|feet|feet-inches|imperial)\b", re.IGNORECASE)
"""Words that say that a job is in feet and inches."""
INCHES_A_FOOT = 12
MOST_INCHES = 150
"""So much is said in feet."""
FEET_AND_INCHES = 2
FEW_IMPERIAL = 4
"""On a metric job a number in feet and inches stands at most beside so many that can only be millimetres."""
FEWEST_DECIMALS = 6
"""So many bare decimals, some below one, and no feet or inches: a job in metres."""
LONG_IN_MM = 300
"""A bare whole number of this size or more is no length in feet or inches that a house has."""


NARROWEST_IN_MM = 50
"""A gutter or a pipe said to be this wide or more [no unit] is known by its millimetres."""
FEWEST_METRIC = 2
"""From so many numbers that can only be metric on, a job is."""
LARGEST_SMALL = 100
"""A bare whole number below this may be inches, feet or millimetres."""


@dataclass(slots=True)
class Tally:
    """How the note's lengths are written: how many of each kind."""

    metric: int = 0
    imperial: int = 0
    pairs: int = 0
    big: int = 0
    decimals: int = 0
    small: int = 0
    tiny: int = 0
    metric_sizes: int = 0
    below_one: bool = False

    def add(self, item: Item) -> None:
        """Count one number of the note."""
        found = item.found
        if found is None:
            return
        if found.kind == "other":
            width = found.value if found.what in ("gutter size", "pipe size") else None
            self.metric_sizes += width is not None and width >= NARROWEST_IN_MM
        elif found.kind == "length":
            read = settle(found)
            if read is not None and not _so_far_in(found):
                self.metric += read.length.system == "metric"
                self.imperial += read.length.system != "metric"
        elif len(found.amounts) == FEET_AND_INCHES and found.amounts[1].value < INCHES_A_FOOT:
            self.pairs += 1
            self.imperial += "-" in found.text
            self.small += "-" not in found.text
        elif (
            found.value is not None and found.value.denominator == 1 and found.value >= LONG_IN_MM
        ) or _spoken_thousands(found):
            self.big += 1
        elif found.value is not None and found.value.denominator != 1 and "." in found.text:
            self.decimals += 1
            self.below_one = self.below_one or found.value < 1
        else:
            self.small += 1
            self.tiny += found.value is not None and found.value < LARGEST_SMALL

    def is_metric(self, *, says_metric: bool, says_all: bool) -> bool:
        """Whether the job is measured in metres and millimetres."""
        known = says_metric or self.metric_sizes > 0
        return (
            (self.metric > self.imperial and (self.metric >= FEWEST_METRIC or says_metric or self.big > 0))
            or (
                self.imperial <= self.big / FEW_IMPERIAL
                and self.big >= FEWEST_METRIC
                and self.big >= self.small / 3
            )
            or (says_all and self.imperial == 0)
            or self._only_metres()
            or (known and self.imperial == 0 and self.big + self.decimals + self.metric >= FEWEST_METRIC)
        )

    def _only_metres(self) -> bool:
        """Whether bare decimals, beside some below one or in millimetres, outnumber all else: metres."""
        many = self.decimals >= FEWEST_DECIMALS and self.decimals > self.small
        in_mm = self.big > 0 and self.pairs == 0
        return self.imperial == 0 and self.metric <= self.small and many and (self.below_one or in_mm)

    def feet_said_only(self, *, says_metric: bool) -> bool:
        """Whether each number in feet says so, and what has no unit can only be metric: a mixed job."""
        if self.imperial == 0 or self.pairs or self.big == 0:
            return False
        known = says_metric or self.metric_sizes > 0 or self.metric > 0
        return known or (self.tiny == 0 and self.decimals == 0 and self.big >= FEWEST_METRIC)


def _so_far_in(found: Found) -> bool:
    """`400 in`: so far in from the end; nobody measures so much in inches."""
    first = found.amounts[0]
    return (
        len(found.amounts) == 1
        and first.unit == "inch"
        and first.value >= MOST_INCHES
        and found.text.endswith(" in")
    )


def _spoken_thousands(found: Found) -> bool:
    """`six three ninety`, `eleven two four oh`: no feet and inches go so, but millimetres do."""
    values = [int(amount.value) for amount in found.amounts if amount.is_whole]
    if len(values) != len(found.amounts) or not values or values[0] >= LARGEST_SMALL:
        return False
    hundreds = len(values) == FEET_AND_INCHES and LARGEST_SMALL <= values[1] < 10 * LARGEST_SMALL
    tens = len(values) == FEET_AND_INCHES + 1 and 1 <= values[1] <= 9 and 10 <= values[2] < LARGEST_SMALL
    return hundreds or (tens and values[2] % 10 == 0)


def judge_units(lines: list[Line], walk: Walk) -> None:
    """Set whether bare numbers are metric, by the numbers with a unit and the size of those without."""
    tally = Tally()
    for line in lines:
        for item in line.items:
            tally.add(item)
    says_metric = any(METRIC_WORDS.search(line.text) for line in lines)
    says_all = any(ALL_METRIC.search(line.text) or METRIC_ALONE.search(line.text) for line in lines)
    says_imperial = any(IMPERIAL_WORDS.search(line.text) for line in lines)
    metric = tally.is_metric(says_metric=says_metric, says_all=says_all)
    feet_said = not metric and tally.feet_said_only(says_metric=says_metric)
    walk.metric = metric or feet_said
    walk.mixed = (
        (tally.metric > 0 and tally.imperial > 0)
        or (tally.metric > 0 and says_imperial and says_metric)
        or feet_said
    )

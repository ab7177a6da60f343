"""One new bar emptied into the others, a few bars at a time: for jobs too large to be searched whole."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from gutterance.stock.longest_left import least_on_one
from gutterance.stock.whole_numbers import used

if TYPE_CHECKING:
    from gutterance.stock.clock import Clock
    from gutterance.stock.filling import Plan
    from gutterance.stock.whole_numbers import Job

TRIES = 4_000
OTHERS = (3, 4, 5, 6)
_STEPS = 6_000


def empty_one(job: Job, plan: Plan, clock: Clock) -> Plan:
    """The plan with one new bar less, or the same plan where none was emptied.

    The new bar with the least on it is packed anew with a few others, drawn by a fixed rule, so that less
    is on it; again and again, for the room left in the others gathers there. The draw is the same each
    time: so is the answer, unless the clock ran out.
    """
    chance = random.Random(1)
    whole = list(plan)
    new = [at for at in range(len(whole)) if whole[at][0] in job.to_buy]
    if len(new) < 2 or job.too_fine:
        return plan
    least = min(new, key=lambda at: used(job.sizes, whole[at][1]))
    bar, filling = whole.pop(least)
    for number in range(TRIES):
        if clock.left <= 0:
            break
        some = sorted(chance.sample(range(len(whole)), min(OTHERS[number % len(OTHERS)], len(whole))))
        # only the sizes that are here: the search is quicker for it
        together = [sum(counts) for counts in zip(filling, *(whole[at][1] for at in some), strict=True)]
        here = [at for at, count in enumerate(together) if count]
        found = least_on_one(
            [job.sizes[at] for at in here],
            [together[at] for at in here],
            [whole[at][0] for at in some],
            bar,
            used(job.sizes, filling),
            _STEPS,
        )
        if found is None:
            continue
        own, others = found
        filling = _spread(own, here, len(job.sizes))
        for at in some:
            match = next(one for one in others if one[0] == whole[at][0])
            others.remove(match)
            whole[at] = (match[0], _spread(match[1], here, len(job.sizes)))
        if not any(filling):
            return [one for one in whole if any(one[1])]
    return plan


def _spread(few: tuple[int, ...], here: list[int], many: int) -> tuple[int, ...]:
    out = [0] * many
    for at, count in zip(here, few, strict=True):
        out[at] = count
    return tuple(out)

"""Good plans fast: best fit with the longest cut first, and bar by bar as full as the cuts allow."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from typing import TYPE_CHECKING

from gutterance.stock.whole_numbers import used

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.stock.whole_numbers import Filling, Job

Plan = list[tuple[int, "Filling"]]
"""Bars with what is cut from each; bars at hand that stay whole are not in it."""

MOST_WORK = 40_000_000_000
"""Cuts times cuts times units of a bar: beyond this only best fit is tried, filling would take too long."""


def best_fit(job: Job, bar_to_buy: int | None) -> Plan | None:
    """Each cut, longest first, from the bar it leaves the least of: bars at hand first, then a new one.

    None where a cut fits no bar. Good, not always the fewest.
    """
    # (what is left, number of the bar), sorted: the first that is large enough is the best fit
    room: list[tuple[int, int]] = sorted((bar, number) for number, bar in enumerate(job.at_hand))
    bars = list(job.at_hand)
    cuts: list[dict[int, int]] = [{} for _ in bars]
    for at, (size, count) in enumerate(zip(job.sizes, job.wanted, strict=True)):
        for _ in range(count):
            place = bisect_left(room, (size, -1))
            if place < len(room):
                left, number = room.pop(place)
            else:
                if bar_to_buy is None or size > bar_to_buy:
                    return None
                left, number = bar_to_buy, len(bars)
                bars.append(bar_to_buy)
                cuts.append({})
            cuts[number][at] = cuts[number].get(at, 0) + 1
            insort(room, (left - size, number))
    return [(bar, _filling(one, len(job.sizes))) for bar, one in zip(bars, cuts, strict=True) if one]


def bar_by_bar(job: Job, at_hand: Sequence[int], bar_to_buy: int | None) -> Plan | None:
    """Each bar in turn with its longest cut and then as full as can be: `at_hand` first, then new ones.

    None where a cut fits no bar.
    """
    wanted = list(job.wanted)
    plan: Plan = []
    for bar in at_hand:
        filling = fill(job.sizes, wanted, bar)
        if filling is not None:
            plan.append((bar, filling))
            _take(wanted, filling)
    while any(wanted):
        filling = fill(job.sizes, wanted, bar_to_buy) if bar_to_buy is not None else None
        if filling is None:
            return None
        assert bar_to_buy is not None
        times = min(have // need for have, need in zip(wanted, filling, strict=True) if need)
        plan += [(bar_to_buy, filling)] * times
        for _ in range(times):
            _take(wanted, filling)
    return plan


def fill(sizes: Sequence[int], wanted: Sequence[int], bar: int) -> Filling | None:
    """The longest cut that fits a bar, with the others that fill it most; None where none fits."""
    first = next((at for at, size in enumerate(sizes) if wanted[at] and size <= bar), None)
    if first is None:
        return None
    room = bar - sizes[first]
    mask = (1 << (room + 1)) - 1
    sums = 1
    steps: list[tuple[int, int]] = []
    for at in range(first, len(sizes)):
        size = sizes[at]
        for _ in range(min(wanted[at] - (at == first), room // size)):
            more = sums | (sums << size) & mask
            if more == sums:
                break
            steps.append((at, sums))
            sums = more
        if sums >> room & 1:
            break
    left = sums.bit_length() - 1
    counts = [0] * len(sizes)
    counts[first] = 1
    for at, before in reversed(steps):
        if not before >> left & 1:
            counts[at] += 1
            left -= sizes[at]
    return tuple(counts)


def good_plans(job: Job) -> list[Plan]:
    """A few plans, each with the bars at hand in another order or another length to buy."""
    plans: list[Plan | None] = []
    for bar in (*reversed(job.to_buy), *(() if job.to_buy else (None,))):
        plans.append(best_fit(job, bar))
        if not job.too_fine and job.count**2 * max((*job.at_hand, *job.to_buy)) <= MOST_WORK:
            plans.append(bar_by_bar(job, job.at_hand, bar))
            if len(set(job.at_hand)) > 1:
                plans.append(bar_by_bar(job, job.at_hand[::-1], bar))
    return [with_shorter_bars(job, plan) for plan in plans if plan is not None]


def with_shorter_bars(job: Job, plan: Plan) -> Plan:
    """The same cuts with each new bar changed for the shortest that holds them."""
    if len(job.to_buy) < 2:
        return plan
    kept = list(job.at_hand)
    out: Plan = []
    for bar, filling in plan:
        if bar in kept:
            kept.remove(bar)
            out.append((bar, filling))
            continue
        need = used(job.sizes, filling)
        out.append((next(one for one in job.to_buy if one >= need), filling))
    return out


def is_plan(job: Job, plan: Plan, bars: Sequence[int] | None = None) -> bool:
    """Whether a plan cuts all that is wanted, fits its bars, and uses none that is not there."""
    cut = [sum(filling[at] for _, filling in plan) for at in range(len(job.sizes))]
    there = Counter(job.at_hand if bars is None else bars)
    more = Counter(bar for bar, _ in plan) - there
    return (
        tuple(cut) == job.wanted
        and all(used(job.sizes, filling) <= bar for bar, filling in plan)
        and (not more if bars is not None else set(more) <= set(job.to_buy))
    )


def _filling(counts: dict[int, int], many: int) -> Filling:
    return tuple(counts.get(at, 0) for at in range(many))


def _take(wanted: list[int], filling: Filling) -> None:
    for at, count in enumerate(filling):
        wanted[at] -= count

"""The fewest new bars: a good plan, a bound, and a search or a solver to close what is between them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import TYPE_CHECKING

from gutterance.stock import arc_flow
from gutterance.stock.bounds import capacity, fewest_new
from gutterance.stock.completion import pack
from gutterance.stock.emptying import empty_one
from gutterance.stock.filling import Plan, good_plans, is_plan, with_shorter_bars
from gutterance.stock.solver import solve
from gutterance.stock.whole_numbers import used

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.stock.clock import Clock
    from gutterance.stock.whole_numbers import Job

STEPS = 600_000
"""How far a search goes before the solver is asked; counted, so that every machine does the same."""
MOST_MIXES = 500


@dataclass(slots=True)
class Fewest:
    """The best plan, its bars, the bound, and whether its new bars are proven the shortest there are."""

    plan: Plan
    bars: list[int]
    at_least: int
    shortest: bool


def fewest(job: Job, clock: Clock) -> Fewest:
    """The plan with the fewest new bars, and among those with the least length of them.

    There must be a plan: every cut has a bar that it fits. What is not proven when the clock has run out is
    told by `at_least` and `shortest`.
    """
    plans = good_plans(job)
    plan = min(plans, key=lambda one: _cost(job, one))
    low, high = fewest_new(job), new_count(job, plan)
    while low < high:
        bars = [*job.at_hand, *[job.to_buy[-1]] * low]
        answer: Plan | str = pack(job.sizes, job.wanted, bars, STEPS)
        if answer == "not known":
            break
        if answer == "none":
            low += 1
            continue
        assert not isinstance(answer, str)
        plan, high = min(plan, with_shorter_bars(job, answer), key=lambda one: _cost(job, one)), low
    while low < high:
        fewer = empty_one(job, plan, clock)
        if new_count(job, fewer) == high or not is_plan(job, fewer):
            break
        plan, high = with_shorter_bars(job, fewer), high - 1
    if low < high:
        plan, low = _solved(job, plan, low, clock)
    shortest = low == new_count(job, plan)
    if shortest and len(job.to_buy) > 1:
        plan, shortest = _least_length(job, plan, clock)
    return Fewest(plan, [*job.at_hand, *new_bars(job, plan)], low, shortest)


def new_bars(job: Job, plan: Plan) -> list[int]:
    """The bars of a plan that have to be bought."""
    return sorted((Counter(bar for bar, _ in plan) - Counter(job.at_hand)).elements())


def new_count(job: Job, plan: Plan) -> int:
    """How many bars of a plan have to be bought."""
    return len(new_bars(job, plan))


def _cost(job: Job, plan: Plan) -> tuple[int, int, int]:
    bought = new_bars(job, plan)
    longest = max((bar - used(job.sizes, filling) for bar, filling in plan), default=0)
    return len(bought), sum(bought), -longest


def _solved(job: Job, plan: Plan, low: int, clock: Clock) -> tuple[Plan, int]:
    """Ask the solver for a plan with fewer new bars, or a proof that there is none."""
    high = new_count(job, plan)
    longest = job.to_buy[-1]
    at_hand = Counter(job.at_hand)
    # only the longest bar to buy matters for the count
    most = dict(at_hand)
    most[longest] = most.get(longest, 0) + high - 1
    free = at_hand[longest]
    # a bar at hand as long as a new one costs nothing: all of those are used before any is bought
    flow = None
    if clock.solver and clock.left > 0:
        flow = arc_flow.flow_model(job.sizes, job.wanted, {}, most, {longest: 1})
    if flow is None:
        clock.ran_out = clock.ran_out or clock.left <= 0
        return plan, low
    answer = solve(flow.model, clock.left)
    if answer.ended == "none":
        return plan, high
    if answer.ended == "out of time":
        clock.ran_out = True
    if answer.bound is not None:
        low = max(low, min(answer.bound - free, high))
    if not answer.values:
        return plan, low
    found = _read(flow, answer.values)
    if found is None or not is_plan(job, found):
        return plan, low
    better = min(plan, with_shorter_bars(job, found), key=lambda one: _cost(job, one))
    if answer.ended == "proven":
        low = max(low, new_count(job, found))
    return better, min(low, new_count(job, better))


def _read(flow: arc_flow.Flow, values: dict[str, int], kept: int | None = None) -> Plan | None:
    """The plan in a solver's values; None where they hold none (it was stopped at a relaxed answer)."""
    try:
        return arc_flow.plan_of(flow, values, kept)
    except StopIteration:
        return None


def _least_length(job: Job, plan: Plan, clock: Clock) -> tuple[Plan, bool]:
    """With as many new bars, shorter ones of the lengths that can be bought; and whether that is certain."""
    count, best = new_count(job, plan), sum(new_bars(job, plan))
    room = {bar: capacity(job, bar) for bar in {*job.at_hand, *job.to_buy}}
    at_hand = sum(room[bar] for bar in job.at_hand)
    mixes = (
        sorted(combinations_with_replacement(job.to_buy, count), key=lambda mix: (sum(mix), mix))
        if (count <= 12)
        else []
    )
    if count > 12 or len(mixes) > MOST_MIXES:
        return plan, False
    for mix in mixes:
        if sum(mix) >= best:
            break
        if sum(room[bar] for bar in mix) + at_hand < job.total:
            continue
        tried: Plan | str = pack(job.sizes, job.wanted, [*job.at_hand, *mix], STEPS)
        if tried == "not known":
            tried = _fits(job, [*job.at_hand, *mix], clock)
        if tried == "not known":
            return plan, False
        if tried != "none":
            assert not isinstance(tried, str)
            return tried, True
    return plan, True


def _fits(job: Job, bars: Sequence[int], clock: Clock) -> Plan | str:
    """Ask the solver whether all cuts come out of these bars."""
    flow = None
    if clock.solver and clock.left > 0:
        flow = arc_flow.flow_model(job.sizes, job.wanted, {}, Counter(bars), {})
    if flow is None:
        return "not known"
    answer = solve(flow.model, clock.left)
    if answer.ended == "none":
        return "none"
    clock.ran_out = clock.ran_out or answer.ended == "out of time"
    found = _read(flow, answer.values) if answer.values else None
    return found if found is not None and is_plan(job, found, bars) else "not known"

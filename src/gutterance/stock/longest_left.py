"""With the bars settled, the cuts set so that one long piece is left, and not many short ones."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.stock import arc_flow
from gutterance.stock.clock import Clock
from gutterance.stock.completion import pack
from gutterance.stock.filling import is_plan
from gutterance.stock.solver import solve
from gutterance.stock.whole_numbers import fullest, reachable, used

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.stock.filling import Plan
    from gutterance.stock.whole_numbers import Job

STEPS = 60_000
LATER_STEPS = 10_000
ROUNDS = 4
SHARE = 0.2
"""How much of the time that is left goes to the longest leftover: an inch of it is worth no long wait."""
MOST_CUTS = 400
"""With more cuts than this the plan stays as it is: nobody sorts so many leftovers."""


@dataclass(slots=True)
class Kept:
    """A plan, what is left of its bar with the most left, and what could be left at most (enlarged sizes)."""

    plan: Plan
    left: int
    could_be: int


def keep_longest(job: Job, plan: Plan, bars: Sequence[int], clock: Clock) -> Kept:
    """The plan changed so that the most is left of one bar, then of another, the bars staying the same.

    `could_be` is a bound on the first; the later ones are good, not proven.
    """
    if job.count > MOST_CUTS or job.too_fine or not plan:
        return Kept(plan, _longest(job.sizes, plan, bars), min(max(bars), sum(bars) - job.total))
    short = Clock.of(clock.left * SHARE, solver=clock.solver)
    best, could_be = _improve(job.sizes, job.wanted, plan, bars, short)
    clock.ran_out = clock.ran_out or short.ran_out
    first = _longest(job.sizes, best, bars)
    done: Plan = []
    rest, wanted, others = best, list(job.wanted), list(bars)
    for _ in range(ROUNDS):
        bar, filling = _most_left(job.sizes, rest, others)
        others.remove(bar)
        if filling is not None:
            rest = _without(rest, (bar, filling))
            done.append((bar, filling))
            wanted = [have - cut for have, cut in zip(wanted, filling, strict=True)]
        if not any(wanted) or len(others) < 2:
            break
        rest, _ = _improve(job.sizes, wanted, rest, others, None)
    whole = [*done, *rest]
    return Kept(whole if is_plan(job, whole, bars) else best, first, could_be)


def _improve(
    sizes: Sequence[int], wanted: Sequence[int], plan: Plan, bars: Sequence[int], clock: Clock | None
) -> tuple[Plan, int]:
    """The plan with the most left of one bar that could be found, and the most that could be left."""
    could_be = best = _longest(sizes, plan, bars)
    total = sum(size * count for size, count in zip(sizes, wanted, strict=True))
    full = {bar: fullest(sizes, wanted, bar) for bar in set(bars)}
    for bar in sorted(set(bars), reverse=True):
        if bar <= best:
            break
        others = list(bars)
        others.remove(bar)
        # what the other bars cannot take, this one must
        least = max(0, total - sum(full[one] for one in others))
        sums = reachable(sizes, wanted, bar)
        tries = [amount for amount in range(least, bar - best) if sums >> amount & 1]
        found, open_from = _search(
            sizes, wanted, others, bar, tries, STEPS if clock is not None else LATER_STEPS
        )
        if open_from is not None and clock is not None:
            found, open_from = _solved(sizes, wanted, others, bar, found, open_from, clock)
        if found is not None and _longest(sizes, found, bars) > best:
            plan, best = found, _longest(sizes, found, bars)
        if open_from is not None:
            could_be = max(could_be, bar - open_from)
        could_be = max(could_be, best)
    return plan, could_be


def _search(
    sizes: Sequence[int],
    wanted: Sequence[int],
    others: Sequence[int],
    bar: int,
    tries: Sequence[int],
    steps: int,
) -> tuple[Plan | None, int | None]:
    """The least of `tries` that the bar can be cut down to, halving what is open each time.

    The second is the least amount that is still open, None where all is certain.
    """
    found: Plan | None = None
    open_from: int | None = None
    low, high = 0, len(tries)
    while low < high:
        middle = (low + high) // 2
        answer = pack(sizes, wanted, [*others, tries[middle]], steps)
        if answer == "none":
            low, open_from = middle + 1, None
        elif answer == "not known":
            # taken for none, but kept open
            open_from = tries[low] if open_from is None else open_from
            low = middle + 1
        else:
            assert not isinstance(answer, str)
            found, high = _on_whole_bar(answer, tries[middle], bar, others), middle
    return found, open_from


def _on_whole_bar(plan: Plan, cut_down: int, bar: int, others: Sequence[int]) -> Plan:
    """The plan with the cut-down bar whole again."""
    there = Counter(others)
    out: Plan = []
    for one, filling in plan:
        if there[one]:
            there[one] -= 1
            out.append((one, filling))
        else:
            assert one == cut_down
            out.append((bar, filling))
    return out


def _solved(
    sizes: Sequence[int],
    wanted: Sequence[int],
    others: Sequence[int],
    bar: int,
    found: Plan | None,
    open_from: int,
    clock: Clock,
) -> tuple[Plan | None, int | None]:
    flow = None
    if clock.solver and clock.left > 0:
        flow = arc_flow.flow_model(sizes, wanted, {}, Counter(others), {}, kept=bar)
    if flow is None:
        clock.ran_out = clock.ran_out or clock.left <= 0
        return found, open_from
    answer = solve(flow.model, clock.left)
    if answer.ended == "none":
        return found, None
    if answer.ended == "out of time":
        clock.ran_out = True
    if answer.bound is not None:
        open_from = max(open_from, answer.bound)
    if answer.values:
        try:
            better = arc_flow.plan_of(flow, answer.values, kept=bar)
        except StopIteration:
            return found, open_from
        if _cuts_all(sizes, wanted, better, [*others, bar]):
            return better, None if answer.ended == "proven" else open_from
    return found, open_from


def _cuts_all(sizes: Sequence[int], wanted: Sequence[int], plan: Plan, bars: Sequence[int]) -> bool:
    cut = [sum(filling[at] for _, filling in plan) for at in range(len(sizes))]
    fits = all(used(sizes, filling) <= bar for bar, filling in plan)
    return cut == list(wanted) and fits and not Counter(bar for bar, _ in plan) - Counter(bars)


def _longest(sizes: Sequence[int], plan: Plan, bars: Sequence[int]) -> int:
    bar, filling = _most_left(sizes, plan, bars)
    return bar - (used(sizes, filling) if filling is not None else 0)


def _most_left(sizes: Sequence[int], plan: Plan, bars: Sequence[int]) -> tuple[int, tuple[int, ...] | None]:
    """The bar with the most left, and its filling; None for one that stays whole."""
    whole = sorted((Counter(bars) - Counter(bar for bar, _ in plan)).elements())
    most: tuple[int, tuple[int, ...] | None] = (whole[-1], None) if whole else (0, None)
    left = most[0]
    for bar, filling in plan:
        if bar - used(sizes, filling) > left:
            most, left = (bar, filling), bar - used(sizes, filling)
    return most if most[0] else (plan[0] if plan else (0, None))


def _without(plan: Plan, one: tuple[int, tuple[int, ...]]) -> Plan:
    out = list(plan)
    out.remove(one)
    return out


def least_on_one(
    sizes: Sequence[int], wanted: Sequence[int], others: Sequence[int], bar: int, now: int, steps: int
) -> tuple[tuple[int, ...], Plan] | None:
    """What is on `bar` when it has less than `now`, as little as was found, and the others' fillings.

    None where nothing less was found. The others come as many as were given, some perhaps with nothing.
    """
    total = sum(size * count for size, count in zip(sizes, wanted, strict=True))
    least = max(0, total - sum(others))
    sums = reachable(sizes, wanted, bar)
    tries = [amount for amount in range(least, now) if sums >> amount & 1]
    found, _ = _search(sizes, wanted, others, bar, tries, steps)
    if found is None:
        return None
    empty = tuple(0 for _ in sizes)
    # of the bars as long as this one, it is the one with the least on it
    alike = sorted(
        (filling for one, filling in found if one == bar), key=lambda filling: used(sizes, filling)
    )
    alike = [empty] * (others.count(bar) + 1 - len(alike)) + alike
    plan = [(bar, filling) for filling in alike[1:]]
    plan += [(one, filling) for one, filling in found if one != bar]
    plan += [(one, empty) for one in (Counter(others) - Counter(one for one, _ in plan)).elements()]
    return alike[0], plan

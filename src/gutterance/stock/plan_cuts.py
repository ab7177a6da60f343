"""Cuts onto stock: leftovers first, then as few new lengths as will do, then the longest piece left."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.stock.clock import Clock
from gutterance.stock.cutting import Cut, CutLength, CuttingError, CuttingPlan, Stock
from gutterance.stock.fewest import fewest, new_count
from gutterance.stock.longest_left import keep_longest
from gutterance.stock.whole_numbers import job_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gutterance.stock.filling import Plan
    from gutterance.stock.whole_numbers import Job

SECONDS = 10.0


def plan_cuts(
    cuts: Sequence[Cut],
    stock: Iterable[Stock],
    saw_cut: Fraction = Fraction(0),
    *,
    seconds: float = SECONDS,
    solver: bool = True,
) -> CuttingPlan:
    """Cut all `cuts` from `stock`, each cut but one that ends its length losing a `saw_cut` [in] more.

    In this order: the fewest lengths bought; with more than one length to buy, the least of it in all; the
    longest piece left at the end, a length at hand that stays whole among them. The plan says which of these
    are proven. The search stops after about `seconds`; `solver` False leaves out what needs CBC. The same
    call gives the same plan, unless it ran out of time.

    Raises CuttingError for a saw cut below nothing. A cut that no length can give is in `too_long`.

    >>> third = [Cut(Fraction(40), str(n)) for n in (1, 2, 3)]
    >>> plan_cuts(third, [Stock(Fraction(120))]).new
    1
    >>> plan = plan_cuts(third, [Stock(Fraction(120)), Stock(Fraction(41), 1, "offcut")], Fraction(1, 8))
    >>> plan.new, plan.proven_fewest, plan.longest_left
    (1, True, Fraction(159, 4))
    """
    if not isinstance(saw_cut, Fraction | int) or saw_cut < 0:
        raise CuttingError(f"a saw cut of {saw_cut} in: it must be nothing or more")
    saw_cut = Fraction(saw_cut)
    at_hand = [
        Stock(one.length, 1, one.name) for one in stock_list(stock) if one.count for _ in range(one.count)
    ]
    to_buy = [one for one in stock_list(stock) if one.new]
    can, too_long = _can_be_cut(cuts, at_hand, to_buy)
    job = job_of(
        [Fraction(cut.length) for cut in can],
        [Fraction(one.length) for one in at_hand],
        [Fraction(one.length) for one in to_buy],
        saw_cut,
    )
    if not can:
        longest = max((Fraction(one.length) for one in at_hand), default=Fraction(0))
        return CuttingPlan(too_long=too_long, longest_left=longest, longest_could_be=longest)
    clock = Clock.of(seconds, solver=solver)
    found = fewest(job, clock)
    kept = keep_longest(job, found.plan, found.bars, clock)
    # a plan that may still take too many lengths may hide a longer leftover than its own bars could give
    sure = found.at_least == new_count(job, kept.plan) and found.shortest
    longest_bar = max(found.bars)
    return CuttingPlan(
        lengths=_named(job, kept.plan, can, at_hand, to_buy, saw_cut),
        too_long=too_long,
        new=new_count(job, kept.plan),
        at_least=found.at_least,
        longest_left=job.inches(kept.left, 0),
        longest_could_be=job.inches(kept.could_be if sure else longest_bar, 0),
        out_of_time=clock.ran_out,
    )


def stock_list(stock: Iterable[Stock]) -> list[Stock]:
    """The lengths as a list, so that they can be gone through twice."""
    return stock if isinstance(stock, list) else list(stock)


def _can_be_cut(
    cuts: Sequence[Cut], at_hand: Sequence[Stock], to_buy: Sequence[Stock]
) -> tuple[list[Cut], list[Cut]]:
    """Cuts that some length can give, and those that none can.

    Longer than all that can be bought, a cut needs a length at hand of its own.
    """
    longest = max((one.length for one in to_buy), default=Fraction(0))
    can = [cut for cut in cuts if cut.length <= longest]
    room = sorted(one.length for one in at_hand)
    too_long = []
    for cut in sorted((one for one in cuts if one.length > longest), key=lambda one: -one.length):
        fits = next((one for one in room if one >= cut.length), None)
        if fits is None:
            too_long.append(cut)
        else:
            # the rest of it may serve for the next
            room.remove(fits)
            can.append(cut)
    return can, too_long


def _named(
    job: Job,
    plan: Plan,
    cuts: Sequence[Cut],
    at_hand: Sequence[Stock],
    to_buy: Sequence[Stock],
    saw_cut: Fraction,
) -> list[CutLength]:
    """The plan with its cuts and lengths by name: those at hand first, then new ones, the fullest first."""
    by_size: dict[int, list[Cut]] = defaultdict(list)
    for cut in reversed(cuts):
        by_size[int((cut.length + saw_cut) / job.unit)].append(cut)
    kept: dict[int, list[Stock]] = defaultdict(list)
    for one in reversed(at_hand):
        kept[int((one.length + saw_cut) / job.unit)].append(one)
    new = {int((one.length + saw_cut) / job.unit): one for one in reversed(to_buy)}
    places = {id(one): at for at, one in enumerate(at_hand)}

    out = []
    for bar, filling in plan:
        own = [
            by_size[size].pop() for size, count in zip(job.sizes, filling, strict=True) for _ in range(count)
        ]
        left = max(bar - sum(int((cut.length + saw_cut) / job.unit) for cut in own) - job.saw, 0) * job.unit
        out.append(CutLength(kept[bar].pop() if kept[bar] else new[bar], own, left))
    out.sort(key=lambda one: (one.stock.new, places.get(id(one.stock), 0), one.left_over))
    return out

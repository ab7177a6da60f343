"""Emptying a new bar into the others: nothing lost, nothing overfull, and fewer bars where there is room."""

from __future__ import annotations

import random
from fractions import Fraction

from gutterance.stock.clock import Clock
from gutterance.stock.emptying import empty_one
from gutterance.stock.fewest import new_count
from gutterance.stock.filling import best_fit, is_plan
from gutterance.stock.whole_numbers import job_of


def test_best_fits_loss_is_made_good_and_every_plan_is_a_plan() -> None:
    better = 0
    for seed in range(8):
        # goosenecks and wall pipes of an invented street, in sixteenths, from 10 ft
        chance = random.Random(seed)
        ranges = chance.choices([(128, 480), (960, 1792), (384, 960)], (4, 5, 3), k=150)
        sizes = [chance.randint(*one) for one in ranges]
        job = job_of([Fraction(size) for size in sizes], [], [Fraction(1920)], Fraction(0))
        plan = best_fit(job, int(1920 / job.unit))
        assert plan is not None
        fewer = empty_one(job, plan, Clock.of(60))
        assert is_plan(job, fewer)
        assert -(sum(sizes) // -1920) <= new_count(job, fewer) <= new_count(job, plan)
        assert empty_one(job, plan, Clock.of(60)) == fewer
        better += new_count(job, fewer) < new_count(job, plan)
    assert better


def test_with_one_bar_or_no_time_the_plan_stays() -> None:
    job = job_of([Fraction(60), Fraction(61)], [], [Fraction(120)], Fraction(0))
    plan = best_fit(job, 120)
    assert plan is not None
    assert empty_one(job, plan, Clock.of(1)) == plan
    assert empty_one(job, plan, Clock.of(0)) == plan
    assert empty_one(job, plan[:1], Clock.of(1)) == plan[:1]

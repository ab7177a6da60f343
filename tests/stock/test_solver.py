"""CBC called apart: its answers, and what is said when it is not there or its time is up."""

from __future__ import annotations

import sys
import time
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.stock import Cut, Stock, plan_cuts
from gutterance.stock.arc_flow import Flow, flow_model, plan_of
from gutterance.stock.solver import solve, solver_there

if TYPE_CHECKING:
    import pytest

# the cutting-stock sample of OR-Tools: optimum 73
ROLLS = {2200: 20, 2150: 18, 2140: 16, 2100: 14, 2050: 12, 2000: 10, 1930: 20, 1880: 18, 1820: 18, 1710: 14,
         1560: 12, 1520: 25, 1380: 22}  # fmt: skip


def flow(most: int) -> Flow:
    made = flow_model(tuple(ROLLS), tuple(ROLLS.values()), {}, {5600: most}, {5600: 1})
    assert made is not None
    return made


def test_it_proves_an_optimum_and_that_fewer_will_not_do() -> None:
    assert solver_there()
    made = flow(80)
    answer = solve(made.model, 30)
    assert answer.ended == "proven"
    assert len(plan_of(made, answer.values)) == 73
    assert solve(flow(72).model, 30).ended == "none"


def test_without_it_the_plan_is_made_and_the_bound_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pulp", None)
    assert not solver_there()
    assert solve(flow(80).model, 30).ended == "absent"
    rows = [Cut(Fraction(size), f"{size}") for size, count in ROLLS.items() for _ in range(count)]
    plan = plan_cuts(rows, [Stock(Fraction(5600))])
    assert sum(len(one.cuts) for one in plan.lengths) == len(rows)
    assert plan.at_least <= 73 <= plan.new


def test_it_is_ended_when_its_time_is_up() -> None:
    sizes = tuple(range(1500, 200, -7))
    made = flow_model(sizes, tuple(1 for _ in sizes), {}, {1922: 200}, {1922: 1})
    assert made is not None
    start = time.monotonic()
    assert solve(made.model, 0.3).ended == "out of time"
    # not how fast it is, but that it ends at all: untold, it would go on for minutes
    assert time.monotonic() - start < 20

"""Cutting plans: the share proven optimal within 1 s and 10 s, and lengths used, side by side in one run.

100 invented house-sized jobs (10 to 40 cuts) and 20 large ones (200 cuts), half of each with leftovers at
hand: goosenecks, wall pipes and tails, to the sixteenth, from 10 ft lengths with a 1/8 in saw cut.

  ours        plan_cuts: best fit, bounds, a search, then CBC where it is needed
  no solver   the same without CBC
  best fit    longest cut first, from the length it leaves the least of; proven where it meets the plain bound
  HiGHS       the plain best fit, then the same flow model solved by HiGHS (highspy, from the dev extra)

Run it with `python benchmarks/stock_cutting.py [jobs] [large jobs]`.
"""

from __future__ import annotations

import multiprocessing
import random
import sys
import time
from collections import Counter
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.stock import Cut, Stock, plan_cuts
from gutterance.stock.arc_flow import Model, flow_model
from gutterance.stock.fewest import new_count
from gutterance.stock.filling import best_fit
from gutterance.stock.whole_numbers import Job, job_of

if TYPE_CHECKING:
    from collections.abc import Callable

BAR, SAW = Fraction(120), Fraction(1, 8)
LIMITS = (1.0, 10.0)
Answer = tuple[int, bool, float]
"""New lengths, whether proven fewest, seconds."""


def job(seed: int, count: int) -> tuple[list[Fraction], list[Fraction]]:
    """Cuts [in] and leftovers [in] of an invented job."""
    chance = random.Random(seed)

    def sixteenths(low: int, high: int) -> Fraction:
        return Fraction(chance.randint(low * 16, high * 16), 16)

    kinds: tuple[tuple[int, int], ...] = ((8, 30), (60, 112), (24, 60), (6, 14))
    cuts = [sixteenths(*chance.choices(kinds, (4, 5, 3, 1))[0]) for _ in range(count)]
    leftovers = [sixteenths(20, 100) for _ in range(chance.randint(1, 5))] if seed % 2 else []
    return cuts, leftovers


def whole(cuts: list[Fraction], leftovers: list[Fraction]) -> Job:
    """The job in whole numbers."""
    return job_of(cuts, leftovers, [BAR], SAW)


def plain_bound(one: Job) -> int:
    """All cuts, less the leftovers, over a new length, rounded up."""
    return max(0, -((one.total - sum(one.at_hand)) // -one.to_buy[0]))


def ours(cuts: list[Fraction], leftovers: list[Fraction], seconds: float, *, solver: bool = True) -> Answer:
    """This program."""
    start = time.perf_counter()
    rows = [Cut(length, str(number)) for number, length in enumerate(cuts)]
    stock = [*(Stock(length, 1) for length in leftovers), Stock(BAR)]
    plan = plan_cuts(rows, stock, SAW, seconds=seconds, solver=solver)
    return plan.new, plan.proven_fewest, time.perf_counter() - start


def without_solver(cuts: list[Fraction], leftovers: list[Fraction], seconds: float) -> Answer:
    """This program without CBC."""
    return ours(cuts, leftovers, seconds, solver=False)


def by_best_fit(cuts: list[Fraction], leftovers: list[Fraction], _seconds: float) -> Answer:
    """The baseline."""
    start = time.perf_counter()
    one = whole(cuts, leftovers)
    plan = best_fit(one, one.to_buy[0])
    assert plan is not None
    new = new_count(one, plan)
    return new, new == plain_bound(one), time.perf_counter() - start


def by_highs(cuts: list[Fraction], leftovers: list[Fraction], seconds: float) -> Answer:
    """Best fit, and where that is not proven the flow model in HiGHS, in a process that is ended in time."""
    start = time.perf_counter()
    new, proven, _ = by_best_fit(cuts, leftovers, seconds)
    one = whole(cuts, leftovers)
    bar = one.to_buy[0]
    flow = None
    if not proven:
        most = Counter(one.at_hand)
        most[bar] += new
        flow = flow_model(one.sizes, one.wanted, {}, most, {bar: 1})
    if flow is not None:
        queue: Any = multiprocessing.Queue()
        left = seconds - (time.perf_counter() - start)
        process = multiprocessing.Process(target=_highs, args=(flow.model, left, queue))
        process.start()
        process.join(max(left, 0) + 0.5)
        if process.is_alive():
            process.kill()
        elif not queue.empty():
            found, proven = queue.get()
            new = min(new, found)
    return new, proven, time.perf_counter() - start


def _highs(model: Model, seconds: float, queue: Any) -> None:
    import highspy
    import numpy as np

    names = list(model.upper)
    number = {name: at for at, name in enumerate(names)}
    solver = highspy.Highs()
    solver.silent()
    for option, value in (
        ("output_flag", False),
        ("time_limit", seconds),
        ("threads", 1),
        ("mip_abs_gap", 0.999),
    ):
        solver.setOptionValue(option, value)
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = len(names), len(model.rows)
    program.col_cost_ = np.array([model.cost.get(name, 0) for name in names], dtype=float)
    program.col_lower_ = np.zeros(len(names))
    program.col_upper_ = np.array([model.upper[name] for name in names], dtype=float)
    starts, index, factors = [0], [], []
    for row, _, _ in model.rows:
        index += [number[name] for name in row]
        factors += list(row.values())
        starts.append(len(index))
    endless = highspy.kHighsInf
    program.row_lower_ = np.array(
        [-endless if sense == "<=" else amount for _, sense, amount in model.rows], float
    )
    program.row_upper_ = np.array(
        [endless if sense == ">=" else amount for _, sense, amount in model.rows], float
    )
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = np.array(starts)
    program.a_matrix_.index_ = np.array(index)
    program.a_matrix_.value_ = np.array(factors, dtype=float)
    program.integrality_ = [highspy.HighsVarType.kInteger] * len(names)
    solver.passModel(program)
    solver.run()
    cost = solver.getInfo().objective_function_value
    if cost < endless:
        queue.put((round(cost), solver.getModelStatus() == highspy.HighsModelStatus.kOptimal))


WAYS: dict[str, Callable[[list[Fraction], list[Fraction], float], Answer]] = {
    "ours": ours,
    "no solver": without_solver,
    "best fit": by_best_fit,
    "HiGHS": by_highs,
}


def main() -> int:
    """Print the shares, the new lengths in all, and seconds, for both kinds of job."""
    houses, large = (int(word) for word in [*sys.argv[1:], "100", "20"][:2])
    kinds = {
        "house-sized": [job(seed, 10 + seed % 31) for seed in range(houses)],
        "large": [job(1000 + seed, 200) for seed in range(large)],
    }
    heads = f"{'jobs':<16} {'way':<10} {'limit':>6} {'proven':>12} {'lengths':>8}"
    print(f"{heads} {'median s':>9} {'longest s':>10}")
    for kind, jobs in ((kind, jobs) for kind, jobs in kinds.items() if jobs):
        for name, way in WAYS.items():
            for limit in LIMITS:
                # what takes longer than its limit and a tenth is not counted as proven
                answers = [way(*one, limit) for one in jobs]
                proven = sum(sure and seconds <= limit * 1.1 for _, sure, seconds in answers)
                times = sorted(seconds for _, _, seconds in answers)
                lengths = sum(new for new, _, _ in answers)
                share = f"{proven} of {len(jobs)}"
                print(
                    f"{f'{len(jobs)} {kind}':<16} {name:<10} {limit:>5g}s {share:>12} {lengths:>8} "
                    f"{times[len(times) // 2]:>9.3f} {times[-1]:>10.2f}",
                    flush=True,
                )
                if name in ("no solver", "best fit"):
                    break
    return 0


if __name__ == "__main__":
    sys.exit(main())

"""The checker on one ring of 100 to 10,000 walls: time per wall should stay about constant.

The ring is a stair up and a straight way back (every wall a step, lengths all unlike), told right; with one
wall a foot out; with one corner told inside for outside; with one corner told two ways; and with a run left
out. Ratios side by side in one run: `python benchmarks/closure_scaling.py`.
"""

from __future__ import annotations

import sys
import time
from fractions import Fraction
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "tests" / "checking")]

from conftest import make_sheet  # noqa: E402  # the tests' own way of writing sheets down
from gutterance.checking import check_sheet, open_questions  # noqa: E402

COUNTS = (100, 1_000, 5_000, 10_000)


def stair(walls: int) -> list[list[Any]]:
    """A ring of about that many walls: a stair of unlike steps, and the two walls back."""
    steps = (walls - 2) // 2
    goings = [Fraction(24 * 16 + at % 97, 16) for at in range(steps)]
    rises = [Fraction(20 * 16 + at % 89, 16) for at in range(steps)]
    ring: list[list[Any]] = [[sum(goings), "O", "O"], [sum(rises), "O", "O"]]
    for at in range(steps):
        ring.append([goings[at], "O" if at == 0 else "I", "O"])
        ring.append([rises[at], "O", "I" if at < steps - 1 else "O"])
    return ring


def damaged(ring: list[list[Any]], how: str) -> list[list[Any]]:
    """The ring told with one slip."""
    told = [list(wall) for wall in ring]
    middle = len(told) // 2
    if how == "a foot out":
        told[middle][0] += 12
    elif how == "corner inside for outside":
        told[middle][2] = told[middle + 1][1] = "I" if told[middle][2] == "O" else "O"
    elif how == "corner told two ways":
        told[middle][2] = "I" if told[middle][2] == "O" else "O"
    elif how == "run left out":
        del told[middle]
    return told


def seconds(ring: list[list[Any]]) -> float:
    """The best of two checks, questions included [s]."""
    sheet = make_sheet({f"run-{at}": tuple(wall) for at, wall in enumerate(ring, start=1)})
    best = float("inf")
    for _ in range(2):
        began = time.perf_counter()
        open_questions(sheet, check_sheet(sheet))
        best = min(best, time.perf_counter() - began)
    return best


def main() -> int:
    """Print seconds, and time per wall as a ratio to the smallest ring's."""
    for how in ("as told", "a foot out", "corner inside for outside", "corner told two ways", "run left out"):
        base = 0.0
        for count in COUNTS:
            took = seconds(damaged(stair(count), how))
            base = base or took / count
            print(f"{how:26} {count:>6} walls {took:8.3f} s   {took / count / base:5.2f} x per wall")
    return 0


if __name__ == "__main__":
    sys.exit(main())

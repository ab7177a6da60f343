"""Layout of 10 to 10,000 runs: time per run should stay about constant.

Houses of eight runs (a rectangle with a recess) in a row, each with four outlets and pipes, laid out and then
made into all lists. Run it with `python benchmarks/layout_scaling.py`.
"""

from __future__ import annotations

import sys
import time
from typing import Any

from gutterance.layout import lay_out
from gutterance.lists import make_lists
from gutterance.sheet.models import Sheet
from gutterance.shop import load_shop

COUNTS = (10, 100, 1_000, 10_000)
_LENGTHS = (480, 300, 180, 60, 120, 60, 180, 300)
_CORNERS = ("outside", "outside", "outside", "inside", "inside", "outside", "outside", "outside")


def street(runs: int) -> Sheet:
    """A sheet of about that many runs: houses of eight, each on a storey name of its own."""
    made: list[dict[str, Any]] = []
    outlets: list[dict[str, Any]] = []
    pipes: list[dict[str, Any]] = []
    for number in range(runs):
        house, side = divmod(number, len(_LENGTHS))
        last = side == len(_LENGTHS) - 1 or number == runs - 1
        name = f"h{house}s{side}"
        run: dict[str, Any] = {
            "id": name,
            "name": name,
            "storey": f"house {house}",
            "length": {"value": f"{_LENGTHS[side]} in"},
            "left_end": {"value": "end cap" if side == 0 else f"{_CORNERS[side]} corner"},
            "right_end": {"value": "end cap" if last else f"{_CORNERS[side + 1]} corner"},
        }
        if not last:
            run["next_run"] = f"h{house}s{side + 1}"
        made.append(run)
        if side % 2 == 0:
            outlets.append({"id": f"o{number}", "run": name, "from": "left"})
            pipes.append(
                {
                    "id": f"p{number}",
                    "outlet": f"o{number}",
                    "wall_to_fascia": {"value": "24 in"},
                    "height": {"value": "112 in"},
                    "ends_at": {"value": "drain"},
                }
            )
    return Sheet.model_validate({"runs": made, "outlets": outlets, "downpipes": pipes})


def main() -> int:
    """Print seconds per run for each count, and the last against the first."""
    shop = load_shop()
    lay_out(street(8), [], shop)
    rates: list[float] = []
    print(f"{'runs':>7} {'layout ms/run':>14} {'lists ms/run':>13}")
    for count in COUNTS:
        sheet = street(count)
        start = time.perf_counter()
        lay_out(sheet, [], shop)
        laid = time.perf_counter()
        make_lists(sheet, [], shop)
        done = time.perf_counter()
        rates.append((laid - start) / count)
        print(f"{count:>7} {rates[-1] * 1000:>14.3f} {(done - laid) / count * 1000:>13.3f}")
    print(f"layout, time per run of the largest over the smallest: {rates[-1] / rates[0]:.2f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())

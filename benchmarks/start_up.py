"""How long the commands take to start, each beside the least that could be done: ratios in one run.

`gutterance --help` against `python -c pass` (aim: under 4), and a cold `gutterance read` against
`python -c "import spacy"` (aim: under 1.6). The runs are interleaved, so that a busy machine slows both
alike, and the median of each is taken.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path

NOTE = Path(__file__).parents[1] / "examples" / "14-quarry-lane.txt"
ROUNDS = 15


def once(command: list[str]) -> float:
    """Seconds that one whole process takes."""
    start = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return time.perf_counter() - start


def compare(name: str, ours: list[str], floor_name: str, floor: list[str], aim: float, rounds: int) -> float:
    """Print and return the ratio of two commands' median times."""
    once(ours), once(floor)  # once for the disk
    pairs = [(once(ours), once(floor)) for _ in range(rounds)]
    our_time, floor_time = (statistics.median(times) for times in zip(*pairs, strict=True))
    ratio = our_time / floor_time
    print(
        f"{name:<24} {our_time * 1000:7.1f} ms   {floor_name:<26} {floor_time * 1000:7.1f} ms   "
        f"ratio {ratio:5.2f}  (aim: under {aim:g})"
    )
    return ratio


def main() -> None:
    """Run both comparisons."""
    python = sys.executable
    gutterance = str(Path(python).with_name("gutterance"))
    compare(
        "gutterance --help", [gutterance, "--help"], "python -c pass", [python, "-c", "pass"], 4, 4 * ROUNDS
    )
    compare(
        "gutterance length 58-6",
        [gutterance, "length", "58-6"],
        "python -c pass",
        [python, "-c", "pass"],
        30,
        ROUNDS,
    )
    compare(
        "gutterance read, cold",
        [gutterance, "read", str(NOTE)],
        'python -c "import spacy"',
        [python, "-c", "import spacy"],
        1.6,
        ROUNDS,
    )


if __name__ == "__main__":
    main()

"""Notes from 10,000 to 1,000,000 characters: the time per character should stay about constant.

The same words as one endless line and as many lines, then lines of the kinds that tempt a reader to look at
everything again for each word: bare numbers, commas, corrections, a new name on each line. The time per
character is printed for each size, and the last against the first: about 1 is proportional to length, and a
hundred would be growing with its square. Run it with `python benchmarks/reading_scaling.py [KIND...]`; all of
it takes some minutes.
"""

from __future__ import annotations

import gc
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

SIZES = (10_000, 100_000, 1_000_000)
NOTE = Path(__file__).parents[1] / "examples" / "14-quarry-lane.txt"
LINES = NOTE.read_text(encoding="utf-8").splitlines()


def repeated(line: str, size: int) -> str:
    """The line over and over, up to that many characters."""
    return (line * (size // len(line) + 1))[:size]


def many(line_of: Callable[[int], str], size: int) -> list[str]:
    """Lines, each made for its number, up to that many characters."""
    lines: list[str] = []
    length = 0
    while length < size:
        lines.append(line_of(len(lines)))
        length += len(lines[-1]) + 1
    return lines


KINDS: dict[str, Callable[[int], list[str]]] = {
    "one line": lambda size: [repeated(" ".join(LINES) + " ", size)],
    "many lines": lambda size: many(lambda number: LINES[number % len(LINES)], size),
    "one dictated line": lambda size: [
        repeated("front is fifty eight foot six outside corners both ends drop left ", size)
    ],
    "one line of words": lambda size: [repeated("the quick brown fox jumped ", size)],
    "one line of numbers": lambda size: [repeated("42 6 ", size)],
    "one line of commas": lambda size: [repeated("a,", size)],
    "one word": lambda size: ["x" * size],
    "one number": lambda size: [repeated("1234567890", size)],
    "corrections": lambda size: many(lambda n: f"run {n % 97} 42 foot no wait 43 foot scratch that", size),
    "a new run each line": lambda size: many(
        lambda n: f"{chr(97 + n % 26)}{chr(97 + n // 26 % 26)}{chr(97 + n // 676 % 26)}ville front 42-6", size
    ),
    "a table": lambda size: [
        "run | length | left | right",
        *many(lambda _: "front | 42-6 | OSC | OSC", size),
    ],
}


def main(wanted: list[str]) -> None:
    """Print microseconds per character for each kind and size."""
    from gutterance.reading import read_note

    gc.set_threshold(1_000_000, 50, 50)  # as the command itself runs
    read_note(LINES)
    print(f"{'microseconds a character':24}" + "".join(f"{size:>12,}" for size in SIZES) + "   last/first")
    for name in wanted or KINDS:
        told = []
        for size in SIZES:
            lines = KINDS[name](size)
            start = time.perf_counter()
            read_note(lines)
            told.append((time.perf_counter() - start) / size * 1e6)
        print(
            f"{name:24}" + "".join(f"{one:12.1f}" for one in told) + f"{told[-1] / told[0]:13.2f}", flush=True
        )


if __name__ == "__main__":
    main(sys.argv[1:])

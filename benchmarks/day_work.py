"""A day's work of 100 notes: jobs a minute with one process and with two, and what the second one brings.

The notes are the corpus's first hundred, as different as crews are; all papers of each are written. The times
include the start of the processes.

    .venv/bin/python benchmarks/day_work.py [HOW MANY]
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

CORPUS = Path(__file__).parents[1] / "corpus"
ENDINGS = {".txt", ".vtt", ".srt"}


def run(notes: list[str], processes: int) -> tuple[float, float]:
    """Seconds by the clock, and of processor time, for all notes."""
    with tempfile.TemporaryDirectory() as folder:
        begun, before = time.perf_counter(), os.times()
        done = subprocess.run(
            [sys.executable, "-m", "gutterance", "run", *notes, "--out", folder, "--jobs", str(processes)],
            capture_output=True,
            check=False,
        )
        took, after = time.perf_counter() - begun, os.times()
        if done.returncode == 1:
            raise SystemExit(done.stderr.decode())
    return took, (after.children_user + after.children_system) - (
        before.children_user + before.children_system
    )


def main() -> None:
    """Print jobs a minute for one process and for two, and their ratio."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    notes = [str(path) for path in sorted(CORPUS.iterdir()) if path.suffix in ENDINGS][:many]
    times = {}
    for processes in (1, 2):
        times[processes], busy = run(notes, processes)
        print(
            f"{len(notes)} jobs, {processes} at once: {times[processes]:6.1f} s, "
            f"{len(notes) * 60 / times[processes]:5.0f} jobs a minute "
            f"({busy / len(notes) * 1000:.0f} ms of processor time each)"
        )
    print(f"two at once do {times[1] / times[2]:.2f} times as many")


if __name__ == "__main__":
    main()

"""How long reading a 12-line note takes, warm, beside two general libraries on the same text, in one run.

Reading remembers what each text holds, as spaCy's tokenizer remembers words: the second figure is with
nothing of the note remembered. The floor is spaCy's blank English tokenizer alone (aim: under 10 times that);
the other is quantulum3 finding quantities in the same text (aim: under a tenth of that).
"""

from __future__ import annotations

import contextlib
import io
import statistics
import time
import warnings
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

NOTE = Path(__file__).parents[1] / "examples" / "14-quarry-lane.txt"
ROUNDS = 30


def median_ms(work: Callable[[], object], rounds: int) -> float:
    """Median processor time [ms] of calls of `work`, after two to warm up: other programs do not count."""
    work(), work()
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times) * 1000


def main() -> None:
    """Time the three on the example note."""
    import spacy

    from gutterance.reading import read_note
    from gutterance.reading.pipeline import pipeline

    lines = NOTE.read_text(encoding="utf-8").splitlines()
    assert len(lines) == 12, "the benchmark is about a 12-line note"
    tokenizer = spacy.blank("en").tokenizer
    ours = median_ms(lambda: read_note(lines), ROUNDS)
    fresh = median_ms(lambda: (pipeline().forget_texts(), read_note(lines)), ROUNDS)
    floor = median_ms(lambda: [tokenizer(line) for line in lines], ROUNDS)
    with warnings.catch_warnings(), contextlib.redirect_stderr(io.StringIO()):
        warnings.simplefilter("ignore")  # its classifier is absent; that is how it is used here
        from quantulum3 import parser

        other = median_ms(lambda: [parser.parse(line) for line in lines], ROUNDS)
    print(f"gutterance, 12 lines to a sheet  {ours:9.2f} ms")
    print(f"the same, nothing remembered     {fresh:9.2f} ms   ratio to the tokenizer {fresh / floor:7.2f}")
    print(f"spaCy blank tokenizer alone      {floor:9.2f} ms   ratio {ours / floor:7.2f}  (aim: under 10)")
    print(f"quantulum3                       {other:9.2f} ms   ratio {ours / other:7.4f}  (aim: under 0.1)")


if __name__ == "__main__":
    main()

"""How much of random houses is read from tables in random layouts, by feature of the layout."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

from gutterance.reading import read_note

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "support"))

from written_tables import held_against, written_table

SEEDS = range(2000, 2150)
"""Other seeds than those the tests hold the reader to."""


def main() -> None:
    """Print, for each feature, the shares read right, asked about and missed, and how many are wrong."""
    whole: Counter[str] = Counter()
    shares: dict[tuple[str, str], Counter[str]] = {}
    for seed in SEEDS:
        written = written_table(seed)
        outcomes = Counter(mark for mark, *_ in held_against(written, read_note(written.lines)))
        whole += outcomes
        for feature in written.features.items():
            shares.setdefault(feature, Counter()).update(outcomes)
    for (feature, drawn), outcomes in [*sorted(shares.items()), (("all", f"{len(SEEDS)} tables"), whole)]:
        values = outcomes.total()
        told = "  ".join(f"{what} {outcomes[what] / values:6.1%}" for what in ("right", "asked", "missed"))
        print(f"{feature:10} {drawn:20} {told}  wrong {outcomes['wrong']}")


if __name__ == "__main__":
    main()

"""The reader held to its last recorded score: nothing more wrong, nothing less right."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.scoring import HELD, add_up, load_records, score_corpus

if TYPE_CHECKING:
    from gutterance.scoring.marks import Sums

CORPUS = Path(__file__).parents[2] / "corpus"
AGAIN = "record a better score with `gutterance score corpus --held --record`, or mend what got worse"


def _not_worse(now: Sums, then: dict[str, Any]) -> None:
    assert now.values > 0
    assert now.wrong <= then["wrong"], AGAIN
    # Shares, so that a corpus that grew is held to the same standard.
    for kind in ("right", "asked"):
        if kind == "asked":
            share = (now.right + now.asked) / now.values
            before = (then["right"] + then["asked"]) / then["values"]
        else:
            share, before = now.right / now.values, then["right"] / then["values"]
        assert share >= before, f"{kind}: {share:.4f} now, {before:.4f} when last recorded; {AGAIN}"


@pytest.fixture(scope="module")
def last() -> dict[str, Any]:
    """The last recorded score."""
    return load_records(CORPUS)[-1]


def test_the_seen_notes_are_read_no_worse_than_recorded(last: dict[str, Any]) -> None:
    _not_worse(add_up(score_corpus(CORPUS)).total, last["total"])


def test_the_held_notes_are_read_no_worse_than_recorded(last: dict[str, Any]) -> None:
    _not_worse(add_up(score_corpus(CORPUS / HELD)).total, last["held"])


def test_the_corpus_is_as_large_and_as_varied_as_promised(last: dict[str, Any]) -> None:
    assert last["total"]["notes"] + last["held"]["notes"] >= 40
    assert len(last["voices"]) >= 8

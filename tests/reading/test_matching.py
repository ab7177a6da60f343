"""Which cue a number answers: the pairing of neighbours that costs least overall."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.reading.matching import PAIR_WORTH, pair_neighbours

if TYPE_CHECKING:
    from collections.abc import Callable


def best_by_trying_all(positions: list[int], cost: Callable[[int, int], float | None]) -> float:
    """The greatest worth of any choice of neighbouring pairs, found by trying every choice."""
    links = list(itertools.pairwise(positions))
    best = 0.0
    for count in range(len(links) + 1):
        for chosen in itertools.combinations(links, count):
            used = [place for pair in chosen for place in pair]
            prices = [cost(*pair) for pair in chosen]
            if len(used) == len(set(used)) and None not in prices:
                best = max(best, sum(PAIR_WORTH - price for price in prices if price is not None))
    return best


@given(st.lists(st.one_of(st.none(), st.floats(0, 14)), max_size=8))
@settings(max_examples=150, deadline=None)
def test_no_choice_of_pairs_is_worth_more(prices: list[float | None]) -> None:
    positions = [3 * place for place in range(len(prices) + 1)]
    cost = dict(zip(itertools.pairwise(positions), prices, strict=True))
    pairs = pair_neighbours(positions, lambda first, second: cost[first, second])
    used = [place for pair in pairs for place in pair]
    assert len(used) == len(set(used))
    assert used == sorted(used)
    worth = sum(PAIR_WORTH - price for pair in pairs if (price := cost[pair]) is not None)
    assert all(cost[pair] is not None for pair in pairs)
    assert worth == pytest.approx(best_by_trying_all(positions, lambda first, second: cost[first, second]))


def test_nothing_to_pair() -> None:
    assert pair_neighbours([], lambda *_: 0.0) == []
    assert pair_neighbours([4], lambda *_: 0.0) == []
    assert pair_neighbours([4, 9], lambda *_: None) == []
    assert pair_neighbours([4, 9], lambda *_: PAIR_WORTH) == []


@pytest.mark.parametrize(
    "words",
    [
        "w/f 24 H 9-4",
        "24 w/f 9-4 H",
        "w/f 24, 9-4 high",
        "24 wall to fascia 9 4 high",
        "H 9-4 w/f 24",
        "9-4 high, w/f 24",
        "wall to fascia: 24; height: 9-4",
    ],
)
def test_a_cue_before_or_behind_its_number(read: Callable[..., Any], words: str) -> None:
    seen = read(f"Front 30-6 OSC both, drop left, {words}")
    seen.inches("downpipes.front-1.wall_to_fascia", 24, "24")
    seen.feet("downpipes.front-1.height", 9, 4)

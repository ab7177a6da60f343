"""The cutting job as flows along bars: the formulation that solvers prove most with.

Valério de Carvalho, "Exact solution of bin-packing problems using column generation and branch-and-bound",
Annals of Operations Research 86, 1999. A bar is a path from 0 to its length; a cut is an arc as long as it
is. Every number in the constraints but the counts is 1 or -1, so that no length is ever rounded.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.stock.filling import Plan

MOST_ARCS = 40_000


@dataclass(slots=True)
class Model:
    """A whole-number program: variables with upper bounds, costs to make least, rows of sums."""

    upper: dict[str, int] = field(default_factory=dict)
    cost: dict[str, int] = field(default_factory=dict)
    rows: list[tuple[dict[str, int], str, int]] = field(default_factory=list)


@dataclass(slots=True)
class Flow:
    """The model with what is needed to read a plan out of its answer."""

    model: Model
    sizes: tuple[int, ...]
    arcs: dict[str, tuple[int, int, int]]
    bars: dict[str, int]
    own: dict[str, int]


def flow_model(
    sizes: Sequence[int],
    wanted: Sequence[int],
    at_least: Mapping[int, int],
    at_most: Mapping[int, int],
    cost: Mapping[int, int],
    kept: int | None = None,
) -> Flow | None:
    """The model of cutting all that is wanted; None where it would be too large to be of use.

    Of each bar length at least `at_least` and at most `at_most` are used, each at its `cost`. With
    `kept`, one more bar of that length is cut as little as can be: that is then all that is made least.
    """
    model = Model()
    arcs = _cut_arcs(sizes, wanted, max((bar for bar in at_most if at_most[bar]), default=0))
    if arcs is None:
        return None
    bars = {bar: f"b{bar}" for bar in sorted(at_most) if at_most[bar]}
    places = sorted({0, *(end for _, end, _ in arcs), *bars})
    flow = Flow(model, tuple(sizes), {}, {name: bar for bar, name in bars.items()}, {})
    into: dict[int, dict[str, int]] = defaultdict(dict)
    cuts: dict[int, dict[str, int]] = defaultdict(dict)
    for start, end, at in arcs:
        name = f"c{start}_{at}"
        flow.arcs[name] = (start, end, at)
        model.upper[name] = wanted[at]
        into[start][name], into[end][name] = -1, 1
        cuts[at][name] = 1
    most = sum(at_most[bar] for bar in bars)
    for start, end in itertools.pairwise(places):
        name = f"w{start}"
        model.upper[name] = most
        into[start][name], into[end][name] = -1, 1
        flow.arcs[name] = (start, end, -1)
    for bar, name in bars.items():
        model.upper[name] = at_most[bar]
        into[0][name] = 1
        into[bar][name] = -1
        if kept is None and cost.get(bar):
            model.cost[name] = cost[bar]
        if at_least.get(bar):
            model.rows.append(({name: 1}, ">=", at_least[bar]))
    for place in places:
        if into[place]:
            model.rows.append((into[place], "=", 0))
    for at, count in enumerate(wanted):
        if kept is not None and count:
            name = f"k{at}"
            flow.own[name] = at
            model.upper[name] = count
            model.cost[name] = sizes[at]
            cuts[at][name] = 1
        if count:
            model.rows.append((cuts[at], "=", count))
    if kept is not None:
        model.rows.append(({name: sizes[at] for name, at in flow.own.items()}, "<=", kept))
    return flow


def _cut_arcs(sizes: Sequence[int], wanted: Sequence[int], longest: int) -> list[tuple[int, int, int]] | None:
    """Arcs (start, end, size's number): a bar is cut longest first, so arcs start where longer ones end."""
    starts = {0}
    arcs: dict[tuple[int, int], int] = {}
    for at, (size, count) in enumerate(zip(sizes, wanted, strict=True)):
        ends = set()
        for start in starts:
            here = start
            for _ in range(count):
                if here + size > longest or (here, at) in arcs:
                    break
                arcs[here, at] = here + size
                here += size
                ends.add(here)
        starts |= ends
        if len(arcs) > MOST_ARCS:
            return None
    return [(start, end, at) for (start, at), end in arcs.items()]


def plan_of(flow: Flow, values: Mapping[str, int], kept: int | None = None) -> Plan:
    """The bars and their cuts, read out of the solver's values; the kept bar, if any, comes first."""
    many = len(flow.sizes)
    out: Plan = []
    if kept is not None:
        own = [0] * many
        for name, at in flow.own.items():
            own[at] = values.get(name, 0)
        out.append((kept, tuple(own)))
    leaving: dict[int, list[list[int]]] = defaultdict(list)
    for name, (start, end, at) in flow.arcs.items():
        if values.get(name):
            leaving[start].append([at, end, values[name]])
    bars = sorted(((bar, values.get(name, 0)) for name, bar in flow.bars.items()), reverse=True)
    for bar, count in bars:
        for _ in range(count):
            counts = [0] * many
            place = 0
            while place < bar:
                # a path that could end at two bars' lengths must not pass the shorter one's by
                arc = next(one for one in leaving[place] if one[2] and one[1] <= bar)
                arc[2] -= 1
                if arc[0] >= 0:
                    counts[arc[0]] += 1
                place = arc[1]
            out.append((bar, tuple(counts)))
    return [(bar, filling) for bar, filling in out if any(filling)]

"""The downpipes' cuts onto leftovers and new lengths, size by size and colour by colour."""

from __future__ import annotations

from collections import Counter, defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding
from gutterance.lists.models import Bought, Hold, PipeCut, PipeNeed
from gutterance.measure.length import Length
from gutterance.stock import Cut, Stock, plan_cuts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.lists.models import DownpipeList
    from gutterance.lists.rounding import Rounder
    from gutterance.measure.length import System
    from gutterance.shop import Shop
    from gutterance.stock import CuttingPlan

SECONDS = 10.0
"""How long all the cutting of a job may be thought about."""


def cuts_of(pipe: DownpipeList) -> Iterator[tuple[Length, str]]:
    """Each cut of a pipe with the name it has in the cutting plan."""
    if pipe.gooseneck is not None:
        yield pipe.gooseneck, f"{pipe.id} gooseneck"
    many = len(pipe.wall_cuts) > 1
    for number, cut in enumerate(pipe.wall_cuts, start=1):
        yield cut, f"{pipe.id} wall pipe{f' {number}' if many else ''}"
    for bend in pipe.bends:
        for cut in bend.cuts:
            yield cut, f"{pipe.id} {bend.what}"
        if bend.way == "arm" and pipe.gooseneck is not None:
            yield pipe.gooseneck, f"{pipe.id} gooseneck of {bend.what}"
    if pipe.tail is not None:
        yield pipe.tail, f"{pipe.id} tail"


def cut_pipes(
    pipes: Sequence[DownpipeList], shop: Shop, rounder: Rounder, system: System
) -> tuple[list[PipeCut], list[PipeNeed], list[Finding]]:
    """Cuts of every pipe that is not on hold, onto what is at hand and what is bought.

    A pipe with a cut that no length gives is put on hold, with a finding that says how to mend it.
    """
    groups: dict[tuple[str | None, str | None], list[DownpipeList]] = defaultdict(list)
    for pipe in pipes:
        if not pipe.hold and any(cuts_of(pipe)):
            groups[pipe.size, pipe.colour].append(pipe)
    cuts: list[PipeCut] = []
    need: list[PipeNeed] = []
    findings: list[Finding] = []
    for (size, colour), group in groups.items():
        plan, held = _plan(group, shop, SECONDS / len(groups))
        findings += held
        if not plan.lengths:
            continue
        keep = shop.downpipes.keep_over.inches
        cuts += [
            PipeCut(
                size=size,
                colour=colour,
                stock=Length(one.stock.length, system),
                at_hand=not one.stock.new,
                cuts=[Length(cut.length, system) for cut in one.cuts],
                of=[cut.of for cut in one.cuts],
                left_over=rounder.sure(one.left_over, system, "down"),
                keep=one.left_over >= keep,
            )
            for one in plan.lengths
        ]
        need.append(_need(size, colour, plan, shop, rounder, system))
    return cuts, need, findings


def _plan(group: list[DownpipeList], shop: Shop, seconds: float) -> tuple[CuttingPlan, list[Finding]]:
    """The plan for pipes of one size and colour, without those that turn out to be on hold."""
    size, colour = group[0].size, group[0].colour
    stock = _stock(size, colour, shop)
    findings: list[Finding] = []
    while True:
        ready = [pipe for pipe in group if not pipe.hold]
        # by the cut itself: two cuts of one bend, or two pipes of one id, bear the same name
        cuts = [(Cut(length.inches, of), length, pipe) for pipe in ready for length, of in cuts_of(pipe)]
        wanted = {id(cut): (length, pipe) for cut, length, pipe in cuts}
        plan = plan_cuts(
            [cut for cut, _, _ in cuts],
            stock,
            shop.downpipes.saw_cut.inches,
            seconds=seconds,
        )
        if not plan.too_long:
            return plan, findings
        findings += [_hold(*wanted[id(cut)], cut.of, stock) for cut in plan.too_long]


def _hold(cut: Length, pipe: DownpipeList, of: str, stock: Sequence[Stock]) -> Finding:
    longest = Length(max(Fraction(one.length) for one in stock), cut.system)
    says = (
        f"{of} is {cut.tape_text()}, and no length of {pipe.size or 'its'} pipe is left to cut it from (the "
        f"longest is {longest.tape_text()}): give the length it can be had in, downpipes.stock or "
        "downpipes.also_bought in the shop file, or say where it is joined"
    )
    question = f"What is {of} cut from?"
    about = f"downpipes.{pipe.id}.{of.removeprefix(pipe.id).split()[0]}"
    pipe.hold.append(Hold(about=about, says=says, question=question))
    return Finding(
        code="cut-longer-than-stock",
        kind="gap",
        about=about,
        says=f"{says[:1].upper()}{says[1:]}.",
        question=question,
        holds=[f"downpipes.{pipe.id}"],
    )


def _stock(size: str | None, colour: str | None, shop: Shop) -> list[Stock]:
    at_hand = [Stock(one.length.inches, one.count) for one in shop.leftovers_of(size, colour)]
    bought = {one.inches for one in (shop.downpipes.stock, *shop.downpipes.also_bought)}
    return [*at_hand, *map(Stock, sorted(bought))]


def _need(
    size: str | None, colour: str | None, plan: CuttingPlan, shop: Shop, rounder: Rounder, system: System
) -> PipeNeed:
    bought: Counter[Fraction] = Counter(one.stock.length for one in plan.lengths if one.stock.new)
    return PipeNeed(
        size=size,
        colour=colour,
        stock=Length(shop.downpipes.stock.inches, system),
        lengths=plan.new,
        bought=[Bought(stock=Length(stock, system), count=bought[stock]) for stock in sorted(bought)],
        from_leftovers=sum(not one.stock.new for one in plan.lengths),
        at_least=plan.at_least,
        proven_fewest=plan.proven_fewest,
        longest_left=rounder.sure(plan.longest_left, system, "down"),
        longest_could_be=rounder.sure(plan.longest_could_be, system, "down"),
        proven_longest=plan.proven_longest,
        out_of_time=plan.out_of_time,
    )

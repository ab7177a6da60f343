"""The downpipe list: cuts, parts and straps of each, how to cut them from stock, and which must wait."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.cutlist import held_reasons
from gutterance.render.plain import cut, harmless, heading, page, rule, short, tape, wrapped

if TYPE_CHECKING:
    from gutterance.lists.models import Bend, DownpipeList, Lists, PipeCut, PipeNeed
    from gutterance.shop import Shop


def downpipe_list(lists: Lists, shop: Shop | None = None) -> str:
    """Each downpipe with its cuts and straps; straps are measured up from the wall pipe's lower end."""
    ready = [pipe for pipe in lists.downpipes if not pipe.hold]
    held = [pipe for pipe in lists.downpipes if pipe.hold]
    lines = heading("DOWNPIPES", lists.title)
    if lists.downpipes:
        lines += wrapped(
            "At every joint the upper part goes into the lower, so that no seam faces the water."
        )
    if not lists.downpipes:
        lines.append("No downpipe on the sheet.")
    for pipe in ready:
        lines += ["", *_pipe(pipe, "[ ]")]
    if held:
        lines += ["", "ON HOLD: DO NOT CUT"]
        for pipe in held:
            lines += ["", *_pipe(pipe, " ? ")]
        lines += ["", *held_reasons([(pipe.id, pipe.hold) for pipe in held])]
    lines += no_pipe_lines(lists)
    lines += _stock(lists)
    if shop is not None and ready:
        allowance = shop.downpipes.saw_cut
        lines += [
            "",
            *wrapped(f"Cuts are full lengths of pipe; {rule(allowance, lists)} is left for each saw cut."),
        ]
    return page(lines)


def no_pipe_lines(lists: Lists) -> list[str]:
    """The outlets for which no pipe is made, and what takes their water."""
    if not lists.no_pipe:
        return []
    told = (
        f"{harmless(one.id)}: {harmless(one.place or one.id)}; {harmless(one.into)}" for one in lists.no_pipe
    )
    return ["", "NO DOWNPIPE MADE", *(line for text in told for line in wrapped(text, "  ", "      "))]


def _pipe(pipe: DownpipeList, box: str) -> list[str]:
    what = " ".join(harmless(one) for one in (pipe.size, pipe.colour) if one)
    ends = f", to {harmless(pipe.ends_at)}" if pipe.ends_at else ""
    name = harmless(pipe.place or "no outlet")
    lines = wrapped(f"{box} {harmless(pipe.id)}: {name}; {what}{ends}", "", "      ")
    if pipe.rule == "straight":
        lines.append("      no gooseneck: straight down")
    elif pipe.rule == "elbows trimmed":
        lines.append(
            f"      no gooseneck: elbow into elbow, {short(pipe.trim)} cut off each leg, "
            f"drop {short(pipe.drop)}"
        )
    elif pipe.rule == "elbow to elbow":
        lines.append(f"      no gooseneck: elbow straight into elbow, drop {short(pipe.drop)}")
    else:
        lines += wrapped(gooseneck_words(pipe), "      ", "        ")
    cuts = " + ".join(cut(one) for one in pipe.wall_cuts) if len(pipe.wall_cuts) > 1 else ""
    parts = f" in {len(pipe.wall_cuts)} lengths, top first: {cuts}" if cuts else ""
    lines += wrapped(f"wall pipe  {cut(pipe.wall_pipe)}{parts}", "      ", "        ")
    for bend in pipe.bends:
        lines += wrapped(bend_words(bend), "      ", "        ")
    if pipe.tail is not None:
        lines.append(f"      tail       {cut(pipe.tail)}")
    if pipe.parts:
        counted = ", ".join(f"{part.count} {harmless(part.what)}" for part in pipe.parts)
        lines += wrapped(f"parts      {counted}", "      ", "        ")
    if pipe.straps:
        marks = ", ".join(tape(one) for one in pipe.straps)
        lines += wrapped(f"straps     {marks} up from the wall pipe's foot", "      ", "        ")
    lines += [line for one in pipe.says for line in wrapped(f"~ {harmless(one)}", "      ", "        ")]
    return lines


def bend_words(bend: Bend) -> str:
    """An offset or arm: which way, how far, its cuts and the height it takes."""
    words = f"{bend.what}: {bend.way}, over {short(bend.throw)}" if bend.way != "arm" else bend.what
    cuts = " + ".join(cut(one) for one in bend.cuts) or "no pipe between its elbows"
    high = f", its lower end {tape(bend.above_foot)} above the foot" if bend.above_foot is not None else ""
    return f"{words}   {cuts}, drop {short(bend.drop)}{high}"


def gooseneck_words(pipe: DownpipeList) -> str:
    """The gooseneck's cut and drop, by which rule, and what the other rule would have."""
    words = f"gooseneck  {cut(pipe.gooseneck)}"
    if pipe.rule is None or pipe.gooseneck is None:
        return words
    words += f" by the {pipe.rule}" if pipe.rule == "field rule" else f" by {pipe.rule}"
    if pipe.drop is not None:
        words += f", drop {short(pipe.drop)}"
    if pipe.other_rule is not None:
        words += f"   (by {pipe.other_rule}: {short(pipe.other_gooseneck)}, drop {short(pipe.other_drop)})"
    return words


def _stock(lists: Lists) -> list[str]:
    if not lists.pipe_cuts:
        return []
    lines = ["", "FROM STOCK"]
    for need in lists.pipe_need:
        lines += wrapped(need_words(need), "", "  ")
        mine = [one for one in lists.pipe_cuts if (one.size, one.colour) == (need.size, need.colour)]
        several = len({one.stock.inches for one in mine}) > 1
        for number, one in enumerate(mine, start=1):
            lines += wrapped(f"{number}: {_cuts(one, several=several)}", "  [ ] ", "         ")
    return lines


def need_words(need: PipeNeed) -> str:
    """How many lengths, whether fewer could do, and what is left at the end."""
    what = " ".join(harmless(one) for one in (need.size, need.colour) if one)
    bought = " and ".join(f"{one.count} of {tape(one.stock)}" for one in need.bought)
    leftovers = f"{need.from_leftovers} leftover{'' if need.from_leftovers == 1 else 's'}"
    if not bought:
        words = f"{what}: no new length, {leftovers} will do"
    else:
        least = (
            "the fewest that will do, proven"
            if need.proven_fewest
            else f"no plan could do with fewer than {need.at_least}, whether {need.at_least} would do is open"
        )
        words = f"{what}: {bought}, {least}"
        words += f"; with {leftovers}" if need.from_leftovers else ""
    if need.longest_left is not None and need.longest_left.inches:
        words += f". Longest piece left {cut(need.longest_left)}"
        if need.proven_longest:
            words += ", no such plan leaves a longer one"
        elif need.proven_fewest:
            words += f", none could leave over {cut(need.longest_could_be)}"
    return words + (". The search ran out of time" if need.out_of_time else "")


def _cuts(one: PipeCut, *, several: bool) -> str:
    cuts = ", ".join(f"{cut(length)} ({harmless(of)})" for length, of in zip(one.cuts, one.of, strict=True))
    source = f"leftover of {cut(one.stock)}: " if one.at_hand else f"{tape(one.stock)}: " if several else ""
    keep = ", keep it" if one.keep else ""
    return f"{source}{cuts}; left over {cut(one.left_over)}{keep}"

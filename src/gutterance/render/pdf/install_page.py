"""The install sheet on paper, for the ladder: dangers, the plan, each run's strip, the downpipes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.downpipelist import bend_words, gooseneck_words
from gutterance.render.drawing.pipe import draw_pipe
from gutterance.render.drawing.plan import plan_by_storey
from gutterance.render.drawing.strip import strips
from gutterance.render.installsheet import FALLS_RULE, lap_words, movement_words
from gutterance.render.pdf.blocks import Block, boxed, cells, drawing, heading, said
from gutterance.render.pdf.cut_page import hold_reasons
from gutterance.render.plain import cut, rule, tape

_KEY, _LEAST_PLAN = 150.0, 240.0
"""What the plan's key takes of the page, and the least height walls are drawn in [pt]."""
_BETWEEN = 12.0
"""Between blocks side by side [pt]: as paper.typ has it."""

if TYPE_CHECKING:
    from gutterance.lists.models import Caution, Channel, DownpipeList, Lists
    from gutterance.render.drawing.scene import Scene
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop


def install_page(lists: Lists, sheet: Sheet, shop: Shop | None, width: float, height: float) -> list[Block]:
    """Dangers of this house first; then the plan, the strips stretch by stretch, and the downpipes."""
    blocks, used = _dangers(lists)
    for scene in plan_by_storey(lists, sheet, width, max(height - used - _KEY, _LEAST_PLAN), 2):
        blocks.append(drawing(scene, height - used - 12))
        used = 0.0
    blocks += _usual_cautions(lists)
    if shop is not None:
        rate = FALLS_RULE.format(drop=rule(shop.fall.drop, lists), over=rule(shop.fall.over, lists))
        blocks.append(said(rate))
    if lists.assemblies:
        blocks.append(heading("Put together on the ground first"))
        blocks += [said(one.says, mark="+") for one in lists.assemblies]
    lengths = {run.id: run.length.value if run.length is not None else None for run in reversed(sheet.runs)}
    drawn = dict(strips(lists, lengths, width, (width - _BETWEEN) / 2))
    for channel in lists.channels:
        blocks += _stretch(lists, channel)
        told = [(drawn.pop(run), _about_run(lists, run)) for run in channel.runs if run in drawn]
        blocks += _side_by_side(told, width)
    if lists.downpipes:
        blocks.append(heading("Downpipes", 15))
        blocks.append(
            said("At every joint the upper part goes into the lower, so that no seam faces the water.")
        )
        blocks.append(cells([_pipe(one) for one in lists.downpipes], 2))
    if lists.no_pipe:
        blocks.append(heading("Outlets with no new downpipe", 11.5))
        blocks += [said(f"{one.id}: {one.place or one.id}; {one.into}") for one in lists.no_pipe]
    return blocks


def _dangers(lists: Lists) -> tuple[list[Block], float]:
    """What the note warns of, framed, and about how much of the page that takes [pt]."""
    names = {piece.run: piece.run_name for piece in lists.pieces}
    lines = []
    for one in lists.cautions:
        if _own(one):
            about = f" ({names.get(one.about, one.about)})" if one.about else ""
            lines.append(said(f"{one.says}{about}  [{one.source}]", bold=True, size=11.5, mark="!"))
    if not lines:
        return [], 0.0
    rows = sum(len(one["t"]) // 66 + 1 for one in lines)
    return [boxed("DANGERS AT THIS HOUSE", lines)], 72.0 + 16.0 * rows


def _usual_cautions(lists: Lists) -> list[Block]:
    usual = [one for one in lists.cautions if not _own(one)]
    lines = [
        said(f"{one.says}{f'  [{one.source}]' if one.source else ''}", mark="!", size=8.5) for one in usual
    ]
    return [heading("Before you go up", 11.5), *lines] if lines else []


def _own(caution: Caution) -> bool:
    return (caution.source or "").startswith("the note")


def _stretch(lists: Lists, channel: Channel) -> list[Block]:
    names = {piece.run: piece.run_name for piece in lists.pieces}
    told = ", ".join(names.get(run) or run for run in channel.runs)
    loop = ", all the way round" if channel.loop else ""
    long = f", {tape(channel.length)}" if channel.length is not None else ""
    title = f"Stretch {channel.id.removeprefix('stretch-')}: {told}{loop}{long}"
    return [heading(title, 11.5), *(said(one, mark="~") for one in channel.says)]


def _side_by_side(strips: list[tuple[Scene, list[Block]]], width: float) -> list[Block]:
    """The strips of a stretch in its order, each with what is said of it; narrow ones that follow each other
    share a line."""
    blocks: list[Block] = []
    narrow: list[list[Block]] = []
    for scene, about in [*strips, (None, [])]:
        if scene is not None and scene.width < width:
            narrow.append([drawing(scene), *about])
            continue
        if narrow:
            blocks.append(cells(narrow, 2))
            narrow = []
        if scene is not None:
            blocks += [drawing(scene), *about]
    return blocks


def _about_run(lists: Lists, run: str) -> list[Block]:
    pieces = [one for one in lists.pieces if one.run == run]
    blocks = []
    for one in pieces:
        if one.of > 1 or one.hold:
            start = (
                f"begins {tape(one.starts_at)} from the left" if one.starts_at is not None else "begins ____"
            )
            blocks.append(said(f"{one.id} ({tape(one.back)}) {start}", bold=True))
        if one.right == "lap" and one.right_lap is not None:
            blocks.append(said(f"lap: {lap_words(one)}"))
    blocks += [said(movement_words(one)) for one in lists.movements if one.run == run]
    held = [(one.id, one.hold) for one in pieces if one.hold]
    falls = [(f"{fall.what}", fall.hold) for fall in lists.falls if fall.run == run and fall.hold]
    hangers = [("hangers", one.hold) for one in lists.hangers if one.run == run and one.hold]
    return [*blocks, *hold_reasons([*held, *falls, *hangers])]


def _pipe(pipe: DownpipeList) -> list[Block]:
    blocks = [drawing(draw_pipe(pipe))]
    if pipe.rule not in (None, "straight", "elbow to elbow", "elbows trimmed"):
        blocks.append(said(gooseneck_words(pipe), size=8.5))
    if len(pipe.wall_cuts) > 1:
        cuts = " + ".join(cut(one) for one in pipe.wall_cuts)
        blocks.append(said(f"wall pipe in {len(pipe.wall_cuts)} lengths, top first: {cuts}", size=8.5))
    blocks += [said(bend_words(one), size=8.5) for one in pipe.bends]
    if pipe.parts:
        blocks.append(said(", ".join(f"{one.count} {one.what}" for one in pipe.parts), size=8.5))
    blocks += [said(one, mark="~", size=8.5) for one in pipe.says]
    if pipe.hold:
        blocks.append(boxed("ON HOLD: DO NOT CUT", hold_reasons([(pipe.id, pipe.hold)])))
    return blocks

"""The cut list on paper, for the machine: large lengths, boxes to tick, pictures of ends; holds apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.cutlist import coil_words, fit_words, waiting_on
from gutterance.render.downpipelist import need_words
from gutterance.render.drawing.piece import draw_piece
from gutterance.render.pdf.blocks import Block, boxed, heading, said, table, words
from gutterance.render.plain import cut, harmless, rule, sentence, short, tape

if TYPE_CHECKING:
    from gutterance.lists.models import Hold, Lists, Piece
    from gutterance.shop import Shop


def cut_page(lists: Lists, shop: Shop | None, width: float) -> list[Block]:
    """Pieces in machine order, then those on hold, then the pipe to cut from stock."""
    by_id = {piece.id: piece for piece in lists.pieces}
    held = [piece for piece in lists.pieces if piece.hold]
    blocks: list[Block] = [
        said("Left and right as the installer faces the wall. Drawn from above, wall at the top.")
    ]
    if lists.pieces:
        first = lists.pieces[0].leads
        blocks.append(
            said(f"Each piece leaves the machine {first} end first (shop rule; look at your machine).")
        )
    blocks.append(said(sentence(lists.rounding[:1].upper() + lists.rounding[1:])))
    coils = {step.piece: step.coil for step in lists.machine_steps}
    loaded: str | None = None
    for number, one in enumerate(lists.machine_order, start=1):
        if (coil := coils.get(one)) is not None and coil != loaded:
            blocks.append(heading(f"Load coil {coil}", 12))
            loaded = coil
        blocks.append(_piece(by_id[one], str(number), width))
    if not lists.machine_order:
        none = (
            "Nothing may be made yet: every piece is on hold."
            if held
            else "No run on the sheet, so no pieces."
        )
        blocks.append(said(none, bold=True, size=12))
    if held:
        title = f"ON HOLD: DO NOT MAKE {'THESE ' + str(len(held)) if len(held) > 1 else 'THIS ONE'}"
        inner = [_piece(piece, "", width - 24) for piece in held]
        blocks.append(boxed(title, [*inner, *hold_reasons([(one.id, one.hold) for one in held])]))
    if lists.coil_runs:
        blocks += [heading("Coil"), *(said(coil_words(one), bold=True, size=11) for one in lists.coil_runs)]
    blocks += _order(lists)
    blocks += _from_stock(lists, shop)
    blocks += [said(one, mark="~") for one in lists.assumed]
    if shop is not None:
        blocks.append(said(fit_words(lists, shop), size=8.5))
    return blocks


def hold_reasons(held: list[tuple[str, list[Hold]]]) -> list[Block]:
    """Each hold once, with what it keeps waiting and the question that frees it."""
    blocks = []
    for (says, question), names in waiting_on(held).items():
        asks = f"  {harmless(question)}" if question else ""
        blocks.append(said(f"{', '.join(names)}: {sentence(says)}{asks}", mark="?"))
    return blocks


def _piece(piece: Piece, number: str, width: float) -> Block:
    below = []
    for hole in piece.outlets:
        size = f" {hole.size}" if hole.size else ""
        where = f"hole{size} {hole.id}: {tape(hole.from_left)} from left, {tape(hole.from_right)} from right"
        if hole.blank_from_left is not None:
            where += f"; on the blank {tape(hole.blank_from_left)} and {tape(hole.blank_from_right)}"
        below.append(where)
    for side, tab in (("left", piece.left_tab), ("right", piece.right_tab)):
        if tab is not None:
            below.append(f"{short(tab)} tab on the {side} end")
    if piece.carriers is not None and piece.carriers > 1:
        below.append(f"{piece.carriers} to carry")
    if piece.of > 1:
        below.append(f"piece {piece.number} of {piece.of} of {harmless(piece.run_name)}")
    kind = " ".join(one for one in (piece.size, piece.profile, piece.colour) if one)
    what = ", ".join(one for one in (piece.run_name, kind) if one)
    return {
        "k": "piece",
        "number": number,
        "id": words(piece.id),
        "what": words(what),
        "lengths": [
            ["BACK", words(tape(piece.back))],
            ["front", words(tape(piece.front))],
            ["blank", words(tape(piece.blank))],
            ["coil", words(tape(piece.coil))],
        ],
        "scene": draw_piece(piece, width - 46).data(),
        "below": [words(one) for one in below],
        "guesses": [words(one) for one in piece.guesses],
    }


def _order(lists: Lists) -> list[Block]:
    """Why the pieces are run in this order, and what can be hung while each is run."""
    if not lists.machine_steps:
        return []
    rows = [
        [str(number), one.piece, one.why, ", ".join(one.hang)]
        for number, one in enumerate(lists.machine_steps, start=1)
    ]
    head = ["", "piece", "why now", "hang meanwhile"]
    return [heading("Why in this order"), table(head, rows, ["auto", "1fr", "1.6fr", "1fr"])]


def _from_stock(lists: Lists, shop: Shop | None) -> list[Block]:
    if not lists.pipe_cuts:
        return []
    blocks: list[Block] = [heading("Pipe, cut from stock")]
    for need in lists.pipe_need:
        blocks.append(said(need_words(need), bold=True, size=10.5, leads=True))
        mine = [one for one in lists.pipe_cuts if (one.size, one.colour) == (need.size, need.colour)]
        rows = [
            [
                "\n".join(cut(one_cut) for one_cut in one.cuts),
                "\n".join(one.of),
                f"leftover of {cut(one.stock)}" if one.at_hand else tape(one.stock),
                cut(one.left_over) + (", keep it" if one.keep else ""),
            ]
            for one in mine
        ]
        head = ["cut", "for", "from", "left over"]
        blocks.append(table(head, rows, ["auto", "1fr", "auto", "auto"], big=[0, 1], tick=True))
    if shop is not None:
        saw = f"Full lengths of pipe; {rule(shop.downpipes.saw_cut, lists)} is left for each saw cut."
        blocks.append(said(saw, size=8.5))
    return blocks

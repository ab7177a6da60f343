"""The cut list: for the machine, piece by piece in the order to run them; what is on hold stands apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.layout.wording import listed
from gutterance.render.plain import column_rows, harmless, heading, page, rule, sentence, short, tape, wrapped

if TYPE_CHECKING:
    from gutterance.lists.models import CoilRun, Hold, Lists, Piece
    from gutterance.shop import Shop


def cut_list(lists: Lists, shop: Shop | None = None) -> str:
    """The pieces in machine order with a box to tick, then those on hold with the question that frees each.

    With the shop's rules at hand the fit used is told at the foot.
    """
    by_id = {piece.id: piece for piece in lists.pieces}
    order = [by_id[one] for one in lists.machine_order]
    held = [piece for piece in lists.pieces if piece.hold]
    lines = [*heading("CUT LIST", lists.title), "Left and right as the installer faces the wall."]
    if lists.pieces:
        first = lists.pieces[0].leads
        lines += wrapped(
            f"Each piece leaves the machine with its {first} end first (shop rule; look at your machine)."
        )
    lines += wrapped(sentence(lists.rounding[:1].upper() + lists.rounding[1:]))
    lines.append("")
    if order:
        lines += _table(order, tick=True)
        lines.append("")
        lines += [line for one in lists.coil_runs for line in wrapped(coil_words(one), "", "  ")]
        lines += ["", *_order(lists)]
    elif lists.pieces:
        lines.append("Nothing may be made yet: every piece is on hold.")
    else:
        lines.append("No run on the sheet, so no pieces.")
    if held:
        lines += [
            "",
            f"ON HOLD: DO NOT MAKE THESE {len(held)}" if len(held) > 1 else "ON HOLD: DO NOT MAKE THIS ONE",
        ]
        lines += _table(held, tick=False)
        lines.append("")
        lines += held_reasons([(piece.id, piece.hold) for piece in held])
    if lists.assemblies:
        lines += ["", "Put together on the ground before they are hung:"]
        for one in lists.assemblies:
            carry = f"; {one.carriers} to carry" if one.carriers is not None and one.carriers > 1 else ""
            lines += wrapped(f"{harmless(one.says)}{carry}", "  + ", "    ")
    if lists.assumed:
        lines += ["", "Assumed, since not said:"]
        lines += [line for one in lists.assumed for line in wrapped(harmless(one), "  ~ ", "    ")]
    if shop is not None:
        lines += ["", *wrapped(fit_words(lists, shop), "", "  ")]
    return page(lines)


def waiting_on(held: list[tuple[str, list[Hold]]]) -> dict[tuple[str, str | None], list[str]]:
    """What each hold says and asks, with the pieces or pipes it keeps waiting."""
    waiting: dict[tuple[str, str | None], list[str]] = {}
    for name, holds in held:
        for hold in holds:
            names = waiting.setdefault((hold.says, hold.question), [])
            if name not in names:  # two numbers of one line may be asked about in the same words
                names.append(name)
    return waiting


def held_reasons(held: list[tuple[str, list[Hold]]]) -> list[str]:
    """Each hold once, with the pieces or pipes it keeps waiting, and the question that frees them."""
    lines = []
    for (says, question), names in waiting_on(held).items():
        asks = f"  {harmless(question)}" if question else ""
        lines += wrapped(f"? {', '.join(names)}: {sentence(says)}{asks}", "  ", "    ")
    return lines


def _table(pieces: list[Piece], *, tick: bool) -> list[str]:
    rows = [["", "piece", "BACK", "front", "coil", "left", "right"]]
    after: list[list[str]] = [[]]
    for piece in pieces:
        box = "[ ]" if tick else " ? "
        rows.append([box, harmless(piece.id), tape(piece.back), tape(piece.front), tape(piece.coil),
                     end_words(piece, "left"), end_words(piece, "right")])  # fmt: skip
        after.append(_below(piece))
    lines: list[str] = []
    for row, below in zip(column_rows(rows), after, strict=True):
        lines += [*row, *below]
    return lines


def _below(piece: Piece) -> list[str]:
    lines = []
    for hole in piece.outlets:
        size = f" {harmless(hole.size)}" if hole.size else ""
        where = f"{tape(hole.from_left)} from left, {tape(hole.from_right)} from right"
        if hole.blank_from_left is not None:
            on_blank = f"{tape(hole.blank_from_left)} and {tape(hole.blank_from_right)}"
            where += f"; on the blank of {tape(piece.blank)}, {on_blank}"
        lines += wrapped(f"hole{size}: {where}", "      ", "        ")
    words = [
        f"{short(tab)} tab on the {side} end"
        for side, tab in (("left", piece.left_tab), ("right", piece.right_tab))
        if tab is not None
    ]
    if piece.carriers is not None and piece.carriers > 1:
        words.append(f"{piece.carriers} to carry")
    if piece.of > 1:
        words.append(f"piece {piece.number} of {piece.of} of {harmless(piece.run_name)}")
    if words:
        lines.append("      " + "; ".join(words))
    lines += [line for one in piece.guesses for line in wrapped(f"~ {harmless(one)}", "      ", "        ")]
    return lines


def end_words(piece: Piece, side: str) -> str:
    """How an end of a piece is made: `outside mitre`, `inside mitre 45°`, `lap, under`, `cap at wall`."""
    end, angle, lap = (
        (piece.left, piece.left_angle, piece.left_lap)
        if side == "left"
        else (piece.right, piece.right_angle, piece.right_lap)
    )
    if end == "lap" and lap in ("over", "under"):
        return f"lap, {lap}"
    if end == "wall":
        return "cap at wall"
    return f"{end} {angle}°" if angle else ("not known" if end == "unknown" else end)


def coil_words(one: CoilRun) -> str:
    """What is run off a coil, and what is then left or has to be ordered."""
    pieces = f"{len(one.pieces)} {'piece' if len(one.pieces) == 1 else 'pieces'}"
    words = f"Coil {harmless(one.coil)}: {tape(one.total)} for {pieces}"
    lost = f"{tape(one.lost)} lost in loading" if one.lost is not None and one.lost.inches else ""
    if one.left_over is not None:
        return f"{words}{', ' if lost else ''}{lost}; {tape(one.left_over)} left"
    return f"{words}; have {tape(one.order)}{' with the ' if lost else ''}{lost}"


def _order(lists: Lists) -> list[str]:
    """Why the pieces are run in this order, and what can be hung meanwhile."""
    if len(lists.machine_steps) < 2:
        return []
    many = len({one.coil for one in lists.machine_steps})
    coils = "one coil, no change" if many == 1 else f"each of {many} coils is loaded once"
    lines = wrapped(
        f"WHY THIS ORDER: {coils}; a stretch starts at an outlet, and each piece then meets one before it, "
        "so that one can be hung while the next is run.",
        "",
        "  ",
    )
    coil = lists.machine_steps[0].coil
    hung: set[str] = set()
    for one in lists.machine_steps:
        words = f"{one.piece}: {one.why}"
        if one.coil != coil:
            coil = one.coil
            words = f"load coil {coil}. {words}"
        if one.hang:
            words += f". Hang {listed(one.hang)} meanwhile"
            hung.update(one.hang)
        lines += wrapped(f"{harmless(words)}.", "  ", "    ")
    last = [harmless(one.piece) for one in lists.machine_steps if one.piece not in hung]
    return [*lines, *wrapped(f"Then hang {listed(last)}.", "  ", "    ")]


def fit_words(lists: Lists, shop: Shop) -> str:
    """The fit and corner rules the pieces were made by, in one sentence."""
    fit = shop.fit
    corner, inside, cap, wall, lap, trim = (
        rule(one, lists)
        for one in (
            fit.outside_corner,
            fit.inside_corner,
            fit.end_cap,
            fit.wall,
            shop.pieces.lap,
            shop.pieces.squaring_trim,
        )
    )
    return (
        f"Shop rules ({harmless(shop.name)}): at the back outside corner {corner}, inside {inside}, "
        f"cap {cap}, wall {wall}; {_corner_words(lists, shop)}; lap {lap}; squaring trim {trim}."
    )


def _corner_words(lists: Lists, shop: Shop) -> str:
    corners = shop.corners
    if corners.method != "box mitre":
        return corners.method
    outside, inside, overlap = (
        rule(one, lists) for one in (corners.box_outside_leg, corners.box_inside_leg, corners.box_overlap)
    )
    return (
        f"box mitre in place of a corner's fit, legs {outside} outside and {inside} inside, "
        f"{overlap} of the piece in the box"
    )

"""The office summary on paper: what to ask, what was assumed, who settled what, and the rain."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.checking.findings import HOLDING
from gutterance.lists.rain_words import area_text, flow_text, rate_text
from gutterance.measure.length import Length
from gutterance.render.drainagelist import CAUTION
from gutterance.render.pdf.blocks import Block, boxed, heading, said, table
from gutterance.render.plain import tape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.findings import Finding
    from gutterance.lists.drainage_models import DrainedOutlet
    from gutterance.lists.models import Lists
    from gutterance.measure.length import System
    from gutterance.sheet.models import Reading, Sheet
    from gutterance.shop import Shop


def office_page(lists: Lists, sheet: Sheet, findings: Sequence[Finding], shop: Shop | None) -> list[Block]:
    """The job at a glance; questions first, since the rest waits for them."""
    blocks = _at_a_glance(lists, sheet, shop)
    blocks += _findings(findings)
    blocks += _assumptions(lists, sheet)
    blocks += _settled(sheet)
    blocks += _drainage(lists)
    if sheet.unread:
        blocks.append(heading("Words that found no place"))
        blocks += [said(f"{one.source.where()}: {one.text} ({one.why})", mark="?") for one in sheet.unread]
    if sheet.remarks:
        blocks.append(heading("Remarks"))
        blocks += [said(f"{one.kind}: {one.text}  ({one.source.where()})") for one in sheet.remarks]
    return blocks


def _at_a_glance(lists: Lists, sheet: Sheet, shop: Shop | None) -> list[Block]:
    ready = [one for one in lists.pieces if not one.hold]
    known = [
        run.length.value.inches
        for run in sheet.runs
        if run.length is not None and run.length.value is not None
    ]
    system: System = "metric" if lists.units == "metric" else "imperial"
    total = tape(Length(sum(known[1:], known[0]), system)) if known else "____"
    short_of = len(sheet.runs) - len(known)
    missing = f" ({short_of} not known)" if short_of else ""
    pipes = len(lists.downpipes)
    held_pipes = sum(bool(one.hold) for one in lists.downpipes)
    rows = [
        ["runs", str(len(sheet.runs)), f"{total} as measured{missing}"],
        [
            "pieces",
            str(len(lists.pieces)),
            f"{len(ready)} may be made, {len(lists.pieces) - len(ready)} on hold",
        ],
        ["outlets", str(len(sheet.outlets)), ""],
        ["downpipes", str(pipes), f"{pipes - held_pipes} may be cut, {held_pipes} on hold"],
    ]
    by = f"Rules of {shop.name}; " if shop is not None else ""
    return [
        table(["", "", ""], rows, ["auto", "auto", "1fr"], big=[1]),
        said(f"{by}{lists.rounding}.", size=8.5),
    ]


def _findings(findings: Sequence[Finding]) -> list[Block]:
    asks = [one for one in findings if one.kind in HOLDING]
    dangers = [one for one in findings if one.kind == "hazard"]
    others = [one for one in findings if one.kind not in HOLDING and one.kind != "hazard"]
    blocks: list[Block] = []
    if dangers:
        blocks.append(heading("Dangers"))
        blocks += [said(one.says + _lines(one), mark="!", bold=True) for one in dangers]
    if asks:
        inner = []
        for number, one in enumerate(asks, start=1):
            inner.append(said(f"{number}. {one.says}{_lines(one)}", bold=True))
            if one.question and one.question != one.says:
                inner.append(said(one.question, mark=">"))
            inner += [
                said(f"perhaps {offer.value}: {offer.why}", mark="~", size=8.5) for offer in one.suggests
            ]
            if one.holds:
                inner.append(said(f"holds {', '.join(one.holds)}", size=8.5))
        blocks.append(boxed(f"TO ANSWER BEFORE THIS IS MADE: {len(asks)}", inner))
    else:
        blocks.append(said("No question is open.", bold=True))
    if others:
        blocks.append(heading("To know"))
        blocks += [said(one.says + _lines(one), mark="~") for one in others]
    return blocks


def _lines(finding: Finding) -> str:
    places = list(dict.fromkeys(one.where() for one in finding.source))
    return f"  ({', '.join(places[:6])})" if places else ""


def _assumptions(lists: Lists, sheet: Sheet) -> list[Block]:
    told = list(lists.assumed)
    for piece in lists.pieces:
        told += [one for one in piece.guesses if one not in told]
    for path, reading in sheet.readings():
        if reading.status in ("assumed", "inferred"):
            why = f": {reading.why}" if reading.why else ""
            told.append(f"{path} = {_value(reading)}, {reading.status}{why}")
    if not told:
        return []
    return [heading("Assumed or worked out, since not said"), *(said(one, mark="~") for one in told)]


def _settled(sheet: Sheet) -> list[Block]:
    """Values that were put right: what each was, what it is, and by whose words."""
    rows = []
    for path, reading in sheet.readings():
        if reading.was or reading.by or reading.status == "corrected":
            before = ", then ".join(_value(one) for one in reading.was) or "____"
            places = list(dict.fromkeys(one.where() for one in reading.source))
            note = f"the note, {', '.join(places)}" if places and reading.by is None else None
            # an amendment's why names who and when
            named = reading.by if reading.by and reading.by not in (reading.why or "") else None
            by = "; ".join(one for one in (named, reading.why, note) if one) or "not said"
            rows.append([path, before, _value(reading), by])
    if not rows:
        return []
    head = ["value", "was", "is", "settled by"]
    return [heading("Put right"), table(head, rows, ["1.6fr", "auto", "auto", "1.4fr"], big=[])]


def _value(reading: Reading[Any]) -> str:
    if reading.value is None:
        return "____"
    return tape(reading.value) if isinstance(reading.value, Length) else str(reading.value)


def _drainage(lists: Lists) -> list[Block]:
    drainage = lists.drainage
    blocks: list[Block] = [heading("Drainage check")]
    if drainage.missing:
        return [*blocks, said("Not worked out. Missing:"), *(said(one, mark="-") for one in drainage.missing)]
    system: System = "metric" if lists.units == "metric" else "imperial"
    rate = rate_text(drainage.rainfall_mm_h or 0.0, system)
    storm = f", {drainage.rainfall_storm}" if drainage.rainfall_storm else ""
    blocks.append(
        said(f"{drainage.title}. Rainfall {rate}{storm}, {drainage.rainfall_by} ({drainage.rainfall}).")
    )
    blocks.append(said(f"Gutters at the shop's fall, {drainage.fall}."))
    rows = [_drained(one, system) for one in drainage.outlets]
    head = ["outlet", "roof", "flow", "gutter", "hole", "pipe", ""]
    blocks.append(table(head, rows, ["1fr", "auto", "auto", "auto", "auto", "auto", "auto"]))
    for one in drainage.outlets:
        blocks += [said(f"{one.id}: {mend.says}", mark=">") for mend in one.mends]
        blocks += [said(f"{one.id}: missing {what}", mark="?") for what in one.missing]
        blocks += [said(f"{one.id} rests on this: {what}", mark="?") for what in one.rests_on]
    blocks += [said(one, mark="~") for one in drainage.says]
    return [*blocks, said(CAUTION, size=8.5)]


def _drained(one: DrainedOutlet, system: System) -> list[str]:
    def full(part: str) -> str:
        shares = [check.full_percent for check in one.checks if check.part == part]
        known = [share for share in shares if share is not None]
        return f"{max(known)} %" if known and len(known) == len(shares) else "?"

    verdict = {True: "enough", False: "TOO MUCH", None: "not known"}[one.enough]
    area = area_text(one.area_m2, system) if one.area_m2 is not None else "?"
    flow = flow_text(one.flow_l_s, system) if one.flow_l_s is not None else "?"
    return [one.id, area, flow, full("gutter"), full("outlet"), full("downpipe"), verdict]

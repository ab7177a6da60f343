"""Words of a lettered note that measure nothing: sums, storeys, a list of its names, what stands by a run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import STRUCTURE, Item, Line
from gutterance.reading.lettered.aliases import storey_before, storey_of
from gutterance.reading.lettered.kinds import THINGS
from gutterance.reading.lettered.roles import MENTIONED

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.lettered.ring import Ring

FIXES = frozenset({"fix", "fixed", "change", "correct", "amend", "redo"})
"""Words that open a line which puts right what stands above."""
SUMS = frozenset(
    {"make", "makes", "add", "adds", "=", "equals", "total", "comes to", "between them", "closes", "equal"}
)
"""Words by which lengths are only added up."""


def without_storeys(items: list[Item], ring: Ring) -> list[Item]:
    """`upper is E + F`: the storey of the runs named behind it, noted and taken out."""
    out = list(items)
    for number, item in enumerate(items):
        if item.kind != "names":
            continue
        storey = storey_before(items, number)
        if storey is None:
            continue
        names = list(item.value)
        for other in items[number + 1 :]:
            if other.kind == "names":
                names.extend(other.value)
            elif other.kind == "break" and other.text not in ("(", ")"):
                break
        for name in names:
            ring.storeys.setdefault(name, storey)
        out = [other for other in out if not (other.start < item.start and storey_of(other) is not None)]
    return out


def without_asides(items: list[Item]) -> list[Item]:
    """The sentence without a bracket that only adds lengths up: `tot 177-0 (A+C = E ok)`."""
    opened = next((number for number, item in enumerate(items) if item.text == "("), None)
    if opened is None:
        return items
    closed = next((n for n, item in enumerate(items) if item.text == ")" and n > opened), len(items))
    inside = items[opened + 1 : closed]
    return [*items[:opened], *items[closed + 1 :]] if only_adds_up(inside) else items


def only_adds_up(items: list[Item]) -> bool:
    """`C and E make seven two hundred between them`, `A+C = E ok`: lengths that are only added up."""
    groups = [item for item in items if item.kind == "names" and item.marks["joined"] == "list"]
    if not groups or items.index(groups[0]) > 3:
        return False
    behind = items[items.index(groups[0]) + 1 : items.index(groups[0]) + 3]
    return any(item.text.lower() in SUMS for item in behind) and not any(
        item.kind in ("end", "end word", *THINGS) for item in items
    )


def only_says_so(items: list[Item]) -> bool:
    """`I've letters on the page, A to E`, `numbered 1 to 6`: only which names there are."""
    names = [item for item in items if item.kind == "names"]
    return (
        len(names) == 1
        and len(names[0].value) > 2
        and not any(
            item.kind in STRUCTURE or item.kind in ("side", "lr", "same", "storey", "part") for item in items
        )
    )


def beside_the_measuring(items: list[Item]) -> bool:
    """`low branch over F`, `a greenhouse under D and half of E`: words about what stands by a run."""
    remarked = any(item.kind == "remark" for item in items)
    measured = any(item.found is not None for item in items)
    for number, item in enumerate(items):
        before = {other.text.lower() for other in items[max(0, number - 2) : number]}
        behind = {other.text.lower() for other in items[number + 1 : number + 2]}
        if item.kind in ("side", "lr") and (remarked or behind & MENTIONED):
            continue
        if item.kind == "pipe label" and before & MENTIONED:
            continue
        if item.kind == "cue" and remarked and not measured:
            continue
        if item.kind in (*STRUCTURE - {"measure", "count"}, "side", "lr", "same", "colon", "pipe label"):
            return False
    if any(item.found is not None and item.found.kind != "other" and not _only_part(item) for item in items):
        return False
    at = next((number for number, item in enumerate(items) if item.kind == "names"), None)
    if at is None:
        return False
    words = {item.text.lower() for item in items[max(0, at - 2) : at]}
    said = any(item.kind in ("remark", "word", "part", "landmark") for item in items[:at])
    return said and bool(words & (MENTIONED | {"on", "at", "of"}))


def _only_part(item: Item) -> bool:
    """`half of E`."""
    return item.text.lower() in ("half", "a half", "one", "1/2")


def keep_remark(line: Line, items: list[Item], walk: Walk) -> None:
    """Keep the words as a remark where no word of the trade made them one."""
    about = next(item.value for item in items if item.kind == "ref")
    last = walk.remarks[-1] if walk.remarks else None
    if last is not None and last.source.line == line.number and last.source.end > items[0].start:
        if last.about != about.id:
            walk.remarks[-1] = last.model_copy(update={"about": about.id})
        kind = last.kind
    else:
        kind = "other"
    walk.remark(line, items[0].start, items[-1].end, kind, about)


def only_remark(items: list[Item]) -> bool:
    """Whether a clause is about something beside the measuring."""
    remark = next((number for number, item in enumerate(items) if item.kind == "remark"), None)
    return remark is not None and not any(
        item.kind in ("end", "outlet", "downpipe", "ends at") or (item.kind == "measure" and number < remark)
        for number, item in enumerate(items)
    )


def puts_right(items: list[Item], walk: Walk, line: int) -> None:
    """`fix A: 58-0`: the line corrects; `un-fix D and F`: what was corrected is asked about."""
    words = [item.text.lower() for item in items if item.kind not in ("filler", "break", "mark")][:2]
    if words[:1] and words[0] in FIXES:
        walk.correct_line = line
    elif words[:1] == ["un"] or (words[:1] and words[0].removeprefix("un") in FIXES):
        named = {name for item in items if item.kind == "names" for name in item.value}
        for run in walk.runs:
            length = run.fields.get("length")
            if run.place.number in named and length is not None:
                length.status, length.why = "doubtful", "a correction of it was taken back"

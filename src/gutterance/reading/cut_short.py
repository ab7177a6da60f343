"""Words cut short whose meaning the note tells: `Ext` for the extension, `SE` beside `NE`, `fr` for from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.discourse import RECTANGLE
from gutterance.reading.items import Item

if TYPE_CHECKING:
    from gutterance.reading.items import Line

EXTENSIONS = frozenset({"ext", "exten"})
"""Words for an extension that are also words for an outside corner."""
FARTHEST_LENGTH = 8
"""Within so many items behind the name of a return its length stands."""
FULL_STOP = 4
"""A break as strong as this ends a sentence."""
RETURNS = frozenset({"return", "ret", "rtn"})
"""Words for a wing behind the house, in a note that tells of its sides. Irish usage."""


MOST_ON_A_RUN = 4
"""A bare number up to this may count the downpipes of a run."""


def spell_out(lines: list[Line]) -> None:
    """Give each such word in the note its meaning, in place."""
    _parts_cut_short(lines)
    _ends_of_parts(lines)
    _ends_said_of_parts(lines)
    _from_cut_short(lines)
    _shoes_over_gullies(lines)
    _compass_corners(lines)
    _counted_downpipes(lines)


def _parts_cut_short(lines: list[Line]) -> None:
    """`Ext 2750 ...` opens a line for the extension; `return E 5.3` makes the return a part of the house."""
    returns = []
    told = False
    for line in lines:
        said = [item for item in line.items if item.kind not in ("mark", "break")]
        stops = [item.end for item in line.items if item.kind == "break" and item.strength >= FULL_STOP]
        if (
            len(said) > 1
            and said[0].text.lower().rstrip(".") in EXTENSIONS
            and said[0].kind == "end"
            and (
                said[1].kind in ("measure", "direction", "colon") or said[1].text.lower() in ("front", "back")
            )
        ):
            said[0].kind, said[0].value = "part", "extension"
        for number, item in enumerate(said):
            if item.text.lower().rstrip(".") not in RETURNS or item.kind not in ("word", "filler"):
                continue
            returns.append(item)
            follower = said[number + 1 : number + 3]
            told = told or (
                [other.kind for other in follower] in (["initial", "measure"], ["direction", "measure"])
                or _told_as_run(said, number, max((end for end in stops if end <= item.start), default=0))
            )
    if told:
        for item in returns:
            item.kind, item.value = "part", "return"


def _told_as_run(said: list[Item], number: int, begin: int) -> bool:
    """`the little return is two foot two`, `the left side of the return`: a run, and no pipe's slant."""
    before = [item.text.lower() for item in said[max(0, number - 4) : number]]
    if before[-1:] in (["left"], ["right"]) and any(item.value == "bay" for item in said[:number]):
        return False  # a side of the bay
    if before[-2:] == ["of", "the"] and any(
        item.kind in ("direction", "part") for item in said[:number][-4:]
    ):
        return True
    if any(
        item.kind in ("outlet", "downpipe", "elbow")
        for item in said[max(0, number - 8) : number]
        if item.start >= begin
    ):
        return False
    for item in said[number + 1 : number + FARTHEST_LENGTH]:
        if item.kind == "measure" and item.found is not None:
            units = {amount.unit for amount in item.found.amounts}
            return item.found.kind != "other" and (
                len(item.found.amounts) > 1 or bool(units & {"foot", "metre"})
            )
        if item.kind not in ("filler", "colon", "word", "walk", "lr", "direction", "cue"):
            return False
    return False


def _from_cut_short(lines: list[Line]) -> None:
    """`RO 400 fr R`: behind a number and before a side, `fr` is no front but `from`."""
    for line in lines:
        for before, item, after in zip(line.items, line.items[1:], line.items[2:], strict=False):
            if (
                item.text.lower() in ("fr", "frm", "fr.")
                and before.kind == "measure"
                and after.kind in ("lr", "side", "end", "corner", "far end")
            ):
                item.kind, item.text, item.term = "filler", "from", None


def _shoes_over_gullies(lines: list[Line]) -> None:
    """`shoe to gully`: the pipe ends at the gully, over which its shoe stands."""
    for line in lines:
        for item, joint, after in zip(line.items, line.items[1:], line.items[2:], strict=False):
            if (
                item.text.lower() == "shoe"
                and joint.text.lower() in ("to", "into", "over", "onto", "at")
                and after.kind == "ends at"
            ):
                item.kind = "filler"


def _ends_of_parts(lines: list[Line]) -> None:
    """`Wing end 22-4 ...` opens a line: a run of that name, wherever it is spoken of."""
    named: set[str] = set()
    for line in lines:
        said = [item for item in line.items if item.kind not in ("mark", "break")][:4]
        behind = [item for item in said[2:] if item.kind != "colon"][:1]
        if (
            len(said) > 2
            and said[0].kind == "part"
            and said[1].text.lower() == "end"
            and behind
            and behind[0].kind == "measure"
            and behind[0].found is not None
            and behind[0].found.kind != "other"
        ):
            named.add(said[0].value)
    for line in lines if named else ():
        items: list[Item] = []
        for item in line.items:
            before = items[-1] if items else None
            if before is not None and before.value in named and item.text.lower() == "end":
                whole = line.text[before.start : item.end]
                items[-1] = Item(line.number, before.start, item.end, whole, "part", f"{before.value} end")
            else:
                items.append(item)
        line.items = items


def _ends_said_of_parts(lines: list[Line]) -> None:
    """`the end of the wing is 22-4`: the run across the end of it."""
    for line in lines:
        for number in range(len(line.items) - 6, -1, -1):
            words = [item.text.lower() for item in line.items[number : number + 5]]
            part, measure = line.items[number + 3], line.items[number + 5]
            if (
                words[:3] == ["end", "of", "the"]
                and words[4] in ("is", ",", ":")
                and part.kind == "part"
                and measure.kind == "measure"
                and measure.found is not None
                and measure.found.kind != "other"
                and (number == 0 or line.items[number - 1].text.lower() in ("the", ",", "."))
                and (number < 2 or line.items[number - 2].kind != "filler")  # not `the lean-to on the end of`
            ):
                first = line.items[number]
                whole = line.text[first.start : part.end]
                named = Item(line.number, first.start, part.end, whole, "part", f"{part.value} end")
                line.items[number : number + 4] = [named]


def _compass_corners(lines: list[Line]) -> None:
    """`SE` beside `NE` is a corner of the house, no stop end; `E ... dp NE, SE`: ends of the east."""
    corners = {item.value for line in lines for item in line.items if item.kind == "compass corner"}
    if not corners:
        return
    for line in lines:
        for item in line.items:
            if item.text == "SE":
                item.kind, item.value, item.term = "compass corner", "south east", None
        said = [item for item in line.items if item.kind not in ("mark", "colon")]
        if not said or said[0].kind not in ("initial", "direction"):
            continue
        here = said[0].value
        for item in said[1:]:
            other = (
                [word for word in item.value.split() if word != here] if item.kind == "compass corner" else []
            )
            if len(other) == 1:
                item.kind, item.value = "lr", RECTANGLE[here, other[0]]


def _counted_downpipes(lines: list[Line]) -> None:
    """`2dn ends`, `1 dn ctr`: downpipes that are counted, where no height stands behind the word."""
    for line in lines:
        for number, item in enumerate(line.items[1:], start=1):
            before = line.items[number - 1]
            found = before.found
            if item.text.lower() not in ("dn", "dns", "downs") or found is None or found.kind != "bare":
                continue
            behind = next((o for o in line.items[number + 1 :] if o.kind not in ("filler", "mark")), None)
            few = (
                found.value is not None and found.value.denominator == 1 and 1 <= found.value <= MOST_ON_A_RUN
            )
            if few and len(found.amounts) == 1 and (behind is None or behind.kind != "measure"):
                item.kind, item.value, item.term = "downpipe", "downpipe", None

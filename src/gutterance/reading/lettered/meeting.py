"""Runs named as what another meets: the end toward them becomes its left or its right."""

from __future__ import annotations

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.items import Item
from gutterance.reading.lettered.joints import CORNERS
from gutterance.reading.lettered.kinds import PLACES
from gutterance.reading.lettered.ring import OpenJoint, Ring
from gutterance.reading.lettered.roles import before
from gutterance.reading.places import PlaceName

ALL_OF = {"all four": 4, "all 4": 4, "all six": 6, "all 6": 6, "all three": 3}
"""Words that say how many runs close a ring."""


def closes_here(items: list[Item], here: str | None, ring: Ring) -> None:
    """`R4 7.9 osc all four`: the first four close a ring of their own."""
    for item in items:
        count = ALL_OF.get(item.text.lower())
        if count is not None and here in ring.order and ring.order.index(here) + 1 == count:
            ring.meets[here, "left" if ring.clockwise else "right"] = ring.order[0]
            ring.meets[ring.order[0], "right" if ring.clockwise else "left"] = here


def neighbour(items: list[Item], number: int, out: list[Item], ring: Ring, here: str | None) -> None:
    """A name that is not what the clause is about: the end toward it, a run that is copied, or a mention."""
    item = items[number]
    name = item.value[0]
    role = item.marks.get("role")
    if role == "neighbour" and here is not None and here != name:
        explicit = _return_of(items, number) or _side_beside(items, number)
        if explicit is not None and not _measured_from(items, number):
            if explicit.marks.get("return"):
                # `its left return`: it meets the left end of the run that it returns from
                ring.meet(here, OPPOSITE[explicit.value], name)
                where = Item(item.line, item.start, item.end, item.text, "side", OPPOSITE[explicit.value])
                end = _end_that_meets(items, number)
                if end is not None:
                    end.marks.update(side=where, used=True)
                where.marks["used"] = True
                out.append(where)
                return
            ring.meet(here, explicit.value, name)
            with_it = _end_that_meets(items, number) or explicit
            with_it.marks.setdefault("with", []).append(item)
            out.append(Item(item.line, item.start, item.end, item.text, "filler", ""))
            return
        side = ring.side_toward(here, name)
        if side is not None:
            ring.meet(here, side, name)
        where = Item(item.line, item.start, item.end, item.text, "side", side or "named")
        where.marks["named"] = PlaceName(number=name)
        out.append(where)
        end = _end_that_meets(items, number)
        if end is not None and side is not None:
            end.marks.update(side=where, used=True)
            where.marks["used"] = True
        elif end is not None and end.value in CORNERS:
            # at one of its two ends, it is not known which
            ring.open_joints.append(OpenJoint((here, name), end.value, end))
            end.kind, where.kind = "filler", "filler"
        return
    ref = Item(item.line, item.start, item.end, item.text, "ref", PlaceName(number=name))
    ref.marks["words"] = [item.text.lower()]
    out.append(ref)


def _end_that_meets(items: list[Item], number: int) -> Item | None:
    """The corner that a name stands by: `B outside`, `IC at run 1`, `outside onto F`."""
    behind = items[number + 1] if number + 1 < len(items) else None
    last = before(items, number, over=frozenset({"filler", "mark", "walk"}))
    if last is not None and last.kind in ("end", "end word") and items[number - 1].text != "/":
        return last
    return behind if behind is not None and behind.kind in ("end", "end word") else None


def says_where_it_goes(items: list[Item], number: int) -> bool:
    """`six one hundred down the right hand side`, `out to a stop end`: no height and no overhang."""
    behind = items[number + 1 : number + 4]
    if items[number].text.lower() == "out":
        return bool(behind) and behind[0].text.lower() == "to"
    said = [item for item in behind if item.kind != "filler"]
    return items[number].value == "down" and bool(said) and said[0].kind in PLACES


def _measured_from(items: list[Item], number: int) -> bool:
    """`10-0 from A`."""
    words = [item.text.lower() for item in items[max(0, number - 2) : number]]
    return bool({"from", "off"} & set(words)) and any(
        item.kind == "measure" for item in items[max(0, number - 4) : number]
    )


def _return_of(items: list[Item], number: int) -> Item | None:
    """`its left return, osc to R5`: the side of that run which this one returns from."""
    for place, item in enumerate(items[:number]):
        if item.marks.get("return"):
            return item
        behind = items[place + 1].text.lower() if place + 1 < len(items) else ""
        if item.kind == "lr" and behind in ("return", "rtn", "return,"):
            item.marks["return"] = True
            item.marks["settled"] = True
            item.kind = "return"
            return item
    return None


def _side_beside(items: list[Item], number: int) -> Item | None:
    """A left or right told in the same few words as the run that is met there."""
    for step in (-1, 1):
        place = number + step
        while 0 <= place < len(items):
            item = items[place]
            if item.kind in ("lr", "side") and item.value in OPPOSITE:
                return item
            if item.kind in ("break", "names", "measure", "outlet", "downpipe") or (
                item.kind in ("end", "end word") and step > 0
            ):
                break
            place += step
    return None


def named_end(items: list[Item], ring: Ring, here: str | None) -> list[Item]:
    """`cap at street end (R)`, later `3 street end`: an end with a name of its own."""
    if here is None:
        return items
    out = list(items)
    for number in range(len(items) - 1):
        item, follower = items[number], items[number + 1]
        if (
            item.kind not in ("word", "filler", "landmark")
            or follower.text.lower() != "end"
            or item.text.lower() in ("the", "one", "other", "this", "each")
        ):
            continue
        word = str(item.text.lower())
        near = [
            other
            for other in items[number + 2 : number + 6]
            if other.kind in ("lr", "side") and other.value in OPPOSITE
        ]
        told = next((other.value for other in near), None)
        if told is not None:
            ring.named_ends.setdefault((here, word), told)
            out[number].kind = "filler"
        elif item.kind != "filler" or (here, word) in ring.named_ends:
            where = Item(
                item.line,
                item.start,
                follower.end,
                f"{item.text} {follower.text}",
                "side",
                ring.named_ends.get((here, word), "named"),
            )
            where.marks["named"] = PlaceName(part=word)
            out[number] = where
    return out

"""Second thoughts inside a line: `27 no wait 28`, `was 27 now 28`, `~~27~~ 28`, `28 not 27`.

The number that is taken back stays as the `was` of the one that replaces it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.items import Item

QUIET = frozenset({"filler", "fix", "was", "colon", "mark", "arrow"})
"""Kinds of items over which a correcting word reaches back."""
REPLACED = frozenset({"side", "lr", "end", "end word", "ends at"})
"""What a correcting word can replace besides a number: where a thing is, how a run or a pipe ends."""
IT_IS = frozenset({"it's", "its", "it is", "is", "that's", "thats", "it", "really", "make that"})
"""Words right before the number that holds, behind the words that say what was wrong."""
LONGEST_EXCUSE = 14
"""Such words are no more items than this."""
SAME_KIND = {
    "side": ("side", "lr"),
    "lr": ("side", "lr"),
    "end": ("end", "end word"),
    "end word": ("end", "end word"),
}
"""Kinds that can stand for one another where one replaces the other."""


def merge_corrections(items: list[Item]) -> list[Item]:
    """The items of a line with each corrected measure folded into the one that replaces it."""
    items = _strike_through(items)
    for number, item in enumerate(items[1:-1], start=1):
        if (
            item.text.lower() == "sb"
            and items[number - 1].kind == "measure"
            and items[number + 1].kind == "measure"
        ):
            # `31-5 sb 31-8`: should be, not a splash block
            item.kind = "fix"
    out: list[Item] = []
    for item in items:
        if item.kind == "measure":
            _drop_false_start(out, item)
            earlier = _taken_back(out)
            if earlier is not None and _compatible(out[earlier], item) and _says_more(out, earlier, item):
                old = out[earlier]
                item.was = [*item.was, *old.was, old]
                del out[earlier:]
            elif _denied(out):
                place = _denied_place(out)
                if place is not None:
                    out[place].was.append(item)
                    continue
        elif item.kind in REPLACED:
            earlier = _same_kind_taken_back(out, item)
            if earlier is not None:
                old = out[earlier]
                item.was = [*item.was, *old.was, old]
                del out[earlier:]
            elif _denies_what_follows(out):
                place = next((p for p in range(len(out) - 2, -1, -1) if out[p].kind == item.kind), None)
                if place is not None and len([o for o in out[place:] if o.kind != "filler"]) <= 3:
                    out[place].was.append(item)
                    continue
        out.append(item)
    return out


def _denies_what_follows(out: list[Item]) -> bool:
    """`on the right, not the left`: the side to come is one where the thing is not."""
    said = next((item for item in reversed(out) if item.text.lower() not in ("the", "on", "at")), None)
    return (
        said is not None and said.kind == "was" and said.text.lower() in ("instead of", "not", "rather than")
    )


def _same_kind_taken_back(out: list[Item], new: Item) -> int | None:
    """Where the side, end or ending stands that a correcting word just before here takes back, or None."""
    fixed = False
    for place in range(len(out) - 1, -1, -1):
        item = out[place]
        if item.kind in SAME_KIND.get(new.kind, (new.kind,)):
            return place if fixed else None
        if item.kind in ("fix", "arrow") or (
            item.kind == "no" and _plain_no(out, place) and not (new.plural and new.kind.startswith("end"))
        ):
            fixed = True  # but `four outside corners, no insides` corrects nothing
        elif item.text.lower() in IT_IS and new.kind in ("side", "lr") and _had_it(out, place):
            fixed = True
        elif item.kind == "walk" and item.text.lower() == "now":
            fixed = fixed or any(other.kind == "was" for other in out[max(0, place - 5) : place])
        elif item.kind == "break":
            if item.strength >= 4 and not fixed:
                return None
        elif item.kind not in QUIET and not _is_angle(item):
            return None
    return None


def _had_it(out: list[Item], place: int) -> bool:
    """`I had the front drop on the left, it's on the right`: before the `it's` stands what was."""
    for item in reversed(out[max(0, place - 8) : place]):
        if item.kind == "was":
            return True
        if item.kind == "break" and item.strength >= 3:
            return False
    return False


def _is_angle(item: Item) -> bool:
    """The `45s` of `inside 45s no, outside 45s`."""
    found = item.found
    return item.kind == "angle word" or (found is not None and (found.value == 45 or found.what == "angle"))


def _strike_through(items: list[Item]) -> list[Item]:
    """Measures between `~~` marks are struck: kept as the `was` of the next measure."""
    out: list[Item] = []
    struck: list[Item] = []
    inside = False
    number = 0
    while number < len(items):
        item = items[number]
        if item.text.startswith("~") and (
            item.text == "~~"
            or (number + 1 < len(items) and items[number + 1].text == "~" and item.text == "~")
        ):
            inside = not inside
            number += 1 if item.text == "~~" else 2
            continue
        if inside:
            if item.kind == "measure":
                struck.append(item)
        elif item.kind == "measure" and struck:
            item.was = struck + item.was
            struck = []
            out.append(item)
        else:
            out.append(item)
        number += 1
    if struck:
        for item in struck:
            item.marks["struck"] = True
        out += struck
    return out


def _taken_back(out: list[Item]) -> int | None:
    """The place of a measure before here that a fixing word has just taken back, or None."""
    fixed = False
    excuse = _excuse_behind_fix(out)
    for place in range(len(out) - 1, -1, -1):
        item = out[place]
        if excuse is not None and place >= excuse:
            continue
        if item.kind == "measure":
            if fixed and not item.marks.get("struck"):
                return place
            if place > 0 and _said_was(out, place):
                return place
            return None
        if (
            item.kind == "fix"
            or (item.kind == "no" and _plain_no(out, place))
            or item.text in ("→", "->", "=>")
        ):
            fixed = True
        elif (
            item.kind == "filler"
            and item.text.lower() in ("that's", "thats", "so")
            and _bare_before(out, place)
        ):
            # `forty eight and a half, that's 40 foot 8 and a half`
            fixed = True
        elif item.kind == "walk" and item.text.lower() in ("now", "then"):
            continue
        elif item.kind == "break":
            if item.strength >= 4 and not fixed:
                return None
        elif item.kind not in QUIET:
            return None
    return None


def _excuse_behind_fix(out: list[Item]) -> int | None:
    """`22 4 scratch that I had it upside down it's ...`: where the words begin that say why, or None.

    They reach from a correcting word to an `it's` right before the new number, and measure nothing.
    """
    if not out or out[-1].text.lower() not in IT_IS:
        return None
    for place in range(len(out) - 1, max(-1, len(out) - LONGEST_EXCUSE), -1):
        item = out[place]
        if item.kind == "fix":
            return place + 1
        if item.kind not in ("word", "landmark", "remark", "filler", "run noun", "lr", "unknown") and not (
            item.kind == "break" and item.strength <= 1
        ):
            return None
    return None


def _drop_false_start(out: list[Item], new: Item) -> None:
    """`Fifteen... fifteen foot nine`: a number begun, broken off, and said again in full."""
    place = len(out) - 1
    while place >= 0 and out[place].text in (".", "…", "-", "–", "—", ","):
        place -= 1
    old = out[place] if place >= 0 else None
    if (
        old is not None
        and old.kind == "measure"
        and old.found is not None
        and old.found.kind == "bare"
        and new.text.lower().startswith(old.text.lower() + " ")
    ):
        new.was = [*new.was, *old.was, old]
        del out[place:]


def _says_more(out: list[Item], earlier: int, new: Item) -> bool:
    """Where only `that's` parts two numbers, the second must tell the units, as the first did not."""
    between = out[earlier + 1 :]
    plain = any(item.kind in ("fix", "no", "was") or item.text in ("→", "->", "=>") for item in between)
    said_was = earlier > 0 and _said_was(out, earlier)
    return plain or said_was or (new.found is not None and new.found.kind == "length" and len(between) <= 3)


def _bare_before(out: list[Item], place: int) -> bool:
    """Whether a number without units stands right before, which what follows says in full."""
    before = next((item for item in reversed(out[:place]) if item.kind not in ("filler", "break")), None)
    return (
        before is not None
        and before.kind == "measure"
        and before.found is not None
        and before.found.kind == "bare"
    )


def _plain_no(out: list[Item], place: int) -> bool:
    """Whether a `no` stands alone (`nine ten no nine eight`), rather than before a thing (`no drop`).

    `none` takes nothing back: `one on the right, none left`.
    """
    if out[place].text.lower() not in ("no", "nope", "nah"):
        return False
    behind = out[place + 1 :]
    return all(item.kind in QUIET or item.kind == "break" for item in behind)


def _said_was(out: list[Item], place: int) -> bool:
    """Whether the measure at `place` is one that `was`: `was 27`, `I said 27`."""
    for item in reversed(out[:place]):
        if item.kind == "was":
            return item.text.lower() != "not"
        if item.kind != "filler":
            return False
    return False


def _denied(out: list[Item]) -> bool:
    """`28 not 27`, `36' 8" (was 38' 6")`: the number to come is one that no longer holds."""
    if not out or out[-1].kind != "was":
        return False
    before = next(
        (item for item in reversed(out[:-1]) if item.kind not in QUIET and item.kind != "break"), None
    )
    return before is not None and before.kind == "measure"


def _denied_place(out: list[Item]) -> int | None:
    """Where the number stands that a denial behind it (`28 not 27`) leaves standing, or None."""
    for place in range(len(out) - 2, -1, -1):
        if out[place].kind == "measure":
            return place
        if out[place].kind not in QUIET and out[place].kind != "break":
            return None
    return None


def _compatible(old: Item, new: Item) -> bool:
    """Whether a measure can stand for another: a pitch does not correct a length."""
    assert old.found is not None
    assert new.found is not None
    return (old.found.kind == "other") == (new.found.kind == "other")

"""Names of runs that stand together, as one item: corners `A/B`, lists `1 and 4`, ranges `A to F`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import Item

if TYPE_CHECKING:
    from collections.abc import Container, Iterable

    from gutterance.reading.items import Line
    from gutterance.reading.lettered.ring import Ring

JOINTS = frozenset({"-", "–", "—", "/", "to", "thru", "through", "and", "&", "+", ",", "with", "meets", "or"})
"""Marks and words that join names."""
OF_TWO = frozenset({"between", "where", "corner", "corners", "cnr", "mitre", "miter"})
"""Words before two names joined by `and` by which they are a corner."""
MEETING = frozenset({"meet", "meets", "join", "corner", "cnr", "mitre", "miter", "joint"})
"""Words behind two names by which they are a corner."""
ENDS = frozenset({"end", "end word", "corner"})
LITTLE = frozenset({"filler", "colon", "mark"})


def is_name(item: Item) -> bool:
    """Whether an item is the name of a run, as the note's own letters or numbers."""
    return bool(item.marks.get("lettered"))


def names_told_outside(lines: Iterable[Line], told: Container[int]) -> bool:
    """Whether lines outside the tables and forms, whose numbers are `told`, open with names of runs."""
    opened = {
        line.items[0].value
        for line in lines
        if line.number not in told and line.items and is_name(line.items[0])
    }
    return len(opened) > 1


def fold_groups(items: list[Item], text: str, ring: Ring) -> list[Item]:
    """The items with each group of names as one, its names in `value`, and how it joins them in `joined`."""
    out: list[Item] = []
    number = 0
    while number < len(items):
        if not is_name(items[number]):
            out.append(items[number])
            number += 1
            continue
        members, joints, last = _group_at(items, number)
        out.extend(_groups(items, members, joints, text, ring))
        number = last + 1
    return out


def _group_at(items: list[Item], first: int) -> tuple[list[int], list[str], int]:
    """Where the names of a group stand, what joins them, and where it ends."""
    members, joints = [first], []
    place = first
    while True:
        joint = None
        nxt = place + 1
        if nxt < len(items) and is_name(items[nxt]) and items[nxt].start <= items[place].end + 1:
            joint = "" if items[nxt].start == items[place].end else " "
            if joint == " " and not items[nxt].marks.get("signed"):
                break
        elif nxt + 1 < len(items) and items[nxt].text.lower() in JOINTS and is_name(items[nxt + 1]):
            joint = items[nxt].text.lower()
            if joint in ("/", "-", "–", "—") and items[nxt].start > items[place].end:
                joint = f" {joint}"
            nxt += 1
        elif (
            nxt + 2 < len(items)
            and items[nxt].text == ","
            and items[nxt + 1].text.lower() in ("and", "&")
            and is_name(items[nxt + 2])
        ):
            joint = "and"
            nxt += 2
        else:
            break
        if (
            joint in ("and", "&", ",")
            and items[nxt].marks.get("signed")
            and not items[place].marks.get("signed")
        ):
            break  # `outside at six and wall six is ...`
        members.append(nxt)
        joints.append(joint)
        place = nxt
    return members, joints, place


def _groups(items: list[Item], members: list[int], joints: list[str], text: str, ring: Ring) -> list[Item]:
    """The group as one item; or, where commas part what does not belong together, as several."""
    if len(members) == 1:
        return [_folded(items, members, text, "one", [items[members[0]].value])]
    names = [items[place].value for place in members]
    if len(members) == 2:
        joined = _joined(items, members, joints[0], names, ring)
        if joined == "apart":
            return _apart(items, members, text)
        values = ring.between(*names) if joined == "range" else names
        return [_folded(items, members, text, joined, values)]
    pairs = [
        (place, place + 1) for place in range(0, len(members) - 1, 2)
        if joints[place] in ("", "-", "/", "–", "to") and ring.adjacent(names[place], names[place + 1])
    ]  # fmt: skip
    if len(pairs) * 2 == len(members) and any(joint in (",", "and", "&", "+", " ") for joint in joints):
        out: list[Item] = []
        for first, second in pairs:
            out.append(
                _folded(items, [members[first], members[second]], text, "pair", names[first : second + 1])
            )
            if second < len(members) - 1:
                out.extend(items[members[second] + 1 : members[second + 1]])
        return out
    if any(joint.startswith(" ") and joint != " " for joint in joints):
        here = next(place for place, joint in enumerate(joints) if joint.startswith(" ") and joint != " ")
        return [
            *_groups(items, members[: here + 1], joints[:here], text, ring),
            *items[members[here] + 1 : members[here + 1]],
            *_groups(items, members[here + 1 :], joints[here + 1 :], text, ring),
        ]
    listed: list[str] = []
    for place, name in enumerate(names):
        if place and joints[place - 1] in ("to", "-", "–", "thru", "through"):
            listed.extend(ring.between(names[place - 1], name)[1:])
        else:
            listed.append(name)
    return [_folded(items, members, text, "list", listed)]


def _apart(items: list[Item], members: list[int], text: str) -> list[Item]:
    """Each name for itself, with what stands between."""
    first, second = members
    return [
        _folded(items, [first], text, "one", [items[first].value]),
        *items[first + 1 : second],
        _folded(items, [second], text, "one", [items[second].value]),
    ]


def _joined(items: list[Item], members: list[int], joint: str, names: list[str], ring: Ring) -> str:
    """What two names together are: a corner ('pair'), a 'list', a 'range', or 'apart'."""
    before = [item for item in items[max(0, members[0] - 3) : members[0]] if item.kind != "break"]
    behind = items[members[1] + 1 : members[1] + 4]
    said_before = {item.text.lower() for item in before}
    next_said = next(
        (item for item in behind if item.kind not in LITTLE and item.text.lower() not in ("'s", "(")), None
    )
    corner = bool(said_before & OF_TWO) or (next_said is not None and next_said.text.lower() in MEETING)
    ends_near = (next_said is not None and next_said.kind in ENDS) or any(
        item.kind in ENDS for item in before[-1:]
    )
    far = len(ring.between(*names)) > 2 and not ring.adjacent(*names)
    if joint.startswith(" ") and not (ends_near and ring.adjacent(*names)):
        return "apart"
    if joint in ("", "/", " /"):
        return "pair"
    joint = joint.strip()
    if joint in ("-", "–", "—", "to", "thru", "through"):
        if joint in ("thru", "through"):
            return "range"
        if next_said is not None and next_said.kind == "same":
            return "range"
        apart = len(ring.between(*names)) > 2 or (joint == "to" and not ends_near)
        return "range" if apart and not corner and (far or not ends_near) else "pair"
    if joint in ("meets", "with"):
        return "apart"
    if corner:
        return "pair"
    if joint == "," and _each_at_another(items, members):
        return "apart"
    if joint == ",":
        return (
            "list"
            if next_said is not None and next_said.kind not in ("break",) and not ends_near
            else "apart"
        )
    return "list"


def _each_at_another(items: list[Item], members: list[int]) -> bool:
    """`R3 at R2, R3 at R4`: the first is where the one before meets it, the second opens what follows."""
    first, second = members
    met = (
        first >= 2
        and items[first - 1].text.lower() in ("at", "to", "into", "from")
        and is_name(items[first - 2])
    )
    behind = items[second + 1 : second + 3]
    opens = len(behind) == 2 and behind[0].text.lower() in ("at", "to") and is_name(behind[1])
    return met or opens


def _folded(items: list[Item], members: list[int], text: str, joined: str, values: list[str]) -> Item:
    """The names from the first to the last of those as one item."""
    first, last = items[members[0]], items[members[-1]]
    item = Item(first.line, first.start, last.end, text[first.start : last.end], "names", tuple(values))
    item.marks.update(lettered=True, joined=joined, parts=[items[place] for place in members])
    return item

"""Other names of lettered runs (`run 2, garage`), and values said of all that share one."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.neighbours import in_context
from gutterance.reading.places import UP_OR_DOWN, PlaceName

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.reading.lettered.ring import Ring

OF_THE_HOUSE = frozenset({"house", "main", "main house", "main roof", "main block"})
"""Words for the runs that are of no part with a name of its own."""
SHARED = frozenset({"roof_pitch", "roof_run"})
"""Fields that are told of a part of the roof."""
LOW = frozenset({"lower roof", "low roof"})
"""Words for the roof below, which open what is told of its runs."""


def name_of(name: str, walk: Walk, ring: Ring) -> PlaceName:
    """A run's name, with the storey that a heading or the note has told for it."""
    place = in_context(PlaceName(number=name), walk)
    return replace(place, level=ring.storeys.get(name, place.level))


def storey_of(item: Item) -> str | None:
    """The storey that an item names: `upper`, `up`, `lower roof`."""
    if item.kind == "storey":
        return str(item.value)
    if item.kind == "ends at" and item.text.lower() in LOW:
        return "lower"
    return UP_OR_DOWN.get(item.text.lower()) if item.kind in ("word", "filler") else None


def storey_before(items: list[Item], number: int) -> str | None:
    """`upper is E + F`, `lower roof A-C`: the storey told right before names."""
    for item in reversed(items[:number]):
        if item.kind in ("filler", "colon", "mark", "walk") or item.text in ("(", "-"):
            continue
        return storey_of(item)
    return None


def note_aliases(items: list[Item], name: str, walk: Walk, ring: Ring) -> None:
    """Remember the other words by which a run is told of."""
    run = next((run for run in walk.runs if run.place.number == name), None)
    if ring.topic != "runs" or (run is not None and "length" in run.fields):
        return
    words = ring.aliases.setdefault(name, set())
    words |= {str(item.value) for item in items if item.kind == "part"}
    if walk.context is not None and walk.context.part:
        words.add(walk.context.part)


def note_sides(items: list[Item], ring: Ring) -> None:
    """`run seven is the back`: the side of the house that a run is, told right behind its name."""
    for number, item in enumerate(items):
        if not item.marks.get("lettered") or ring.topic != "runs":
            continue
        for other in items[number + 1 : number + 5]:
            if other.kind == "direction":
                ring.sides.setdefault(str(other.value), set()).add(str(item.value))
            if other.text.lower() in ("goes", "comes", "go", "come", "going", "coming"):
                break  # `goes back in`
            if other.kind not in ("filler", "colon", "mark") and other.text not in (",", "(", "-"):
                break


def heads_a_part(items: list[Item], walk: Walk) -> bool:
    """`verandah, lower`: a line that names the part and the storey of the runs below it."""
    said = [item for item in items if item.kind not in ("filler", "mark", "colon", "break")]
    part = next((str(item.value) for item in said if item.kind == "part"), None)
    storey = next((str(item.value) for item in said if item.kind == "storey"), None)
    if part is None or any(item.kind not in ("part", "storey", "run noun", "landmark") for item in said):
        return False
    walk.context = PlaceName(storey=storey, part=part)
    walk.run, walk.outlets = None, []
    for item in said:
        walk.use(item)
    return True


def name_sides(items: list[Item], ring: Ring) -> list[Item]:
    """`the back is 10-4 on the left`, where run seven was said to be the back: that run's name."""
    for number, item in enumerate(items):
        if item.kind != "direction" or item.marks.get("lettered"):
            continue
        runs = ring.sides.get(str(item.value), set())
        if len(runs) != 1 or not _opens(items, number):
            continue
        item.kind, item.value = "numbered", next(iter(runs))
        item.marks.update(lettered=True, signed=True)
    return items


def _opens(items: list[Item], number: int) -> bool:
    """Whether a side's name opens something said of it, and is not told of a letter: `A is the front`."""
    ahead = [item for item in items[:number] if item.kind not in ("filler", "mark")]
    behind = [item for item in items[number + 1 :] if item.kind not in ("filler", "mark", "colon")]
    starts = not ahead or ahead[-1].kind in ("break", "walk", "measure", "outlet", "downpipe", "ends at")
    told = any(item.marks.get("lettered") for item in items[max(0, number - 6) : number]) and (
        not ahead or (ahead[-1].kind == "break" and ahead[-1].strength < 3)
    )
    return (
        starts
        and not told
        and bool(behind)
        and behind[0].kind in ("measure", "lr", "side", "cue", "outlet", "downpipe")
    )


def said_of_alias(items: list[Item], walk: Walk, ring: Ring) -> list[tuple[list[str], list[Item]]]:
    """`house 8/12, garage 4/12`, `pitch up 9/12, low 3/12`: the runs that each value is of, with its words.

    Empty where the line says nothing of runs by their other names.
    """
    if not any(_shared_value(item) for item in items) or any(
        item.kind in ("outlet", "downpipe", "end", "side") for item in items
    ):
        return []
    cue: Item | None = None
    names: list[str] = []
    out: list[tuple[list[str], list[Item]]] = []
    told: list[Item] = []
    named = 0
    for number, item in enumerate(items):
        meant = _meant(item, walk, ring)
        if meant is not None:
            names, named = meant, named + 1
            if told and told[-1].kind == "measure" and _ends_clause(items, number):
                out.append((names, told))
                told, names = [], []
        elif item.kind == "cue":
            if item.value not in SHARED:
                return []
            cue = item
        elif item.kind == "measure":
            if told:
                out.append(([], told))
            told = [*([cue] if cue is not None else []), item]
            if names:
                out.append((names, told))
                told, names = [], []
        elif item.kind == "break" and item.strength >= 3:
            cue = None
        elif item.kind not in ("filler", "break", "mark", "colon", "landmark"):
            return []
    if told:
        out.append(([], told))
    return out if named and all(value[1] for value in out) else []


def _ends_clause(items: list[Item], number: int) -> bool:
    return number + 1 >= len(items) or items[number + 1].kind == "break"


def _shared_value(item: Item) -> bool:
    return (item.kind == "cue" and item.value in SHARED) or (
        item.found is not None and item.found.what == "pitch"
    )


def _meant(item: Item, walk: Walk, ring: Ring) -> list[str] | None:
    """The runs meant by a word: a storey, a part, or the house itself; None where it means none."""
    runs = [run for run in walk.runs if run.place.number is not None and run.has_data]
    if item.text.lower() in OF_THE_HOUSE:
        meant = [str(run.place.number) for run in runs if not ring.aliases.get(str(run.place.number))]
        return meant or None
    storey = storey_of(item)
    if storey is not None:
        return [str(run.place.number) for run in runs if run.place.level == storey] or None
    if item.kind == "part":
        return [
            str(run.place.number) for run in runs if item.value in ring.aliases.get(str(run.place.number), ())
        ] or None
    return None

"""Rows about several pipes that no cue leads: `f 9 b 11`, `24 out main 12 porch`, `eaves 16 house 12 gar`.

What such a row measures follows from its numbers, where they can be nothing else; it is asked about.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.discourse import Scope
from gutterance.reading.items import Item
from gutterance.reading.lexicon import Term
from gutterance.reading.places import PlaceName
from gutterance.reading.roles import has_feet
from gutterance.reading.said_of_all import LOCAL_ALL

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk

NAMES = frozenset({"place", "initial", "quarter", "compass corner", "house"})
"""Kinds of items that name pipes in a row."""
BETWEEN = frozenset({"break", "mark", "filler", "colon", "all"})
HOUSE_WORDS = frozenset({"hse", "house", "main house"})
"""The house itself, as against its garage."""
EAVES = frozenset({"eave", "eaves", "eve", "eves"})
"""Words for how far the wall stands back, before numbers of inches."""
LOWEST, HIGHEST = 6, 40
"""Feet from the outlet to the ground, where no word says that a number is a height."""
NARROWEST, WIDEST = 4, 48
"""Inches from wall to fascia, likewise. Common practice, no source."""
PLAIN_HEIGHT = re.compile(
    r"\d{1,2}(?:-\d{1,2}|['’′](?:\d{1,2}[\"”″]?)?| ?(?:ft|foot)(?: ?\d{1,2})?)", re.IGNORECASE
)
"""Feet, and inches it may be, with a mark for them: `9 9` may be two numbers."""
HEIGHT = Term("height", "cue", "height")
"""The word that such a row leaves out."""
FEWEST_VALUES = 2
NO_CUE = "said with no word of what it measures; taken as {} from what stands beside it"


def name_the_house(items: list[Item]) -> list[tuple[Item, str]]:
    """`wf 24 hse 12 gar`: beside a garage the house is a name. The items, and what each was before."""
    named: list[tuple[Item, str]] = []
    parts = any(
        item.kind == "place" and isinstance(item.value, PlaceName) and item.value.part is not None
        for item in items
    )
    row = all(
        item.kind in (*NAMES, *BETWEEN, "measure", "cue", "word", "run noun", "ends at") for item in items
    )
    for item in items if parts and row else ():
        if item.kind in ("filler", "word") and item.text.lower() in HOUSE_WORDS:
            named.append((item, item.kind))
            item.kind = "house"
    return named


def cue_first(items: list[Item], cues: frozenset[str]) -> list[Item]:
    """`24 oh up, 16 lo`, `2.4 down exc sth 2.7`: the same row with the cue before its first number."""
    said = [item for item in items if item.kind not in BETWEEN]
    if (
        len(said) > FEWEST_VALUES + 1
        and (said[0].kind, said[1].kind) == ("measure", "cue")
        and said[1].value in cues
        and all(item.kind in (*NAMES, "measure", "except", "lr", "side") for item in said[2:])
        and any(item.kind == "measure" for item in said[2:])
    ):
        first, cue = said[:2]
        rest = [item for item in items if item is not cue]
        at = next(number for number, item in enumerate(rest) if item is first)
        return [*rest[:at], cue, *rest[at:]]
    return items


def height_of_all(items: list[Item], walk: Walk) -> list[Item]:
    """`9 FT ALL EXC REAR 11`, below the runs: what is in feet, of all pipes, is their height."""
    said = [item for item in items if item.kind not in ("break", "mark", "filler")]
    kinds = [item.kind for item in said]
    rest = kinds[2:]
    if (
        kinds[:2] not in (["measure", "all"], ["all", "measure"])
        or not (not rest or (rest[0] == "except" and len(rest) > FEWEST_VALUES))
        or not all(kind in (*NAMES, "measure", "lr", "side") for kind in rest[1:])
        or not any(run.outlets for run in walk.runs)
        or walk.asked is not None
        or any(item.text.lower() in LOCAL_ALL for item in said[:2])
    ):
        return items
    values = [item for item in said if item.kind == "measure"]
    found = values[0].found
    if not has_feet(values[0]) and not PLAIN_HEIGHT.fullmatch(values[0].text):
        return items
    if found is None or not found.amounts or not LOWEST <= found.amounts[0].value <= HIGHEST:
        return items
    for item in values:
        item.doubts.append(NO_CUE.format("height"))
    first = values[0]
    cue = Item(first.line, first.start, first.start, "", "cue", "height", term=HEIGHT)
    at = next(number for number, item in enumerate(items) if item is said[0])
    return [*items[:at], cue, *items[at:]]


def cue_either_way(items: list[Item]) -> None:
    """`out 14`, a line of its own: a cue that else stands behind its number can only be of this one."""
    said = [item for item in items if item.kind not in BETWEEN]
    if [item.kind for item in said] == ["cue", "measure"] and said[0].term is not None:
        said[0].term = replace(said[0].term, way="both")


def hear_pair_of_all(items: list[Item], walk: Walk) -> bool:
    """`18/9-2 both` alone below the runs: how far the wall stands back, and how far down, of every pipe."""
    said = [item for item in items if item.kind not in BETWEEN]
    if len(said) != FEWEST_VALUES or any(item.kind != "measure" for item in said):
        return False
    heights = [item for item in said if PLAIN_HEIGHT.fullmatch(item.text)]
    walls = [item for item in said if _is_bare_within(item, NARROWEST, WIDEST) and not has_feet(item)]
    if len(heights) != 1 or len(walls) != 1 or not any(run.outlets for run in walk.runs):
        return False
    for name, item in (("wall_to_fascia", walls[0]), ("height", heights[0])):
        item.doubts.append(NO_CUE.format(name.replace("_", " ")))
        reading = walk.length(item, name)
        if reading is not None:
            walk.scopes.append(Scope(name, reading))
    return True


def field_without_cue(items: list[Item], walk: Walk) -> tuple[str, int] | None:
    """The field of a row of names and numbers by turns, and where it begins; None where it is none."""
    said = [number for number, item in enumerate(items) if item.kind not in BETWEEN]
    if not said:
        return None
    first = items[said[0]]
    if first.kind == "run noun" and first.text.lower() in EAVES:
        rest = [items[number] for number in said[1:]]
        values = _by_turns(rest)
        if values is not None and all(_is_bare_within(item, NARROWEST, WIDEST) for item in values):
            walk.use(first)
            return "wall_to_fascia", said[0] + 1
        return None
    values = _by_turns([items[number] for number in said]) or _of_pipes_in_turn(items, walk)
    if values is None or not all(has_feet(item) or _is_bare_within(item, LOWEST, HIGHEST) for item in values):
        return None
    if not _were_told([items[number] for number in said], walk):
        return None
    return "height", said[0]


def _of_pipes_in_turn(items: list[Item], walk: Walk) -> list[Item] | None:
    """`F 8-4 & 8-6, B 9-2 left 9-4 rt`: each run with a number for each pipe; None else."""
    values: list[Item] = []
    pipes, told = 0, 0
    for item in items:
        if item.kind in ("place", "initial"):
            direction = item.value.direction if isinstance(item.value, PlaceName) else item.value
            run = next((run for run in walk.runs if run.place.direction == direction), None)
            if told != pipes or run is None or not run.outlets:
                return None
            pipes, told = len(run.outlets), 0
        elif item.kind == "measure":
            values.append(item)
            told += 1
        elif item.kind not in (*BETWEEN, "lr", "side") or (item.kind == "break" and item.text not in ",;"):
            return None
    return values if told == pipes and len(values) >= FEWEST_VALUES and pipes else None


def _by_turns(items: list[Item]) -> list[Item] | None:
    """The numbers of a row in which each has its name, all before or all behind; None where it is none."""
    values = [item for item in items if item.kind == "measure"]
    pairs = list(zip(items[::2], items[1::2], strict=False))
    kinds = {(first.kind in NAMES, second.kind in NAMES) for first, second in pairs}
    measured = all((first.kind == "measure") != (second.kind == "measure") for first, second in pairs)
    if len(items) % 2 or len(values) < FEWEST_VALUES or len(kinds) != 1 or not measured:
        return None
    plain = all(item.found is not None and item.found.kind != "other" for item in values)
    return values if plain and kinds <= {(True, False), (False, True)} else None


def _is_bare_within(item: Item, least: int, most: int) -> bool:
    found = item.found
    return (
        found is not None
        and found.kind == "bare"
        and len(found.amounts) == 1
        and found.value is not None
        and least <= found.value <= most
    )


def _were_told(items: list[Item], walk: Walk) -> bool:
    """Whether every run named has its length by now, so that the row tells of none."""
    told = {run.place.direction for run in walk.runs if "length" in run.fields}
    parts = {run.place.part for run in walk.runs if "length" in run.fields}
    for item in items:
        name = item.value
        direction = name.direction if isinstance(name, PlaceName) else name
        part = name.part if isinstance(name, PlaceName) else None
        if item.kind == "initial" and direction not in told:
            return False
        if item.kind == "place" and (direction or part) and not (direction in told or part in parts):
            return False
    return True

"""What a column holds whose heading says nothing: judged by its cells, and by what no other column holds.

Such a judgement is a guess: its values are asked about, but for words that can be nothing else.
"""

from __future__ import annotations

import re
from statistics import median
from typing import TYPE_CHECKING

from gutterance.reading.answer_kinds import fits
from gutterance.reading.labels import Label, Meaning

if TYPE_CHECKING:
    from gutterance.reading.items import Item
    from gutterance.reading.table_columns import Column

FITTING_SHARE = 0.75
"""The share of a column's cells that must say the same kind of thing."""
FEWEST_CELLS = 2
OVERHANG = (2, 60)
"""How far [in] a fascia stands out from the wall, at least and at most."""
HEIGHT = (60, 480)
"""How high [in] a gutter hangs, at least and at most."""
SHORTEST_LENGTH = 24
"""The longest run [in] of a house is longer than this."""
MM = 25.4
IN_MM = 400
"""A bare number from here on is in millimetres."""
IN_METRES = 40
"""A bare number with a point, below this, is in metres where no inches are told."""


def settle_by_content(columns: list[Column], fields: list[Meaning | None], *, pipes: bool) -> set[int]:
    """Set what columns hold that no heading told, as guesses, and tell which; the others stay open."""
    open_ = [
        number
        for number, column in enumerate(columns)
        if fields[number] is None
        and (column.label is None or not column.label.meanings or not column.label.sure)
        and len(_filled(column)) >= FEWEST_CELLS
    ]
    held = {meaning.field for meaning in fields if meaning is not None}
    if not open_ or "run" not in held:
        return set()
    found: dict[int, str] = {}
    _by_size(columns, open_, held, found, pipes=pipes)
    _by_words(columns, open_, held, found, pipes=pipes)
    for number, field in found.items():
        column = columns[number]
        fields[number] = Meaning(field, "run", sure=False)
        column.label = Label(column.heading, (Meaning(field, "run", sure=False),), column.unit)
    return set(found)


def _filled(column: Column) -> list[object]:
    return [answer for answer in column.answers if not (answer.is_empty or answer.is_ditto)]


def _by_size(
    columns: list[Column], open_: list[int], held: set[str], found: dict[int, str], *, pipes: bool
) -> None:
    """Columns of tape lengths: the run's is the longest, the height comes next, the overhang is the least."""
    sized = {number: sizes for number in open_ if (sizes := _sizes(columns[number]))}
    wanted = [field for field in ("wall_to_fascia", "height", "length") if field not in held]
    if pipes and "length" in wanted:
        wanted.remove("length")
    for number in sorted(sized, key=lambda one: median(sized[one])):
        sizes = sized[number]
        for field in list(wanted):
            if _may_be(field, sizes):
                later = [other for other in sized if other not in found and other != number]
                if field == "height" and "length" in wanted and not later and max(sizes) > HEIGHT[1] / 2:
                    continue  # the only one left, and longer than a wall is high
                found[number] = field
                wanted.remove(field)
                break


def _may_be(field: str, sizes: list[float]) -> bool:
    """Whether lengths [in] of that size may be told of it."""
    if field == "length":
        return max(sizes) >= SHORTEST_LENGTH
    low, high = OVERHANG if field == "wall_to_fascia" else HEIGHT
    return all(low <= size <= high for size in sizes)


def _sizes(column: Column) -> list[float] | None:
    """The lengths [in] of a column, roughly; None where its cells are something else."""
    filled = [answer for answer in column.answers if not (answer.is_empty or answer.is_ditto)]
    told = [answer for answer in filled if answer.measures and not answer.of("ends at", "end", "outlet")]
    if len(told) < FITTING_SHARE * len(filled) or len(told) < FEWEST_CELLS:
        return None
    sizes = [rough_inches(item) for answer in told for item in answer.measures]
    if all(size <= FEWEST_CELLS for size in sizes):
        return None  # counts
    return sizes


def rough_inches(item: Item) -> float:
    """About how long [in] a number is as a length, by its unit or else by its size and its spelling."""
    assert item.found is not None
    amounts = item.found.amounts
    first = amounts[0]
    value = float(first.value)
    if first.unit in ("foot",) or (len(amounts) > 1 and first.unit is None):
        return value * 12
    if first.unit in ("millimetre", "centimetre", "metre"):
        return value * {"millimetre": 1, "centimetre": 10, "metre": 1000}[first.unit] / MM
    if first.unit is None and value >= IN_MM:
        return value / MM
    if first.unit is None and first.shape == "decimal" and value < IN_METRES:
        return value * 1000 / MM
    return value


def _by_words(
    columns: list[Column],
    open_: list[int],
    held: set[str],
    found: dict[int, str],
    *,
    pipes: bool,
) -> None:
    """Columns of words: ends, sides, where water goes, remarks."""
    for number in open_:
        if number in found:
            continue
        taken = held | set(found.values())
        field = _of_words(columns[number], taken, pipes=pipes)
        if field is not None:
            found[number] = field


def _of_words(
    column: Column,
    taken: set[str],
    *,
    pipes: bool,
) -> str | None:
    def share(*names: str) -> float:
        filled = [answer for answer in column.answers if not (answer.is_empty or answer.is_ditto)]
        return sum(any(fits(name, answer) for name in names) for answer in filled) / max(1, len(filled))

    def strict(*kinds: str) -> float:
        filled = [answer for answer in column.answers if not (answer.is_empty or answer.is_ditto)]
        return sum(bool(answer.of(*kinds)) for answer in filled) / max(1, len(filled))

    if (
        not pipes
        and strict("end", "end word") >= FITTING_SHARE / 2
        and share("left", "ends") >= FITTING_SHARE
    ):
        pairs = sum(bool(re.search(r"\S\s*[/,;&+-]\s*\S", answer.text)) for answer in column.answers)
        if pairs >= FITTING_SHARE * len(_filled(column)) and not taken & {"left", "right", "ends", "start"}:
            return "ends"
        for one, other in (("left", "right"), ("right", "left")):
            if one not in taken and (other in taken or one == "left") and "ends" not in taken:
                return one
        return None
    if (
        strict("ends at") >= FITTING_SHARE / 2
        and share("ends_at") >= FITTING_SHARE
        and "ends_at" not in taken
    ):
        return "ends_at"
    if strict("lr", "side") >= FITTING_SHARE and not taken & {"outlet", "at"}:
        return "outlet"
    words = sum(len(answer.plain.split()) > 2 for answer in column.answers if not answer.is_empty)
    if words >= FITTING_SHARE * len(_filled(column)) and "note" not in taken:
        return "note"
    return None

"""Guards by principle: what makes a value of any note weak, whatever its words are.

`caution` knows ways in which notes of the corpus were misheard. These rules know none: they hold a value
against the words around it and against the other values. A value on weak ground is asked about.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import Length
from gutterance.reading.shaky_runs import shaky_runs
from gutterance.reading.unexplained import beside_unexplained
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.sheet.models import Reading, Sheet, Source

FARTHEST_CORRECTION = Fraction(2)
"""A correction that makes a length more than so many times as long, or as short, may be of something else."""
BEFORE_A_THING = frozenset({"onto", "on", "into", "to", "over", "by", "off", "behind", "under", "near"})
"""Words before a stuff that is not the gutter's colour: `down onto stone`."""
DENIES = frozenset({"no", "not", "isn't", "isnt", "without", "never"})
"""Words that deny what follows."""
NEAR_DENIAL = 3
"""Within so many items a denied thing follows."""


def doubt_weak_ground(lines: list[Line], walk: Walk, sheet: Sheet) -> None:
    """Make the values on weak ground doubtful, in place."""
    shaky = shaky_runs(lines, walk)
    beside = beside_unexplained(lines, walk, sheet)
    by_number = {line.number: line for line in lines}
    run_of = {outlet.id: outlet.run for outlet in sheet.outlets}
    parts = {draft.place.id for draft in walk.runs if draft.place.part is not None}
    for path, reading in sheet.readings():
        if reading.status not in CERTAIN or reading.value is None:
            continue
        group, _, rest = path.partition(".")
        name, _, field = rest.partition(".")
        run = name if group == "runs" else run_of.get(name)
        why = shaky.get(run) if run is not None else None
        if why is None and path in beside:
            why = f"{beside[path]!r} beside it is not known"
        if why is None:
            why = _corrected_too_far(reading) or _said_of_all_ends(reading, run, field, parts)
        if why is None and reading.source:
            why = _denied_or_no_colour(field or name, reading.source[0], by_number)
        if why is not None:
            reading.status = "doubtful"
            reading.why = f"{why}; {reading.why}" if reading.why else why


def _corrected_too_far(reading: Reading[Any]) -> str | None:
    """`9 foot 4 ... no, eighteen inches`: a correction corrects a slip; this may be another thing's value."""
    before = reading.was[-1].value if reading.was else None
    if not isinstance(before, Length) or not isinstance(reading.value, Length) or not before.inches:
        return None
    times = reading.value.inches / before.inches
    if Fraction(1) / FARTHEST_CORRECTION <= times <= FARTHEST_CORRECTION:
        return None
    return f"{before.tape_text()} was said before it, which is far from it: is it of the same thing?"


def _said_of_all_ends(reading: Reading[Any], run: str | None, field: str, parts: set[str]) -> str | None:
    """`outside corners on all four`: the house's corners, and those of its porch and bay too?"""
    if run not in parts or not field.endswith("_end"):
        return None
    return "is this of the house alone?" if (reading.why or "").startswith("said of all") else None


def _denied_or_no_colour(field: str, said: Source, lines: dict[int, Line]) -> str | None:
    """`there's no gully there` ends no pipe, `down onto stone` paints no gutter."""
    if field not in ("ends_at", "colour"):
        return None
    line = lines.get(said.line)
    at = next((n for n, i in enumerate(line.items) if i.start == said.start), 0) if line is not None else 0
    before: list[Item] = line.items[max(0, at - NEAR_DENIAL) : at] if line is not None else []
    if field == "ends_at":
        denied = next((i for i in before if i.kind == "no" or i.text.lower() in DENIES), None)
        return f"{denied.text!r} stands before it" if denied is not None else None
    if before and before[-1].text.lower() in BEFORE_A_THING:
        return f"{before[-1].text!r} stands before it: is it the gutter's colour?"
    return None

"""How findings name things: short plain English that a measurer reads on a phone."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.house import House
    from gutterance.sheet.models import Downpipe, Outlet, Run

_NUMBERED = re.compile(r"(?:run|wall|eave|section|piece|side|bay)?[ -]?(?:\d+|[a-z])\Z", re.IGNORECASE)
_BARE_SIDES = frozenset({"left", "right", "north", "south", "east", "west"})

FIELD_WORDS = {
    "length": "length",
    "left_end": "left end",
    "right_end": "right end",
    "left_angle": "left corner angle",
    "right_angle": "right corner angle",
    "roof_run": "roof run",
    "roof_pitch": "roof pitch",
    "gutter_profile": "gutter profile",
    "gutter_size": "gutter size",
    "material": "material",
    "thickness": "thickness",
    "colour": "colour",
    "downpipe_size": "downpipe size",
    "hanger_spacing": "hanger spacing",
    "rainfall": "rainfall",
    "fascia": "fascia",
    "high_point": "high point",
    "place": "place",
    "distance": "distance",
    "size": "size",
    "wall_to_fascia": "wall to fascia",
    "height": "height",
    "ends_at": "end",
    "offsets": "offset",
    "offset_heights": "height of the offset",
    "offset_ways": "way of the offset",
    "from_mark": "mark it is measured from",
}
"""A field's name as a tradesperson says it."""

INCH_FIELDS = frozenset(
    {"wall_to_fascia", "distance", "offsets", "hanger_spacing", "gutter_size", "thickness"}
)
"""The fields whose lengths are said in inches, without feet."""


def of_run(run: Run) -> str:
    """A run as a sentence names it: `the front`, `the left side`, `run 3`.

    A second run of one name, numbered by its id, is told with the id: `the back (back-2)`.
    """
    name = run.name.strip() or run.id
    number = re.search(r"-(\d+)\Z", run.id)
    if number and number[1] not in name:
        return f"the {name} ({run.id})"
    if _NUMBERED.match(name):
        return name if len(name) > 2 else f"run {name}"
    if name.lower() in _BARE_SIDES:
        name = f"{name} side"
    return name if name.lower().startswith("the ") else f"the {name}"


def of_runs(runs: Sequence[Run], most: int = 6) -> str:
    """Several runs: `the front, the back and the left side`, or the first few and how many more."""
    return listed([of_run(run) for run in runs], most)


def of_outlet(outlet: Outlet, house: House) -> str:
    """An outlet by its place: `the outlet at the left end of the front`."""
    return f"the outlet {_place(outlet, house)}"


def of_pipe(pipe: Downpipe, house: House) -> str:
    """A downpipe by its outlet's place: `the downpipe at the left end of the front`, else by its id."""
    outlet = house.outlet_of.get(pipe.outlet or "")
    if outlet is None or len(house.pipes_at.get(outlet.id, [])) > 1:
        return f"downpipe {pipe.id}"
    return f"the downpipe {_place(outlet, house)}"


def short_pipe(pipe: Downpipe, house: House) -> str:
    """A downpipe in the fewest words, for a list: `front left`, else its id."""
    outlet = house.outlet_of.get(pipe.outlet or "")
    run = None if outlet is None else house.run(outlet.run)
    if outlet is None or run is None or outlet.from_ is None or len(house.pipes_at.get(outlet.id, [])) > 1:
        return pipe.id
    alike = house.outlets_alike[outlet.run, outlet.from_]
    return pipe.id if alike > 1 else f"{run.name.strip() or run.id} {outlet.from_}"


def _place(outlet: Outlet, house: House) -> str:
    run = house.run(outlet.run)
    where = of_run(run) if run is not None else repr(outlet.run)
    distance = outlet.distance.value if outlet.distance is not None else None
    if outlet.from_ is None:
        return f"{outlet.id} on {where}"
    if distance is not None:
        end = "middle" if outlet.from_ == "centre" else f"{outlet.from_} end"
        return f"{inches_shown(distance)} from the {end} of {where}"
    if house.outlets_alike[outlet.run, outlet.from_] > 1:
        return f"{outlet.id} on {where}"
    if outlet.from_ == "centre":
        return f"in the middle of {where}"
    return f"at the {outlet.from_} end of {where}"


def of_path(path: str, field: str, part: Run | Outlet | Downpipe | None, house: House) -> str:
    """A value as a sentence names it: `the length of the back`, `the gutter size`."""
    from gutterance.sheet.models import Downpipe, Outlet, Run

    words = FIELD_WORDS.get(field, field.replace("_", " "))
    if isinstance(part, Run):
        return f"the {words} of {of_run(part)}"
    if isinstance(part, Outlet) and field == "into":
        return f"what takes the water from {of_outlet(part, house)}"
    if isinstance(part, Outlet):
        return f"the {words} of {of_outlet(part, house)}"
    if isinstance(part, Downpipe):
        return f"the {words} of {of_pipe(part, house)}"
    if path.startswith("totals."):
        return f"the stated {'gutter length' if field == 'gutter length' else f'number of {field}'}"
    return f"the {words}"


def named(path: str, house: House) -> str:
    """The value at a path of a run, an outlet or a downpipe, as a sentence names it; else the path itself.

    Unlike `of_path`, for values that nobody has said yet too.
    """
    group, _, rest = path.partition(".")
    part_id, _, field = rest.rpartition(".")
    parts: dict[str, Sequence[Run | Outlet | Downpipe]] = {
        "runs": house.sheet.runs,
        "outlets": house.sheet.outlets,
        "downpipes": house.sheet.downpipes,
    }
    part = next((one for one in parts.get(group, ()) if one.id == part_id), None)
    return path if part is None else of_path(path, field, part, house)


def shown(value: Any, field: str = "") -> str:
    """A value as it is written on paper: lengths as a tape shows them, the rest as it is."""
    if isinstance(value, Length):
        return inches_shown(value) if field in INCH_FIELDS else value.tape_text()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)


_ALWAYS_INCHES = 48
"""Below this [in] a distance is said in inches alone, as on the read-back."""


def inches_shown(length: Length) -> str:
    """A length that is said in inches as long as it is short: `24"`, or `610 mm`; from 4 ft on `14' 0"`."""
    return length.inch_text() if abs(length.inches) < _ALWAYS_INCHES else length.tape_text()


def unit_words(house: House, inches_only: bool = False) -> str:
    """The unit an answer is wanted in: `in feet and inches`."""
    if house.metric:
        return "in millimetres"
    return "in inches" if inches_only else "in feet and inches"


def listed(names: Sequence[str], most: int = 6) -> str:
    """`a`, `a and b`, `a, b and c`; a long list is cut with the number left over."""
    if len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def either(values: Sequence[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    return " or ".join([", ".join(values[:-1]), values[-1]]) if len(values) > 1 else "".join(values)


def start(sentence: str) -> str:
    """The sentence with a capital first letter."""
    return sentence[:1].upper() + sentence[1:]

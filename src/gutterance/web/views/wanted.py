"""What answer a value wants: an example to type, and the few words there are to choose from."""

from __future__ import annotations

from typing import get_args

from gutterance.sheet.values import End, EndsAt, Place
from gutterance.web.views.sheet import field_of

_EXAMPLES = {
    "length": "42-6",
    "height": "9-4",
    "wall_to_fascia": "24",
    "left_end": "outside corner",
    "right_end": "end cap",
    "place": "left",
    "distance": "6",
    "ends_at": "splash block",
    "gutter_size": "5",
    "gutter_profile": "K-style",
    "downpipe_size": "2x3",
    "size": "2x3",
    "colour": "white",
    "material": "aluminium",
    "roof_pitch": "6/12",
    "rainfall": "4 in/h",
    "hanger_spacing": "24",
    "offsets": "14",
}
_METRIC = {
    "length": "12.95 m",
    "height": "2850",
    "wall_to_fascia": "610",
    "distance": "150",
    "offsets": "350",
    "hanger_spacing": "600",
    "gutter_size": "125",
}


_CHOICES: dict[str, tuple[str, ...]] = {
    "left_end": get_args(End),
    "right_end": get_args(End),
    "place": get_args(Place),
    "ends_at": get_args(EndsAt),
}


def choices(path: str) -> tuple[str, ...]:
    """The words a value is chosen from; empty where it is measured or free.

    >>> choices("outlets.back-1.place")
    ('left', 'right', 'centre')
    """
    return _CHOICES.get(field_of(path), ())


def example(path: str, *, metric: bool) -> str:
    """An answer to a question about a path, as it might be typed; empty where only a choice can settle it.

    >>> example("runs.back.length", metric=False), example("runs.back.length", metric=True)
    ('42-6', '12.95 m')
    """
    field = field_of(path)
    known = _METRIC.get(field) if metric else None
    return known or _EXAMPLES.get(field, "90" if field.endswith("_angle") else "")

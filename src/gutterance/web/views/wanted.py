"""An example of the answer that a value wants."""

from __future__ import annotations

from gutterance.sheet.paths import field_of

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


def example(path: str, *, metric: bool) -> str:
    """An answer to a question about a path, as it might be typed; empty where only a choice can settle it.

    >>> example("runs.back.length", metric=False), example("runs.back.length", metric=True)
    ('42-6', '12.95 m')
    """
    field = field_of(path)
    known = _METRIC.get(field) if metric else None
    return known or _EXAMPLES.get(field, "90" if field.endswith("_angle") else "")

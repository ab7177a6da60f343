"""The trade's letters and signs by slot, as data: loaded from `signs.toml` and checked."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from gutterance.reading.lexicon import END_VALUES

SLOTS = {
    "name": None,
    "side": frozenset({"left", "right", "centre", "both", "front", "back", "north", "south", "east", "west"}),
    "end": frozenset(END_VALUES),
    "pipe": frozenset({"downpipe"}),
    "cue": frozenset({"height", "wall_to_fascia"}),
    "ending": frozenset(
        {"splash block", "drain", "ground", "barrel", "lower roof", "drain box", "lower gutter"}
    ),
    "none": frozenset({"no outlet"}),
    "same": frozenset({"same"}),
    "all": frozenset({"all"}),
    "except": frozenset({"except"}),
    "to": frozenset({"to"}),
}
"""The slots of a row, and what may be said in each; None where the value says its own kind."""
KINDS_OF_NAMES = frozenset({"direction", "part", "storey", "house"})


class SignsError(ValueError):
    """A file of signs that cannot be used; the message names the file and the row."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a sign means in its slot. `why` is there where others use it otherwise: then it is asked about."""

    value: str
    why: str | None = None
    angle: int | None = None


@cache
def built_in_signs() -> dict[str, dict[str, Meaning]]:
    """The meanings of each sign by its slot."""
    text = resources.files(__package__).joinpath("signs.toml").read_text(encoding="utf-8")
    return signs_from_toml(text, "signs.toml")


def signs_from_toml(text: str, name: str) -> dict[str, dict[str, Meaning]]:
    """Read the [[sign]] tables of a text. Raises SignsError naming the one that is wrong."""
    found: dict[str, dict[str, Meaning]] = {}
    for number, row in enumerate(tomllib.loads(text).get("sign", []), start=1):
        slot, value, words = row.get("slot"), row.get("value"), row.get("words")
        where = f"{name}, sign {number}"
        if slot not in SLOTS:
            raise SignsError(f"{where}: {slot!r} is no slot; one of: {', '.join(SLOTS)}")
        allowed = SLOTS[slot]
        if allowed is None:
            kind = str(value).split(": ")[0]
            if kind not in KINDS_OF_NAMES or ": " not in str(value):
                raise SignsError(f"{where}: a name is said as 'part: garage', not {value!r}")
        elif value not in allowed:
            raise SignsError(f"{where}: {value!r} is not said there; one of: {', '.join(sorted(allowed))}")
        if not isinstance(words, list) or not words or not all(isinstance(word, str) for word in words):
            raise SignsError(f"{where}: 'words' must be a list of words")
        for word in words:
            slots = found.setdefault(word, {})
            if slot in slots:
                raise SignsError(f"{where}: {word!r} stands twice in the slot {slot!r}")
            slots[slot] = Meaning(value, row.get("why"))
    return found

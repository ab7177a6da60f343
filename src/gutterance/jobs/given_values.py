"""A value given for a place on the sheet in the words of the trade: read, or refused with a reason."""

from __future__ import annotations

import contextlib
import difflib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pydantic import ValidationError

from gutterance.jobs.errors import NotThere, Unusable
from gutterance.render.readback import shown_value
from gutterance.sheet.amendments import TAKEN_OUT, file_value, of_note, text_at
from gutterance.sheet.paths import find_place, paths_that_can_be_amended

if TYPE_CHECKING:
    from gutterance.sheet.models import Reading, Sheet
    from gutterance.sheet.paths import Place

_EXAMPLES = {
    "length": "42-6",
    "height": "9-4",
    "wall_to_fascia": "24",
    "left_end": "outside corner",
    "right_end": "end cap",
    "place": "left",
    "ends_at": "splash block",
    "colour": "white",
}


@dataclass(frozen=True, slots=True)
class GivenValue:
    """A value as an amendment holds it, how it is shown, how it was read, and what the note says there."""

    path: str
    value: str
    shown: str
    how: str
    was: str | None


def given_value(sheet: Sheet, path: str, said: str, told: str | None = None) -> GivenValue:
    """What was `said` for `path`, on the sheet as it stands. `told` is what refusals call the place.

    Raises NotThere for a path that leads nowhere, with those most like it, and Unusable for words that cannot
    stand there or that leave room.
    """
    place = the_place(sheet, path)
    if not said.strip():
        raise Unusable("nothing was given", "type the value")
    field = path.rpartition(".")[2]
    if place.kind in ("part", "unread"):
        if said.strip().lower() not in (TAKEN_OUT, "nothing"):
            raise Unusable(
                f"{path} is a whole part", f"'{TAKEN_OUT}' takes it off; else name one value of it"
            )
        return GivenValue(path, TAKEN_OUT, "taken off the sheet", "", note_says(place))
    if place.kind == "text":
        return GivenValue(path, said.strip(), said.strip(), "", note_says(place))
    reading = _reading(sheet, place, path, said, told or path)
    how = reading.why or ""
    return GivenValue(
        path, file_value(reading.value), shown_value(reading.value, field), how, note_says(place)
    )


def the_place(sheet: Sheet, path: str) -> Place:
    """The place on the sheet that a path names. Raises NotThere, naming the paths most like it."""
    place = find_place(sheet, path)
    if place is not None:
        return place
    near = difflib.get_close_matches(path, list(paths_that_can_be_amended(sheet)), n=3)
    mend = f"did you mean {' or '.join(near)}?" if near else "look at the sheet as it is now"
    raise NotThere(f"the sheet has nothing at {path}", mend)


def note_says(place: Place) -> str | None:
    """What the note itself says at a place, as files hold it."""
    if place.kind != "reading":
        return text_at(place)
    reading = None if place.reading is None else of_note(place.reading)
    return None if reading is None or reading.value is None else file_value(reading.value)


def _reading(sheet: Sheet, place: Place, path: str, said: str, told: str) -> Reading[object]:
    from gutterance.reading.answers import read_answer

    answers = read_answer(said, [path], metric=sheet.defaults.units == "metric")
    if len(answers) != 1 or answers[0].reading.status != "read":
        with contextlib.suppress(ValidationError):
            return place.reading_of(said.strip())
    if not answers:
        example = _EXAMPLES.get(path.rpartition(".")[2], "24")
        raise Unusable(
            f"“{said.strip()}” cannot be {told}", f"say it as you would in a note, as in “{example}”"
        )
    reading = next((answer.reading for answer in answers if answer.path == path), answers[0].reading)
    if len(answers) > 1:
        rest = ", ".join(answer.path for answer in answers if answer.path != path)
        raise Unusable(f"“{said.strip()}” also says {rest}", "change each by itself")
    if reading.status != "read":
        others = [shown_value(other.value, path.rpartition(".")[2]) for other in reading.could_be]
        room = f" (or {' or '.join(others)})" if others else ""
        raise Unusable(f"“{said.strip()}” leaves room{room}: {reading.why}", "say it exactly")
    return reading

"""`gutterance amend` and `history`: corrections kept beside the sheet, each with who, when and why."""

from __future__ import annotations

import contextlib
import difflib
from datetime import datetime
from typing import TYPE_CHECKING

from pydantic import ValidationError

from gutterance.cli.refusals import Refusal
from gutterance.measure.length import Length, LengthTextError
from gutterance.render.plain import harmless, heading, page, wrapped
from gutterance.render.readback import shown_value
from gutterance.sheet.amendments import (
    TAKEN_OUT,
    Amendment,
    apply_amendments,
    file_value,
    of_note,
    standing,
    text_at,
)
from gutterance.sheet.paths import find_place, paths_that_can_be_amended

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.sheet.models import Sheet
    from gutterance.sheet.paths import Place

NOTHING = "nothing"


def now() -> str:
    """The time an amendment is made, with its offset, to the microsecond: so that their order stays told."""
    return datetime.now().astimezone().isoformat()


def amendment_of(sheet: Sheet, path: str, said: str, by: str, why: str, name: str) -> Amendment:
    """The amendment that puts what was `said` at `path`, on the sheet as it stands.

    Raises Refusal for a path that leads nowhere, with those most like it; for words that cannot stand there;
    and for words that themselves leave room.
    """
    place = find_place(sheet, path)
    if place is None:
        near = difflib.get_close_matches(path, list(paths_that_can_be_amended(sheet)), n=3)
        mend = (
            f"did you mean {' or '.join(near)}?"
            if near
            else "`gutterance explain` lists the paths there are; what is new is added to the note"
        )
        raise Refusal(f"{name} has nothing at {path} to amend: {mend}")
    value = _value(sheet, place, path, said)
    return Amendment(path=path, value=value, by=by, when=now(), why=why, was=note_says(place), said=said)


def withdrawal_of(amendments: Sequence[Amendment], path: str, by: str, why: str, name: str) -> Amendment:
    """The withdrawal of the last amendment that stands at `path`. Raises Refusal where none does."""
    if not any(one.path == path for one in standing(amendments)):
        raise Refusal(f"{name} has no amendment of {path} to withdraw: `gutterance history` lists them")
    return Amendment(path=path, value=None, by=by, when=now(), why=why)


def note_says(place: Place) -> str | None:
    """What the note itself says at a place, as files hold it."""
    if place.kind != "reading":
        return text_at(place)
    reading = None if place.reading is None else of_note(place.reading)
    return None if reading is None or reading.value is None else file_value(reading.value)


def _value(sheet: Sheet, place: Place, path: str, said: str) -> str:
    from gutterance.reading.answers import read_answer

    if place.kind in ("part", "unread"):
        if said.strip().lower() in (TAKEN_OUT, NOTHING):
            return TAKEN_OUT
        raise Refusal(f"{path} is a whole part: '{TAKEN_OUT}' takes it off; else name one value of it")
    if place.kind == "text":
        return said.strip()
    answers = read_answer(said, [path], metric=sheet.defaults.units == "metric")
    if len(answers) != 1 or answers[0].reading.status != "read":
        with contextlib.suppress(ValidationError):
            return file_value(place.reading_of(said.strip()).value)
    if not answers:
        raise Refusal(f"{said!r} cannot be {path}: say it as you would in a note, as in {_example(path)!r}")
    reading = next((answer.reading for answer in answers if answer.path == path), answers[0].reading)
    if len(answers) > 1:
        rest = ", ".join(answer.path for answer in answers if answer.path != path)
        raise Refusal(f"{said!r} also says {rest}: amend each by itself")
    if reading.status != "read":
        others = " or ".join(shown_value(other.value, path.rpartition(".")[2]) for other in reading.could_be)
        raise Refusal(
            f"{said!r} leaves room{f' (or {others})' if others else ''}: {reading.why}; say it exactly"
        )
    return file_value(reading.value)


def _example(path: str) -> str:
    field = path.rpartition(".")[2]
    examples = {
        "length": "42-6",
        "height": "9-4",
        "wall_to_fascia": "24",
        "left_end": "outside corner",
        "right_end": "end cap",
        "place": "left",
        "ends_at": "splash block",
    }
    return examples.get(field, "white" if field == "colour" else "24")


def told(one: Amendment) -> str:
    """An amendment in one line: `runs.back.length: 42' 6" (the note says nothing)`."""
    field = one.path.rpartition(".")[2]
    was = "the note says nothing" if one.was is None else f"the note says {value_shown(one.was, field)}"
    return f"{one.path}: {value_shown(one.value, field)} ({was})"


def value_shown(value: str | None, field: str) -> str:
    """A value as files hold it, for people."""
    if value is None:
        return NOTHING
    try:
        return shown_value(Length.from_file_text(value), field)
    except LengthTextError:
        return harmless(value)


def history_text(sheet: Sheet, amendments: Sequence[Amendment], path: str | None) -> str:
    """Every amendment in its order, who, when and why; those withdrawn, and those that no longer fit."""
    lines = heading("HISTORY", sheet.title)
    shown = [one for one in amendments if path is None or one.path == path or one.path.startswith(f"{path}.")]
    if not shown:
        return page([*lines, "No amendments: everything stands as the note says it."])
    stand = {id(one) for one in standing(amendments)}
    odd = {id(one.amendment): one for one in apply_amendments(sheet, amendments).misfits}
    for one in shown:
        field = one.path.rpartition(".")[2]
        if one.value is None:
            lines += wrapped(f"{_when(one)}  {one.by}: withdraws the amendment of {one.path}", "", "    ")
        else:
            last = [other for other in shown if other.path == one.path and other.value is not None]
            state = (
                ""
                if last[-1] is one and id(one) in stand
                else "  (withdrawn)"
                if id(one) not in stand
                else "  (amended again since)"
            )
            was = "nothing" if one.was is None else value_shown(one.was, field)
            says = f"{one.path}: {value_shown(one.value, field)}, where the note says {was}{state}"
            lines += wrapped(f"{_when(one)}  {harmless(one.by)}: {says}", "", "    ")
            if one.said is not None and one.said != one.value:
                lines += wrapped(f"said: “{harmless(one.said)}”", "    ", "      ")
        if one.why:
            lines += wrapped(f"why: {harmless(one.why)}", "    ", "      ")
        if id(one) in odd:
            lines += wrapped("does not fit the sheet any more: see `gutterance check`", "    ", "      ")
    return page(lines)


def _when(one: Amendment) -> str:
    return one.when[:16].replace("T", " ")

"""What one more line of a note added to the sheet, read back in a line or two."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.render.plain import harmless
from gutterance.render.readback import SIGNS, shown_value

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.sheet.models import Reading, Sheet, Source

_WORDS = {
    "left_end": "left",
    "right_end": "right",
    "left_angle": "left corner turns",
    "right_angle": "right corner turns",
    "length": "",
    "wall_to_fascia": "wall to fascia",
    "ends_at": "to",
    "place": "outlet",
    "distance": "at",
}
_MEANS = {"doubtful": "in doubt", "missing": "missing", "inferred": "worked out", "assumed": "assumed"}


def said_back(before: Sheet, after: Sheet) -> list[str]:
    """The values that are new or changed, part by part; what was taken away; what was not understood."""
    old = dict(before.readings())
    new = dict(after.readings())
    names = _names(after)
    parts: dict[str, list[str]] = {}
    for path, reading in new.items():
        was = old.get(path)
        if was is not None and was.value == reading.value and was.status == reading.status:
            continue
        part, _, field = path.rpartition(".")
        if field.isdecimal():
            part, _, field = part.rpartition(".")
        parts.setdefault(names.get(part, part.partition(".")[0]), []).append(_value(field, reading, was))
    known = {run.id for run in before.runs}
    for run in after.runs:
        if run.id not in known:
            parts.setdefault(names[f"runs.{run.id}"], [])
    lines = [f"{name}  {', '.join(words)}".rstrip() for name, words in parts.items()]
    lines += _gone(before, after)
    lines += _unread(before, after)
    told = {remark.text for remark in before.remarks}
    lines += [f"{one.kind}: {harmless(one.text)}" for one in after.remarks if one.text not in told]
    return lines


def _gone(before: Sheet, after: Sheet) -> Iterator[str]:
    """What is on the sheet no more, part by part: a whole run by its name, of other parts what was said."""
    left = dict(after.readings())
    stays = {f"runs.{run.id}" for run in after.runs}
    names = _names(before)
    parts: dict[str, list[str]] = {}
    for run in before.runs:
        if f"runs.{run.id}" not in stays:
            parts[names[f"runs.{run.id}"]] = []
    whole = set(parts)
    for path, reading in before.readings():
        if path in left:
            continue
        part, _, field = path.rpartition(".")
        if field.isdecimal():
            part, _, field = part.rpartition(".")
        name = names.get(part, part.partition(".")[0])
        if name not in whole:
            parts.setdefault(name, []).append(_value(field, reading, None))
    for name, words in parts.items():
        yield f"{name}  no longer on the sheet" + (f": {', '.join(words)}" if words else "")


def statements(sheet: Sheet, only: int | None = None) -> dict[int, list[tuple[str, str]]]:
    """For each line of the note (from 1): what it put on the sheet, a short statement a part, and its status.

    `only` names one line, where no other is wanted. The status of a statement is that of its weakest value;
    `unread` for words that found no place, `remark` for what is said but not measured.
    """
    names = _names(sheet)
    parts: dict[int, dict[str, list[tuple[str, str]]]] = {}
    for path, reading in sheet.readings():
        lines = dict.fromkeys(words.line for words in _words_of(reading))
        if only is not None and only not in lines:
            continue
        part, _, field = path.rpartition(".")
        if field.isdecimal():
            part, _, field = part.rpartition(".")
        name = names.get(part, part.partition(".")[0])
        for line in lines:
            status = "missing" if reading.value is None else reading.status
            parts.setdefault(line, {}).setdefault(name, []).append((_value(field, reading, None), status))
    for run in sheet.runs:
        for line in {words.line for words in run.source}:
            parts.setdefault(line, {}).setdefault(names[f"runs.{run.id}"], [])
    said = {
        line: [
            (f"{name}  {', '.join(text for text, _ in values)}".rstrip(), _weakest(values))
            for name, values in of_line.items()
        ]
        for line, of_line in parts.items()
    }
    for one in sheet.unread:
        said.setdefault(one.source.line, []).append(
            (f"NOT READ: “{harmless(one.text)}” ({one.why})", "unread")
        )
    for remark in sheet.remarks:
        said.setdefault(remark.source.line, []).append((f"{remark.kind}: {harmless(remark.text)}", "remark"))
    return said


def _words_of(reading: Reading[Any]) -> list[Source]:
    """The words a value came from; of one put right since, those that it was first said in."""
    while not reading.source and reading.was:
        reading = reading.was[0]
    return reading.source


def _weakest(values: list[tuple[str, str]]) -> str:
    order = ("missing", "doubtful", "inferred", "assumed", "corrected")
    found = {status for _, status in values}
    return next((status for status in order if status in found), "read")


def _names(sheet: Sheet) -> dict[str, str]:
    """Each part as a heading: a run by its name, an outlet and its pipe by their run."""
    names = {"defaults": "WHOLE JOB", "totals": "TOTAL"}
    for run in sheet.runs:
        names[f"runs.{run.id}"] = harmless(run.name).upper()
    run_of = {outlet.id: outlet.run for outlet in sheet.outlets}
    for outlet in sheet.outlets:
        names[f"outlets.{outlet.id}"] = _at(sheet, outlet.run)
    for pipe in sheet.downpipes:
        names[f"downpipes.{pipe.id}"] = _at(sheet, run_of.get(pipe.outlet or "", pipe.id))
    return names


def _at(sheet: Sheet, run_id: str) -> str:
    run = sheet.run(run_id)
    return harmless(run.name if run is not None else run_id).upper()


def _value(field: str, reading: Reading[Any], was: Reading[Any] | None) -> str:
    word = _WORDS.get(field, field.replace("_", " "))
    if reading.value is None:
        return f"{word} {_MEANS.get(reading.status, reading.status)} {SIGNS.get(reading.status, '')}".strip()
    text = f"{word} {shown_value(reading.value, field)}".strip()
    if reading.status in _MEANS:
        text += f" {SIGNS[reading.status]} {_MEANS[reading.status]}"
    if was is not None and was.value is not None and was.value != reading.value:
        text += f" (was {shown_value(was.value, field)})"
    return text


def _unread(before: Sheet, after: Sheet) -> Iterator[str]:
    known = {(one.source.line, one.source.start) for one in before.unread}
    for one in after.unread:
        if (one.source.line, one.source.start) not in known:
            yield f"NOT READ: “{harmless(one.text)}” ({one.why})"

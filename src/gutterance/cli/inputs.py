"""What a command is given: a note where a note is wanted, a field sheet where a sheet is wanted."""

from __future__ import annotations

import difflib
import json
from typing import TYPE_CHECKING, Any

from gutterance.cli.json_places import line_of
from gutterance.cli.refusals import Refusal
from gutterance.notes import Note, NoteError, decode_note, decode_text, read_bytes, walk_round
from gutterance.notes.opening import name_of
from gutterance.sheet.models import SHEET_FORMAT, Sheet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

    from gutterance.reading.own_words import OwnWords

SHEET_LIMIT = 50_000_000
"""The largest sheet taken [bytes]: every value carries its words, so a sheet is larger than its note."""

_KINDS = {"gutterance-sheet": "a field sheet", "gutterance-lists": "a crew's lists"}


def open_notes_to_read(paths: Sequence[str]) -> Note:
    """The notes at `paths` as one walk-round, in that order. Each is refused as `open_note_to_read` would."""
    return walk_round([open_note_to_read(path) for path in paths])


def open_note_to_read(path: str) -> Note:
    """The note at `path` (`-`: standard input). A sheet or other JSON in its place is refused by name."""
    data = read_bytes(path)
    name = name_of(path)
    note = decode_note(data, name)
    start = note.text.lstrip()[:1]
    if start in ("{", "["):
        try:
            found = json.loads(note.text)
        except (ValueError, RecursionError):
            return note
        kind = _kind_of(found)
        if kind == "a field sheet":
            raise Refusal(
                f"{name} is a field sheet, not a note: give it to `gutterance check` or `gutterance lists`"
            )
        raise Refusal(
            f"{name} is {kind or 'JSON'}, not a note: give the note itself, plain text of what was said"
        )
    return note


def open_sheet_or_notes(paths: Sequence[str], own: OwnWords | None = None) -> Sheet:
    """One field sheet, or the notes of one walk-round read (with the shop's own words) into one.

    Raises Refusal for anything else.
    """
    from gutterance.cli import work

    if len(paths) == 1 and paths[0] != "-" and _looks_like_sheet(paths[0]):
        return open_sheet(paths[0])
    if paths == ["-"]:
        return _sheet_or_note_given(own)
    return work.sheet_of(open_notes_to_read(paths), own)


def _looks_like_sheet(path: str) -> bool:
    """Whether a file says of itself, or by its name and its first sign, that it is a sheet."""
    data = read_bytes(path, limit=SHEET_LIMIT).lstrip(b"\xef\xbb\xbf \t\r\n")
    return data[:1] == b"{" and b'"gutterance-' in data


def _sheet_or_note_given(own: OwnWords | None) -> Sheet:
    from gutterance.cli import work

    data = read_bytes("-", limit=SHEET_LIMIT)
    name = name_of("-")
    if data.lstrip()[:1] == b"{" and b'"gutterance-' in data:
        return sheet_from(json.loads(decode_text(data, name, limit=SHEET_LIMIT).text), name)
    return work.sheet_of(decode_note(data, name), own)


def open_sheet(path: str) -> Sheet:
    """The field sheet at `path` (`-`: standard input).

    Raises Refusal for what is no sheet, naming the file, the place in it, and the nearest right spelling.
    """
    name = name_of(path)
    data = read_bytes(path, limit=SHEET_LIMIT)
    try:
        text = decode_text(data, name, limit=SHEET_LIMIT).text
    except NoteError as error:
        raise Refusal(
            str(error).replace("write or paste the note into it", "make the sheet with `gutterance read`")
        ) from error
    try:
        found = json.loads(text)
    except RecursionError as error:
        raise Refusal(
            f"{name} is nested too deeply for a field sheet: make it again with `gutterance read`"
        ) from error
    except json.JSONDecodeError as error:
        if text.lstrip()[:1] not in ("{", "["):
            raise Refusal(
                f"{name} is not a field sheet; if it is a note, read it first: "
                f"gutterance read {path} --out sheet.json (or do all at once with `gutterance run`)"
            ) from error
        raise Refusal(
            f"{name}, line {error.lineno}, column {error.colno}: broken JSON ({error.msg}): "
            "mend it there, or make the sheet again with `gutterance read`"
        ) from error
    kind = _kind_of(found)
    if kind != "a field sheet":
        raise Refusal(
            f'{name} is {kind or "JSON, but"} not a field sheet (its "format" must be "{SHEET_FORMAT}"): '
            "make one with `gutterance read NOTE --out sheet.json`"
            if kind is None
            else f"{name} is {kind}, not a field sheet: give the sheet it was made from"
        )
    return sheet_from(found, name, text)


def sheet_from(found: Any, name: str, text: str = "") -> Sheet:
    """The field sheet in plain data from JSON. Raises Refusal, naming file, line in its `text`, and mend."""
    from pydantic import ValidationError

    try:
        return Sheet.model_validate(found)
    except ValidationError as error:
        fault, where = _first_fault(error, found)
        line = f", line {line_of(text, where)}" if "\n" in text.strip() else ""
        raise Refusal(f"{name}{line}: {fault}") from error


def _kind_of(found: Any) -> str | None:
    form = found.get("format") if isinstance(found, dict) else None
    if not isinstance(form, str):
        return None
    return next((kind for start, kind in _KINDS.items() if form.startswith(start)), None)


def _first_fault(error: ValidationError, found: Any) -> tuple[str, tuple[int | str, ...]]:
    """The fault to mend first, in words, and where it is."""
    faults = error.errors()
    # An unknown field is the plainest to mend, and often the cause of the others.
    first = next((fault for fault in faults if fault["type"] == "extra_forbidden"), faults[0])
    where, what = _place(first["loc"], found), _what(first)
    more = len(faults) - 1
    rest = f" ({more} more {'fault' if more == 1 else 'faults'} after this one)" if more else ""
    return f"{where}: {what}{rest}", first["loc"]


def _place(location: tuple[int | str, ...], found: Any) -> str:
    words: list[str] = []
    at = found
    for step in location:
        if isinstance(at, list) and isinstance(step, int) and step < len(at):
            at = at[step]
            named = at.get("id") or at.get("what") if isinstance(at, dict) else None
            words.append(str(named or step + 1))
        elif isinstance(at, dict):
            at = at.get(step)
            words.append(str(step))
        # further steps name the model that was tried, not a place in the file
    return ".".join(words) or "the sheet"


def _what(fault: ErrorDetails) -> str:
    if fault["type"] == "extra_forbidden":
        field = str(fault["loc"][-1])
        near = difflib.get_close_matches(field, _all_fields(), n=1)
        mend = (
            f"did you mean '{near[0]}'?"
            if near
            else "take it out; `gutterance schema` lists the fields there are"
        )
        return f"unknown field '{field}': {mend}"
    if fault["type"] == "missing":
        return "this field is not there: add it; `gutterance schema` says what it holds"
    message = fault["msg"].removeprefix("Value error, ")
    message = message[:1].lower() + message[1:]
    given = fault.get("input")
    if isinstance(given, str | int | float) and repr(given) not in message:
        message += f", not {given!r}"
    return message


def _all_fields() -> list[str]:
    from gutterance.sheet import models

    parts = (models.Sheet, models.Defaults, models.Run, models.Outlet, models.Downpipe, models.Reading,
             models.Source, models.Total, models.Remark, models.Unread)  # fmt: skip
    return sorted({field.alias or name for part in parts for name, field in part.model_fields.items()})

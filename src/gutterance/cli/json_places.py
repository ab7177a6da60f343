"""Where in a JSON file's text a value stands, so that a fault can be told by its line."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_BLANK = re.compile(r"[ \t\r\n]*")


def line_of(text: str, steps: Sequence[int | str]) -> int:
    """The line [from 1] of the value that `steps` (keys, and places in lists) lead to in sound JSON.

    Steps that lead nowhere are left out, so that a missing field is looked for where it should be.

    >>> line_of('{"runs": [\\n {"id": "front"},\\n {"id": "back"}]}', ["runs", 1, "id"])
    3
    """
    at = _after_blank(text, 0)
    for step in steps:
        found = _in_list(text, at, step) if isinstance(step, int) else _in_object(text, at, step)
        if found is None:
            break
        at = found
    return text.count("\n", 0, at) + 1


def _in_list(text: str, at: int, number: int) -> int | None:
    if text[at] != "[":
        return None
    at = _after_blank(text, at + 1)
    for _ in range(number):
        at = _after_value(text, at)
        if text[at] != ",":
            return None
        at = _after_blank(text, at + 1)
    return None if text[at] == "]" else at


def _in_object(text: str, at: int, wanted: str) -> int | None:
    if text[at] != "{":
        return None
    at = _after_blank(text, at + 1)
    while text[at] == '"':
        key, end = json.JSONDecoder().raw_decode(text, at)
        at = _after_blank(text, _after_blank(text, end) + 1)
        if key == wanted:
            return at
        at = _after_value(text, at)
        if text[at] == ",":
            at = _after_blank(text, at + 1)
    return None


def _after_value(text: str, at: int) -> int:
    return _after_blank(text, json.JSONDecoder().raw_decode(text, at)[1])


def _after_blank(text: str, at: int) -> int:
    match = _BLANK.match(text, at)
    return match.end() if match else at

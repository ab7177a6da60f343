"""The tape reader alone: each length in a phrase, with its words and its exact inches."""

from __future__ import annotations

import json
import os
import sys
from typing import TYPE_CHECKING, cast

from gutterance.cli.showing import put
from gutterance.measure.length import decimal_or_mixed
from gutterance.measure.tape import FieldKind, LengthReading, read_lengths

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence


def phrase_of(words: Sequence[str]) -> str:
    """Words of the command line as one phrase.

    Where the shell's character set is narrower than what was typed, Python keeps the bytes it could not read
    as stand-ins. They are put right here, for a lost `½` would be a wrong length.
    """
    phrase = " ".join(words)
    try:
        phrase.encode("utf-8")
    except UnicodeEncodeError:
        return _decoded(os.fsencode(phrase))
    return phrase


def phrases_from_standard_input() -> Iterator[str]:
    """One phrase a line, as they come."""
    for raw in sys.stdin.buffer:
        yield _decoded(raw).removeprefix("\ufeff").rstrip("\r\n")


def _decoded(raw: bytes) -> str:
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw.decode("cp1252", "replace")


def write_lengths(phrases: Iterable[str], field: str, *, metric: bool, as_json: bool) -> int:
    """Write each phrase's lengths as they are read; how many were found in all.

    `field` is what a number without a unit answers: run, height, wall-to-fascia, offset or none.
    """
    kind = cast("FieldKind", field.replace("-", " "))
    found = 0
    for phrase in phrases:
        lengths = read_lengths(phrase, kind, metric=metric)
        found += len(lengths)
        if as_json:
            answer = json.dumps([as_data(length) for length in lengths], ensure_ascii=False)
        else:
            answer = "\n".join([phrase, *(f"  {line}" for length in lengths for line in _lines(length))])
            answer += "" if lengths else "\n  no length"
        if not put(answer + "\n"):
            break
    return found


def as_data(length: LengthReading) -> dict[str, object]:
    """A length for `--json`: its words and their place, exact inches, as a tape shows it, its doubts."""
    return {
        "text": length.text,
        "start": length.start,
        "end": length.end,
        "inches": str(length.length.inches),
        "shown": length.length.tape_text(),
        "doubts": list(length.doubts),
    }


def _lines(reading: LengthReading) -> Iterator[str]:
    length = reading.length
    exact = f"{length.inches} in = {decimal_or_mixed(length.mm)} mm"
    yield f'{length.tape_text():<14} {exact:<32} from "{reading.text}"'
    if reading.why:
        yield f"    {reading.why}"
    for doubt in reading.doubts:
        yield f"    ask: {doubt}"
    if reading.doubts:
        for other, why in reading.could_be:
            yield f"    or {other.tape_text()}: {why}"

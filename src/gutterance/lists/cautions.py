"""The dangers a job's papers name: the note's own hazards first, then the usual ones with their source."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from pydantic import ValidationError

from gutterance.lists.models import Caution

if TYPE_CHECKING:
    from gutterance.sheet.models import Sheet

CAUTIONS_FILE = "cautions.toml"


class CautionsError(ValueError):
    """The cautions file cannot be used; the message names the file and the row."""


def read_cautions(text: str, name: str = CAUTIONS_FILE) -> list[Caution]:
    """Read a cautions file: `[[cautions]]` rows with `says` and `source`. Raises CautionsError."""
    try:
        rows = tomllib.loads(text).get("cautions", [])
    except tomllib.TOMLDecodeError as error:
        raise CautionsError(f"{name}: not TOML that can be read: {error}") from None
    out = []
    for number, row in enumerate(rows, start=1):
        try:
            caution = Caution.model_validate(row)
        except ValidationError as error:
            field = ".".join(str(part) for part in error.errors()[0]["loc"])
            raise CautionsError(f"{name}, row {number}: {field}: {error.errors()[0]['msg']}") from None
        if not caution.source:
            raise CautionsError(
                f"{name}, row {number}: no source: name the rule, or write 'common practice, no source'"
            )
        out.append(caution)
    return out


@cache
def usual_cautions() -> tuple[Caution, ...]:
    """The cautions shipped with the program."""
    return tuple(read_cautions((files("gutterance.lists") / CAUTIONS_FILE).read_text(encoding="utf-8")))


def cautions_for(sheet: Sheet) -> list[Caution]:
    """The note's own hazards, each with where it is, then the usual ones."""
    own = [
        Caution(says=one.text, about=one.about, source=f"the note, {one.source.where()}")
        for one in sheet.remarks
        if one.kind == "hazard"
    ]
    return [*own, *usual_cautions()]

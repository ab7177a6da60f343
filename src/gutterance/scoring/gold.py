"""Gold sheets: what a careful office person would put down for a note. The format is `corpus/README.md`."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from gutterance.measure.length import Length
from gutterance.sheet.values import End, EndsAt, Place, RemarkKind, TotalOf, Units

if TYPE_CHECKING:
    from pathlib import Path

NOTE_ENDINGS = (".txt", ".md", ".srt", ".vtt", ".json")
_MARKED = re.compile(
    r"""(?P<sign>-)?(?:(?P<feet>\d+(?:\.\d+)?)')?\s*
        (?:(?:(?P<whole>\d+(?:\.\d+)?)(?:\s+|(?=")))?(?:(?P<num>\d+)/(?P<den>[1-9]\d*))?")?""",
    re.VERBOSE,
)
_UNITED = re.compile(r"(?P<amount>\d+(?:\.\d+)?|\d+/[1-9]\d*|\d+ \d+/[1-9]\d*)\s*(?P<unit>mm|cm|m|in|ft)")
_MM = {"mm": 1, "cm": 10, "m": 1000}
_INCHES = {"in": 1, "ft": 12}


class GoldError(ValueError):
    """A gold sheet that does not follow the format: says which file, where, and what was expected."""


class _Gold(BaseModel):
    model_config = ConfigDict(extra="forbid", populate_by_name=True)


class GoldDefaults(_Gold):
    """What the note says of the whole job."""

    gutter_profile: str | None = None
    gutter_size: str | None = None
    material: str | None = None
    thickness: str | None = None
    colour: str | None = None
    downpipe_size: str | None = None
    hanger_spacing: str | None = None
    roof_pitch: str | None = None
    rainfall: str | None = None
    units: Units | None = None


class GoldRun(_Gold):
    """What the note says of one run."""

    name: str | None = None
    storey: str | None = None
    length: str | None = None
    left_end: End | None = None
    right_end: End | None = None
    left_angle: float | None = None
    right_angle: float | None = None
    roof_run: str | None = None
    roof_pitch: str | None = None
    gutter_size: str | None = None
    colour: str | None = None
    next_run: str | None = None
    fascia: str | None = None
    hanger_spacing: str | None = None
    high_point: str | None = None


class GoldOutlet(_Gold):
    """One outlet, named by its run and place."""

    run: str
    from_: Place | None = Field(default=None, alias="from")
    distance: str | None = None
    size: str | None = None


class GoldDownpipe(_Gold):
    """One downpipe, named by its outlet's run and place."""

    run: str
    from_: Place | None = Field(default=None, alias="from")
    distance: str | None = None
    wall_to_fascia: str | None = None
    height: str | None = None
    ends_at: EndsAt | None = None
    size: str | None = None
    offsets: list[str] | None = None
    from_mark: str | None = None


class GoldRemark(_Gold):
    """Words of the note that somebody must see."""

    kind: RemarkKind
    about: str | None = None
    words: str


class Gold(_Gold):
    """A whole gold sheet."""

    voice: str
    title: str | None = None
    defaults: GoldDefaults = Field(default_factory=GoldDefaults)
    runs: dict[str, GoldRun] = Field(default_factory=dict)
    outlets: list[GoldOutlet] = Field(default_factory=list)
    downpipes: list[GoldDownpipe] = Field(default_factory=list)
    totals: dict[TotalOf, int | str] = Field(default_factory=dict)
    remarks: list[GoldRemark] = Field(default_factory=list)
    ask: list[str] = Field(default_factory=list)
    not_measurements: list[str] = Field(default_factory=list)
    said: dict[str, str] = Field(default_factory=dict)


def gold_length(text: str) -> Length:
    r"""A length as gold writes it: `42' 6"`, `24"`, `9' 4 1/2"`, `3200 mm`, `3.2 m`, `5 in`.

    Gold has one strict spelling, read here and not by the tape reader, so that a slip of the reader cannot
    excuse itself. Raises GoldError for anything else.

    >>> gold_length("9' 4 1/2\"").inches
    Fraction(225, 2)
    >>> gold_length("3.2 m").mm
    Fraction(3200, 1)
    >>> gold_length("42-6")
    Traceback (most recent call last):
    gutterance.scoring.gold.GoldError: '42-6' is not a length as gold writes it: like 42' 6", 24" or 3200 mm
    """
    plain = text.strip()
    united = _UNITED.fullmatch(plain)
    if united:
        amount = sum((Fraction(part) for part in united["amount"].split()), Fraction(0))
        if united["unit"] in _MM:
            return Length.from_mm(amount * _MM[united["unit"]])
        return Length(amount * _INCHES[united["unit"]])
    marked = _MARKED.fullmatch(plain)
    if not marked or not any(sign.isdigit() for sign in plain):
        raise GoldError(f'{text!r} is not a length as gold writes it: like 42\' 6", 24" or 3200 mm')
    inches = Fraction(marked["feet"] or 0) * 12 + Fraction(marked["whole"] or 0)
    if marked["num"]:
        inches += Fraction(int(marked["num"]), int(marked["den"]))
    return Length(-inches if marked["sign"] else inches)


def load_gold(path: Path) -> Gold:
    """The gold sheet at `path`. Raises GoldError, naming file and place, where it breaks the format."""
    try:
        data: Any = json.loads(path.read_text(encoding="utf-8"))
        return Gold.model_validate(data)
    except OSError as error:
        raise GoldError(f"{path} cannot be read ({error.strerror}): write the note's gold there") from error
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise GoldError(f"{path}, {where}: {first['msg']} (the format is corpus/README.md)") from error
    except ValueError as error:
        raise GoldError(f"{path}: {error}: mend the JSON") from error


def corpus_notes(folder: Path) -> list[tuple[Path, Path]]:
    """The notes of a corpus folder with their gold, in order of name; not those in folders within it.

    Raises GoldError where the folder is missing or holds no note with gold.
    """
    if not folder.is_dir():
        raise GoldError(f"{folder} is not a folder: give the folder that holds the notes and their gold")
    pairs: list[tuple[Path, Path]] = []
    for note in sorted(folder.iterdir()):
        gold = note.with_name(f"{note.name.removesuffix(note.suffix)}.gold.json")
        if note.suffix in NOTE_ENDINGS and gold.exists():
            pairs.append((note, gold))
    if not pairs:
        raise GoldError(
            f"{folder} holds no note with its gold (NAME.gold.json beside NAME.txt, .md, .srt, .vtt or .json)"
        )
    return pairs

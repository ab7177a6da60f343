"""Recorded scores, kept beside the corpus so that a change of the reader shows what it gained and lost."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from gutterance.scoring.gold import GoldError
from gutterance.whole_files import write_files

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.scoring.marks import CorpusScore

RECORDS = "scores.json"


def load_records(folder: Path) -> list[dict[str, Any]]:
    """The scores recorded in that corpus folder, oldest first. Raises GoldError where the file is damaged."""
    path = folder / RECORDS
    if not path.exists():
        return []
    try:
        records = json.loads(path.read_text(encoding="utf-8"))
    except ValueError as error:
        raise GoldError(f"{path}: {error}: mend it, or move it away to start again") from error
    if not isinstance(records, list) or not all(isinstance(record, dict) for record in records):
        raise GoldError(f"{path} is not a list of records: mend it, or move it away to start again")
    return records


def add_record(
    folder: Path, *, version: str, day: str, seen: CorpusScore, held: CorpusScore | None = None
) -> dict[str, Any]:
    """Add a score to the corpus's records: written aside, then put in place, so that none is half written."""
    record: dict[str, Any] = {"day": day, "version": version, **seen.as_dict()}
    if held is not None:
        record["held"] = held.total.as_dict()
    records = [*load_records(folder), record]
    write_files({folder / RECORDS: (json.dumps(records, indent=1) + "\n").encode()})
    return record

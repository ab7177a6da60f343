"""A whole corpus read, checked and marked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.notes import open_note
from gutterance.scoring.gold import GoldError, corpus_notes, load_gold
from gutterance.scoring.scorer import score_note

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from gutterance.scoring.marks import Score

HELD = "held"
"""The folder within a corpus whose notes are looked at only to score."""


def score_corpus(folder: Path) -> Iterator[Score]:
    """Read each note of `folder`, check it, and mark it against its gold.

    Raises GoldError for broken gold, NoteError for a note that cannot be read.
    """
    from gutterance.checking import check_sheet
    from gutterance.reading import read_note

    for note_path, gold_path in corpus_notes(folder):
        gold = load_gold(gold_path)
        note = open_note(note_path)
        sheet = read_note(note)
        try:
            yield score_note(gold, sheet, check_sheet(sheet), note=note_path.stem)
        except GoldError as error:
            raise GoldError(f"{gold_path}: {error}") from error

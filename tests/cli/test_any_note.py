"""The whole way, for notes of every voice and for their words shaken up: no crash, and the promises kept."""

from __future__ import annotations

import random
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from gutterance.checking import HOLDING, check_sheet
from gutterance.cli.explaining import paths_of, trace
from gutterance.lists import make_lists
from gutterance.reading import read_note
from gutterance.render.text import (
    cut_list,
    downpipe_list,
    findings_text,
    hardware_list,
    install_sheet,
    read_back,
)
from gutterance.sheet.models import Sheet
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from collections.abc import Sequence

CORPUS = Path(__file__).parents[2] / "corpus"
NOTES = {path.stem: path.read_text(encoding="utf-8").splitlines() for path in sorted(CORPUS.glob("*.txt"))}
WORDS = " ".join(line for lines in NOTES.values() for line in lines).split()


def the_whole_way(lines: Sequence[str]) -> None:
    """Read, check, lay out and print; then hold the result to what it must keep whatever the note said."""
    shop = load_shop(None)
    sheet = read_note(lines)
    kept = sheet.model_dump_json(by_alias=True, exclude_none=True)
    assert Sheet.model_validate_json(kept) == sheet, "a sheet comes back from its file as it went"
    findings = check_sheet(sheet)
    lists = make_lists(sheet, findings, shop)

    held = {path for found in findings if found.kind in HOLDING for path in found.holds}
    for piece in lists.pieces:
        if f"runs.{piece.run}" in held:
            assert piece.hold, f"{piece.id} rests on an open question"
        assert not (piece.hold and piece.id in lists.machine_order)
        assert piece.hold or (piece.back and piece.front and piece.coil), f"{piece.id} has no length to cut"
    for pipe in lists.downpipes:
        if f"downpipes.{pipe.id}" in held:
            assert pipe.hold, f"{pipe.id} rests on an open question"
        assert pipe.hold or pipe.wall_pipe, f"{pipe.id} has no length to cut"

    papers = [read_back(sheet), findings_text(findings), cut_list(lists, shop), downpipe_list(lists, shop)]
    papers += [install_sheet(lists, shop), hardware_list(lists, shop)]
    assert all(papers)
    for path, reading in sheet.readings():
        traced = "\n".join(trace(path, reading, sheet.note))
        assert "no such words there" not in traced, "every value leads to words that stand in the note"
        if reading.status in ("doubtful", "missing"):
            assert any(found.about == path for found in findings), f"{path} is open and nobody asks"
    assert all(value for _, value in paths_of(sheet, lists))


@pytest.mark.parametrize("name", NOTES)
def test_every_note_of_the_corpus_goes_the_whole_way(name: str) -> None:
    the_whole_way(NOTES[name])


@pytest.mark.parametrize("seed", range(60))
def test_the_corpus_shaken_up_goes_the_whole_way(seed: int) -> None:
    chance = random.Random(seed)
    the_whole_way(
        [" ".join(chance.choices(WORDS, k=chance.randint(0, 25))) for _ in range(chance.randint(0, 10))]
    )

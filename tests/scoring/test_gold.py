"""Gold as it is written: strict, so that a slip in it is found and not scored."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest

from gutterance.notes import open_note
from gutterance.scoring.gold import NOTE_ENDINGS, GoldError, corpus_notes, gold_length, load_gold
from gutterance.scoring.marks import CorpusScore
from gutterance.scoring.records import add_record, load_records

CORPUS = Path(__file__).parents[2] / "corpus"


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("42' 6\"", 510),
        ('24"', 24),
        ("9' 4 1/2\"", Fraction(225, 2)),
        ('1/2"', Fraction(1, 2)),
        ("12'", 144),
        ("58.5'", 702),
        ("5 in", 5),
        ("254 mm", 10),  # 25.4 mm to the inch, exactly: NIST SP 811, appendix B
        ("2.54 m", 100),
        ("12.7 cm", 5),
    ],
)
def test_gold_lengths_are_exact(text: str, inches: Fraction | int) -> None:
    assert gold_length(text).inches == inches


@pytest.mark.parametrize(
    "text", ["", "42-6", "42", '"', "'", "42' 6", '1/0"', "about 40'", "3,2 m", "4' 1/2 in"]
)
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(GoldError, match="not a length as gold writes it"):
        gold_length(text)


def test_broken_gold_is_named_with_its_place(tmp_path: Path) -> None:
    path = tmp_path / "a.gold.json"
    path.write_text(json.dumps({"voice": "x", "runs": {"front": {"lenght": "4'"}}}))
    with pytest.raises(GoldError, match=r"a\.gold\.json, runs\.front\.lenght"):
        load_gold(path)
    path.write_text("{")
    with pytest.raises(GoldError, match="mend the JSON"):
        load_gold(path)


def test_notes_and_gold_are_found_in_order_and_held_ones_are_left(tmp_path: Path) -> None:
    for name in ("b", "a", "held/c"):
        note = tmp_path / f"{name}.txt"
        note.parent.mkdir(exist_ok=True)
        note.write_text("Front 42-6")
        (note.parent / f"{note.stem}.gold.json").write_text('{"voice": "x"}')
    assert [note.name for note, _ in corpus_notes(tmp_path)] == ["a.txt", "b.txt"]
    with pytest.raises(GoldError, match="is not a folder"):
        corpus_notes(tmp_path / "none")
    (tmp_path / "empty").mkdir()
    with pytest.raises(GoldError, match="holds no note"):
        corpus_notes(tmp_path / "empty")


def test_every_gold_sheet_of_the_corpus_follows_its_format() -> None:
    for path in sorted(CORPUS.rglob("*.gold.json")):
        gold = load_gold(path)
        lengths = [run.length for run in gold.runs.values()] + [outlet.distance for outlet in gold.outlets]
        for pipe in gold.downpipes:
            lengths += [pipe.height, pipe.wall_to_fascia, pipe.distance, *(pipe.offsets or [])]
        for length in filter(None, lengths):
            gold_length(length)
        note = next(
            note for ending in NOTE_ENDINGS if (note := path.with_name(path.name[:-10] + ending)).exists()
        )
        words = open_note(note).text.casefold()
        for not_one in gold.not_measurements:
            assert not_one.casefold() in words, f"{path.name}: the note does not say {not_one!r}"
        for part in [*gold.outlets, *gold.downpipes]:
            assert part.run in gold.runs, f"{path.name}: no run {part.run!r}"


def test_records_are_kept_in_order_and_damage_is_told(tmp_path: Path) -> None:
    assert load_records(tmp_path) == []
    add_record(tmp_path, version="0.1.0", day="2026-01-02", seen=CorpusScore())
    add_record(tmp_path, version="0.1.1", day="2026-01-03", seen=CorpusScore(), held=CorpusScore())
    assert [record["version"] for record in load_records(tmp_path)] == ["0.1.0", "0.1.1"]
    assert [path.name for path in tmp_path.iterdir()] == ["scores.json"]
    (tmp_path / "scores.json").write_text("[")
    with pytest.raises(GoldError, match=r"scores\.json"):
        load_records(tmp_path)

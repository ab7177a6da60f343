"""How many values are wrong and shown as certain where notes are damaged: per thousand, by kind of damage.

The corpus' notes were looked at while the reader was made, so that it knows them; a note that nobody has
seen differs from them in its words and in its order. Each kind of damage makes such notes from those of the
corpus: a word of the trade that nobody knows, a word left out, lines run together. A value that is asked
about or not read at all is no fault here, but one that is shown as certain and wrong is. Where a word is left
out, gold is kept as it is, so that a few of the values counted as wrong are what the damaged note says.
Titles are not counted: a name may be misspelt.

    .venv/bin/python benchmarks/damaged_notes.py [--keep FILE] [--against FILE] [--kind NAME]
"""

from __future__ import annotations

import argparse
import json
import random
import re
import zlib
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

from gutterance.checking import check_sheet
from gutterance.measure.numerals import every_numeral
from gutterance.reading import lexicon, pipeline, read_note
from gutterance.scoring.gold import Gold, corpus_notes, load_gold
from gutterance.scoring.scorer import score_note

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.reading.items import Item

CORPUS = Path(__file__).parents[1] / "corpus"
TRADE_WORDS = ("end", "end word", "outlet", "downpipe", "ends at", "cue", "corner")
"""Concepts of the lexicon whose words another crew may have another word for."""
UNHEARD_OF = ("snick", "plimmet", "gorl", "thrapple", "dunnage", "whelk", "brindle", "sporran", "clag")
"""Words for them that no lexicon has."""
LIKENESS = re.compile(
    r"\b(same|ditto|other|next|last|rest|again|opposite|mirror|there|that|all|both)\b", re.I
)
"""Words by which one line leans on another."""
ASIDES = (
    "Kettle's on so I was told.",
    "Lovely old plum tree by the fence.",
    "The cat watched me all the way.",
)
SIDE_NAMES = {
    "compass": {"front": "south", "right side": "east", "back": "north", "left side": "west"},
    "letters": {"front": "side A", "right side": "side B", "back": "side C", "left side": "side D"},
}
"""Other names for the four sides of a house."""
RUN_IDS = {"side A": "run-a", "side B": "run-b", "side C": "run-c", "side D": "run-d"}
"""The ids that gold has for sides called by letters."""


@dataclass(frozen=True)
class Case:
    """A note and its gold."""

    name: str
    lines: list[str]
    gold: Gold


Damage = Callable[[Case, random.Random], Case | None]
"""What makes a damaged case of a case; None where it cannot be done to that note."""


def as_given(case: Case, _chance: random.Random) -> Case:
    """The note as it is, to compare with."""
    return case


def without_punctuation(case: Case, _chance: random.Random) -> Case:
    """No comma, full stop or colon but those within numbers."""
    return _with_lines(case, [re.sub(r"(?<!\d)[,;:.]|[,;:.](?!\d)", " ", line) for line in case.lines])


def lines_run_together(case: Case, _chance: random.Random) -> Case | None:
    """Every second line behind the one before it; not of tables and forms."""
    if any("|" in line or "\t" in line for line in case.lines) or len(case.lines) < 3:
        return None
    first, rest = case.lines[0], [line for line in case.lines[1:] if line.strip()]
    return _with_lines(case, [first, *(" ".join(rest[at : at + 2]) for at in range(0, len(rest), 2))])


def blocks_in_other_order(case: Case, _chance: random.Random) -> Case | None:
    """Runs told in the opposite order, where no line leans on another and each begins with its run."""
    if LIKENESS.search("\n".join(case.lines)) or any("|" in line or "\t" in line for line in case.lines):
        return None
    opened = [
        number
        for number, line in enumerate(pipeline.pipeline().lines(case.lines))
        if line.items and line.items[0].kind in ("direction", "part", "storey")
    ]
    if len(opened) < 3:
        return None
    blocks = [case.lines[at:to] for at, to in pairwise(opened)]
    shuffled = [line for block in reversed(blocks) for line in block]
    return _with_lines(case, [*case.lines[: opened[0]], *shuffled, *case.lines[opened[-1] :]])


def sides_called_otherwise(case: Case, chance: random.Random) -> Case | None:
    """The four sides called by compass or by letters, in note and gold."""
    sides = {run.replace("-", " ") for run in case.gold.runs}
    read = pipeline.pipeline().lines(case.lines)
    said = {str(item.value) for line in read for item in line.items if item.kind == "direction"}
    initials = any(item.kind in ("initial", "quarter") for line in read for item in line.items)
    if not sides or sides - set(SIDE_NAMES["compass"]) or sides - said or initials:
        return None
    names = SIDE_NAMES[chance.choice(sorted(SIDE_NAMES))]
    lines = [
        _replaced(
            line.text, ((i, names[i.value]) for i in line.items if i.kind == "direction" and i.value in names)
        )
        for line in read
    ]
    renamed = json.dumps(case.gold.model_dump(by_alias=True, exclude_none=True))
    for old, new in names.items():
        called = RUN_IDS.get(new, new)
        said_in_gold = rf'(?<=["\.]){old.replace(" ", "-")}(?=["\.])(?!": ?"?(?:left|right))'
        renamed = re.sub(said_in_gold, called, renamed)
    try:
        return Case(case.name, lines, Gold.model_validate_json(renamed))
    except ValueError:
        return None


def unheard_of_words(case: Case, chance: random.Random) -> Case | None:
    """One kind of trade word throughout by a word that nobody knows."""
    read = pipeline.pipeline().lines(case.lines)
    said = sorted({(i.kind, str(i.value)) for line in read for i in line.items if i.kind in TRADE_WORDS})
    if not said:
        return None
    kind, new = chance.choice(said), chance.choice(UNHEARD_OF)
    return _with_lines(
        case,
        [
            _replaced(line.text, ((i, new) for i in line.items if (i.kind, str(i.value)) == kind))
            for line in read
        ],
    )


def a_word_left_out(case: Case, chance: random.Random) -> Case:
    """One word of every second line left out, never one of a number."""
    return _with_lines(case, [_changed(line, chance, lambda _word: "") for line in case.lines])


def a_word_misspelt(case: Case, chance: random.Random) -> Case:
    """One word of every second line with two letters swapped."""
    return _with_lines(case, [_changed(line, chance, _swapped) for line in case.lines])


def asides_put_in(case: Case, chance: random.Random) -> Case | None:
    """Words that are about something else behind every third line."""
    if any("|" in line or "\t" in line for line in case.lines):
        return None
    return _with_lines(
        case,
        [
            f"{line} {chance.choice(ASIDES)}" if line.strip() and number and chance.random() < 1 / 3 else line
            for number, line in enumerate(case.lines)
        ],
    )


def words_of_others_only(case: Case, _chance: random.Random) -> Case:
    """The note as it is, read with the trade words alone that other voices of the corpus use too.

    What the reader would have known of this note, had nobody seen a note of that voice.
    """
    return case


DAMAGES: dict[str, Damage] = {
    "as given": as_given,
    "without punctuation": without_punctuation,
    "lines run together": lines_run_together,
    "blocks in other order": blocks_in_other_order,
    "sides called otherwise": sides_called_otherwise,
    "unheard-of words": unheard_of_words,
    "a word left out": a_word_left_out,
    "a word misspelt": a_word_misspelt,
    "asides put in": asides_put_in,
    "words of others only": words_of_others_only,
}


def cases(folder: Path = CORPUS) -> list[Case]:
    """The plain notes of a corpus with their gold."""
    return [
        Case(note.stem, note.read_text(encoding="utf-8-sig").splitlines(), load_gold(gold))
        for note, gold in corpus_notes(folder)
        if note.suffix in (".txt", ".md")
    ]


def damaged(kind: str, given: list[Case]) -> Iterator[Case]:
    """Each case with that damage; the same one each time the script is run."""
    if kind == "words of others only":
        yield from _without_own_words(given)
        return
    for case in given:
        made = DAMAGES[kind](case, random.Random(zlib.crc32(f"{kind} {case.name}".encode())))
        if made is not None:
            yield made


def _without_own_words(given: list[Case]) -> Iterator[Case]:
    """The cases voice by voice, while the reader has only those words that other voices use too."""
    terms = lexicon.built_in_terms()
    voices: dict[str, set[str]] = {}
    for case in given:
        for line in pipeline.pipeline().lines(case.lines):
            for item in line.items:
                if item.term is not None and item.term.concept not in ("direction", "lr", "initial"):
                    voices.setdefault(item.term.phrase, set()).add(case.gold.voice)
    built_in = pipeline.built_in_terms
    try:
        for voice in sorted({case.gold.voice for case in given}):
            known = tuple(term for term in terms if voices.get(term.phrase) != {voice})
            pipeline.built_in_terms = lambda known=known: known  # type: ignore[assignment]
            pipeline._reader_with.cache_clear()
            yield from (case for case in given if case.gold.voice == voice)
    finally:
        pipeline.built_in_terms = built_in
        pipeline._reader_with.cache_clear()


def _with_lines(case: Case, lines: list[str]) -> Case:
    return Case(case.name, lines, case.gold)


def _replaced(text: str, by: Iterator[tuple[Item, str]]) -> str:
    for item, new in sorted(by, key=lambda one: -one[0].start):
        text = text[: item.start] + new + text[item.end :]
    return text


def _changed(line: str, chance: random.Random, change: Callable[[str], str]) -> str:
    numerals = list(every_numeral(line))
    words = [
        word
        for word in re.finditer(r"[A-Za-z]{3,}", line)
        if not any(start < word.end() and word.start() < end for start, end in numerals)
    ]
    if not words or chance.random() < 0.5:
        return line
    word = chance.choice(words)
    return line[: word.start()] + change(word.group()) + line[word.end() :]


def _swapped(word: str) -> str:
    at = len(word) // 2
    return word[: at - 1] + word[at] + word[at - 1] + word[at + 1 :]


def tally(kind: str, given: list[Case]) -> Counter[str]:
    """How the values of all cases with that damage came out."""
    out: Counter[str] = Counter()
    for case in damaged(kind, given):
        sheet = read_note(case.lines)
        score = score_note(case.gold, sheet, check_sheet(sheet), note=case.name)
        out.update(mark.outcome for mark in score.marks if mark.field != "title")  # names may be misspelt
        out["needless"] += sum(mark.needless for mark in score.marks) + len(score.idle)
        out["notes"] += 1
    return out


def main() -> None:
    """Print a line for each kind of damage, beside that of an earlier run where one is given."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    options.add_argument("--keep", type=Path, help="write the figures there")
    options.add_argument("--against", type=Path, help="figures kept before")
    options.add_argument("--kind", choices=list(DAMAGES), action="append")
    options.add_argument("--corpus", type=Path, default=CORPUS)
    given = options.parse_args()
    before: dict[str, Any] = json.loads(given.against.read_text()) if given.against else {}
    kept: dict[str, Counter[str]] = {}
    known = cases(given.corpus)
    columns = ("notes", 6), ("values", 8), ("right %", 9), ("asked %", 9), ("wrong ‰", 9), ("needless", 10)
    heads = "".join(f"{name:>{width}}" for name, width in columns)
    print(f"{'damage':26}{heads}{'wrong ‰ before':>18}")
    for kind in given.kind or DAMAGES:
        kept[kind] = tally(kind, known)
        print(f"{kind:26}{_line(kept[kind])}{_before(before.get(kind))}", flush=True)
    if given.keep:
        given.keep.write_text(json.dumps(kept, indent=1))


def _values(one: Counter[str] | dict[str, int]) -> int:
    return sum(one.get(outcome, 0) for outcome in ("right", "asked", "missed", "wrong")) or 1


def _line(one: Counter[str]) -> str:
    values = _values(one)
    return (
        f"{one['notes']:6}{values:8}{100 * one['right'] / values:9.2f}{100 * one['asked'] / values:9.2f}"
        f"{1000 * one['wrong'] / values:9.2f}{one['needless'] / (one['notes'] or 1):10.2f}"
    )


def _before(one: dict[str, int] | None) -> str:
    if not one:
        return ""
    return f"{1000 * one.get('wrong', 0) / _values(one):18.2f}"


if __name__ == "__main__":
    main()

"""What holds for any text at all: a sheet, the same each time, no number lost, every word in its place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from title_words import places_of_title

from gutterance.measure.numerals import every_numeral
from gutterance.reading import read_note
from gutterance.reading.lexicon import built_in_terms
from gutterance.sheet.models import Model, Sheet, Source

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

QUICK = settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])

PHRASES = sorted({term.phrase for term in built_in_terms()})
NUMBERS = (
    "42-6",
    "42' 6\"",
    "9 4",
    "fifty eight foot six",
    "24",
    "3/4",
    "½",
    "12400",
    "2.7",
    "three point two metres",
    "8'",
    "14 3/4",
    "a foot and a half",
    "ten and seven eighths",
    "5 inch K",
    "2x3",
    "6/12",
    ".032",
    "45",
    "300mm",
    "'",
    '"',
    "seven",
    "ate",
    "for",
    "two",
    "~~27~~",
    "?",
    "10:30",
    "$80",
    "555 0142",
    "12th",
    "run 2",
    "run B",
    "3rd",
    "100",
)
GLUE = (" ", " ", " ", " ", ", ", ". ", "; ", " - ", ": ", " and ", " | ", "/", " (", ") ", "...", "")
WORDS = (
    "the",
    "is",
    "it",
    "same",
    "no",
    "wait",
    "make that",
    "was",
    "now",
    "on",
    "at",
    "from",
    "both",
    "each",
    "all",
)

phrases = st.one_of(
    st.sampled_from(PHRASES), st.sampled_from(NUMBERS), st.sampled_from(NUMBERS), st.sampled_from(WORDS)
)
trade_lines = st.lists(st.tuples(phrases, st.sampled_from(GLUE)), max_size=14).map(
    lambda parts: "".join(phrase + glue for phrase, glue in parts)
)
any_lines = st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="\r\n"), max_size=60)
notes = st.lists(st.one_of(trade_lines, trade_lines, any_lines), max_size=5)


KEPT = [
    "Front 40 OSC both / Back 22-4 caps / 12-6 34-2 9",
    "w/f 24, height 9-4",
    "two guys for half a day / Front 30-2 caps / 2 man job",
    "24 9-4 18",
    "Front 33-7 caps, then 12 then 14",
]


def _sources(part: Any) -> Iterator[Source]:
    """Every source that stands anywhere in a part of the sheet."""
    if isinstance(part, Source):
        yield part
    elif isinstance(part, list):
        for item in part:
            yield from _sources(item)
    elif isinstance(part, Model):
        for name in type(part).model_fields:
            yield from _sources(getattr(part, name))


def lost_numerals(lines: Sequence[str], sheet: Sheet) -> list[tuple[int, str]]:
    """The numerals of a note that the sheet shows nowhere: in no source, remark, unread or title."""
    shown: dict[int, set[int]] = {}
    for source in _sources(sheet):
        shown.setdefault(source.line, set()).update(range(source.start, source.end))
    lost = []
    for number, line in enumerate(lines, start=1):
        places = shown.get(number, set())
        places = places | places_of_title(line, sheet.title)
        lost += [
            (number, line[start:end])
            for start, end in every_numeral(line)
            if not places & set(range(start, end))
        ]
    return lost


@given(notes)
@QUICK
def test_any_text_gives_a_sheet_that_comes_back_from_its_file(lines: list[str]) -> None:
    sheet = read_note(lines)
    assert Sheet.model_validate_json(sheet.model_dump_json(by_alias=True)) == sheet
    assert sheet.note == lines
    ids = [run.id for run in sheet.runs]
    assert len(ids) == len(set(ids))
    assert {outlet.run for outlet in sheet.outlets} <= set(ids)
    assert {pipe.outlet for pipe in sheet.downpipes} - {None} <= {outlet.id for outlet in sheet.outlets}


@given(notes)
@QUICK
def test_every_source_is_the_very_words_that_stand_there(lines: list[str]) -> None:
    sheet = read_note(lines)
    for source in _sources(sheet):
        assert source.text
        assert lines[source.line - 1][source.start : source.end] == source.text
    for path, reading in sheet.readings():
        assert reading.value is None or reading.source, f"{path} has no words behind it"
        assert reading.status not in ("doubtful", "missing") or reading.why, (
            f"{path} does not say why it is asked"
        )


@given(notes)
@QUICK
def test_reading_twice_gives_the_same_sheet(lines: list[str]) -> None:
    assert read_note(lines) == read_note(tuple(lines))


@given(notes)
@QUICK
def test_no_number_of_any_note_is_lost(lines: list[str]) -> None:
    assert lost_numerals(lines, read_note(lines)) == []


@pytest.mark.parametrize("note", KEPT)
def test_a_number_that_finds_no_place_is_kept(note: str) -> None:
    lines = note.split(" / ")
    assert lost_numerals(lines, read_note(lines)) == []


HOUSES = (
    (
        "Front 33-7 OSC L cap R, drop L, w/f 18, ht 9-2 splash",
        "Back 33-7 1/2 caps, drop R, 18, 10-4 to drain",
    ),
    (
        "7 Tollgate Close",
        "front thirty three seven caps both ends",
        "back same as front",
        "all downpipes nine two",
    ),
    ("Front 12400 mm stop ends", "Back 9.85 m stop ends, outlet left, soffit 300, 2600 to gully"),
    ("Front 33-7, OSC right", "Right side 20-2, cap right", "rotten fascia", "four runs, 2 downpipes"),
    ("Oona: front?", "Ferris: 31-9 caps both", "Oona: drop?", "Ferris: left, 9-2 to splash"),
)
UNRELATED = (
    "thanks for the coffee",
    "thanks for the tea",
    "see you all tomorrow",
    "that's it, cheers",
    "",
    "have a good weekend",
)


@pytest.mark.parametrize("house", HOUSES)
@pytest.mark.parametrize("line", UNRELATED)
def test_an_unrelated_line_changes_nothing_else(house: tuple[str, ...], line: str) -> None:
    before, after = read_note(house), read_note([*house, line])
    known = {"note", "remarks", "unread"}
    assert after.model_dump(exclude=known) == before.model_dump(exclude=known)
    assert after.unread == before.unread
    assert [one for one in after.remarks if one.source.line <= len(house)] == before.remarks
    assert all(one.kind in ("other", "customer") for one in after.remarks[len(before.remarks) :])


@pytest.mark.parametrize("house", HOUSES)
@pytest.mark.parametrize(
    "change",
    [
        lambda line: line + "  ",
        lambda line: line.replace(" ", "\u00a0"),
        lambda line: line.replace(" ", "  "),
        lambda line: line + "\u200e",
    ],
    ids=["trailing spaces", "no-break spaces", "double spaces", "a direction mark"],
)
def test_white_space_makes_no_other_values(house: tuple[str, ...], change: Callable[[str], str]) -> None:
    plain, spaced = read_note(house), read_note([change(line) for line in house])
    values = {path: reading.value for path, reading in plain.readings() if reading.settled}
    for path, reading in spaced.readings():
        assert not reading.settled or values.get(path) == reading.value, f"{path}: {reading.value}"


def test_an_empty_note_is_an_empty_sheet() -> None:
    for lines in ([], [""], ["", "  ", "\t"]):
        sheet = read_note(lines)
        assert not (sheet.runs)
        assert not (sheet.outlets)
        assert not (sheet.downpipes)
        assert not (sheet.unread)
        assert not (sheet.title)


def test_a_note_read_again_is_read_the_same(read: Callable[..., Any]) -> None:
    """What texts hold is remembered: nothing that the first reading made of it may be left in it."""
    lines = ("front 42-6 osc both, drop left 9-2", "front 42-6 osc both, drop left 9-2", "no wait, 43-6")
    first, longer, again = read(*lines), read(*lines, "back same as front"), read(*lines)
    assert again.sheet == first.sheet
    assert longer.sheet != first.sheet


def test_a_measure_within_the_name_of_a_run_is_not_hidden_by_it() -> None:
    """`Front 22' 6"` told as one cell: a name may cover the words, but the length is shown or unread."""
    sheet = read_note(
        ["Front 22' 6\"   LH external angle   RH stop end", 'outlet Front, 6" in from LH   height 17\' 4"']
    )
    told = {source.text for _, reading in sheet.readings() for source in reading.source}
    told |= {unread.text for unread in sheet.unread}
    assert any(text.startswith("22") for text in told)
    assert any(text.startswith("6") for text in told)

"""Tables of random houses in random layouts, by many hands, against the houses they were written from."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from written_tables import held_against, written_table

from gutterance.measure.numerals import every_numeral
from gutterance.reading import read_note

if TYPE_CHECKING:
    from collections.abc import Callable

SEEDS = range(150)


def test_tables_in_any_layout_are_read_and_never_wrong_for_certain() -> None:
    """Invented houses; the sheet that a table was written from is what it has to be read as."""
    outcomes: Counter[str] = Counter()
    for seed in SEEDS:
        written = written_table(seed)
        marks = held_against(written, read_note(written.lines))
        outcomes.update(mark for mark, *_ in marks)
        wrong = [mark for mark in marks if mark[0] == "wrong"]
        assert not wrong, f"seed {seed}: {wrong}\n" + "\n".join(written.lines)
    assert outcomes["right"] >= 0.9 * outcomes.total(), outcomes


def test_no_number_of_a_table_is_lost() -> None:
    for seed in SEEDS:
        written = written_table(seed)
        sheet = read_note(written.lines)
        spots = [(source.line, source.start, source.end) for source in sheet.sources()]
        for number, text in enumerate(written.lines, start=1):
            at = text.find(sheet.title) if sheet.title else -1
            for start, end in every_numeral(text):
                if at <= start and end <= at + len(sheet.title or "") and at >= 0:
                    continue
                assert any(line == number and first < end and start < last for line, first, last in spots), (
                    f"seed {seed}, line {number}: {text[start:end]!r} of {text!r}"
                )


SECTIONS = (
    "27 PELLOW COURT",
    '5" K, white. Pipes 2x3. All feet-inches.',
    "",
    "| # | Wall | Footage | Lt | Rt | Pipe | Tall | Overhg | Into |",
    "|---|------|---------|----|----|------|------|--------|------|",
    "| | HOUSE | | | | | | | |",
    '| 1 | Front | 40-2 | oc | oc | rt | 9-1 | 18" | splash |',
    '| 2 | Back | 40-2 | " | " | lt | 9-5 | 18" | drain |',
    '| | | | | | rt | " | 14" | splash |',
    "| | house sub | 80-4 | | | 3 | | | |",
    "| | BARN | | | | | | | |",
    "| 3 | Front | 21-6 | cap | cap | none | | | |",
    "| | ALL | 101-10 | | | 3 | | | |",
)


def test_sections_subtotals_and_a_second_pipe(read: Callable[..., Any]) -> None:
    seen = read(*SECTIONS)
    seen.runs("front", "back", "barn-front")
    seen.feet("runs.front.length", 40, 2, "40-2")
    seen.feet("runs.barn-front.length", 21, 6, "21-6")
    seen.ends("back", "outside corner", "outside corner")
    seen.outlets("back", "left", "right")
    seen.inches("downpipes.back-2.wall_to_fascia", 14, '14"')
    assert {total.what: total.value.value for total in seen.sheet.totals}["downpipes"] == 3
    seen.unread("80-4")


def test_a_file_of_comma_separated_values(read: Callable[..., Any]) -> None:
    seen = read(
        "3 ALDER SPUR,,,,,,,",
        "Ltr,Starts,Ends,Leader,Drop,Throw,Foot,Length",
        'A,OSC,OSC,left,9\'2,20,drain,"31\'3 1/2"""',
        "B,OSC,cap,left + right,\"9'9 / 10'2\",18,splash block,44'0",
        "",
        "Starts = left hand end",
    )
    seen.runs("run-a", "run-b")
    seen.ends("run-b", "outside corner", "end cap")
    seen.feet("runs.run-a.length", 31, "3 1/2")
    seen.outlets("run-b", "left", "right")
    seen.feet("downpipes.run-b-2.height", 10, 2, "10'2")


def test_a_column_with_no_heading_is_judged_by_its_cells_and_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "Run | | L | R | Outlet | Height | W/F | To",
        "Front | 41-3 | OSC | OSC | L | 9-2 | 19 | splash",
        "Back | 40-9 | OSC | cap | R | 10-8 | 23 | drain",
    )
    length = seen.at("runs.front.length")
    assert (length.status, length.value.tape_text()) == ("doubtful", "41' 3\"")
    seen.feet("downpipes.back-1.height", 10, 8, "10-8")


def test_a_heading_with_a_slip_of_the_hand_is_known(read: Callable[..., Any]) -> None:
    seen = read(
        "Run | Lenght | L | R | Outlet | Heigth | Ovrhng | To",
        "Front | 41-3 | OSC | OSC | L | 9-2 | 19 | splash",
        "Back | 40-9 | OSC | cap | R | 10-8 | 23 | drain",
    )
    seen.feet("runs.back.length", 40, 9, "40-9")
    seen.inches("downpipes.back-1.wall_to_fascia", 23, "23")


def test_a_row_that_adds_up_the_others_is_no_run_whatever_it_is_called(read: Callable[..., Any]) -> None:
    seen = read(
        "Run | Length | L | R | Outlet",
        "Front | 41-3 | OSC | OSC | L",
        "Back | 40-9 | OSC | cap | R",
        "the lot | 82-0 | | | ",
    )
    seen.runs("front", "back")


def _with_remark(words: str) -> tuple[str, ...]:
    return (
        "Ref | Wall | Length | L | R | Outlet | Height | W/F | To",
        "a | Front | 12.40 | stop | stop | LH | 4.85 | 300 | drain",
        "b | Back | 12.40 | stop | stop | RH | 4.60 | 300 | drain",
        "",
        "Site notes",
        f"b: {words}",
    )


def test_a_remark_below_puts_a_measure_of_its_row_right(read: Callable[..., Any]) -> None:
    seen = read(*_with_remark("height gone over again, 4.35 not 4.60"))
    seen.mm("downpipes.back-1.height", 4350, status="corrected")
    seen.mm("downpipes.front-1.height", 4850)


def test_a_remark_below_that_tells_a_measure_otherwise_makes_it_asked_about(read: Callable[..., Any]) -> None:
    seen = read(*_with_remark("barrel stands up on blocks, that one is 3.70"))
    seen.asked("downpipes.back-1.height")
    seen.mm("downpipes.front-1.height", 4850)

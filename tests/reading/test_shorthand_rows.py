"""Scraps in which letters, signs and numbers touch: the note's own key, its rows and their pipes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.shorthand.finding import Found, find_rows
from gutterance.reading.shorthand.signs import SignsError, signs_from_toml

if TYPE_CHECKING:
    from collections.abc import Callable

KEYED = (
    "z=int  v=stop end  \\=45 ext  ▼=dp  k=wall→fascia  sw=storm drain",
    "E v13100z ▼r",
    "N z6420v",
    "▼E h2850 k380→sw",
)


def test_signs_of_the_key_stand_against_the_length(read: Callable[..., Any]) -> None:
    seen = read("6 Sedge Pl (mm)", *KEYED)
    seen.mm("runs.east.length", 13100, "13100")
    seen.ends("east", "end cap", "inside corner")
    seen.ends("north", "inside corner", "end cap")
    seen.outlets("east", "right")
    seen.mm("downpipes.east-1.height", 2850, "2850")
    seen.mm("downpipes.east-1.wall_to_fascia", 380, "380")
    seen.says("downpipes.east-1.ends_at", "drain", "sw")


def test_three_lengths_in_one_row_go_round_a_bay(read: Callable[..., Any]) -> None:
    seen = read("(mm)", *KEYED, "bay (lead rf) v640\\1750\\660v ▼@l")
    seen.mm("runs.bay-left-side.length", 640)
    seen.mm("runs.bay-front.length", 1750)
    seen.mm("runs.bay-right-side.length", 660)
    seen.says("runs.bay-front.left_angle", 45)
    seen.ends("bay-left-side", "end cap", "outside corner")
    seen.outlets("bay-left-side", "left")


def test_brackets_for_ends_and_a_table_of_numbered_pipes(read: Callable[..., Any]) -> None:
    seen = read(
        "77 TEASEL RISE",
        "< >=cap   ( )=wall   p#=dp   KI=kitchen",
        "FR  <38-6>    p1@L",
        "RE  <38-6>    p2@R",
        "KI  (9-4>     p3@C",
        "p  wf/ht/to",
        "1  20/9-1/sb",
        "2  do",
        "3  7/7-10/drn",
    )
    seen.ends("kitchen", "wall", "end cap")
    seen.feet("downpipes.front-1.height", 9, 1, "9-1")
    seen.feet("downpipes.back-1.height", 9, 1, "9-1")
    seen.inches("downpipes.kitchen-1.wall_to_fascia", 7, "7")
    seen.outlets("kitchen", "centre")


def test_numbered_runs_told_as_the_walker_goes(read: Callable[..., Any]) -> None:
    note = (
        "1  30-0   O+O   @s        h8-6    sb",
        "2  18-0   O+I   →3",
        "3  12-4   I+O   9<e       h8-2??  dr",
        "s/e = start/end of that run   O/I = mitre out/in   → = no drop, feeds that no.",
        "h = drop hole to ground   sb splash blk  dr drain",
    )
    seen = read("Larch end 4", "go w/ house on L hand", *note)
    seen.outlets("run-1", "left")
    seen.ends("run-2", "outside corner", "inside corner")
    seen.outlets("run-3", "right")
    seen.inches("outlets.run-3-1.distance", 9)
    seen.feet("downpipes.run-3-1.height", 8, 2, status="doubtful")


def test_a_walk_whose_way_is_not_told_leaves_the_start_in_doubt() -> None:
    rows = find_rows(("1 30-0 O+O @s", "2 18-0 O+O", "3 12-0 O+O", "s/e = start/end", "O/I = mitre out/in"))
    side = rows.rows.runs[0].pipes[0].side
    assert side is not None
    assert side.doubt is not None


def test_letters_that_others_use_otherwise_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "k5 wh 2x3",
        "F oc31-6oc dL h9-1 oh14 g",
        "B oc31-6oc dR h9-4 oh14 g",
    )
    reading = seen.at("downpipes.front-1.ends_at")
    assert reading.status == "doubtful"


def test_numbers_with_no_sign_take_the_one_field_that_fits_all_rows(read: Callable[..., Any]) -> None:
    seen = read(
        "(mm)",
        "N 9400 oc oc dp R 2750 420 tank",
        "E 6100 oc oc",
        "S 9400 oc oc dp L 3010 420 gully",
        "W 6100 oc oc",
    )
    seen.mm("downpipes.north-1.height", 2750)
    seen.mm("downpipes.south-1.wall_to_fascia", 420)


def test_numbers_that_may_be_either_are_asked_about() -> None:
    found = find_rows(("F 30-0 c/c dp L 9", "B 30-0 c/c dp R 9"))
    numbers = [number for run in found.rows.runs for pipe in run.pipes for number in pipe.numbers.values()]
    assert numbers
    assert all(number.doubt is not None for number in numbers)


def test_an_indented_line_goes_on_with_the_run_above(read: Callable[..., Any]) -> None:
    seen = read(
        "F 28-0½ oc-oc  ↓L",
        "   h 9-3  oh 20  →splash",
        "B 28-0½ oc-oc  ↓L ↓R",
        "   h 10-1, 10-4  oh 18  →drain, splash",
    )
    seen.feet("downpipes.front-1.height", 9, 3)
    seen.feet("downpipes.back-2.height", 10, 4)
    seen.says("downpipes.back-1.ends_at", "drain")
    seen.inches("downpipes.back-1.wall_to_fascia", 18)


def test_lower_runs_beside_upper_ones_are_no_left_ones() -> None:
    found = find_rows(("U-F 22-0 c/c dp L", "L-F 30-0 c/c dp R", "L-L 20-0 c/c"))
    assert [run.name.name for run in found.rows.runs] == ["upper front", "lower front", "lower left side"]


def test_values_before_or_behind_the_names_of_their_runs(read: Callable[..., Any]) -> None:
    rows = ("N 44-0 o o d-e", "S 44-0 o o d-e d-w", "E 30-0 o o", "W 30-0 o o")
    seen = read(*rows, "h 9-2 N, 11-4 S")
    seen.feet("downpipes.north-1.height", 9, 2)
    seen.feet("downpipes.south-1.height", 11, 4)
    seen.feet("downpipes.south-2.height", 11, 4)


def test_what_stands_for_the_whole_job_is_read_though_nothing_parts_it(read: Callable[..., Any]) -> None:
    seen = read("9 Alder Gr (mm)", "HR112 zn.7 / rwp68rd / brk800 / rf25° / 80mm/h", *KEYED)
    seen.says("defaults.gutter_profile", "half round")
    seen.says("defaults.thickness", "0.7 mm")
    seen.says("defaults.downpipe_size", "68 mm round")
    seen.says("defaults.roof_pitch", "25 degrees")
    seen.says("defaults.rainfall", "80 mm/h")


def test_no_number_of_a_half_understood_row_is_silent(read: Callable[..., Any]) -> None:
    seen = read("(mm)", *KEYED, "W z7300v ▼l 77 12 9")
    told = " ".join(unread.text for unread in seen.sheet.unread)
    sources = {source.text for source in seen.sheet.sources()}
    assert all(number in sources or number in told for number in ("77", "12", "9"))


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ('slot = "roof"\nvalue = "x"\nwords = ["x"]', "is no slot"),
        ('slot = "end"\nvalue = "gable"\nwords = ["x"]', "is not said there"),
        ('slot = "name"\nvalue = "garage"\nwords = ["x"]', "part: garage"),
        ('slot = "end"\nvalue = "wall"\nwords = "x"', "list of words"),
    ],
)
def test_a_wrong_row_of_signs_is_named(row: str, says: str) -> None:
    with pytest.raises(SignsError, match=says) as error:
        signs_from_toml(f"[[sign]]\n{row}\n", "signs.toml")
    assert "signs.toml, sign 1" in str(error.value)


def test_a_pair_of_letters_behind_a_length_is_of_its_ends(read: Callable[..., Any]) -> None:
    seen = read("fr 26' o-c D>R 8'4 sb", "bk 26' c-o D>L 9'10 dr", "lt 19' o-o", 'wf 14" all')
    seen.ends("front", "outside corner", "end cap")
    seen.outlets("front", "right")
    seen.outlets("back", "left")
    seen.inches("downpipes.back-1.wall_to_fascia", 14)


def test_several_runs_stand_in_one_row() -> None:
    found = find_rows(("F1 12-2 ec/ic   R1 3-6 ic/oc   F2 18-0 oc/oc", "B  34-2 oc/oc   L 22-6 oc/ec"))
    told = [(run.name.name, run.length and run.length.token.text) for run in found.rows.runs]
    assert told == [
        ("front 1", "12-2"), ("right side 1", "3-6"), ("front 2", "18-0"), ("back", "34-2"),
        ("left side", "22-6"),
    ]  # fmt: skip


def test_bars_part_the_cells_of_rows_with_no_heading(read: Callable[..., Any]) -> None:
    seen = read(
        "(mm)", "F|8900|oc|oc|d-l|2550|480|gully", "R|5100|oc|oc|-|-|-|-", "B|8900|oc|oc|d-r|2700|480|gully"
    )
    seen.mm("downpipes.front-1.height", 2550)
    seen.mm("downpipes.back-1.wall_to_fascia", 480)
    seen.outlets("back", "right")


def test_a_note_of_whole_words_is_never_read_as_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ordinary notes are read once: rows are looked for where words are cut short."""
    from gutterance.reading import read_note
    from gutterance.reading.shorthand import choosing

    looked: list[int] = []

    def looks(texts: list[str], *, metric: bool = False) -> Found:
        looked.append(len(texts))
        return find_rows(texts, metric=metric)

    monkeypatch.setattr(choosing, "find_rows", looks)
    read_note(["Front 30-6, outside corner both ends", "Back the same, drop left", "Left 28-4, end caps"])
    assert not looked
    read_note(["F 30-6 x/x dl", "B 30-6 x/x dr", "L 28-4 x/x", "R 28-4 x/x"])
    assert looked

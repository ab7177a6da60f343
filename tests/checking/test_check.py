"""The checker as a whole: order, sources, no crash on any sheet, and time in proportion to its size."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from work_counting import calls_made

from gutterance.checking import HOLDING, Finding, check_sheet, open_questions
from gutterance.checking.check import KIND_ORDER
from gutterance.checking.codes import CODES
from gutterance.checking.wording import of_run
from gutterance.sheet.models import Sheet

if TYPE_CHECKING:
    from collections.abc import Callable

    Build = Callable[..., Sheet]

NAMES = st.sampled_from(
    [
        "front",
        "back",
        "left-side",
        "right",
        "garage-front",
        "run-1",
        "run-2",
        "a.b",
        "",
        "porch",
        "north",
        "the",
    ]
)
SOURCE = st.builds(
    lambda line, start, text: {"line": line, "start": start, "end": start + len(text), "text": text},
    st.integers(1, 5),
    st.integers(0, 60),
    st.sampled_from(["", "42-6", "OSC", "555 0142"]),
)
SOURCES = st.lists(SOURCE, max_size=2)
LENGTHS = st.one_of(
    st.fractions(min_value=-100, max_value=3000, max_denominator=64).map(
        lambda n: f"{n} in" if n >= 0 else f"-{-n} in"
    ),
    st.integers(0, 50000).map(lambda n: f"{n} mm"),
    st.just(f"{10**40} in"),
    st.just("0 in"),
)
STATUSES = st.sampled_from(["read", "assumed", "inferred", "corrected", "doubtful", "missing"])


def readings(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | said(values)


def said(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.fixed_dictionaries(
        {
            "value": st.none() | values,
            "status": STATUSES,
            "source": SOURCES,
            "why": st.none() | st.just("because"),
            "could_be": st.lists(
                st.fixed_dictionaries({"value": values, "why": st.just("heard so")}), max_size=2
            ),
        }
    )


ENDS = readings(st.sampled_from(["outside corner", "inside corner", "end cap", "wall", "splice"]))
ANGLES = readings(st.floats() | st.sampled_from([45.0, 90.0, 135.0, 0.0, 180.0]))
TEXTS = readings(st.sampled_from(["white", "2x3", "", "6/12"]))
RUNS = st.fixed_dictionaries(
    {
        "id": NAMES,
        "name": NAMES,
        "storey": st.sampled_from([None, "upper", "lower", ""]),
        "length": readings(LENGTHS),
        "left_end": ENDS,
        "right_end": ENDS,
        "left_angle": ANGLES,
        "right_angle": ANGLES,
        "gutter_size": readings(LENGTHS),
        "colour": TEXTS,
        "next_run": st.none() | NAMES,
        "source": SOURCES,
    }
)
OUTLETS = st.fixed_dictionaries(
    {
        "id": NAMES,
        "run": NAMES,
        "place": readings(st.sampled_from(["left", "right", "centre"])),
        "distance": readings(LENGTHS),
    }
)
PIPES = st.fixed_dictionaries(
    {
        "id": NAMES,
        "outlet": st.none() | NAMES,
        "wall_to_fascia": readings(LENGTHS),
        "height": readings(LENGTHS),
        "ends_at": readings(st.sampled_from(["drain", "lower roof"])),
        "size": TEXTS,
        "offsets": st.lists(said(LENGTHS), max_size=2),
        "source": SOURCES,
    }
)
TOTALS = st.one_of(
    st.fixed_dictionaries(
        {
            "what": st.sampled_from(["runs", "outlets", "downpipes", "outside corners", "inside corners"]),
            "value": said(st.integers(-3, 10**9)),
        }
    ),
    st.fixed_dictionaries({"what": st.just("gutter length"), "value": said(LENGTHS)}),
)
REMARKS = st.fixed_dictionaries(
    {
        "kind": st.sampled_from(["hazard", "repair"]),
        "about": st.none() | NAMES,
        "text": st.text(max_size=20),
        "source": SOURCE,
    }
)
UNREAD = st.fixed_dictionaries(
    {
        "text": st.sampled_from(["17", "555 0142"]),
        "source": SOURCE,
        "why": st.just("no field"),
    }
)
SHEETS = st.fixed_dictionaries(
    {
        "defaults": st.fixed_dictionaries(
            {
                "colour": TEXTS,
                "gutter_size": readings(LENGTHS),
                "units": st.sampled_from(["imperial", "metric"]),
            }
        ),
        "runs": st.lists(RUNS, max_size=6),
        "outlets": st.lists(OUTLETS, max_size=4),
        "downpipes": st.lists(PIPES, max_size=4),
        "totals": st.lists(TOTALS, max_size=3),
        "remarks": st.lists(REMARKS, max_size=2),
        "unread": st.lists(UNREAD, max_size=3),
        "note": st.lists(st.sampled_from(["call 555 0142", "42-6 OSC", ""]), max_size=4),
    }
).map(Sheet.model_validate)


def ranked(found: Finding) -> tuple[int, int]:
    return -len(found.holds), KIND_ORDER.index(found.kind)


@settings(
    max_examples=150, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large], deadline=None
)
@given(sheet=SHEETS)
def test_any_sheet_is_checked_and_keeps_the_promises(sheet: Sheet) -> None:
    before = sheet.model_dump_json()
    findings = check_sheet(sheet)
    assert sheet.model_dump_json() == before
    assert findings == check_sheet(sheet)
    assert findings == sorted(findings, key=ranked)
    paths = {f"runs.{run.id}" for run in sheet.runs} | {f"downpipes.{pipe.id}" for pipe in sheet.downpipes}
    for found in findings:
        assert CODES[found.code] == found.kind
        assert set(found.holds) <= paths
        assert len(found.holds) == len(set(found.holds))
        assert found.kind in HOLDING or not found.holds
        assert found.says.strip()
        assert found.kind not in HOLDING or found.question
    # No guess is silent: every value in doubt or missing is asked about, and what a piece rests on is held.
    about = {found.about for found in findings if found.kind in HOLDING}
    for path, reading in sheet.readings():
        group = path.partition(".")[0]
        if reading.status == "doubtful" and (reading.value is not None or group != "totals"):
            assert path in about, path
    held = {path for found in findings if found.kind in HOLDING for path in found.holds}
    for run in sheet.runs:
        parts = (run.length, run.left_end, run.right_end)
        if any(part is None or not part.settled for part in parts):
            assert f"runs.{run.id}" in held
    for pipe in sheet.downpipes:
        if any(part is None or not part.settled for part in (pipe.wall_to_fascia, pipe.height)):
            assert f"downpipes.{pipe.id}" in held
    # Every unread number is told.
    told = sum(len(found.source) for found in findings if found.code in ("unread-number", "number-set-aside"))
    assert bool(told) == bool(sheet.unread)
    # Every holding finding leaves a question, and no held path is lost in the asking.
    questions = open_questions(sheet, findings)
    assert {path for question in questions for path in question.holds} == held
    assert {path for question in questions for path in question.about} == about
    if len({of_run(run) for run in sheet.runs}) == len(sheet.runs):
        assert len({question.text for question in questions}) == len(questions)


def test_an_empty_sheet() -> None:
    (found,) = check_sheet(Sheet())
    assert found.code == "no-runs"


def test_a_whole_sheet_with_nothing_open_finds_nothing(box: Build) -> None:
    assert check_sheet(box(outlets=[("front", "left"), ("back", "left")])) == []


def test_sources_are_the_words_behind(sheet_of: Build) -> None:
    found = check_sheet(
        sheet_of(
            {"front": (None, "C", "C"), "back": (510, "C", "C")},
            outlets=[("front", "left"), ("back", "left")],
        )
    )
    (missing,) = [one for one in found if one.code == "length-missing"]
    assert [words.text for words in missing.source] == ["front"]


def test_assumptions_are_told_once_for_their_kind(sheet_of: Build) -> None:
    inferred = {"value": "outside corner", "status": "inferred", "why": "told on the run it meets"}
    runs = {
        name: (length, "O", None, {"right_end": inferred})
        for name, length in {"front": 510, "right-side": 339, "back": 510, "left-side": 339}.items()
    }
    (found,) = check_sheet(sheet_of(runs))
    assert found.code == "value-inferred"
    assert found.says == (
        "4 ends (the front, the right side, the back and the left side) were worked out as outside corner: "
        "told on the run it meets."
    )


def test_a_doubtful_corner_holds_the_run_beside_it_only_where_that_is_no_surer(sheet_of: Build) -> None:
    doubtful = {"value": "outside corner", "status": "doubtful"}

    def holds(beside: dict[str, Any]) -> list[list[str]]:
        sheet = sheet_of(
            {
                "front": (510, "C", None, {"right_end": doubtful}),
                "porch": (96, None, "C", {"left_end": beside}),
            }
        )
        return [found.holds for found in check_sheet(sheet) if found.about == "runs.front.right_end"]

    assert holds({"value": "outside corner"}) == [["runs.front"]]
    assert holds(doubtful) == [["runs.front", "runs.porch"]]


def test_a_doubt_for_the_whole_job_holds_what_has_no_word_of_its_own(sheet_of: Build) -> None:
    sheet = sheet_of(
        {"front": (510, "C", "C"), "back": (510, "C", "C", {"colour": {"value": "brown"}})},
        outlets=[("front", "left"), ("back", "left")],
        defaults={"colour": {"value": "white", "status": "doubtful"}},
    )
    (found,) = [one for one in check_sheet(sheet) if one.code == "value-doubtful"]
    assert found.holds == ["runs.front"]


def test_an_unread_number_holds_what_was_told_beside_it(sheet_of: Build) -> None:
    def unread(line: int, start: int) -> dict[str, Any]:
        return {
            "text": "17",
            "source": {"line": line, "start": start, "end": start + 2, "text": "17"},
            "why": "?",
        }

    gable = {"front": (510, "C", "C"), "back": (510, "C", "C")}
    both = [("front", "left"), ("back", "left")]

    def holds(line: int) -> list[str]:
        sheet = sheet_of(gable, outlets=both, unread=[unread(line, 40)])
        (found,) = [one for one in check_sheet(sheet) if one.code == "unread-number"]
        assert f"line {line}" in (found.question or "")
        return found.holds

    assert holds(1) == ["runs.front"]
    assert holds(2) == ["runs.back"]
    assert holds(9) == []


@pytest.mark.parametrize(
    ("line", "text", "code"),
    [
        ("call 555 0142", "555 0142", "number-set-aside"),
        ("back at 10:30", "10:30", "number-set-aside"),
        ("that is $350 in all", "$350", "number-set-aside"),
        ("2 guys on this one", "2 guys", "number-set-aside"),
        ("front 3 drops somewhere", "3", "unread-number"),
        ("front and 17 more", "17", "unread-number"),
        ("call 555 0142", "42", "unread-number"),  # not where the words are said to be
    ],
)
def test_only_what_is_surely_no_measurement_is_set_aside(
    sheet_of: Build, line: str, text: str, code: str
) -> None:
    start = line.index(text) if text != "42" else 0
    source = {"line": 1, "start": start, "end": start + len(text), "text": text}
    sheet = sheet_of(
        {"front": (510, "C", "C")}, note=[line], unread=[{"text": text, "source": source, "why": "?"}]
    )
    assert code in [found.code for found in check_sheet(sheet)]


def big(sheet_of: Build, houses: int) -> Sheet:
    """Many houses of one storey each, with a gap here and there, as one sheet."""
    runs: dict[str, tuple[Any, ...]] = {}
    for number in range(houses):
        off = Fraction(1) if number % 3 == 0 else Fraction(0)
        for side, length in (("front", 510), ("right", 339), ("back", 510 + off), ("left", 339)):
            runs[f"{side} {number}"] = (length, "O", "O", {"storey": f"house {number}"})
    outlets = [(run, "left") for number, run in enumerate(runs) if number % 5]
    return sheet_of(runs, outlets=outlets)


def test_work_grows_no_worse_than_the_sheet(sheet_of: Build) -> None:
    def work(sheet: Sheet) -> int:
        return calls_made(lambda: open_questions(sheet, check_sheet(sheet)))

    small, large = big(sheet_of, 156), big(sheet_of, 1250)
    assert len(large.runs) == 5000
    # Eight times the runs: n log n is under eleven times the work. A square would be sixty-four.
    assert work(large) < 11 * work(small)


@pytest.mark.parametrize("left", ["O", None])
def test_one_chain_of_thousands_of_runs_is_checked(sheet_of: Build, left: str | None) -> None:
    runs = {f"run-{n}": (100, left, "I" if left and n % 2 else left) for n in range(5000)}
    assert check_sheet(sheet_of(runs))


@pytest.mark.parametrize("absurd", ["9" * 4300 + " in", "1/" + "7" * 4300 + " in", "9" * 4300 + " mm"])
def test_lengths_too_long_to_write_down_a_sum_of(box: Build, absurd: str) -> None:
    both = {"what": "gutter length", "value": {"value": absurd}}
    findings = check_sheet(box(front=absurd, back=absurd, totals=[both]))
    assert "value-implausible" in [found.code for found in findings if "runs.front" in found.holds]

"""Every code is documented and can be raised; every example in the docs raises its code."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.checking import HOLDING, as_it_stands, open_questions
from gutterance.checking.answering import settle_answer
from gutterance.checking.codes import CODES, finding
from gutterance.reading import read_note
from gutterance.sheet.amendments import Amendment
from gutterance.sheet.models import Sheet

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.checking import Standing

DOCS = Path(__file__).parents[2] / "docs" / "findings.md"
SECTION = re.compile(r"^### `(?P<code>[a-z-]+)`\n(?P<text>.*?)(?=^##|\Z)", re.MULTILINE | re.DOTALL)
RAISED = re.compile(r"(?:\bcode=|\b_?finding\(\s*)\"([a-z]+(?:-[a-z]+)+)\"")
NOTE = re.compile(r"^```(?:note|captions)\n(?P<note>.*?)^```$", re.MULTILINE | re.DOTALL)
SHEET = re.compile(r"^```sheet\n(?P<sheet>.*?)^```$", re.MULTILINE | re.DOTALL)
AMENDMENTS = re.compile(r"^```amendments\n(?P<lines>.*?)^```$", re.MULTILINE | re.DOTALL)
ALL_SAID = {
    "gutter_profile": {"value": "K-style"},
    "gutter_size": {"value": "5 in"},
    "colour": {"value": "white"},
    "downpipe_size": {"value": "2x3"},
}
SECTIONS = {
    section["code"]: section["text"] for section in SECTION.finditer(DOCS.read_text(encoding="utf-8"))
}

FRONT = {"front": (510, "C", "C")}
GABLE = {"front": (510, "C", "C"), "back": (510, "C", "C")}


def box(**changed: Any) -> dict[str, Any]:
    sides: dict[str, Any] = {
        "front": (510, "O", "O"),
        "right-side": (339, "O", "O"),
        "back": (510, "O", "O"),
        "left-side": (339, "O", "O"),
    }
    return {**sides, **{name.replace("_", "-"): side for name, side in changed.items()}}


def words(line: int, text: str = "words", start: int = 0) -> dict[str, Any]:
    return {"line": line, "start": start, "end": start + len(text), "text": text}


def doubtful(value: str, *others: str, lines: tuple[int, ...] = (1,)) -> dict[str, Any]:
    return {
        "value": value,
        "status": "doubtful",
        "why": "said so",
        "source": [words(line) for line in lines],
        "could_be": [{"value": other, "why": "said before"} for other in others],
    }


def _amendment(path: str, value: str = "511 in", was: str | None = None) -> Amendment:
    return Amendment(path=path, value=value, was=was, by="Ann", when="2026-05-04T09:30:00", why="photo")


def next_run(name: str) -> dict[str, Any]:
    return {"next_run": name}


# For each code the arguments of a sheet that raises it, what the finding is about, and exactly what it holds.
EVERYTHING = ["runs.front", "runs.right-side", "runs.back", "runs.left-side"]
RAISES: dict[str, tuple[dict[str, Any], str, list[str]]] = {
    "no-runs": ({"runs": {}}, "runs", []),
    "length-missing": ({"runs": {"front": (None, "C", "C")}}, "runs.front.length", ["runs.front"]),
    "end-missing": ({"runs": {"front": (510, None, "C")}}, "runs.front.left_end", ["runs.front"]),
    "corner-unpartnered": ({"runs": {"front": (510, "C", "O")}}, "runs.front.right_end", ["runs.front"]),
    "run-missing": (
        {"runs": {name: side for name, side in box().items() if name != "left-side"}},
        "runs",
        ["runs.back", "runs.front"],
    ),
    "outlet-missing": ({"runs": GABLE}, "runs.back", ["runs.back"]),
    "outlets-not-said": ({"runs": GABLE, "outlets": []}, "outlets", ["runs.front", "runs.back"]),
    "outlet-place-missing": (
        {"runs": FRONT, "outlets": [("front", None)]},
        "outlets.front-1.place",
        ["runs.front"],
    ),
    "outlet-downpipe-missing": (
        {
            "runs": FRONT,
            "outlets": [("front", "left"), ("front", "right")],
            "pipes": [{"id": "front-1", "outlet": "front-1"}],
        },
        "outlets.front-2",
        [],
    ),
    "downpipes-not-said": ({"runs": FRONT, "pipes": []}, "downpipes", []),
    "downpipe-outlet-missing": (
        {"runs": FRONT, "pipes": [{"id": "p"}]},
        "downpipes.p.outlet",
        ["downpipes.p"],
    ),
    "wall-to-fascia-missing": (
        {"runs": FRONT, "pipes": [{"id": "front-1", "outlet": "front-1", "wall_to_fascia": None}]},
        "downpipes.front-1.wall_to_fascia",
        ["downpipes.front-1"],
    ),
    "height-missing": (
        {"runs": FRONT, "pipes": [{"id": "front-1", "outlet": "front-1", "height": None}]},
        "downpipes.front-1.height",
        ["downpipes.front-1"],
    ),
    "value-missing": (
        {"runs": {"front": (510, "C", "C", {"colour": {"status": "missing", "why": "could not see it"}})}},
        "runs.front.colour",
        ["runs.front"],
    ),
    "note-damaged": (
        {"runs": GABLE, "damage": [{"file": "a.vtt", "line": 7, "what": "cut", "mend": "ask", "after": 1}]},
        "damage.1",
        ["runs.front", "runs.back"],
    ),
    "two-values": (
        {"runs": {"front": (None, "C", "C", {"length": doubtful("513 in", "510 in", lines=(1, 2))})}},
        "runs.front.length",
        ["runs.front"],
    ),
    "outlet-beyond-run": (
        {"runs": FRONT, "outlets": [("front", "left", "511 in")]},
        "outlets.front-1.distance",
        ["runs.front"],
    ),
    "total-mismatch": (
        {"runs": FRONT, "totals": [{"what": "outlets", "value": {"value": 2}}]},
        "totals.outlets",
        ["runs.front"],
    ),
    "corner-mismatch": (
        {"runs": box(right_side=(339, "I", "O"))},
        "runs.front.right_end",
        ["runs.front", "runs.right-side"],
    ),
    "corner-angle-mismatch": (
        {"runs": box(front=(510, "O", "O", {"right_angle": {"value": 45}}))},
        "runs.front.right_angle",
        ["runs.front", "runs.right-side"],
    ),
    "turns-off": ({"runs": box(right_side=(339, "O", "I"), back=(510, "I", "O"))}, "runs", EVERYTHING),
    "walls-do-not-close": ({"runs": box(back=(474, "O", "O"))}, "runs", ["runs.front", "runs.back"]),
    # A notch told 30 ft deep in a house 20 ft deep: its walls d, e and f reach out through wall a.
    "walls-cross": (
        {
            "runs": {
                "a": (480, "O", "O"),
                "b": (240, "O", "O"),
                "c": (120, "O", "O"),
                "d": (360, "O", "I"),
                "e": (120, "I", "I"),
                "f": (360, "I", "O"),
                "g": (240, "O", "O"),
                "h": (240, "O", "O"),
            }
        },
        "runs",
        ["runs.a", "runs.b", "runs.c", "runs.d"],
    ),
    "overall-against-parts": (
        {
            "runs": {"front": (720, "C", "C"), "front-left": (288, "C", "C"), "front-right": (432, "C", "C")},
            "outlets": [("front", "left"), ("front-left", "left"), ("front-right", "left")],
        },
        "runs.front",
        ["runs.front"],
    ),
    "amendment-fits-nothing": (
        {"runs": GABLE, "outlets": [("front", "left"), ("back", "left")], "amended": ["runs.rear.length"]},
        "runs.rear.length",
        ["runs.front", "runs.back"],
    ),
    "amendment-unreadable": (
        {"runs": FRONT, "amended": ["runs.front.length", "long"]},
        "runs.front.length",
        ["runs.front"],
    ),
    "amendment-overtaken": (
        {"runs": FRONT, "amended": ["runs.front.length", "511 in", "509 in"]},
        "runs.front.length",
        ["runs.front"],
    ),
    "walls-nearly-close": ({"runs": box(back=(511, "O", "O"))}, "runs", []),
    "length-worked-out": ({"runs": box(back=(None, "O", "O"))}, "runs.back.length", ["runs.back"]),
    "heights-against-each-other": (
        {
            "runs": {
                "front": (510, "C", "C", {"storey": "upper"}),
                "back": (510, "C", "C", {"storey": "lower"}),
            },
            "outlets": [("front", "left"), ("back", "left")],
            "pipes": [
                {"id": "front-1", "outlet": "front-1", "height": {"value": "130 in"}},
                {"id": "back-1", "outlet": "back-1"},
            ],
        },
        "downpipes.front-1.height",
        ["downpipes.front-1"],
    ),
    "outlet-at-high-point": (
        {"runs": {"front": (510, "C", "C", {"high_point": {"value": "left"}})}},
        "outlets.front-1.place",
        ["runs.front"],
    ),
    "lower-gutter-missing": (
        {
            "runs": FRONT,
            "pipes": [{"id": "front-1", "outlet": "front-1", "ends_at": {"value": "lower gutter"}}],
        },
        "downpipes.front-1.ends_at",
        [],
    ),
    "ridges-differ": (
        {
            "runs": {
                "front": (510, "C", "C", {"roof_run": {"value": "144 in"}, "roof_pitch": {"value": "6/12"}}),
                "back": (510, "C", "C", {"roof_run": {"value": "144 in"}, "roof_pitch": {"value": "12/12"}}),
            },
            "outlets": [("front", "left"), ("back", "left")],
        },
        "runs.front.roof_pitch",
        [],
    ),
    "hangers-against-snow": (
        {
            "runs": {"front": (510, "C", "C", {"hanger_spacing": {"value": "24 in"}})},
            "remarks": [{"kind": "other", "text": "snow slides here", "source": words(2, "snow slides")}],
        },
        "defaults.hanger_spacing",
        [],
    ),
    "id-twice": (
        {"runs": FRONT, "pipes": [{"id": "p", "outlet": "front-1"}, {"id": "p", "outlet": "front-1"}]},
        "downpipes.p",
        ["downpipes.p"],
    ),
    "outlet-run-unknown": (
        {"runs": FRONT, "outlets": [("front", "left"), ("porch", "left")]},
        "outlets.porch-1.run",
        ["downpipes.porch-1"],
    ),
    "downpipe-outlet-unknown": (
        {"runs": FRONT, "pipes": [{"id": "p", "outlet": "nowhere"}]},
        "downpipes.p.outlet",
        ["downpipes.p"],
    ),
    "next-run-unknown": (
        {"runs": {"front": (510, "C", "O", next_run("porch"))}},
        "runs.front.next_run",
        ["runs.front"],
    ),
    "next-run-twice": (
        {
            "runs": {
                "one": (100, "C", "O", next_run("three")),
                "two": (100, "C", "O", next_run("three")),
                "three": (100, "O", "C"),
            }
        },
        "runs.two.next_run",
        ["runs.one", "runs.two"],
    ),
    "value-doubtful": (
        {"runs": {"front": (None, "C", "C", {"length": doubtful("510 in")})}},
        "runs.front.length",
        ["runs.front"],
    ),
    "unread-number": (
        {"runs": FRONT, "unread": [{"text": "17", "source": words(1, "17", 30), "why": "no field"}]},
        "unread.1",
        ["runs.front"],
    ),
    "value-implausible": (
        {"runs": {"front": (4, "C", "C")}},
        "runs.front.length",
        ["runs.front"],
    ),
    "height-against-storey": (
        {"runs": {"front": (510, "C", "C", {"storey": "upper"})}},
        "downpipes.front-1.height",
        ["downpipes.front-1"],
    ),
    "outlets-same-place": (
        {"runs": FRONT, "outlets": [("front", "left"), ("front", "left")]},
        "outlets.front-2.place",
        ["runs.front"],
    ),
    "outlets-close": (
        {"runs": FRONT, "outlets": [("front", "left"), ("front", "left", "20 in")]},
        "outlets.front-2.distance",
        ["runs.front"],
    ),
    "overhangs-differ": (
        {
            "runs": FRONT,
            "outlets": [("front", "left"), ("front", "right")],
            "pipes": [
                {"id": "front-1", "outlet": "front-1"},
                {"id": "front-2", "outlet": "front-2", "wall_to_fascia": {"value": "42 in"}},
            ],
        },
        "downpipes.front-1.wall_to_fascia",
        ["downpipes.front-1", "downpipes.front-2"],
    ),
    "heights-differ": (
        {
            "runs": FRONT,
            "outlets": [("front", "left"), ("front", "right")],
            "pipes": [
                {"id": "front-1", "outlet": "front-1"},
                {"id": "front-2", "outlet": "front-2", "height": {"value": "228 in"}},
            ],
        },
        "downpipes.front-1.height",
        ["downpipes.front-1", "downpipes.front-2"],
    ),
    "gutters-meet-unlike": (
        {"runs": box(front=(510, "O", "O", {"gutter_size": {"value": "6 in"}}))},
        "runs.front.gutter_size",
        ["runs.front", "runs.right-side"],
    ),
    "roof-run-against-depth": (
        {"runs": box(front=(510, "O", "O", {"roof_run": {"value": "480 in"}}))},
        "runs.front.roof_run",
        [],
    ),
    "opposite-eaves-differ": (
        {
            "runs": {"front": (510, "C", "C"), "back": (24 * 12 + 6, "C", "C")},
            "outlets": [("front", "left"), ("back", "right")],
        },
        "runs",
        ["runs.front", "runs.back"],
    ),
    "default-used": ({"runs": FRONT, "defaults": {}}, "defaults.gutter_profile", []),
    "ending-not-said": (
        {"runs": FRONT, "pipes": [{"id": "front-1", "outlet": "front-1", "ends_at": None}]},
        "downpipes.front-1.ends_at",
        [],
    ),
    "value-assumed": (
        {"runs": {"front": (510, "C", "C", {"colour": {"value": "white", "status": "assumed"}})}},
        "runs.front.colour",
        [],
    ),
    "value-inferred": (
        {"runs": {"front": (510, "C", None, {"right_end": {"value": "wall", "status": "inferred"}})}},
        "runs.front.right_end",
        [],
    ),
    "downpipe-sizes-differ": (
        {
            "runs": FRONT,
            "outlets": [("front", "left"), ("front", "right")],
            "pipes": [
                {"id": "front-1", "outlet": "front-1"},
                {"id": "front-2", "outlet": "front-2", "size": {"value": "3x4"}},
            ],
        },
        "downpipes",
        [],
    ),
    "wall-to-fascia-short": (
        {
            "runs": FRONT,
            "pipes": [{"id": "front-1", "outlet": "front-1", "wall_to_fascia": {"value": "2 in"}}],
        },
        "downpipes.front-1.wall_to_fascia",
        [],
    ),
    "no-outlet-wanted": (
        {
            "runs": GABLE,
            "remarks": [
                {"kind": "other", "about": "back", "text": "let it spill", "source": words(2, "let it spill")}
            ],
        },
        "runs.back",
        [],
    ),
    "gutter-beyond": (
        {
            "runs": {"front": (510, "C", "O")},
            "remarks": [
                {
                    "kind": "other",
                    "about": "front",
                    "text": "ties into the existing",
                    "source": words(2, "ties into the existing"),
                }
            ],
        },
        "runs.front",
        [],
    ),
    "number-set-aside": (
        {
            "runs": FRONT,
            "note": ["front", "call 555 0142"],
            "unread": [{"text": "555 0142", "source": words(2, "555 0142", 5), "why": "a phone number"}],
        },
        "unread",
        [],
    ),
    "hazard": (
        {
            "runs": FRONT,
            "remarks": [
                {"kind": "hazard", "about": "front", "text": "power line", "source": words(2, "power line")}
            ],
        },
        "runs.front",
        [],
    ),
}


@pytest.mark.parametrize("code", CODES)
def test_a_sheet_raises_the_code_and_it_holds_exactly_what_rests_on_it(
    sheet_of: Callable[..., Sheet], code: str
) -> None:
    arguments, about, holds = RAISES[code]
    arguments = dict(arguments)
    amended = [_amendment(*arguments.pop("amended"))] if "amended" in arguments else []
    found = [one for one in as_it_stands(sheet_of(**arguments), amended).findings if one.code == code]
    assert found, f"nothing raised {code}"
    assert found[0].kind == CODES[code]
    assert found[0].about == about
    assert found[0].holds == holds
    assert found[0].says.endswith(".") or code == "hazard"
    if found[0].kind in ("gap", "conflict", "doubt"):
        assert found[0].question
        assert found[0].question.endswith("?")


def test_no_code_is_raised_without_being_listed() -> None:
    assert set(RAISES) == set(CODES)
    with pytest.raises(KeyError):
        finding("no-such-code", "runs", "Something.")


def test_every_code_is_documented_and_no_other() -> None:
    raised = set(CODES)
    for path in sorted((DOCS.parents[1] / "src" / "gutterance").rglob("*.py")):
        raised |= set(RAISED.findall(path.read_text(encoding="utf-8")))
    assert set(SECTIONS) == raised
    for code, text in SECTIONS.items():
        assert "**What to do:**" in text, code
        examples = bool(NOTE.search(text)) + bool(SHEET.search(text))
        assert examples == ("No note gives this one" not in text), code


def test_docs_put_each_code_under_its_kind() -> None:
    kind = ""
    for line in DOCS.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            kind = line.removeprefix("## ").removesuffix("s").lower()
        elif line.startswith("### `") and kind != "raised by the layout":
            assert CODES[line.strip("#` ")] == kind


def as_the_docs_show(text: str) -> Standing:
    """The example of a section: a note (with its amendments, if any) read, or a sheet; and checked."""
    shown = NOTE.search(text)
    if shown is not None:
        from gutterance.notes import decode_note
        from gutterance.reading import read_note

        sheet = read_note(decode_note(shown["note"].encode(), "example"))
    else:
        shown = SHEET.search(text)
        assert shown is not None
        whole = {"defaults": ALL_SAID, **json.loads(shown["sheet"])}
        sheet = Sheet.model_validate(whole)
    kept = AMENDMENTS.search(text)
    lines = kept["lines"].splitlines() if kept is not None else []
    return as_it_stands(sheet, [Amendment.model_validate(json.loads(line)) for line in lines])


@pytest.mark.parametrize(
    "code", [code for code, text in SECTIONS.items() if "No note gives this one" not in text]
)
def test_the_example_in_the_docs_raises_its_code_and_no_other(code: str) -> None:
    stands = as_the_docs_show(SECTIONS[code])
    found = stands.findings
    if code not in CODES:  # raised by the layout, when the lists are made
        from gutterance.lists import make_lists
        from gutterance.shop import load_shop

        found = [*found, *make_lists(stands.sheet, stands.findings, load_shop(None)).findings]
    assert {one.code for one in found} == {code}, [(one.code, one.says) for one in found]


def test_every_code_of_the_checker_has_an_example() -> None:
    for code in CODES:
        assert "No note gives this one" not in SECTIONS[code], code


SHORT_ANSWERS = {
    "roof-run-against-depth": ("14-3", {"runs.front.roof_run": "171 in"}),
    # code: a few words, and what they settle in the example of the docs
    "length-missing": ("42-6", {"runs.back.length": "510 in"}),
    "end-missing": ("end cap", {"runs.front.right_end": "end cap"}),
    "corner-unpartnered": ("end cap", {"runs.front.right_end": "end cap"}),
    "run-missing": ("28-3", "left side 28-3, left end outside corner, right end outside corner"),
    "outlet-missing": ("left end", "back: drop left end"),
    "outlets-not-said": ("front left and back right", "Drop front left and back right"),
    "outlet-place-missing": ("left", {"outlets.front-1.place": "left"}),
    "outlet-downpipe-missing": ("w/f 24, height 9-4", "front: drop right, w/f 24, height 9-4"),
    "downpipe-outlet-missing": ("front left", {"downpipes.front-2.outlet": "front-1"}),
    "wall-to-fascia-missing": ("24", {"downpipes.front-1.wall_to_fascia": "24 in"}),
    "height-missing": ("9 4", {"downpipes.front-1.height": "112 in"}),
    "two-values": ("9-8", {"downpipes.front-1.height": "116 in"}),
    "outlet-beyond-run": ("10 feet", {"outlets.front-1.distance": "120 in"}),
    "total-mismatch": ("2", {"totals.downpipes": "2"}),
    "corner-mismatch": (
        "inside",
        {"runs.front.right_end": "inside corner", "runs.right-side.left_end": "inside corner"},
    ),
    "corner-angle-mismatch": ("45", {"runs.front.right_angle": "45", "runs.side.left_angle": "45"}),
    "turns-off": (
        "a",
        {"runs.right-side.right_end": "outside corner", "runs.back.left_end": "outside corner"},
    ),
    "walls-do-not-close": ("back 50-0", {"runs.back.length": "600 in"}),
    "overall-against-parts": ("it is the overall", {"runs.front": "none"}),
    "outlet-run-unknown": ("the front", {"outlets.porch-1.run": "front"}),
    "downpipe-outlet-unknown": ("front left", {"downpipes.front-2.outlet": "front-1"}),
    "value-doubtful": ("yes", {"runs.front.length": "504 in"}),
    "length-worked-out": ("yes", {"runs.back.length": "510 in"}),
    "unread-number": ("a job number", {"unread.1": "none"}),
    "value-implausible": ("9 4", {"downpipes.front-1.height": "112 in"}),
    "height-against-storey": ("19 4", {"downpipes.upper-front-1.height": "232 in"}),
    "heights-against-each-other": ("19 4", {"downpipes.upper-front-1.height": "232 in"}),
    "outlets-same-place": ("right", {"outlets.front-2.place": "right"}),
    "outlets-close": ("20 feet", {"outlets.front-2.distance": "240 in"}),
    "overhangs-differ": ("b", {"downpipes.front-2.wall_to_fascia": "24 in"}),
    "heights-differ": ("b", {"downpipes.front-2.height": "112 in"}),
    "gutters-meet-unlike": (
        "5",
        {"runs.front.gutter_size": "5 in", "runs.right-side.gutter_size": "5 in"},
    ),
    "outlet-at-high-point": ("right", {"outlets.front-1.place": "right"}),
    "lower-gutter-missing": ("it is there already", {"downpipes.front-1.ends_at": "lower gutter"}),
    "hangers-against-snow": ("16", {"defaults.hanger_spacing": "16 in"}),
    "opposite-eaves-differ": ("yes", {"runs.front.length": "510 in", "runs.back.length": "294 in"}),
}
IN_MORE_WORDS = {
    # code: why its question takes more than a few words
    "no-runs": "the walk begins",
    "downpipes-not-said": "several measurements each",
    "value-missing": "any field",
    "walls-cross": "any corner or length",
    "id-twice": "a sheet written by hand",
    "next-run-unknown": "a sheet written by hand",
    "next-run-twice": "a sheet written by hand",
    "amendment-fits-nothing": "the office's own",
    "amendment-unreadable": "the office's own",
    "amendment-overtaken": "the office's own",
    "note-damaged": "a file's damage",
    "ridges-differ": "one of six values",
}


@pytest.mark.parametrize("code", [code for code, kind in CODES.items() if kind in HOLDING])
def test_every_question_is_answered_in_a_few_words(code: str) -> None:
    if code in IN_MORE_WORDS:
        return
    answer, settles = SHORT_ANSWERS[code]
    stands = as_the_docs_show(SECTIONS[code])
    asked = [one for one in open_questions(stands.sheet, stands.findings) if code in one.codes]
    settled = settle_answer(asked[0], answer, stands.sheet)
    assert settled is not None
    if isinstance(settles, str):
        assert settled.say == settles
        told = as_it_stands(read_note([*stands.sheet.note, settles]))
        assert code not in {one.code for one in told.findings}
    else:
        assert {change.path: change.value for change in settled.changes} == settles
        made = [
            Amendment(path=path, value=value, by="Ann", when="2026-05-04", why="answer")
            for path, value in settles.items()
        ]
        assert code not in {one.code for one in as_it_stands(stands.sheet, made).findings}
    assert len(answer.split()) <= 5

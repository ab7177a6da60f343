"""No number stands on a printed paper that the lists, the sheet and its findings do not have.

The other way round, that all of theirs are on paper, is in test_pdf.py. Lengths are held strictly, feet,
inches and fraction together; bare numbers (counts, angles, clauses) against those of the data, what is
counted of it, and the numbers of rows.
"""

from __future__ import annotations

import io
import re
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

import pytest
from houses import four_sides, outlet, pipe, run, sheet
from pydantic import BaseModel
from pypdf import PdfReader
from random_houses import random_house

from gutterance.checking import as_it_stands, check_sheet
from gutterance.cli.demonstration import example_note
from gutterance.lists import make_lists
from gutterance.measure.length import Length
from gutterance.notes import open_note
from gutterance.reading import read_note
from gutterance.render.paper_names import PDFS
from gutterance.render.papers import papers
from gutterance.render.plain import cut, short, tape
from gutterance.render.sheet_code import sheet_code
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.checking.findings import Finding
    from gutterance.lists.models import Lists
    from gutterance.render.paper_names import PaperSize
    from gutterance.sheet.models import Sheet

SHOP = load_shop()
FRACTION = r"\d+/\d+"
LENGTH = re.compile(
    rf"\d+' \d+ {FRACTION}\"|\d+' \d+\"|\d+' {FRACTION}\"|\d+ {FRACTION}\"|{FRACTION}\"|\d+\""
    r"|[\d,]+(?:\.\d+)? mm\b"
)
NUMBER = re.compile(r"\d+(?:[./]\d+)*")
SHOP_RULES = (
    # what the papers say of the shop's own rules, which are no numbers of this house
    r"Falls at least [^;]*; hangers",
    r"\S+ is left for each saw cut",
    r"Shop rules \([^)]*\): [^;]*; [^;]*; [^;]*; squaring trim [^.]*\.",
)


def normal(text: str) -> str:
    return " ".join(text.replace("\xa0", " ").split())


def parts(value: Any) -> Iterator[Any]:
    """Every length, number and text in plain data or models."""
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from parts(getattr(value, name))
    elif isinstance(value, dict):
        for one in value.values():
            yield from parts(one)
    elif isinstance(value, (list, tuple)):
        for one in value:
            yield from parts(one)
    elif value is not None and not isinstance(value, bool):
        yield value


class Known:
    """What may stand on the papers of a job."""

    def __init__(self, lists: Lists, house: Sheet, findings: Sequence[Finding]) -> None:
        every = list(parts([lists, house, *findings]))
        texts = [normal(one) for one in every if isinstance(one, str)]
        self.lengths = {found for text in texts for found in LENGTH.findall(text)}
        for one in every:
            if isinstance(one, Length):
                self.lengths |= {normal(way(one)) for way in (tape, cut, short)}
        measured = [run.length.value for run in house.runs if run.length is not None and run.length.value]
        if measured:
            whole = Length(sum((one.inches for one in measured), Fraction(0)), measured[0].system)
            self.lengths.add(normal(tape(whole)))
        self.names = sorted({text for text in texts if NUMBER.search(text)}, key=len, reverse=True)
        self.numbers = {found for text in texts for found in NUMBER.findall(LENGTH.sub(" ", text))}
        self.numbers |= {f"{one:g}" for one in every if isinstance(one, (int, float))}
        counted = [
            len(lists.pieces), len(lists.downpipes), len(lists.hardware), len(house.runs), len(house.outlets),
            *(one.count + one.spare for one in lists.hardware),
        ]  # fmt: skip
        held = [sum(bool(one.hold) for one in group) for group in (lists.pieces, lists.downpipes)]
        counted += [*held, len(lists.pieces) - held[0], len(lists.downpipes) - held[1]]
        counted += [len(findings) + len(lists.findings)]
        self.numbers |= {str(one) for one in counted}
        # rows are numbered: pieces in the machine's order, questions, dangers
        rows = max(len(lists.pieces), len(findings) + len(lists.findings), len(lists.cautions))
        self.numbers |= {str(one) for one in range(1, rows + 1)}


def not_known(text: str, known: Known) -> list[str]:
    """The lengths and numbers of a page that are none of the job's."""
    text = normal(text)
    for one in SHOP_RULES:
        text = re.sub(one, " ", text)
    wrong = [found for found in LENGTH.findall(text) if found not in known.lengths]
    left = LENGTH.sub(" ", text)
    for name in known.names:
        left = left.replace(name, " ")
    return wrong + [found for found in NUMBER.findall(left) if found not in known.numbers]


def pages(reader: PdfReader, house: Sheet, lists: Lists) -> Iterator[str]:
    """The text of each page without its head and foot."""
    for number, page in enumerate(reader.pages, start=1):
        text = page.extract_text()
        foot = f"sheet {sheet_code(house, lists)} {lists.made_by or ''} page {number} of {len(reader.pages)}"
        assert normal(foot) in normal(text)
        yield normal(text).replace(normal(foot), " ")


def held_house() -> Sheet:
    return sheet(
        [
            run("front", "1200 3/16 in", "out out"),
            run("right side", None, "out cap"),
            run("porch", "152 in", "wall cap"),
        ],
        [outlet("front-1", "front", "left"), outlet("front-2", "front", "right"), outlet("porch-1", "porch")],
        [pipe("front-1"), pipe("front-2", "24 in", None), pipe("porch-1", "14 in", "300 in")],
    )


@cache
def demo() -> tuple[Sheet, tuple[Finding, ...]]:
    stands = as_it_stands(read_note(open_note(example_note())))
    return stands.sheet, tuple(stands.findings)


def job(name: str) -> tuple[Sheet, list[Finding]]:
    if name == "demo":
        house, findings = demo()
        return house, list(findings)
    made = {"four sides": four_sides, "held": held_house}
    house = made[name]() if name in made else random_house(int(name))
    return house, check_sheet(house)


def checked(house: Sheet, findings: list[Finding], size: PaperSize) -> list[tuple[str, str]]:
    lists = make_lists(house, findings, SHOP)
    known = Known(lists, house, findings)
    files = papers(lists, house, findings, SHOP, size, tuple(PDFS))
    return [
        (paper, one)
        for paper, (file, _) in PDFS.items()
        for page in pages(PdfReader(io.BytesIO(files[file])), house, lists)
        for one in not_known(page, known)
    ]


@pytest.mark.parametrize(
    ("name", "size"),
    [
        *((name, size) for name in ("four sides", "held", "demo") for size in ("letter", "a4")),
        *((str(seed), "letter") for seed in range(2, 42, 4)),
    ],
)  # fmt: skip
def test_no_number_is_on_paper_that_the_lists_do_not_have(name: str, size: PaperSize) -> None:
    assert checked(*job(name), size) == []


@pytest.mark.parametrize("paper", ["cut", "install"])
def test_a_number_of_another_house_would_be_seen(paper: str) -> None:
    """The papers of one house held against the lists of another that is 1/16 in longer on one side."""
    house, findings = demo()
    lists = make_lists(house, list(findings), SHOP)
    data = papers(lists, house, list(findings), SHOP, "letter", (paper,))[PDFS[paper][0]]
    longer = house.model_copy(deep=True)
    back = longer.run("back")
    assert back is not None
    assert back.length is not None
    assert back.length.value is not None
    sixteenth = Length.from_file_text("1/16 in").inches
    back.length.value = Length(back.length.value.inches + sixteenth)
    other = make_lists(longer, list(findings), SHOP)
    known = Known(other, longer, findings)
    seen = [
        one for page in pages(PdfReader(io.BytesIO(data)), house, lists) for one in not_known(page, known)
    ]
    assert "40' 6 1/8\"" in seen if paper == "cut" else "40' 6\"" in seen


def test_each_strip_has_its_own_runs_marks_in_order() -> None:
    house, findings = demo()
    lists = make_lists(house, list(findings), SHOP)
    data = papers(lists, house, list(findings), SHOP, "letter", ("install",))[PDFS["install"][0]]
    text = " ".join(pages(PdfReader(io.BytesIO(data)), house, lists))
    names = {one.id: one.name for one in house.runs}
    assert len(lists.hangers) == 12
    for hangers in lists.hangers:
        marks = " ".join(f"{tape(at)}{short(low)}" for at, low in zip(hangers.at, hangers.below, strict=True))
        strip = text.index(normal(marks))
        head = text.rindex(names[hangers.run], 0, strip)
        assert strip - head < 60, hangers.run

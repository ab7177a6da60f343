"""The printed papers: all of lists.json is on them as text to select, and no words of a note run."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import given, settings
from pypdf import PdfReader
from random_houses import random_house

from gutterance.checking import check_sheet
from gutterance.lists import make_lists
from gutterance.render.paper_names import PDFS
from gutterance.render.papers import papers
from gutterance.render.plain import cut, harmless, short, tape
from gutterance.render.sheet_code import sheet_code
from gutterance.sheet.amendments import Amendment, apply_amendments
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from gutterance.lists.models import Lists
    from gutterance.measure.length import Length
    from gutterance.render.paper_names import PaperSize
    from gutterance.sheet.models import Sheet

SHOP = load_shop()


def made(house: Sheet, size: PaperSize = "letter") -> tuple[Lists, dict[str, PdfReader]]:
    findings = check_sheet(house)
    lists = make_lists(house, findings, SHOP)
    files = papers(lists, house, findings, SHOP, size, tuple(PDFS))
    return lists, {name: PdfReader(io.BytesIO(files[file])) for name, (file, _) in PDFS.items()}


def squeezed(text: str) -> str:
    """Without white space, so that a line end within a sentence does not hide it."""
    return re.sub(r"\s", "", text)


def text_of(reader: PdfReader) -> str:
    return squeezed("".join(page.extract_text() for page in reader.pages))


def held_house() -> Sheet:
    """A house with a question open on a run and on a pipe, a lap, and a wall end."""
    return sheet(
        [
            run("front", "1200 3/16 in", "out out"),
            run("right side", None, "out cap"),
            run("porch", "152 in", "wall cap"),
        ],
        [outlet("front-1", "front", "left"), outlet("front-2", "front", "right"), outlet("porch-1", "porch")],
        [pipe("front-1"), pipe("front-2", "24 in", None), pipe("porch-1", "14 in", "300 in")],
    )


def check_all_on_paper(lists: Lists, texts: dict[str, str]) -> None:
    """Every piece, length and hold of the lists stands on the paper of those it concerns."""

    def on(paper: str, what: str, *lengths: Length | None) -> None:
        for one in lengths:
            if one is not None:
                ways = {squeezed(way(one)) for way in (tape, cut, short)}
                assert any(way in texts[paper] for way in ways), (paper, what, one)

    for piece in lists.pieces:
        assert squeezed(piece.id) in texts["cut"]
        on("cut", piece.id, piece.back, piece.front, piece.blank, piece.coil, piece.left_tab, piece.right_tab)
        for hole in piece.outlets:
            on("cut", hole.id, hole.from_left, hole.from_right, hole.blank_from_left, hole.blank_from_right)
        if piece.of > 1:
            on("install", piece.id, piece.starts_at)
    for fall in lists.falls:
        on("install", fall.run, fall.at, fall.below_high_point)
    for hangers in lists.hangers:
        on("install", hangers.run, *hangers.at, *hangers.below, hangers.spacing)
    for movement in lists.movements:
        on("install", movement.run, movement.moves, *movement.joints)
    for one in lists.downpipes:
        assert squeezed(one.id) in texts["install"]
        on("install", one.id, one.gooseneck, one.drop, one.wall_pipe, *one.wall_cuts, one.tail, one.trim,
           *one.straps, one.other_gooseneck, one.other_drop)  # fmt: skip
        for bend in one.bends:
            on("install", one.id, *bend.cuts, bend.drop, bend.above_foot)
    for stock in lists.pipe_cuts:
        on("cut", "stock", stock.stock, *stock.cuts, stock.left_over)
    for coil in lists.coil_runs:
        on("cut", coil.coil, coil.total, coil.order, coil.lost, coil.left_over)
        on("load", coil.coil, coil.total, coil.order, coil.lost)
    for step in lists.machine_steps:
        assert squeezed(harmless(step.why)) in texts["cut"]
        assert all(squeezed(one) in texts["cut"] for one in step.hang)
    for item in lists.hardware:
        assert squeezed(item.item) in texts["load"]
        assert squeezed(str(item.count + item.spare)) in texts["load"]
    for holder, paper in [*((p, "cut") for p in lists.pieces), *((p, "install") for p in lists.downpipes)]:
        for hold in holder.hold:
            assert squeezed(harmless(hold.says)).rstrip(".") in texts[paper]
            if hold.question:
                assert squeezed(harmless(hold.question)) in texts[paper]


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("house", [four_sides(), held_house()], ids=["whole", "held"])
def test_every_piece_length_and_hold_is_on_paper(house: Sheet, size: PaperSize) -> None:
    lists, readers = made(house, size)
    check_all_on_paper(lists, {name: text_of(reader) for name, reader in readers.items()})


@pytest.mark.parametrize("seed", range(0, 60, 5))
def test_and_of_random_houses(seed: int) -> None:
    lists, readers = made(random_house(seed))
    check_all_on_paper(lists, {name: text_of(reader) for name, reader in readers.items()})


def test_a_changed_length_would_be_missed() -> None:
    lists, readers = made(four_sides())
    texts = {name: text_of(reader) for name, reader in readers.items()}
    back = lists.pieces[0].back
    assert back is not None
    lists.pieces[0].back = type(back)(back.inches + 1)
    with pytest.raises(AssertionError):
        check_all_on_paper(lists, texts)


@pytest.mark.parametrize(("size", "points"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_each_page_has_its_size_job_number_and_code(size: PaperSize, points: tuple[int, int]) -> None:
    house = held_house()
    lists, readers = made(house, size)
    for name, reader in readers.items():
        for number, page in enumerate(reader.pages, start=1):
            text = page.extract_text()
            assert (round(page.mediabox.width), round(page.mediabox.height)) == points
            assert f"page {number} of {len(reader.pages)}" in text, name
            assert sheet_code(house, lists) in text
            assert "31 Dunmarrow Street" in text


def test_the_code_changes_with_the_sheet_and_with_the_shop_only() -> None:
    house = four_sides()
    lists = make_lists(house, [], SHOP)
    code = sheet_code(house, lists)
    assert re.fullmatch(r"[A-HJ-NP-Z2-9]{3}-[A-HJ-NP-Z2-9]{3}", code)
    again = four_sides()
    again.made_by = "another version"
    assert sheet_code(again, make_lists(again, [], SHOP)) == code
    again.runs[0].length = type(again.runs[0].length).model_validate(reading("510 1/16 in"))
    assert sheet_code(again, make_lists(again, [], SHOP)) != code
    lists.pieces[0].colour = "brown"
    assert sheet_code(house, lists) != code


def test_what_is_on_hold_stands_apart_and_out_of_order() -> None:
    lists, readers = made(held_house())
    text = text_of(readers["cut"])
    at = text.index("ONHOLD:DONOTMAKE")
    for piece in lists.pieces:
        assert (text.index(squeezed(f"{piece.id}{piece.run_name},5")) > at) == bool(piece.hold), piece.id
    assert "ONHOLD:DONOTCUT" in text_of(readers["install"])


def test_the_office_sees_who_put_what_right() -> None:
    house = four_sides()
    who = {"by": "Office desk", "when": "2026-01-02T03:04:05Z", "why": "measured again"}
    amendment = Amendment(path="runs.front.length", value="512 in", was="510 in", **who)
    _, readers = made(apply_amendments(house, [amendment]).sheet)
    text = text_of(readers["office"])
    for one in ("runs.front.length", "42' 6\"", "42' 8\"", "Office desk, 2026-01-02 03:04: measured again"):
        assert squeezed(one) in text


def test_the_same_job_gives_the_same_bytes() -> None:
    house = four_sides()
    lists = make_lists(house, [], SHOP)
    assert papers(lists, house, [], SHOP) == papers(lists, house, [], SHOP)


@pytest.mark.parametrize(
    "title",
    [
        "12/14 Mill \\ Lane",
        "\"quoted\" 'and' `ticked`",
        "🏠 Roof end",
        "بيت الحجر 12",
        "בית 7 \u202egnal",
        "w" * 300,
        "word " * 60,
        "<script>alert(1)</script>&lt;",
        '\\input{/etc/passwd} $x$ #read("paper.typ") *b* @ref',
        "=cmd()|' /C calc'!A0",
        "\x00\x1b[31m\ufffe",
        "",
    ],
)
def test_a_title_is_inert(title: str) -> None:
    house = held_house()
    house.title = title
    house.runs[0].name = title or "front"
    lists, readers = made(house)
    for name, reader in readers.items():
        assert len(reader.pages) >= 1
        root = reader.trailer["/Root"]
        assert not {"/OpenAction", "/AA", "/AcroForm"} & set(root), name
        assert not any(
            "/A" in (note.get_object() or {}) for page in reader.pages for note in page.get("/Annots", [])
        )
    if title.isascii() and title.isprintable() and title:
        assert squeezed(title) in text_of(readers["cut"])
    assert lists.title == title


@settings(max_examples=25, deadline=None)
@given(any_sheet())
def test_any_sheet_can_be_printed(house: Sheet) -> None:
    _, readers = made(house)
    assert all(len(reader.pages) >= 1 for reader in readers.values())

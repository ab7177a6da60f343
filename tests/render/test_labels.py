"""Labels: one for each piece and each cut of pipe, on the shop's grid, read back from the PDF."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Any

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings
from pypdf import PdfReader
from random_houses import random_house
from titles import TITLES

from gutterance.checking import check_sheet
from gutterance.lists import make_lists
from gutterance.lists.pipe_cutting import cuts_of
from gutterance.render.drawing.label import draw_label
from gutterance.render.label_facts import OUTLETS_A_LABEL, label_facts
from gutterance.render.papers import papers
from gutterance.render.pdf.label_pages import label_pages
from gutterance.render.plain import cut, tape
from gutterance.render.sheet_code import sheet_code
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.lists.models import Lists
    from gutterance.render.paper_names import PaperSize
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop

SHOP = load_shop()
SMALL = """
[labels.letter]
columns = 3
rows = 10
width = "2 1/2 in"
height = "1 in"
left = "1/4 in"
top = "1/2 in"
gap_across = "1/8 in"
"""


def made(
    house: Sheet, size: PaperSize = "letter", first: int = 1, shop: Shop = SHOP
) -> tuple[Lists, PdfReader]:
    findings = check_sheet(house)
    lists = make_lists(house, findings, shop)
    data = papers(lists, house, findings, shop, size, ("labels",), first)["labels.pdf"]
    return lists, PdfReader(io.BytesIO(data))


def held_house() -> Sheet:
    return sheet(
        [
            run("front", "1200 3/16 in", "out out"),
            {**run("right side", None, "out cap"), "length": reading("300 1/2 in", "doubtful")},
            run("porch", "152 in", "wall cap"),
            run("shed", None, "cap cap"),
        ],
        [outlet("front-1", "front", "left"), outlet("front-2", "front", "right"), outlet("porch-1", "porch")],
        [pipe("front-1"), pipe("front-2", "24 in", None), pipe("porch-1", "14 in", "300 in")],
    )


def squeezed(text: str) -> str:
    return re.sub(r"\s", "", text)


def words_on(reader: PdfReader) -> list[tuple[int, float, float, str]]:
    """Each run of words with its page and place [pt] from the page's left and top."""
    out: list[tuple[int, float, float, str]] = []
    for number, page in enumerate(reader.pages):
        high = float(page.mediabox.height)

        def seen(
            text: str, ours: Any, matrix: Any, *_: Any, number: int = number, high: float = high
        ) -> None:
            if text.strip():
                x = matrix[4] * ours[0] + matrix[5] * ours[2] + ours[4]
                y = matrix[4] * ours[1] + matrix[5] * ours[3] + ours[5]
                out.append((number, x, high - y, text))

        page.extract_text(visitor_text=seen)
    return out


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("house", [four_sides(), held_house(), *map(random_house, (3, 7, 20))])
def test_every_piece_and_pipe_part_has_a_label_with_its_lengths(house: Sheet, size: PaperSize) -> None:
    lists, reader = made(house, size)
    text = squeezed("".join(page.extract_text() for page in reader.pages))
    code = sheet_code(house, lists)
    facts = label_facts(lists, code)
    assert text.count(squeezed(code)) == len(facts)
    for piece in lists.pieces:
        mine = [one for one in facts if one.name == piece.id and one.piece is not None]
        assert len(mine) == max(1, -(len(piece.outlets) // -OUTLETS_A_LABEL))
        for one in (piece.back, piece.front, piece.coil):
            assert one is None or squeezed(tape(one)) in text
        for hole in piece.outlets:
            at = tape(hole.from_left)
            assert any(f"{hole.id}: {at} from left" in says for one in mine for says in one.below)
            assert squeezed(f"{hole.id}: {at} from left") in text
        assert all(bool(one.held) == bool(piece.hold) for one in mine)
    for down in lists.downpipes:
        for length, part in cuts_of(down):
            assert squeezed(part) in text
            assert squeezed(cut(length)) in text
    held = sum(bool(one.held) for one in facts)
    assert text.count("ONHOLD:DONOT") == held
    assert (held > 0) == lists.on_hold


def test_what_is_on_hold_comes_last_and_says_so() -> None:
    lists, _ = made(held_house())
    facts = label_facts(lists, "AAA-AAA")
    held = [bool(one.held) for one in facts]
    assert held == sorted(held)
    assert [one.name for one in facts][: len(lists.machine_order)] == lists.machine_order
    shed = next(one for one in facts if one.name == "shed-1")
    assert (shed.length, shed.held) == ("length ?", "ON HOLD: DO NOT MAKE")
    assert any(says.startswith("? ") for says in shed.below)


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("first", [1, 4, 10])
def test_words_stay_on_their_label_from_the_first_one_asked_for(size: PaperSize, first: int) -> None:
    lists, reader = made(held_house(), size, first)
    grid = SHOP.labels[size]
    facts = label_facts(lists, "")
    used = set()
    for page, x, y, text in words_on(reader):
        corners = [
            (float(left) * 72, float(top) * 72) for left, top in map(grid.place, range(grid.on_a_page))
        ]
        wide, high = float(grid.width.inches) * 72, float(grid.height.inches) * 72
        at = [
            number
            for number, (left, top) in enumerate(corners)
            if left <= x < left + wide and top <= y < top + high
        ]
        assert len(at) == 1, (x, y, text)
        used.add(page * grid.on_a_page + at[0] + 1)
    assert used == set(range(first, first + len(facts)))


def test_a_small_label_has_all_of_it_within_its_edge(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text(SMALL, encoding="utf-8")
    shop = load_shop(tmp_path / "shop.toml")
    lists, reader = made(held_house(), shop=shop)
    grid = shop.labels["letter"]
    for page in label_pages(lists, "AAA-AAA", grid):
        for (left, top), scene in page:
            for text in scene.texts():
                box = text.box()
                assert box.left >= -0.5, text
                assert box.right <= scene.width + 0.5, text
                assert box.top >= -1, text
                assert box.bottom <= scene.height + 1, text
            assert left >= float(grid.left.inches) * 72
            assert top >= float(grid.top.inches) * 72
    assert len(reader.pages) == 1


def overlapping(scene: Any) -> list[tuple[str, str]]:
    boxes = [(text.box(), text.text) for text in scene.texts() if text.text.strip()]
    return [
        (one, other)
        for number, (box, one) in enumerate(boxes)
        for other_box, other in boxes[:number]
        if box.grown(-0.6).overlaps(other_box.grown(-0.6))
    ]


@pytest.mark.parametrize("width", [180.0, 270.0, 540.0])
@pytest.mark.parametrize("house", [held_house(), *map(random_house, range(0, 40, 4))])
def test_no_words_of_a_label_lie_over_others(house: Sheet, width: float) -> None:
    lists, _ = made(house)
    for facts in label_facts(lists, "AAA-AAA"):
        assert not overlapping(draw_label(facts, width, width / 2)), facts.name


@pytest.mark.parametrize("title", TITLES)
def test_a_title_is_inert(title: str) -> None:
    house = held_house()
    house.title = title
    for one in house.runs:
        one.name = title or "front"
    lists, reader = made(house)
    assert not {"/OpenAction", "/AA", "/AcroForm"} & set(reader.trailer["/Root"])  # type: ignore[arg-type]
    assert not any(page.get("/Annots") for page in reader.pages)
    for facts in label_facts(lists, "AAA-AAA"):
        for text in draw_label(facts, 270, 126).texts():
            assert text.box().right <= 270.5


def test_more_outlets_than_have_room_get_labels_of_their_own() -> None:
    house = sheet(
        [run("front", "600 in", "cap cap")],
        [outlet(f"front-{number}", "front", "left", f"{20 + 60 * number} in") for number in range(1, 9)],
    )
    lists, reader = made(house)
    facts = label_facts(lists, "")
    assert len(facts) == 3
    assert "label 2 of 3" in facts[1].beside[2]
    text = squeezed(reader.pages[0].extract_text())
    assert all(squeezed(f"front-{number}: {tape(hole.from_left)} from left") in text
               for number, hole in enumerate(lists.pieces[0].outlets, start=1))  # fmt: skip


def test_lengths_of_one_wall_pipe_are_told_apart() -> None:
    lists, _ = made(held_house())
    facts = {one.name: one.beside[1] for one in label_facts(lists, "")}
    assert [facts[f"porch-1 wall pipe {number}"] for number in (1, 2, 3)] == [
        f"{number} of 3 from the top" for number in (1, 2, 3)
    ]
    assert facts["front-1 wall pipe"] == facts["porch-1 gooseneck"] == ""


def test_no_label_where_there_is_nothing_to_make() -> None:
    _, reader = made(sheet([]))
    assert "Nothing to label yet." in reader.pages[0].extract_text()


def test_the_same_job_gives_the_same_bytes() -> None:
    house = four_sides()
    lists = make_lists(house, [], SHOP)
    one, other = (papers(lists, house, [], SHOP, only=("labels",))["labels.pdf"] for _ in range(2))
    assert one == other


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(any_sheet())
def test_any_sheet_can_be_labelled(house: Sheet) -> None:
    lists = make_lists(house, [], SHOP)
    for facts in label_facts(lists, "AAA-AAA"):
        for text in draw_label(facts, 270, 126).texts():
            assert text.box().left >= -0.5
            assert text.box().right <= 270.5

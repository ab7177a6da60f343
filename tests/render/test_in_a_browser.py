"""The drawings in a real browser: shown whole, words where they were meant to be, none over another."""

from __future__ import annotations

import base64
from typing import TYPE_CHECKING, Any

import pytest
from houses import four_sides, outlet, pipe, run, sheet
from random_houses import random_house

from gutterance.checking import as_it_stands
from gutterance.cli.demonstration import example_note
from gutterance.lists import make_lists
from gutterance.notes import open_note
from gutterance.reading import read_note
from gutterance.render.drawing.plan import draw_plan
from gutterance.render.drawing.scene import Text
from gutterance.render.drawing.svg import svg_text
from gutterance.render.paper_names import DRAWINGS
from gutterance.render.papers import papers
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page

    from gutterance.sheet.models import Sheet

SHOP = load_shop()
# Where each text is on the screen, by the ink that letters have: of the font's box, what is above a capital
# and most of what is below the line is left out.
WHERE = """() => [...document.querySelectorAll('svg text')].map(text => {
  const box = text.getBoundingClientRect(), turned = text.hasAttribute('transform');
  const [above, below] = [0.22, 0.14];
  return turned
    ? [text.textContent, box.left + above * box.width, box.top, box.right - below * box.width, box.bottom]
    : [text.textContent, box.left, box.top + above * box.height, box.right, box.bottom - below * box.height];
})"""
# How many dots of a picture are dark, and how many are coloured.
INK = """async (address) => {
  const picture = new Image();
  picture.src = address;
  await picture.decode();
  const paper = document.createElement('canvas');
  paper.width = picture.naturalWidth;
  paper.height = picture.naturalHeight;
  const pen = paper.getContext('2d');
  pen.drawImage(picture, 0, 0);
  const dots = pen.getImageData(0, 0, paper.width, paper.height).data;
  let dark = 0, coloured = 0;
  for (let at = 0; at < dots.length; at += 4) {
    const [red, green, blue] = dots.slice(at, at + 3);
    if (red + green + blue < 300) dark += 1;
    if (Math.max(red, green, blue) - Math.min(red, green, blue) > 60) coloured += 1;
  }
  return {wide: paper.width, high: paper.height, dark, coloured};
}"""


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """A page that may fetch nothing."""
    context = browser.new_context(offline=True)
    opened = context.new_page()
    yield opened
    context.close()


def demo_drawings() -> dict[str, str]:
    stands = as_it_stands(read_note(open_note(example_note())))
    lists = make_lists(stands.sheet, stands.findings, SHOP)
    made = papers(lists, stands.sheet, stands.findings, SHOP, "letter", tuple(DRAWINGS))
    return {name: made[file].decode() for name, file in DRAWINGS.items()}


def plan_of(house: Sheet) -> str:
    return svg_text(draw_plan(make_lists(house, [], SHOP), house))


def inked(page: Page, svg: str) -> dict[str, Any]:
    address = "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()
    found: dict[str, Any] = page.evaluate(INK, address)
    return found


def texts_of(page: Page, svg: str) -> list[tuple[str, float, float, float, float]]:
    page.set_content(f"<!DOCTYPE html><body style='margin:0'>{svg}</body>")
    return [tuple(one) for one in page.evaluate(WHERE)]


def over_one_another(texts: list[tuple[str, float, float, float, float]]) -> list[tuple[str, str]]:
    """Texts whose ink shares more than a hair, in CSS dots of 1/96 in."""
    found = []
    for at, (words, left, top, right, bottom) in enumerate(texts):
        for other, left2, top2, right2, bottom2 in texts[at + 1 :]:
            wide = min(right, right2) - max(left, left2)
            tall = min(bottom, bottom2) - max(top, top2)
            if wide > 1.0 and tall > 1.0:
                found.append((words, other))
    return found


@pytest.mark.parametrize("name", list(DRAWINGS))
def test_the_demos_drawings_are_shown_whole_and_no_words_over_others(page: Page, name: str) -> None:
    svg = demo_drawings()[name]
    picture = inked(page, svg)
    assert picture["wide"] > 500
    assert picture["dark"] > 3000
    texts = texts_of(page, svg)
    assert len(texts) > 40
    assert over_one_another(texts) == []
    frame = page.evaluate("() => document.querySelector('svg').getBoundingClientRect().toJSON()")
    for words, left, top, right, bottom in texts:
        assert left >= -1, words
        assert right <= frame["right"] + 1, words
        assert top >= -1, words
        assert bottom <= frame["bottom"] + 1, words


def test_black_and_white_first(page: Page) -> None:
    """Printed without its colours a plan loses nothing: colour is a small part of its ink."""
    picture = inked(page, demo_drawings()["plan"])
    assert picture["coloured"] < picture["dark"] / 20


@pytest.mark.parametrize("seed", range(0, 500, 20))
def test_no_label_over_another_in_the_browser(page: Page, seed: int) -> None:
    """Of the 500 random houses of test_plan.py, where rooms are worked out, every twentieth as it is seen."""
    assert over_one_another(texts_of(page, plan_of(random_house(seed)))) == []


def test_words_keep_to_the_room_they_were_given(page: Page) -> None:
    house = four_sides()
    scene = draw_plan(make_lists(house, [], SHOP), house)
    texts = [mark for mark in scene.marks if isinstance(mark, Text)]
    for text, (words, left, _, right, _) in zip(texts, texts_of(page, svg_text(scene)), strict=True):
        assert words == text.text
        assert (right - left) * 0.75 == pytest.approx(
            text.box().width, rel=0.01
        )  # 96 dots to the inch, 72 points
        assert left * 0.75 == pytest.approx(text.box().left, abs=0.5)


@pytest.mark.parametrize(
    "words",
    ["</text><script>document.title='ran'</script>", "بيت الحجر 12", "🏠 Roof end", "w" * 300, "\u202egnal",
     "&lt;b&gt; $\\input{x}$", "<image href='https://example.invalid/x.png'/>", "=cmd()"],
)  # fmt: skip
def test_a_hostile_name_is_only_words(page: Page, words: str) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    house = sheet([run("front", "400 in")], [outlet("o", "front")], [pipe("o")])
    house.runs[0].name = words
    house.title = words
    texts = texts_of(page, plan_of(house))
    assert over_one_another(texts) == []
    assert page.title() != "ran"
    assert page.evaluate("() => document.querySelectorAll('script, image, a').length") == 0
    assert inked(page, plan_of(house))["dark"] > 500
    assert not [one for one in asked if not one.startswith("data:")]


def test_the_measure_sees_an_overlap(page: Page) -> None:
    svg = plan_of(four_sides()).replace("</svg>", '<text x="60" y="60" font-size="400">A</text></svg>')
    assert over_one_another(texts_of(page, svg))

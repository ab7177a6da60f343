"""The grid of label sheets: it lies on the paper, and what does not is named with its keys."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from gutterance.shop import ShopError, load_shop
from gutterance.shop.label_sheets import PAPER_INCHES

if TYPE_CHECKING:
    from pathlib import Path


def test_papers_are_as_their_standards_have_them() -> None:
    # ANSI/ASME Y14.1 size A: 8.5 x 11 in; ISO 216 A4: 210 x 297 mm
    assert PAPER_INCHES["letter"] == (Fraction("8.5"), 11)
    assert [side * Fraction("25.4") for side in PAPER_INCHES["a4"]] == [210, 297]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_default_labels_fill_the_page_and_do_not_overlap(paper: str) -> None:
    grid = load_shop().labels[paper]  # type: ignore[index]
    wide, high = PAPER_INCHES[paper]  # type: ignore[index]
    places = [grid.place(number) for number in range(grid.on_a_page)]
    assert len(set(places)) == grid.columns * grid.rows
    assert places == sorted(places, key=lambda one: (one[1], one[0]))
    for at, (left, top) in enumerate(places):
        assert 0 <= left <= wide - grid.width.inches
        assert 0 <= top <= high - grid.height.inches
        for x, y in places[:at]:
            assert abs(x - left) >= grid.width.inches or abs(y - top) >= grid.height.inches


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("columns = 3", 'labels.letter needs paper 12 1/4" wide, and it is 8 1/2"'),
        ("rows = 6", 'labels.letter needs paper 12 1/2" high, and it is 11": look at top, rows'),
        ('clear = "3/4 in"', 'a clear edge of 3/4" leaves too little to print on of a label 4" by 2"'),
        ('width = "4 mm"', "look at width, height and clear"),
        ('width = "4 ft"', "look at left, columns, width, gap_across"),
        ('height = "2 mm"', "look at width, height and clear"),
        ("columns = 0", "labels.letter.columns"),
        ("colums = 3", "Did you mean 'columns'?"),
    ],
)
def test_a_grid_that_cannot_be_is_named(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(f"[labels.letter]\n{text}\n", encoding="utf-8")
    with pytest.raises(ShopError) as error:
        load_shop(path)
    assert says in str(error.value)

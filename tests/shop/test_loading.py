"""A shop's file: defaults, merging, and errors that name file, line, key and near miss."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from gutterance.shop import ShopError, load_shop
from gutterance.shop.amounts import read_amount
from gutterance.shop.loading import defaults_text

if TYPE_CHECKING:
    from pathlib import Path


def shop_file(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_default_fit_hangers_and_field_rule() -> None:
    # common practice, no source
    shop = load_shop()
    assert shop.fit.outside_corner.inches == Fraction(1, 16)
    assert shop.fit.inside_corner.inches == Fraction(-1, 16)
    assert shop.fit.end_cap.inches == 0
    assert shop.fit.wall.inches == Fraction(-1, 4)
    assert (shop.hangers.spacing.inches, shop.hangers.close_spacing.inches) == (24, 18)
    assert (shop.downpipes.field_less.inches, shop.downpipes.field_drop.inches) == (4, 12)


def test_the_shipped_file_says_where_each_rule_of_thumb_stands() -> None:
    assert defaults_text().count("no source") > 10
    assert "MEASURE YOUR OWN" in defaults_text()


def test_a_file_changes_what_it_names_and_keeps_the_rest(tmp_path: Path) -> None:
    shop = load_shop(shop_file(tmp_path, '[fit]\nwall = "-1/8 in"\n[fall]\nover = "16 ft"\ndrop = "1 in"\n'))
    assert shop.fit.wall.inches == Fraction(-1, 8)
    assert shop.fit.outside_corner.inches == Fraction(1, 16)
    assert shop.fall.over.inches == 192


def test_a_profile_of_the_same_name_and_size_takes_the_place_of_the_shipped_one(tmp_path: Path) -> None:
    text = (
        '[[profiles]]\nname = "K-style"\nsize = "5 in"\ntop_width = "4 7/8 in"\nsole = "3 in"\n'
        'depth = "3 1/2 in"\ncoil_width = "11 7/8 in"\n'
    )
    shop = load_shop(shop_file(tmp_path, text))
    profile = shop.profile("k-style", read_amount("5 in"))
    assert profile is not None
    assert profile.top_width.inches == Fraction(39, 8)
    assert len(shop.profiles) == len(load_shop().profiles)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[fit]\noutside_cornr = "1/8 in"\n', ["line 2", "fit.outside_cornr", "'outside_corner'"]),
        ("[hangrs]\nspacing = 3\n", ["line 1", "hangrs", "'hangers'"]),
        ('# a note\n[fall]\ndrop = "1/4"\n', ["line 3", "fall.drop", "'1/4'", "unit"]),
        ("[fit]\nwall = 3\n", ["line 2", "fit.wall", "unit"]),
        ('[corners]\nmethod = "strip miter"\n', ["line 2", "strip miter", "'strip mitre'"]),
        ('[pieces]\nlongest = "0 in"\n', ["line 2", "pieces.longest", "more than nothing"]),
        ('[usual]\ndownpipe_size = "9x9"\n', ["9x9", "[[pipes]]"]),
        ('[hangers]\nclose_spacing = "30 in"\n', ["close_spacing", "wider"]),
        ('[[pipes]]\nsize = "5x6"\n', ["pipes.1.along", "missing"]),
        ("fit = 3\n", ["fit is a table"]),
        ("pipes = 3\n", ["[[pipes]]"]),
        ("[fit\n", ["not TOML"]),
    ],
)
def test_an_error_names_file_line_key_and_mend(tmp_path: Path, text: str, words: list[str]) -> None:
    path = shop_file(tmp_path, text)
    with pytest.raises(ShopError) as error:
        load_shop(path)
    for word in [str(path), *words]:
        assert word in str(error.value)


def test_a_missing_file_a_folder_and_no_text_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(ShopError, match="no such shop file"):
        load_shop(tmp_path / "none.toml")
    with pytest.raises(ShopError, match="folder"):
        load_shop(tmp_path)
    (tmp_path / "odd.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ShopError, match="UTF-8"):
        load_shop(tmp_path / "odd.toml")


def test_amounts_read_feet_and_refuse_what_has_no_unit() -> None:
    assert read_amount("5 ft 6 1/2 in").inches == Fraction(133, 2)
    assert read_amount("600 mm").mm == 600
    for bad in ("5", "5 yd", "5 ft 3", "", "ft"):
        with pytest.raises(ValueError, match="unit"):
            read_amount(bad)


@pytest.mark.parametrize(("size", "along", "out"), [("75x50 mm", 75, 50), ("100x75 mm", 100, 75)])
def test_pipes_of_metric_crews_lie_long_side_along_the_gutter(size: str, along: int, out: int) -> None:
    # generic shapes, no source; an inch is 25.4 mm exactly (NIST Special Publication 811, appendix B.8)
    shape = load_shop().pipe(size)
    assert shape is not None
    assert (shape.along.inches, shape.out.inches) == (Fraction(along * 10, 254), Fraction(out * 10, 254))

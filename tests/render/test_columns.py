"""Rows lined up in columns, and what happens to a last column too long for the paper."""

from __future__ import annotations

from gutterance.lists.models import Lists, Piece
from gutterance.render.plain import WIDTH, column_rows, columns
from gutterance.render.text import cut_list
from gutterance.shop import load_shop


def test_a_long_last_cell_is_wrapped_within_its_own_row() -> None:
    rows = [["a", "short"], ["bb", "a word " * 40], ["c", "short"]]
    lined = column_rows(rows)
    assert [len(lines) > 1 for lines in lined] == [False, True, False]
    assert [line for lines in lined for line in lines] == columns(rows)
    assert all(len(line) <= WIDTH for line in columns(rows))


def test_a_piece_whose_corner_angle_is_wrapped_is_still_listed() -> None:
    # Long fractions and corners that are not square: together just wider than the paper.
    piece = Piece(
        id="front-1",
        run="front",
        back="173 15/16 in",
        front="171 15/16 in",
        coil="174 15/16 in",
        left="outside mitre",
        right="inside mitre",
        left_angle="45",
        right_angle="22 1/2",
    )
    lists = Lists.model_validate(
        {"step": "1/16 in", "rounding": "nearest", "pieces": [piece], "machine_order": [piece.id]}
    )
    paper = cut_list(lists, load_shop(None))
    assert "front-1" in paper
    assert "22 1/2°" in " ".join(paper.split())

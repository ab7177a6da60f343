"""The cautions file: each row with its source, and an error that names the row."""

from __future__ import annotations

import pytest

from gutterance.lists.cautions import CautionsError, read_cautions, usual_cautions


def test_the_shipped_cautions_name_the_usual_dangers_and_their_rules() -> None:
    text = " ".join(f"{one.says} {one.source}" for one in usual_cautions()).lower()
    # 29 CFR 1926.1053(b)(5)(i): foot a quarter of the working length out; 40 CFR 745: paint before 1978
    for word in (
        "1 for every 4",
        "1926.1053(b)(5)(i)",
        "10 ft",
        "sharp",
        "guards",
        "1978",
        "40 cfr 745",
        "local code",
    ):
        assert word in text


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[[cautions]]\nsays = "a"\nsource = "b"\n[[cautions]]\nsays = "c"\n', "row 2: no source"),
        ('[[cautions]]\nsay = "a"\nsource = "b"\n', "row 1: say"),
        ("[[cautions]\n", "not TOML"),
    ],
)
def test_a_bad_row_is_named(text: str, words: str) -> None:
    with pytest.raises(CautionsError, match=words):
        read_cautions(text)

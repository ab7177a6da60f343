"""`gutterance coil`: measures in tape language, one sentence for what cannot be."""

from __future__ import annotations

import json
from typing import Any

import pytest

from gutterance.shop import load_shop


def test_by_diameters_in_the_trades_words(call: Any) -> None:
    # geometry: 30 in over 16 in, 0.032 in metal, 1,317.18 ft; 3 % less and rounded down is 1,277 ft
    for outer in ("30", '30"', "30 inches", "two foot six", "thirty in", "762 mm"):
        answer = call("coil", "--outer", outer, "--inner", "16", "--thickness", ".032")
        assert answer.status == 0, answer.err
        assert "BY DIAMETERS 1317' 2\"" in answer.out
        assert "COUNT ON 1277' 0\"" in answer.out
        assert 'left = "1277 ft"' in answer.out


def test_by_weight_and_both_against_each_other(call: Any) -> None:
    measures = ["--outer", "30", "--inner", "16", "--thickness", "0.032", "--width", "11 7/8"]
    answer = call("coil", *measures, "--weight", "588.62 lb")
    assert answer.status == 0
    assert "BY WEIGHT 1317' 2\"" in answer.out
    assert "apart" not in answer.out
    assert "Aluminum Association" in answer.out
    assert "50 % apart" in call("coil", *measures, "--weight", "294.31 pounds").out
    copper = call("coil", *measures[4:], "--weight", "200 kg", "--metal", "copper")
    assert "from memory, not confirmed" in copper.out


def test_metric(call: Any) -> None:
    answer = call("coil", "--outer", "1000", "--inner", "508", "--thickness", "0.7", "--metric", "--json")
    (way,) = json.loads(answer.out)["ways"]
    assert way["length"] == "832450 mm"  # pi x (1000² - 508²) / (4 x 0.7) mm, to the centimetre below
    assert json.loads(answer.out)["count_on"] == "807400 mm"


def test_what_it_says_for_the_shop_file_can_be_read_there(call: Any) -> None:
    out = call("coil", "--outer", "30", "--inner", "16", "--thickness", "0.032", "--width", "11 3/4").out
    shop = call.file("shop.toml", out.split("In the shop file:")[1])
    (coil,) = load_shop(call.folder / shop).coils
    assert (coil.width.inches, coil.left.inches) == (11.75, 1277 * 12)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        ([], "--thickness"),
        (["--thickness", ".032"], "--outer and --inner, or --weight and --width"),
        (["--outer", "30", "--thickness", ".032"], "--inner"),
        (["--weight", "588 lb", "--thickness", ".032"], "--width"),
        (["--weight", "588", "--width", "12", "--thickness", ".032"], "588 lb or 267 kg"),
        (["--outer", "16", "--inner", "30", "--thickness", ".032"], "no wrap"),
        (["--outer", "30", "--inner", "16", "--thickness", "32"], "no gutter metal"),
        (["--outer", "30", "--inner", "16", "--thickness", "26 ga"], "gauge"),
        (["--outer", "30", "--inner", "16", "--thickness", "0"], "more than nothing"),
        (["--outer", "-30", "--inner", "16", "--thickness", ".032"], "below nothing"),
        (["--outer", "inf", "--inner", "16", "--thickness", ".032"], "not one length"),
        (["--outer", "1e999", "--inner", "16", "--thickness", ".032"], "not one length"),
        (["--outer", "30 or 31", "--inner", "16", "--thickness", ".032"], "30 or 31"),
        (["--outer", "400", "--inner", "16", "--thickness", ".032"], "check its unit"),
        (["--outer", "99999999999999999", "--inner", "16", "--thickness", ".032"], "not one length"),
        (["--weight", "-5 lb", "--width", "12", "--thickness", ".032"], "below nothing"),
        (["--weight", "9 lb", "--width", "12", "--thickness", ".03", "--metal", "tinn"], "no metal"),
    ],
)
def test_what_cannot_be_is_one_sentence_that_says_how_to_mend_it(
    call: Any, args: list[str], words: str
) -> None:
    answer = call("coil", *args)
    assert answer.status == 2
    assert answer.out == ""
    assert words in answer.err
    assert len(answer.err.splitlines()) == 1


def test_thousandths_without_their_point_are_shown_with_it(call: Any) -> None:
    answer = call("coil", "--outer", "30", "--inner", "16", "--thickness", "032")
    assert answer.status == 0
    assert "0.032 in (0.8128 mm) thick" in answer.out

"""`shop init` and `shop check`, as a shell calls them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from gutterance.shop import load_shop
from gutterance.shop.loading import defaults_text


def test_what_init_writes_check_takes_and_it_changes_nothing(call: Any) -> None:
    made = call("shop", "init", "ours.toml")
    assert (made.status, made.out) == (0, "")
    assert "shop check ours.toml" in made.err
    checked = call("shop", "check", "ours.toml")
    assert checked.status == 0
    assert "0 other than the default" in checked.out
    assert "Measure the ones you use once" in checked.out
    assert load_shop(Path("ours.toml")) == load_shop()


def test_init_never_writes_over_a_file_and_can_print(call: Any) -> None:
    call.file("ours.toml", "name = 'ours'\n")
    answer = call("shop", "init", "ours.toml")
    assert answer.status == 2
    assert "there already" in answer.err
    assert Path("ours.toml").read_text(encoding="utf-8") == "name = 'ours'\n"
    assert call("shop", "init", "-").out == defaults_text()
    assert call("shop", "init", ".").status == 2


def test_check_tells_what_differs(call: Any) -> None:
    call.file("ours.toml", 'name = "ours"\n[hangers]\nspacing = "18 in"\n')
    told = call("shop", "check", "ours.toml").out
    assert 'hangers.spacing = "18 in"   (default "24 in")' in told
    data = json.loads(call("shop", "check", "ours.toml", "--json").out)
    assert {"rule": "hangers.spacing", "value": '"18 in"', "default": '"24 in"'} in data["differ"]
    measured = defaults_text().replace('depth = "3 1/2 in"', 'depth = "3 1/2 in"\nmeasured = true', 1)
    call.file("measured.toml", measured)
    told = call("shop", "check", "measured.toml").out
    assert "measured = true" in told
    assert "not measured: pipe 2x3." in told


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('fall = "1/4"\n', ["line 1", "fall is a table", "[fall]", 'drop = "1/4 in"']),
        ('[fall]\ndrop = "1/4"\n', ["line 2", "fall.drop", "'1/4 in'"]),
        ('[fall]\ndrop = "1/4\\""\n', ["line 2", "write it '1/4 in'"]),
        ("[fall]\ndrop = 0.25\n", ["line 2", "no unit"]),
        ("hangers.spacing = 24\n", ["line 1", "hangers.spacing"]),
        ('[hangers]\nspacng = "24 in"\n', ["line 2", "'spacing'"]),
        ('[ending.drain]\ntake = "2 in"\n', ["line 1", "'endings'"]),
        ('[pieces]\nlongest = "inf ft"\n', ["line 2", "pieces.longest"]),
        ("[pieces]\nlongest = inf\n", ["line 2", "pieces.longest"]),
        ('[fall]\ndrop = "12 in"\nover = "10 in"\n', ["steeper than 1 in 24"]),
        ("[spares]\nhangers = 500\n", ["line 2", "spares.hangers"]),
        ("not toml at all", ["not TOML"]),
    ],
)
def test_what_cannot_be_used_is_one_sentence_with_line_key_and_mend(
    call: Any, text: str, words: list[str]
) -> None:
    call.file("ours.toml", text)
    answer = call("shop", "check", "ours.toml")
    assert (answer.status, answer.out) == (2, "")
    for word in ["ours.toml", *words]:
        assert word in answer.err
    assert "Traceback" not in answer.err


def test_every_wrong_rule_is_told_at_once(call: Any) -> None:
    call.file("ours.toml", '[hangers]\nspacng = "24 in"\nfrom_end = "6"\n[pieces]\nlap = "4"\n')
    assert len(call("shop", "check", "ours.toml").err.strip().splitlines()) == 3


def test_a_file_that_is_not_there(call: Any) -> None:
    answer = call("shop", "check", "none.toml")
    assert answer.status == 2
    assert "no such shop file" in answer.err


@pytest.mark.parametrize("command", ["init", "check"])
def test_both_explain_themselves_with_examples(call: Any, command: str) -> None:
    told = call("shop", command, "--help").out
    assert f"  gutterance shop {command}" in told.split("Examples:")[1]
    assert max(map(len, told.splitlines())) <= 80

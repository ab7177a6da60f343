"""`words`, and a shop's own words with `read` and `run`, as a shell calls them."""

from __future__ import annotations

import json
from typing import Any

OWN = '[[word]]\nsay = ["snoot"]\nmeans = "outlet"\n\n[[colour]]\nsay = ["harbour mist"]\n'
NOTE = "Front 42-6, end caps both ends. Snoot left, w/f 24, height 9-4, splash block. Harbour mist\n"


def test_words_are_listed_by_what_they_mean(call: Any) -> None:
    shown = call("words").out
    assert shown.index("SIDES OF THE HOUSE") < shown.index("OUTLETS") < shown.index("DOWNPIPES")
    assert "downspout" in shown
    assert max(map(len, shown.splitlines())) <= 92


def test_words_with_a_text_in_them(call: Any) -> None:
    found = json.loads(call("words", "downspout", "--json").out)
    assert {one["value"] for one in found} >= {"downpipe"}
    assert all(any("downspout" in word for word in (one["value"], *one["words"])) for one in found)
    none = call("words", "xyzzy")
    assert (none.status, none.out) == (0, "")
    assert "'xyzzy'" in none.err


def test_own_words_are_shown_as_such(call: Any) -> None:
    own = call.file("own.toml", OWN)
    assert "snoot (the shop's own)" in call("words", "snoot", "--words", own).out
    assert "harbour mist (the shop's own)" in call("words", "harbour", "--words", own).out


def test_own_words_are_read_by_name_and_beside_the_shops_rules(call: Any) -> None:
    note, shop = call.file("job.txt", NOTE), call.file("shop.toml", "")

    def colour(answer: Any) -> str | None:
        sheet = json.loads(answer.out)
        found = sheet.get("sheet", sheet)["defaults"].get("colour")
        return found and found["value"]

    assert colour(call("read", note, "--json", "--shop", shop)) is None
    own = call.file("words.toml", OWN)
    assert colour(call("read", note, "--json")) is None
    assert colour(call("read", note, "--json", "--words", own)) == "harbour mist"
    beside = call("read", note, "--json", "--shop", shop)
    assert colour(beside) == "harbour mist"
    assert "own words are in words.toml" in beside.err
    assert colour(call("run", note, "--shop", shop, "--json")) == "harbour mist"


def test_a_clash_is_one_sentence_that_names_both(call: Any) -> None:
    own = call.file("own.toml", OWN.replace("snoot", "downspout"))
    answer = call("read", call.file("job.txt", NOTE), "--words", own)
    assert (answer.status, answer.out) == (2, "")
    assert len(answer.err.splitlines()) == 1
    for words in ("own.toml", "line 1", "'downspout'", "'outlet'", "'downpipe'"):
        assert words in answer.err

"""The `length` command: the contract of its output. What it reads is tested with the tape reader."""

from __future__ import annotations

import json
from typing import Any


def test_words_given_one_by_one_are_one_phrase(call: Any) -> None:
    answer = call("length", "fifty", "eight", "foot", "six", "and", "a", "quarter", "--json")
    assert answer.status == 0
    assert json.loads(answer.out) == [
        {
            "text": "fifty eight foot six and a quarter",
            "start": 0,
            "end": 34,
            "inches": "2809/4",  # 58 * 12 + 6 1/4
            "shown": "58' 6 1/4\"",
            "doubts": [],
        }
    ]


def test_standard_input_gives_one_list_a_line_in_order(call: Any) -> None:
    answer = call(
        "length", "-", "--json", "--field", "wall-to-fascia", given="24\n\nnone here\r\n10-7/8 then 12½\n"
    )
    lists = [json.loads(line) for line in answer.out.splitlines()]
    assert [[found["inches"] for found in one] for one in lists] == [["24"], [], [], ["87/8", "25/2"]]
    last = lists[3][1]
    assert "10-7/8 then 12½"[last["start"] : last["end"]] == last["text"]


def test_the_text_form_shows_words_feet_inches_exact_inches_and_millimetres(call: Any) -> None:
    answer = call("length", "ten and seven eighths", "--field", "offset")
    assert '10 7/8"' in answer.out
    assert "87/8 in = 276.225 mm" in answer.out  # 10 7/8 in at 25.4 mm to the inch (NIST SP 811)
    assert 'from "ten and seven eighths"' in answer.out


def test_a_doubt_is_said(call: Any) -> None:
    (found,) = json.loads(call("length", "about 40 feet", "--json").out)
    assert found["inches"] == "480"
    assert found["doubts"]


def test_the_field_and_metric_settle_a_bare_number(call: Any) -> None:
    def inches(*args: str) -> list[str]:
        return [found["inches"] for found in json.loads(call("length", *args, "--json").out)]

    assert inches("24", "--field", "wall-to-fascia") == ["24"]
    assert inches("24", "--field", "run") == ["288"]
    assert inches("254", "--field", "run", "--metric") == ["10"]


def test_a_phrase_without_a_length_gives_an_empty_list_and_says_so(call: Any) -> None:
    answer = call("length", "no number at all", "--json")
    assert (answer.status, answer.out) == (0, "[]\n")
    assert "no length was found in 'no number at all'" in answer.err


def test_bytes_of_another_encoding_are_still_read(call: Any) -> None:
    assert (
        json.loads(call("length", "-", "--json", given="12½ in".encode("cp1252")).out)[0]["inches"] == "25/2"
    )


def test_an_unknown_field_is_refused_with_those_there_are(call: Any) -> None:
    answer = call("length", "24", "--field", "hight")
    assert answer.status == 2
    assert "wall-to-fascia" in answer.err

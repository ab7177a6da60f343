"""`gutterance rain`, and rainfall given to `lists` and `run`: results, statuses, and one clear error each."""

from __future__ import annotations

import json
from typing import Any

import pytest

SHEET = {
    "format": "gutterance-sheet-1",
    "title": "4 Ferncliff Row",
    "defaults": {"roof_pitch": {"value": "6/12"}},
    "runs": [
        {"id": "eave", "name": "eave", "length": {"value": "480 in"}, "left_end": {"value": "end cap"},
         "right_end": {"value": "end cap"}, "roof_run": {"value": "180 in"}},
    ],
    "outlets": [{"id": "eave-1", "run": "eave", "from": "right", "distance": {"value": "120 in"}}],
    "downpipes": [{"id": "eave-1", "outlet": "eave-1", "wall_to_fascia": {"value": "24 in"},
                   "height": {"value": "112 in"}, "ends_at": {"value": "drain"}}],
}  # fmt: skip
POINT = """Point precipitation frequency estimates (inches)
NOAA Atlas 14 Volume 11 Version 2
Data type: Precipitation depth
PRECIPITATION FREQUENCY ESTIMATES
by duration for ARI (years):, 1,10,100
5-min:, 0.421,0.693,1.01
60-min:, 1.52,2.50,3.63
"""


@pytest.fixture
def job(call: Any) -> str:
    return str(call.file("job.json", json.dumps(SHEET)))


def test_the_check_of_a_sheet(call: Any, job: str) -> None:
    answer = call("rain", job, "--rainfall", "6 inches an hour", "--rain-method", "smacna")
    assert (answer.status, answer.err) == (0, "")
    assert answer.out.startswith("DRAINAGE CHECK   4 Ferncliff Row")
    assert "Every outlet can take its rain by this method." in answer.out


def test_too_much_rain_ends_with_3(call: Any, job: str) -> None:
    answer = call("rain", job, "--rainfall", "12 in/h", "--rain-method", "EN 12056-3")
    assert answer.status == 3
    assert "TOO MUCH RAIN: eave-1" in answer.out


def test_a_point_file_gives_each_method_its_storm(call: Any, job: str) -> None:
    name = call.file("atlas14.csv", POINT)
    for method, shown in (
        ("IPC 2015", "3.63 in/h (92.2 mm/h), 60-minute, 100-year,"),
        ("metal trade", "8.316 in/h (211.2 mm/h), 5-minute, 10-year,"),
    ):
        answer = call("rain", job, "--rain-file", name, "--rain-method", method)
        assert shown in answer.out, answer
    answer = call("rain", job, "--rain-file", name, "--rain-method", "EN 12056-3", "--duration", "1 hour",
                  "--return-period", "100 years")  # fmt: skip
    assert "3.63 in/h" in answer.out
    short = call("rain", job, "--rain-file", name, "--rain-method", "EN 12056-3")
    assert short.status == 3
    assert "the storm's duration" in short.out
    piped = call("rain", job, "--rain-file", "-", "--rain-method", "IPC 2015", given=POINT)
    assert "standard input" in piped.out


def test_no_rainfall_or_no_method_is_missing_not_guessed(call: Any, job: str) -> None:
    answer = call("rain", job)
    assert answer.status == 3
    assert "Not worked out. Missing:" in answer.out
    assert "rainfall:" in answer.out
    assert "a method:" in answer.out


def test_the_roof_where_the_sheet_has_none(call: Any) -> None:
    bare = json.loads(json.dumps(SHEET))
    del bare["runs"][0]["roof_run"], bare["defaults"]
    name = call.file("bare.json", json.dumps(bare))
    asked = ["rain", name, "--rainfall", "6 in/h", "--rain-method", "metal trade"]
    assert "missing: the roof run" in call(*asked).out
    answer = call(*asked, "--roof-run", "fifteen foot", "--roof-pitch", "6/12")
    assert answer.status == 0
    assert "roof run 15' 0\" not said, given for this check" in answer.out


def test_json_is_the_check_itself(call: Any, job: str) -> None:
    answer = call("rain", job, "--rainfall", "6 in/h", "--rain-method", "metal trade", "--json")
    data = json.loads(answer.out)
    assert data["method"] == "metal trade"
    assert [part["part"] for part in data["outlets"][0]["checks"]] == ["gutter", "gutter", "downpipe"]


def test_lists_and_run_take_rainfall_too(call: Any, job: str) -> None:
    answer = call("lists", job, "--out", "out", "--rainfall", "6 in/h", "--rain-method", "metal trade")
    assert answer.status == 0, answer
    assert "DRAINAGE CHECK" in answer.out
    assert "how full" not in answer.out
    paper = (call.folder / "out" / "drainage.txt").read_text(encoding="utf-8")
    assert "OUTLET eave-1" in paper
    assert json.loads((call.folder / "out" / "lists.json").read_text(encoding="utf-8"))["drainage"]["outlets"]
    again = call("lists", job, "--out", "out")
    assert "DRAINAGE CHECK" not in again.out
    assert "Missing:" in (call.folder / "out" / "drainage.txt").read_text(encoding="utf-8")
    note = call.file(
        "job.txt", "Front 40-0, end caps both ends, roof run 15 ft. Drop left, w/f 24, height 9-4 to drain\n"
    )
    ran = call("run", note, "--rainfall", "6 in/h", "--rain-method", "IPC 2012")
    assert "DRAINAGE CHECK" in ran.out


def test_a_gutter_too_small_is_asked_about_by_lists(call: Any, job: str) -> None:
    answer = call("lists", job, "--rainfall", "12 in/h", "--rain-method", "EN 12056-3")
    assert answer.status == 3
    assert "What is done about the rain at eave-1?" in answer.out


def test_explain_traces_a_figure_to_the_note(call: Any, job: str) -> None:
    shop = call.file("shop.toml", '[rain]\nmethod = "metal trade"\nrainfall = "6 in/h"\n')
    answer = call("explain", job, "drainage.eave-1.area", "--shop", shop)
    assert answer.status == 0
    assert "runs.eave.roof_run: 15' 0\"" in answer.out


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--rainfall", "6"], "rainfall '6' is no depth over time: write it like '6 in/h'"),
        (["--rainfall", "six kilograms"], "no depth over time"),
        (["--rainfall", "-6 in/h"], "is below nothing"),
        (["--rainfall", "0 in/h", "--rain-method", "IPC 2015"], "a rate must be over nothing"),
        (["--rainfall", "6000 in/h", "--rain-method", "IPC 2015"], "too much for any design storm"),
        (
            ["--rainfall", "6 in/h, 5 min", "--rain-method", "IPC 2015"],
            "is made for 60-minute, 100-year rain",
        ),
        (["--rainfall", "6 in/h", "--rain-method", "IPC 2051"], "no method is called 'IPC 2051'"),
        (["--rainfall", "6 in/h", "--return-period", "often"], "--return-period 'often' cannot be read"),
        (["--rainfall", "6 in/h", "--duration", "0"], "--duration '0' cannot be read"),
        (["--rainfall", "6 in/h", "--rain-file", "atlas14.csv"], "are both given: which is it?"),
        (["--rain-file", "none.csv"], "none.csv was not found"),
        (["--rain-file", "job.json"], "job.json is no NOAA Atlas 14 point file"),
        (["--rain-file", "picture.png"], "picture.png is a picture, not text: give the CSV"),
        (["--rain-file", "empty.csv"], "empty.csv"),
        (["--roof-run", "long"], "--roof-run 'long' is not one sure length"),
        (["--roof-run", "-14 ft"], "is not one sure length"),
        (["--roof-pitch", "steep"], "--roof-pitch 'steep' cannot be read"),
    ],
)
def test_what_cannot_be_used_is_one_sentence(call: Any, job: str, options: list[str], says: str) -> None:
    call.file("atlas14.csv", POINT)
    call.file("picture.png", b"\x89PNG\r\n\x1a\n\0\0")
    call.file("empty.csv", "")
    answer = call("rain", job, *options)
    assert answer.status == 2, answer
    assert answer.out == ""
    assert len(answer.err.splitlines()) == 1
    assert says in answer.err
    assert "Traceback" not in answer.err

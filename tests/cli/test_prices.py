"""`prices`, `--prices`, `--first-label`: a list to fill in, a quote made from it, a sheet already begun."""

from __future__ import annotations

import csv
import io
import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

NOTE = "Front 42-6, end caps both ends. Drop left, w/f 24, height 9-4 to ground\n"
SHOP = '[quote]\ncurrency = "CAD"\nhour = "54.50"\n[[labour]]\nwork = "hang"\nfor_each = "job"\nhours = "2"\n'


def sheet(call: Any) -> str:
    call("read", call.file("front.txt", NOTE), "--out", "job.json")
    return "job.json"


def rows(file: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(Path(file).read_text("utf-8"), newline="")))


def test_a_list_to_fill_in_is_written_filled_in_and_used(call: Any) -> None:
    answer = call("prices", "prices.csv")
    assert answer.status == 0
    assert "Without a price yet" in answer.out
    filled = rows("prices.csv")
    assert list(filled[0]) == ["item", "unit", "price"]
    assert {row["price"] for row in filled} == {""}
    with Path("prices.csv").open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, ["item", "unit", "price"])
        writer.writeheader()
        writer.writerows({**row, "price": "1.25"} for row in filled)
    call.file("shop.toml", SHOP)
    answer = call("lists", sheet(call), "--out", "out", "--shop", "shop.toml", "--only", "csv,xlsx")
    assert "the shop's prices are in prices.csv" in answer.err
    made = rows("out/quantities.csv")
    lines = [row for row in made if row["kind"] in ("material", "labour")]
    assert lines
    assert all(row["amount [CAD]"] != "no price" for row in lines)
    in_all = next(row for row in made if row["item"] == "in all")
    assert Decimal(in_all["amount [CAD]"]) == sum(Decimal(row["amount [CAD]"]) for row in lines)
    page = openpyxl.load_workbook("out/quantities.xlsx", data_only=True)["Quantities"]
    totals = {row[1]: row[10] for row in page.iter_rows(min_row=7, values_only=True)}
    assert Decimal(str(totals["in all"])) == Decimal(in_all["amount [CAD]"])


def test_a_list_that_is_there_keeps_what_stands_in_it(call: Any) -> None:
    before = "Unit,Item,Price,ours\r\ntube,sealant,8.50,shelf 3\r\nbox of 250,rivet,12,"
    call.file("p.csv", before)
    answer = call("prices", "p.csv")
    assert answer.status == 0
    after = Path("p.csv").read_bytes().decode()
    assert after.startswith(before + "\r\n")
    kept = rows("p.csv")
    assert [row["Item"] for row in kept].count("sealant") == [row["Item"] for row in kept].count("rivet") == 1
    assert any(row["Item"] == "hidden hanger" and row["Unit"] == "each" for row in kept)
    assert call("prices", "p.csv").out.startswith("added 0 items")
    assert Path("p.csv").read_bytes().decode() == after


def test_what_was_added_is_told_as_json(call: Any) -> None:
    call.file("p.csv", "item,unit,price\nsealant,tube,8\nlead flashing,ft,3\ndownpipe 2x3 brown,ft,2\n")
    told = json.loads(call("prices", "p.csv", "--json").out)
    assert "rivet" in told["added"]
    assert "sealant" not in told["added"]
    assert told["asked_for_by_no_list"] == ["lead flashing"]


def test_to_standard_output(call: Any) -> None:
    answer = call("prices", "-")
    assert (answer.status, answer.err) == (0, "")
    assert answer.out.startswith("item,unit,price")
    assert not list(Path().iterdir())


@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("item,unit,price\nrivet,each,a dime\n", "row 2: rivet: 'a dime' is no price"),
        ("name,cost\n", "must name the columns item, unit and price"),
    ],
)
def test_a_list_that_cannot_be_used_is_one_error_and_nothing_is_written(
    call: Any, content: str, says: str
) -> None:
    call.file("p.csv", content)
    for args in (("prices", "p.csv"), ("lists", sheet(call), "--out", "out", "--prices", "p.csv")):
        answer = call(*args)
        assert (answer.status, answer.out) == (2, "")
        assert answer.err.splitlines()[-1].startswith("gutterance: p.csv")
        assert says in answer.err
    assert Path("p.csv").read_text("utf-8") == content
    assert not Path("out").exists()


def test_a_folder_is_no_price_list(call: Any) -> None:
    Path("folder").mkdir()
    assert call("prices", "folder").status == 2
    assert call("lists", sheet(call), "--out", "out", "--prices", "folder").status == 2


@pytest.mark.parametrize("number", ["0", "11", "-1"])
def test_a_label_the_sheet_does_not_have_is_refused(call: Any, number: str) -> None:
    answer = call("lists", sheet(call), "--out", "out", "--only", "labels", "--first-label", number)
    assert answer.status == 2
    assert "the shop's letter sheet has labels 1 to 10" in answer.err
    assert not Path("out").exists()


@pytest.mark.parametrize("args", [("--prices", "p.csv"), ("--first-label", "2")])
def test_what_is_about_files_asks_for_a_folder(call: Any, args: tuple[str, str]) -> None:
    answer = call("lists", sheet(call), *args)
    assert answer.status == 2
    assert "give --out a folder" in answer.err


def test_labels_begin_where_they_are_asked_to(call: Any) -> None:
    job = sheet(call)
    call("lists", job, "--out", "one", "--only", "labels")
    call("lists", job, "--out", "ten", "--only", "labels", "--first-label", "10")
    from pypdf import PdfReader

    pages = [len(PdfReader(f"{folder}/labels.pdf").pages) for folder in ("one", "ten")]
    assert pages == [1, 2]


def test_no_folder_of_this_machine_is_told_in_the_quantities(call: Any) -> None:
    Path("office").mkdir()
    call.file("office/p.csv", "item,unit,price\nsealant,tube,8\n")
    call(
        "lists", sheet(call), "--out", "out", "--prices", str(Path("office/p.csv").resolve()), "--only", "csv"
    )
    text = Path("out/quantities.csv").read_text("utf-8")
    assert "p.csv, row 2" in text
    assert "office" not in text


def test_the_demo_has_its_prices(call: Any) -> None:
    call("demo", "--out", "out")
    lines = [row for row in rows("out/quantities.csv") if row["kind"] == "material"]
    assert all(row["amount"] != "no price" for row in lines)
    assert len(lines) > 12


def test_a_day_of_jobs_is_priced_by_one_list(call: Any) -> None:
    call.file("p.csv", "item,unit,price\nsealant,tube,8\n")
    call.file("one.txt", NOTE)
    call.file("two.txt", NOTE.replace("42-6", "31-2"))
    answer = call("run", "one.txt", "two.txt", "--out", "day", "--prices", "p.csv", "--only", "csv")
    assert answer.status == 0, answer.err
    for job in ("one", "two"):
        amounts = {row["item"]: row["amount"] for row in rows(f"day/{job}/quantities.csv")}
        assert (amounts["sealant"], amounts["rivet"]) == ("8.00", "no price")
    answer = call("run", "one.txt", "two.txt", "--out", "day", "--first-label", "2")
    assert answer.status == 2
    assert "about one job's sheet of labels" in answer.err
    call.file("p.csv", "item,unit,price\nsealant,tube,eight\n")
    answer = call("run", "one.txt", "two.txt", "--out", "next", "--prices", "p.csv")
    assert (answer.status, answer.err) == (2, answer.err)
    assert "p.csv, row 2: sealant: 'eight' is no price" in answer.err
    assert not Path("next").exists()

"""All lists written to a folder: PDF, drawings, text, CSV and JSON. Each file whole or not at all."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from gutterance.render.paper_names import DRAWINGS, DXF, LABELS, PAPERS, PDFS, WORKBOOK
from gutterance.render.spreadsheet.csv_text import csv_text
from gutterance.render.spreadsheet.quantities import quantities_table
from gutterance.render.spreadsheet.tables import tables
from gutterance.render.text import (
    cut_list,
    downpipe_list,
    drainage_check,
    findings_text,
    hardware_list,
    install_sheet,
    read_back,
)
from gutterance.whole_files import write_files

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence
    from pathlib import Path

    from gutterance.checking.findings import Finding
    from gutterance.lists.models import Lists
    from gutterance.render.paper_names import PaperSize
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop
    from gutterance.shop.prices import PriceList


def write_lists(
    lists: Lists, sheet: Sheet, findings: Sequence[Finding], out: Path, shop: Shop | None = None,
    size: PaperSize = "letter", only: Collection[str] = PAPERS, prices: PriceList | None = None,
    first_label: int = 1,
) -> list[Path]:  # fmt: skip
    """Write what `only` names (of PAPERS) to the folder `out`, made if need be; the paths written.

    `prices` go into the quantities; labels begin at number `first_label` of their first page. All files are
    made first, then written aside, then put in place, so that an error or a full disk leaves the old
    ones whole. Raises OSError, with the file's name, where the folder cannot be made or written.
    """
    files: dict[str, str | bytes] = {}
    if any(name in only for name in (*PDFS, *DRAWINGS, *LABELS)):
        from gutterance.render.papers import papers

        files.update(papers(lists, sheet, findings, shop, size, only, first_label))
    every = [*findings, *lists.findings]
    if "text" in only:
        files.update(_texts(lists, sheet, every, shop))
    if "csv" in only or "xlsx" in only:
        files.update(_office_files(lists, sheet, shop, prices, only))
    if "dxf" in only:
        from gutterance.render.dxf import plan_dxf

        files[DXF] = plan_dxf(lists, sheet)
    if "json" in only:
        files.update(_json(lists, sheet, every))
    return put_in_place(files, out)


def _texts(lists: Lists, sheet: Sheet, every: Sequence[Finding], shop: Shop | None) -> dict[str, str]:
    return {
        "read-back.txt": read_back(sheet),
        "findings.txt": findings_text(every),
        "cut-list.txt": cut_list(lists, shop),
        "downpipes.txt": downpipe_list(lists, shop),
        "install-sheet.txt": install_sheet(lists, shop),
        "hardware.txt": hardware_list(lists, shop),
        "drainage.txt": drainage_check(lists, shop),
    }


def _office_files(
    lists: Lists, sheet: Sheet, shop: Shop | None, prices: PriceList | None, only: Collection[str]
) -> dict[str, str | bytes]:
    from gutterance.lists.quote import quote
    from gutterance.shop import load_shop

    priced = quote(lists, shop or load_shop(), prices)
    files: dict[str, str | bytes] = {}
    if "csv" in only:
        files = {f"{table.name}.csv": csv_text(table) for table in [quantities_table(priced), *tables(lists)]}
    if "xlsx" in only:
        from gutterance.render.sheet_code import sheet_code
        from gutterance.render.spreadsheet.workbook import workbook

        files[WORKBOOK] = workbook(lists, priced, sheet_code(sheet, lists))
    return files


def _json(lists: Lists, sheet: Sheet, every: Sequence[Finding]) -> dict[str, str]:
    found = [one.model_dump(mode="json", by_alias=True) for one in every]
    return {
        "sheet.json": sheet.model_dump_json(by_alias=True, exclude_none=True, indent=1) + "\n",
        "findings.json": json.dumps(found, ensure_ascii=False, indent=1) + "\n",
        "lists.json": lists.model_dump_json(by_alias=True, indent=1) + "\n",
    }


def put_in_place(files: Mapping[str, str | bytes], out: Path) -> list[Path]:
    """Write files of a folder, made if need be: all of them, or on an OSError none."""
    out.mkdir(parents=True, exist_ok=True)
    # a lone surrogate of a broken note becomes a ?; line ends stay as they are, the CSV's own too
    write_files(
        {
            out / name: content if isinstance(content, bytes) else content.encode("utf-8", "replace")
            for name, content in files.items()
        }
    )
    return [out / name for name in files]

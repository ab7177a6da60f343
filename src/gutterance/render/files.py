"""All lists written to a folder: text for paper, CSV and JSON. Each file whole or not at all."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING

from gutterance.render.tables import tables
from gutterance.render.text import (
    cut_list,
    downpipe_list,
    drainage_check,
    findings_text,
    hardware_list,
    install_sheet,
    read_back,
)

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from gutterance.checking.findings import Finding
    from gutterance.lists.models import Lists
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop


def write_lists(
    lists: Lists, sheet: Sheet, findings: Sequence[Finding], out: Path, shop: Shop | None = None
) -> list[Path]:
    """Write every list to the folder `out`, made if need be; the paths written, papers first.

    All files are first written aside and then put in place, so that a full disk leaves the old ones
    whole. Raises OSError, with the file's name, where the folder cannot be made or written.
    """
    return put_in_place(_texts(lists, sheet, findings, shop), out)


def _texts(lists: Lists, sheet: Sheet, findings: Sequence[Finding], shop: Shop | None) -> dict[str, str]:
    every = [*findings, *lists.findings]
    found = [one.model_dump(mode="json", by_alias=True) for one in every]
    return {
        "read-back.txt": read_back(sheet),
        "findings.txt": findings_text(every),
        "cut-list.txt": cut_list(lists, shop),
        "downpipes.txt": downpipe_list(lists, shop),
        "install-sheet.txt": install_sheet(lists, shop),
        "hardware.txt": hardware_list(lists, shop),
        "drainage.txt": drainage_check(lists, shop),
        **tables(lists),
        "sheet.json": sheet.model_dump_json(by_alias=True, exclude_none=True, indent=1) + "\n",
        "findings.json": json.dumps(found, ensure_ascii=False, indent=1) + "\n",
        "lists.json": lists.model_dump_json(by_alias=True, indent=1) + "\n",
    }


def put_in_place(texts: dict[str, str], out: Path) -> list[Path]:
    """Write texts to files of a folder, all aside first, then each renamed into its place.

    Raises OSError; what was written aside is then taken away again.
    """
    out.mkdir(parents=True, exist_ok=True)
    aside = {name: out / f".{name}.{os.getpid()}.new" for name in texts}
    try:
        for name, text in texts.items():
            # newline="" keeps the CSV's own line ends; a lone surrogate of a broken note becomes a ?
            with aside[name].open("w", encoding="utf-8", errors="replace", newline="") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
        for name, path in aside.items():
            os.replace(path, out / name)
    finally:
        for path in aside.values():
            path.unlink(missing_ok=True)
    return [out / name for name in texts]

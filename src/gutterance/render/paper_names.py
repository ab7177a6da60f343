"""The names by which papers are asked for, and what sizes of paper there are. Light to load."""

from __future__ import annotations

from typing import Literal

PaperSize = Literal["letter", "a4"]

PDFS = {
    "cut": ("cut-list.pdf", "CUT LIST"),
    "install": ("install-sheet.pdf", "INSTALL SHEET"),
    "load": ("load-list.pdf", "LOAD LIST"),
    "office": ("office.pdf", "OFFICE SUMMARY"),
}
"""For each paper that is printed, its file and the heading of its pages."""

DRAWINGS = {"plan": "plan.svg", "strips": "strips.svg", "pipes": "downpipes.svg"}
"""For each drawing, its file."""

LABELS = {"labels": "labels.pdf"}
"""Labels for pieces and pipe parts, by name and file."""

WORKBOOK = "quantities.xlsx"
DXF = "plan.dxf"

PAPERS = (*PDFS, *LABELS, *DRAWINGS, "xlsx", "dxf", "text", "csv", "json")
"""All that `--only` may name."""

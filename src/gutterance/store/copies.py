"""Copies of the database: made while it is in use, checked, and found again."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

FOLDER = "copies"


def copies_in(folder: Path) -> list[Path]:
    """Every copy kept in an office's folder, the newest first."""
    return sorted((folder / FOLDER).glob("jobs-*.sqlite3"), reverse=True)


def good_copies(folder: Path) -> Iterator[Path]:
    """Those that read whole, the newest first."""
    return (copy for copy in copies_in(folder) if is_whole(copy))


def is_whole(file: Path) -> bool:
    """Whether a SQLite file reads whole, each page and each index."""
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as opened:
            return bool(opened.execute("PRAGMA integrity_check(1)").fetchone() == ("ok",))
    except sqlite3.Error:
        return False

"""Makes the pictures in README new, from the demo's note: the first pages of install sheet and cut list.

python tools/pictures.py
"""

from __future__ import annotations

from pathlib import Path

from gutterance.checking import as_it_stands
from gutterance.cli.demonstration import example_note
from gutterance.lists import make_lists
from gutterance.notes import open_note
from gutterance.reading import read_note
from gutterance.render.papers import pictures
from gutterance.shop import load_shop

ROOT = Path(__file__).parents[1]
OUT = ROOT / "docs" / "pictures"
DOTS = 84
"""To the inch: pages are then some 700 dots wide, and their least words can be read."""


def made() -> dict[str, bytes]:
    """Each picture's file name with its bytes."""
    stands = as_it_stands(read_note(open_note(example_note())))
    shop = load_shop()
    lists = make_lists(stands.sheet, stands.findings, shop)
    names = {"install": "install-sheet.png", "cut": "cut-list.png"}
    return {
        file: pictures(name, lists, stands.sheet, stands.findings, shop, dots=DOTS)[0]
        for name, file in names.items()
    }


if __name__ == "__main__":
    OUT.mkdir(exist_ok=True)
    for name, data in made().items():
        (OUT / name).write_bytes(data)

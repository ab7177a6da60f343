"""Makes the pictures in README new, from the example note: the plan, and the first page of the cut list.

python tools/pictures.py
"""

from __future__ import annotations

from pathlib import Path

from gutterance.checking import as_it_stands
from gutterance.lists import make_lists
from gutterance.notes import open_note
from gutterance.reading import read_note
from gutterance.render.drawing.plan import draw_plan
from gutterance.render.drawing.svg import svg_text
from gutterance.render.papers import pictures
from gutterance.shop import load_shop

ROOT = Path(__file__).parents[1]
NOTE = ROOT / "examples" / "31-fennel-hill.txt"
OUT = ROOT / "docs" / "pictures"


def made() -> dict[str, bytes]:
    """Each picture's file name with its bytes."""
    stands = as_it_stands(read_note(open_note(NOTE)))
    shop = load_shop()
    lists = make_lists(stands.sheet, stands.findings, shop)
    page = pictures("cut", lists, stands.sheet, stands.findings, shop, dots=72)[0]
    return {"plan.svg": svg_text(draw_plan(lists, stands.sheet)).encode(), "cut-list.png": page}


if __name__ == "__main__":
    OUT.mkdir(exist_ok=True)
    for name, data in made().items():
        (OUT / name).write_bytes(data)
